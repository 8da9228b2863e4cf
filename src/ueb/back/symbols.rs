//! Punctuation and symbols (3, 7).

use super::super::composed::{SHOWN, STRUCK};
use super::scripts::Enclosure;
use super::tables::Entry;
use super::word::{Before, Word};
use crate::ueb::{Class, Remark};

impl Word<'_> {
    /// A graphic sign of several cells; false when there is none.
    pub(super) fn symbol(&mut self) -> bool {
        let Some(entry) = self.find(&self.t.graphic, self.i) else { return false };
        let (len, print, sign) = (entry.cells.len(), entry.print, Some(entry.sign));
        if let Some(struck) = self.struck(self.i + len, print) {
            self.graphic(len, &struck, sign, Before::Other);
            self.indicator(2, self.t.keys.struck, "");
            return true;
        }
        match (entry.class, print.chars().next()) {
            (Class::Letter, _) => self.graphic(len, print, sign, Before::Letter),
            // Greek takes capitals as letters do, but no contraction joins it.
            (Class::Greek, _) => {
                let capitals = self.capitals_word;
                self.graphic(len, print, sign, Before::Letter);
                (self.capitals_word, self.before) = (capitals, Before::Other);
            }
            (_, None) => {
                self.as_cells(len, sign, "", Remark::None);
                self.after(Before::Other);
            }
            (_, Some(first)) => {
                let lead = self.lead;
                let opening = matches!(first, '(' | '[' | '{' | '“' | '‘' | '«') || print == "\"" && len == 2;
                let (dash, lower) = (first == '—', matches!(first, '“' | '‘' | '«' | '"' | '—'));
                match first {
                    '(' | '[' | '{' => self.enclose(Enclosure::Bracket(first)),
                    ')' => _ = self.disclose(Enclosure::Bracket('(')),
                    ']' => _ = self.disclose(Enclosure::Bracket('[')),
                    '}' => _ = self.disclose(Enclosure::Bracket('{')),
                    _ => {}
                }
                self.graphic(len, print, sign, Before::Other);
                if dash {
                    self.grade1_number = self.mode.numeric;
                }
                self.lead = dash || opening && lead;
                self.opened = opening;
                self.clear = self.lead && !lower;
            }
        }
        true
    }

    /// What a sign of comparison is with a line through it, if one follows at `i`.
    fn struck(&self, i: usize, print: &str) -> Option<String> {
        let found = STRUCK.iter().find(|(_, plain)| print.chars().eq([*plain]))?;
        self.has(i, "@:").then(|| found.0.to_string())
    }

    /// A modifier without a letter, which print shows by itself (4.2.6); false when there is none here.
    pub(super) fn bare_modifier(&mut self, entry: &Entry) -> bool {
        let Some((_, shown)) = SHOWN.iter().find(|(mark, _)| entry.print.chars().eq([*mark])) else {
            return false;
        };
        if matches!(self.before, Before::Letter | Before::Digit)
            || self.letters_at(self.i + entry.cells.len())
        {
            return false;
        }
        self.graphic(entry.cells.len(), shown.encode_utf8(&mut [0; 4]), Some(entry.sign), Before::Other);
        true
    }

    /// Punctuation of one cell; else cells without a meaning, or prefixes that wait.
    pub(super) fn punctuation(&mut self, c: u8) {
        let (i, lead) = (self.i, self.lead);
        let (mut opens, mut anew) = (false, false);
        let keys = &self.t.keys;
        let (print, sign, len) = match c {
            b'1' => (",", keys.comma, 1),
            b'2' => (";", keys.semicolon, 1),
            b'3' if self.has(i, "33") => ("::", keys.proportion, 2),
            b'3' => (":", keys.colon, 1),
            b'4' if self.has(i, "444") => ("...", keys.ellipsis, 3),
            b'4' => (".", keys.full_stop, 1),
            b'6' => ("!", keys.exclamation, 1),
            b'7' if self.has(i, "77") => ("″", keys.double_prime, 2),
            b'7' => ("′", keys.prime, 1),
            // In grade 1 mode it is read as a question mark (7.6.7).
            b'8' if (lead || self.opened) && !self.grade1_mode() && i + 1 < self.cells.len() => {
                opens = true;
                ("“", keys.opening_quote, 1)
            }
            b'8' => ("?", keys.question, 1),
            b'0' => ("”", keys.closing_quote, 1),
            b'\'' => {
                opens = true;
                ("'", keys.apostrophe, 1)
            }
            b'-' => {
                anew = true;
                self.grade1_number = self.mode.numeric;
                ("-", keys.hyphen, 1)
            }
            _ => return self.meaningless(),
        };
        self.graphic(len, print, sign, Before::Other);
        self.lead = anew || opens && lead;
    }

    /// Cells that no rule gives a meaning to, as far as the next root; at the end of the text, prefixes that some sign
    /// begins with wait for their root.
    fn meaningless(&mut self) {
        let i = self.i;
        let roots = self.cells[i..].iter().position(|c| !c.is_prefix());
        let Some(prefixes) = roots else {
            let len = self.cells.len() - i;
            let begins = super::waiting::begins(&self.cells[i..]).filter(|_| self.last);
            let unknown = begins.unwrap_or(len);
            if unknown > 0 {
                self.unknown(unknown);
            }
            if unknown < len {
                self.as_cells(len - unknown, None, "", Remark::Waiting);
            }
            return;
        };
        self.unknown(prefixes + 1);
    }
}
