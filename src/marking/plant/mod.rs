//! Mistakes on purpose, with their answer key. The same seed plants the same mistakes.
//!
//! Every mistake is marked before it is kept: it has to give one finding, of the kind that is meant, so what is planted
//! always changes the reading or breaks a rule and is never a form that is right as well.

mod offers;
mod own;

use std::ops::Range;

use super::{Expected, Kind, mark};
use crate::cell::Cell;
use offers::Offer;
pub use own::Own;

/// The kinds of mistakes that can be planted: all but the last, which is none.
pub const KINDS: &[Kind] = Kind::ALL.split_at(Kind::ALL.len() - 1).0;

/// One planted mistake.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Planted {
    /// Its kind.
    pub kind: Kind,
    /// The line, from 0.
    pub line: usize,
    /// Its cells in the changed line, half-open; empty where something was taken away.
    pub from: usize,
    /// The place after its last cell.
    pub to: usize,
    /// The cells that were right.
    pub expected: Vec<Cell>,
}

/// A small generator of numbers that look random (SplitMix64, common practice).
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, count: usize) -> usize {
        (self.next() % count.max(1) as u64) as usize
    }

    fn chance(&mut self, rate: f64) -> bool {
        (self.next() >> 11) as f64 / ((1u64 << 53) as f64) < rate
    }
}

/// The cells of all lines as one run, each with its line and its place there; a line end is a blank with none.
struct Run {
    cells: Vec<Cell>,
    at: Vec<Option<(usize, usize)>>,
}

fn run(lines: &[Vec<Cell>]) -> Run {
    let mut run = Run { cells: Vec::new(), at: Vec::new() };
    for (number, line) in lines.iter().enumerate() {
        if !run.cells.is_empty() && !run.cells[run.cells.len() - 1].is_blank() {
            run.cells.push(Cell::BLANK);
            run.at.push(None);
        }
        for (place, &cell) in line.iter().enumerate() {
            // Indents and runs of blanks count once, as in marking.
            if !cell.is_blank() || run.cells.last().is_some_and(|last| !last.is_blank()) {
                run.cells.push(cell);
                run.at.push(Some((number, place)));
            }
        }
    }
    while run.cells.last().is_some_and(|cell| cell.is_blank()) {
        run.cells.pop();
        run.at.pop();
    }
    run
}

/// A change to a line: the cells taken away, what comes in their place, and the kind of mistake it is.
struct Change {
    line: usize,
    cells: Range<usize>,
    by: Vec<Cell>,
    kind: Kind,
}

/// Plants mistakes of `kinds` (of all kinds when empty) in correct braille, about `rate` of them a cell.
pub fn plant(
    lines: &[Vec<Cell>],
    kinds: &[Kind],
    rate: f64,
    seed: u64,
    contracted: bool,
) -> (Vec<Vec<Cell>>, Vec<Planted>) {
    plant_as(lines, kinds, &Own::default(), rate, seed, contracted)
}

/// The same, most of them of a learner's own causes.
pub fn plant_as(
    lines: &[Vec<Cell>],
    kinds: &[Kind],
    own: &Own,
    rate: f64,
    seed: u64,
    contracted: bool,
) -> (Vec<Vec<Cell>>, Vec<Planted>) {
    let mut random = Random(seed);
    let run = run(lines);
    let asked = Expected::from_key(std::slice::from_ref(&run.cells), contracted);
    let mut changes = Vec::new();
    // Cells that read as nothing known are no right braille to begin with: nothing is planted there.
    if asked.cells == run.cells {
        let shares = own.shares(&asked, kinds, rate);
        let mut at = 0;
        while at < run.cells.len() {
            let first = shares.own > 0.0 && own.meets(&asked, at, kinds) && random.chance(shares.own);
            if let Some((change, end)) =
                first.then(|| change(&asked, &run, at, kinds, own, &mut random)).flatten()
            {
                changes.push(change);
                at = end + 1;
                continue;
            }
            if !random.chance(shares.other) {
                at += 1;
                continue;
            }
            // Of all kinds, few are about blanks: most fall to the sign behind.
            if kinds.is_empty() && run.cells[at].is_blank() && random.below(3) > 0 {
                at += 1;
            }
            match change(&asked, &run, at, kinds, &Own::default(), &mut random) {
                Some((change, end)) => {
                    changes.push(change);
                    // One clean cell at least keeps two mistakes apart.
                    at = end + 1;
                }
                None => at += 1,
            }
        }
    }
    apply(lines, changes)
}

