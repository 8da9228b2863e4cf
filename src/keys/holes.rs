//! Keyboards that swallow chords: noticed from what arrives and from what was likely meant.
//!
//! Many keyboards report no more than two or three of certain keys together. Its writer then writes cells with holes, of
//! which nothing tells that they are the keyboard's fault. Where it is known what was to be written ([`Holes::meant`]), a few
//! cells that lack just the dots that such a keyboard would swallow are enough. Where it is not ([`Holes::chord`]), running
//! braille tells: each pair of dots meets often in it, and so do four dots in a cell; when one of them never comes, the keyboard
//! is to be suspected. A chord that does arrive clears the keyboard of every hole that it would have fallen into.

use crate::cell::Cell;

/// What a keyboard seems to swallow.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hole {
    /// Never more than this many dots together.
    Most(u8),
    /// Never these two dots together.
    Pair(u8, u8),
}

/// Chords before a limit of one, two or three dots is believed where nothing is known of what was meant. Two letters in three of
/// English have more than two dots, one in three more than three (counted over the texts of the course in
/// `tests/keyboards.rs`), so that so many without any are less likely than one in forty thousand.
const CHORDS: [u32; 3] = [12, 17, 28];

/// Different cells that must have been written before a limit of one, two or three dots is believed, or (the last) that
/// two dots never meet. Who practises a few letters again and again, or those of the first ten (nine of which have three
/// dots at most), is not told of a fault of the keyboard.
const KINDS: [u32; 4] = [3, 6, 11, 12];

/// In how many of a thousand cells of running braille these two dots meet, in contracted or in uncontracted braille, whichever
/// is less: 1-2, 1-3 … 1-6, 2-3 … 5-6. Counted over the texts of the course in `tests/keyboards.rs`.
pub const MEET: [u16; 15] = [205, 265, 200, 280, 45, 250, 265, 200, 55, 250, 240, 60, 210, 50, 80];

/// The hundredth of a thousandth that is left to chance, as a natural logarithm.
const UNLIKELY: f64 = -10.4;

/// Cells with just such a hole before it is believed, and how many of them differ.
const LOST: usize = 3;
const LOST_KINDS: usize = 2;
/// So many are believed though two holes would explain them (the pair then, which says more), or though it is one cell again
/// and again.
const LOST_ALIKE: usize = 10;
const LOST_SAME: usize = 9;

/// Counts what arrives.
#[derive(Clone, Debug, Default)]
pub struct Holes {
    chords: u32,
    most: u8,
    together: [bool; 15],
    /// How often each dot came in running braille.
    alone: [u32; 6],
    /// The cells that were written, one bit each.
    kinds: u64,
    /// What was meant, and what arrived of it.
    lost: Vec<(Cell, Cell)>,
    said: bool,
}

/// The pairs of dots, as [`MEET`] counts them.
fn pairs() -> impl Iterator<Item = (u8, u8)> {
    (1..=6u8).flat_map(|one| (one + 1..=6).map(move |two| (one, two)))
}

fn has_both(cell: Cell, (one, two): (u8, u8)) -> bool {
    cell.has_dot(one) && cell.has_dot(two)
}

fn dots(cell: Cell) -> u8 {
    cell.dots().count() as u8
}

impl Holes {
    /// A chord arrived. In `running` braille of which nothing else is known, it may tell of a hole: what seems to be swallowed
    /// is given once.
    pub fn chord(&mut self, cell: Cell, running: bool) -> Option<Hole> {
        if cell.is_blank() {
            return None;
        }
        self.most = self.most.max(dots(cell));
        for (place, pair) in pairs().enumerate() {
            self.together[place] |= has_both(cell, pair);
        }
        if !running || self.said {
            return None;
        }
        self.chords += 1;
        self.kinds |= 1 << cell.bits();
        for dot in cell.dots() {
            self.alone[usize::from(dot) - 1] += 1;
        }
        let hole = self.never_came();
        self.say(hole)
    }

