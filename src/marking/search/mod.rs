//! The likeliest story of one region: which signs were written right, and what happened to the others.
//!
//! A story is a way through the signs asked for and the cells written, and each mistake on it has a price. Any
//! single mistake is cheaper than two together; among single mistakes the order of the kinds decides: indicators and
//! spacing, then other signs for the same letters, then shapes.

mod allowed;

use std::ops::Range;

use super::lines::Flat;
use super::regions::Region;
use super::shape::shapes;
use super::spelling::{self, Stand};
use super::{Expected, Kind};
use crate::cell::{self, Cell};
use crate::ueb::SignId;

/// What happened at one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Op {
    /// As asked for.
    Match,
    /// Otherwise, and as right: the number of the choice, or none for a dash's spacing or grade 1 (5.10, 7.2).
    Permitted,
    /// A form that is right or wrong by more than print shows; the section that says so.
    YourCall(&'static str),
    /// The sign of a single quotation mark for a double one, or the other way round.
    QuoteWrong,
    /// One cell of a sign, by its place in the sign, is another.
    Shape(u8),
    /// The sign's first cell, a prefix, is missing.
    PrefixLost,
    /// The sign's first cell is another prefix.
    PrefixWrong,
    /// An indicator or a terminator is missing.
    MarkMissing,
    /// An indicator or a terminator too many.
    MarkExtra(SignId),
    /// Another indicator or terminator.
    MarkWrong(SignId),
    /// An indicator that UEB dropped.
    MarkRetired,
    /// An indicator without one of its cells.
    MarkBroken,
    /// No blank cell.
    SpaceMissing,
    /// A blank cell too many.
    SpaceExtra,
    /// A sign left out; several in a row are one run.
    LeftOut,
    /// One cell of a sign left out, by its place in the sign.
    CellLeftOut(u8),
    /// A cell too many; several in a row are one run.
    Added,
    /// Other signs altogether; several in a row are one run.
    Replaced,
    /// Two neighbours in the wrong order.
    Swapped,
    /// Words left out.
    WordsLeftOut,
    /// Words too many.
    WordsAdded,
    /// Another word.
    WordReplaced,
    /// A whole word with every cell mirrored.
    WordMirrored,
    /// A sign of a spelling that is not the one asked for; several in a row are one run.
    Spelled(u16),
    /// The end of a run.
    Close,
}

/// One step of a story.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Move {
    /// What happened.
    pub op: Op,
    /// The signs asked for, by their index.
    pub units: Range<usize>,
    /// The written cells.
    pub written: Range<usize>,
}

