//! The code: print to braille and back, with the reason for each sign.
//!
//! Two ways from print to braille: [`transcribe`] gives the cells alone, [`explain`] the cells with the reason
//! for each sign. [`read`] goes back to print. The signs themselves are data, in the [`register`].
//!
//! What is followed is *The Rules of Unified English Braille*, Second Edition 2013, and where it is asked for what is known of
//! the third ([`Edition`]); section numbers in this module are those of the second.
//!
//! # What is left to the transcriber
//!
//! - Spaces in numbers (6.6): a space that does not break, or a thin one, between two digits is a numeric space. A plain
//!   one stays a space: print shows no difference between "1 000 000" and numbers that follow one another, and what is
//!   not clearly one number keeps its ordinary spaces (the note to 6.6).
//! - Numeric passages (6.9) are for worked examples and tables of numbers, laid out by hand: they are read, not written.
//! - Capitals beside a passage (8.5.4) are its own or not by their meaning; taken in are those that no end of a sentence,
//!   bracket or quotation mark opened before sets apart.
//! - Capitals over paragraphs (8.5.5): a line of plain text may be a paragraph, a heading or a line of verse, and nothing
//!   tells whether the next belongs to it. Every line closes the passage that it opens.
//! - Words whose sounds or parts are not known (10.12.7): both ways are right, if they are used throughout. Here the
//!   rules for letters decide.
//! - Line mode (16) is drawing: a horizontal line is read, as box-drawing characters, and not written.

use std::ops::Range;

use crate::cell::Cell;

pub mod back;
mod composed;
pub mod contract;
pub mod division;
mod edition;
mod forward;
pub mod letter_case;
mod marked;
pub mod register;

pub use contract::may_be_shortened;
pub use edition::Edition;
pub use register::{Class, Sign, SignId};

/// How print is written in braille.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Options {
    /// Contracted braille (section 10), or uncontracted (2.5).
    pub contracted: bool,
    /// Whether `*italic*`, `**bold**`, `<u>underline</u>`, `~script~`, `^{raised}`, `_{lowered}`, `√{root}`,
    /// `{upper}⁄{lower}` (with U+2044) and a backslash before a literal mark are read as marks (sections 9, 11.3 to
    /// 11.5) and not as print; so are `<span lang="fr">words of another language</span>`, which are uncontracted
    /// (13.2.1), and `<span class="small-caps">small capitals</span>` that stand for emphasis or distinction (9.6.2).
    pub marks: bool,
    /// The edition of the rules that is followed.
    pub edition: Edition,
}

impl Default for Options {
    /// Contracted braille, no marks, the second edition.
    fn default() -> Self {
        Options { contracted: true, marks: false, edition: Edition::Second }
    }
}

/// One sign as it was written, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SignUse {
    /// The print it stands for, in Unicode scalar values of the text given, half-open; empty for an indicator.
    pub print: Range<usize>,
    /// The cells it takes, half-open.
    pub cells: Range<usize>,
    /// Which sign of the register.
    pub sign: SignId,
    /// The section that asks for it here: the register's, or a closer one.
    pub section: &'static str,
    /// Whether the standard leaves a choice here; the section that does so. The cells that are as right stand in
    /// [`Explanation::choices`].
    pub choice: Option<&'static str>,
}

/// A place where the standard leaves a choice: other cells that are as right as those written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// The print it is about, in Unicode scalar values, half-open.
    pub print: Range<usize>,
    /// The cells written, half-open; empty where something may be put in.
    pub cells: Range<usize>,
    /// The section that leaves the choice.
    pub section: &'static str,
    /// The reason in a few plain words.
    pub why: &'static str,
    /// What may stand in place of `cells`, the preferred first; an empty one means that nothing need stand there.
    pub others: Vec<Vec<Cell>>,
}

/// A place where a contraction's letters stand and the contraction is not used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PassedOver {
    /// The contraction that was not used.
    pub sign: SignId,
    /// The letters in print, in Unicode scalar values, half-open.
    pub print: Range<usize>,
    /// The section that bars it, or by which another sign was preferred.
    pub section: &'static str,
    /// The reason in a few plain words.
    pub why: &'static str,
}

/// A character of print that no sign of the standard stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unhandled {
    /// Its place, in Unicode scalar values.
    pub at: usize,
    /// The character.
    pub character: char,
}

