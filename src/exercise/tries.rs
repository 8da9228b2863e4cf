//! Work that was handed in: one try, with what came of it.

use serde::{Deserialize, Serialize};

use super::proofread::Proof;
use super::{Anew, Exercise, TEXT, TITLE, one_line};

/// The longest list of findings that is told.
pub(super) const FINDINGS: usize = 200;
/// A time longer than this, in seconds, was no time of work: a day.
const LONGEST: u32 = 24 * 60 * 60;

/// How often one kind of finding stood in the work.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Count {
    /// The kind's name, or a sign's.
    pub name: String,
    /// How often.
    pub times: u32,
}

/// One try. Fields that a link does not name have their default.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Try {
    /// The day, as `2026-11-25`; may be empty.
    #[serde(skip_serializing_if = "String::is_empty")]
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
}

impl Try {
    /// A try at an exercise: its work is marked here. A proofread sheet goes with it.
    pub fn of(set: &Exercise, proof: Option<&Proof>, work: String, seconds: u32, helped: bool) -> Try {
        let anew = Anew::of(set, proof, &work, helped).unwrap_or_default();
        let mut findings = anew.findings;
        findings.truncate(FINDINGS);
        Try { right: anew.right, asked: anew.asked, seconds, helped, findings, work, ..Try::default() }
    }

    /// How long it took, in seconds; unknown when it says more than a day.
    pub fn time(&self) -> Option<u32> {
        (self.seconds <= LONGEST).then_some(self.seconds)
    }

    /// The time as it is told, "3 min 05 s".
    pub fn time_in_words(&self) -> String {
        time_in_words(self.time())
    }

    /// What was right, in hundredths.
    pub fn share(&self) -> u32 {
        (u64::from(self.right) * 10_000 / u64::from(self.asked.max(1))) as u32
    }

    /// Its texts as they are shown.
    pub(super) fn tidy(&mut self) {
        self.day = one_line(&self.day);
        for finding in &mut self.findings {
            finding.name = one_line(&finding.name);
        }
    }

    /// Whether it is no larger than a page makes it.
    pub(super) fn fits(&self) -> bool {
        let short = |text: &str| text.chars().count() <= TITLE;
        short(&self.day)
            && self.right <= self.asked
            && self.findings.len() <= FINDINGS
            && self.findings.iter().all(|finding| short(&finding.name))
            && self.work.chars().count() <= 4 * TEXT
    }
}

/// A time as it is told, "3 min 05 s".
pub fn time_in_words(seconds: Option<u32>) -> String {
    seconds.map_or("unknown".to_owned(), |time| format!("{} min {:02} s", time / 60, time % 60))
}
