//! Where the written cells differ: words around each difference, so that the search for causes stays small.

use std::ops::Range;

use super::Expected;
use super::align::Hunk;

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

/// Equal cells on each side that are looked at with a difference: more than any word of the language has, so that an
/// endless word costs no more than its length.
const AROUND: usize = 60;

/// The regions around some differences, in order; no two share a cell. `length` is how many cells were written.
pub fn regions(expected: &Expected, length: usize, hunks: &[Hunk]) -> Vec<Region> {
    let mut wide: Vec<Hunk> = Vec::new();
    let ends = (expected.cells.len(), length);
    let mut before = (0, 0);
    for (at, hunk) in hunks.iter().enumerate() {
        let next = hunks.get(at + 1).map_or(ends, |next| (next.asked.start, next.written.start));
        if hunk.is_pages() {
            // Their words are not looked at, nor those beside them.
            before = (hunk.asked.end, hunk.written.end);
            wide.push(hunk.clone());
            continue;
        }
        let mut own = widened(expected, hunk, before, next);
        if let Some(last) = wide.last_mut()
            && (own.asked.start <= last.asked.end
                || own.written.start <= last.written.end
                || one_choice(expected, last, &own))
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

/// Whether a choice reaches over both differences, so that they may be one other way of writing.
fn one_choice(expected: &Expected, last: &Hunk, own: &Hunk) -> bool {
    let after = expected.choices.partition_point(|choice| choice.cells.start < last.asked.end);
    let choice = after.checked_sub(1).map(|at| &expected.choices[at]);
    choice.is_some_and(|choice| choice.cells.end > own.asked.start)
}

fn starts_unit(expected: &Expected, cell: usize) -> bool {
    let at = expected.units.partition_point(|unit| unit.cells.start < cell);
    expected.units.get(at).is_none_or(|unit| unit.cells.start == cell)
}

/// The difference with the equal cells around it, to the beginning and the end of the words it lies in, or as far as
/// can matter.
fn widened(expected: &Expected, hunk: &Hunk, before: (usize, usize), next: (usize, usize)) -> Hunk {
    let room = (hunk.asked.start - before.0).min(hunk.written.start - before.1);
    let blank = |at: usize| expected.cells[at].is_blank();
    let mut left = 0;
    while left < room
        && !blank(hunk.asked.start - left - 1)
        && (left < AROUND || !starts_unit(expected, hunk.asked.start - left))
    {
        left += 1;
    }
    let room = (next.0 - hunk.asked.end).min(next.1 - hunk.written.end);
    let mut right = 0;
    while right < room
        && !blank(hunk.asked.end + right)
        && (right < AROUND || !starts_unit(expected, hunk.asked.end + right))
    {
        right += 1;
    }
    Hunk {
        asked: hunk.asked.start - left..hunk.asked.end + right,
        written: hunk.written.start - left..hunk.written.end + right,
    }
}
