//! The lines at which print pages change: dots 3-6 from the first cell up to the new number, which has no letter (from
//! memory).

use crate::cell::Cell;
use crate::manuscript::number;
use crate::manuscript::work::{end, parts_pages};

use super::{Asked, Findings, Profile};

/// Checks every line of dots 3-6.
pub(super) fn check(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    for (page, lines) in pages.iter().enumerate() {
        for (at, whole) in lines.iter().enumerate() {
            let line = &whole[..end(whole)];
            if !parts_pages(line) {
                continue;
            }
            if asked.sheet.profile == Profile::Plain {
                out.fix("page-change", page, at, "Print pages are not shown here.");
                continue;
            }
            let dash = |cell: &Cell| cell.to_ascii() == '-';
            let from = line.iter().rposition(|cell| dash(cell) || cell.is_blank()).map_or(0, |at| at + 1);
            let label = number::label(&line[from..]);
            let say = if !line[..from].iter().all(dash) {
                "Dots 3-6 stand in this line from its first cell to the number, and nothing else."
            } else if from == line.len() {
                "The number of the print page that begins belongs at the end of this line."
            } else if label.is_some_and(|label| label.starts_with(|c: char| c.is_ascii_lowercase())) {
                "The number has no letter where its print page begins."
            } else if line.len() != asked.sheet.cells {
                "The number ends at the right end of the line."
            } else {
                continue;
            };
            out.fix("page-change", page, at, say);
        }
    }
}
