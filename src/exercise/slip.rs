//! A result slip: what a learner sends back to the teacher.

use serde::{Deserialize, Serialize};

use super::envelope::{self, Kind, LinkError};
use super::proofread::{self, Proof};
use super::set::EXERCISES;
use super::tries::{Count, Try, time_in_words};
use super::{Exercise, TITLE, Task, one_line};

/// The most tries before the last that a slip tells of.
const BEFORE: usize = 19;

/// How an exercise went: its last try, and those before it. Fields that a link does not name have their default.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Slip {
    /// The exercise's title, or the set's.
    pub title: String,
    /// What was to do.
    pub task: Task,
    /// The name or number that the learner put on it; may be empty.
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
    /// proofread sheet.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub work: String,
    /// What it is held against, so that the marked work can be shown.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub set: Option<Exercise>,
    /// The sheet that was proofread. Slips of earlier versions have none: their sheet is planted anew from the exercise.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheet: Option<proofread::Kept>,
    /// The tries before the last, the first first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub before: Vec<Try>,
    /// Tries between the first and these that found no room here.
    #[serde(skip_serializing_if = "is_nought")]
    pub dropped: u32,
    /// Of a set: the slip of each of its exercises, in their order; the slip itself then has no work.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<Slip>,
}

fn is_nought(number: &u32) -> bool {
    *number == 0
}

impl Slip {
    /// The slip of an exercise: its tries in order, and the sheet where one was proofread. Where it would be too long, tries
    /// between the first and the last are left out and counted.
    pub fn of(set: &Exercise, tries: &[Try], proof: Option<&Proof>) -> Slip {
        let mut before = tries.to_vec();
        let last = before.pop().unwrap_or_default();
        let mut slip = Slip {
            title: set.title.clone(),
            task: set.task,
            day: last.day,
            right: last.right,
            asked: last.asked,
            seconds: last.seconds,
            helped: last.helped,
            findings: last.findings,
            work: last.work,
            set: Some(set.clone()),
            before,
            ..Slip::default()
        };
        if let Some(proof) = proof {
            let called: Vec<_> =
                slip.tries().iter().flat_map(|one| proofread::calls_of_text(&one.work)).collect();
            slip.sheet = Some(proof.keep(&called));
        }
        let fits = |slip: &Slip| {
            // A name is still to come.
            let named = Slip { by: "x".repeat(60), ..slip.clone() };
            named.to_payload().is_ok()
        };
        while slip.before.len() > 1 && (slip.before.len() > BEFORE || !fits(&slip)) {
            slip.before.remove(1);
            slip.dropped += 1;
        }
        if slip.sheet.is_some() && !fits(&slip) {
            slip.sheet = None;
        }
        slip
    }

    /// The slip of a set: the slips of its exercises in order; those that were not handed in are told by their exercise alone.
    pub fn of_set(title: &str, parts: Vec<Slip>) -> Slip {
        Slip { title: title.to_owned(), parts, ..Slip::default() }
    }

    /// Every try, the first first; none where nothing was handed in.
    pub fn tries(&self) -> Vec<Try> {
        let mut tries = self.before.clone();
        let last = Try {
            day: self.day.clone(),
            right: self.right,
            asked: self.asked,
            seconds: self.seconds,
            helped: self.helped,
            findings: self.findings.clone(),
            work: self.work.clone(),
        };
        if !self.not_handed_in() {
            tries.push(last);
        }
        tries
    }

    /// Whether nothing was handed in: the exercise of a set that was not done.
    pub fn not_handed_in(&self) -> bool {
        let nothing = self.right == 0 && self.asked == 0 && self.seconds == 0 && self.day.is_empty();
        nothing && self.work.is_empty() && self.before.is_empty()
    }

    /// The sheet that was proofread, and whether it is the very one; else it is planted anew from the exercise. Nothing
    /// when no sheet was proofread.
    pub fn proof(&self) -> Option<(Proof, bool)> {
        if let Some(proof) = self.sheet.as_ref().and_then(proofread::Kept::open) {
            return Some((proof, true));
        }
        let set = self.set.as_ref().filter(|_| self.task == Task::Proofread)?;
        let plants = set.plants.clone().unwrap_or_default();
        Some((proofread::proof_by(&set.text, set.contracted, set.edition, &plants), false))
    }

    /// How long all of it took, in seconds; unknown when a try says more than a day.
    pub fn time(&self) -> Option<u32> {
        self.tries().iter().map(Try::time).sum()
    }

    /// The time as it is told, "3 min 05 s".
    pub fn time_in_words(&self) -> String {
        time_in_words(self.time())
    }

    /// All that follows `#/r/` in the slip's link.
    ///
    /// # Errors
    /// [`LinkError::TooMuch`] when it does not fit.
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
        slip.tidy();
        for part in &mut slip.parts {
            part.tidy();
        }
        if slip.fits() { Ok(slip) } else { Err(LinkError::TooLong) }
    }

    fn tidy(&mut self) {
        self.set = self.set.take().map(Exercise::tidied);
        for shown in [&mut self.title, &mut self.by, &mut self.day] {
            *shown = one_line(shown);
        }
        for finding in &mut self.findings {
            finding.name = one_line(&finding.name);
        }
        self.before.iter_mut().for_each(Try::tidy);
    }

    fn fits(&self) -> bool {
        let parts_fit = self.parts.len() <= EXERCISES
            && self.parts.iter().all(|part| part.parts.is_empty() && part.fits());
        let short = |text: &str| text.chars().count() <= TITLE;
        short(&self.title)
            && short(&self.by)
            && short(&self.day)
            && self.right <= self.asked
            && self.tries().iter().all(Try::fits)
            && self.before.len() <= BEFORE
            && self.sheet.as_ref().is_none_or(|sheet| sheet.open().is_some())
            && self.set.as_ref().is_none_or(Exercise::fits)
            && parts_fit
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_that_cannot_be_is_unknown() {
        let of = |seconds| Slip { seconds, ..Slip::default() }.time();
        assert_eq!((of(90), of(86_400), of(86_401), of(u32::MAX)), (Some(90), Some(86_400), None, None));
    }
}
