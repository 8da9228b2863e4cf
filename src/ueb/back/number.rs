//! Numeric mode (6).

use super::word::{Before, Word};
use crate::ueb::{Remark, SignId};

pub(super) const FRACTIONS: [(&str, &str); 19] = [
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

pub(super) fn digit(c: u8) -> Option<char> {
    match c {
        b'a'..=b'i' => Some(char::from(c - b'a' + b'1')),
        b'j' => Some('0'),
        _ => None,
    }
}

impl<'a> Word<'a> {
    /// Numeric mode (6.2, 6.3, 6.6); false when it has ended.
    pub(super) fn number(&mut self) -> bool {
        let (i, c, next) = (self.i, self.at(self.i), self.at(self.i + 1));
        if let Some(d) = digit(c) {
            if !matches!(self.at(i.wrapping_sub(1)), b'/')
                && let Some((len, print)) = self.fraction()
            {
                for k in 0..len {
                    let sign = match self.at(i + k) {
                        b'/' => self.key("simple numeric fraction line"),
                        c => self.digit_sign(c),
                    };
                    self.out.put(
                        i + k,
                        i + k + 1,
                        if k == 0 { print } else { "" },
                        sign,
                        "6.4",
                        Remark::None,
                    );
                }
                self.i += len;
                self.after(Before::Digit);
                return true;
            }
            let sign = self.digit_sign(c);
            self.graphic(1, d.encode_utf8(&mut [0; 4]), sign, Before::Digit);
            return true;
        }
        match c {
            b'1' if digit(next).is_some() || next == 0 || self.mode.numeric => {
                let sign = self.key("comma");
                self.graphic(1, ",", sign, Before::Digit);
            }
            b'4' if next != b'4' => {
                let sign = self.key("full stop");
                self.graphic(1, ".", sign, Before::Digit);
                self.numeric = self.mode.numeric || digit(next).is_some();
            }
            b'/' if digit(next).is_some() => {
                let sign = self.key("simple numeric fraction line");
                self.graphic(1, "⁄", sign, Before::Digit);
            }
            // American books before 2016 wrote no second numeric indicator after a hyphen (from memory).
            b'-' if self.options.older && self.only_digits(i + 1) => {
                self.retired(1, "-", "1.3", false);
                self.numeric = true;
            }
            b'"' if digit(next).is_some() => {
                let key = format!("numeric space before digit {}", digit(next).unwrap_or('0'));
                let print = format!("\u{a0}{}", digit(next).unwrap_or('0'));
                let sign = self.key(&key);
                self.graphic(2, &print, sign, Before::Digit);
            }
            b'"' if i + 1 == self.cells.len() && !self.last => {
                self.indicator(1, "line continuation indicator", "6.10");
            }
            _ => {
                self.numeric = false;
                return false;
            }
        }
        true
    }

    /// Whether nothing but digits, then an end, stands from `i` on.
    pub(super) fn only_digits(&self, i: usize) -> bool {
        let end = (i..self.cells.len()).find(|&k| digit(self.at(k)).is_none()).unwrap_or(self.cells.len());
        end > i && self.free_after(end)
    }

    pub(super) fn digit_sign(&self, c: u8) -> Option<SignId> {
        const KEYS: [&str; 10] = [
            "digit 1", "digit 2", "digit 3", "digit 4", "digit 5", "digit 6", "digit 7", "digit 8",
            "digit 9", "digit 0",
        ];
        self.key(KEYS.get(usize::from(c.wrapping_sub(b'a')))?)
    }

    /// A simple fraction for which print has a character of its own (6.4).
    pub(super) fn fraction(&self) -> Option<(usize, &'static str)> {
        if self.i == 0 || self.at(self.i - 1) != b'#' {
            return None;
        }
        FRACTIONS.iter().find_map(|&(cells, print)| {
            let end = self.i + cells.len();
            let over = digit(self.at(end)).is_some()
                || matches!(self.at(end), b'/' | b'1' | b'4' if digit(self.at(end + 1)).is_some());
            (self.has(self.i, cells) && !over).then_some((cells.len(), print))
        })
    }

    pub(super) fn digit_follows(&self) -> bool {
        digit(self.at(self.i)).is_some()
            || matches!(self.at(self.i), b'1' | b'4' | b'/') && digit(self.at(self.i + 1)).is_some()
    }
}
