//! Written braille against what print asks for: findings, with causes.
//!
//! [`expected`] says what is asked for; `align` sets the written cells against it, `regions` takes the words around
//! each difference, `search` finds the likeliest story of what happened there, `classify` names it, and `modes` takes
//! what only follows from an earlier mistake into that one. [`summary`] adds up, [`cause`] asks whether eye, hand or
//! rule failed, `divided` finds words divided at a line's end, `halves` judges them, [`places`] says where each sign stands,
//! and [`plant`] makes mistakes on purpose.
//!
//! ```
//! use cellwright::cell;
//! use cellwright::marking::{Expected, Kind, mark};
//! let asked = Expected::from_known("then", &cell::from_ascii("!n").unwrap());
//! let marked = mark(&asked, &[cell::from_ascii("?5").unwrap()]);
//! assert_eq!(marked.findings[0].kind, Kind::WrongContraction);
//! ```

pub mod align;
pub mod cause;
mod classify;
mod divided;
pub mod expected;
mod found;
mod halves;
pub mod lines;
mod modes;
mod places;
pub mod plant;
mod quotes;
mod regions;
mod report;
mod search;
pub mod shape;
mod spelling;
pub mod summary;
mod word_order;

use std::ops::Range;

use crate::cell::Cell;
use crate::ueb::{Options, SignId};

pub use expected::Expected;
pub use places::places;
pub use report::report;
pub use summary::{Summary, summarise};

/// What kind of mistake a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// The left-right mirror of the expected cell.
    Mirrored,
    /// The right shape, one or two rows too low or too high.
    Shifted,
    /// One dot missing or one too many.
    DotSlip,
    /// An indicator or terminator that is not there.
    MissingIndicator,
    /// An indicator or terminator that nothing asks for.
    ExtraIndicator,
    /// One indicator in another's place.
    WrongIndicator,
    /// Spelled out where a contraction is required.
    MissedContraction,
    /// Contracted where the letters are to be spelled.
    BarredContraction,
    /// Another contraction of the same letters is required.
    WrongContraction,
    /// A two-cell sign without its prefix, or with another's.
    LostPrefix,
    /// A sign that UEB dropped (section 1.3).
    OlderSign,
    /// A blank cell missing or added, or a word broken over two lines.
    Spacing,
    /// A sign, a word or a line not written.
    LeftOut,
    /// A sign, a word or a line that nothing asks for.
    Added,
    /// Words that are all there, in another order.
    WordOrder,
    /// None of the above.
    WrongSign,
    /// The standard leaves the choice and marking can't decide; counts for nothing.
    YourCall,
}

impl Kind {
    /// All kinds, in the order of the table of kinds.
    pub const ALL: [Kind; 17] = [
        Kind::Mirrored,
        Kind::Shifted,
        Kind::DotSlip,
        Kind::MissingIndicator,
        Kind::ExtraIndicator,
        Kind::WrongIndicator,
        Kind::MissedContraction,
        Kind::BarredContraction,
        Kind::WrongContraction,
        Kind::LostPrefix,
        Kind::OlderSign,
        Kind::Spacing,
        Kind::LeftOut,
        Kind::Added,
        Kind::WordOrder,
        Kind::WrongSign,
        Kind::YourCall,
    ];

