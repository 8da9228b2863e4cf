//! Keyboards that swallow chords: noticed from what arrives.
//!
//! Many keyboards report no more than two or three of certain keys together. Its writer then writes cells with holes, of
//! which nothing tells that they are the keyboard's fault. Over running braille each pair of dots meets often, and so do
//! four dots in a cell; when one of them never comes, the keyboard is to be suspected.

use crate::cell::Cell;

/// What a keyboard seems to swallow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hole {
    /// Never more than this many dots together.
    Most(u8),
    /// Never these two dots together.
    Pair(u8, u8),
}

/// Chords before a limit on their size is believed. Of the letters alone, n, r and t have four dots, about one letter
/// in five of English (common practice), so that sixty without any are less likely than one in a hundred thousand.
const CHORDS: u32 = 60;

/// How often two dots would have met by chance before their never meeting is believed.
const MEETINGS: u32 = 16;

/// Different cells that must have been written before a limit of one, two or three dots is believed, or (the last) that
/// two dots never meet. Who practises a few letters again and again, or those of the first ten (nine of which have three
/// dots at most), is not told of a fault of the keyboard.
const KINDS: [u32; 4] = [3, 6, 11, 12];

/// Counts the chords of running text.
#[derive(Clone, Debug, Default)]
pub struct Holes {
    chords: u32,
    most: u8,
    alone: [u32; 6],
    together: [[u32; 6]; 6],
    /// The cells that were written, one bit each.
    kinds: u64,
    said: bool,
}

impl Holes {
    /// A chord arrived. Gives what seems to be swallowed, once.
    pub fn chord(&mut self, cell: Cell) -> Option<Hole> {
        if cell.is_blank() || self.said {
            return None;
        }
        self.chords += 1;
        self.kinds |= 1 << cell.bits();
        self.most = self.most.max(cell.dots().count() as u8);
        for dot in cell.dots() {
            self.alone[usize::from(dot) - 1] += 1;
            for other in cell.dots().filter(|other| *other > dot) {
                self.together[usize::from(dot) - 1][usize::from(other) - 1] += 1;
            }
        }
        let hole = self.found();
        self.said = hole.is_some();
        hole
    }

    fn found(&self) -> Option<Hole> {
        if self.chords < CHORDS {
            return None;
        }
        let kinds = self.kinds.count_ones();
        if self.most < 4 {
            let enough = kinds >= KINDS[usize::from(self.most) - 1];
            return enough.then_some(Hole::Most(self.most));
        }
        if kinds < KINDS[3] {
            return None;
        }
        (0..6).flat_map(|one| (one + 1..6).map(move |two| (one, two))).find_map(|(one, two)| {
            let by_chance = u64::from(self.alone[one]) * u64::from(self.alone[two]) / u64::from(self.chords);
            (self.together[one][two] == 0 && by_chance >= u64::from(MEETINGS))
                .then_some(Hole::Pair(one as u8 + 1, two as u8 + 1))
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::from_ascii;

    /// The first verses of Genesis in the King James Version (1769 spelling; open text), uncontracted letters: running
    /// English that was not written for this project.
    const TEXT: &str = "in the beginning god created the heaven and the earth and the earth was without form and void and \
        darkness was upon the face of the deep and the spirit of god moved upon the face of the waters and god said let \
        there be light and there was light and god saw the light that it was good and god divided the light from the \
        darkness and god called the light day and the darkness he called night and the evening and the morning were the \
        first day and god said let there be a firmament in the midst of the waters and let it divide the waters from the \
        waters";

    fn hear(swallow: impl Fn(Cell) -> Cell) -> Option<(usize, Hole)> {
        let mut holes = Holes::default();
        let cells = from_ascii(TEXT).unwrap();
        cells
            .iter()
            .filter(|cell| !cell.is_blank())
            .enumerate()
            .find_map(|(at, cell)| Some((at, holes.chord(swallow(*cell))?)))
    }

    fn first(cell: Cell, most: usize) -> Cell {
        Cell::from_dots(&cell.dots().take(most).collect::<Vec<_>>()).unwrap()
    }

    #[test]
    fn a_sound_keyboard_is_left_in_peace_and_a_bad_one_is_noticed() {
        assert_eq!(hear(|cell| cell), None);
        assert_eq!(hear(|cell| first(cell, 3)), Some((59, Hole::Most(3))));
        assert_eq!(hear(|cell| first(cell, 2)), Some((59, Hole::Most(2))));
        // A keyboard that does not report dot 5 while dot 4 is down.
        let swallowed = |cell: Cell| {
            Cell::from_dots(&cell.dots().filter(|dot| *dot != 5 || !cell.has_dot(4)).collect::<Vec<_>>())
                .unwrap()
        };
        assert!(matches!(hear(swallowed), Some((at, Hole::Pair(4, 5))) if at < 200));
    }

    #[test]
    fn it_is_said_once() {
        let mut holes = Holes::default();
        let one_key = from_ascii(&"a1'@,".repeat(100)).unwrap();
        assert_eq!(one_key.iter().filter(|cell| holes.chord(**cell).is_some()).count(), 1);
    }

    /// A sound keyboard under every hand that holds less than running text: the same letters again and again, two
    /// letters in turn, the first ten letters alone.
    #[test]
    fn practice_of_a_few_signs_is_no_fault_of_the_keyboard() {
        for text in ["a", "ei", "iei", "abc", "abcehi", "abcdefhij", "rw", "pq", "abcdefghij", "acbkl"] {
            let mut holes = Holes::default();
            for cell in from_ascii(&text.repeat(600 / text.len())).unwrap() {
                assert_eq!(holes.chord(cell), None, "{text}");
            }
        }
    }

    /// A sound keyboard under hands that make mistakes: now and then a finger does not come, another one comes too.
    #[test]
    fn a_learners_mistakes_are_no_fault_of_the_keyboard() {
        for seed in 0..200 {
            let mut chance = fastrand::Rng::with_seed(seed);
            let mut holes = Holes::default();
            // Up to half of all cells, and more often one dot than the others.
            let (slips, weak) = (chance.u32(1..=5), chance.u8(1..=6));
            for cell in from_ascii(TEXT).unwrap().into_iter().filter(|cell| !cell.is_blank()) {
                let dot = if chance.bool() { weak } else { chance.u8(1..=6) };
                let wrong = chance.u32(..10) < slips;
                let written = Cell::from_bits(cell.bits() ^ (u8::from(wrong) << (dot - 1))).unwrap();
                assert_eq!(holes.chord(written), None, "{seed}");
            }
        }
    }
}
