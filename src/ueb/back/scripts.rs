//! Superscripts and subscripts, and how far they go (3.24, 11.4).

use super::super::composed::level;
use super::word::Word;

/// A superscript or subscript that is open.
#[derive(Clone, Copy, Debug)]
pub(super) struct Script {
    /// How many enclosures were open around it.
    depth: usize,
    /// The cell after its indicator.
    pub from: usize,
    raised: bool,
    /// It is shown raised or lowered, for want of marks: print has a character for each of its signs.
    shown: bool,
}

/// What can enclose an item (11.4.1).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Enclosure {
    /// Braille grouping indicators.
    Group,
    /// A general fraction, and whether the part that is open stands in brackets in print.
    Fraction(bool),
    Radical(bool),
    /// Brackets, by their opening one.
    Bracket(char),
}

impl Word<'_> {
    /// A superscript or subscript indicator; in contracted braille it is in grade 1 mode (3.24).
    pub(super) fn script(&mut self) -> bool {
        let raised = self.at(self.i) == b'9';
        if !self.grade1() || self.i + 1 == self.cells.len() {
            return false;
        }
        let sign = if raised { self.t.keys.superscript } else { self.t.keys.subscript };
        self.indicator(1, sign, "3.24");
        if self.options.marks {
            self.out.mark(if raised { "^{" } else { "_{" });
        }
        let shown = match self.at(self.i) {
            b'#' => self.only_digits(self.i + 1),
            b'<' => self.level_signs(self.i + 1),
            _ => self.level_sign(self.i) > 0,
        };
        self.scripts.push(Script { depth: self.enclosures.len(), from: self.i, raised, shown });
        self.numeric = self.mode.numeric;
        self.grade1_next = false;
        self.turn();
        true
    }

    /// Whether the number whose digits begin at `i` has digits only.
    fn only_digits(&self, i: usize) -> bool {
        // A bound keeps reading linear; longer indices than this are none.
        let end = (i..i + 16).find(|&k| super::number::digit(self.at(k)).is_none()).unwrap_or(i);
        end > i
            && !(matches!(self.at(end), b'1' | b'4' | b'/' | b'"')
                && super::number::digit(self.at(end + 1)).is_some())
    }

    /// How many cells of a plus or minus sign, an n or an i stand at `i`: print has those raised and lowered.
    fn level_sign(&self, i: usize) -> usize {
        match (self.at(i), self.at(i + 1)) {
            (b'n' | b'i', _) => 1,
            (b'"', b'6' | b'-') => 2,
            _ => 0,
        }
    }

    /// Whether a group from `i` on holds only signs that print has raised and lowered; longer groups are none.
    fn level_signs(&self, mut i: usize) -> bool {
        let from = i;
        while i < from + 16 && self.at(i) != b'>' {
            let number = self.at(i) == b'#' && self.only_digits(i + 1);
            let mut len = self.level_sign(i);
            if number {
                len = 1;
                while super::number::digit(self.at(i + len)).is_some() {
                    len += 1;
                }
            }
            if len == 0 {
                return false;
            }
            i += len;
        }
        i > from && self.at(i) == b'>'
    }

    /// What stands in an index as print has it without marks.
    pub(super) fn raised(&self, text: &str) -> Option<String> {
        let script = self.scripts.last().filter(|script| script.shown && !self.options.marks)?;
        let set = if script.raised { level::RAISED } else { level::LOWERED };
        text.chars().map(|c| set.chars().nth(level::PLAIN.iter().position(|&plain| plain == c)?)).collect()
    }

    /// Opens an enclosure, when one can matter.
    pub(super) fn enclose(&mut self, what: Enclosure) {
        if !self.scripts.is_empty() || !matches!(what, Enclosure::Bracket(_)) {
            self.enclosures.push(what);
        }
    }

    /// Closes the innermost enclosure, if it is this one.
    pub(super) fn disclose(&mut self, what: Enclosure) -> bool {
        let found = self.enclosures.last() == Some(&what);
        if found {
            self.enclosures.pop();
        }
        found
    }

    /// Closes the scripts whose item is complete: `sign` tells that a sign of print was read, or an enclosure closed.
    pub(super) fn settle(&mut self, sign: bool) {
        if self.scripts.is_empty() || !sign || self.numeric && self.digit_follows() {
            return;
        }
        self.close_scripts(self.enclosures.len());
    }

    /// Closes the scripts that no enclosure deeper than `depth` holds open.
    pub(super) fn close_scripts(&mut self, depth: usize) {
        while self.scripts.last().is_some_and(|script| script.depth >= depth) {
            self.scripts.pop();
            if self.options.marks {
                self.out.mark("}");
            }
        }
    }
}
