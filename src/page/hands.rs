//! The hands on the keys: chords, one key at a time, or one hand, as the learner has set it (all from `crate::keys`).

use serde::{Deserialize, Serialize};

use crate::cell::Cell;
use crate::keys::{Chords, Dots, Halves, Key, Stroke};

/// How cells are entered.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Entry {
    /// Six keys at once.
    #[default]
    Chords,
    /// One key at a time: dots go in and out, a commit key writes.
    OneKey,
    /// One hand: two half chords a cell.
    OneHand,
}

/// The keys that are down, and what was put together so far.
#[derive(Debug, Default)]
pub struct Hands {
    entry: Entry,
    at_first_lift: bool,
    chords: Chords,
    dots: Dots,
    halves: Halves,
}

fn alone(cell: Cell) -> Stroke {
    Stroke { cell, keys: Vec::new() }
}

impl Hands {
    /// Takes on the learner's way of entering; a change forgets what was begun.
    pub fn set(&mut self, entry: Entry, at_first_lift: bool) {
        if (entry, at_first_lift) != (self.entry, self.at_first_lift) {
            self.entry = entry;
            self.at_first_lift = at_first_lift;
            self.forget();
        }
    }

    /// A key goes down. Gives the strokes that this writes, and whether the key has still to do its own work (a new
    /// line, erasing).
    pub fn press(&mut self, code: &str, key: Key, time: f64) -> (Vec<Stroke>, bool) {
        match (self.entry, key) {
            (Entry::OneKey, Key::Erase) if self.dots.lit() != 0 => {
                self.dots.press(key);
                (Vec::new(), false)
            }
            (Entry::OneKey, _) => {
                let written = self.dots.press(key).into_iter().map(alone).collect();
                (written, matches!(key, Key::NewLine | Key::Erase))
            }
            (Entry::OneHand, Key::Erase) if self.halves.forget() => (Vec::new(), false),
            (Entry::OneHand, Key::Commit) => (self.halves.half(0).map(alone).into_iter().collect(), false),
            (_, Key::NewLine | Key::Erase) => (Vec::new(), true),
            (_, Key::Commit) => (Vec::new(), false),
            (entry, _) => {
                let Some(bits) = key.bits() else { return (Vec::new(), false) };
                let stroke = self.chords.press(code, bits, time);
                (stroke.and_then(|stroke| self.finish(entry, stroke)).into_iter().collect(), false)
            }
        }
    }

    /// A key goes up. Gives the stroke that this writes.
    pub fn lift(&mut self, code: &str, time: f64) -> Option<Stroke> {
        let stroke = self.chords.lift(code, time)?;
        self.finish(self.entry, stroke)
    }

    /// In one-hand entry a chord is half a cell; the blank's key is a blank, or an empty half after a first half.
    fn finish(&mut self, entry: Entry, stroke: Stroke) -> Option<Stroke> {
        if entry != Entry::OneHand || (stroke.cell.is_blank() && self.halves.waiting().is_none()) {
            return Some(stroke);
        }
        self.halves.half(stroke.cell.bits()).map(|cell| Stroke { cell, ..stroke })
    }

    /// Forgets what was begun: nothing is written and no key stays stuck.
    pub fn forget(&mut self) {
        self.chords = Chords::new(self.at_first_lift);
        self.dots = Dots::default();
        self.halves = Halves::default();
    }

    /// The dots to light on the screen's keys.
    pub fn lit(&self) -> u8 {
        match self.entry {
            Entry::Chords => self.chords.lit(),
            Entry::OneKey => self.dots.lit(),
            Entry::OneHand => self.chords.lit() | self.halves.waiting().unwrap_or(0),
        }
    }
}
