//! The running head: on one line, at least three blank cells before it and before the print page number; one that is
//! longer is cut short at a word (from memory).

use crate::cell::Cell;
use crate::ueb;

use super::source::{Block, Front, Kind};
use super::{GAP, Profile, Sheet, number};

/// Words of a running head that are looked at; no line has more.
const WORDS: usize = 30;

/// A running head as it stands on the pages.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Head {
    /// Its cells; none where there is no running head.
    pub cells: Vec<Cell>,
    /// Whether it is cut short.
    pub cut: bool,
}

impl Head {
    /// The running head that the title page's fields ask for, the same on every page: it leaves room for the longest
    /// print page number of `blocks`.
    pub fn of<'a>(front: &Front, blocks: impl Iterator<Item = &'a Block>, sheet: Sheet) -> Head {
        if front.running_head.is_empty() {
            return Head::default();
        }
        let fit = fit(blocks, sheet);
        let all: Vec<&str> = front.running_head.split(' ').collect();
        for count in (1..=all.len().min(WORDS)).rev() {
            let cells = ueb::transcribe(&all[..count].join(" "), &sheet.options());
            if cells.len() <= fit {
                return Head { cells, cut: count < all.len() };
            }
        }
        let mut cells = ueb::transcribe(all[0], &sheet.options());
        cells.truncate(fit);
        Head { cells, cut: true }
    }

    /// A running head given as braille.
    pub fn given<'a>(mut cells: Vec<Cell>, blocks: impl Iterator<Item = &'a Block>, sheet: Sheet) -> Head {
        let fit = fit(blocks, sheet);
        let cut = cells.len() > fit;
        if cut {
            let word = cells[..=fit].iter().rposition(|cell| cell.is_blank()).filter(|at| *at > 0);
            cells.truncate(word.unwrap_or(fit));
        }
        Head { cells, cut }
    }
}

/// The most cells that a running head may have.
fn fit<'a>(blocks: impl Iterator<Item = &'a Block>, sheet: Sheet) -> usize {
    let shown = |block: &&Block| {
        sheet.profile == Profile::Full && block.kind == Kind::PrintPage && block.print != number::MADE
    };
    let pages = blocks.filter(shown);
    // A page that runs on has a letter more.
    let longest = pages.map(|block| number::cells(&block.print).len() + 1).max().unwrap_or(0);
    let beside = if longest > 1 { longest + GAP } else { GAP };
    sheet.cells.saturating_sub(GAP + beside).max(1)
}

/// A line in the middle of the sheet; an odd blank goes to the right, and where a page number takes the end of the line,
/// what is too long for the middle stands in the `room` before it.
pub(super) fn centred(line: &[Cell], cells: usize, room: usize) -> Vec<Cell> {
    let middle = cells.saturating_sub(line.len()) / 2;
    let mut out = vec![Cell::BLANK; middle.min(room.saturating_sub(line.len()))];
    out.extend_from_slice(line);
    out
}

/// Whether a line of this length, after so many blank cells, stands in the middle; or, where a page number takes the end
/// of the line, as far to the right as the `room` before it goes.
pub(super) fn is_centred(before: usize, length: usize, cells: usize, room: usize) -> bool {
    let after = cells.saturating_sub(before + length);
    before.abs_diff(after) <= 1 || (room < cells && before < after && before + length == room)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::to_ascii;

    // Three blank cells on both sides, cut at a word, room for a12 at the right end: from memory.
    #[test]
    fn a_long_head_is_cut_at_a_word() {
        let head = |words: &str, page: &str| {
            let front = Front { running_head: words.into(), ..Front::default() };
            let blocks = [Block { kind: Kind::PrintPage, print: page.into() }];
            let sheet = Sheet { contracted: false, ..Sheet::default() };
            let head = Head::of(&front, blocks.iter().filter(|_| !page.is_empty()), sheet);
            (to_ascii(&head.cells), head.cut)
        };
        let words = "the winter boats of hallam quay and orrin";
        assert_eq!(head("boats", "1"), ("boats".into(), false));
        assert_eq!(head(words, ""), ("the winter boats of hallam quay".into(), true));
        assert_eq!(head(words, "12"), ("the winter boats of hallam".into(), true));
        assert_eq!(head(&"b".repeat(60), "").0.len(), 34);
    }

    #[test]
    fn what_is_too_long_for_the_middle_stands_before_the_page_number() {
        let line = vec![Cell::from_bits(63).unwrap_or_default(); 28];
        for (room, before) in [(40, 6), (34, 6), (33, 5)] {
            let set = centred(&line, 40, room);
            assert_eq!(set.len(), before + 28);
            assert!(is_centred(before, 28, 40, room));
        }
        assert!(!is_centred(4, 28, 40, 34));
    }
}
