//! Clues for any cell, a step at a time: computed from its dots, its neighbours and its reading.

use crate::cell::Cell;
use crate::practice::likely::Likely;
use crate::ueb::back::older_signs;
use crate::ueb::register::{self, Sign};
use crate::ueb::{Piece, ReadOptions, Remark, read};

/// What a clue is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// Where the dots lie.
    Dots,
    /// Which line of braille order (1.1.2).
    Line,
    /// Where it stands in word and sentence.
    Place,
    /// What its neighbours make of it.
    Neighbours,
    /// Its dot numbers.
    Numbers,
    /// Its meaning, with the section.
    Meaning,
}

/// One clue.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clue {
    /// What it is about.
    pub step: Step,
    /// The clue.
    pub text: String,
}

fn clue(step: Step, text: impl Into<String>) -> Clue {
    Clue { step, text: text.into() }
}

/// Where the dots lie, true of every cell.
pub fn where_dots_lie(cell: Cell) -> String {
    let count = cell.dots().count();
    if count == 0 {
        return "No dots at all.".to_owned();
    }
    let many = if count == 1 { "One dot".to_owned() } else { format!("{count} dots") };
    let names: Vec<&str> = ["top", "middle", "bottom"]
        .into_iter()
        .zip(cell.rows())
        .filter(|(_, on)| *on)
        .map(|(n, _)| n)
        .collect();
    let rows = match names[..] {
        [one] => format!("in the {one} row only"),
        [one, two] => format!("in the {one} and {two} rows"),
        _ => "in all three rows".to_owned(),
    };
    let columns = match (cell.bits() & 7 != 0, cell.bits() & 0o70 != 0) {
        (true, true) => "in both columns",
        (true, false) => "in the left column only",
        _ => "in the right column only",
    };
    format!("{many}, {rows}, {columns}.")
}

/// Which of the seven lines of braille order the cell's dots put it in (1.1.2); true of every cell.
pub fn line_of_order(cell: Cell) -> String {
    let Some((line, _)) = cell.order() else {
        return "Blank: a space.".to_owned();
    };
    let top = Cell::from_bits(cell.bits() & 0o33).unwrap_or_default();
    match line {
        1 => "No dot 3, no dot 6: the first line, a to j.".to_owned(),
        2 => format!("The shape of {} with dot 3 added: the second line, k to t.", top.to_ascii()),
        3 => format!(
            "The shape of {} with dots 3 and 6 added: the third line, u v x y z and five strong contractions.",
            top.to_ascii()
        ),
        4 => format!(
            "The shape of {} with dot 6 added: the fourth line, groupsigns and w.",
            top.to_ascii()
        ),
        5 => "No dot 1 and no dot 4, the shape of a letter of the first line let down a row: the fifth line, the lower signs."
            .to_owned(),
        6 => "The sixth line: st, ing, the numeric indicator, ar, the apostrophe and the hyphen, told apart by name."
            .to_owned(),
        _ => "Right-hand dots only: the seventh line. Such a cell is a prefix or an indicator, and waits for what follows."
            .to_owned(),
    }
}

/// The short form of the same ladder, for the letters of uncontracted braille.
pub fn letter_ladder(letter: char) -> Option<String> {
    let cell = register::by_key(&format!("letter {letter}"))?.cells.first().copied()?;
    Some(match cell.order()?.0 {
        1 => "No dot 3, no dot 6: a to j.".to_owned(),
        2 => "Dot 3 and not dot 6: k to t.".to_owned(),
        3 => "Dots 3 and 6: u, v, x, y or z.".to_owned(),
        _ => "Dot 6 without dot 3: only w.".to_owned(),
    })
}

fn letter_of(sign: &Sign) -> Option<char> {
    sign.print.chars().next().filter(|_| sign.class == crate::ueb::Class::Letter)
}

/// A sign's meaning in plain words, with its section.
pub fn meaning(sign: &Sign) -> String {
    let what = if sign.class.is_contraction() || sign.class == crate::ueb::Class::Letter {
        format!("{}: {}", sign.class.name(), sign.print)
    } else {
        sign.name.to_owned()
    };
    format!("{what} (section {}).", sign.section)
}

