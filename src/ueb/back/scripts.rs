//! Superscripts and subscripts, and how far they go (3.24, 11.4).

use super::word::Word;

/// A superscript or subscript that is open.
#[derive(Clone, Copy, Debug)]
pub(super) struct Script {
    /// How many enclosures were open around it.
    depth: usize,
    /// The cell after its indicator.
    pub from: usize,
    raised: bool,
    /// Its digits are written raised or lowered, for want of marks: it is a number of digits only.
    digits: bool,
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
        let digits = self.at(self.i) == b'#' && self.only_digits(self.i + 1);
        self.scripts.push(Script { depth: self.enclosures.len(), from: self.i, raised, digits });
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

    /// Digits of an index as print has them without marks.
    pub(super) fn raised(&self, text: &str) -> Option<String> {
        let script = self.scripts.last().filter(|script| script.digits && !self.options.marks)?;
        let set =
            if script.raised { "⁰¹²³⁴⁵⁶⁷⁸⁹" } else { "₀₁₂₃₄₅₆₇₈₉" };
        text.chars().map(|c| set.chars().nth(c.to_digit(10)? as usize)).collect()
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
