//! Numeric mode (6).

use super::word::{Before, Gap, Word};
use crate::ueb::{Remark, SignId};

/// Fractions for which print has a character of its own (6.2, 11.3.1).
const FRACTIONS: [(&str, &str); 19] = [
    ("b/c", "⅔"),
    ("a/c", "⅓"),
    ("a/b", "½"),
    ("a/d", "¼"),
    ("c/d", "¾"),
    ("a/e", "⅕"),
    ("b/e", "⅖"),
    ("c/e", "⅗"),
    ("d/e", "⅘"),
    ("a/f", "⅙"),
    ("e/f", "⅚"),
    ("a/g", "⅐"),
    ("a/h", "⅛"),
    ("c/h", "⅜"),
    ("e/h", "⅝"),
    ("g/h", "⅞"),
    ("a/i", "⅑"),
    ("a/aj", "⅒"),
    ("j/c", "↉"),
];

/// The digit of a cell.
pub(super) fn digit(c: u8) -> Option<char> {
    match c {
        b'a'..=b'i' => Some(char::from(c - b'a' + b'1')),
        b'j' => Some('0'),
        _ => None,
    }
}

impl Word<'_> {
    /// A numeric indicator, a passage's indicator or its terminator (6.1, 6.8, 6.9); false when there is none.
    pub(super) fn numeric_indicator(&mut self) -> bool {
        let (i, next) = (self.i, self.at(self.i + 1));
        let keys = &self.t.keys;
        if next == b'#' {
            self.indicator(2, keys.numeric_passage, "6.9");
            (self.mode.numeric, self.numeric, self.grade1_number) = (true, true, true);
        } else if next == b'\'' {
            self.indicator(2, keys.numeric_terminator, "6.9");
            (self.mode.numeric, self.numeric, self.grade1_number) = (false, false, false);
        } else if digit(next).is_some() || matches!(next, b'1' | b'4') {
            self.indicator(1, keys.numeric, "6.1");
            (self.numeric, self.grade1_number, self.grade1_next) = (true, true, false);
        } else if i + 1 == self.cells.len() && self.number_after_blanks() {
            self.indicator(1, keys.numeric_spaced, "6.8");
            self.mode.number = Some(Gap::Spaces);
        } else {
            return false;
        }
        self.turn();
        self.lead = false;
        true
    }

    /// Whether a digit or a decimal sign stands after the blanks that follow the run (6.8).
    fn number_after_blanks(&self) -> bool {
        let cells = self.rest.iter().skip_while(|cell| cell.is_blank()).take(2);
        let cells: Vec<u8> = cells.map(|cell| cell.to_ascii() as u8).collect();
        match cells[..] {
            [first] => digit(first).is_some(),
            [first, second] => {
                digit(first).is_some() || matches!(first, b'1' | b'4') && digit(second).is_some()
            }
            _ => false,
        }
    }

    /// A sign of numeric mode (6.2, 6.3, 6.6); false when there is none, and so the mode has ended.
    pub(super) fn number(&mut self) -> bool {
        if self.grade1_next || self.capital_next {
            // A letter within a numeric passage (6.9.3).
            self.numeric = self.mode.numeric;
            return false;
        }
        let (i, c, next) = (self.i, self.at(self.i), self.at(self.i + 1));
        if let Some(d) = digit(c) {
            if !self.fraction() {
                let sign = self.digit_sign(i);
                self.graphic(1, d.encode_utf8(&mut [0; 4]), sign, Before::Digit);
            }
            return true;
        }
        let keys = &self.t.keys;
        match c {
            b'1' if digit(next).is_some() || matches!(next, 0 | b'"') || self.mode.numeric => {
                self.graphic(1, ",", keys.comma, Before::Digit);
            }
            // Numeric mode lasts over stops and commas in a row (6.2.1), not over an ellipsis.
            b'1' | b'4' if matches!(next, b'1' | b'4') && self.row_within_number() => {
                let (print, sign) = if c == b'1' { (",", keys.comma) } else { (".", keys.full_stop) };
                self.graphic(1, print, sign, Before::Digit);
            }
            b'4' if next != b'4' => {
                let decimal = self.mode.numeric || digit(next).is_some();
                let sign = if decimal { keys.decimal_point } else { keys.full_stop };
                self.graphic(1, ".", sign, Before::Digit);
                self.numeric = decimal;
            }
            b'/' if digit(next).is_some() => self.graphic(1, "⁄", keys.fraction_line, Before::Digit),
            b'"' if digit(next).is_some() => {
                let print = format!("\u{a0}{}", digit(next).unwrap_or('0'));
                let sign = self.cells.get(i + 1).and_then(|c| self.t.spaced_digits[usize::from(c.bits())]);
                self.graphic(2, &print, sign, Before::Digit);
            }
            // At a line's end (6.10): the number goes on after it, without an indicator.
            b'"' if i + 1 == self.cells.len() && self.number_after_blanks() => {
                self.indicator(1, keys.continuation, "6.10");
                self.mode.number = Some(Gap::LineEnd);
            }
            b'"' if next == b'"' && i + 2 == self.cells.len() && self.number_after_blanks() => {
                self.indicator(2, keys.continuation_space, "6.10");
                self.mode.number = Some(Gap::NumericSpace);
            }
            _ => {
                self.numeric = self.mode.numeric;
                return false;
            }
        }
        true
    }

    /// Whether a digit follows the row of stops and commas here, and no ellipsis ends it.
    fn row_within_number(&self) -> bool {
        let from =
            self.i - (0..self.i).rev().take_while(|&k| matches!(self.at(k), b'1' | b'4')).take(3).count();
        let end = (self.i..).find(|&k| !matches!(self.at(k), b'1' | b'4')).unwrap_or(self.i);
        let ellipsis = end - from > 2 && (end - 3..end).all(|k| self.at(k) == b'4');
        digit(self.at(end)).is_some() && !ellipsis
    }

    fn digit_sign(&self, i: usize) -> Option<SignId> {
        self.cells.get(i).and_then(|c| self.t.digits[usize::from(c.bits())])
    }

    /// A simple fraction for which print has a character of its own.
    fn fraction(&mut self) -> bool {
        let i = self.i;
        if i == 0 || self.at(i - 1) != b'#' || !self.scripts.is_empty() && !self.options.marks {
            return false;
        }
        let found = FRACTIONS.iter().find(|(cells, _)| {
            let end = i + cells.len();
            let over = digit(self.at(end)).is_some()
                || matches!(self.at(end), b'/' | b'1' | b'4' | b'"') && digit(self.at(end + 1)).is_some();
            self.has(i, cells) && !over
        });
        let Some((cells, print)) = found else { return false };
        for k in i..i + cells.len() {
            let sign = if self.at(k) == b'/' { self.t.keys.fraction_line } else { self.digit_sign(k) };
            if k == i && !self.faces_next.is_empty() {
                self.graphic(1, print, sign, Before::Digit);
                continue;
            }
            self.out.put(k, k + 1, if k == i { print } else { "" }, sign, "11.3.1", Remark::None);
        }
        self.i = i + cells.len();
        self.after(Before::Digit);
        true
    }

    /// Whether the number goes on here.
    pub(super) fn digit_follows(&self) -> bool {
        let (c, next) = (self.at(self.i), self.at(self.i + 1));
        digit(c).is_some() || matches!(c, b'1' | b'4' | b'/' | b'"') && digit(next).is_some()
    }
}
