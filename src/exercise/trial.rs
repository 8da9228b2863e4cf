//! The trial hand-in: a whole piece without help, marked by mistakes a page against a pass line, with a second try.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::manuscript::check::{Item, Outcome};
use crate::manuscript::rules;
use crate::marking::{Finding, Kind};
use crate::ueb::register;

/// The rules of layout that count in a trial: those about the text itself, since a piece need not have page numbers, a title
/// page or full pages.
const COUNTED: [&str; 16] = [
    "line-length",
    "blank-lines",
    "heading",
    "heading-at-foot",
    "paragraph",
    "verse",
    "play",
    "letter",
    "quotation",
    "break",
    "box",
    "notes",
    "contents",
    "table",
    "transcribers-note",
    "line-numbers",
];

/// What a teacher asks of a trial.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Trial {
    /// At most so many mistakes a page, in tenths.
    pub tenths: u16,
    /// How often the work may be handed in.
    pub tries: u8,
}

impl Default for Trial {
    /// Two mistakes a page, two tries: a choice of our own, no standard of the trade. The teacher sets what holds.
    fn default() -> Self {
        Trial { tenths: 20, tries: 2 }
    }
}

/// A cause: what kind of mistake, at which sign.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Cause {
    /// The kind's name.
    #[serde(deserialize_with = "name_of_today")]
    pub kind: String,
    /// The sign's key; empty where none is at fault.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub sign: String,
}

/// The kind of a cause that is one of layout; its sign is the name of the rule.
pub const LAYOUT: &str = "layout";

impl Cause {
    /// What it is, in words.
    pub fn words(&self) -> String {
        if self.kind == LAYOUT {
            let says = rules::by_key(&self.sign).map_or(self.sign.clone(), |rule| rule.says.to_owned());
            return format!("layout: {says}");
        }
        let kind = Kind::named(&self.kind).map_or("", Kind::words);
        if self.sign.is_empty() { kind.to_owned() } else { format!("{kind}: {}", self.sign) }
    }
}

/// A kind's name as it is called today: an attempt that was kept may have an earlier one.
fn name_of_today<'de, D: serde::Deserializer<'de>>(from: D) -> Result<String, D::Error> {
    let name = String::deserialize(from)?;
    Ok(Kind::named(&name).map_or(name, |kind| kind.name().to_owned()))
}

/// One hand-in, marked.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Attempt {
    /// Mistakes; what is left to the transcriber's judgement is none.
    pub mistakes: usize,
    /// Lines of the piece as the print asks for them.
    pub lines: usize,
    /// Lines on a page.
    pub page: usize,
    /// How often each cause struck.
    #[serde(with = "pairs")]
    pub causes: BTreeMap<Cause, usize>,
}

/// Causes as a list of pairs: a JSON object has plain texts for keys.
mod pairs {
    use super::{BTreeMap, Cause, Deserialize};
    use serde::{Deserializer, Serializer};

    pub fn serialize<S: Serializer>(causes: &BTreeMap<Cause, usize>, to: S) -> Result<S::Ok, S::Error> {
        to.collect_seq(causes)
    }

    pub fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<BTreeMap<Cause, usize>, D::Error> {
        Ok(Vec::deserialize(from)?.into_iter().collect())
    }
}

impl Attempt {
    /// A marked hand-in; `lines` of text the piece has, `page` lines stand on a page.
    pub fn of(findings: &[Finding], lines: usize, page: usize) -> Attempt {
        let mut attempt =
            Attempt { mistakes: 0, lines: lines.max(1), page: page.max(1), causes: BTreeMap::new() };
        for finding in findings.iter().filter(|finding| finding.kind != Kind::YourCall) {
            attempt.mistakes += 1;
            let sign = finding.sign.map(|sign| register::get(sign).key).unwrap_or_default();
            let cause = Cause { kind: finding.kind.name().to_owned(), sign: sign.to_owned() };
            *attempt.causes.entry(cause).or_default() += 1;
        }
        attempt
    }

    /// The same with the faults of layout that the check found.
    #[must_use]
    pub fn with_layout(mut self, items: &[Item]) -> Attempt {
        let counts = |item: &&Item| item.result == Outcome::ToFix && COUNTED.contains(&item.rule);
        for item in items.iter().filter(counts) {
            self.mistakes += 1;
            let cause = Cause { kind: LAYOUT.to_owned(), sign: item.rule.to_owned() };
            *self.causes.entry(cause).or_default() += 1;
        }
        self
    }