    /// Its name in stored data and at the terminal, "missed-contraction".
    pub fn name(self) -> &'static str {
        match self {
            Kind::Mirrored => "mirrored",
            Kind::Shifted => "shifted",
            Kind::DotSlip => "dot-slip",
            Kind::MissingIndicator => "missing-indicator",
            Kind::ExtraIndicator => "extra-indicator",
            Kind::WrongIndicator => "wrong-indicator",
            Kind::MissedContraction => "missed-contraction",
            Kind::BarredContraction => "barred-contraction",
            Kind::WrongContraction => "wrong-contraction",
            Kind::LostPrefix => "lost-prefix",
            Kind::OlderSign => "older-sign",
            Kind::Spacing => "spacing",
            Kind::LeftOut => "left-out",
            Kind::Added => "added",
            Kind::WordOrder => "word-order",
            Kind::WrongSign => "wrong-sign",
            Kind::YourCall => "your-call",
        }
    }

    /// Its name in words, "missed contraction".
    pub fn words(self) -> &'static str {
        match self {
            Kind::Mirrored => "mirrored",
            Kind::Shifted => "too high or too low",
            Kind::DotSlip => "one dot off",
            Kind::MissingIndicator => "indicator missing",
            Kind::ExtraIndicator => "indicator too many",
            Kind::WrongIndicator => "wrong indicator",
            Kind::MissedContraction => "contraction missed",
            Kind::BarredContraction => "contraction not allowed here",
            Kind::WrongContraction => "another contraction is asked for",
            Kind::LostPrefix => "prefix missing or wrong",
            Kind::OlderSign => "sign of an older code",
            Kind::Spacing => "spacing",
            Kind::LeftOut => "left out",
            Kind::Added => "too many",
            Kind::WordOrder => "words in another order",
            Kind::WrongSign => "wrong sign",
            Kind::YourCall => "your call",
        }
    }

    /// What helps against it, in one sentence.
    pub fn advice(self) -> &'static str {
        match self {
            Kind::Mirrored => "Practise these signs beside their mirror images.",
            Kind::Shifted => "Practise them beside the same shapes higher and lower.",
            Kind::DotSlip => "Write them by their dot numbers, slowly, until the fingers know them.",
            Kind::MissingIndicator => {
                "At every number, capital and letter alone ask what mode the reader is in."
            }
            Kind::ExtraIndicator => {
                "Ask of every indicator what would be read without it; where nothing changes, leave it out."
            }
            Kind::WrongIndicator => "Say how far it is to reach: a letter, a word, or three words and more.",
            Kind::MissedContraction => "Read each word once more for these letters before you go on.",
            Kind::BarredContraction => "Learn what bars them: a seam, a place in the word, or company.",
            Kind::WrongContraction => "Learn which one is preferred where two could stand.",
            Kind::LostPrefix => "Write these signs whole, prefix and root as one.",
            Kind::OlderSign => "These belong to an older code: learn what stands for them now.",
            Kind::Spacing => "Compare with print word by word.",
            Kind::LeftOut => "Compare with print word by word, a finger under each.",
            Kind::Added => "After a pause find your place in print first.",
            Kind::WordOrder => "Take in as many words at a glance as you can hold, and no more.",
            Kind::WrongSign => "Practise these signs alone, both ways.",
            Kind::YourCall => "Decide once, and keep to it through the whole text.",
        }
    }

    /// The kind of that name, or of the name it had in earlier links, slips and records.
    pub fn named(name: &str) -> Option<Kind> {
        Kind::ALL
            .into_iter()
            .find(|kind| kind.name() == name)
            .or_else(|| (name == "retired-sign").then_some(Kind::OlderSign))
    }
}

/// A place in lines: line from 0, cells or characters of the line half-open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Place {
    /// The line, from 0.
    pub line: usize,
    /// The first place.
    pub from: usize,
    /// The place after the last; equal to `from` where something is missing.
    pub to: usize,
}

/// One mistake, with its cause.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// What kind of mistake it is.
    pub kind: Kind,
    /// Other kinds that fit.
    pub also: Vec<Kind>,
    /// Where it stands in the written lines.
    pub written: Place,
    /// The cells written there.
    pub cells: Vec<Cell>,
    /// The cells asked for.
    pub expected: Vec<Cell>,
    /// The expected cells' place in [`Expected::cells`], half-open.
    pub asked: Range<usize>,
    /// The print they stand for, in Unicode scalar values, half-open.
    pub print: Range<usize>,
    /// The sign at fault, where there is one.
    pub sign: Option<SignId>,
    /// The section that asks for it.
    pub section: &'static str,
    /// One sentence in plain words.
    pub say: String,
}

/// A marked text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Marked {
    /// The findings, in order.
    pub findings: Vec<Finding>,
    /// What they add up to.
    pub summary: Summary,
}

