//! Braille to print: what cells say, sign by sign, and live while they are written.
//!
//! Cells are read a braille word at a time (a run without blanks). Only the passages that are open go over a blank
//! (5.4, 6.9, 8.5, 9.4), so that a word's reading depends on nothing but its cells and those.

mod alone;
mod indicators;
mod letters;
mod live;
mod memory;
mod number;
mod older;
mod places;
mod scripts;
mod sink;
mod symbols;
mod tables;
mod technical;
mod typeforms;
mod waiting;
mod word;

pub(crate) use alone::shortforms_in;
pub use live::{LiveReading, ReadWord};
pub use older::older_signs;
pub use waiting::{Waiting, could_become};

use crate::cell::Cell;
use crate::ueb::{ReadOptions, Reading, Remark};
use memory::Memory;
use sink::Sink;
use tables::tables;
use word::{Gap, Mode, Word};

/// Braille to print, with the meaning of each sign.
pub fn read(cells: &[Cell], options: &ReadOptions) -> Reading {
    let mut out = Sink::new(true);
    if let Some(pieces) = &mut out.pieces {
        pieces.reserve(cells.len() * 3 / 4);
    }
    read_into(cells, options, &mut out);
    Reading { print: out.print, pieces: out.pieces.unwrap_or_default() }
}

/// Braille to print: the print alone.
pub fn read_print(cells: &[Cell], options: &ReadOptions) -> String {
    let mut out = Sink::new(false);
    read_into(cells, options, &mut out);
    out.print
}

fn read_into(cells: &[Cell], options: &ReadOptions, out: &mut Sink) {
    out.print.reserve(cells.len() + cells.len() / 2);
    if let Some(pieces) = &mut out.pieces {
        pieces.reserve(cells.len());
    }
    let mut memory = Memory::new(cells.len());
    let mut mode = Mode::default();
    let mut at = 0;
    while at < cells.len() {
        out.base = at;
        if cells[at].is_blank() {
            let end = run_end(cells, at);
            read_blanks(end - at, out, mode);
            at = end;
            continue;
        }
        let (end, key) = memory::run(cells, at);
        // With marks, a word's print depends on the next word.
        let key = key.filter(|_| mode == Mode::default() && !options.marks);
        if !key.is_some_and(|key| memory.say(key, out)) {
            let before = (out.print.len(), out.chars, out.pieces.as_ref().map_or(0, Vec::len));
            mode = Word::new(tables(), &cells[at..end], options, out, mode, &cells[end..]).read();
            if let Some(key) = key.filter(|_| mode == Mode::default()) {
                memory.keep(key, out, before.0, before.1, before.2);
            }
        }
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
    if cells.first().is_some_and(|c| c.is_blank()) {
        read_blanks(cells.len(), out, mode);
        return mode;
    }
    Word::new(tables(), cells, options, out, mode, rest).read()
}

/// Reads blanks; the first of them may stand for another gap within a number.
fn read_blanks(count: usize, out: &mut Sink, mode: Mode) {
    let space = tables().keys.space;
    for k in 0..count {
        let print = match mode.number.filter(|_| k == 0) {
            Some(Gap::LineEnd) => "",
            Some(Gap::NumericSpace) => "\u{a0}",
            Some(Gap::Spaces) | None => " ",
        };
        out.put(k, k + 1, print, space, "", Remark::None);
    }
}

#[cfg(test)]
mod tests;
