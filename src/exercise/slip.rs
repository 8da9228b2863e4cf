//! A result slip: what a learner sends back to the teacher.

use serde::{Deserialize, Serialize};

use super::envelope::{self, Kind, LinkError};
use super::proofread::{self, Call, Proof};
use super::{Exercise, TEXT, TITLE, Task};

/// The longest list of findings a slip carries.
const FINDINGS: usize = 200;

/// How often one kind of finding stood in the work.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Count {
    /// The kind's name, or a sign's.
    pub name: String,
    /// How often.
    pub times: u32,
}

/// How an exercise went. Fields that a link does not name have their default.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Slip {
    /// The exercise's title.
    pub title: String,
    /// What was to do.
    pub task: Task,
    /// The name the learner chose to put on it; may be empty.
    pub by: String,
    /// The day, as `2026-11-25`; may be empty.
    pub day: String,
    /// Words or items that were right.
    pub right: u32,
    /// Words or items that were asked.
    pub asked: u32,
    /// How long it took, in seconds.
    pub seconds: u32,
    /// Whether help was used.
    pub helped: bool,
    /// What was found, the most frequent first.
    pub findings: Vec<Count>,
    /// The work itself: braille ASCII with its line ends and form feeds, the answers line by line, or the calls of a
    /// proofread sheet; at most [`TEXT`] characters.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub work: String,
    /// What it is held against, so that the marked work can be shown.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set: Option<Exercise>,
    /// The sheet that was proofread. Slips of earlier versions have none: their sheet is planted anew from the exercise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheet: Option<proofread::Kept>,
}

impl Slip {
    /// The slip of a proofread sheet. It carries the sheet itself, unless that makes it too long for a link.
    pub fn of_proof(set: &Exercise, proof: &Proof, calls: &[Call], seconds: u32, helped: bool) -> Slip {
        let score = proof.score(calls);
        let mut findings: Vec<Count> = Vec::new();
        for at in &score.missed {
            let name = format!("missed: {}", proof.planted[*at].kind.words());
            match findings.iter_mut().find(|count| count.name == name) {
                Some(count) => count.times += 1,
                None => findings.push(Count { name, times: 1 }),
            }
        }
        findings.sort_by_key(|count| std::cmp::Reverse(count.times));
        if score.false_alarms > 0 {
            findings.push(Count { name: "false alarms".to_owned(), times: score.false_alarms as u32 });
        }
        let slip = Slip {
            title: set.title.clone(),
            task: Task::Proofread,
            right: score.found as u32,
            asked: proof.planted.len() as u32,
            seconds,
            helped,
            findings,
            work: proofread::calls_to_text(calls),
            set: Some(set.clone()),
            ..Slip::default()
        };
        let whole = Slip { sheet: Some(proof.keep(calls)), ..slip.clone() };
        // A name and a day are still to come.
        let named = Slip { by: "x".repeat(60), day: "2026-11-25".to_owned(), ..whole.clone() };
        if named.to_payload().is_ok() { whole } else { slip }
    }

    /// The sheet that was proofread, and whether it is the very one; else it is planted anew from the exercise. Nothing
    /// when no sheet was proofread.
    pub fn proof(&self) -> Option<(Proof, bool)> {
        if let Some(proof) = self.sheet.as_ref().and_then(proofread::Kept::open) {
            return Some((proof, true));
        }
        let set = self.set.as_ref().filter(|_| self.task == Task::Proofread)?;
        Some((proofread::proof(&set.text, set.contracted, &set.plants.clone().unwrap_or_default()), false))
    }

    /// All that follows `#/r/` in the slip's link.
    ///
    /// # Errors
    /// [`LinkError::TooMuch`] when it does not fit into a link.
    pub fn to_payload(&self) -> Result<String, LinkError> {
        if !self.fits() {
            return Err(LinkError::TooMuch);
        }
        envelope::seal(Kind::Slip, self)
    }

    /// The slip of a payload.
    ///
    /// # Errors
    /// Any [`LinkError`] of [`envelope::open`]; [`LinkError::TooLong`] for contents no page would have made.
    pub fn from_payload(payload: &str) -> Result<Slip, LinkError> {
        let mut slip: Slip = envelope::open(Kind::Slip, payload)?;
        slip.set = slip.set.map(Exercise::tidied);
        if slip.fits() { Ok(slip) } else { Err(LinkError::TooLong) }
    }

    fn fits(&self) -> bool {
        let short = |text: &str| text.chars().count() <= TITLE;
        short(&self.title)
            && short(&self.by)
            && short(&self.day)
            && self.right <= self.asked
            && self.findings.len() <= FINDINGS
            && self.findings.iter().all(|finding| short(&finding.name))
            && self.work.chars().count() <= TEXT
            && self.sheet.as_ref().is_none_or(|sheet| sheet.open().is_some())
            && self
                .set
                .as_ref()
                .is_none_or(|set| set.title.chars().count() <= TITLE && set.text.chars().count() <= TEXT)
    }
}