    /// Mistakes a page, in tenths, rounded up; a piece shorter than a page counts as one.
    pub fn tenths(&self) -> usize {
        let lines = self.lines.max(self.page);
        (self.mistakes * self.page * 10).div_ceil(lines)
    }

    /// Whether it passes.
    pub fn passes(&self, trial: &Trial) -> bool {
        self.tenths() <= usize::from(trial.tenths)
    }
}

/// What became of a cause in the second try.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Change {
    /// It was there and came back.
    CameBack,
    /// It was not there the first time.
    New,
    /// It was there and is gone.
    Cured,
}

impl Change {
    /// In plain words.
    pub const fn words(self) -> &'static str {
        match self {
            Change::CameBack => "came back",
            Change::New => "new",
            Change::Cured => "cured",
        }
    }
}

/// Every cause of either try with how often it struck in each and what became of it; what came back stands first.
pub fn compare(first: &Attempt, second: &Attempt) -> Vec<(Cause, usize, usize, Change)> {
    let mut all: Vec<&Cause> = first.causes.keys().chain(second.causes.keys()).collect();
    all.sort();
    all.dedup();
    let mut out: Vec<_> = all
        .into_iter()
        .map(|cause| {
            let count = |attempt: &Attempt| attempt.causes.get(cause).copied().unwrap_or(0);
            let (before, after) = (count(first), count(second));
            let change = match (before, after) {
                (_, 0) => Change::Cured,
                (0, _) => Change::New,
                _ => Change::CameBack,
            };
            (cause.clone(), before, after, change)
        })
        .collect();
    out.sort_by_key(|(_, before, after, change)| (*change, std::cmp::Reverse(before.max(after).to_owned())));
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;
    use crate::marking::mark_print;
    use crate::ueb::Options;

    fn attempt(written: &str) -> Attempt {
        let written = [cell::from_ascii(written).unwrap()];
        let marked = mark_print("the mother met the cat", &written, &Options::default());
        Attempt::of(&marked.findings, 1, 25)
    }

    // Braille of the words: sections 10.3 and 10.7 of the standard: "! "m met ! cat".
    #[test]
    fn faults_of_layout_count() {
        use crate::manuscript::check::{Asked, check};
        use crate::manuscript::file::BrailleFile;
        let print = "# Boats\n\nNo dogs.\n";
        let counted = |brf: &str| {
            let items =
                check(&BrailleFile::from_text(brf), &Asked { print: Some(print), ..Asked::default() });
            Attempt::of(&[], 3, 25).with_layout(&items)
        };
        let right = format!("{}\r\n\r\n  ,no dogs4\r\n", " ".repeat(17) + ",boats");
        assert_eq!(counted(&right).mistakes, 0, "{:?}", counted(&right));
        // The paragraph begins in cell 1: common practice is 3-1, from memory.
        let wrong = counted(&right.replace("  ,no", ",no"));
        assert_eq!(wrong.mistakes, 1);
        let (cause, times) = wrong.causes.iter().next().unwrap();
        assert_eq!((cause.kind.as_str(), cause.sign.as_str(), *times), (LAYOUT, "paragraph", 1));
        assert!(cause.words().starts_with("layout: Paragraphs are 3-1"));
    }

    #[test]
    fn the_second_try_shows_what_was_cured_and_what_came_back() {
        let first = attempt("! mother mit ! cat");
        let second = attempt("! \"m mit ! ct");
        assert_eq!(first.mistakes, 2);
        assert_eq!(first.tenths(), 20);
        // Tries are kept between visits.
        let json = serde_json::to_string(&first).unwrap();
        assert_eq!(serde_json::from_str::<Attempt>(&json).unwrap(), first);
        assert!(first.passes(&Trial::default()) && !first.passes(&Trial { tenths: 19, tries: 2 }));
        let compared = compare(&first, &second);
        let became: Vec<(&str, Change)> =
            compared.iter().map(|(cause, _, _, change)| (cause.kind.as_str(), *change)).collect();
        assert_eq!(
            became,
            [
                ("mirrored", Change::CameBack),
                ("left-out", Change::New),
                ("missed-contraction", Change::Cured)
            ]
        );
    }

    #[test]
    fn mistakes_are_counted_by_the_page() {
        let of = |mistakes, lines| Attempt { mistakes, lines, page: 25, causes: BTreeMap::new() }.tenths();
        assert_eq!(of(3, 10), 30);
        assert_eq!(of(3, 75), 10);
        assert_eq!(of(1, 1000), 1);
        assert_eq!(of(0, 1), 0);
    }
}
