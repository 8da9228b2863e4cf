//! Simulated keyboards: those that report two or three keys at once, those that swallow a pair, and sound ones, under the text
//! of the first verses of Genesis in the King James Version (1769 spelling; open text), contracted and not.

use cellwright::cell::Cell;
use cellwright::keys::{Chords, Hole, Holes, MEET, Meant};
use cellwright::ueb::{self, Options};

const TEXT: &str = "In the beginning God created the heaven and the earth. And the earth was without form, and void; and \
    darkness was upon the face of the deep. And the Spirit of God moved upon the face of the waters. And God said, Let there be \
    light: and there was light. And God saw the light, that it was good: and God divided the light from the darkness. And God \
    called the light Day, and the darkness he called Night. And the evening and the morning were the first day. And God said, \
    Let there be a firmament in the midst of the waters, and let it divide the waters from the waters.";

const CODES: [&str; 6] = ["KeyF", "KeyD", "KeyS", "KeyJ", "KeyK", "KeyL"];

fn braille(contracted: bool) -> Vec<Cell> {
    ueb::transcribe(TEXT, &Options { contracted, ..Options::default() })
}

/// A keyboard: which keys it reports of those that are held, in the order in which they went down.
#[derive(Clone, Copy, Debug)]
enum Keyboard {
    /// No more than so many at once.
    AtMost(usize),
    /// These two never together: the later one is swallowed.
    Without(u8, u8),
    /// Every key.
    Sound,
}

impl Keyboard {
    fn reports(self, held: &[u8], dot: u8) -> bool {
        match self {
            Keyboard::Sound => true,
            Keyboard::AtMost(most) => held.len() < most,
            Keyboard::Without(one, two) => {
                !(dot == one && held.contains(&two) || dot == two && held.contains(&one))
            }
        }
    }

    /// What arrives of a cell whose keys go down in this order.
    fn press(self, chords: &mut Chords, order: &[u8]) -> Option<Cell> {
        let mut held = Vec::new();
        for &dot in order {
            if self.reports(&held, dot) {
                held.push(dot);
                chords.press(CODES[usize::from(dot) - 1], 1 << (dot - 1), 0.0);
            }
        }
        held.iter().find_map(|dot| chords.lift(CODES[usize::from(*dot) - 1], 1.0)).map(|stroke| stroke.cell)
    }

    /// Whether some of this cell's keys do not arrive.
    fn swallows(self, cell: Cell) -> bool {
        match self {
            Keyboard::Sound => false,
            Keyboard::AtMost(most) => cell.dots().count() > most,
            Keyboard::Without(one, two) => cell.has_dot(one) && cell.has_dot(two),
        }
    }
}

/// What was noticed: the hole, after how many cells, and how many of them needed more keys than arrive.
type Noticed = Option<(Hole, usize, usize)>;

/// Writes a text on a keyboard; each finger comes down in an order of its own. With `meant`, it is known what is to be written.
fn write(keyboard: Keyboard, text: &[Cell], meant: bool, seed: u64) -> Noticed {
    let mut chance = fastrand::Rng::with_seed(seed);
    let (mut holes, mut asked, mut chords) = (Holes::default(), Meant::of(text), Chords::default());
    let (mut word, mut cells, mut needed) = (Vec::new(), 0, 0);
    for cell in text.iter().chain([&Cell::BLANK]) {
        let mut hole = None;
        if cell.is_blank() {
            if let (true, Some(asked)) = (meant, asked.word(&word)) {
                hole = holes.meant(asked, &word);
            }
            word.clear();
        } else {
            let mut order: Vec<u8> = cell.dots().collect();
            chance.shuffle(&mut order);
            let came = keyboard.press(&mut chords, &order).expect("one key at least arrives");
            word.push(came);
            cells += 1;
            needed += usize::from(keyboard.swallows(*cell));
            hole = holes.chord(came, true);
        }
        if let Some(hole) = hole {
            return Some((hole, cells, needed));
        }
    }
    None
}

fn pairs() -> impl Iterator<Item = (u8, u8)> {
    (1..=6u8).flat_map(|one| (one + 1..=6).map(move |two| (one, two)))
}

