//! A reading that is kept up to date while cells are written and changed.

use std::ops::Range;

use super::sink::Sink;
use super::waiting::{self, Waiting};
use super::word::Mode;
use super::{read_run, run_end};
use crate::cell::Cell;
use crate::ueb::{Piece, ReadOptions, Reading, Remark};

/// One run of blanks or of cells with dots, read.
#[derive(Clone, Debug, PartialEq)]
struct Run {
    len: usize,
    blank: bool,
    before: Mode,
    after: Mode,
    print: String,
    /// Unicode scalar values in `print`.
    chars: usize,
    /// Pieces, counted from the run's first cell and first character.
    pieces: Vec<Piece>,
}

/// Runs are kept in blocks of about this many, so that a change in the middle of a long text moves few of them.
const BLOCK: usize = 64;

/// Some runs in a row.
#[derive(Clone, Debug, Default)]
struct Block {
    runs: Vec<Run>,
    /// The cells of all its runs.
    len: usize,
}

impl Block {
    fn of(runs: Vec<Run>) -> Block {
        let len = runs.iter().map(|run| run.len).sum();
        Block { runs, len }
    }
}

/// A run's place: its block, its place there, and its first cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Cursor {
    block: usize,
    run: usize,
    cell: usize,
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

impl ReadWord<'_> {
    /// Whether some of its cells have no meaning here.
    pub fn unknown(&self) -> bool {
        self.pieces.iter().any(|piece| piece.remark == Remark::Unknown)
    }
}

/// Cells and what they say; a change re-reads only the words that it can affect.
///
/// A text of several lines is one row of cells with a blank for each line end: modes go over it as the standard has
/// it (passages go on, the rest ends), and a line end that a line continuation indicator stands before gives no
/// print (6.10).
///
/// ```
/// use cellwright::{cell, ueb::{ReadOptions, back::LiveReading, register}};
/// let cells = |ascii| cell::from_ascii(ascii).unwrap();
/// let mut live = LiveReading::new(ReadOptions::default());
/// live.splice(0..0, &cells(",! f]ry"));
/// assert_eq!(live.print(), "The ferry");
/// // Written in the middle: what was read anew is told, here "2" and the blank after it.
/// assert_eq!(live.splice(3..3, &cells("#b ")), 3..6);
/// assert_eq!(live.print(), "The 2 ferry");
/// // Each word with its cells, as far as they touch these.
/// let words: Vec<_> = live.words_in(3..6).map(|word| (word.cells, word.print)).collect();
/// assert_eq!(words, [(3..5, "2"), (6..10, "ferry")]);
/// // A prefix before the caret waits for its root, also within the text.
/// live.splice(3..5, &cells("^"));
/// let waiting = live.waiting(4).unwrap();
/// assert_eq!(waiting.cells, 3..4);
/// assert!(waiting.could.iter().any(|&sign| register::get(sign).print == "upon"));
/// ```
#[derive(Clone, Debug)]
pub struct LiveReading {
    options: ReadOptions,
    cells: Vec<Cell>,
    /// None of them is empty.
    blocks: Vec<Block>,
}

impl LiveReading {
    /// An empty reading.
    pub fn new(options: ReadOptions) -> LiveReading {
        LiveReading { options, cells: Vec::new(), blocks: Vec::new() }
    }

    /// The cells.
    pub fn cells(&self) -> &[Cell] {
        &self.cells
    }

    /// How the cells are read.
    pub fn options(&self) -> &ReadOptions {
        &self.options
    }

    /// Reads the whole text anew in another way.
    pub fn read_as(&mut self, options: ReadOptions) {
        if options != self.options {
            let cells = std::mem::take(&mut self.cells);
            *self = LiveReading::new(options);
            self.splice(0..0, &cells);
        }
    }

