//! What findings add up to, and what to practise.

use std::collections::BTreeMap;

use super::cause::Booked;
use super::{Expected, Finding, Kind};
use crate::ueb::register;

/// A drill that the page can open: which signs, and how they are asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Practise {
    /// How it is asked: "signs" for shapes, "rules" for words that turn on the rule, "writing" for whole lines.
    pub drill: &'static str,
    /// The keys of the signs.
    pub signs: Vec<&'static str>,
}

/// One cause and what it cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cause {
    /// The kind.
    pub kind: Kind,
    /// How many findings.
    pub count: usize,
    /// What to practise.
    pub practise: Practise,
}

/// What findings add up to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Summary {
    /// Findings that count.
    pub errors: usize,
    /// Words asked for.
    pub words: usize,
    /// How many of each kind, `your-call` included.
    pub kinds: BTreeMap<Kind, usize>,
    /// How many at each sign, by its key.
    pub signs: BTreeMap<&'static str, usize>,
    /// The three causes that cost most, the dearest first.
    pub causes: Vec<Cause>,
    /// How many mistakes were booked to eye, hand and rule; only those after which the question was asked.
    pub booked: BTreeMap<Booked, usize>,
}

impl Summary {
    /// Books a mistake to eye, hand or rule.
    pub fn book(&mut self, booked: Booked) {
        *self.booked.entry(booked).or_default() += 1;
    }

    /// The share of a cause among the mistakes that were booked, from 0 to 1; `None` before the first.
    pub fn share(&self, booked: Booked) -> Option<f64> {
        let all: usize = self.booked.values().sum();
        (all > 0).then(|| self.booked.get(&booked).copied().unwrap_or(0) as f64 / all as f64)
    }

    /// Words for each error; `None` for work without one.
    pub fn words_per_error(&self) -> Option<f64> {
        (self.errors > 0).then(|| self.words as f64 / self.errors as f64)
    }
}

/// Adds findings up.
pub fn summarise(findings: &[Finding], expected: &Expected) -> Summary {
    let words = expected.cells.split(|cell| cell.is_blank()).filter(|word| !word.is_empty()).count();
    let mut summary = Summary { words, ..Summary::default() };
    let mut by_kind: BTreeMap<Kind, BTreeMap<&'static str, usize>> = BTreeMap::new();
    for finding in findings {
        *summary.kinds.entry(finding.kind).or_default() += 1;
        if finding.kind == Kind::YourCall {
            continue;
        }
        summary.errors += 1;
        let signs = by_kind.entry(finding.kind).or_default();
        if let Some(sign) = finding.sign {
            let key = register::get(sign).key;
            *summary.signs.entry(key).or_default() += 1;
            *signs.entry(key).or_default() += 1;
        }
    }
    let mut causes: Vec<Cause> = by_kind
        .into_iter()
        .map(|(kind, signs)| {
            let mut signs: Vec<_> = signs.into_iter().collect();
            signs.sort_by_key(|&(_, count)| std::cmp::Reverse(count));
            let practise = Practise {
                drill: match kind {
                    Kind::Mirrored | Kind::Shifted | Kind::DotSlip | Kind::LostPrefix | Kind::WrongSign => {
                        "signs"
                    }
                    Kind::LeftOut
                    | Kind::Added
                    | Kind::WordOrder
                    | Kind::Spacing
                    | Kind::MissingIndicator
                    | Kind::ExtraIndicator
                    | Kind::WrongIndicator
                    | Kind::OlderSign => "writing",
                    _ => "rules",
                },
                signs: signs.into_iter().take(8).map(|(key, _)| key).collect(),
            };
            Cause { kind, count: summary.kinds.get(&kind).copied().unwrap_or(0), practise }
        })
        .collect();
    causes.sort_by_key(|cause| std::cmp::Reverse(cause.count));
    causes.truncate(3);
    summary.causes = causes;
    summary
}
