//! Print characters to symbols: what each character is, and the sign it takes (sections 3, 4, 6 and 7).

use super::super::composed::{DOUBLE, STRUCK, VULGAR, level, spelled};
use super::super::register;
use super::super::{letter_case, marked};
use super::characters::{modifier, signs};
use super::known::{digit, id, known};
use super::symbols::{Kind, Symbol, TIES, unseen};
use super::technical;

/// Reads a character that stands at a place of the print: appends its symbols, or joins it to those before. False, and
/// nothing done, where it is none of the characters that this reading is for.
type Reading = fn(&mut Vec<Symbol>, char, usize) -> bool;

/// The readings of a character, in their order: the first that knows it counts.
const READINGS: [Reading; 19] = [
    digits,
    blank,
    |out, c, _| row(out, c),
    figure,
    stress,
    own_sign,
    vulgar_fraction,
    raised_or_lowered,
    |out, c, _| mark_over_two(out, c),
    |out, c, _| tie(out, c),
    struck_through,
    combining_mark,
    joined_letters,
    row_of_others,
    wide,
    stroked,
    capital,
    accented,
    not_seen,
];

/// Appends the symbols of one character; combining marks join the letter before.
pub(crate) fn push(out: &mut Vec<Symbol>, c: char, at: usize) {
    if c.is_ascii_lowercase() {
        return out.push(Symbol::new(Kind::Letter, c, register::letter(c), at));
    }
    if c.is_ascii_uppercase() {
        let small = c.to_ascii_lowercase();
        let letter = Symbol::new(Kind::Letter, small, register::letter(small), at);
        return out.push(Symbol { upper: true, ..letter });
    }
    if c == ' ' {
        return out.push(Symbol::new(Kind::Space, c, known().space, at));
    }
    if !READINGS.iter().any(|read| read(out, c, at)) {
        out.push(Symbol::new(Kind::Unhandled, c, known().unhandled, at));
    }
}

fn digits(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    if !c.is_ascii_digit() {
        return false;
    }
    let fresh = out.last().is_some_and(|s| s.kind == Kind::Digit && s.len == 0);
    out.push(Symbol { fresh, ..Symbol::new(Kind::Digit, c, digit(c), at) });
    true
}

/// Spaces of every width; one that does not break may separate the parts of a number (6.6).
fn blank(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let numeric = matches!(c, '\u{a0}' | '\u{202f}' | '\u{2009}' | '\u{2007}' | '\u{2008}' | '\u{200a}')
        && out.last().is_some_and(|s| s.kind == Kind::Digit);
    if c.is_whitespace() {
        let kind = if numeric { Kind::NumericSpace } else { Kind::Space };
        out.push(Symbol::new(kind, ' ', known().space, at));
    }
    c.is_whitespace()
}

/// One dash or low line in braille for a row of them in print (7.2.3, 7.2.4).
fn row(out: &mut [Symbol], c: char) -> bool {
    let before = out.last_mut().filter(|s| matches!(c, '—' | '_') && s.ch == c && s.kind != Kind::Letter);
    before.is_some_and(lengthened)
}

/// Takes one more character into a symbol.
fn lengthened(symbol: &mut Symbol) -> bool {
    symbol.len += 1;
    true
}

/// Arrows and shapes (11.6, 11.7).
fn figure(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let Some(figure) = technical::figure(c) else { return false };
    out.push(Symbol::new(Kind::Other, c, figure.signs[0], at));
    true
}

/// An acute accent by itself: after a letter it marks a stress; before one it would be read as that letter's accent.
fn stress(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let stress = c == '´' && out.last().is_some_and(|s| s.kind == Kind::Letter);
    if stress {
        out.push(Symbol::new(Kind::Other, 'ˈ', known().stress, at));
    }
    stress
}

/// A character for which there is a sign.
fn own_sign(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let Some(&(kind, sign)) = signs().get(&c) else { return false };
    out.push(Symbol::new(kind, c, sign, at));
    true
}

