//! Written lines as running cells, each with its place on the page.

use std::collections::HashSet;
use std::ops::Range;

use super::divided::{self, Break};
use super::{Expected, Place};
use crate::cell::Cell;

/// The hyphen, dots 3-6 (7.2).
pub(super) const HYPHEN: Cell = match Cell::from_ascii('-') {
    Some(cell) => cell,
    None => Cell::BLANK,
};

/// Written lines as one run of cells: blanks at the ends of lines are dropped, and a line end is one blank.
#[derive(Clone, Debug, Default)]
pub struct Flat {
    /// The cells.
    pub cells: Vec<Cell>,
    /// Where they stand, run by run, in order.
    runs: Vec<Run>,
    /// The words that are divided at a line's end.
    pub(super) breaks: Vec<Break>,
}

/// Cells that stand one after another on a line, up to the next run.
#[derive(Clone, Copy, Debug)]
struct Run {
    /// The first one, in [`Flat::cells`].
    from: usize,
    line: usize,
    /// Its place in the line.
    place: usize,
    /// Whether the cell is the blank that a line end stands for.
    line_end: bool,
}

/// What stands at a line's end where a word or a number is divided: the hyphen, and the line continuation indicator,
/// dot 5 (6.10).
const DIVIDING: [Cell; 2] = [
    HYPHEN,
    match Cell::from_ascii('"') {
        Some(cell) => cell,
        None => Cell::BLANK,
    },
];

/// The cells of a line without the blanks around them.
fn inner(line: &[Cell]) -> Option<Range<usize>> {
    let first = line.iter().position(|cell| !cell.is_blank())?;
    let last = line.iter().rposition(|cell| !cell.is_blank())?;
    Some(first..last + 1)
}

/// The words asked for, to tell a hyphen of print from one that divides a word.
struct Words<'a> {
    whole: HashSet<&'a [Cell]>,
    /// The words with hyphens up to each hyphen, and from behind it.
    heads: HashSet<&'a [Cell]>,
    tails: HashSet<&'a [Cell]>,
    divided: divided::Words,
}

impl<'a> Words<'a> {
    fn new(expected: &'a Expected) -> Words<'a> {
        let whole: HashSet<&[Cell]> = expected.cells.split(|cell| cell.is_blank()).collect();
        let (mut heads, mut tails) = (HashSet::new(), HashSet::new());
        for word in &whole {
            for at in (1..word.len()).filter(|&at| word[at] == HYPHEN) {
                heads.insert(&word[..=at]);
                tails.insert(&word[at + 1..]);
            }
        }
        Words { whole, heads, tails, divided: divided::Words::new(expected) }
    }

    /// Whether the hyphen between the two is one of print.
    fn hyphened(&self, head: &[Cell], tail: &[Cell]) -> bool {
        let joined = [&head[..head.len() - 1], tail].concat();
        !self.whole.contains(joined.as_slice()) && (self.heads.contains(head) || self.tails.contains(tail))
    }
}

impl Flat {
    /// Lines as a run. A hyphen that only divides a word at a line end (section 10.13) is not marked, so it is
    /// left out together with its line end; the word is asked for to see which hyphens those are.
    pub fn new<L: AsRef<[Cell]>>(lines: &[L], expected: &Expected) -> Flat {
        let lines: Vec<&[Cell]> = lines.iter().map(AsRef::as_ref).collect();
        Flat::of(&lines, expected)
    }

    /// One line, as it stands.
    pub(super) fn line(cells: &[Cell]) -> Flat {
        let mut flat = Flat::default();
        flat.put(cells, 0, 0, false);
        flat
    }

