//! Whether a book is what its head says: its signs by unit, its length, how often its new signs stand.

use std::collections::HashMap;
use std::fmt;

use super::{Book, Kind, Piece};
use crate::practice::units;
use crate::ueb::{self, Options, ReadOptions, register};

/// What is wrong with a book.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// A sign that is taught after the book's unit, or by no unit (then `unit` is `None`).
    TooEarly {
        /// The line of the file.
        line: usize,
        /// The word it stands in.
        word: String,
        /// Its key.
        sign: &'static str,
        /// The unit that teaches it.
        unit: Option<&'static str>,
    },
    /// A character that no sign stands for, with its line.
    NoSign(usize, char),
    /// A line whose braille does not read back to it.
    NotReadBack(usize),
    /// A sign of the book's unit that stands too seldom: how often, and how often it should.
    Seldom(&'static str, usize, usize),
    /// Signs of the book's unit stand too seldom taken together: how often, and how often they should.
    FewNew(usize, usize),
    /// Too few or too many words.
    Length(usize, (usize, usize)),
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::TooEarly { line, word, sign, unit } => {
                write!(f, "line {line}: \"{word}\" has {sign}, of {}", unit.unwrap_or("no unit"))
            }
            Fault::NoSign(line, character) => write!(f, "line {line}: no sign stands for '{character}'"),
            Fault::NotReadBack(line) => write!(f, "line {line}: its braille does not read back to it"),
            Fault::Seldom(sign, count, wanted) => {
                write!(f, "{sign} stands {count} times, and should {wanted} times")
            }
            Fault::FewNew(count, wanted) => {
                write!(f, "signs of its unit stand {count} times, and should {wanted} times")
            }
            Fault::Length(count, (least, most)) => {
                write!(f, "it has {count} words, and should have {least} to {most}")
            }
        }
    }
}

/// How often the new signs of a book stand at least, taken together.
const NEW_SIGNS: usize = 5;

/// How often each new sign of an early reader stands at least, by how many there are.
fn each_of(new_signs: usize) -> usize {
    if new_signs > 10 { 3 } else { 5 }
}

/// Everything that is wrong with a book, by line, then as a whole.
pub fn check(book: &Book) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut uses: HashMap<&'static str, usize> = HashMap::new();
    for piece in book.pieces() {
        check_piece(book, &piece, &mut uses, &mut faults);
    }
    let unit = &units::units()[book.head.after];
    let count = |key: &str| uses.get(key).copied().unwrap_or(0);
    if book.head.kind == Kind::Early {
        let wanted = each_of(unit.signs.len());
        let seldom = unit.signs.iter().filter(|key| count(key) < wanted);
        faults.extend(seldom.map(|key| Fault::Seldom(key, count(key), wanted)));
    }
    let new: usize = unit.signs.iter().map(|key| count(key)).sum();
    // A unit of rules alone has no signs of its own.
    if !unit.signs.is_empty() && new < NEW_SIGNS {
        faults.push(Fault::FewNew(new, NEW_SIGNS));
    }
    let (least, most) = book.head.kind.words();
    if !(least..=most).contains(&book.words()) {
        faults.push(Fault::Length(book.words(), (least, most)));
    }
    faults
}

fn check_piece(book: &Book, piece: &Piece, uses: &mut HashMap<&'static str, usize>, faults: &mut Vec<Fault>) {
    let options = Options { contracted: book.head.contracted, marks: true, ..Options::default() };
    let explained = ueb::explain(piece.print, &options);
    faults.extend(explained.unhandled.iter().map(|lost| Fault::NoSign(piece.line, lost.character)));
    for used in &explained.signs {
        let key = register::get(used.sign).key;
        if key == "space" {
            continue;
        }
        *uses.entry(key).or_default() += 1;
        let unit = units::unit_of(key);
        if unit.is_none_or(|unit| unit > book.head.after) {
            faults.push(Fault::TooEarly {
                line: piece.line,
                word: word_at(piece.print, used.print.start),
                sign: key,
                unit: unit.map(|unit| units::units()[unit].id),
            });
        }
    }
    let back =
        ReadOptions { contracted: book.head.contracted, older: false, marks: true, ..ReadOptions::default() };
    if ueb::transcribe(&ueb::read_print(&explained.cells, &back), &options) != explained.cells {
        faults.push(Fault::NotReadBack(piece.line));
    }
}

/// The word around a place, in characters.
fn word_at(print: &str, at: usize) -> String {
    let chars: Vec<char> = print.chars().collect();
    let at = at.min(chars.len());
    let from = chars[..at].iter().rposition(|c| c.is_whitespace()).map_or(0, |n| n + 1);
    let to = chars[at..].iter().position(|c| c.is_whitespace()).map_or(chars.len(), |n| at + n);
    chars[from..to].iter().collect()
}

/// How many words make a sentence a long one.
const LONG: usize = 15;

/// The sentences of fifteen words or more, in small letters and without their marks, each with its line.
pub fn long_sentences(book: &Book) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    for piece in book.pieces() {
        for sentence in piece.print.split(['.', '!', '?']) {
            let plain = sentence.to_lowercase().replace(|c: char| !c.is_alphanumeric() && c != '\'', " ");
            let words: Vec<&str> = plain.split_whitespace().collect();
            if words.len() >= LONG {
                found.push((piece.line, words.join(" ")));
            }
        }
    }
    found
}