    /// Puts `with` in the place of the cells in `range` (clamped to the cells there are) and re-reads what that can
    /// affect. Gives the cells, counted after the change, whose words were read anew and may say something else; it
    /// begins and ends where words or blanks do.
    pub fn splice(&mut self, range: Range<usize>, with: &[Cell]) -> Range<usize> {
        let old_len = self.cells.len();
        let from = range.start.min(old_len);
        let to = range.end.clamp(from, old_len);
        // The run that holds, or touches, the first cell changed; and the word before, which looks at how the next
        // one begins.
        let mut first = self.run_before(from);
        for _ in 0..2 {
            first = self.previous(first).unwrap_or(first);
        }
        let mut next = first;
        while let Some(run) = self.run(next).filter(|_| next.cell < to) {
            next = self.next(next, run.len);
        }
        self.cells.splice(from..to, with.iter().copied());
        let shifted = |old: usize| old + with.len() - (to - from);
        let mut mode =
            self.previous(first).and_then(|c| self.run(c)).map_or(Mode::default(), |run| run.after);
        let mut made = Vec::new();
        let mut at = first.cell;
        // Runs before the change that say what they said are no news.
        let (mut same, mut news) = (first, at);
        while at < self.cells.len() {
            while let Some(run) = self.run(next).filter(|_| shifted(next.cell) < at) {
                next = self.next(next, run.len);
            }
            // Modes and places agree again: the rest stands.
            let stands = |run: &Run| {
                next.cell >= to
                    && shifted(next.cell) == at
                    && run.before == mode
                    && run.blank != self.cells[at - 1].is_blank()
            };
            if at > 0 && self.run(next).is_some_and(stands) {
                break;
            }
            let end = run_end(&self.cells, at);
            let run = read_one(&self.cells[at..end], &self.options, mode, &self.cells[end..]);
            mode = run.after;
            if news == at && end <= from && self.run(same) == Some(&run) {
                same = self.next(same, run.len);
                news = end;
            }
            made.push(run);
            at = end;
        }
        if at >= self.cells.len() {
            next = Cursor { block: self.blocks.len(), run: 0, cell: old_len };
        }
        self.put(first, next, made);
        news..at
    }

    /// Puts runs in the place of those from `first` up to `next`.
    fn put(&mut self, first: Cursor, next: Cursor, made: Vec<Run>) {
        let Some(block) = self.blocks.get_mut(first.block) else {
            self.blocks.extend(into_blocks(made));
            return;
        };
        if next.block == first.block || next.block == first.block + 1 && next.run == 0 {
            let end = if next.block == first.block { next.run } else { block.runs.len() };
            block.len = (block.len + made.iter().map(|run| run.len).sum::<usize>())
                - block.runs[first.run..end].iter().map(|run| run.len).sum::<usize>();
            block.runs.splice(first.run..end, made);
            if (1..=2 * BLOCK).contains(&block.runs.len()) {
                return;
            }
            let runs = std::mem::take(&mut block.runs);
            self.blocks.splice(first.block..first.block + 1, into_blocks(runs));
            return;
        }
        let mut runs = std::mem::take(&mut block.runs);
        runs.truncate(first.run);
        runs.extend(made);
        let mut last = next.block;
        if let Some(block) = self.blocks.get_mut(next.block).filter(|_| next.run > 0) {
            runs.extend(block.runs.drain(next.run..));
            last += 1;
        }
        self.blocks.splice(first.block..last, into_blocks(runs));
    }

    fn run(&self, at: Cursor) -> Option<&Run> {
        self.blocks.get(at.block)?.runs.get(at.run)
    }

    /// The run after the one at `at`, which has `len` cells.
    fn next(&self, at: Cursor, len: usize) -> Cursor {
        let here = self.blocks.get(at.block).map_or(0, |block| block.runs.len());
        let over = at.run + 1 >= here;
        Cursor {
            block: at.block + usize::from(over),
            run: if over { 0 } else { at.run + 1 },
            cell: at.cell + len,
        }
    }

    fn previous(&self, at: Cursor) -> Option<Cursor> {
        let (block, run) = match at.run.checked_sub(1) {
            Some(run) => (at.block, run),
            None => {
                let block = at.block.checked_sub(1)?;
                (block, self.blocks[block].runs.len().checked_sub(1)?)
            }
        };
        Some(Cursor { block, run, cell: at.cell - self.blocks[block].runs[run].len })
    }

    /// The run whose cells hold the one before `cell`; the first at the beginning.
    fn run_before(&self, cell: usize) -> Cursor {
        // Blocks are counted from the nearer end.
        let mut at = Cursor { block: 0, run: 0, cell: 0 };
        if cell > self.cells.len() / 2 {
            at = Cursor { block: self.blocks.len(), run: 0, cell: self.cells.len() };
            while at.block > 0 && at.cell >= cell {
                at.block -= 1;
                at.cell -= self.blocks[at.block].len;
            }
        } else {
            while let Some(block) = self.blocks.get(at.block).filter(|block| at.cell + block.len < cell) {
                at.cell += block.len;
                at.block += 1;
            }
        }
        while let Some(run) = self.run(at).filter(|run| at.cell + run.len < cell) {
            at = self.next(at, run.len);
        }
        at
    }

