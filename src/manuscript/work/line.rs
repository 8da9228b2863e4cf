//! A line of text on the paper, and what it says: without guide dots, the blanks between columns, the indicators of a
//! transcriber's note.

use std::borrow::Cow;
use std::ops::Range;

use crate::cell::Cell;
use crate::manuscript::set::{mention, note_indicators};
use crate::manuscript::{GAP, Sheet, number, tabular};

use super::{end, indent};

/// A line of text in a file: what is no text (page numbers, running heads, page changes, box lines) is left out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TextLine<'a> {
    /// The page, from 0.
    pub page: usize,
    /// The line, from 0.
    pub line: usize,
    /// The cells, from the line's first cell on.
    pub cells: &'a [Cell],
    /// What is marked against the print.
    said: Cow<'a, [Cell]>,
    /// The cells that are left out of it, in order.
    left_out: Vec<Range<usize>>,
    fixed: bool,
}

impl AsRef<[Cell]> for TextLine<'_> {
    fn as_ref(&self) -> &[Cell] {
        &self.said
    }
}

impl<'a> TextLine<'a> {
    pub(super) fn new(
        page: usize,
        line: usize,
        cells: &'a [Cell],
        in_table: bool,
        sheet: Sheet,
    ) -> TextLine<'a> {
        let left_out = left_out(cells, in_table, sheet);
        let said = match left_out[..] {
            [] => Cow::Borrowed(cells),
            _ => {
                let mut said = Vec::with_capacity(cells.len());
                let mut from = 0;
                for part in &left_out {
                    said.extend_from_slice(&cells[from..part.start]);
                    from = part.end;
                }
                said.extend_from_slice(&cells[from..]);
                Cow::Owned(said)
            }
        };
        let [open, close] = note_indicators();
        let inner = |part: &Range<usize>| {
            let part = &cells[part.clone()];
            part != open && part != close && !part.starts_with(&mention())
        };
        let fixed = in_table || left_out.iter().any(inner);
        TextLine { page, line, cells, said, left_out, fixed }
    }

    /// Whether its cells have fixed places: guide dots, columns, a number at the end.
    pub fn is_fixed(&self) -> bool {
        self.fixed
    }

    /// The place on the paper of a place in what the line says.
    pub fn on_paper(&self, at: usize) -> usize {
        let before = |at: usize, part: &Range<usize>| if part.start <= at { at + part.len() } else { at };
        self.left_out.iter().fold(at, before)
    }
}

/// The cells of a line that say nothing.
fn left_out(cells: &[Cell], in_table: bool, sheet: Sheet) -> Vec<Range<usize>> {
    let mut out = Vec::new();
    let [open, close] = note_indicators();
    let begin = indent(cells);
    if cells[begin..].starts_with(&open) {
        out.push(begin..begin + open.len());
    }
    // A special symbol behind its dot locator; its name follows.
    if cells[begin..].starts_with(&mention())
        && let Some(blank) = cells[begin..].iter().position(|cell| cell.is_blank())
    {
        out.push(begin..begin + blank + 1);
    }
    let begin = out.first().map_or(begin, |part: &Range<usize>| part.end);
    let stop =
        if cells.len() > begin && cells.ends_with(&close) { cells.len() - close.len() } else { cells.len() };
    let mut at = begin;
    while at < stop {
        if !cells[at].is_blank() {
            at += 1;
            continue;
        }
        let gap =
            cells[at..stop].iter().take_while(|cell| cell.is_blank() || **cell == tabular::guide()).count();
        let gap = at..at + gap;
        at = gap.end.max(at + 1);
        if gap.end == stop {
            continue;
        }
        // Dot 5 may begin the next word.
        let blank = gap.clone().rev().find(|at| cells[*at].is_blank()).unwrap_or(gap.start);
        let guides = cells[gap.start..blank].iter().filter(|cell| !cell.is_blank()).count();
        let guided =
            guides >= 2 && cells[gap.start + 1..blank].iter().all(|cell| !cell.is_blank() || in_table);
        let columns = in_table && guides == 0 && blank > gap.start;
        let numbered = guides == 0
            && blank + 1 - gap.start >= GAP
            && cells.len() == sheet.cells
            && number::label(&cells[blank + 1..]).is_some();
        // Guide dots that touch the page.
        let touching = blank == gap.start && gap.len() > 5;
        if touching {
            out.push(gap.start + 1..gap.end);
        } else if guided || columns || numbered {
            out.push(gap.start + 1..blank + 1);
        }
    }
    if stop < cells.len() {
        out.push(stop..cells.len());
    }
    out
}

/// Whether the lines around one, none of them empty, look like the rows of a table: two at least, and half of them,
/// have wide gaps within.
pub(super) fn among_rows(page: &[Vec<Cell>], at: usize) -> bool {
    let text = &page[..page.len().saturating_sub(1)];
    let filled = |line: &&Vec<Cell>| end(line) > 0;
    let above = text[..at.min(text.len())].iter().rev().take_while(filled).count();
    let below = text[at.min(text.len())..].iter().take_while(filled).count();
    // The first line of a page has the running head.
    let rows = &text[(at.min(text.len()) - above).max(1).min(text.len())..(at + below).min(text.len())];
    let gaps = |line: &&Vec<Cell>| {
        let line = &line[indent(line)..end(line)];
        line.windows(2).any(|two| two[0].is_blank() && two[1].is_blank())
    };
    let wide = rows.iter().filter(gaps).count();
    wide >= 2 && wide * 2 >= rows.len()
}

/// Whether a page ends within a table: no blank line comes after the line under its headings.
pub(super) fn ends_in_table(page: &[Vec<Cell>]) -> bool {
    let text = &page[..page.len().saturating_sub(1)];
    text.iter()
        .rev()
        .take_while(|line| end(line) > 0)
        .any(|line| tabular::is_under_headings(&line[..end(line)]))
}
