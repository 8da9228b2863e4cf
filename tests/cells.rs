//! The cell against what others say of it.

use cellwright::cell::{Cell, FONT, from_ascii};
use cellwright::ueb::{self, Options};
use read_fonts::tables::glyf::{Anchor, Glyf, Glyph};
use read_fonts::tables::loca::Loca;
use read_fonts::types::GlyphId;
use read_fonts::{FontRef, TableProvider as _};

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

/// Source: the same names, and for how a font is read the crate read-fonts. Dots 1 2 3 go down the left column, 4 5 6 down the
/// right one (section 2.1), a thousand units apart; a cell is as wide as any other. The proportions are those of
/// Specification 800, Braille Books and Pamphlets, section 3.2 (February 2008), as in the page's stylesheet.
#[test]
fn the_font_has_the_dots_where_their_names_say() {
    let font = FontRef::new(FONT).unwrap();
    let (cmap, loca, glyf) = (font.cmap().unwrap(), font.loca(None).unwrap(), font.glyf().unwrap());
    let (widths, em) = (font.hmtx().unwrap(), font.head().unwrap().units_per_em());
    assert_eq!(em, 4270, "from line to line: 10.0 mm to 2.34 mm between dots");
    let first = dots_of(&loca, &glyf, cmap.map_codepoint('\u{2801}').unwrap());
    for code in 0x2800..=0x283F {
        let character = char::from_u32(code).unwrap();
        let glyph = cmap.map_codepoint(character).expect("a glyph for each");
        assert_eq!(widths.advance(glyph), Some(2650), "from cell to cell: 6.2 mm to 2.34 mm between dots");
        let name = unicode_names2::name(character).unwrap().to_string();
        let numbers = name.strip_prefix("BRAILLE PATTERN DOTS-").unwrap_or_default();
        let expected: Vec<(i32, i32)> = numbers
            .chars()
            .map(|dot| dot.to_digit(10).unwrap() as i32 - 1)
            .map(|dot| (first[0].0 + 1000 * (dot / 3), first[0].1 - 1000 * (dot % 3)))
            .collect();
        assert_eq!(dots_of(&loca, &glyf, glyph), expected, "{name}");
    }
    assert_eq!(cmap.map_codepoint('\u{2840}'), None, "eight dots are no cell");
}

/// The middles of a glyph's dots: of each piece of its outline.
fn dots_of(loca: &Loca, glyf: &Glyf, glyph: GlyphId) -> Vec<(i32, i32)> {
    let composite = match loca.get_glyf(glyph, glyf).unwrap() {
        None => return Vec::new(),
        Some(Glyph::Composite(composite)) => composite,
        Some(Glyph::Simple(_)) => panic!("a cell is made of dots"),
    };
    composite
        .components()
        .map(|part| {
            let Ok(Some(Glyph::Simple(dot))) = loca.get_glyf(part.glyph, glyf) else { panic!("a dot") };
            let middle = |low: i16, high: i16| (i32::from(low) + i32::from(high)) / 2;
            let Anchor::Offset { x, y } = part.anchor else { panic!("a place") };
            (i32::from(x) + middle(dot.x_min(), dot.x_max()), i32::from(y) + middle(dot.y_min(), dot.y_max()))
        })
        .collect()
}

/// Sections 1.1.2 and 4.1: a to j have neither dot 3 nor dot 6; plus dot 3, k to t; plus dots 3 and 6, u v x y z; w is j
/// with dot 6, the last of the fourth line.
#[test]
fn letters_stand_in_lines() {
    let letter = |c| Cell::from_ascii(c).unwrap();
    let first: Vec<Cell> = ('a'..='j').map(letter).collect();
    for (at, &cell) in first.iter().enumerate() {
        assert!(!cell.has_dot(3) && !cell.has_dot(6));
        let below = |extra: &str| Cell::from_bits(cell.bits() | dots(extra).bits()).unwrap();
        assert_eq!(below("3"), letter((b'k' + at as u8) as char));
        if let Some(c) = "uvxyz".chars().nth(at) {
            assert_eq!(below("3-6"), letter(c));
        }
    }
    assert_eq!(letter('w'), Cell::from_bits(letter('j').bits() | dots("6").bits()).unwrap());
    assert_eq!(letter('w'), dots("2-4-5-6"));
}

/// Signs by the dots that their sections give them.
#[test]
fn signs_have_the_dots_of_their_sections() {
    let written = |print: &str| ueb::transcribe(print, &Options::default());
    let is = |print: &str, numbers: &str| {
        let cells: Vec<Cell> = numbers.split(' ').map(dots).collect();
        assert_eq!(written(print), cells, "{print}");
    };
    is("Gull", "6 1-2-4-5 1-3-6 1-2-3 1-2-3"); // 8.3: the capital letter
    is("8", "3-4-5-6 1-2-5"); // 6.1: the numeric indicator
    is("ebb!", "1-5 1-2 1-2 2-3-5"); // 7.1: the exclamation mark; 10.6: no bb at a word's end
    is("enough", "2-6"); // 10.5: a lower wordsign
    is("father", "5 1-2-4"); // 10.7: an initial-letter contraction
    is("7/9", "3-4-5-6 1-2-4-5 4-5-6 3-4 3-4-5-6 2-4"); // 6.3: the solidus ends numeric mode
}

/// Common practice: braille ASCII is read in both letter cases, with the twins of `[ \ ] ^ @`. Section 1.1.3: on the back
/// of the sheet left and right change places.
#[test]
fn twins_are_read() {
    assert_eq!(from_ascii("{|}~`AZ"), from_ascii("[\\]^@az"));
    assert_eq!(dots("1-2-3-6").mirror(), dots("3-4-5-6"));
}
