//! Indicators of grade 1, capitals and grouping (5, 8, 3.4), and those that only point (3.13, 3.14, 3.27).

use super::scripts::Enclosure;
use super::word::{Before, Word};
use crate::ueb::Remark;

impl Word<'_> {
    /// Indicators that stand for no print of their own; false when there is none here.
    pub(super) fn indicators(&mut self) -> bool {
        let (i, c) = (self.i, self.at(self.i));
        match c {
            b';' => self.grade1_indicator(),
            b',' => self.capitals(),
            b'#' => self.numeric_indicator(),
            b'5' | b'9' => self.script(),
            b'<' | b'>' => self.grouping(),
            b'@' if self.has(i, "@.<") => self.note(self.t.keys.note_open, "["),
            b'@' if self.has(i, "@.>") => self.note(self.t.keys.note_close, "]"),
            b'.' if self.has(i, ".=") && i + 2 < self.cells.len() => {
                self.indicator(2, self.t.keys.mention, "3.13");
                self.as_cells(self.cells.len() - self.i, self.t.keys.mention, "3.13", Remark::None);
                true
            }
            b'"' if self.has(i, "\"\"=") => {
                self.indicator(3, self.t.keys.dot_locator, "3.14");
                true
            }
            b'"' if self.has(i, "\"\"") && i > 0 && i + 2 == self.cells.len() => {
                self.indicator(2, self.t.keys.continuation_space, "6.10");
                true
            }
            b'_' if i > 0 && i + 1 == self.cells.len() && !self.last => {
                // Print that runs verse on as prose shows its lines' ends by slashes.
                let print = if self.options.marks { "<br>" } else { " /" };
                self.out.put(i, i + 1, print, self.t.keys.line, "15.1.2", Remark::None);
                self.i += 1;
                true
            }
            b'"' | b'^' if self.other_code() => true,
            b'@' | b'^' | b'_' | b'.' | b'"' => self.typeform(),
            _ => false,
        }
    }

    /// A transcriber's note (3.27): print has brackets for it, as it has none of its own.
    fn note(&mut self, sign: Option<crate::ueb::SignId>, bracket: &str) -> bool {
        let lead = self.lead;
        self.out.put(self.i, self.i + 3, bracket, sign, "3.27", Remark::None);
        self.i += 3;
        self.after(Before::Other);
        if bracket == "[" {
            (self.lead, self.clear, self.opened) = (lead, lead, true);
        }
        true
    }

    fn grouping(&mut self) -> bool {
        let opening = self.at(self.i) == b'<';
        if opening && (self.grade1() || self.scripts.last().is_some_and(|script| script.from == self.i)) {
            self.enclosures.push(Enclosure::Group);
            self.indicator(1, self.t.keys.group_open, "3.4");
            self.grade1_next = false;
            return true;
        }
        if !opening && self.disclose(Enclosure::Group) {
            self.indicator(1, self.t.keys.group_close, "3.4");
            self.after(Before::Other);
            return true;
        }
        false
    }

    fn capitals(&mut self) -> bool {
        let (i, next) = (self.i, self.at(self.i + 1));
        let keys = &self.t.keys;
        // With nothing after it a word or passage indicator waits at the text's end, and elsewhere stands for nothing.
        let long = self.cells[i..].iter().all(|c| c.to_ascii() == ',').then_some(self.cells.len() - i);
        if let Some(long @ 2..=3) = long {
            let remark = if self.last { Remark::Waiting } else { Remark::Unknown };
            self.as_cells(long, None, "", remark);
            self.mode.capitals |= long == 3 && !self.last;
            return true;
        }
        if self.has(i, ",,,") {
            self.indicator(3, keys.capitals_passage, "8.5");
            self.turn();
            self.mode.capitals = true;
        } else if next == b',' {
            self.indicator(2, keys.capitals_word, "8.4");
            self.turn();
            self.capitals_word = true;
        } else if next == b'\'' && (self.mode.capitals || self.capitals_word || self.before == Before::Letter)
        {
            self.indicator(2, keys.capitals_terminator, "8.6");
            self.turn();
            self.mode.capitals = false;
        } else if self.capital_before(i + 1) {
            self.indicator(1, keys.capital, "8.3");
            self.turn();
            self.capital_next = true;
        } else {
            return false;
        }
        true
    }

    /// Whether dot 6 before the cell at `i` is a capital letter indicator, and not the first cell of another sign.
    fn capital_before(&self, i: usize) -> bool {
        let literal = self.grade1();
        match self.at(i) {
            0 | b'-' | b'1' | b'6' => false,
            b'*' => !literal,
            b'7' | b'8' | b'0' => {
                !literal && self.lead && self.clear && self.free_after(i + 1) && !self.lower_after(i + 1)
            }
            b'5' | b'9' => !literal,
            b'2' | b'3' | b'4' => {
                !literal && (self.letters_at(i + 1) || self.at(i) == b'2' && self.free_after(i + 1))
            }
            // Brackets over several lines (7.7).
            b'"' | b'.' | b'_' => !matches!(self.at(i + 1), b'<' | b'>') && !self.has(i, "_\\"),
            _ => true,
        }
    }

    fn grade1_indicator(&mut self) -> bool {
        let i = self.i;
        let keys = &self.t.keys;
        if self.has(i, ";;;") {
            self.indicator(3, keys.grade1_passage, "5.4");
            self.mode.grade1 = true;
        } else if self.has(i, ";;") {
            self.indicator(2, keys.grade1_word, "5.3");
            self.grade1_word = true;
        } else if self.has(i, ";'") {
            self.indicator(2, keys.grade1_terminator, "5.5");
            (self.mode.grade1, self.grade1_word, self.grade1_number) = (false, false, false);
        } else if i + 1 == self.cells.len() && self.last
            || self.before == Before::Letter && !self.grade1() && self.final_letter().is_some()
        {
            return false;
        } else {
            self.indicator(1, keys.grade1, "5.2");
            self.apart();
            self.grade1_next = true;
            return true;
        }
        self.apart();
        self.numeric = self.mode.numeric;
        true
    }
}
