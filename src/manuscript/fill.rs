//! One page, filled with lines.

use std::ops::Range;

use crate::cell::Cell;
use crate::ueb;

use super::block::{Form, What};
use super::forms;
use super::head::centred;
use super::layout::Manuscript;
use super::page::{Page, Row, Start};
use super::set::{Set, Spot};
use super::source::Kind;
use super::{GAP, Profile, number, tabular};

/// Which count a page's number belongs to.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Count {
    /// Made by the transcriber, `t1`.
    Made,
    /// Print's front matter, `p1`.
    Front,
    /// The body, `1`.
    Body,
}

/// The count that pages belong to which show this print page.
pub(super) fn count(print_page: &str) -> Count {
    if print_page == number::MADE {
        Count::Made
    } else if number::is_front(print_page) {
        Count::Front
    } else {
        Count::Body
    }
}

/// Whether a line shows that this print page begins.
pub(super) fn changes(print_page: &str) -> bool {
    !print_page.is_empty() && print_page != number::MADE
}

/// The print page number that a page shows; none on pages that the transcriber makes.
fn shown(print_page: &str, runs: usize) -> Vec<Cell> {
    if print_page == number::MADE { Vec::new() } else { number::cells(&number::run_on(print_page, runs)) }
}

impl Manuscript {
    /// One page, and where the next begins.
    pub(super) fn page(&self, start: Start) -> (Page, Start) {
        let mut now = start.clone();
        // A print page that begins here gives the page its number.
        while let Some(set) = self.sets.get(now.block).filter(|set| set.block.kind == Kind::PrintPage) {
            (now.print, now.runs) = (set.block.print.clone(), 0);
            (now.block, now.spot) = (now.block + 1, Spot::default());
        }
        let counted = count(&now.print);
        let label = match counted {
            Count::Made => {
                now.made += 1;
                format!("t{}", now.made)
            }
            Count::Front => {
                now.front += 1;
                format!("p{}", now.front)
            }
            Count::Body => {
                now.body += 1;
                now.body.to_string()
            }
        };
        let full = self.sheet.profile == Profile::Full;
        let print_number = if full { shown(&now.print, now.runs) } else { Vec::new() };
        let label_cells = number::cells(&label);
        let sheet = self.sheet;
        let width = |line: usize| {
            let mut width = sheet.cells;
            if line == 0 && !print_number.is_empty() {
                width -= (print_number.len() + GAP).min(width - 1);
            }
            if line + 1 == sheet.lines && sheet.numbered {
                width -= (label_cells.len() + GAP).min(width - 1);
            }
            width
        };
        let mut lines: Vec<Vec<Cell>> = Vec::new();
        let mut rows: Vec<Option<Row>> = Vec::new();
        let mut forced = Vec::new();
        if !self.head.is_empty() {
            lines.push(centred(&self.head, sheet.cells, width(0)));
        }
        let top = lines.len();
        let first = start.block;
        let mut gap = false;
        'blocks: while let Some(set) = self.sets.get(now.block) {
            let kind = set.block.kind;
            let waits = || {
                let last = width(sheet.lines - 1);
                lines.len() > top && !self.fits(now.block, gap, lines.len()..sheet.lines, last, counted)
            };
            if kind == Kind::PrintPage {
                if count(&set.block.print) != counted || waits() {
                    break;
                }
                if full && changes(&set.block.print) {
                    if gap {
                        lines.push(Vec::new());
                    }
                    lines.push(page_change(&number::cells(&set.block.print), sheet.cells));
                }
                (now.print, now.runs) = (set.block.print.clone(), 0);
                gap &= !full;
                (now.block, now.spot) = (now.block + 1, Spot::default());
                continue;
            }
            if now.spot.is_start() {
                if waits() {
                    break;
                }
                // A heading keeps its blank line below a running head (from memory).
                let below_head = kind.is_heading() && top > 0 && lines.len() == top;
                if below_head || (lines.len() > top && (gap || self.is_apart(now.block))) {
                    lines.push(Vec::new());
                }
            }
            gap = kind == Kind::Centred;
            let (first_cell, others) = if set.is_fixed() { (1, 1) } else { kind.margins() };
            while !set.is_done(&now.spot) {
                if lines.len() >= sheet.lines {
                    break 'blocks;
                }
                let room = width(lines.len());
                // Beside a page number there is no room for a line of fixed places.
                if set.fixed(&now.spot).is_some_and(|length| length > room) && lines.len() < sheet.lines {
                    if lines.len() + 1 == sheet.lines && lines.len() > top {
                        break 'blocks;
                    }
                    if lines.is_empty() {
                        lines.push(Vec::new());
                        continue;
                    }
                }
                let indent = if now.spot.is_start() { first_cell } else { others } - 1;
                let fit = if kind.is_centred() {
                    room.saturating_sub(2 * GAP)
                } else {
                    room.saturating_sub(indent)
                };
                // The last line shares its room with the page number: a word too long for it goes to the next page,
                // and no word is divided there (from memory).
                let last = lines.len() + 1 == sheet.lines;
                let cut = set.line(&now.spot, fit.max(2), sheet.divide && !last && !kind.is_heading());
                if cut.forced && last && lines.len() > top {
                    lines.push(Vec::new());
                    break 'blocks;
                }
                if cut.forced {
                    forced.push(lines.len());
                }
                let carried = now.spot.carry.len();
                let from = now.spot.cell;
                let line = if kind.is_centred() {
                    centred(&cut.cells, sheet.cells, room)
                } else {
                    let mut out = vec![Cell::BLANK; indent];
                    out.extend(&cut.cells);
                    out
                };
                rows.resize(lines.len(), None);
                rows.push(Some(Row {
                    block: now.block,
                    cells: from..(from + cut.cells.len() - carried.min(cut.cells.len())).min(cut.next.cell),
                    indent: line.len() - cut.cells.len() + carried,
                }));
                lines.push(line);
                now.spot = cut.next;
            }
            (now.block, now.spot) = (now.block + 1, Spot::default());
        }
        let end = now.block + usize::from(!now.spot.is_start());
        if !print_number.is_empty() {
            if lines.is_empty() {
                lines.push(Vec::new());
            }
            at_right(&mut lines[0], &print_number, sheet.cells);
        }
        self.number(&mut lines, &label);
        rows.resize(lines.len(), None);
        now.runs += 1;
        (Page { start, label, lines, rows, blocks: first..end, forced }, now)
    }

    /// Whether a blank line stands before a block. A print page that begins in between changes nothing.
    fn is_apart(&self, block: usize) -> bool {
        let text = |set: &&Set| set.block.kind != Kind::PrintPage;
        let before = self.sets[..block].iter().rev().find(text).map(|set| set.block.kind);
        forms::apart(before, self.sets[block].block.kind)
    }

    /// Whether a block fits into the lines that are left with what may not be parted from it: the blank line before it,
    /// and behind a heading or a page change the first line of text (from memory). Headings that would fill a page by
    /// themselves are parted all the same. `last` is the room on the page's last line.
    fn fits(&self, block: usize, gap: bool, left: Range<usize>, last: usize, counted: Count) -> bool {
        let (mut asked, mut gap) = (0, gap);
        let mut own = None;
        for at in (block..self.sets.len()).take(self.sheet.lines) {
            let set = &self.sets[at];
            let kind = set.block.kind;
            if kind == Kind::PrintPage {
                if count(&set.block.print) != counted {
                    break;
                }
                asked += if self.sheet.profile == Profile::Full && changes(&set.block.print) {
                    1 + usize::from(gap)
                } else {
                    0
                };
                gap &= self.sheet.profile != Profile::Full;
            } else {
                asked += usize::from(gap || self.is_apart(at));
                if !kind.keeps_next() {
                    asked += self.together(at);
                    let indent = kind.margins().0 - 1;
                    let cut =
                        |room: usize| set.line(&Spot::default(), room.saturating_sub(indent).max(2), false);
                    // A word too long beside the page number goes to the next page.
                    let too_long = || match set.fixed(&Spot::default()) {
                        Some(length) => length > last,
                        None => cut(last).forced,
                    };
                    asked += usize::from(left.start + asked == self.sheet.lines && too_long());
                    break;
                }
                asked += set.rows(self.sheet.cells);
                gap = kind == Kind::Centred;
            }
            own.get_or_insert(asked + 1 + usize::from(gap));
            if asked >= self.sheet.lines - 1 {
                asked = own.unwrap_or(asked);
                break;
            }
        }
        // A page change at the very end has no text behind it, and no place beside the page number.
        let least = if self.sets[block].block.kind == Kind::PrintPage { 2 } else { 1 };
        asked.max(least) <= left.len()
    }

    /// The lines of a block's beginning that may not be parted: a table stays on one page if it fits on one.
    fn together(&self, block: usize) -> usize {
        let set = &self.sets[block];
        if !matches!(set.block.kind, Kind::Form(Form { what: What::Table, .. })) {
            return 1;
        }
        tabular::together(set.rows(self.sheet.cells), self.sheet)
    }

    /// Whether a block, with what may not be parted from it, has room in these lines below another one; `last` is the room
    /// on the last line, `page` the print page.
    pub(super) fn has_room(&self, block: usize, left: Range<usize>, last: usize, page: &str) -> bool {
        let before = block.checked_sub(1).map(|at| self.sets[at].block.kind);
        self.fits(block, before == Some(Kind::Centred), left, last, count(page))
    }

    /// Whether the places of a block's cells are fixed.
    pub(super) fn is_fixed(&self, block: usize) -> bool {
        self.sets.get(block).is_some_and(Set::is_fixed)
    }

    /// Puts the braille page number at the right end of the last line.
    pub(super) fn number(&self, lines: &mut Vec<Vec<Cell>>, label: &str) {
        if self.sheet.numbered {
            lines.resize(self.sheet.lines, Vec::new());
            if let Some(last) = lines.last_mut() {
                at_right(last, &number::cells(label), self.sheet.cells);
            }
        }
    }
}

fn at_right(line: &mut Vec<Cell>, label: &[Cell], cells: usize) {
    line.resize(cells.saturating_sub(label.len()).max(line.len()), Cell::BLANK);
    line.extend_from_slice(label);
}

/// The line between two print pages: dots 3-6 up to the new page's number (from memory).
fn page_change(label: &[Cell], cells: usize) -> Vec<Cell> {
    let hyphen =
        ueb::register::by_key("hyphen").and_then(|sign| sign.cells.first().copied()).unwrap_or_default();
    let mut out = vec![hyphen; cells.saturating_sub(label.len())];
    out.extend_from_slice(label);
    out
}
