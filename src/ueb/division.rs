//! Where a word or a number may be divided at the end of a braille line, and how each half is then written (10.13,
//! 6.10). Only places that are clear are offered; a doubtful syllable is left undivided.

use std::ops::Range;

use super::{Explanation, Options, SignId, explain, register};
use crate::cell::Cell;
use register::Class;

mod halves;
mod judge;
mod syllables;

pub use judge::{Allowed, Judgement, judge, judge_as};

/// One place where a word may be divided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Division {
    /// How many Unicode scalar values of print stand before the break.
    pub at: usize,
    /// The cells at the end of the line, with the hyphen or the line continuation indicator.
    pub first: Vec<Cell>,
    /// The cells that begin the next line.
    pub second: Vec<Cell>,
    /// The section that allows it: 10.13.1 between syllables, 10.13.2 at a hyphen, 10.13.6 at a dash, 10.13.12 beside a
    /// shortform, 6.10.3 or 6.10.4 in a number.
    pub section: &'static str,
}

/// Longer words and sequences are not divided between syllables.
const LONGEST: usize = 60;

/// Every place where this word or number may be divided, in order; empty where none is clear.
///
/// The print is one symbols-sequence: a word with its hyphens, dashes, capitals and punctuation, or a number, whose
/// groups of digits may stand apart by a no-break or thin space.
pub fn divisions(print: &str) -> Vec<Division> {
    let whole = Whole::new(print);
    let mut out = whole.numbers();
    out.extend(whole.joints());
    for run in whole.words() {
        out.extend(whole.between_syllables(run));
    }
    out.sort_by_key(|division| division.at);
    out
}

/// How the two halves of a word are written when it is divided before this letter (from 0), be the place a clear one or
/// not: somebody else may know the syllables better. `None` where a word is never divided: within a shortform
/// (10.13.12), at its ends, where it is no plain word.
pub fn halves(print: &str, at: usize) -> Option<Division> {
    let whole = Whole::new(print);
    let run = whole.words().into_iter().find(|run| run.start < at && at < run.end)?;
    whole.divided(&run, &[at - run.start]).into_iter().next()
}

/// A sign of one half, with its cells.
type Written = (SignId, Vec<Cell>);

fn sign(key: &str) -> Option<Written> {
    register::by_key(key).map(|sign| (sign.id, sign.cells.clone()))
}

fn is_dash(c: char) -> bool {
    matches!(c, '\u{2013}' | '\u{2014}' | '\u{2015}')
}

fn is_hyphen(c: char) -> bool {
    matches!(c, '-' | '\u{2010}' | '\u{2011}')
}

/// Whether a word may be divided after this character of print, a hyphen or a dash (10.13.2, 10.13.6).
pub fn is_joint(c: char) -> bool {
    is_hyphen(c) || is_dash(c)
}

/// A sequence with its braille.
struct Whole {
    said: Explanation,
    print: Vec<char>,
    contracted: bool,
}

impl Whole {
    fn new(print: &str) -> Whole {
        Whole { said: explain(print, &Options::default()), print: print.chars().collect(), contracted: true }
    }

    /// The first sign that belongs after the break before this letter.
    fn sign_at(&self, at: usize) -> usize {
        let signs = &self.said.signs;
        let ended =
            |i: usize| signs[i].print.is_empty() && register::get(signs[i].sign).class == Class::Terminator;
        let first = signs.iter().position(|sign| sign.print.start >= at).unwrap_or(signs.len());
        (first..signs.len()).find(|&i| !ended(i) || signs[i].print.start > at).unwrap_or(signs.len())
    }

    fn written(&self, signs: Range<usize>) -> Vec<Written> {
        signs
            .map(|i| &self.said.signs[i])
            .map(|s| (s.sign, self.said.cells[s.cells.clone()].to_vec()))
            .collect()
    }

    /// 10.13.2, 10.13.6: after a hyphen, before and after a dash; each half keeps its braille form.
    fn joints(&self) -> Vec<Division> {
        let count = self.said.signs.len();
        let inner = 1..self.print.len();
        inner
            .filter_map(|at| {
                let (a, b) = (self.print[at - 1], self.print[at]);
                let section = match () {
                    () if is_hyphen(a) && b.is_alphanumeric() && at > 1 && !is_hyphen(self.print[at - 2]) => {
                        "10.13.2"
                    }
                    () if is_dash(a) != is_dash(b) => "10.13.6",
                    () => return None,
                };
                let cut = self.sign_at(at);
                let (first, second) = (self.written(0..cut), self.written(cut..count));
                Some(Division { at, first: settled(first), second: settled(second), section })
            })
            .collect()
    }

