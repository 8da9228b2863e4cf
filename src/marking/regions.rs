//! Where the written cells differ: words around each difference, so that the search for causes stays small.

use std::ops::Range;

use super::Expected;
use super::align::Step;
use super::lines::Flat;

/// A stretch with differences, from one word's beginning to another's end on both sides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Region {
    /// The signs asked for, by their index.
    pub units: Range<usize>,
    /// The written cells.
    pub written: Range<usize>,
}

/// Cells on each side over which neighbouring differences are looked at together. With the search's steps for each
/// pair of cells this bounds the time spent on two texts that have nothing in common.
const TOGETHER: usize = 120;

/// Expected cells times written cells in one difference: a page left out is one difference, two texts of a page each
/// that have nothing in common are many.
const AREA: usize = 30_000;

/// A difference by cells: expected and written.
#[derive(Clone, Debug)]
struct Hunk {
    asked: Range<usize>,
    written: Range<usize>,
}

impl Hunk {
    fn small(&self) -> bool {
        (self.asked.len() + 1) * (self.written.len() + 1) < AREA
    }
}

/// The regions of an alignment, in order; no two share a cell.
pub fn regions(expected: &Expected, flat: &Flat, steps: &[Step]) -> Vec<Region> {
    let mut wide: Vec<Hunk> = Vec::new();
    let hunks = hunks(expected, flat, steps);
    let ends = (expected.cells.len(), flat.cells.len());
    let mut before = (0, 0);
    for (at, hunk) in hunks.iter().enumerate() {
        let next = hunks.get(at + 1).map_or(ends, |next| (next.asked.start, next.written.start));
        let mut own = widened(expected, hunk, before, next);
        if let Some(last) = wide.last_mut()
            && (own.asked.start <= last.asked.end || own.written.start <= last.written.end)
        {
            let long = (own.asked.end - last.asked.start).max(own.written.end - last.written.start);
            if long <= TOGETHER {
                // Two differences that share a word, or meet, are looked at together.
                last.asked.end = own.asked.end;
                last.written.end = own.written.end;
                before = (hunk.asked.end, hunk.written.end);
                continue;
            }
            // Too much at once: cut between two signs in the equal cells between, where there is such a place.
            let equal = hunk.asked.start - before.0;
            let step = (0..=equal).find(|step| starts_unit(expected, before.0 + step)).unwrap_or(0);
            (last.asked.end, last.written.end) = (before.0 + step, before.1 + step);
            (own.asked.start, own.written.start) = (before.0 + step, before.1 + step);
        }
        before = (hunk.asked.end, hunk.written.end);
        wide.push(own);
    }
    let mut after = 0;
    wide.into_iter()
        .map(|own| {
            let from = expected.units.partition_point(|unit| unit.cells.end <= own.asked.start).max(after);
            let to = expected.units.partition_point(|unit| unit.cells.start < own.asked.end).max(from);
            after = to;
            Region { units: from..to, written: own.written }
        })
        .collect()
}

fn starts_unit(expected: &Expected, cell: usize) -> bool {
    let at = expected.units.partition_point(|unit| unit.cells.start < cell);
    expected.units.get(at).is_none_or(|unit| unit.cells.start == cell)
}

fn hunks(expected: &Expected, flat: &Flat, steps: &[Step]) -> Vec<Hunk> {
    let mut out: Vec<Hunk> = Vec::new();
    let (mut i, mut j) = (0, 0);
    let mut open = false;
    for step in steps {
        let same = step.expected.zip(step.written).is_some_and(|(a, w)| expected.cells[a] == flat.cells[w]);
        let (ni, nj) = (i + usize::from(step.expected.is_some()), j + usize::from(step.written.is_some()));
        if same {
            open = false;
        } else if let Some(last) = out.last_mut().filter(|last| open && last.small()) {
            last.asked.end = ni;
            last.written.end = nj;
        } else {
            out.push(Hunk { asked: i..ni, written: j..nj });
            open = true;
        }
        (i, j) = (ni, nj);
    }
    out
}

/// The difference with the equal cells around it, to the beginning and the end of the words it lies in.
fn widened(expected: &Expected, hunk: &Hunk, before: (usize, usize), next: (usize, usize)) -> Hunk {
    let room = (hunk.asked.start - before.0).min(hunk.written.start - before.1);
    let blank = |at: usize| expected.cells[at].is_blank();
    let mut left = 0;
    while left < room && !blank(hunk.asked.start - left - 1) {
        left += 1;
    }
    let room = (next.0 - hunk.asked.end).min(next.1 - hunk.written.end);
    let mut right = 0;
    while right < room && !blank(hunk.asked.end + right) {
        right += 1;
    }
    Hunk {
        asked: hunk.asked.start - left..hunk.asked.end + right,
        written: hunk.written.start - left..hunk.written.end + right,
    }
}
