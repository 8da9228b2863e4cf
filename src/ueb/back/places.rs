//! Whether letters stand alone, and what stands where (2.6, 10.5.1).

use super::tables::Entry;
use super::word::Word;
use crate::ueb::Edition;

impl<'a> Word<'a> {
    pub(super) fn find<'t>(&self, list: &'t [Vec<Entry>], i: usize) -> Option<&'t Entry> {
        let first = self.cells.get(i)?;
        list[usize::from(first.bits())].iter().find(|e| self.matches(i, &e.cells))
    }

    pub(super) fn final_letter(&self) -> Option<&'a Entry> {
        self.find(&self.t.last, self.i)
    }

    /// Whether what follows `i` lets a letters-sequence that ends there stand alone (2.6.3).
    pub(super) fn free_after(&self, mut i: usize) -> bool {
        loop {
            match self.at(i) {
                0 | b'-' => return true,
                b'1' | b'2' | b'3' | b'4' | b'6' | b'8' | b'0' | b'\'' => i += 1,
                b',' if matches!(self.at(i + 1), b'-') => return true,
                b',' if matches!(self.at(i + 1), b'7' | b'0' | b'\'') => i += 2,
                b'"' if self.has(i, "\",-") => return true,
                b'"' | b'.' | b'_' if self.at(i + 1) == b'>' => i += 2,
                // The line indicator, before which a word may be contracted by the third edition (15.1.2).
                b'_' if self.at(i + 1) == 0 && self.options.edition == Edition::Third => return true,
                b'^' if self.at(i + 1) == b'0' => i += 2,
                b'.' | b'^' | b'_' | b'@' if self.at(i + 1) == b'\'' => i += 2,
                b'@' if self.has(i, "@.>") => i += 3,
                b'.' | b'^' | b'_' | b'@' if self.at(i + 1) == b'#' && self.at(i + 2) == b'\'' => i += 3,
                _ => return false,
            }
        }
    }

    /// The letters of 10.1.2 after an apostrophe, with nothing but the end after them.
    pub(super) fn free_after_apostrophe(&self, i: usize) -> bool {
        if self.at(i) != b'\'' {
            return false;
        }
        let mut j = i + 1;
        while self.at(j) == b',' {
            j += 1;
        }
        ["d", "ll", "re", "s", "t", "ve"].iter().any(|e| self.has(j, e) && self.free_after(j + e.len()))
    }

    /// Whether a sign of only lower dots touches at `i` (10.5.1).
    pub(super) fn lower_after(&self, i: usize) -> bool {
        match self.at(i) {
            b'-' | b'1'..=b'9' | b'0' | b'\'' => true,
            b',' => matches!(self.at(i + 1), b'-' | b'7' | b'8' | b'0'),
            b'^' => self.at(i + 1) == b'0',
            b'"' => self.has(i, "\",-"),
            _ => false,
        }
    }

    /// A letter or a sign that stands for letters begins at `i`, without an indicator.
    pub(super) fn letters_at(&self, i: usize) -> bool {
        self.upper_letters_at(i) || self.lower_groups_at(i)
    }

    /// The same without the lower groupsigns.
    fn upper_letters_at(&self, i: usize) -> bool {
        self.plain_letters_at(i)
            || self.find(&self.t.initial, i).is_some()
            || self.find(&self.t.last, i).is_some()
            || self.find(&self.t.modifiers, i).is_some()
    }

    /// Lower groupsigns at `i`, any number of them, and a letter after the last (10.6.5, 10.6.10).
    fn lower_groups_at(&self, i: usize) -> bool {
        let lower = |k: usize| matches!(self.at(k), b'1' | b'2' | b'3' | b'6' | b'7');
        let (from, to) = self.lower_row.get();
        let to = if (from..to).contains(&i) { to } else { (i..).find(|&k| !lower(k)).unwrap_or(i) };
        // Every sign of a row asks for its end.
        self.lower_row.set((i.min(to), to));
        to > i && self.upper_letters_at(to)
    }

    /// A letter of the alphabet, and no contraction, at `i`.
    pub(super) fn plain_letter_at(&self, i: usize) -> bool {
        self.cells.get(i).is_some_and(|c| self.t.letters[usize::from(c.bits())].is_some())
    }

    pub(super) fn plain_letters_at(&self, i: usize) -> bool {
        self.cells.get(i).is_some_and(|c| {
            self.t.letters[usize::from(c.bits())].is_some() || self.t.groups[usize::from(c.bits())].is_some()
        })
    }
}