    /// 6.10: at a numeric space, after a separating comma, or between the digits of a long string that has neither;
    /// numeric mode goes on in the next line (6.10.5).
    fn numbers(&self) -> Vec<Division> {
        let cells = |key| sign(key).map(|(_, cells)| cells).unwrap_or_default();
        let one = cells("line continuation indicator");
        let two = cells("line continuation indicator with space");
        let signs = &self.said.signs;
        let digit = |i: usize| register::get(signs[i].sign).class == Class::Digit;
        let spaced = |i: usize| digit(i) && register::get(signs[i].sign).cells.len() > 1;
        let comma =
            |i: usize| self.print.get(signs[i].print.start) == Some(&',') && !signs[i].print.is_empty();
        let mut out = Vec::new();
        for (i, sign) in signs.iter().enumerate().skip(1) {
            let cut = sign.cells.start;
            let after_comma = digit(i) && comma(i - 1) && i > 1 && digit(i - 2);
            let (indicator, from, section) = match () {
                () if spaced(i) => (&two, cut + 1, "6.10.4"),
                () if after_comma || digit(i) && digit(i - 1) && self.long_string(i) => (&one, cut, "6.10.3"),
                () => continue,
            };
            let mut first = self.said.cells[..cut].to_vec();
            first.extend_from_slice(indicator);
            let at = sign.print.end.saturating_sub(1);
            out.push(Division { at, first, second: self.said.cells[from..].to_vec(), section });
        }
        out
    }

    /// Whether the digit stands in a string of more than twelve with no separator.
    fn long_string(&self, i: usize) -> bool {
        let signs = &self.said.signs;
        let plain = |s: &&super::SignUse| {
            let sign = register::get(s.sign);
            sign.class == Class::Digit && sign.cells.len() == 1
        };
        let before = signs[..i].iter().rev().take_while(plain).take(13).count();
        let after = signs[i..].iter().take_while(plain).take(13).count();
        let around = [i.checked_sub(before + 1), Some(i + after)];
        let separated = around.into_iter().flatten().filter_map(|i| signs.get(i)).any(|s| {
            !s.print.is_empty()
                && matches!(
                    self.print.get(s.print.start),
                    Some(',' | '.' | '\u{a0}' | '\u{2009}' | '\u{202f}')
                )
        });
        before + after > 12 && !separated
    }

    /// The runs of letters that may be divided: nothing but punctuation, hyphens and dashes around them.
    fn words(&self) -> Vec<Range<usize>> {
        let plain = |&c: &char| {
            c.is_ascii_alphabetic() || is_hyphen(c) || is_dash(c) || "'’‘\"“”()[].,;:!?…".contains(c)
        };
        if self.print.len() > 2 * LONGEST || !self.print.iter().all(plain) {
            return Vec::new();
        }
        let mut out = Vec::new();
        let mut from = 0;
        while from < self.print.len() {
            let letters = self.print[from..].iter().take_while(|c| c.is_ascii_alphabetic()).count();
            let near = |at: Option<usize>, any: &[char]| {
                at.and_then(|at| self.print.get(at)).is_some_and(|c| any.contains(c))
            };
            // Neither a piece of can't nor of www.page.org.
            let beside = |at: Option<usize>, beyond: Option<usize>| {
                near(at, &['\'', '’', '.', ',', ':', '?', '!'])
                    && beyond.and_then(|at| self.print.get(at)).is_some_and(char::is_ascii_alphabetic)
            };
            let end = from + letters;
            if (2..=LONGEST).contains(&letters)
                && !beside(Some(end), Some(end + 1))
                && !beside(from.checked_sub(1), from.checked_sub(2))
            {
                out.push(from..end);
            }
            from = end + 1;
        }
        out
    }

    fn between_syllables(&self, run: Range<usize>) -> Vec<Division> {
        let lower: Vec<u8> = self.print[run.clone()].iter().map(|c| c.to_ascii_lowercase() as u8).collect();
        let capitals: Vec<usize> = run.clone().filter(|&i| self.print[i].is_ascii_uppercase()).collect();
        let all = capitals.len() == run.len();
        // McGANNEL has no plain form for its halves.
        if !all && capitals.windows(2).any(|two| two[0] + 1 == two[1]) {
            return Vec::new();
        }
        let dropped_g = lower.ends_with(b"in") && matches!(self.print.get(run.end), Some('\'' | '’'));
        let places = if dropped_g {
            // comin': divided like coming.
            let places = syllables::places(&[&lower[..], b"g"].concat());
            places.into_iter().filter(|&at| at + 1 < lower.len()).collect()
        } else if all || capitals.iter().all(|&i| i == run.start) {
            syllables::places(&lower)
        } else {
            // SmithInge: where the capital shows the seam.
            capitals.iter().map(|i| i - run.start).filter(|&at| at > 1 && at + 1 < lower.len()).collect()
        };
        self.divided(&run, &places)
    }
}

/// 10.13.2, 10.13.5, 10.13.8: a half of lower signs only, quotation marks and capitals counted with them, does not use
/// its last lower contraction.
fn settled(mut half: Vec<Written>) -> Vec<Cell> {
    let lower = |(id, cells): &Written| {
        cells.iter().all(|cell| cell.is_lower()) || register::get(*id).key.contains("quotation")
    };
    let contraction =
        |(id, _): &Written| matches!(register::get(*id).class, Class::LowerWordsign | Class::LowerGroupsign);
    if half.len() > 1
        && half.iter().all(lower)
        && let Some(last) = half.iter().rposition(contraction)
    {
        let spelled = register::get(half[last].0).print.chars().map(register::letter);
        let spelled: Vec<Written> = spelled.map(|id| (id, register::get(id).cells.clone())).collect();
        half.splice(last..=last, spelled);
    }
    half.into_iter().flat_map(|(_, cells)| cells).collect()
}

#[cfg(test)]
mod tests;
