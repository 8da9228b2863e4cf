//! The likeliest story of one region: which signs were written right, and what happened to the others.
//!
//! A story is a way through the signs asked for and the cells written, and each mistake on it has a price. Any
//! single mistake is cheaper than two together; among single mistakes the order of the kinds decides: indicators and
//! spacing, then other signs for the same letters, then shapes.

mod allowed;
mod story;
mod words;

use super::lines::Flat;
use super::regions::Region;
use super::shape::shapes;
use super::spelling::{self, Stand};
use super::{Expected, Kind};
use crate::cell::{self, Cell};
pub use story::{Move, Op};

const MARK: u32 = 100;
const SPACE: u32 = 100;
const CALL: u32 = 90;
const QUOTE: u32 = 95;
const SPELLED: u32 = 110;
const OLDER: u32 = 8;
/// A wordsign within a longer word: dearer than one letter left out, cheaper than two.
const WITHIN: u32 = 50;
const PREFIX: u32 = 121;
const LEFT_OUT: u32 = 140;
const ADDED: u32 = 141;
const REPLACED: u32 = 150;
/// A blank for a sign.
const BLANKED: u32 = 165;
const AGAIN: u32 = 45;
const NEVER: u32 = u32::MAX;
/// One mistake is looked for first, then two, then any number: most places have one.
const BOUNDS: [u32; 3] = [170, 330, NEVER - 1];

/// The states of a story between two steps: inside a run of one kind, or in none.
const SPELLING: usize = 0;
const LEAVING: usize = 1;
const ADDING: usize = 2;
const REPLACING: usize = 3;
const PLAIN: usize = 4;
const STATES: usize = 5;

/// A place in the signs asked for: before a sign, or (only for other spellings) inside its print.
#[derive(Clone, Copy)]
struct Node {
    unit: usize,
    starts: bool,
    /// The character of print from here to the next place.
    next: Option<char>,
}

/// What a sign of the region is.
#[derive(Clone, Copy)]
struct Slot {
    space: bool,
    mark: bool,
}

struct Grid<'a> {
    expected: &'a Expected,
    flat: &'a Flat,
    region: &'a Region,
    /// All cells written, and those of the region.
    all: &'a [Cell],
    written: &'a [Cell],
    nodes: Vec<Node>,
    slots: Vec<Slot>,
    /// The node before each sign of the region, and the one after the last.
    starts: Vec<usize>,
    best: Vec<(u32, u32, Op)>,
    /// Stories dearer than this are not followed.
    bound: u32,
}

/// A region of one side alone with as many signs or cells is pages, and not looked at word by word.
const PAGES: usize = 1000;

/// The likeliest story of a region.
pub fn search(expected: &Expected, flat: &Flat, region: &Region) -> Vec<Move> {
    let pages = match (region.units.len(), region.written.len()) {
        (PAGES.., 0) => Some(Op::WordsLeftOut),
        (0, PAGES..) => Some(Op::WordsAdded),
        _ => None,
    };
    if let Some(op) = pages {
        return vec![Move { op, units: region.units.clone(), written: region.written.clone() }];
    }
    let mut nodes = Vec::new();
    let mut starts = Vec::new();
    let mut slots = Vec::new();
    for unit in region.units.clone() {
        starts.push(nodes.len());
        let sign = &expected.units[unit];
        slots.push(Slot { space: sign.is_space(), mark: sign.is_mark() });
        let print = expected.print.get(sign.print.clone()).unwrap_or_default();
        if sign.is_space() || print.is_empty() {
            let next = sign.is_space().then_some(' ');
            nodes.push(Node { unit, starts: true, next });
        }
        for (at, &c) in print.iter().enumerate().filter(|_| !sign.is_space()) {
            nodes.push(Node { unit, starts: at == 0, next: Some(spelling::plain(c)) });
        }
    }
    starts.push(nodes.len());
    nodes.push(Node { unit: region.units.end, starts: true, next: None });
    let written = &flat.cells[region.written.clone()];
    let best = vec![(NEVER, 0, Op::Match); nodes.len() * (written.len() + 1) * STATES];
    let mut grid =
        Grid { expected, flat, region, all: &flat.cells, written, nodes, slots, starts, best, bound: 0 };
    for bound in BOUNDS {
        grid.bound = bound;
        grid.fill();
        let story = grid.story();
        if !story.is_empty() {
            return grid.other_words(story);
        }
    }
    Vec::new()
}