    /// The words (runs of cells with dots), in order.
    pub fn words(&self) -> impl Iterator<Item = ReadWord<'_>> {
        self.words_in(0..self.cells.len())
    }

    /// The words that hold or touch cells of this range, in order, found without walking the text before.
    pub fn words_in(&self, range: Range<usize>) -> impl Iterator<Item = ReadWord<'_>> {
        let mut at = self.run_before(range.start);
        std::iter::from_fn(move || {
            while let Some(run) = self.run(at).filter(|_| at.cell <= range.end) {
                let cells = at.cell..at.cell + run.len;
                at = self.next(at, run.len);
                if !run.blank {
                    return Some(ReadWord { cells, print: &run.print, pieces: &run.pieces });
                }
            }
            None
        })
    }

    /// The word that holds the cell `at`, or ends before it; `None` among blanks.
    pub fn word_at(&self, at: usize) -> Option<ReadWord<'_>> {
        self.words_in(at..at).last()
    }

    /// The word written last.
    pub fn last_word(&self) -> Option<ReadWord<'_>> {
        let mut at = Cursor { block: self.blocks.len(), run: 0, cell: self.cells.len() };
        loop {
            at = self.previous(at)?;
            let run = self.run(at)?;
            if !run.blank {
                return Some(ReadWord {
                    cells: at.cell..at.cell + run.len,
                    print: &run.print,
                    pieces: &run.pieces,
                });
            }
        }
    }

    /// The prefix that ends before the cell `caret`, if one does, and what it could still become there.
    pub fn waiting(&self, caret: usize) -> Option<Waiting> {
        let caret = caret.min(self.cells.len());
        let at = self.run_before(caret);
        let run = self.run(at).filter(|run| !run.blank && at.cell < caret)?;
        let mut found = waiting::at_end(self.cells.get(at.cell..caret)?, &self.options, run.before)?;
        found.cells = found.cells.start + at.cell..found.cells.end + at.cell;
        Some(found)
    }

    /// The whole print.
    pub fn print(&self) -> String {
        self.runs().map(|run| run.print.as_str()).collect()
    }

    /// The print of the signs that begin within these cells: a line of a text of several.
    pub fn print_of(&self, range: Range<usize>) -> String {
        let mut at = self.run_before(range.start);
        let mut print = String::new();
        while let Some(run) = self.run(at).filter(|_| at.cell < range.end) {
            if range.start <= at.cell && at.cell + run.len <= range.end {
                print.push_str(&run.print);
            } else {
                // Marks of typeforms stand between pieces: each goes with the piece before it.
                let from = run.pieces.iter().find(|p| at.cell + p.cells.start >= range.start);
                let to = run.pieces.iter().find(|p| at.cell + p.cells.start >= range.end);
                let from = from.map_or(run.chars, |p| if p.cells.start == 0 { 0 } else { p.print.start });
                let to = to.map_or(run.chars, |p| p.print.start);
                print.extend(run.print.chars().skip(from).take(to.saturating_sub(from)));
            }
            at = self.next(at, run.len);
        }
        print
    }

    /// The whole reading, as [`super::read`] gives it.
    pub fn reading(&self) -> Reading {
        let (mut cells, mut chars) = (0, 0);
        let mut out = Reading { print: self.print(), pieces: Vec::new() };
        for run in self.runs() {
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

    fn runs(&self) -> impl Iterator<Item = &Run> {
        self.blocks.iter().flat_map(|block| &block.runs)
    }
}

/// Runs in blocks; more than a few are not kept in one.
fn into_blocks(runs: Vec<Run>) -> Vec<Block> {
    let mut blocks = Vec::with_capacity(runs.len().div_ceil(BLOCK));
    let mut runs = runs.into_iter();
    loop {
        let some: Vec<Run> = runs.by_ref().take(BLOCK).collect();
        if some.is_empty() {
            return blocks;
        }
        blocks.push(Block::of(some));
    }
}

fn read_one(cells: &[Cell], options: &ReadOptions, mode: Mode, rest: &[Cell]) -> Run {
    let mut out = Sink::new(true);
    let after = read_run(cells, 0, options, &mut out, mode, rest);
    Run {
        len: cells.len(),
        blank: cells.first().is_some_and(|c| c.is_blank()),
        before: mode,
        after,
        print: out.print,
        chars: out.chars,
        pieces: out.pieces.unwrap_or_default(),
    }
}
