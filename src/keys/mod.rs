//! Six keys to cells: chords, roll-over, one-hand entry, slate order.
//!
//! [`KeyMap`] says which physical key is which dot; [`Chords`] turns presses and lifts into [`Stroke`]s; [`Dots`] and
//! [`Halves`] do the same for hands that press one key at a time, or have one hand's keys only; [`Hands`] is whichever of
//! these the writer has chosen. [`Holes`] notices a keyboard that swallows chords.
//! [`run`] says how a run of chords went.
//!
//! ```
//! use cellwright::keys::Chords;
//! let mut chords = Chords::default();
//! assert!(chords.press("KeyF", 0b000_001, 0.0).is_none()); // dot 1
//! assert!(chords.press("KeyK", 0b010_000, 9.0).is_none()); // dot 5
//! assert!(chords.lift("KeyF", 60.0).is_none());
//! assert_eq!(chords.lift("KeyK", 64.0).unwrap().cell.dot_numbers(), "1-5");
//! ```

mod chords;
mod hands;
mod holes;
mod map;
pub mod run;
mod single;

pub use chords::{Chords, KeyTime, Stroke};
pub use hands::{Entry, Hands};
pub use holes::{Hole, Holes, MEET, Meant};
pub use map::{Key, KeyMap, as_dots};
pub use single::{Dots, Halves};

use crate::cell::Cell;

/// A line as it is punched on a slate: from the back of the sheet, right to left, every cell mirrored (section 1.1.3).
/// Doing it twice gives the line again.
pub fn slate_order(line: &[Cell]) -> Vec<Cell> {
    line.iter().rev().map(|cell| cell.mirror()).collect()
}
