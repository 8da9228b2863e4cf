//! Signs of American books made before 2016 that UEB dropped (section 1.3), read from `older.tsv`. They are read
//! only when asked for, each is flagged, and none is ever produced.

use std::sync::OnceLock;

use super::number::digit;
use super::tables;
use super::typeforms;
use super::word::{Before, Word};
use crate::cell::Cell;
use crate::ueb::Remark;

/// What the section does not say.
const MEMORY: &str = "from memory";

/// Where an older sign stands: see the head of `older.tsv`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Place {
    Whole,
    Start,
    Inside,
    After,
    Begin,
    Number,
    Open,
    Close,
    Figure,
    Figures,
    Any,
}

impl Place {
    fn named(name: &str) -> Option<Place> {
        Some(match name {
            "whole" => Place::Whole,
            "start" => Place::Start,
            "inside" => Place::Inside,
            "after" => Place::After,
            "begin" => Place::Begin,
            "number" => Place::Number,
            "open" => Place::Open,
            "close" => Place::Close,
            "figure" => Place::Figure,
            "figures" => Place::Figures,
            "any" => Place::Any,
            _ => return None,
        })
    }
}

impl Place {
    /// Where such a sign stood, in plain words.
    fn words(self) -> &'static str {
        match self {
            Place::Whole => "standing alone",
            Place::Start => "before a word, with no space",
            Place::Inside => "between letters",
            Place::After => "after letters",
            Place::Begin => "at the beginning of a word",
            Place::Number => "before a number",
            Place::Open => "before a word or number",
            Place::Close => "after a word or number",
            Place::Figure => "between digits",
            Place::Figures => "after a number",
            Place::Any => "anywhere",
        }
    }
}

/// The older signs, for people to look up: cells, print, where they stood, and the section that says so.
pub fn older_signs() -> impl Iterator<Item = (&'static [Cell], &'static str, &'static str, &'static str)> {
    signs().iter().map(|old| (old.cells.as_slice(), old.print, old.place.words(), old.section))
}

struct Old {
    cells: Vec<Cell>,
    print: &'static str,
    place: Place,
    section: &'static str,
}

fn is_note(line: &str) -> bool {
    line.starts_with("# ")
}

fn signs() -> &'static [Old] {
    static SIGNS: OnceLock<Vec<Old>> = OnceLock::new();
    SIGNS.get_or_init(|| {
        let mut signs: Vec<Old> = include_str!("older.tsv")
            .lines()
            .filter(|line| !is_note(line))
            .filter_map(|line| {
                let mut fields = line.split('\t');
                let (cells, print) = (fields.next()?, fields.next()?);
                let (place, section) = (Place::named(fields.next()?)?, fields.next()?);
                Some(Old { cells: tables::cells(cells), print, place, section })
            })
            .collect();
        crate::order::sort_by_key(&mut signs, |old| std::cmp::Reverse(old.cells.len()));
        signs
    })
}

/// The words that were written unspaced from one another (1.3.1).
const WORDS: [(u8, &str); 6] =
    [(b'&', "and"), (b'=', "for"), (b'(', "of"), (b'!', "the"), (b')', "with"), (b'a', "a")];

fn word_of(cell: Cell) -> Option<&'static str> {
    WORDS.iter().find(|word| word.0 == cell.to_ascii() as u8).map(|word| word.1)
}

/// Reads an older sign where one stands; false when there is none.
pub(super) fn read(word: &mut Word<'_>) -> bool {
    if word.mode.grade1 || word.grade1_word || word.grade1_next {
        return false;
    }
    unspaced_words(word) || indicators(word) || listed(word)
}

fn unspaced_words(word: &mut Word<'_>) -> bool {
    let left = &word.cells[word.i..];
    let count = left.iter().take_while(|&&cell| word_of(cell).is_some()).take(6).count();
    let letters_a = left[..count].iter().filter(|cell| cell.to_ascii() == 'a').count();
    if !word.lead || word.numeric || count < 2 || letters_a > 1 || !word.free_after(word.i + count) {
        return false;
    }
    for k in 0..count {
        let name = word_of(word.cells[word.i]).unwrap_or_default();
        let text = if k + 1 < count { format!("{name} ") } else { name.to_owned() };
        put(word, 1, &text, "1.3.1", true);
        word.capitals_word &= k + 1 < count;
    }
    true
}

