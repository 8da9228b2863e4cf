//! Letters, their modifiers and the contractions within a word (4, 10.3 to 10.8).

use super::tables::Entry;
use super::word::{Before, Word};
use crate::ueb::{Remark, SignId, letter_case, marked};

/// A letter with the marks of its modifiers, composed as far as Unicode has it.
fn with_marks(letter: char, marks: &str) -> String {
    let (mut base, mut rest) = (letter, String::new());
    for mark in marks.chars() {
        let solid = match (base, mark) {
            ('l', '\u{338}') => Some('ł'),
            ('o', '\u{338}') => Some('ø'),
            ('d', '\u{336}') => Some('đ'),
            ('h', '\u{336}') => Some('ħ'),
            ('t', '\u{336}') => Some('ŧ'),
            ('b', '\u{336}') => Some('ƀ'),
            ('i', '\u{336}') => Some('ɨ'),
            _ => marked::joined(base, mark),
        };
        match solid {
            Some(one) if rest.is_empty() => base = one,
            _ => rest.push(mark),
        }
    }
    rest.insert(0, base);
    rest
}

/// The letter that two joined letters are, if print has it (4.3).
fn joined(first: char, second: char) -> Option<char> {
    match (first, second) {
        ('a', 'e') => Some('æ'),
        ('o', 'e') => Some('œ'),
        _ => None,
    }
}

/// The tie over two letters.
const TIE: char = '\u{361}';

impl Word<'_> {
    /// A letter, and the one that a ligature joins to it (4.3).
    pub(super) fn letter(&mut self, c: char, sign: Option<SignId>) {
        let i = self.i;
        // The indicator where only the second letter is a capital has one more cell.
        let capital = usize::from(self.has(i + 1, ",^6"));
        if capital == 0 && !self.has(i + 1, "^6") {
            return self.graphic(1, c.encode_utf8(&mut [0; 4]), sign, Before::Letter);
        }
        let indicator = i + 1..i + 3 + capital;
        let (second_at, marks) = self.modifiers_at(indicator.end);
        let Some((second, second_sign)) = self.letter_at(second_at) else {
            return self.graphic(1, c.encode_utf8(&mut [0; 4]), sign, Before::Letter);
        };
        let all = self.capitals_word || self.mode.capitals;
        // Print has one letter where both are capitals, or neither (4.3.3).
        let both = all || (capital > 0) == self.capital_next;
        let print = match joined(c, second).filter(|_| both) {
            Some(one) => with_marks(one, &marks),
            None => {
                let second: String = with_marks(second, &marks);
                let second = if capital > 0 || all { letter_case::in_capitals(&second) } else { second };
                format!("{c}{TIE}{second}")
            }
        };
        self.graphic(1, &print, sign, Before::Letter);
        let keys = &self.t.keys;
        let joins = if capital > 0 { keys.capital_ligature } else { keys.ligature };
        self.out.put(indicator.start, indicator.end, "", joins, "4.3", Remark::None);
        self.i = indicator.end;
        while self.i < second_at
            && let Some(entry) = self.find(&self.t.modifiers, self.i)
        {
            self.indicator(entry.cells.len(), Some(entry.sign), "4.3.4");
        }
        self.out.put(second_at, second_at + 1, "", Some(second_sign), "4.3", Remark::None);
        self.i = second_at + 1;
    }

    fn letter_at(&self, i: usize) -> Option<(char, SignId)> {
        self.cells.get(i).and_then(|cell| self.t.letters[usize::from(cell.bits())])
    }

    /// Where the modifiers that begin at `i` end, and their marks. A letter has few; the bound keeps reading linear.
    fn modifiers_at(&self, mut i: usize) -> (usize, String) {
        let mut marks = String::new();
        for _ in 0..4 {
            let Some(entry) = self.find(&self.t.modifiers, i) else { break };
            marks.push_str(entry.print);
            i += entry.cells.len();
        }
        (i, marks)
    }

    /// A modifier and the letter, or the group of letters, that it modifies (4.2).
    pub(super) fn modified(&mut self, entry: &Entry) -> bool {
        let i = self.i;
        let (at, marks) = self.modifiers_at(i);
        if self.at(at) == b'<' {
            return self.modified_group(at, &marks, entry.sign);
        }
        let Some((letter, sign)) = self.letter_at(at) else { return false };
        let print = with_marks(letter, &marks);
        // The letter is a piece of its own, and each modifier.
        while self.i < at
            && let Some(entry) = self.find(&self.t.modifiers, self.i)
        {
            self.indicator(entry.cells.len(), Some(entry.sign), "");
        }
        self.graphic(1, &print, Some(sign), Before::Letter);
        true
    }

    /// Two letters under one mark, or a ligature (4.2.5, 4.3.4): `open` is the place of the grouping indicator.
    fn modified_group(&mut self, open: usize, marks: &str, sign: SignId) -> bool {
        // A ligature whose second letter has its own capital indicator has one cell more (4.3.3).
        let capital = usize::from(self.has(open + 2, ",^6"));
        let close = if self.at(open + 3) == b'>' { open + 3 } else { open + 5 + capital };
        let ligature = close > open + 3 && self.has(open + 2 + capital, "^6");
        let two = (self.letter_at(open + 1), self.letter_at(close - 1));
        let (Some((first, _)), Some((second, _))) = two else { return false };
        if self.at(close) != b'>' || close > open + 3 && !ligature {
            return false;
        }
        let print = if ligature {
            let Some(one) = joined(first, second) else { return false };
            with_marks(one, marks)
        } else {
            let double = match marks {
                "\u{304}" => '\u{35e}',
                "\u{306}" => '\u{35d}',
                "\u{303}" => '\u{360}',
                _ => return false,
            };
            format!("{first}{double}{second}")
        };
        self.graphic(close + 1 - self.i, &print, Some(sign), Before::Letter);
        true
    }

    /// The lower groupsigns that depend on their place (10.6.1, 10.6.5).
    pub(super) fn lower_group(&mut self, c: u8) -> bool {
        let next = self.letters_at(self.i + 1);
        let keys = &self.t.keys;
        let sign = if self.lead && next {
            match c {
                b'2' => keys.be,
                b'3' => keys.con,
                b'4' => keys.dis,
                _ => None,
            }
        } else if self.before == Before::Letter && next {
            match c {
                b'1' => keys.ea,
                b'2' => keys.bb,
                b'3' => keys.cc,
                b'6' => keys.ff,
                b'7' => keys.gg,
                _ => None,
            }
        } else {
            None
        };
        let Some(sign) = sign else { return false };
        self.graphic(1, crate::ueb::register::get(sign).print, Some(sign), Before::Letter);
        true
    }
}