const MARK: u32 = 100;
const SPACE: u32 = 100;
const CALL: u32 = 90;
const QUOTE: u32 = 95;
const SPELLED: u32 = 110;
const RETIRED: u32 = 8;
const PREFIX: u32 = 121;
const LEFT_OUT: u32 = 140;
const ADDED: u32 = 141;
const REPLACED: u32 = 150;
const AGAIN: u32 = 45;
const WORDS: u32 = 230;
const WORD_REPLACED: u32 = 300;
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
    let mut grid = Grid { expected, region, all: &flat.cells, written, nodes, slots, starts, best, bound: 0 };
    for bound in BOUNDS {
        grid.bound = bound;
        grid.fill();
        let story = grid.story();
        if !story.is_empty() {
            return story;
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
        node.checked_sub(1).and_then(|at| self.nodes[at].next).is_some_and(char::is_alphabetic)
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
            let alone = match entry.stand {
                Stand::Anywhere => true,
                Stand::Begin => !self.letter_before(node),
                Stand::Whole => {
                    !self.letter_before(node) && !self.nodes[end].next.is_some_and(char::is_alphabetic)
                }
            };
            // The very sign that is asked for is no other spelling.
            let same = here.starts && end == self.after(node) && {
                let unit = &self.expected.units[here.unit];
                self.expected.cells[unit.cells.clone()] == entry.cells[..]
            };
            if alone && !same {
                let more = 1 + if entry.sign.is_none() { RETIRED } else { 0 };
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
            let free = self.has_room(w, unit) || self.beside_dash(unit, unit);
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
                    _ if a.is_blank() || b.is_blank() => (REPLACED, Op::Shape(at as u8)),
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
            let retired = match cell::to_ascii(asked).as_str() {
                ".1" | ".2" if old(".") => Some(1),
                ".7" if old("..") => Some(2),
                _ => None,
            };
            if let Some(length) = retired {
                self.reach(from, cost + MARK + 4, (after, w + length, PLAIN), Op::MarkRetired);
            }
            let first = self.written.get(w).copied().unwrap_or_default();
            for other in spelling::marks(first) {
                if other.cells != asked && self.written[w..].starts_with(&other.cells) {
                    let to = (after, w + other.cells.len(), PLAIN);
                    self.reach(from, cost + MARK + 2, to, Op::MarkWrong(other.id));
                }
            }
        } else if space {
            let dash = self.beside_dash(number, number + 1);
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

    /// Whole words left out, added, or in another's place.
    fn words(&mut self, from: usize, cost: u32, node: usize, w: usize, number: usize) {
        if cost + WORDS > self.bound {
            return;
        }
        let end = self.region.units.end;
        let space = |at: usize| self.slots[at - self.region.units.start].space;
        // Behind a blank a word goes with the blank after it; before one, with that.
        let starts = number == self.region.units.start || space(number - 1);
        let begins = w == 0 || self.written[w - 1].is_blank();
        let mut left = Vec::new();
        // A sentence without its first word still begins with a capital: its indicator stays.
        let mark = |at: usize| self.slots[at - self.region.units.start].mark;
        let first = number > self.region.units.start
            && mark(number - 1)
            && (number - 1 == self.region.units.start || space(number - 2));
        if number < end && (starts || first || space(number)) {
            let mut at = number;
            while at < end {
                let from_blank = usize::from(space(number));
                let word = (at + from_blank..end).find(|&unit| space(unit)).unwrap_or(end);
                at = if from_blank == 1 { word } else { (word + 1).min(end) };
                left.push(at);
            }
        }
        let mut added = Vec::new();
        let blank = self.written.get(w).is_some_and(|cell| cell.is_blank());
        if w < self.written.len() && (begins || blank) {
            let mut at = w;
            while at < self.written.len() {
                let skip = usize::from(blank);
                let cells = &self.written[(at + skip).min(self.written.len())..];
                let word = cells
                    .iter()
                    .position(|cell| cell.is_blank())
                    .map_or(self.written.len(), |k| at + skip + k);
                at = if blank { word } else { (word + 1).min(self.written.len()) };
                added.push(at);
            }
        }
        if starts && begins && !blank && number < end && !space(number) && w < self.written.len() {
            let word = (number..end).find(|&unit| space(unit)).unwrap_or(end);
            let cells = &self.written[w..];
            let length = cells.iter().position(|cell| cell.is_blank()).unwrap_or(cells.len());
            let to = (self.starts[word - self.region.units.start], w + length, PLAIN);
            let asked = &self.expected.cells[self.expected.cells_of(&(number..word))];
            let mirrors = |mut cells: std::slice::Iter<Cell>| {
                length > 1
                    && length == asked.len()
                    && asked.iter().all(|cell| cells.next().map(|c| c.mirror()) == Some(*cell))
            };
            if asked != &cells[..length] && mirrors(cells[..length].iter()) {
                self.reach(from, cost + WORDS, to, Op::WordMirrored);
            }
            let more = (120 + 40 * (word - number) as u32).clamp(WORD_REPLACED, 2 * WORDS - 20);
            self.reach(from, cost + more, to, Op::WordReplaced);
        }
        for (more, to) in left.into_iter().enumerate() {
            let to = (self.starts[to - self.region.units.start], w, PLAIN);
            self.reach(from, cost + WORDS + 2 * more as u32, to, Op::WordsLeftOut);
        }
        for (more, to) in added.into_iter().enumerate() {
            self.reach(from, cost + WORDS + 2 * more as u32, (node, to, PLAIN), Op::WordsAdded);
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