    /// Cells arrived in the place of those that were to be written there. Those that have no dot too many and lack some tell of
    /// a hole; what is wrong otherwise was written wrong. What seems to be swallowed is given once.
    pub fn meant(&mut self, asked: &[Cell], came: &[Cell]) -> Option<Hole> {
        let part = |(asked, came): (&Cell, &Cell)| !came.is_blank() && came.bits() & !asked.bits() == 0;
        if self.said || asked.len() != came.len() || !asked.iter().zip(came).all(part) {
            return None;
        }
        let before = self.lost.len();
        let differ = asked.iter().zip(came).filter(|(asked, came)| asked != came);
        self.lost.extend(differ.map(|(asked, came)| (*asked, *came)));
        let hole = if self.lost.len() > before { self.lost_to() } else { None };
        self.say(hole)
    }

    fn say(&mut self, hole: Option<Hole>) -> Option<Hole> {
        self.said |= hole.is_some();
        hole
    }

    /// What never came, though running braille is full of it.
    fn never_came(&self) -> Option<Hole> {
        let kinds = self.kinds.count_ones();
        if let Some(place) = usize::from(self.most).checked_sub(1).filter(|place| *place < CHORDS.len()) {
            let enough = self.chords >= CHORDS[place] && kinds >= KINDS[place];
            return enough.then_some(Hole::Most(self.most));
        }
        if kinds < KINDS[3] {
            return None;
        }
        pairs().enumerate().find_map(|(place, (one, two))| {
            let without = (1.0 - f64::from(MEET[place]) / 1000.0).ln() * f64::from(self.chords);
            // Where one of the two is hardly ever asked for, they cannot meet. Dot 6 is in few letters, and stands alone before
            // capitals.
            let alone = |dot: u8| u64::from(self.alone[usize::from(dot) - 1]);
            let by_chance = alone(one) * alone(two) / u64::from(self.chords);
            let could_meet = by_chance >= if two == 6 { 16 } else { 3 };
            (!self.together[place] && could_meet && without < UNLIKELY).then_some(Hole::Pair(one, two))
        })
    }

    /// The one hole into which what was lost has fallen.
    fn lost_to(&self) -> Option<Hole> {
        let limits = (self.most..=5).filter(|most| *most > 0).map(Hole::Most);
        let apart = pairs().enumerate().filter(|(place, _)| !self.together[*place]);
        let mut found: Vec<(i32, Hole)> = apart
            .map(|(_, (one, two))| Hole::Pair(one, two))
            .chain(limits)
            .filter_map(|hole| {
                let fallen: Vec<Cell> =
                    self.lost.iter().filter(|lost| swallows(hole, lost)).map(|lost| lost.0).collect();
                let kinds = fallen.iter().fold(0u64, |kinds, cell| kinds | 1 << cell.bits()).count_ones();
                let enough =
                    (fallen.len() >= LOST && kinds as usize >= LOST_KINDS) || fallen.len() >= LOST_SAME;
                let other = self.lost.len() - fallen.len();
                enough.then_some((fallen.len() as i32 - other as i32, hole))
            })
            .collect();
        found.sort_by_key(|(fits, _)| -fits);
        match found.as_slice() {
            [(fits, hole)] if *fits > 0 => Some(*hole),
            [(fits, hole), (next, _), ..] if *fits > 0 && (fits > next || self.lost.len() >= LOST_ALIKE) => {
                Some(*hole)
            }
            _ => None,
        }
    }
}

/// Whether a keyboard with this hole would have made the one of the other.
fn swallows(hole: Hole, (asked, came): &(Cell, Cell)) -> bool {
    match hole {
        Hole::Most(most) => dots(*asked) > most && dots(*came) == most,
        Hole::Pair(one, two) => {
            has_both(*asked, (one, two)) && dots(*came) + 1 == dots(*asked) && !has_both(*came, (one, two))
        }
    }
}

/// What is to be written, word by word, and how far the writing has come with it.
#[derive(Clone, Debug, Default)]
pub struct Meant {
    words: Vec<Vec<Cell>>,
    at: usize,
}

/// So many words may be left out by the writer.
const AHEAD: usize = 5;