/// Braille with its reasons.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Explanation {
    /// The cells; a line end in print is a blank cell here (callers that keep lines transcribe line by line).
    pub cells: Vec<Cell>,
    /// Every sign, in order; together they cover every cell exactly once.
    pub signs: Vec<SignUse>,
    /// Contractions that were not used, in order of print.
    pub passed_over: Vec<PassedOver>,
    /// Where the standard leaves a choice, in order of cells. Choices never overlap, and each is free of the others.
    pub choices: Vec<Choice>,
    /// Characters that no sign stands for; each is written as the sign "unhandled" and reported here.
    pub unhandled: Vec<Unhandled>,
}

/// Print to braille: the cells alone.
pub fn transcribe(print: &str, options: &Options) -> Vec<Cell> {
    let mut out = forward::sink::Cells(Vec::with_capacity(print.len()));
    forward::run(print, options, &mut out);
    out.0
}

/// Whether this mark begins a span of print that is read (see [`Options::marks`]).
pub fn begins_span(mark: &str) -> bool {
    forward::spans::named(mark).is_some()
}

/// Print to braille, the cells of each line, as it stands in the whole text.
pub fn transcribe_lines(print: &str, options: &Options) -> Vec<Vec<Cell>> {
    let mut out = forward::sink::Cells(Vec::with_capacity(print.len()));
    let (mut lines, mut from) = (Vec::new(), 0);
    forward::run_lines(print, options, &mut out, |out, _| {
        lines.push(out.0.get(from..).unwrap_or_default().to_vec());
        from = out.0.len() + 1;
    });
    lines
}

/// The cells and the signs of each line, as it stands in the whole text; the places in the print, and the cells, are
/// counted from the line's beginning.
pub fn explain_lines(print: &str, options: &Options) -> Vec<(Vec<Cell>, Vec<SignUse>)> {
    let mut out = Explanation::default();
    let mut lines = Vec::new();
    let (mut cell, mut sign, mut place) = (0, 0, 0);
    forward::run_lines(print, options, &mut out, |out, at| {
        let moved = |one: &SignUse| SignUse {
            print: one.print.start.saturating_sub(place)..one.print.end.saturating_sub(place),
            cells: one.cells.start.saturating_sub(cell)..one.cells.end.saturating_sub(cell),
            ..one.clone()
        };
        let signs = out.signs.get(sign..).unwrap_or_default().iter().map(moved).collect();
        lines.push((out.cells.get(cell..).unwrap_or_default().to_vec(), signs));
        (cell, sign, place) = (out.cells.len() + 1, out.signs.len() + 1, at + 1);
    });
    lines
}

/// Print to braille, with the reason for each sign.
pub fn explain(print: &str, options: &Options) -> Explanation {
    let mut out = Explanation::default();
    forward::run(print, options, &mut out);
    forward::choices::settle(&mut out);
    out
}

/// How braille is read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadOptions {
    /// Contracted braille, or uncontracted.
    pub contracted: bool,
    /// Whether signs that UEB dropped (section 1.3) are read, each flagged as older.
    pub older: bool,
    /// Whether typeforms, superscripts, subscripts, roots and general fractions come out as marks (see
    /// [`Options::marks`]), or typeforms are left out and the others written as plain text has them.
    pub marks: bool,
    /// The edition of the rules that the braille follows.
    pub edition: Edition,
}

impl Default for ReadOptions {
    /// Contracted braille, no older signs, no marks, the second edition.
    fn default() -> Self {
        ReadOptions { contracted: true, older: false, marks: false, edition: Edition::Second }
    }
}

/// What is remarkable about a piece of a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remark {
    /// A plain sign with a plain meaning.
    None,
    /// No rule gives these cells a meaning here; they stand in the print as Unicode braille.
    Unknown,
    /// A prefix at the end of the text that still waits for its root.
    Waiting,
    /// A sign that UEB dropped (only with [`ReadOptions::older`]).
    Older,
}

/// One sign as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Piece {
    /// The cells read, half-open.
    pub cells: Range<usize>,
    /// The print it gives, in Unicode scalar values of [`Reading::print`], half-open; empty for an indicator.
    pub print: Range<usize>,
    /// Which sign of the register; `None` for cells that no rule gives a meaning to.
    pub sign: Option<SignId>,
    /// The section that gives the meaning.
    pub section: &'static str,
    /// What is remarkable about it.
    pub remark: Remark,
}

/// What cells say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reading {
    /// The print.
    pub print: String,
    /// Every sign, in order; together they cover every cell exactly once.
    pub pieces: Vec<Piece>,
}

/// Braille to print, with the meaning of each sign.
pub fn read(cells: &[Cell], options: &ReadOptions) -> Reading {
    back::read(cells, options)
}

/// Braille to print: the print alone.
pub fn read_print(cells: &[Cell], options: &ReadOptions) -> String {
    back::read_print(cells, options)
}
