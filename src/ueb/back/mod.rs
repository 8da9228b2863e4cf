//! Braille to print: what cells say, sign by sign, and live while they are written.
//!
//! Cells are read a braille word at a time (a run without blanks). Only the passages that are open go over a blank
//! (5.4, 6.9, 8.5, 9.4), so that a word's reading depends on nothing but its cells and those.

mod alone;
mod indicators;
mod letters;
mod live;
mod number;
mod places;
mod retired;
mod scripts;
mod sink;
mod symbols;
mod tables;
mod technical;
mod typeforms;
mod waiting;
mod word;

pub use live::{LiveReading, ReadWord};
pub use waiting::{Waiting, could_become};

use std::collections::HashMap;
use std::ops::Range;

use crate::cell::Cell;
use crate::ueb::{ReadOptions, Reading, Remark};
use sink::Sink;
use tables::tables;
use word::{Gap, Mode, Word};

/// Braille to print, with the meaning of each sign.
pub fn read(cells: &[Cell], options: &ReadOptions) -> Reading {
    let mut out = Sink::new(true);
    read_into(cells, options, &mut out);
    Reading { print: out.print, pieces: out.pieces.unwrap_or_default() }
}

/// Words of at most this many cells are remembered while a text is read for its print alone.
const REMEMBERED_CELLS: usize = 24;
/// At most this many words are remembered, so that memory stays bounded.
const REMEMBERED_WORDS: usize = 1 << 16;

/// Braille to print: the print alone. A word that comes again in no mode is not read again.
pub fn read_print(cells: &[Cell], options: &ReadOptions) -> String {
    let mut out = Sink::new(false);
    out.print.reserve(cells.len() + cells.len() / 2);
    let mut seen: HashMap<&[Cell], Range<usize>> = HashMap::new();
    let mut kept = String::new();
    let (mut mode, mut at) = (Mode::default(), 0);
    while at < cells.len() {
        let end = run_end(cells, at);
        let run = &cells[at..end];
        // What a word says depends on the modes at its beginning; at the end of the text, a prefix may wait; with
        // marks, on the next word.
        let plain =
            mode == Mode::default() && !options.marks && end < cells.len() && run.len() <= REMEMBERED_CELLS;
        if plain && let Some(range) = seen.get(run) {
            out.print.push_str(&kept[range.clone()]);
        } else {
            let from = out.print.len();
            mode = read_run(run, at, options, &mut out, mode, &cells[end..]);
            if plain && mode == Mode::default() && seen.len() < REMEMBERED_WORDS {
                let start = kept.len();
                kept.push_str(&out.print[from..]);
                seen.insert(run, start..kept.len());
            }
        }
        at = end;
    }
    out.print
}

fn read_into(cells: &[Cell], options: &ReadOptions, out: &mut Sink) {
    let mut mode = Mode::default();
    let mut at = 0;
    while at < cells.len() {
        let end = run_end(cells, at);
        mode = read_run(&cells[at..end], at, options, out, mode, &cells[end..]);
        at = end;
    }
}

/// Where the run of blanks, or of cells with dots, that begins at `at` ends.
fn run_end(cells: &[Cell], at: usize) -> usize {
    let blank = cells[at].is_blank();
    cells[at..].iter().position(|c| c.is_blank() != blank).map_or(cells.len(), |k| at + k)
}

/// Reads one run whose first cell is number `base`; gives the modes after it.
fn read_run(
    cells: &[Cell],
    base: usize,
    options: &ReadOptions,
    out: &mut Sink,
    mode: Mode,
    rest: &[Cell],
) -> Mode {
    out.base = base;
    let t = tables();
    if cells.first().is_some_and(|c| c.is_blank()) {
        for k in 0..cells.len() {
            let print = match mode.number.filter(|_| k == 0) {
                Some(Gap::LineEnd) => "",
                Some(Gap::NumericSpace) => "\u{a0}",
                Some(Gap::Spaces) | None => " ",
            };
            out.put(k, k + 1, print, t.keys.space, "", Remark::None);
        }
        return mode;
    }
    Word::new(t, cells, options, out, mode, rest).read()
}

#[cfg(test)]
mod tests;
