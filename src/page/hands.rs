//! The hands on the keys: which physical key or touched key is which dot, and the chord that is being pressed.
//!
//! A cell is written when the last key of its chord is lifted. A key that goes down after any key of the chord was
//! lifted closes that chord and begins the next; keys still held belong to the first.

use crate::cell::Cell;

/// The physical keys (`KeyboardEvent.code`) of dots 1 to 6 (common practice).
pub const KEYS: [&str; 6] = ["KeyF", "KeyD", "KeyS", "KeyJ", "KeyK", "KeyL"];

/// The keys that are down.
#[derive(Debug, Default)]
pub struct Hands {
    /// Keys of the chord that are still down, with their bits.
    held: Vec<(String, u8)>,
    /// Keys of a chord that is already closed, still down.
    old: Vec<String>,
    chord: u8,
    open: bool,
    lifted: bool,
}

impl Hands {
    /// A key of these bits (0 for the space bar) goes down. Gives the cell of the chord that it closes.
    pub fn down(&mut self, key: &str, bits: u8) -> Option<Cell> {
        if self.old.iter().any(|old| old == key) || self.held.iter().any(|(held, _)| held == key) {
            return None;
        }
        let mut closed = None;
        if self.open && self.lifted {
            closed = Cell::from_bits(self.chord);
            self.old.extend(self.held.drain(..).map(|(key, _)| key));
            self.chord = 0;
        }
        self.open = true;
        self.lifted = false;
        self.chord |= bits;
        self.held.push((key.to_owned(), bits));
        closed
    }

    /// A key goes up. Gives the cell when it was the last of its chord.
    pub fn up(&mut self, key: &str) -> Option<Cell> {
        if let Some(at) = self.old.iter().position(|old| old == key) {
            self.old.swap_remove(at);
            return None;
        }
        let at = self.held.iter().position(|(held, _)| held == key)?;
        self.held.swap_remove(at);
        self.lifted = true;
        if !self.held.is_empty() {
            return None;
        }
        let cell = Cell::from_bits(self.chord);
        self.chord = 0;
        self.open = false;
        self.lifted = false;
        cell
    }

    /// Forgets the chord: the focus was lost, nothing is written and no key stays stuck.
    pub fn reset(&mut self) {
        *self = Hands::default();
    }

    /// The dots that are lit now: keys held down.
    pub fn lit(&self) -> u8 {
        self.held.iter().fold(0, |bits, (_, key)| bits | key)
    }
}
