//! Chords: several keys at once, one cell.

use crate::cell::Cell;

/// When a key of a stroke went down and up, in milliseconds of any one clock.
#[derive(Clone, Debug, PartialEq)]
pub struct KeyTime {
    /// The key's code.
    pub code: String,
    /// Its bit, or 0 for the blank's key.
    pub bits: u8,
    /// When it went down.
    pub down: f64,
    /// When it went up; `None` when it was still down as the cell was written.
    pub up: Option<f64>,
}

/// One cell as it was pressed.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// The cell.
    pub cell: Cell,
    /// Its keys in the order in which they went down.
    pub keys: Vec<KeyTime>,
}

/// The keys that are down, and the chord they belong to.
///
/// A cell is written when the last key of its chord is lifted. A key pressed after any key of the chord was lifted
/// closes that chord and begins the next; keys still held belong to the first, so that a fast writer loses nothing.
/// The blank is a chord of its own: its key never joins dots, it closes their chord, and a dot closes it.
#[derive(Clone, Debug, Default)]
pub struct Chords {
    at_first_lift: bool,
    chord: Vec<KeyTime>,
    /// Keys of chords that are written already, still down.
    earlier: Vec<String>,
}

impl Chords {
    /// Chords that are written at the last lift or, on request, at the first.
    pub fn new(at_first_lift: bool) -> Chords {
        Chords { at_first_lift, ..Chords::default() }
    }

    /// A key goes down; `bits` is its dot's bit, 0 for the blank's key. Gives the stroke that it closes. A key that is
    /// down already (the keyboard repeats it) does nothing.
    pub fn press(&mut self, code: &str, bits: u8, time: f64) -> Option<Stroke> {
        let down = |key: &KeyTime| key.code == code && key.up.is_none();
        if self.chord.iter().any(down) || self.earlier.iter().any(|earlier| earlier == code) {
            return None;
        }
        let lifted = self.chord.iter().any(|key| key.up.is_some());
        let blank_and_dots = self.chord.iter().any(|key| (key.bits == 0) != (bits == 0));
        let closed = if lifted || blank_and_dots { self.close() } else { None };
        self.chord.push(KeyTime { code: code.to_owned(), bits, down: time, up: None });
        closed
    }

    /// A key goes up. Gives the stroke when it was the last key of its chord (or the first, where asked for).
    pub fn lift(&mut self, code: &str, time: f64) -> Option<Stroke> {
        if let Some(at) = self.earlier.iter().position(|earlier| earlier == code) {
            self.earlier.swap_remove(at);
            return None;
        }
        self.chord.iter_mut().find(|key| key.code == code && key.up.is_none())?.up = Some(time);
        if self.at_first_lift || self.chord.iter().all(|key| key.up.is_some()) { self.close() } else { None }
    }

    /// The focus was lost, or the writer took the chord back: nothing is written and no key stays stuck.
    pub fn forget(&mut self) {
        self.chord.clear();
        self.earlier.clear();
    }

    /// The dots of the chord whose keys are down now, as bits: what to light on the screen.
    pub fn lit(&self) -> u8 {
        self.chord.iter().filter(|key| key.up.is_none()).fold(0, |bits, key| bits | key.bits)
    }

    /// Whether a chord is being pressed.
    pub fn is_open(&self) -> bool {
        !self.chord.is_empty()
    }