/// The italic signs, the accent sign and the sign of a letter that is not Latin (1.3.4). That the italic sign before a
/// word ends a passage with that word is from memory.
fn indicators(word: &mut Word<'_>) -> bool {
    let (i, letters) = (word.i, |at: usize| letters_follow(word, at));
    let mut doubled = false;
    if word.at(i) == b',' && word.lead && touches(word, i + 1) {
        word.indicator(1, word.t.keys.capital, "8.3");
        word.capital_next = true;
        return true;
    }
    let len = match word.at(i) {
        b'.' if word.lead && word.at(i + 1) == b'.' && letters(i + 2) => {
            doubled = true;
            2
        }
        b'.' if word.lead && letters(i + 1) => 1,
        b'@' if word.plain_letter_at(i + 1)
            && (word.before == Before::Letter || word.lead && letters(i + 2)) =>
        {
            1
        }
        b'1' if word.lead && word.plain_letter_at(i + 1) && word.free_after(i + 2) => 1,
        _ => return false,
    };
    if word.at(i) == b'.' {
        let extent = if doubled { typeforms::Extent::Passage } else { typeforms::Extent::Word };
        word.open_italic(extent);
    }
    word.out.put(i, i + len, "", None, "1.3.4", Remark::Older);
    word.i += len;
    true
}

/// An older sign that begins with a word stands at `i`, and a word or number follows.
fn touches(word: &Word<'_>, i: usize) -> bool {
    signs().iter().any(|old| {
        let next = i + old.cells.len();
        matches!(old.place, Place::Start | Place::Begin)
            && word.matches(i, &old.cells)
            && (letters_follow(word, next) || word.at(next) == b'#')
    })
}

fn listed(word: &mut Word<'_>) -> bool {
    let (i, lead, in_number) = (word.i, word.lead, word.numeric || word.grade1_number);
    let letter = word.before == Before::Letter;
    let left = &word.cells[i..];
    let found = signs().iter().find(|old| {
        if !left.starts_with(&old.cells) {
            return false;
        }
        let next = i + old.cells.len();
        let (letters, number) = (letters_follow(word, next), word.at(next) == b'#');
        let figures = word.before == Before::Digit;
        match old.place {
            Place::Figure => figures && digit(word.at(next)).is_some(),
            Place::Figures => figures && word.free_after(next),
            Place::Close => !lead && !letters && !number && (letter || figures || !word.clear),
            Place::Any => true,
            _ if in_number => false,
            Place::Whole => lead && word.free_after(next),
            Place::Number => lead && number,
            Place::Start => lead && (letters || number || word.at(next) == b'.'),
            Place::Open => lead && (letters || number),
            Place::Begin => lead && (i == 0 || word.capital_next) && letters,
            Place::Inside => letter && letters,
            Place::After => letter && !is_capital(word, old) && !is_number(word, old, next),
        }
    });
    let Some(old) = found else { return false };
    let numeric = word.numeric;
    let letters =
        matches!(old.place, Place::Whole | Place::Inside | Place::After | Place::Begin | Place::Figures)
            && old.print.starts_with(|c: char| c.is_alphabetic());
    put(word, old.cells.len(), old.print, old.section, letters);
    if old.place == Place::Figure {
        word.numeric = numeric;
        word.before = Before::Digit;
    }
    true
}

/// Letters follow at `i`, with capitals before them or without.
fn letters_follow(word: &Word<'_>, mut i: usize) -> bool {
    // No word has more capital signs than these.
    for _ in 0..3 {
        i += usize::from(word.at(i) == b',');
    }
    word.letters_at(i)
}

/// Dot 6 with n or y after letters that no English word ends so: the capital of a name (McNeil, MacNab).
fn is_capital(word: &Word<'_>, old: &Old) -> bool {
    if word.at(word.i) != b',' || old.cells.len() != 2 {
        return false;
    }
    let before = &word.cells[..word.i];
    let start =
        before.iter().rposition(|cell| !(cell.to_ascii().is_ascii_lowercase())).map_or(0, |at| at + 1);
    let letters: String = before[start..].iter().map(|cell| cell.to_ascii()).collect();
    let capital = start > 0 && word.at(start - 1) == b',';
    capital
        && (letters == "mac"
            || !letters.contains(['a', 'e', 'i', 'o', 'u', 'y']) && letters.len() == before.len() - 1)
}

/// A number after a single capital letter, or after capitals: no "ble".
fn is_number(word: &Word<'_>, old: &Old, next: usize) -> bool {
    let capital = word.capitals_word || word.mode.capitals || word.i >= 2 && word.at(word.i - 2) == b',';
    let end = (next..next + 8).find(|&k| digit(word.at(k)).is_none()).unwrap_or(next);
    old.print == "ble" && capital && end > next && word.free_after(end)
}

/// An older sign's print.
fn put(word: &mut Word<'_>, len: usize, print: &str, section: &'static str, letters: bool) {
    let (lead, clear, numeric) = (word.lead, word.clear, word.numeric);
    let all = word.capitals_word || word.mode.capitals;
    let text = if all || word.capital_next { super::word::capitals(print, all) } else { print.to_owned() };
    word.out.put(word.i, word.i + len, &text, None, section, Remark::Older);
    word.i += len;
    word.after(if letters { Before::Letter } else { Before::Other });
    // What opens, and the words that touch the next, let the next stand alone.
    let opens = !letters && (lead || print == "—");
    (word.lead, word.clear, word.numeric) = (opens, opens && clear, numeric && section == MEMORY && !letters);
    word.opened = opens;
}
