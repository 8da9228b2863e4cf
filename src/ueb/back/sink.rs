//! Where the reader puts the print and the pieces.

use crate::ueb::{Piece, Remark, SignId};

/// The print and, when asked for, the pieces.
pub(super) struct Sink {
    pub print: String,
    /// Unicode scalar values in `print`.
    pub chars: usize,
    pub pieces: Option<Vec<Piece>>,
    /// Where the run being read begins, in cells.
    pub base: usize,
}

impl Sink {
    pub fn new(pieces: bool) -> Sink {
        Sink { print: String::new(), chars: 0, pieces: pieces.then(Vec::new), base: 0 }
    }

    /// Print that belongs to no sign: the marks of typeforms and scripts.
    pub fn mark(&mut self, text: &str) {
        self.print.push_str(text);
        self.chars += text.chars().count();
    }

    pub fn put(
        &mut self,
        from: usize,
        to: usize,
        text: &str,
        sign: Option<SignId>,
        section: &'static str,
        remark: Remark,
    ) {
        let start = self.chars;
        self.mark(text);
        if let Some(pieces) = &mut self.pieces {
            let section = match sign {
                Some(id) if section.is_empty() => crate::ueb::register::get(id).section,
                _ => section,
            };
            pieces.push(Piece {
                cells: self.base + from..self.base + to,
                print: start..self.chars,
                sign,
                section,
                remark,
            });
        }
    }
}
