//! A reading that is kept up to date while cells are written and changed.

use std::ops::Range;

use super::word::{Mode, Sink};
use super::{read_run, run_end};
use crate::cell::Cell;
use crate::ueb::{Piece, ReadOptions, Reading};

/// One run of blanks or of cells with dots, read.
#[derive(Clone, Debug, PartialEq)]
struct Run {
    len: usize,
    before: Mode,
    after: Mode,
    print: String,
    /// Unicode scalar values in `print`.
    chars: usize,
    /// Pieces, counted from the run's first cell and first character.
    pieces: Vec<Piece>,
}

/// One braille word of a live reading.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadWord<'a> {
    /// Its cells, half-open.
    pub cells: Range<usize>,
    /// What they say.
    pub print: &'a str,
    /// Its pieces, counted from the word's own first cell and first character.
    pub pieces: &'a [Piece],
}

/// Cells and what they say; a change re-reads only the words that it can affect.
///
/// ```
/// use cellwright::{cell, ueb::{ReadOptions, back::LiveReading}};
/// let mut live = LiveReading::new(ReadOptions::default());
/// live.splice(0..0, &cell::from_ascii(",! f]ry").unwrap());
/// assert_eq!(live.print(), "The ferry");
/// live.splice(3..3, &cell::from_ascii("#b ").unwrap());
/// assert_eq!(live.print(), "The 2 ferry");
/// ```
#[derive(Clone, Debug)]
pub struct LiveReading {
    options: ReadOptions,
    cells: Vec<Cell>,
    runs: Vec<Run>,
}

impl LiveReading {
    /// An empty reading.
    pub fn new(options: ReadOptions) -> LiveReading {
        LiveReading { options, cells: Vec::new(), runs: Vec::new() }
    }

    /// The cells.
    pub fn cells(&self) -> &[Cell] {
        &self.cells
    }

    /// Puts `with` in the place of the cells in `range` (clamped to the cells there are) and re-reads what that can
    /// affect.
    pub fn splice(&mut self, range: Range<usize>, with: &[Cell]) {
        let from = range.start.min(self.cells.len());
        let to = range.end.clamp(from, self.cells.len());
        // The runs to re-read: from the one that holds, or touches, the first cell changed. Counted from the end,
        // where cells are mostly written.
        let (mut first, mut start) = (self.runs.len(), self.cells.len());
        while first > 0 && start >= from {
            first -= 1;
            start -= self.runs[first].len;
        }
        // The word before looks at how the next one begins.
        for _ in 0..2.min(first) {
            first -= 1;
            start -= self.runs[first].len;
        }
        let (mut next, mut next_start) = (first, start);
        while next < self.runs.len() && next_start <= to {
            next_start += self.runs[next].len;
            next += 1;
        }
        let grown = with.len() as isize - (to - from) as isize;
        let old_len = self.cells.len();
        self.cells.splice(from..to, with.iter().copied());
        let shifted = |old: usize| (old as isize + grown) as usize;
        let mut mode = if first == 0 { Mode::default() } else { self.runs[first - 1].after };
        let mut made = Vec::new();
        let mut at = start;
        while at < self.cells.len() {
            // State and alignment agree again: the rest stands.
            while next < self.runs.len() && shifted(next_start) < at {
                next_start += self.runs[next].len;
                next += 1;
            }
            if next < self.runs.len()
                && next_start >= to
                && shifted(next_start) == at
                && self.runs[next].before == mode
                && next_start < old_len
                && self.cells[at].is_blank() != self.cells[at.saturating_sub(1)].is_blank()
            {
                break;
            }
            let end = run_end(&self.cells, at);
            let run = read_one(&self.cells[at..end], &self.options, mode, &self.cells[end..]);
            mode = run.after;
            made.push(run);
            at = end;
        }
        if at >= self.cells.len() {
            next = self.runs.len();
        }
        self.runs.splice(first..next, made);
    }

    /// The words (runs of cells with dots), in order.
    pub fn words(&self) -> impl Iterator<Item = ReadWord<'_>> {
        let mut at = 0;
        self.runs.iter().filter_map(move |run| {
            let cells = at..at + run.len;
            at = cells.end;
            let dots = self.cells.get(cells.start).is_some_and(|c| !c.is_blank());
            dots.then_some(ReadWord { cells, print: &run.print, pieces: &run.pieces })
        })
    }

    /// The word written last, found without walking the text.
    pub fn last_word(&self) -> Option<ReadWord<'_>> {
        let mut end = self.cells.len();
        for run in self.runs.iter().rev() {
            let cells = end - run.len..end;
            if self.cells.get(cells.start).is_some_and(|c| !c.is_blank()) {
                return Some(ReadWord { cells, print: &run.print, pieces: &run.pieces });
            }
            end = cells.start;
        }
        None
    }

    /// The whole print.
    pub fn print(&self) -> String {
        self.runs.iter().map(|run| run.print.as_str()).collect()
    }

    /// The whole reading, as [`super::read`] gives it.
    pub fn reading(&self) -> Reading {
        let (mut cells, mut chars) = (0, 0);
        let mut out = Reading { print: self.print(), pieces: Vec::new() };
        for run in &self.runs {
            out.pieces.extend(run.pieces.iter().map(|p| Piece {
                cells: p.cells.start + cells..p.cells.end + cells,
                print: p.print.start + chars..p.print.end + chars,
                ..p.clone()
            }));
            cells += run.len;
            chars += run.chars;
        }
        out
    }
}

fn read_one(cells: &[Cell], options: &ReadOptions, mode: Mode, rest: &[Cell]) -> Run {
    let mut out = Sink::new(true);
    let after = read_run(cells, 0, options, &mut out, mode, rest);
    Run {
        len: cells.len(),
        before: mode,
        after,
        print: out.print,
        chars: out.chars,
        pieces: out.pieces.unwrap_or_default(),
    }
}
