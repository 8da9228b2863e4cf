//! Proofreading: braille with planted mistakes, what the learner marks in it, and the score.
//!
//! | file | what it does |
//! | --- | --- |
//! | `make` | a text with mistakes planted in it, as a sheet |
//! | `calls` | the cells that the learner holds to be wrong |
//! | `score` | what the calls turned out to be |
//! | `layout` | faults of layout in it |
//! | `causes` | what this learner slips at |
//! | `kept` | a sheet as a result slip carries it |
//!
//! The same text with the same [`Plants`] gives the same sheet as long as the code of writing and planting is the same.
//! An exercise needs no more; a result slip carries the sheet itself.

mod calls;
mod causes;
mod kept;
mod layout;
mod make;
mod score;

use std::borrow::Cow;
use std::ops::Range;

use serde::{Deserialize, Deserializer, Serialize};

use crate::cell::Cell;
use crate::marking::Kind;

pub use calls::{Call, calls_of_text, calls_to_text};
pub use causes::own_causes;
pub use kept::Kept;
pub use make::{proof, proof_by};
pub use score::{Came, Score};

/// How the sheet looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Look {
    /// Ink.
    #[default]
    Ink,
    /// Embossed.
    Raised,
    /// Embossed on both sides.
    Interpoint,
    /// Dot numbers.
    Numbers,
}

impl Look {
    /// All of them, the easiest first.
    pub const ALL: [Look; 4] = [Look::Ink, Look::Raised, Look::Interpoint, Look::Numbers];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Look::Ink => "ink",
            Look::Raised => "raised",
            Look::Interpoint => "interpoint",
            Look::Numbers => "dot numbers",
        }
    }
}

/// How mistakes are planted and how the sheet is shown.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Plants {
    /// About how many mistakes in a thousand cells, 1 to 200.
    pub rate: u16,
    /// The kinds, by name; empty for all.
    #[serde(skip_serializing_if = "Vec::is_empty", deserialize_with = "names_of_today")]
    pub kinds: Vec<String>,
    /// Faults of layout too.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub layout: bool,
    /// What is planted first: names of kinds and keys of signs.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub own: Vec<String>,
    /// Which of the many ways.
    pub seed: u32,
    /// Whether the print stands beside the braille.
    pub beside: bool,
    /// How the sheet looks.
    pub look: Look,
}

/// Names of kinds, each as it is called today; what is the name of none stays.
fn names_of_today<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<String>, D::Error> {
    let mut names = Vec::<String>::deserialize(from)?;
    for name in &mut names {
        if let Some(kind) = Kind::named(name) {
            *name = kind.name().to_owned();
        }
    }
    Ok(names)
}

impl Default for Plants {
    /// Twenty in a thousand cells, of all kinds, the print beside it, in ink.
    fn default() -> Self {
        Plants {
            rate: 20,
            kinds: Vec::new(),
            layout: false,
            own: Vec::new(),
            seed: 1,
            beside: true,
            look: Look::Ink,
        }
    }
}

/// The name that stands for faults of layout among the names of kinds.
pub const LAYOUT: &str = "layout";

impl Plants {
    /// Whether faults of layout are planted.
    pub fn has_layout(&self) -> bool {
        self.layout || self.kinds.iter().any(|name| name == LAYOUT)
    }

    /// The kinds that are planted, all when there is none; `None` when layout alone is asked for.
    fn planted_kinds(&self) -> Option<Vec<Kind>> {
        let kinds: Vec<Kind> = self.kinds.iter().filter_map(|name| Kind::named(name)).collect();
        (self.kinds.is_empty() || !kinds.is_empty() || !self.has_layout()).then_some(kinds)
    }
}

/// A planted mistake on the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mistake {
    /// What kind it is.
    pub kind: Kind,
    /// Other kinds that fit.
    pub also: Vec<Kind>,
    /// The line of the sheet, from 0.
    pub line: usize,
    /// Its cells, half-open; empty where something is missing.
    pub cells: Range<usize>,
    /// The cells that belong there.
    pub expected: Vec<Cell>,
    /// What is the matter, in one sentence.
    pub say: String,
    /// The section that holds.
    pub section: Cow<'static, str>,
    /// The sign at fault, by its key.
    pub sign: Option<&'static str>,
}

/// A sheet to proofread.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proof {
    /// Its lines.
    pub lines: Vec<Vec<Cell>>,
    /// The block each line belongs to; `None` for a blank line.
    pub blocks: Vec<Option<usize>>,
    /// The print of each block.
    pub print: Vec<String>,
    /// What was planted, in order.
    pub planted: Vec<Mistake>,
    /// For every line the signs that stand there rightly.
    right: Vec<Vec<Right>>,
}

/// A sign that stands rightly on the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Right {
    /// Its cells in the line, half-open.
    cells: Range<usize>,
    /// Its name; empty when nothing but its place is known.
    name: Cow<'static, str>,
    /// The section that asks for it.
    section: Cow<'static, str>,
}