/// What a sign that UEB dropped says.
fn older_meaning(cells: &[Cell], piece: &Piece) -> String {
    let sign = &cells[piece.cells.clone()];
    let named = |(of, _, _, section): &(&[Cell], &str, &str, &str)| *of == sign && *section == piece.section;
    let says = match older_signs().find(named) {
        Some((_, print, place, _)) => format!("“{}”, {place}", print.trim()),
        None if piece.print.is_empty() => "an indicator".to_owned(),
        None => "a word that touches the next".to_owned(),
    };
    format!(
        "An older sign, which Unified English Braille has given up: {says} ({}).",
        of_section(piece.section)
    )
}

/// "section 1.3.2", or "from memory".
pub fn of_section(section: &str) -> String {
    if section.starts_with(|c: char| c.is_ascii_digit()) {
        format!("section {section}")
    } else {
        section.to_owned()
    }
}

fn place(cells: &[Cell], at: usize) -> String {
    let before = at.checked_sub(1).map(|n| cells[n]);
    let after = cells.get(at + 1).copied();
    let open = before.is_none_or(Cell::is_blank);
    let close = after.is_none_or(Cell::is_blank);
    let text = match (open, close) {
        _ if cells[at].is_blank() => "It parts two words.",
        (true, true) => "It stands alone between spaces: a letter here is usually a whole word.",
        (true, false) if at == 0 => "It opens the line: a sentence usually opens with a capital.",
        (true, false) => "It opens a word: indicators, opening marks and first syllables stand here.",
        (false, true) if after.is_none() => "It ends the line: a sentence usually ends with a stop.",
        (false, true) => "It ends a word: endings and closing marks stand here.",
        (false, false) => "It stands inside a word: letters and groupsigns stand here.",
    };
    text.to_owned()
}

fn neighbours(cells: &[Cell], at: usize, pieces: &[Piece]) -> String {
    let Some(index) = pieces.iter().position(|piece| piece.cells.contains(&at)) else {
        return "Nothing before it changes what it says.".to_owned();
    };
    let piece = &pieces[index];
    if piece.cells.len() > 1 {
        let from = piece.cells.start;
        let first = cells[from].dot_numbers();
        return if at == from {
            format!("It belongs together with the {} after it.", cells_word(piece.cells.len() - 1))
        } else {
            format!("It belongs together with dots {first} before it.")
        };
    }
    let word_start = cells[..at].iter().rposition(|cell| cell.is_blank()).map_or(0, |n| n + 1);
    let inside: Vec<&Piece> = pieces[..index].iter().filter(|p| p.cells.start >= word_start).collect();
    let sign_of = |p: &&Piece| p.sign.map(register::get);
    if inside.iter().filter_map(sign_of).any(|sign| sign.key.starts_with("numeric indicator")) {
        return "It follows a numeric indicator in the same word: a to j are digits there.".to_owned();
    }
    match inside.last().and_then(sign_of) {
        Some(sign) if sign.class == crate::ueb::Class::Indicator => {
            format!("It follows an indicator: {}.", sign.name)
        }
        Some(sign) if sign.class == crate::ueb::Class::Punctuation => {
            format!("It follows a punctuation mark: {}.", sign.name)
        }
        Some(_) => "It follows a sign of the same word.".to_owned(),
        None => "Nothing before it in its word changes what it says.".to_owned(),
    }
}

fn cells_word(count: usize) -> String {
    if count == 1 { "cell".to_owned() } else { format!("{count} cells") }
}

