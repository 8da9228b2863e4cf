//! The cell against what others say of it.

use cellwright::cell::{Cell, from_ascii};
use cellwright::ueb::{self, Options};

fn dots(numbers: &str) -> Cell {
    Cell::from_dot_numbers(numbers).unwrap()
}

/// Source: the Unicode names of U+2800 to U+283F, as the crate unicode_names2 has them.
#[test]
fn unicode_names_say_the_dots() {
    for code in 0x2800..=0x283F {
        let character = char::from_u32(code).unwrap();
        let name = unicode_names2::name(character).unwrap().to_string();
        let cell = Cell::from_unicode(character).unwrap();
        let expected = match name.strip_prefix("BRAILLE PATTERN DOTS-") {
            Some(numbers) => numbers.chars().map(String::from).collect::<Vec<_>>().join("-"),
            None => {
                assert_eq!(name, "BRAILLE PATTERN BLANK");
                "blank".to_owned()
            }
        };
        assert_eq!(cell.dot_numbers(), expected, "{name}");
        assert_eq!(cell.to_unicode(), character);
    }
    assert_eq!(Cell::from_unicode('\u{2840}'), None, "dot 7 is no dot of a six-dot cell");
}

/// Common practice: a to j lie in the top two rows; plus dot 3, k to t; plus dots 3 and 6, u v x y z; w stands apart.
#[test]
fn letters_stand_in_lines() {
    let letter = |c| Cell::from_ascii(c).unwrap();
    let first: Vec<Cell> = ('a'..='j').map(letter).collect();
    for (at, &cell) in first.iter().enumerate() {
        assert!(!cell.rows()[2]);
        let below = |extra: &str| Cell::from_bits(cell.bits() | dots(extra).bits()).unwrap();
        assert_eq!(below("3"), letter((b'k' + at as u8) as char));
        if let Some(c) = "uvxyz".chars().nth(at) {
            assert_eq!(below("3-6"), letter(c));
        }
    }
    assert_eq!(letter('w'), dots("2-4-5-6"));
}

/// Common practice: capital indicator dot 6, numeric indicator dots 3-4-5-6, full stop dots 2-5-6, "in" dots 3-5, "one"
/// dot 5 and o; a hyphen ends numeric mode.
#[test]
fn signs_everyone_knows() {
    let written = |print: &str| ueb::transcribe(print, &Options::default());
    assert_eq!(written("Ferry")[0], dots("6"));
    assert_eq!(written("1"), [dots("3-4-5-6"), dots("1")]);
    assert_eq!(written("cat.")[3], dots("2-5-6"));
    assert_eq!(written("in"), [dots("3-5")]);
    assert_eq!(written("one"), [dots("5"), dots("1-3-5")]);
    assert_eq!(written("1-2"), [dots("3-4-5-6"), dots("1"), dots("3-6"), dots("3-4-5-6"), dots("1-2")]);
}

/// Common practice: both letter cases, and the twins of `[ \ ] ^ @`.
#[test]
fn twins_are_read() {
    assert_eq!(from_ascii("{|}~`AZ"), from_ascii("[\\]^@az"));
    assert_eq!(dots("1-5").mirror(), dots("2-4"));
}
