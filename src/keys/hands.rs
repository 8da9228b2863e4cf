//! The hands on the keys: chords, one key at a time, or one hand, as the learner has set it.

use super::{Chords, Dots, Halves, Key, Stroke};
use crate::cell::Cell;

/// How cells are entered.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
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

#[cfg(test)]
mod tests {
    use super::*;

    fn play(hands: &mut Hands, keys: &[(&str, Key, bool)]) -> Vec<String> {
        let mut written = Vec::new();
        for (code, key, down) in keys {
            if *down {
                written.extend(hands.press(code, *key, 0.0).0);
            } else {
                written.extend(hands.lift(code, 0.0));
            }
        }
        written.iter().map(|stroke| stroke.cell.dot_numbers()).collect()
    }

    const F: (&str, Key) = ("KeyF", Key::Dot(1));
    const K: (&str, Key) = ("KeyK", Key::Dot(5));
    const SPACE: (&str, Key) = ("Space", Key::Blank);
    const N: (&str, Key) = ("KeyN", Key::Commit);

    fn down(key: (&'static str, Key)) -> (&'static str, Key, bool) {
        (key.0, key.1, true)
    }

    fn up(key: (&'static str, Key)) -> (&'static str, Key, bool) {
        (key.0, key.1, false)
    }

    #[test]
    fn the_same_keys_in_three_ways() {
        let keys = [down(F), up(F), down(K), up(K), down(N), up(N), down(SPACE), up(SPACE)];
        let mut hands = Hands::default();
        assert_eq!(play(&mut hands, &keys), ["1", "5", "blank"]);
        hands.set(Entry::OneKey, false);
        assert_eq!(play(&mut hands, &keys), ["1-5", "blank"]);
        // With one hand, the second half comes from the same keys or from the other hand's.
        hands.set(Entry::OneHand, false);
        assert_eq!(play(&mut hands, &keys[..4]), ["1-5"]);
        assert_eq!(
            play(&mut hands, &[down(F), up(F), down(F), up(F), down(SPACE), up(SPACE)]),
            ["1-4", "blank"]
        );
        // An empty left half, then a right one.
        assert_eq!(play(&mut hands, &[down(N), up(N), down(F), up(F)]), ["4"]);
    }

    #[test]
    fn erasing_takes_back_what_was_begun_before_it_erases() {
        let mut hands = Hands::default();
        hands.set(Entry::OneKey, false);
        hands.press("KeyF", Key::Dot(1), 0.0);
        assert_eq!(hands.lit(), 1);
        assert_eq!(hands.press("Backspace", Key::Erase, 0.0), (Vec::new(), false));
        assert_eq!(hands.lit(), 0);
        assert_eq!(hands.press("Backspace", Key::Erase, 0.0), (Vec::new(), true));
        hands.set(Entry::OneHand, false);
        play(&mut hands, &[down(F), up(F)]);
        assert_eq!(hands.lit(), 1);
        assert_eq!(hands.press("Backspace", Key::Erase, 0.0), (Vec::new(), false));
        assert_eq!(hands.press("Backspace", Key::Erase, 0.0), (Vec::new(), true));
    }
}
