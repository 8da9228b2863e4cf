//! Print characters to symbols: what each character is, and the sign it takes (sections 3, 4, 6 and 7).

use super::super::composed::{DOUBLE, STRUCK, VULGAR, level, spelled};
use super::super::register::{self, Class, SignId};
use super::super::{letter_case, marked};
use super::characters::{modifier, signs};
use super::known::{digit, id, known};
use super::technical;

/// What kind of thing a symbol is, as far as the rules of placement ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A blank.
    Space,
    /// A letter with its modifiers (4.1 to 4.5).
    Letter,
    /// A digit.
    Digit,
    /// A space inside a number (6.6).
    NumericSpace,
    /// The line of a simple fraction (11.3).
    FractionLine,
    /// Opening bracket of 2.6.2.
    Open,
    /// Closing bracket of 2.6.3.
    Close,
    /// A quotation mark that opens.
    OpenQuote,
    /// A quotation mark that closes.
    CloseQuote,
    /// An apostrophe.
    Apostrophe,
    /// A hyphen.
    Hyphen,
    /// A dash of any length.
    Dash,
    /// , ; : . ! ? and the ellipsis (2.6.3).
    Stop,
    /// Any other sign.
    Other,
    /// Begin of a super- or subscript.
    Index,
    /// End of a super- or subscript.
    IndexEnd,
    /// A quotation mark or apostrophe whose kind is not settled yet.
    Quote,
    /// No sign stands for it.
    Unhandled,
}

/// One symbol of print.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Symbol {
    pub kind: Kind,
    /// The letter in lower case, or the character itself.
    pub ch: char,
    pub upper: bool,
    /// Bound to the next letter by a ligature indicator (4.3).
    pub ligature: bool,
    /// Its modifier stands over the next letter too (4.2.5).
    pub group: bool,
    pub sign: SignId,
    pub modifiers: [Option<SignId>; 3],
    /// Place and length in the print, in scalar values.
    pub at: u32,
    pub len: u32,
    /// Capitals indicator before it: 0 none, 1 letter, 2 word, 3 passage.
    pub capital: u8,
    /// A capitals terminator follows it.
    pub capital_end: bool,
    /// A digit with which a number of its own begins, right after another (11.3.2).
    pub fresh: bool,
    /// A letter put in the place of a character that has no sign; that is reported.
    pub stands_in: bool,
    /// In a foreign passage (13.2.1).
    pub foreign: bool,
}

impl Symbol {
    fn new(kind: Kind, ch: char, sign: SignId, at: usize) -> Symbol {
        Symbol {
            kind,
            ch,
            upper: false,
            ligature: false,
            group: false,
            sign,
            modifiers: [None; 3],
            at: at as u32,
            len: 1,
            capital: 0,
            capital_end: false,
            fresh: false,
            stands_in: false,
            foreign: false,
        }
    }

    /// An unmodified letter a to z.
    pub fn plain(&self) -> bool {
        self.kind == Kind::Letter
            && self.ch.is_ascii_lowercase()
            && self.modifiers[0].is_none()
            && !self.ligature
            && !self.stands_in
    }

    /// A quotation mark.
    pub fn quotation_mark(&self) -> bool {
        matches!(self.kind, Kind::OpenQuote | Kind::CloseQuote)
    }

    /// Whether the sign is written with lower cells only; quotation marks of two cells count as lower (10.5.1).
    pub fn lower(&self) -> bool {
        self.quotation_mark() || register::get(self.sign).cells.iter().all(|c| !c.is_upper())
    }
}