/// A fraction of one character is written as its numerator, the line and its denominator (11.3.1).
fn vulgar_fraction(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let Some((_, text)) = VULGAR.iter().find(|v| v.0 == c) else { return false };
    for (i, d) in text.chars().enumerate() {
        let (kind, sign) =
            if d == '/' { (Kind::FractionLine, known().fraction) } else { (Kind::Digit, digit(d)) };
        // The whole character is its first digit's.
        let first = i == 0;
        let symbol = Symbol::new(kind, d, sign, at + usize::from(!first));
        out.push(Symbol { len: u32::from(first), fresh: first, ..symbol });
    }
    true
}

/// A raised or lowered figure is a super- or subscript (11.4); one that follows another goes into the same.
fn raised_or_lowered(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    for (set, sign) in [(level::RAISED, known().superscript), (level::LOWERED, known().subscript)] {
        let Some(place) = set.chars().position(|d| d == c) else { continue };
        let mut one = Vec::new();
        push(&mut one, level::PLAIN[place], at);
        let Some(symbol) = one.pop() else { continue };
        let joins = matches!(out.as_slice(), [_, .., end] if end.kind == Kind::IndexEnd && end.sign == sign);
        if joins {
            out.pop();
        } else {
            out.push(Symbol { len: 0, ..Symbol::new(Kind::Index, c, sign, at) });
        }
        out.push(Symbol { len: 1, ..symbol });
        out.push(Symbol { len: 0, ..Symbol::new(Kind::IndexEnd, '}', sign, at + 1) });
        return true;
    }
    false
}

/// The letter that a mark behind it belongs to.
fn last_letter(out: &mut [Symbol]) -> Option<&mut Symbol> {
    out.last_mut().filter(|s| s.kind == Kind::Letter)
}

/// A mark over two letters (4.2.5).
fn mark_over_two(out: &mut [Symbol], c: char) -> bool {
    let sign = DOUBLE.iter().find(|double| double.0 == c).and_then(|double| modifier(double.1));
    let (Some(sign), Some(last)) = (sign, last_letter(out)) else { return false };
    last.modifiers[0] = Some(sign);
    last.group = true;
    lengthened(last)
}

/// A tie joins two letters (4.3.1).
fn tie(out: &mut [Symbol], c: char) -> bool {
    let Some(last) = last_letter(out).filter(|_| TIES.contains(&c)) else { return false };
    last.ligature = true;
    lengthened(last)
}

/// A line through the sign before.
const STRIKE: char = '\u{338}';

/// A sign of comparison with a line through it, in one character or two.
fn struck_through(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    if c == STRIKE && out.last().is_some_and(|s| STRUCK.iter().any(|(_, plain)| *plain == s.ch)) {
        out.push(Symbol::new(Kind::Other, c, known().struck, at));
        return true;
    }
    let Some((_, plain)) = STRUCK.iter().find(|(struck, _)| *struck == c) else { return false };
    push(out, *plain, at);
    push(out, STRIKE, at + 1);
    if let Some(last) = out.last_mut() {
        last.len = 0;
    }
    true
}

/// An accent or other mark behind its letter (4.2); without a letter it stands by itself.
fn combining_mark(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let Some(sign) = modifier(c) else { return false };
    // One mark over both letters of a ligature that is one character (4.3.4).
    if let [.., joined, last] = out.as_mut_slice()
        && joined.ligature
        && last.at == joined.at + 1
        && let Some(slot) = joined.modifiers.iter_mut().find(|m| m.is_none())
    {
        *slot = Some(sign);
        joined.group = true;
        return lengthened(last);
    }
    if let Some(last) = last_letter(out)
        && let Some(slot) = last.modifiers.iter_mut().find(|m| m.is_none())
    {
        *slot = Some(sign);
        return lengthened(last);
    }
    out.push(Symbol::new(Kind::Other, c, sign, at));
    true
}

/// Appends the characters that one character stands for, of which the first has its place.
fn in_its_place(out: &mut Vec<Symbol>, at: usize, text: &str, each: impl Fn(&mut Symbol, bool)) {
    for (i, part) in text.chars().enumerate() {
        push(out, part, at + usize::from(i > 0));
        if let Some(symbol) = out.last_mut() {
            symbol.len = u32::from(i == 0);
            each(symbol, i == 0);
        }
    }
}

