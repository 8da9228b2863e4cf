//! A page as laid out, and where it begins.

use std::ops::Range;

use crate::cell::Cell;

use super::set::Spot;

/// Where a page begins.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Start {
    pub block: usize,
    pub spot: Spot,
    pub print: String,
    pub runs: usize,
    pub made: u32,
    pub front: u32,
    pub body: u32,
}

impl Start {
    /// Where the first page begins; `made` pages of the transcriber's stand before it.
    pub fn first(made: u32) -> Start {
        Start { made, ..Start::default() }
    }

    /// Its place in the blocks.
    pub fn place(&self) -> (usize, usize) {
        (self.block, self.spot.cell)
    }
}

/// What a line of a page holds of a block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The block.
    pub block: usize,
    /// Its cells on this line, half-open; a blank at which the line ended is not among them.
    pub cells: Range<usize>,
    /// Blank cells before them.
    pub indent: usize,
}

/// A page as laid out.
#[derive(Clone, Debug)]
pub struct Page {
    pub(super) start: Start,
    /// Its braille page number, `12`, `p1` or `t1`.
    pub label: String,
    /// Its lines, without trailing blanks.
    pub lines: Vec<Vec<Cell>>,
    /// What each line holds of the blocks; `None` for lines of their own (blank, running head, page change).
    pub rows: Vec<Option<Row>>,
    /// The blocks that stand on it, half-open; a block may go on from the page before.
    pub blocks: Range<usize>,
    pub(super) forced: Vec<usize>,
}