/// Appends the symbols of one character; combining marks join the letter before.
pub(crate) fn push(out: &mut Vec<Symbol>, c: char, at: usize) {
    if c.is_ascii_lowercase() {
        return out.push(Symbol::new(Kind::Letter, c, register::letter(c), at));
    }
    if c.is_ascii_uppercase() {
        let lower = c.to_ascii_lowercase();
        let mut symbol = Symbol::new(Kind::Letter, lower, register::letter(lower), at);
        symbol.upper = true;
        return out.push(symbol);
    }
    if c == ' ' {
        return out.push(Symbol::new(Kind::Space, c, known().space, at));
    }
    if c.is_ascii_digit() {
        let mut symbol = Symbol::new(Kind::Digit, c, digit(c), at);
        symbol.fresh = out.last().is_some_and(|s| s.kind == Kind::Digit && s.len == 0);
        return out.push(symbol);
    }
    if matches!(c, '\u{a0}' | '\u{202f}' | '\u{2009}' | '\u{2007}' | '\u{2008}' | '\u{200a}') {
        let number = out.last().is_some_and(|s| s.kind == Kind::Digit);
        let kind = if number { Kind::NumericSpace } else { Kind::Space };
        return out.push(Symbol::new(kind, ' ', known().space, at));
    }
    if c.is_whitespace() {
        return out.push(Symbol::new(Kind::Space, ' ', known().space, at));
    }
    if matches!(c, '—' | '_') {
        // One dash or low line in braille for a row of them in print (7.2.3, 7.2.4).
        if let Some(last) = out.last_mut().filter(|s| s.ch == c && s.kind != Kind::Letter) {
            last.len += 1;
            return;
        }
    }
    if let Some(figure) = technical::figure(c) {
        return out.push(Symbol::new(Kind::Other, c, figure.signs[0], at));
    }
    // After a letter it marks a stress; before one it would be read as that letter's accent.
    if c == '´' && out.last().is_some_and(|s| s.kind == Kind::Letter) {
        return out.push(Symbol::new(Kind::Other, 'ˈ', known().stress, at));
    }
    if let Some(&(kind, sign)) = signs().get(&c) {
        return out.push(Symbol::new(kind, c, sign, at));
    }
    if let Some((_, text)) = VULGAR.iter().find(|v| v.0 == c) {
        for (i, d) in text.chars().enumerate() {
            let mut symbol = if d == '/' {
                Symbol::new(Kind::FractionLine, d, known().fraction, at)
            } else {
                Symbol::new(Kind::Digit, d, digit(d), at)
            };
            symbol.len = u32::from(i == 0);
            symbol.at = (at + usize::from(i > 0)) as u32;
            symbol.fresh = i == 0;
            out.push(symbol);
        }
        return;
    }
    for (set, sign) in [(level::RAISED, known().superscript), (level::LOWERED, known().subscript)] {
        if let Some(place) = set.chars().position(|d| d == c) {
            let joins = out.len() >= 2
                && out[out.len() - 1].kind == Kind::IndexEnd
                && out[out.len() - 1].sign == sign;
            let mut one = Vec::new();
            push(&mut one, level::PLAIN[place], at);
            let Some(mut symbol) = one.pop() else { continue };
            let mut end = Symbol::new(Kind::IndexEnd, '}', sign, at + 1);
            end.len = 0;
            if joins {
                out.pop();
            } else {
                let mut index = Symbol::new(Kind::Index, c, sign, at);
                index.len = 0;
                out.push(index);
            }
            symbol.len = 1;
            out.push(symbol);
            out.push(end);
            return;
        }
    }
    if let Some(of) = DOUBLE.iter().find(|d| d.0 == c).map(|d| d.1)
        && let (Some(sign), Some(last)) = (modifier(of), out.last_mut().filter(|s| s.kind == Kind::Letter))
    {
        last.modifiers[0] = Some(sign);
        last.group = true;
        last.len += 1;
        return;
    }
    if TIES.contains(&c)
        && let Some(last) = out.last_mut().filter(|s| s.kind == Kind::Letter)
    {
        last.ligature = true;
        last.len += 1;
        return;
    }
    if c == STRIKE && out.last().is_some_and(|s| STRUCK.iter().any(|(_, plain)| *plain == s.ch)) {
        return out.push(Symbol::new(Kind::Other, c, known().struck, at));
    }
    if let Some((_, plain)) = STRUCK.iter().find(|(struck, _)| *struck == c) {
        push(out, *plain, at);
        push(out, STRIKE, at + 1);
        if let Some(last) = out.last_mut() {
            last.len = 0;
        }
        return;
    }
    if let Some(sign) = modifier(c) {
        // One mark over both letters of a ligature that is one character (4.3.4).
        if let [.., joined, last] = out.as_mut_slice()
            && joined.ligature
            && last.at == joined.at + 1
            && let Some(slot) = joined.modifiers.iter_mut().find(|m| m.is_none())
        {
            *slot = Some(sign);
            joined.group = true;
            last.len += 1;
            return;
        }
        if let Some(last) = out.last_mut().filter(|s| s.kind == Kind::Letter)
            && let Some(slot) = last.modifiers.iter_mut().find(|m| m.is_none())
        {
            *slot = Some(sign);
            last.len += 1;
            return;
        }
        return out.push(Symbol::new(Kind::Other, c, sign, at));
    }
    let ligature: Option<(&str, bool)> = match c {
        'æ' => Some(("ae", true)),
        'Æ' => Some(("AE", true)),
        'œ' => Some(("oe", true)),
        'Œ' => Some(("OE", true)),
        'ĳ' => Some(("ij", true)),
        'Ĳ' => Some(("IJ", true)),
        'ﬀ' => Some(("ff", false)),
        'ﬁ' => Some(("fi", false)),
        'ﬂ' => Some(("fl", false)),
        'ﬃ' => Some(("ffi", false)),
        'ﬄ' => Some(("ffl", false)),
        'ß' => Some(("ss", false)),
        'ﬅ' | 'ﬆ' => Some(("st", false)),
        _ => None,
    };
    if let Some((text, joined)) = ligature {
        for (i, l) in text.chars().enumerate() {
            push(out, l, at + usize::from(i > 0));
            if let Some(symbol) = out.last_mut() {
                symbol.len = u32::from(i == 0);
                symbol.ligature = joined && i == 0;
                symbol.stands_in = c == 'ß';
            }
        }
        return;
    }
    if let Some(row) = spelled(c) {
        for (i, part) in row.chars().enumerate() {
            push(out, part, at + usize::from(i > 0));
            if let Some(symbol) = out.last_mut() {
                symbol.len = u32::from(i == 0);
            }
        }
        return;
    }
    // Letters, digits and signs of wide print.
    if let '！'..='～' = c {
        return push(out, char::from(b'!' + (c as u32 - '！' as u32) as u8), at);
    }
    let stroked = match c {
        'ł' => Some(('l', "modifier solidus")),
        'Ł' => Some(('L', "modifier solidus")),
        'ø' => Some(('o', "modifier solidus")),
        'Ø' => Some(('O', "modifier solidus")),
        'đ' => Some(('d', "modifier horizontal stroke")),
        'Đ' => Some(('D', "modifier horizontal stroke")),
        'ħ' => Some(('h', "modifier horizontal stroke")),
        'Ħ' => Some(('H', "modifier horizontal stroke")),
        'ŧ' => Some(('t', "modifier horizontal stroke")),
        'Ŧ' => Some(('T', "modifier horizontal stroke")),
        'ƀ' => Some(('b', "modifier horizontal stroke")),
        'ɨ' => Some(('i', "modifier horizontal stroke")),
        'ı' => Some(('i', "")),
        _ => None,
    };
    if let Some((base, key)) = stroked {
        push(out, base, at);
        if let (Some(symbol), false) = (out.last_mut(), key.is_empty()) {
            symbol.modifiers[0] = Some(id(key));
        }
        return;
    }
    let small = letter_case::small(c);
    if small != c
        && let Some(&(Kind::Letter, sign)) = signs().get(&small)
    {
        let mut symbol = Symbol::new(Kind::Letter, small, sign, at);
        symbol.upper = true;
        return out.push(symbol);
    }
    let before = out.len();
    // The letter, and its marks from the last to the first.
    let (mut letter, mut marks) = (c, Vec::new());
    while let Some((rest, mark)) = marked::parts(letter) {
        marks.push(mark);
        letter = rest;
    }
    if !marks.is_empty() {
        push(out, letter, at);
        let ligature = out.len() == before + 2 && out[before].ligature;
        let mut good = (out.len() == before + 1 || ligature) && out[before].kind == Kind::Letter;
        if ligature {
            // One mark over both letters (4.3.4).
            out[before].group = true;
        }
        for mark in marks.into_iter().rev() {
            if good {
                match (modifier(mark), out[before].modifiers.iter_mut().find(|m| m.is_none())) {
                    (Some(sign), Some(slot)) => *slot = Some(sign),
                    _ => good = false,
                }
            }
        }
        if good {
            return;
        }
        out.truncate(before);
    }
    if unseen(c) {
        // Unseen characters belong to the symbol before them.
        if let [.., inner, end] = out.as_mut_slice()
            && end.kind == Kind::IndexEnd
            && end.len == 0
        {
            inner.len += 1;
            end.at += 1;
            return;
        }
        if let Some(last) = out.last_mut() {
            last.len += 1;
            return;
        }
    }
    out.push(Symbol::new(Kind::Unhandled, c, known().unhandled, at));
}

/// A line through the sign before.
const STRIKE: char = '\u{338}';

/// The ties over and under two letters, which join them (4.3.1).
pub(crate) const TIES: [char; 2] = ['\u{361}', '\u{35c}'];

/// Spaces that do not break separate the parts of a number only before one of its digits (6.6).
pub(crate) fn numeric_spaces(symbols: &mut [Symbol]) {
    for i in 0..symbols.len() {
        let digit = symbols.get(i + 1).is_some_and(|next| next.kind == Kind::Digit && !next.fresh);
        if symbols[i].kind == Kind::NumericSpace && !digit {
            symbols[i].kind = Kind::Space;
        }
    }
}

/// Whether it is a character that is not seen, such as a soft hyphen.
pub(crate) fn unseen(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{feff}' | '\u{2060}' | '\u{fe0f}')
}

/// Whether it closes a typeform.
pub(crate) fn terminator(sign: SignId) -> bool {
    register::get(sign).class == Class::Terminator
}

/// Signs whose cells would be read as a contraction outside grade 1 mode.
pub(crate) fn needs_grade1(s: &Symbol) -> bool {
    let know = known();
    s.ch == '∫' || [know.root_open, know.root_close, know.general_open, know.general_close].contains(&s.sign)
}
