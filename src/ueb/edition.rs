//! The edition of the rules that is followed.

use serde::{Deserialize, Serialize};

/// An edition of *The Rules of Unified English Braille*.
///
/// The third was announced on 9 December 2024. What its announcement settles is done: parts of a word that begin with a
/// capital each take their shortform (LetterWriter), and a groupsign in one composer's name. The cells of its two new
/// symbols, the words added to the Shortforms List and its new wording are not known here: those stay as they were.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Edition {
    /// The second, of 2013.
    #[default]
    #[serde(rename = "2013")]
    Second,
    /// The third, of 2024.
    #[serde(rename = "2024")]
    Third,
}

impl Edition {
    /// Both, in order.
    pub const ALL: [Edition; 2] = [Edition::Second, Edition::Third];

    /// The year in which it came out.
    pub fn year(self) -> &'static str {
        match self {
            Edition::Second => "2013",
            Edition::Third => "2024",
        }
    }

    /// The edition of a year.
    pub fn of_year(year: &str) -> Option<Edition> {
        Edition::ALL.into_iter().find(|edition| edition.year() == year)
    }

    /// The other one.
    pub(crate) fn other(self) -> Edition {
        match self {
            Edition::Second => Edition::Third,
            Edition::Third => Edition::Second,
        }
    }
}