impl Grid<'_> {
    fn at(&self, node: usize, w: usize, state: usize) -> usize {
        (node * (self.written.len() + 1) + w) * STATES + state
    }

    fn reach(&mut self, from: usize, cost: u32, to: (usize, usize, usize), op: Op) {
        let to = self.at(to.0, to.1, to.2);
        // At the same price the later place wins: what is written twice is too many the second time.
        if cost <= self.bound && cost <= self.best[to].0 {
            self.best[to] = (cost, from as u32, op);
        }
    }

    fn fill(&mut self) {
        self.best.fill((NEVER, 0, Op::Match));
        let first = self.at(0, 0, PLAIN);
        self.best[first].0 = 0;
        for node in 0..self.nodes.len() {
            for w in 0..=self.written.len() {
                for state in 0..STATES {
                    let from = self.at(node, w, state);
                    let cost = self.best[from].0;
                    if cost == NEVER {
                        continue;
                    }
                    let starts = self.nodes[node].starts;
                    match state {
                        SPELLING => {
                            if starts {
                                self.reach(from, cost, (node, w, PLAIN), Op::Close);
                            }
                            self.spell(from, cost, node, w);
                        }
                        PLAIN => {
                            self.spell(from, cost + SPELLED, node, w);
                            self.plain(from, cost, node, w);
                        }
                        _ => {
                            self.reach(from, cost, (node, w, PLAIN), Op::Close);
                            self.run(from, cost, node, w, state);
                        }
                    }
                }
            }
        }
    }

    /// The node after the sign of a node.
    fn after(&self, node: usize) -> usize {
        self.starts[self.nodes[node].unit + 1 - self.region.units.start]
    }

    fn letter_before(&self, node: usize) -> bool {
        let before = match node.checked_sub(1) {
            Some(at) => self.nodes[at].next,
            // A region may begin within a long word.
            None => self
                .region
                .units
                .start
                .checked_sub(1)
                .and_then(|unit| self.expected.units.get(unit))
                .and_then(|unit| self.expected.print.get(unit.print.clone())?.last().copied()),
        };
        before.is_some_and(char::is_alphabetic)
    }

    /// Other signs for the same print.
    fn spell(&mut self, from: usize, cost: u32, node: usize, w: usize) {
        let Some(&cell) = self.written.get(w) else { return };
        let here = self.nodes[node];
        if here.next.is_none() {
            return;
        }
        for &number in spelling::beginning(cell) {
            let entry = spelling::entry(number);
            let end = node + entry.print.len();
            let fits = end < self.nodes.len()
                && self.written[w..].starts_with(&entry.cells)
                && entry.print.iter().zip(&self.nodes[node..end]).all(|(&c, at)| at.next == Some(c));
            if !fits {
                continue;
            }
            let whole =
                || !self.letter_before(node) && !self.nodes[end].next.is_some_and(char::is_alphabetic);
            let within = match entry.stand {
                Stand::Anywhere => false,
                Stand::Begin if self.letter_before(node) => continue,
                Stand::Begin => false,
                Stand::Whole => !whole(),
            };
            // Within a longer word a wordsign stands for letters that it may not stand for there; an older sign is none.
            if within && entry.sign.is_none() {
                continue;
            }
            // The very sign that is asked for is no other spelling.
            let same = here.starts && end == self.after(node) && {
                let unit = &self.expected.units[here.unit];
                self.expected.cells[unit.cells.clone()] == entry.cells[..]
            };
            if !same {
                let older = if entry.sign.is_none() { OLDER } else { 0 };
                let more = 1 + older + if within { WITHIN } else { 0 };
                let to = (end, w + entry.cells.len(), SPELLING);
                self.reach(from, cost + more, to, Op::Spelled(number));
            }
        }
    }

    /// One more step of a run.
    fn run(&mut self, from: usize, cost: u32, node: usize, w: usize, state: usize) {
        let unit = self.nodes[node].unit;
        let asked = self.slots.get(unit - self.region.units.start);
        let written = self.written.get(w).filter(|cell| !cell.is_blank());
        match state {
            LEAVING if asked.is_some_and(|slot| !slot.space) => {
                let to = self.after(node);
                self.reach(from, cost + AGAIN, (to, w, LEAVING), Op::LeftOut);
            }
            ADDING if written.is_some() => {
                self.reach(from, cost + AGAIN, (node, w + 1, ADDING), Op::Added);
            }
            REPLACING => self.replace(from, cost + AGAIN, node, w),
            _ => {}
        }
    }

    /// A step that sets signs and cells against each other that have nothing to do with each other.
    fn replace(&mut self, from: usize, cost: u32, node: usize, w: usize) {
        let unit = self.nodes[node].unit;
        // Indicators have kinds of their own.
        let root = |slot: &&Slot| !slot.space && !slot.mark;
        let asked = self.slots.get(unit - self.region.units.start).filter(root).map(|_| {
            let cells = &self.expected.units[unit].cells;
            (cells.len(), self.expected.cells[cells.start])
        });
        let written = self.written.get(w).copied().filter(|cell| !cell.is_blank());
        if let (Some((1, a)), Some(b)) = (asked, written) {
            // A cell with a cause of its own is better told by that.
            let more = if a == b || !shapes(a, b).is_empty() { 100 } else { 0 };
            let to = (self.after(node), w + 1, REPLACING);
            self.reach(from, cost + more, to, Op::Replaced);
        }
        if asked.is_some() {
            let to = (self.after(node), w, REPLACING);
            self.reach(from, cost, to, Op::Replaced);
        }
        if written.is_some() {
            self.reach(from, cost, (node, w + 1, REPLACING), Op::Replaced);
        }
    }

    /// All that can happen outside a run.
    fn plain(&mut self, from: usize, cost: u32, node: usize, w: usize) {
        let unit = self.nodes[node].unit;
        if unit < self.region.units.end {
            self.sign(from, cost, node, w, unit);
        }
        self.chosen(from, cost, w, unit);
        self.words(from, cost, node, w, unit);
        let Some(&cell) = self.written.get(w) else { return };
        let rest = &self.written[w..];
        for mark in spelling::marks(cell).iter().filter(|mark| rest.starts_with(&mark.cells)) {
            let to = (node, w + mark.cells.len(), PLAIN);
            match self.grade1_may_stand(node, w, &mark.cells) {
                true => self.reach(from, cost, to, Op::Permitted),
                false => self.reach(from, cost + MARK + 3, to, Op::MarkExtra(mark.id)),
            }
        }
        if cell.is_blank() {
            let at = self.region.written.start + w;
            let line_end = || self.flat.has_line_end(at..at + 1);
            let free = self.has_room(w, unit) || self.beside_dash(unit, unit, line_end());
            let (more, op) = if free { (0, Op::Permitted) } else { (SPACE, Op::SpaceExtra) };
            self.reach(from, cost + more, (node, w + 1, PLAIN), op);
        } else {
            self.reach(from, cost + ADDED, (node, w + 1, ADDING), Op::Added);
            self.replace(from, cost + REPLACED, node, w);
        }
    }

    /// Whether one more blank may stand before a sign: as many as print has spaces are no mistake.
    fn has_room(&self, w: usize, number: usize) -> bool {
        let before = number.checked_sub(1).and_then(|at| self.expected.units.get(at));
        let room = before.map_or(0, |unit| unit.blanks);
        let before = self.all[..self.region.written.start + w].iter().rev().take(room);
        before.take_while(|cell| cell.is_blank()).count() < room
    }

    /// What can happen to one sign.
    fn sign(&mut self, from: usize, cost: u32, node: usize, w: usize, number: usize) {
        let expected = self.expected;
        let unit = &expected.units[number];
        let asked = &expected.cells[unit.cells.clone()];
        let after = self.after(node);
        let rest = &self.written[w..];
        let Slot { mark, space } = self.slots[number - self.region.units.start];
        let prefixed = asked.len() > 1 && asked[0].is_prefix();
        if rest.starts_with(asked) {
            self.reach(from, cost, (after, w + asked.len(), PLAIN), Op::Match);
        } else if rest.len() >= asked.len() {
            let mut off = (0..asked.len()).filter(|&at| asked[at] != rest[at]);
            if let (Some(at), None) = (off.next(), off.next()) {
                let (a, b) = (asked[at], rest[at]);
                let (more, op) = match shapes(a, b).first() {
                    _ if a.is_blank() || b.is_blank() => (BLANKED, Op::Shape(at as u8)),
                    _ if at == 0 && prefixed && !mark && b.is_prefix() => (PREFIX, Op::PrefixWrong),
                    Some(Kind::Mirrored) => (130, Op::Shape(at as u8)),
                    Some(Kind::Shifted) => (131, Op::Shape(at as u8)),
                    Some(_) => (132, Op::Shape(at as u8)),
                    None => (140, Op::Shape(at as u8)),
                };
                self.reach(from, cost + more, (after, w + asked.len(), PLAIN), op);
            }
        }
        let rest = &self.written[w..];
        if asked.len() > 1 {
            for at in 0..asked.len() {
                let short = [&asked[..at], &asked[at + 1..]].concat();
                if rest.starts_with(&short) {
                    let (more, op) = match at {
                        _ if mark => (MARK + 5, Op::MarkBroken),
                        0 if prefixed => (PREFIX - 1, Op::PrefixLost),
                        _ => (LEFT_OUT + 2, Op::CellLeftOut(at as u8)),
                    };
                    self.reach(from, cost + more, (after, w + short.len(), PLAIN), op);
                }
            }
            if asked.len() == 2 && rest.starts_with(&[asked[1], asked[0]]) {
                self.reach(from, cost + LEFT_OUT + 3, (after, w + 2, PLAIN), Op::Swapped);
            }
        }
        if mark {
            self.reach(from, cost + MARK, (after, w, PLAIN), Op::MarkMissing);
            let old = |cells: &str| {
                cell::from_ascii(cells).is_some_and(|cells| self.written[w..].starts_with(&cells))
            };
            let older = match cell::to_ascii(asked).as_str() {
                ".1" | ".2" if old(".") => Some(1),
                ".7" if old("..") => Some(2),
                _ => None,
            };
            if let Some(length) = older {
                self.reach(from, cost + MARK + 4, (after, w + length, PLAIN), Op::MarkOlder);
            }
            let first = self.written.get(w).copied().unwrap_or_default();
            for other in spelling::marks(first) {
                if other.cells != asked && self.written[w..].starts_with(&other.cells) {
                    let to = (after, w + other.cells.len(), PLAIN);
                    self.reach(from, cost + MARK + 2, to, Op::MarkWrong(other.id));
                }
            }
        } else if space {
            let dash = self.beside_dash(number, number + 1, false);
            let (more, op) = if dash { (0, Op::Permitted) } else { (SPACE, Op::SpaceMissing) };
            self.reach(from, cost + more, (after, w, PLAIN), op);
        } else {
            self.reach(from, cost + LEFT_OUT, (after, w, LEAVING), Op::LeftOut);
            self.call(from, cost, node, w, number);
        }
        if number + 1 < self.region.units.end {
            let next = &expected.cells[expected.units[number + 1].cells.clone()];
            let rest = &self.written[w..];
            if asked != next && rest.starts_with(next) && rest[next.len()..].starts_with(asked) {
                let (to, length) = (self.after(after), asked.len() + next.len());
                self.reach(from, cost + LEFT_OUT + 3, (to, w + length, PLAIN), Op::Swapped);
            }
        }
    }

    /// The way back from the end.
    fn story(&self) -> Vec<Move> {
        let mut at = self.at(self.nodes.len() - 1, self.written.len(), PLAIN);
        let mut out = Vec::new();
        if self.best[at].0 == NEVER {
            return out;
        }
        let start = self.at(0, 0, PLAIN);
        let place = |at: usize| {
            let pair = at / STATES;
            (pair / (self.written.len() + 1), pair % (self.written.len() + 1))
        };
        while at != start {
            let (_, from, op) = self.best[at];
            let (to, from_place) = (place(at), place(from as usize));
            let (a, b) = (self.nodes[from_place.0].unit, self.nodes[to.0].unit);
            let inside = usize::from(!self.nodes[to.0].starts);
            out.push(Move {
                op,
                units: a..(b + inside).max(a),
                written: from_place.1 + self.region.written.start..to.1 + self.region.written.start,
            });
            at = from as usize;
        }
        out.reverse();
        out
    }
}