/// The clues for one cell of a line, from the vaguest to its meaning. `pieces` is the line's reading; with none, the
/// meanings that its shape can have are named. A letter of uncontracted braille has the short form of the ladder. Empty
/// when `at` is outside the line.
pub fn for_cell(cells: &[Cell], at: usize, pieces: &[Piece], contracted: bool) -> Vec<Clue> {
    let Some(&cell) = cells.get(at) else { return Vec::new() };
    let piece = pieces.iter().find(|piece| piece.cells.contains(&at));
    let says = match piece.and_then(|piece| piece.sign) {
        Some(sign) => meaning(register::get(sign)),
        None if piece.is_some_and(|piece| piece.remark == Remark::Older) => {
            piece.map(|piece| older_meaning(cells, piece)).unwrap_or_default()
        }
        None => {
            let names: Vec<&str> = register::by_cells(&[cell])
                .filter(|sign| super::units::unit_of(sign.key).is_some())
                .map(|sign| sign.name)
                .collect();
            if names.is_empty() {
                "No rule gives it a meaning here.".to_owned()
            } else {
                format!("By its shape it can be: {}.", names.join("; "))
            }
        }
    };
    let sign = piece.and_then(|piece| piece.sign).map(register::get);
    let letter = sign.filter(|sign| !contracted && sign.cells == [cell]).and_then(letter_of);
    let line = letter.and_then(letter_ladder).unwrap_or_else(|| line_of_order(cell));
    vec![
        clue(Step::Dots, where_dots_lie(cell)),
        clue(Step::Line, line),
        clue(Step::Place, place(cells, at)),
        clue(Step::Neighbours, neighbours(cells, at, pieces)),
        clue(Step::Numbers, format!("Its dot numbers: {}.", cell.dot_numbers())),
        clue(Step::Meaning, says),
    ]
}

/// The clues for a sign that is asked on its own.
pub fn for_sign(sign: &Sign) -> Vec<Clue> {
    let mut clues: Vec<Clue> = Vec::new();
    let each = |say: fn(Cell) -> String| {
        sign.cells.iter().map(|cell| say(*cell)).collect::<Vec<_>>().join(" Then: ")
    };
    clues.push(clue(Step::Dots, each(where_dots_lie)));
    // Letters have the short form of the ladder.
    let line = letter_of(sign).and_then(letter_ladder).unwrap_or_else(|| each(line_of_order));
    clues.push(clue(Step::Line, line));
    clues.push(clue(Step::Place, format!("It is a {}.", sign.class.name())));
    clues.push(clue(
        Step::Numbers,
        format!(
            "Its dot numbers: {}.",
            sign.cells.iter().map(|c| c.dot_numbers()).collect::<Vec<_>>().join(", ")
        ),
    ));
    clues.push(clue(Step::Meaning, meaning(sign)));
    clues
}

/// A cell copied from paper: the dots that are surely there, and those that may be.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Doubtful {
    /// Surely raised.
    pub sure: Cell,
    /// Perhaps raised.
    pub perhaps: Cell,
}

/// The most doubtful dots for which every reading is listed; more are cut off from the right.
pub const MOST_DOUBTS: usize = 8;