/// A mistake at a cell, and the cell after it; nothing where none of the kinds can be made.
fn change(
    asked: &Expected,
    run: &Run,
    at: usize,
    kinds: &[Kind],
    own: &Own,
    random: &mut Random,
) -> Option<(Change, usize)> {
    let unit = asked.unit_at(at)?;
    let mut offers = offers::offers(asked, unit);
    offers.retain(|offer| kinds.is_empty() || kinds.contains(&offer.kind));
    if !own.is_empty() {
        offers.retain(|offer| own.is_own(asked, unit, offer));
    }
    while !offers.is_empty() {
        let total: usize = offers.iter().map(|offer| offer.weight).sum();
        let mut draw = random.below(total);
        let chosen = offers.iter().position(|offer| {
            let here = draw < offer.weight;
            draw = draw.saturating_sub(offer.weight);
            here
        });
        let offer = offers.swap_remove(chosen.unwrap_or(0));
        // All of it has to stand on one line.
        let touched = run.at.get(offer.cells.start..offer.cells.end.max(offer.cells.start + 1));
        let place = touched.and_then(|all| all.iter().copied().collect::<Option<Vec<_>>>());
        let Some(place) = place.filter(|all| all.iter().all(|one| one.0 == all[0].0)) else { continue };
        if is_one_mistake(asked, &offer) {
            let (line, from) = place[0];
            let cells = from..from + offer.cells.len();
            let end = offer.cells.end.max(offer.cells.start + 1);
            return Some((Change { line, cells, by: offer.by, kind: offer.kind }, end));
        }
    }
    None
}

/// Whether marking finds just this in the words around it.
fn is_one_mistake(asked: &Expected, offer: &Offer) -> bool {
    let words = |unit: usize, back: bool| {
        let mut blanks = 0;
        let mut at = unit;
        while if back { at > 0 } else { at < asked.units.len() } {
            let next = if back { at - 1 } else { at };
            blanks += usize::from(asked.units[next].is_space());
            if blanks > 2 {
                break;
            }
            at = if back { next } else { next + 1 };
        }
        at
    };
    let first = asked.unit_at(offer.cells.start).unwrap_or(0);
    let last = asked.unit_at(offer.cells.end.max(1) - 1).unwrap_or(0);
    let near = asked.part(words(first, true)..words(last + 1, false));
    let start = asked.cells_of(&(words(first, true)..words(first, true))).start;
    let mut written = near.cells.clone();
    written.splice(offer.cells.start - start..offer.cells.end - start, offer.by.iter().copied());
    let found = mark(&near, &[written]).findings;
    matches!(found.as_slice(), [one] if one.kind == offer.kind)
}

fn apply(lines: &[Vec<Cell>], changes: Vec<Change>) -> (Vec<Vec<Cell>>, Vec<Planted>) {
    let mut out = lines.to_vec();
    let mut key: Vec<Planted> = Vec::with_capacity(changes.len());
    for change in changes {
        let line = &lines[change.line];
        // What earlier changes of the line have moved.
        let moved = out[change.line].len() as isize - line.len() as isize;
        let from = change.cells.start.saturating_add_signed(moved);
        let expected = line[change.cells.clone()].to_vec();
        let to = from + change.by.len();
        out[change.line].splice(from..from + change.cells.len(), change.by);
        key.push(Planted { kind: change.kind, line: change.line, from, to, expected });
    }
    (out, key)
}
