//! A text's blocks as one run of print: quotation marks, dashes and typeforms of a block depend on the whole text.

use std::cell::OnceCell;
use std::ops::Range;

use crate::cell::Cell;
use crate::ueb::{self, SignUse};

use super::Sheet;
use super::block::{Block, Form, Kind, What};
use super::set::{self, Set};

/// A block's cells and their signs.
type Line = (Vec<Cell>, Vec<SignUse>);

/// The blocks with words, those of a paragraph that runs on over a print page together.
fn lines(blocks: &[Block]) -> Vec<Vec<usize>> {
    let mut out: Vec<Vec<usize>> = Vec::new();
    for (at, block) in blocks.iter().enumerate().filter(|(_, block)| block.kind.has_words()) {
        let after_page = at > 0 && blocks[at - 1].kind == Kind::PrintPage;
        let goes_on =
            matches!(block.kind, Kind::Continued | Kind::Form(Form { what: What::GoesOn, .. })) && after_page;
        match out.last_mut().filter(|_| goes_on) {
            Some(line) => line.push(at),
            None => out.push(vec![at]),
        }
    }
    out
}

/// The print of a block, in a row: columns, and a number behind its words, stand as words do.
pub(super) fn row(block: &Block) -> String {
    if let Kind::Form(Form { what: What::Symbol, .. }) = block.kind {
        return set::named(&block.print).to_owned();
    }
    block.print.replace(['\t', '\n'], " ")
}

/// The blocks' print, a line a block; a paragraph that runs on over a print page is one line.
pub(super) fn running(blocks: &[Block]) -> String {
    let line = |own: Vec<usize>| own.into_iter().map(|at| row(&blocks[at])).collect::<Vec<_>>().join(" ");
    lines(blocks).into_iter().map(line).collect::<Vec<_>>().join("\n")
}

/// The blocks with their braille as it is in the whole text.
pub(super) fn sets(blocks: Vec<Block>, sheet: Sheet) -> Vec<Set> {
    let (print, options) = (running(&blocks), sheet.options());
    let lines = lines(&blocks);
    let cells = ueb::transcribe_lines(&print, &options);
    let explained: OnceCell<Vec<Line>> = OnceCell::new();
    let whole = |line: usize| -> Line {
        let all = explained.get_or_init(|| ueb::explain_lines(&print, &options));
        all.get(line).cloned().unwrap_or_default()
    };
    let mut of_block: Vec<Option<usize>> = vec![None; blocks.len()];
    for (line, own) in lines.iter().enumerate() {
        for &at in own {
            of_block[at] = Some(line);
        }
    }
    let mut out = Vec::with_capacity(blocks.len());
    for (at, block) in blocks.iter().enumerate() {
        let set = match of_block[at] {
            None => Set::new(block.clone(), sheet),
            Some(line) if lines[line].len() == 1 => {
                let cells = cells.get(line).cloned().unwrap_or_default();
                Set::within(block.clone(), sheet, cells, || whole(line).1)
            }
            Some(line) => {
                let before: usize = lines[line]
                    .iter()
                    .take_while(|own| **own < at)
                    .map(|own| row(&blocks[*own]).chars().count() + 1)
                    .sum();
                let print = before..before + block.print.chars().count();
                let (cells, signs) = part(whole(line), print);
                Set::within(block.clone(), sheet, cells, || signs)
            }
        };
        out.push(set);
    }
    out
}

/// The part of a line between two of its blanks.
fn part((cells, signs): Line, print: Range<usize>) -> Line {
    let blank = |at: usize| signs.iter().position(|sign| sign.print == (at..at + 1));
    let from = print.start.checked_sub(1).and_then(blank).map_or(0, |sign| sign + 1);
    let to = blank(print.end).unwrap_or(signs.len());
    let own = &signs[from.min(to)..to];
    let (Some(first), Some(last)) = (own.first(), own.last()) else { return Line::default() };
    let (begin, end) = (first.cells.start, last.cells.end);
    let moved = |sign: &SignUse| SignUse {
        print: sign.print.start.saturating_sub(print.start)..sign.print.end.saturating_sub(print.start),
        cells: sign.cells.start - begin..sign.cells.end - begin,
        ..sign.clone()
    };
    (cells[begin..end].to_vec(), own.iter().map(moved).collect())
}
