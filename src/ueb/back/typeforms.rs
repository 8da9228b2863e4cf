//! Typeforms (9).

use super::word::Word;
use crate::ueb::Remark;

/// The prefix of each typeform's indicators, its name, and its marks (9.1).
pub(super) const TYPEFORMS: [(u8, &str, &str, &str); 4] = [
    (b'.', "italic", "*", "*"),
    (b'^', "boldface", "**", "**"),
    (b'_', "underline", "<u>", "</u>"),
    (b'@', "script", "~", "~"),
];

impl<'a> Word<'a> {
    pub(super) fn typeform_indicator(&mut self, c: u8, next: u8) -> Option<bool> {
        const KINDS: [[&str; 4]; 4] = [
            [
                "italic symbol indicator",
                "italic word indicator",
                "italic passage indicator",
                "italic terminator",
            ],
            [
                "boldface symbol indicator",
                "boldface word indicator",
                "boldface passage indicator",
                "boldface terminator",
            ],
            [
                "underline symbol indicator",
                "underline word indicator",
                "underline passage indicator",
                "underline terminator",
            ],
            [
                "script symbol indicator",
                "script word indicator",
                "script passage indicator",
                "script terminator",
            ],
        ];
        if next == b'#' {
            if matches!(self.at(self.i + 2), b'1' | b'2' | b'7' | b'\'') {
                let cells = &self.cells[self.i..self.i + 3];
                let sign = crate::ueb::register::by_cells(cells).next().map(|s| s.id);
                self.out.put(self.i, self.i + 3, "", sign, "9.5", Remark::None);
                self.i += 3;
                return Some(true);
            }
            return None;
        }
        let form = TYPEFORMS.iter().position(|f| f.0 == c)?;
        let (bit, marks) = (1u8 << form, self.options.marks);
        let kind = match next {
            b'2' => 0,
            b'1' => 1,
            b'7' => 2,
            b'\'' => 3,
            _ => return None,
        };
        match kind {
            0 => self.typeform_next = Some(form),
            1 => {
                self.typeform_words |= bit;
                if self.mode.carried & bit != 0 {
                    self.mode.carried &= !bit;
                } else if marks {
                    self.out.mark(TYPEFORMS[form].2);
                }
            }
            2 => {
                self.mode.typeforms |= bit;
                if marks {
                    self.out.mark(TYPEFORMS[form].2);
                }
            }
            _ => {
                if marks && (self.typeform_words | self.mode.typeforms) & bit != 0 {
                    self.out.mark(TYPEFORMS[form].3);
                }
                if self.typeform_words & bit != 0 {
                    self.typeform_words &= !bit;
                } else {
                    self.mode.typeforms &= !bit;
                }
            }
        }
        self.indicator(2, KINDS[form][kind], "9.1");
        Some(true)
    }

    /// Typeform words end with the run; stops and commas at its end stay outside (9.7 follows print, which
    /// the braille does not tell).
    pub(super) fn close_words(&mut self) {
        self.mode.carried = 0;
        if self.typeform_words == 0 || !self.options.marks {
            return;
        }
        for (k, form) in TYPEFORMS.iter().enumerate() {
            let on = [b' ', form.0, b'1'];
            let goes_on =
                self.rest.len() > 3 && self.rest.iter().zip(on).all(|(c, b)| c.to_ascii() as u8 == b);
            if self.typeform_words == 1 << k && goes_on {
                self.mode.carried = self.typeform_words;
                return;
            }
        }
        let marks: String =
            (0..4).rev().filter(|k| self.typeform_words & 1 << k != 0).map(|k| TYPEFORMS[k].3).collect();
        let kept = self.out.print.trim_end_matches(['.', ',', ';', ':', '”', '’', '"', ')', ']']).len();
        let tail = self.out.print[kept..].chars().count();
        self.out.print.insert_str(kept, &marks);
        let (by, from) = (marks.chars().count(), self.out.chars - tail);
        self.out.chars += by;
        if let Some(pieces) = &mut self.out.pieces {
            for piece in pieces.iter_mut().rev().take_while(|p| p.print.start >= from) {
                piece.print = piece.print.start + by..piece.print.end + by;
            }
        }
        self.typeform_words = 0;
    }
}