impl Meant {
    /// Of cells with blanks between words.
    pub fn of(cells: &[Cell]) -> Meant {
        let words = cells.split(|cell| cell.is_blank()).filter(|word| !word.is_empty());
        Meant { words: words.map(<[Cell]>::to_vec).collect(), at: 0 }
    }

    /// A word was written: gives the one that was likely meant, which has as many cells and all the dots of these.
    pub fn word(&mut self, came: &[Cell]) -> Option<&[Cell]> {
        let fits = |asked: &[Cell]| {
            asked.len() == came.len()
                && asked.iter().zip(came).all(|(asked, came)| came.bits() & !asked.bits() == 0)
        };
        let ahead = self.words.iter().enumerate().skip(self.at).take(AHEAD);
        // A lone cell is part of many others: it is only taken for the one that is next.
        let found = ahead.filter(|(at, _)| came.len() > 1 || *at == self.at).find(|(_, word)| fits(word));
        // Who writes elsewhere goes on from there.
        let same = || self.words.iter().position(|word| word == came && came.len() > 1);
        let at = found.map(|(at, _)| at).or_else(same)?;
        self.at = at + 1;
        self.words.get(at).map(Vec::as_slice)
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
            .find_map(|(at, cell)| Some((at, holes.chord(swallow(*cell), true)?)))
    }

    fn first(cell: Cell, most: usize) -> Cell {
        Cell::from_dots(&cell.dots().take(most).collect::<Vec<_>>()).unwrap()
    }

    #[test]
    fn a_sound_keyboard_is_left_in_peace_and_a_bad_one_is_noticed() {
        assert_eq!(hear(|cell| cell), None);
        assert_eq!(hear(|cell| first(cell, 3)), Some((27, Hole::Most(3))));
        assert_eq!(hear(|cell| first(cell, 2)), Some((16, Hole::Most(2))));
        // A keyboard that does not report dot 5 while dot 4 is down.
        let swallowed = |cell: Cell| {
            Cell::from_dots(&cell.dots().filter(|dot| *dot != 5 || !cell.has_dot(4)).collect::<Vec<_>>())
                .unwrap()
        };
        assert!(matches!(hear(swallowed), Some((at, Hole::Pair(4, 5))) if at < 100));
    }

    #[test]
    fn it_is_said_once() {
        let mut holes = Holes::default();
        let one_key = from_ascii(&"a1'@,".repeat(100)).unwrap();
        assert_eq!(one_key.iter().filter(|cell| holes.chord(**cell, true).is_some()).count(), 1);
    }

    /// A sound keyboard under every hand that holds less than running text: the same letters again and again, two
    /// letters in turn, the first ten letters alone.
    #[test]
    fn practice_of_a_few_signs_is_no_fault_of_the_keyboard() {
        for text in ["a", "ei", "iei", "abc", "abcehi", "abcdefhij", "rw", "pq", "abcdefghij", "acbkl"] {
            let mut holes = Holes::default();
            for cell in from_ascii(&text.repeat(600 / text.len())).unwrap() {
                assert_eq!(holes.chord(cell, true), None, "{text}");
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
                assert_eq!(holes.chord(written, true), None, "{seed}");
            }
        }
    }

    #[test]
    fn a_word_is_found_again_where_words_were_left_out_or_written_wrong() {
        let cells = |text: &str| from_ascii(text).unwrap();
        let mut meant = Meant::of(&cells("the boats leave the quay"));
        assert_eq!(meant.word(&cells("the")), Some(&cells("the")[..]));
        // A word of other letters is no word with holes.
        assert_eq!(meant.word(&cells("zzzzz")), None);
        // Of n the fourth dot is missing; of t, too.
        assert_eq!(meant.word(&cells("l1ave")), None);
        assert_eq!(meant.word(&cells("laave")), Some(&cells("leave")[..]));
        assert_eq!(meant.word(&cells("quay")), Some(&cells("quay")[..]));
        assert_eq!(meant.word(&cells("boats")), Some(&cells("boats")[..]));
    }
}