#[test]
fn a_limit_is_noticed_within_twelve_cells_that_need_more() {
    for seed in 0..200 {
        for (contracted, meant) in [(false, true), (true, true), (false, false), (true, false)] {
            for most in [2, 3] {
                let found = write(Keyboard::AtMost(most), &braille(contracted), meant, seed);
                let Some((hole, _, needed)) = found else {
                    panic!("{most} keys, {meant}, {seed}: not noticed")
                };
                assert_eq!(hole, Hole::Most(most as u8), "{contracted} {meant} {seed}");
                assert!(needed <= 12, "{most} keys, contracted {contracted}, known {meant}: after {needed}");
            }
        }
    }
}

#[test]
fn a_swallowed_pair_is_noticed_within_forty_cells() {
    for seed in 0..100 {
        for contracted in [false, true] {
            for (one, two) in pairs() {
                let text = braille(contracted).repeat(3);
                let found = write(Keyboard::Without(one, two), &text, true, seed);
                let Some((hole, cells, needed)) = found else { panic!("{one} {two}: not noticed") };
                // Where every cell that was lost holds a third dot, which two of the three it was cannot be told.
                let told = matches!(hole, Hole::Pair(a, b) if (a, b) == (one, two) || [a, b].contains(&one) || [a, b].contains(&two));
                assert!(told, "{hole:?} is told of {one} {two}, {contracted} {seed}");
                // Of cells that hold the pair; of all cells where it is as common as 2 and 5.
                assert!(needed <= 12, "{one} {two}, contracted {contracted}: after {needed} with the pair");
                if (one, two) == (2, 5) {
                    assert!(cells <= 40, "2 5, contracted {contracted}: after {cells} cells");
                }
            }
            // Nothing is known of what was meant: it takes longer the rarer the pair.
            let found = write(Keyboard::Without(2, 5), &braille(contracted).repeat(3), false, seed);
            let Some((hole, cells, _)) = found else { panic!("2 5, unknown: not noticed") };
            assert!(hole == Hole::Pair(2, 5) && cells <= 100, "{hole:?} after {cells}");
        }
    }
}

/// Five thousand chords and more on a sound keyboard, of which the writer gets some wrong: never a word of it.
#[test]
fn a_sound_keyboard_is_never_suspected() {
    for contracted in [false, true] {
        let text = braille(contracted).repeat(14);
        assert!(text.len() > 5_000, "{} chords", text.len());
        assert_eq!(write(Keyboard::Sound, &text, true, 1), None);
        assert_eq!(write(Keyboard::Sound, &text, false, 1), None);
        // A finger that is left out in one cell of twenty, more often the weak one.
        for seed in 0..60 {
            let mut chance = fastrand::Rng::with_seed(seed);
            let (mut holes, mut asked) = (Holes::default(), Meant::of(&text));
            let weak = chance.u8(1..=6);
            let mut word = Vec::new();
            for cell in &text {
                if cell.is_blank() {
                    if let Some(asked) = asked.word(&word) {
                        assert_eq!(holes.meant(asked, &word), None, "{seed}");
                    }
                    word.clear();
                    continue;
                }
                let dot = if chance.bool() { weak } else { chance.u8(1..=6) };
                let left_out = Cell::from_bits(cell.bits() & !(1 << (dot - 1))).expect("six dots");
                let came = if chance.u32(..20) == 0 && !left_out.is_blank() { left_out } else { *cell };
                word.push(came);
                assert_eq!(holes.chord(came, true), None, "{seed}");
            }
        }
    }
}

/// The shares by which a pair's never coming is judged are those of the course's texts: none is said to be more common than it is.
#[test]
fn pairs_meet_as_often_as_is_said() {
    let passages = std::fs::read_to_string("www/data/passages.txt").expect("the passages");
    let mut least = [u16::MAX; 15];
    for contracted in [false, true] {
        let cells = ueb::transcribe(&passages, &Options { contracted, marks: false, ..Options::default() });
        let cells: Vec<Cell> = cells.into_iter().filter(|cell| !cell.is_blank()).collect();
        for (place, (one, two)) in pairs().enumerate() {
            let meet = cells.iter().filter(|cell| cell.has_dot(one) && cell.has_dot(two)).count();
            least[place] = least[place].min((meet * 1000 / cells.len()) as u16);
        }
    }
    for ((said, found), pair) in MEET.iter().zip(least).zip(pairs()) {
        assert!(
            *said <= found && found < *said + 25,
            "{pair:?} meet in {found} of 1000: said is {said}; {least:?}"
        );
    }
}
