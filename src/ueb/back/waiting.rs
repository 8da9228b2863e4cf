//! A prefix that waits for its root, and what it could still become.

use std::ops::Range;

use super::sink::Sink;
use super::tables::tables;
use super::word::{Mode, Word};
use crate::cell::Cell;
use crate::ueb::register::{self, Class, SignId};
use crate::ueb::{ReadOptions, Remark};

/// A prefix that waits for its root.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiting {
    /// Its cells, half-open.
    pub cells: Range<usize>,
    /// What it does, or begins to do, to what comes after it: "capital", "grade 1", a typeform, an accent.
    pub does: Vec<&'static str>,
    /// The signs that it could still become in this place, in braille order.
    pub could: Vec<SignId>,
}

/// What an indicator or a modifier does, in a word or two.
fn does(sign: &register::Sign) -> Option<&'static str> {
    let named = |begins: &str| sign.key.starts_with(begins);
    Some(match sign.section.split('.').next()? {
        "5" => "grade 1",
        "6" if sign.class == Class::Indicator && sign.section != "6.10" => "number",
        "8" => "capital",
        "9" if named("italic") => "italic",
        "9" if named("boldface") => "bold",
        "9" if named("underline") => "underline",
        "9" if named("script") => "script",
        "9" => "another typeform",
        "4" if sign.section == "4.3" => "ligature",
        "4" if sign.class == Class::Modifier => "accent",
        "15" => "line of verse",
        _ if sign.section == "3.27" => "transcriber's note",
        _ => return None,
    })
}

/// What these prefixes do or begin to do, each once, the commonest first.
pub fn functions(prefix: &[Cell]) -> Vec<&'static str> {
    const ORDER: [&str; 12] = [
        "capital",
        "grade 1",
        "number",
        "italic",
        "bold",
        "underline",
        "script",
        "accent",
        "ligature",
        "another typeform",
        "line of verse",
        "transcriber's note",
    ];
    let begins = register::signs().iter().filter(|sign| !prefix.is_empty() && sign.cells.starts_with(prefix));
    let found: Vec<&str> = begins.filter_map(does).collect();
    ORDER.into_iter().filter(|word| found.contains(word)).collect()
}

/// The signs that begin with these cells and go on, wherever they may stand.
pub fn could_become(prefix: &[Cell]) -> Vec<SignId> {
    longer(prefix).map(|sign| sign.id).collect()
}

fn longer(prefix: &[Cell]) -> impl Iterator<Item = &'static register::Sign> {
    register::signs()
        .iter()
        .filter(move |s| s.cells.len() > prefix.len() && !prefix.is_empty() && s.cells.starts_with(prefix))
}

/// Where the prefix begins that these cells, prefixes all, end with; `None` when no sign begins so.
pub(super) fn begins(prefixes: &[Cell]) -> Option<usize> {
    // No sign begins with more prefixes than these.
    let from = prefixes.len().saturating_sub(5);
    (from..prefixes.len()).find(|&from| longer(&prefixes[from..]).next().is_some())
}

/// The prefix at the end of a word's cells; `None` when the last sign there is complete.
pub(super) fn at_end(word: &[Cell], options: &ReadOptions, mode: Mode) -> Option<Waiting> {
    if !word.last()?.is_prefix() {
        return None;
    }
    let mut out = Sink::new(true);
    Word::new(tables(), word, options, &mut out, mode, &[]).read();
    let last = out.pieces?.pop().filter(|piece| piece.remark == Remark::Waiting)?;
    let (before, prefix) = word.split_at(last.cells.start);
    let place = Word::new(tables(), before, options, &mut Sink::new(false), mode, &[Cell::BLANK]).place();
    let could: Vec<SignId> = longer(prefix)
        .filter(|sign| match sign.class {
            Class::FinalLetterGroupsign => place.letter && !place.grade1,
            Class::Shortform => place.lead && !place.grade1,
            class if class.is_contraction() => !place.grade1,
            Class::Digit => place.numeric,
            Class::Technical => false,
            _ => true,
        })
        .map(|sign| sign.id)
        .collect();
    let does = functions(prefix);
    Some(Waiting { cells: last.cells, does, could })
}
