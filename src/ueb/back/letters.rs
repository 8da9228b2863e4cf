//! Letters, their modifiers and the contractions within a word (4, 10.3 to 10.8).

use unicode_normalization::char::compose;

use super::tables::Entry;
use super::word::{Before, Word};
use crate::ueb::{Remark, SignId};

impl<'a> Word<'a> {
    pub(super) fn letter(&mut self, c: char, sign: Option<SignId>) {
        let mut len = 1;
        let mut print = String::new();
        // A ligature (4.3): letter, indicator, letter.
        if self.has(self.i + 1, "^6") {
            let mut j = self.i + 3;
            while self.at(j) == b',' {
                j += 1;
            }
            if let Some((second, second_sign)) =
                self.cells.get(j).and_then(|n| self.t.letters[usize::from(n.bits())])
            {
                match (c, second) {
                    ('a', 'e') => print.push('æ'),
                    ('o', 'e') => print.push('œ'),
                    _ => print.extend([c, '\u{361}', second]),
                }
                self.graphic(len, &print, sign, Before::Letter);
                let i = self.i;
                self.out.put(i, j, "", self.key("ligature indicator"), "4.3", Remark::None);
                self.out.put(j, j + 1, "", Some(second_sign), "4.3", Remark::None);
                self.i = j + 1;
                return;
            }
        }
        print.push(c);
        len = len.max(1);
        self.graphic(len, &print, sign, Before::Letter);
    }

    /// A modifier and the letter, or the group of letters, that it modifies (4.2).
    pub(super) fn modified(&mut self, entry: &Entry) -> bool {
        let mut j = self.i + entry.cells.len();
        let mut marks: String = entry.print.to_owned();
        // A letter has few marks; the bound keeps the whole reading linear.
        while marks.chars().count() < 4
            && let Some(more) = self.find(&self.t.modifiers, j)
        {
            marks.push_str(more.print);
            j += more.cells.len();
        }
        let mut capital = false;
        while self.at(j) == b',' {
            capital = true;
            j += 1;
        }
        let group = self.at(j) == b'<';
        if group {
            let close = (j + 1..self.cells.len().min(j + 12)).find(|&k| self.at(k) == b'>');
            let Some(close) = close else { return false };
            let letters: Option<String> = self.cells[j + 1..close]
                .iter()
                .map(|c| self.t.letters[usize::from(c.bits())].map(|l| l.0))
                .collect();
            let Some(letters) = letters else { return false };
            let double = match entry.print {
                "\u{304}" => '\u{35e}',
                "\u{306}" => '\u{35d}',
                "\u{303}" => '\u{360}',
                _ => return false,
            };
            let mut chars = letters.chars();
            let mut text = String::new();
            text.extend(chars.next());
            text.push(double);
            text.extend(chars);
            self.graphic(close + 1 - self.i, &text, Some(entry.sign), Before::Letter);
            return true;
        }
        let Some((letter, sign)) = self.cells.get(j).and_then(|c| self.t.letters[usize::from(c.bits())])
        else {
            return false;
        };
        let mut base = letter;
        let mut rest = String::new();
        for mark in marks.chars() {
            let solid = match (base, mark) {
                ('l', '\u{338}') => Some('ł'),
                ('o', '\u{338}') => Some('ø'),
                ('d', '\u{336}') => Some('đ'),
                ('h', '\u{336}') => Some('ħ'),
                _ => compose(base, mark),
            };
            match solid {
                Some(one) if rest.is_empty() => base = one,
                _ => rest.push(mark),
            }
        }
        rest.insert(0, base);
        self.capital_next |= capital;
        let (next, i) = (self.capital_next, self.i);
        let _ = next;
        self.out.put(i, j, "", Some(entry.sign), "", Remark::None);
        self.i = j;
        self.graphic(1, &rest, Some(sign), Before::Letter);
        true
    }

    /// The lower groupsigns that depend on their place (10.6.1, 10.6.5).
    pub(super) fn lower_group(&mut self, c: u8) -> bool {
        let next = self.letters_at(self.i + 1);
        let key = if self.lead && next {
            match c {
                b'2' => "groupsign be",
                b'3' => "groupsign con",
                b'4' => "groupsign dis",
                _ => return false,
            }
        } else if self.before == Before::Letter && next && !self.has(self.i + 1, ",") {
            match c {
                b'1' => "groupsign ea",
                b'2' => "groupsign bb",
                b'3' => "groupsign cc",
                b'6' => "groupsign ff",
                b'7' => "groupsign gg",
                _ => return false,
            }
        } else {
            return false;
        };
        let Some(sign) = self.t.key(key) else { return false };
        self.graphic(1, crate::ueb::register::get(sign).print, Some(sign), Before::Letter);
        true
    }
}