    fn of(lines: &[&[Cell]], expected: &Expected) -> Flat {
        let mut flat = Flat::default();
        flat.cells.reserve(lines.iter().map(|line| line.len() + 1).sum());
        let hyphens =
            lines.iter().any(|line| inner(line).is_some_and(|own| DIVIDING.contains(&line[own.end - 1])));
        let words = hyphens.then(|| Words::new(expected));
        let full: Vec<(usize, Range<usize>)> =
            lines.iter().enumerate().filter_map(|(number, line)| Some((number, inner(line)?))).collect();
        // Where the first word of a line ends that was divided and is already there.
        let mut skip = 0;
        let mut joined = true;
        for (at, (number, own)) in full.iter().enumerate() {
            let line = lines[*number];
            if !joined {
                let (line, place) = flat.end();
                flat.put(&[Cell::BLANK], line, place, true);
            }
            let from = skip.max(own.start);
            (joined, skip) = (false, 0);
            let mut to = own.end;
            let next = full.get(at + 1);
            let hyphen = DIVIDING.contains(&line[own.end - 1]) && own.len() > 1 && from + 1 < own.end;
            let divided = words.as_ref().zip(next).filter(|_| hyphen);
            if let Some((words, (other, after))) = divided {
                let start = line[..own.end].iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
                let rest = &lines[*other][after.clone()];
                let length = rest.iter().position(|cell| cell.is_blank()).unwrap_or(rest.len());
                let (head, tail) = (&line[start.max(from)..own.end], &rest[..length]);
                joined = !words.whole.contains(head);
                let found = if joined { words.divided.divided(head, tail) } else { None };
                if let Some(found) = found {
                    // The word as it is asked for stands in its place: how it is divided is judged by itself.
                    flat.put(line.get(from..start).unwrap_or_default(), *number, from, false);
                    let whole = flat.cells.len();
                    let first = (head.len() - 1).min(found.cells.len());
                    let begin = start.max(from);
                    flat.put(&found.cells[..first], *number, begin, false);
                    for (k, cell) in found.cells[first..].iter().enumerate() {
                        let place = after.start + k.min(length.saturating_sub(1));
                        flat.put(std::slice::from_ref(cell), *other, place, false);
                    }
                    skip = after.start + length;
                    let head = Place { line: *number, from: begin, to: own.end };
                    let tail = Place { line: *other, from: after.start, to: skip };
                    flat.breaks.push(found.placed(head, tail, whole));
                    continue;
                }
                if joined && !words.hyphened(head, tail) {
                    let plain = [&head[..head.len() - 1], tail].concat();
                    // Dot 5 at a line's end divides numbers only.
                    joined = line[own.end - 1] == HYPHEN || words.whole.contains(plain.as_slice());
                    to = own.end - usize::from(joined);
                }
            }
            flat.put(line.get(from..to).unwrap_or_default(), *number, from, false);
        }
        flat
    }

    /// Puts cells behind the others that stand on a line from a place on.
    fn put(&mut self, cells: &[Cell], line: usize, place: usize, line_end: bool) {
        let goes_on =
            |last: &Run| !line_end && !last.line_end && last.line == line && self.end() == (line, place);
        if !cells.is_empty() && !self.runs.last().is_some_and(goes_on) {
            self.runs.push(Run { from: self.cells.len(), line, place, line_end });
        }
        self.cells.extend_from_slice(cells);
    }

    /// The line of the last cell, and the place behind it.
    fn end(&self) -> (usize, usize) {
        self.runs.last().map_or((0, 0), |run| (run.line, run.place + self.cells.len() - run.from))
    }

    /// The number of the run that holds a cell.
    fn run(&self, cell: usize) -> usize {
        self.runs.partition_point(|run| run.from <= cell).saturating_sub(1)
    }

    /// Whether a line ends within these cells.
    pub fn has_line_end(&self, cells: Range<usize>) -> bool {
        let runs = self.runs.get(self.run(cells.start)..).unwrap_or_default();
        runs.iter().take_while(|run| run.from < cells.end).any(|run| run.line_end && run.from >= cells.start)
    }

    /// The place of a run of cells; a run over several lines is cut at the end of its first.
    pub fn place(&self, from: usize, to: usize) -> Place {
        if from >= self.cells.len() {
            let (line, end) = self.end();
            return Place { line, from: end, to: end };
        }
        let first = self.run(from);
        let Run { line, place, .. } = self.runs[first];
        let start = place + from - self.runs[first].from;
        // The blank that a line end stands for is no cell of the line.
        let mut end = start;
        for (at, run) in self.runs.iter().enumerate().skip(first) {
            if run.from >= to || run.line != line || run.line_end {
                break;
            }
            let behind = self.runs.get(at + 1).map_or(self.cells.len(), |next| next.from);
            end = run.place + behind.min(to) - run.from;
        }
        Place { line, from: start, to: end }
    }
}
