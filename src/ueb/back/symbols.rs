//! Punctuation, symbols and technical signs (3, 7, 11).

use super::word::{Before, Word};
use crate::ueb::Remark;

impl<'a> Word<'a> {
    /// Arrows and simple shapes, in grade 1 mode (11.6, 11.7).
    pub(super) fn technical(&mut self) -> bool {
        if !self.grade1() {
            return false;
        }
        const SIGNS: [(&str, &str); 16] = [
            ("\\o", "→"),
            ("\\[", "←"),
            ("\\+", "↑"),
            ("\\%", "↓"),
            ("\\s", "↗"),
            ("\\:", "↖"),
            ("\\<", "↘"),
            ("\\>", "↙"),
            ("\\4%", "↵"),
            ("$=", "○"),
            ("$#c", "△"),
            ("$#d", "□"),
            ("$#e", "⬠"),
            ("$#f", "⬡"),
            ("%", "√"),
            ("!", "∫"),
        ];
        for (cells, print) in SIGNS {
            if self.has(self.i, cells) {
                let key = match cells.as_bytes()[0] {
                    b'\\' => "arrow indicator",
                    b'$' => "shape indicator",
                    b'%' => "open radical",
                    _ => "integral sign",
                };
                let sign = self.key(key);
                self.graphic(cells.len(), print, sign, Before::Other);
                return true;
            }
        }
        let key = match self.at(self.i) {
            b'(' => "general fraction open indicator",
            b')' => "general fraction close indicator",
            b'+' => "close radical",
            _ => return false,
        };
        self.indicator(1, key, "11");
        true
    }

    pub(super) fn punctuation(&mut self, c: u8) {
        let (i, lead) = (self.i, self.lead);
        let (mut opens, mut anew) = (false, false);
        let (print, key, len) = match c {
            b'1' => (",", "comma", 1),
            b'2' => (";", "semicolon", 1),
            b'3' if self.has(i, "33") => ("::", "proportion", 2),
            b'3' => (":", "colon", 1),
            b'4' if self.has(i, "444") => ("...", "ellipsis", 3),
            b'4' => (".", "full stop", 1),
            b'6' => ("!", "exclamation mark", 1),
            b'7' if self.has(i, "77") => ("″", "double prime", 2),
            b'7' => ("′", "prime", 1),
            b'8' if (lead || self.opened) && !self.grade1_next && i + 1 < self.cells.len() => {
                opens = true;
                ("“", "opening quotation mark", 1)
            }
            b'8' => ("?", "question mark", 1),
            b'0' => ("”", "closing quotation mark", 1),
            b'\'' => {
                opens = true;
                ("'", "apostrophe", 1)
            }
            b'-' => {
                anew = true;
                self.grade1_number = self.mode.numeric;
                ("-", "hyphen", 1)
            }
            b'/' if self.grade1() => ("⁄", "simple numeric fraction line", 1),
            _ => {
                // Prefixes at the end of the text wait for their root, those that some sign begins with.
                let prefixes = self.cells[i..].iter().all(|c| c.is_prefix());
                if prefixes
                    && self.last
                    && let Some(from) = super::waiting::begins(&self.cells[i..])
                {
                    if from > 0 {
                        self.unknown(from);
                    }
                    let cells = &self.cells[self.i..];
                    let text: String = cells.iter().map(|c| c.to_unicode()).collect();
                    self.out.put(self.i, self.i + cells.len(), &text, None, "", Remark::Waiting);
                    self.i = self.cells.len();
                    return;
                }
                let mut len = 1;
                while self.cells[i].is_prefix()
                    && i + len < self.cells.len()
                    && self.cells[i + len - 1].is_prefix()
                {
                    len += 1;
                }
                return self.unknown(len);
            }
        };
        let sign = self.key(key);
        self.graphic(len, print, sign, Before::Other);
        self.lead = anew || opens && lead;
    }
}
