//! Where the reader puts the print and the pieces.

use crate::ueb::{Piece, Remark, SignId, register};

/// The print and, when asked for, the pieces.
pub(super) struct Sink {
    pub print: String,
    /// Unicode scalar values in `print`; counted only when pieces are asked for.
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
        if self.pieces.is_some() {
            self.chars += text.chars().count();
        }
    }

    /// Such print at an earlier place, in bytes; a piece around that place grows, those after it move.
    pub fn insert(&mut self, at: usize, text: &str) {
        let tail = self.print[at..].chars().count();
        self.print.insert_str(at, text);
        if let Some(pieces) = &mut self.pieces {
            let (by, from) = (text.chars().count(), self.chars - tail);
            self.chars += by;
            for piece in pieces.iter_mut().rev().take_while(|p| p.print.end > from) {
                piece.print.end += by;
                if piece.print.start >= from {
                    piece.print.start += by;
                }
            }
        }
    }

    /// A sign's print.
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
                Some(id) if section.is_empty() => register::get(id).section,
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