/// Every reading that fits cells copied from paper with doubt, as cells and print, the likely ones first: by how often its
/// words stand in running English, a word that is cut off at an end of the cells by the words that it may be a part of.
/// Readings with a cell that no rule gives a meaning to come last.
pub fn readings(line: &[Doubtful], options: &ReadOptions, likely: &Likely) -> Vec<(Vec<Cell>, String)> {
    let doubts: Vec<(usize, u8)> = line
        .iter()
        .enumerate()
        .flat_map(|(n, cell)| {
            (0..6)
                .filter(move |bit| cell.perhaps.bits() & !cell.sure.bits() & (1 << bit) != 0)
                .map(move |bit| (n, bit))
        })
        .take(MOST_DOUBTS)
        .collect();
    let mut scale = likely.scale();
    let mut found: Vec<(bool, u32, Vec<Cell>, String)> = (0..1u32 << doubts.len())
        .map(|choice| {
            let mut bits: Vec<u8> = line.iter().map(|cell| cell.sure.bits()).collect();
            for (k, (n, bit)) in doubts.iter().enumerate() {
                bits[*n] |= u8::from(choice & (1 << k) != 0) << bit;
            }
            let cells: Vec<Cell> = bits.into_iter().filter_map(Cell::from_bits).collect();
            let reading = read(&cells, options);
            let unknown =
                reading.pieces.iter().any(|piece| matches!(piece.remark, Remark::Unknown | Remark::Waiting));
            (unknown, scale.weight(&reading.print), cells, reading.print)
        })
        .collect();
    crate::order::sort(&mut found);
    found.into_iter().map(|(_, _, cells, print)| (cells, print)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::units::units;

    #[test]
    fn every_cell_of_64_has_true_clues() {
        for cell in Cell::all() {
            let text = where_dots_lie(cell);
            assert_eq!(text.contains("right column only"), cell.bits() != 0 && cell.bits() & 7 == 0);
            let line = line_of_order(cell);
            let has = |bits: u8| cell.bits() & bits != 0;
            // The lines by their dots, as section 1.1.2 describes them.
            if line.contains("first line, a to j") {
                assert!(!has(0o44) && has(0o11));
            }
            if line.contains("second line") {
                assert!(has(4) && !has(0o40));
            }
            if line.contains("third line") {
                assert!(has(4) && has(0o40));
            }
            if line.contains("fourth line") {
                assert!(!has(4) && has(0o40));
            }
            if line.contains("fifth line") {
                assert!(!has(0o11));
            }
            assert_eq!(line.contains("seventh line"), has(0o70) && !has(7));
            assert_eq!(for_cell(&[cell], 0, &[], true).len(), 6);
        }
    }

    #[test]
    fn every_sign_of_the_course_has_clues_that_end_in_its_meaning() {
        for key in units().iter().flat_map(|unit| &unit.signs) {
            let sign = register::by_key(key).unwrap();
            let clues = for_sign(sign);
            let last = clues.last().unwrap();
            assert_eq!(last.step, Step::Meaning);
            assert!(last.text.contains(sign.section), "{key}");
            assert!(
                last.text.contains(if sign.class.is_contraction() { sign.print } else { sign.name })
                    || sign.print.len() == 1
                    || last.text.contains(sign.print)
            );
            for clue in &clues[..clues.len() - 2] {
                assert!(!clue.text.is_empty());
            }
        }
    }

    /// The letters' dots (section 4.1): a to j have neither dot 3 nor dot 6, k to t dot 3, u v x y z dots 3 and 6, w dot 6.
    #[test]
    fn letters_of_uncontracted_braille_have_the_short_ladder() {
        for letter in 'a'..='z' {
            let cells = [Cell::from_ascii(letter).unwrap()];
            let uncontracted = ReadOptions { contracted: false, ..ReadOptions::default() };
            let clues = for_cell(&cells, 0, &read(&cells, &uncontracted).pieces, false);
            let says = match letter {
                'a'..='j' => "No dot 3, no dot 6: a to j.",
                'k'..='t' => "Dot 3 and not dot 6: k to t.",
                'w' => "Dot 6 without dot 3: only w.",
                _ => "Dots 3 and 6: u, v, x, y or z.",
            };
            assert_eq!(clues[1].text, says, "{letter}");
            let dots: Vec<u8> = cells[0].dots().collect();
            let bottom = (dots.contains(&3), dots.contains(&6));
            assert_eq!(
                bottom,
                match letter {
                    'a'..='j' => (false, false),
                    'k'..='t' => (true, false),
                    'w' => (false, true),
                    _ => (true, true),
                }
            );
            // In contracted braille the same cell may be a whole word: the whole ladder holds.
            let clues = for_cell(&cells, 0, &read(&cells, &ReadOptions::default()).pieces, true);
            assert!(clues[1].text.contains("line"), "{}", clues[1].text);
        }
    }

    /// Every sign of the course met in a line: its clues end in the meaning that the line's reading gives it.
    #[test]
    fn clues_in_a_line_end_in_what_the_line_says_there() {
        for key in units().iter().flat_map(|unit| &unit.signs) {
            let sign = register::by_key(key).unwrap();
            let cells = [&[Cell::BLANK][..], &sign.cells, &[Cell::BLANK]].concat();
            let reading = read(&cells, &ReadOptions::default());
            for at in 1..=sign.cells.len() {
                let clues = for_cell(&cells, at, &reading.pieces, true);
                assert_eq!(clues.last().unwrap().step, Step::Meaning, "{key}");
                let piece = reading.pieces.iter().find(|piece| piece.cells.contains(&at));
                if let Some(said) = piece.and_then(|piece| piece.sign).map(register::get) {
                    assert_eq!(clues.last().unwrap().text, meaning(said), "{key}");
                }
            }
        }
    }

    #[test]
    fn a_doubtful_dot_gives_both_readings() {
        let cell = |text| Cell::from_dot_numbers(text).unwrap();
        let line = [Doubtful { sure: cell("1"), perhaps: cell("4") }];
        let uncontracted = ReadOptions { contracted: false, ..ReadOptions::default() };
        let found = readings(&line, &uncontracted, &Likely::default());
        let prints: Vec<&str> = found.iter().map(|(_, print)| print.as_str()).collect();
        assert_eq!(found.len(), 2);
        assert!(prints.contains(&"a") && prints.contains(&"c"));
    }

    /// The clue for an older sign says that it is one, and what it said.
    #[test]
    fn the_meaning_of_an_older_sign_says_that_it_is_one() {
        for (braille, at, says) in
            [("ta#", 2, "“ble”, after letters (section 1.3.2)"), (".sea", 0, "an indicator (section 1.3.4)")]
        {
            let cells = crate::cell::from_ascii(braille).unwrap();
            let reading = read(&cells, &ReadOptions { older: true, ..ReadOptions::default() });
            let clues = for_cell(&cells, at, &reading.pieces, true);
            let last = &clues.last().unwrap().text;
            assert!(last.starts_with("An older sign") && last.contains(says), "{last}");
        }
    }

    /// Three dots of a cell of each word of the shelf's sentences are doubtful, one word a paragraph and nothing around it: what it is
    /// stands first in two of three (by cell number in one of four), and among the first three in nine of ten. (The texts are this project's own, so the
    /// figures hold for plain English.)
    #[test]
    fn the_likely_reading_of_a_doubtful_word_stands_first() {
        let list =
            std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/www/data/often.txt")).unwrap();
        let (likely, none) = (Likely::parse(&list), Likely::default());
        let mut chance = fastrand::Rng::with_seed(7);
        let (mut tried, mut first, mut third, mut by_number) = (0, 0, 0, 0);
        for (_, book) in crate::practice::shelf::tests::shelf() {
            let options = ReadOptions { contracted: book.head.contracted, ..ReadOptions::default() };
            let written =
                crate::ueb::Options { contracted: book.head.contracted, ..crate::ueb::Options::default() };
            for piece in book.pieces().take(6).filter(|piece| !piece.print.contains(['*', '<', '^', '_'])) {
                let words: Vec<&str> = piece.print.split_whitespace().collect();
                let word = words[chance.usize(..words.len())];
                let cells = crate::ueb::transcribe(word, &written);
                // Three doubtful dots in one cell, raised or not.
                let at = chance.usize(..cells.len());
                let mut line: Vec<Doubtful> =
                    cells.iter().map(|cell| Doubtful { sure: *cell, perhaps: Cell::BLANK }).collect();
                let bits = (0..3).fold(0u8, |bits, _| bits | 1 << chance.u8(..6));
                line[at] = Doubtful {
                    sure: Cell::from_bits(cells[at].bits() & !bits).unwrap(),
                    perhaps: Cell::from_bits(bits).unwrap(),
                };
                let place = |likely: &Likely| {
                    readings(&line, &options, likely).iter().position(|(of, _)| *of == cells).unwrap()
                };
                tried += 1;
                first += usize::from(place(&likely) == 0);
                third += usize::from(place(&likely) < 3);
                by_number += usize::from(place(&none) == 0);
            }
        }
        println!("{tried} words: {first} first, {third} among three; by cell number {by_number}");
        assert!(
            tried > 250 && first * 100 >= tried * 65 && third * 100 >= tried * 90,
            "{first}, {third} of {tried}"
        );
        assert!(first > by_number * 2, "{by_number} by cell number");
    }
}