/// Marks `written`, line by line as it stands on the page, against what is asked for, as running text.
pub fn mark<L: AsRef<[Cell]>>(expected: &Expected, written: &[L]) -> Marked {
    mark_flat(expected, &lines::Flat::new(written, expected))
}

fn mark_flat(expected: &Expected, flat: &lines::Flat) -> Marked {
    let hunks = align::differences(&expected.cells, &flat.cells);
    let mut findings = classify::findings(expected, flat, &hunks);
    if !flat.breaks.is_empty() {
        findings.extend(halves::findings(expected, flat, &hunks));
        crate::order::sort_by_key(&mut findings, |finding| (finding.written.line, finding.written.from));
    }
    let summary = summarise(&findings, expected);
    Marked { findings, summary }
}

/// Marks `written` against print, as running text.
pub fn mark_print(print: &str, written: &[Vec<Cell>], options: &Options) -> Marked {
    mark(&Expected::from_print(print, options), written)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    fn kinds(print: &str, asked: &str, written: &str) -> Vec<&'static str> {
        let asked = Expected::from_known(print, &cell::from_ascii(asked).unwrap());
        let lines: Vec<_> = written.split('\n').map(|line| cell::from_ascii(line).unwrap()).collect();
        mark(&asked, &lines).findings.iter().map(|f| f.kind.name()).collect()
    }

    #[test]
    fn right_is_right() {
        assert!(kinds("the cat sat", "! cat sat", "! cat sat").is_empty());
        assert!(kinds("the cat sat", "! cat sat", "! cat\n  sat ").is_empty());
        assert!(kinds("the manager", "! manag]", "! man-\nag]").is_empty());
    }

    // The braille asked for is that of the sections beside it.
    #[test]
    fn each_kind() {
        assert_eq!(kinds("cat", "cat", "c1t"), ["shifted"]);
        assert_eq!(kinds("fog", "fog", "dog"), ["mirrored"]);
        assert_eq!(kinds("cat", "cat", "mat"), ["dot-slip"]);
        // 6.3 and 6.5: the hyphen ends numeric mode
        assert_eq!(kinds("10-12", "#aj-#ab", "#aj-ab"), ["missing-indicator"]);
        assert_eq!(kinds("cat", "cat", ",cat"), ["extra-indicator"]);
        assert_eq!(kinds("CAT", ",,cat", ",cat"), ["wrong-indicator"]); // 8.4
        assert_eq!(kinds("then", "!n", "?5"), ["wrong-contraction"]); // 10.3, 10.10
        assert_eq!(kinds("card", "c>d", "card"), ["missed-contraction"]); // 10.4
        assert_eq!(kinds("mother", "\"m", "mother"), ["missed-contraction"]); // 10.7
        assert_eq!(kinds("mishap", "mishap", "mi%ap"), ["barred-contraction"]); // 10.11
        assert_eq!(kinds("mother", "\"m", "m"), ["lost-prefix"]); // 10.7
        assert_eq!(kinds("addle", "addle", "a4le"), ["older-sign"]); // 1.3.2
        assert_eq!(kinds("the cat sat", "! cat sat", "!cat sat"), ["spacing"]);
        assert_eq!(kinds("the cat sat", "! cat sat", "! ca\nt sat"), ["spacing"]);
        assert_eq!(kinds("the cat sat up", "! cat sat up", "! cat up"), ["left-out"]);
        assert_eq!(kinds("the cat sat", "! cat sat", "! cat cat sat"), ["added"]);
    }

    // Nothing of it is looked at word by word, which would take the square of its length.
    #[test]
    fn many_pages_left_out_or_added_are_one_finding() {
        let words = " ! boat leaves at noon & comes back".repeat(400);
        let print = "we wait".to_owned() + &" the boat leaves at noon and comes back".repeat(400);
        assert_eq!(kinds(&print, &format!("we wait{words}"), "we wait"), ["left-out"]);
        assert_eq!(kinds("we wait", "we wait", &format!("we wait{words}")), ["added"]);
    }
}