    fn close(&mut self) -> Option<Stroke> {
        let keys = std::mem::take(&mut self.chord);
        self.earlier.extend(keys.iter().filter(|key| key.up.is_none()).map(|key| key.code.clone()));
        let bits = keys.iter().fold(0, |bits, key| bits | key.bits);
        Some(Stroke { cell: Cell::from_bits(bits)?, keys })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const CODES: [&str; 7] = ["KeyF", "KeyD", "KeyS", "KeyJ", "KeyK", "KeyL", "Space"];

    fn bits(key: usize) -> u8 {
        if key < 6 { 1 << key } else { 0 }
    }

    /// A hand that presses keys that are up and lifts keys that are down, in any order, and in the end lifts all.
    fn moves() -> impl Strategy<Value = Vec<(usize, bool)>> {
        prop::collection::vec(0..CODES.len(), 0..80).prop_map(|keys| {
            let mut down = [false; CODES.len()];
            let mut moves = Vec::new();
            for key in keys {
                down[key] = !down[key];
                moves.push((key, down[key]));
            }
            for key in (0..CODES.len()).filter(|&key| down[key]) {
                moves.push((key, false));
            }
            moves
        })
    }

    fn play(chords: &mut Chords, moves: &[(usize, bool)]) -> Vec<u8> {
        let mut written = Vec::new();
        for (time, &(key, down)) in moves.iter().enumerate() {
            let stroke = if down {
                chords.press(CODES[key], bits(key), time as f64)
            } else {
                chords.lift(CODES[key], time as f64)
            };
            written.extend(stroke.map(|stroke| stroke.cell.bits()));
        }
        written
    }

    /// The rule once more, over the whole list at once and with the end of every press known: presses fall into
    /// groups, and a press begins a new one when a press of the last group has ended before it, or when blank and
    /// dots would meet.
    fn model(moves: &[(usize, bool)]) -> Vec<u8> {
        let presses = moves.iter().enumerate().filter(|(_, (_, down))| *down).map(|(at, &(key, _))| {
            let end =
                (at + 1..moves.len()).find(|&later| moves[later] == (key, false)).unwrap_or(moves.len());
            (at, key, end)
        });
        let mut groups: Vec<Vec<(usize, usize)>> = Vec::new();
        for (at, key, end) in presses {
            match groups.last_mut() {
                Some(group)
                    if group.iter().all(|&(other, ended)| ended > at && (other == 6) == (key == 6)) =>
                {
                    group.push((key, end));
                }
                _ => groups.push(vec![(key, end)]),
            }
        }
        groups.iter().map(|group| group.iter().fold(0, |all, &(key, _)| all | bits(key))).collect()
    }

    proptest! {
        #[test]
        fn strokes_are_the_groups(moves in moves()) {
            prop_assert_eq!(play(&mut Chords::default(), &moves), model(&moves));
        }

        #[test]
        fn every_press_is_in_exactly_one_stroke(moves in moves(), first in any::<bool>()) {
            let mut chords = Chords::new(first);
            let mut seen = 0;
            for (time, &(key, down)) in moves.iter().enumerate() {
                let stroke = if down { chords.press(CODES[key], bits(key), time as f64) } else { chords.lift(CODES[key], time as f64) };
                if let Some(stroke) = stroke {
                    seen += stroke.keys.len();
                    let all = stroke.keys.iter().fold(0, |all, key| all | key.bits);
                    prop_assert_eq!(stroke.cell.bits(), all);
                    let blank = stroke.keys.iter().filter(|key| key.bits == 0).count();
                    prop_assert!(blank == 0 || stroke.keys.len() == 1);
                }
            }
            prop_assert_eq!(seen, moves.iter().filter(|(_, down)| *down).count());
            prop_assert!(!chords.is_open());
            prop_assert_eq!(chords.lit(), 0);
        }

        #[test]
        fn repeats_change_nothing(moves in moves()) {
            let mut plain = Chords::default();
            let once = play(&mut plain, &moves);
            let mut chords = Chords::default();
            let mut written = Vec::new();
            let mut down: Vec<usize> = Vec::new();
            for &(key, press) in &moves {
                let stroke = if press { down.push(key); chords.press(CODES[key], bits(key), 0.0) }
                    else { down.retain(|&k| k != key); chords.lift(CODES[key], 0.0) };
                written.extend(stroke.map(|s| s.cell.bits()));
                for &key in &down {
                    prop_assert!(chords.press(CODES[key], bits(key), 0.0).is_none());
                }
            }
            prop_assert_eq!(written, once);
        }

        #[test]
        fn lost_focus_writes_nothing(before in moves(), cut in 0usize..80) {
            let mut chords = Chords::default();
            let cut = cut.min(before.len());
            play(&mut chords, &before[..cut]);
            chords.forget();
            prop_assert_eq!(chords.lit(), 0);
            // Lifts that arrive late belong to nothing.
            for code in CODES {
                prop_assert!(chords.lift(code, 0.0).is_none());
            }
            prop_assert!(chords.press("KeyF", 1, 0.0).is_none());
            prop_assert_eq!(chords.lift("KeyF", 1.0).unwrap().cell.bits(), 1);
        }
    }

    #[test]
    fn roll_over_loses_nothing() {
        // d (dots 1 4 5) held a little, then a (dot 1 again after its own lift), then the blank over the last key.
        let mut chords = Chords::default();
        for (code, bits) in [("KeyF", 1), ("KeyJ", 8), ("KeyK", 16)] {
            assert!(chords.press(code, bits, 0.0).is_none());
        }
        assert!(chords.lift("KeyF", 1.0).is_none());
        assert_eq!(chords.press("KeyF", 1, 2.0).unwrap().cell.bits(), 25);
        assert!(chords.lift("KeyJ", 3.0).is_none());
        assert!(chords.lift("KeyK", 3.0).is_none());
        assert_eq!(chords.press("Space", 0, 4.0).unwrap().cell.bits(), 1);
        assert!(chords.lift("KeyF", 5.0).is_none());
        assert_eq!(chords.lift("Space", 6.0).unwrap().cell, Cell::BLANK);
    }

    #[test]
    fn first_lift_writes_at_once() {
        let mut chords = Chords::new(true);
        chords.press("KeyF", 1, 0.0);
        chords.press("KeyD", 2, 0.0);
        assert_eq!(chords.lift("KeyF", 1.0).unwrap().cell.bits(), 3);
        assert!(chords.lift("KeyD", 1.0).is_none());
    }
}
