//! Hands that can't press a chord: one key at a time, and the keys of one hand.

use super::map::Key;
use crate::cell::Cell;

/// One key at a time: dots are put in and taken out again, and a commit writes the cell.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Dots {
    bits: u8,
}

impl Dots {
    /// A key was pressed. Gives the cell it writes: a commit writes what was put together (nothing is no cell), the
    /// blank's key writes that first, if there is any, and then the blank.
    pub fn press(&mut self, key: Key) -> Vec<Cell> {
        match key {
            Key::Dot(_) => {
                self.bits ^= key.bits().unwrap_or(0);
                Vec::new()
            }
            Key::Commit | Key::NewLine => self.take().into_iter().collect(),
            Key::Blank => self.take().into_iter().chain([Cell::BLANK]).collect(),
            Key::Erase => {
                self.bits = 0;
                Vec::new()
            }
        }
    }

    /// The dots put together so far, as bits.
    pub fn lit(&self) -> u8 {
        self.bits
    }

    fn take(&mut self) -> Option<Cell> {
        Cell::from_bits(std::mem::take(&mut self.bits)).filter(|cell| !cell.is_blank())
    }
}

/// One hand: two half chords a cell, the left column first, then the right, both on the keys of one hand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Halves {
    left: Option<u8>,
}

impl Halves {
    /// A half chord was pressed: rows 1 to 3 as bits 0 to 2, whichever hand's keys they came from; 0 is an empty
    /// half. Gives the cell when it was the second half.
    pub fn half(&mut self, rows: u8) -> Option<Cell> {
        let rows = (rows | rows >> 3) & 7;
        match self.left.take() {
            None => {
                self.left = Some(rows);
                None
            }
            Some(left) => Cell::from_bits(left | rows << 3),
        }
    }

    /// Forgets a first half. Gives whether there was one.
    pub fn forget(&mut self) -> bool {
        self.left.take().is_some()
    }

    /// The left half that waits for its right one, as bits.
    pub fn waiting(&self) -> Option<u8> {
        self.left
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_cell_by_halves_and_by_single_keys() {
        for cell in Cell::all() {
            let mut halves = Halves::default();
            assert_eq!(halves.half(cell.bits() & 7), None);
            assert_eq!(halves.half(cell.bits() >> 3 << 3), Some(cell));
            if cell.is_blank() {
                continue;
            }
            let mut dots = Dots::default();
            for dot in cell.dots() {
                assert!(dots.press(Key::Dot(dot)).is_empty());
            }
            assert_eq!(dots.press(Key::Commit), [cell]);
        }
    }

    #[test]
    fn a_dot_pressed_twice_is_taken_out() {
        let mut dots = Dots::default();
        for key in [Key::Dot(1), Key::Dot(2), Key::Dot(2)] {
            dots.press(key);
        }
        assert_eq!(dots.press(Key::Blank), [Cell::from_bits(1).unwrap(), Cell::BLANK]);
        assert!(dots.press(Key::Commit).is_empty());
    }
}
