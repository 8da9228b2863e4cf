//! Indicators of grade 1, capitals, numbers, scripts and line continuation (5, 6, 8, 3.24).

use super::number::digit;
use super::word::{Before, Word};
use crate::ueb::Remark;

impl<'a> Word<'a> {
    /// Indicators that stand for no print of their own; false when there is none here.
    pub(super) fn indicators(&mut self) -> bool {
        let (i, c, next) = (self.i, self.at(self.i), self.at(self.i + 1));
        match c {
            b';' => return self.grade1_indicator(),
            b',' => {
                if self.has(i, ",,,") {
                    self.indicator(3, "capitalised passage indicator", "8.5");
                    self.mode.capitals = true;
                } else if next == b',' {
                    self.indicator(2, "capitalised word indicator", "8.4");
                    self.capitals_word = true;
                } else if next == b'\''
                    && (self.mode.capitals || self.capitals_word || self.before == Before::Letter)
                {
                    self.indicator(2, "capitals terminator", "8.6");
                    (self.mode.capitals, self.capitals_word) = (false, false);
                } else if !self.capital_before(i + 1) {
                    return false;
                } else {
                    self.indicator(1, "capital letter indicator", "8.3");
                    (self.capital_next, self.capitals_word) = (true, false);
                }
                return true;
            }
            b'#' => {
                if self.has(i, "##") {
                    self.indicator(2, "numeric passage indicator", "6.9");
                    (self.mode.numeric, self.numeric, self.grade1_number) = (true, true, true);
                } else if next == b'\'' {
                    self.indicator(2, "numeric passage terminator", "6.9");
                    (self.mode.numeric, self.numeric, self.grade1_number) = (false, false, false);
                } else if digit(next).is_some() || matches!(next, b'1' | b'4') {
                    self.indicator(1, "numeric indicator", "6.1");
                    (self.numeric, self.grade1_number, self.grade1_next) = (true, true, false);
                } else {
                    return false;
                }
                self.lead = false;
                return true;
            }
            b'@' | b'^' | b'_' | b'.' => {
                if let Some(done) = self.typeform_indicator(c, next) {
                    return done;
                }
                if self.has(i, "@.<") || self.has(i, "@.>") {
                    let opening = self.at(i + 2) == b'<';
                    let key = if opening {
                        "opening transcriber's note indicator"
                    } else {
                        "closing transcriber's note indicator"
                    };
                    let sign = self.key(key);
                    self.out.put(i, i + 3, if opening { "[" } else { "]" }, sign, "3.27", Remark::None);
                    self.i += 3;
                    return true;
                }
                return false;
            }
            b'5' | b'9' => {
                let script = self.grade1();
                if script && next != 0 {
                    let key = if c == b'9' { "superscript indicator" } else { "subscript indicator" };
                    self.indicator(1, key, "3.24");
                    self.numeric = false;
                    self.grade1_next = false;
                    return true;
                }
            }
            b'"' if self.has(i, "\"\"") && i + 2 == self.cells.len() => {
                self.out.put(
                    i,
                    i + 2,
                    "",
                    self.key("line continuation indicator with space"),
                    "6.10",
                    Remark::None,
                );
                self.i += 2;
                return true;
            }
            _ => {}
        }
        false
    }

    /// Whether dot 6 before the cell at `i` is a capital letter indicator, and not the first cell of another sign.
    pub(super) fn capital_before(&self, i: usize) -> bool {
        let literal = self.grade1();
        match self.at(i) {
            0 | b'-' => false,
            b'1' | b'6' => false,
            b'*' => !literal,
            b'7' | b'8' | b'0' => {
                !literal && self.lead && self.clear && self.free_after(i + 1) && !self.lower_after(i + 1)
            }
            b'5' | b'9' => !literal,
            b'2' | b'3' | b'4' => {
                !literal && (self.letters_at(i + 1) || self.at(i) == b'2' && self.free_after(i + 1))
            }
            _ => true,
        }
    }

    pub(super) fn grade1_indicator(&mut self) -> bool {
        let i = self.i;
        if self.has(i, ";;;") {
            self.indicator(3, "grade 1 passage indicator", "5.4");
            self.mode.grade1 = true;
        } else if self.has(i, ";;") {
            self.indicator(2, "grade 1 word indicator", "5.3");
            self.grade1_word = true;
        } else if self.has(i, ";'") {
            self.indicator(2, "grade 1 terminator", "5.5");
            (self.mode.grade1, self.grade1_word, self.grade1_number) = (false, false, false);
        } else if i + 1 == self.cells.len() && self.last
            || self.before == Before::Letter && !self.grade1() && self.final_letter().is_some()
        {
            return false;
        } else {
            self.indicator(1, "grade 1 symbol indicator", "5.2");
            self.grade1_next = true;
            self.numeric = false;
            return true;
        }
        self.numeric = self.mode.numeric;
        true
    }

    /// Whether the indicator read at `from` began a superscript or subscript (3.24).
    pub(super) fn begun_script(&self, from: usize) -> Option<&'static str> {
        match (self.i == from + 1, self.at(from)) {
            (true, b'9') => Some("^{"),
            (true, b'5') => Some("_{"),
            _ => None,
        }
    }

    pub(super) fn group_sign(&mut self) -> bool {
        if !self.grade1() && self.groups.is_empty() {
            return false;
        }
        match self.at(self.i) {
            b'<' => {
                self.indicator(1, "opening braille grouping indicator", "3.4");
                self.groups.push(false);
                true
            }
            b'>' if !self.groups.is_empty() => {
                self.indicator(1, "closing braille grouping indicator", "3.4");
                if self.groups.pop() == Some(true) {
                    self.out.mark("}");
                }
                self.after(Before::Other);
                true
            }
            _ => false,
        }
    }
}