/// Letters that print joins in one character: some are ligatures (4.3), others mere type.
fn joined_letters(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let (text, ligature) = match c {
        'æ' => ("ae", true),
        'Æ' => ("AE", true),
        'œ' => ("oe", true),
        'Œ' => ("OE", true),
        'ĳ' => ("ij", true),
        'Ĳ' => ("IJ", true),
        'ﬀ' => ("ff", false),
        'ﬁ' => ("fi", false),
        'ﬂ' => ("fl", false),
        'ﬃ' => ("ffi", false),
        'ﬄ' => ("ffl", false),
        'ß' => ("ss", false),
        'ﬅ' | 'ﬆ' => ("st", false),
        _ => return false,
    };
    in_its_place(out, at, text, |symbol, first| {
        symbol.ligature = ligature && first;
        symbol.stands_in = c == 'ß';
    });
    true
}

/// A character that stands for a row of others.
fn row_of_others(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let Some(row) = spelled(c) else { return false };
    in_its_place(out, at, row, |_, _| {});
    true
}

/// Letters, digits and signs of wide print.
fn wide(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let wide = ('！'..='～').contains(&c);
    if wide {
        push(out, char::from(b'!' + (c as u32 - '！' as u32) as u8), at);
    }
    wide
}

/// Letters with a stroke through them, which no combining mark makes (4.2.1); and the i without its dot.
fn stroked(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    const SOLIDUS: &str = "modifier solidus";
    const STROKE: &str = "modifier horizontal stroke";
    let (base, key) = match c {
        'ł' => ('l', SOLIDUS),
        'Ł' => ('L', SOLIDUS),
        'ø' => ('o', SOLIDUS),
        'Ø' => ('O', SOLIDUS),
        'đ' => ('d', STROKE),
        'Đ' => ('D', STROKE),
        'ħ' => ('h', STROKE),
        'Ħ' => ('H', STROKE),
        'ŧ' => ('t', STROKE),
        'Ŧ' => ('T', STROKE),
        'ƀ' => ('b', STROKE),
        'ɨ' => ('i', STROKE),
        'ı' => ('i', ""),
        _ => return false,
    };
    push(out, base, at);
    if let (Some(symbol), false) = (out.last_mut(), key.is_empty()) {
        symbol.modifiers[0] = Some(id(key));
    }
    true
}

/// The capital of a letter that has a sign.
fn capital(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let small = letter_case::small(c);
    let Some(&(Kind::Letter, sign)) = signs().get(&small).filter(|_| small != c) else { return false };
    out.push(Symbol { upper: true, ..Symbol::new(Kind::Letter, small, sign, at) });
    true
}

/// A letter and its marks in one character, of which all have signs (4.2).
fn accented(out: &mut Vec<Symbol>, c: char, at: usize) -> bool {
    let before = out.len();
    // From the last mark to the first.
    let (mut letter, mut marks) = (c, Vec::new());
    while let Some((rest, mark)) = marked::parts(letter) {
        marks.push(mark);
        letter = rest;
    }
    if marks.is_empty() {
        return false;
    }
    push(out, letter, at);
    let ligature = out.len() == before + 2 && out[before].ligature;
    let one = (out.len() == before + 1 || ligature) && out[before].kind == Kind::Letter;
    if ligature {
        // One mark over both letters (4.3.4).
        out[before].group = true;
    }
    let known = one
        && marks.into_iter().rev().all(|mark| {
            let slot = out[before].modifiers.iter_mut().find(|m| m.is_none());
            let (Some(sign), Some(slot)) = (modifier(mark), slot) else { return false };
            *slot = Some(sign);
            true
        });
    if !known {
        out.truncate(before);
    }
    known
}

/// Characters that are not seen belong to the symbol before them.
fn not_seen(out: &mut Vec<Symbol>, c: char, _: usize) -> bool {
    if !unseen(c) {
        return false;
    }
    if let [.., inner, end] = out.as_mut_slice()
        && end.kind == Kind::IndexEnd
        && end.len == 0
    {
        end.at += 1;
        return lengthened(inner);
    }
    out.last_mut().is_some_and(lengthened)
}
