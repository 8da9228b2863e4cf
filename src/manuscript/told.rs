//! Print that can't be set, each with its place: nothing is lost without a word.

use std::fmt;

use super::block::words;

/// Print that can't be set as it stands.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize)]
pub struct Told {
    /// The line of the print, from 1.
    pub line: usize,
    /// What is the matter, and what became of it.
    pub what: &'static str,
    /// The beginning of what stands there.
    pub there: String,
}

/// A field of the title page that there is none of.
pub(super) const FIELD: &str = "no field of the title page has this name; it is left out";
/// A character that no sign stands for.
pub(super) const CHARACTER: &str = "no sign stands for this character";

/// Characters of print that are shown.
const SHOWN: usize = 40;

impl Told {
    /// What is told of a line of print.
    pub fn new(line: usize, what: &'static str, there: &str) -> Told {
        let there = words(there.trim());
        let mut shown: String = there.chars().take(SHOWN).collect();
        if shown.len() < there.len() {
            shown.push('…');
        }
        Told { line, what, there: shown }
    }

    /// Whether it is a character that no sign stands for.
    pub fn is_character(&self) -> bool {
        self.what == CHARACTER
    }
}

impl fmt::Display for Told {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {} (“{}”)", self.line, self.what, self.there)
    }
}
