//! Lines whose cells have fixed places: contents and tables with guide dots, numbered verse, box lines.
//!
//! Guide dots are dots 5 between a blank cell on either side, where at least two have room; two blank cells part
//! columns; under the headings of columns stands a line of dots 2-5 that begins with dot 5 (from memory).

use crate::cell::Cell;
use crate::ueb;

use super::block::{Block, Form, Kind, What};
use super::{GAP, Sheet};

/// Cells between two columns.
const BETWEEN: usize = 2;
/// Cells at the right end that the words of an entry leave to its page.
const FOR_PAGES: usize = 6;
/// Cells of the line before the notes.
const NOTE_LINE: usize = 12;
/// Rows of a table that may never be parted: the headings, the line under them, the first row.
const TOGETHER: usize = 3;

/// How many of a table's rows stay on one page: all, if a page has room for them below a running head and a heading.
pub(super) fn together(rows: usize, sheet: Sheet) -> usize {
    if rows + 6 <= sheet.lines { rows } else { TOGETHER.min(rows) }
}

fn dots(dots: &[u8]) -> Cell {
    Cell::from_dots(dots).unwrap_or_default()
}

/// The dot 5 of guide dots.
pub(super) fn guide() -> Cell {
    dots(&[5])
}

/// Gives the lines of running words in a form, each of at most so many cells.
type Running<'a> = &'a dyn Fn(&str, Form, usize) -> Vec<Vec<Cell>>;

/// The lines of a block whose cells have fixed places; `None` for running text.
pub(super) fn lines(block: &Block, sheet: Sheet, running: Running) -> Option<Vec<Vec<Cell>>> {
    let Kind::Form(form) = block.kind else { return None };
    match form.what {
        What::BoxTop => Some(vec![vec![dots(&[2, 3, 5, 6]); sheet.cells]]),
        What::BoxBottom => Some(vec![vec![dots(&[1, 2, 4, 5]); sheet.cells]]),
        What::NoteLine => Some(vec![vec![dots(&[2, 5]); NOTE_LINE.min(sheet.cells)]]),
        What::Entry | What::Numbered => Some(with_tail(block, form, sheet, running)),
        What::Table => Some(table(&block.print, sheet)),
        // What is put here has not been made.
        What::ContentsHere | What::SymbolsHere | What::NotesHere => Some(Vec::new()),
        _ => None,
    }
}

/// Words, and at the right end of their last line a number.
fn with_tail(block: &Block, form: Form, sheet: Sheet, running: Running) -> Vec<Vec<Cell>> {
    let (words, tail) = block.print.split_once('\t').unwrap_or((&block.print, ""));
    let tail = ueb::transcribe(tail, &sheet.options());
    let aside = if form.what == What::Entry { FOR_PAGES } else { tail.len() + GAP };
    let width = sheet.cells.saturating_sub(aside.max(tail.len() + GAP)).max(sheet.cells / 2);
    let mut out = running(words, form, width);
    if let Some(last) = out.last_mut().filter(|_| !tail.is_empty()) {
        fill(last, sheet.cells.saturating_sub(tail.len()), form.what == What::Entry);
        last.extend(tail);
    }
    out
}

/// Brings a line to a width, with guide dots if they are asked for and have room.
fn fill(line: &mut Vec<Cell>, width: usize, guided: bool) {
    let from = line.len() + 1;
    let to = width.saturating_sub(1);
    if guided && to >= from + 2 {
        line.push(Cell::BLANK);
        line.resize(to, guide());
    }
    line.resize(width.max(line.len()), Cell::BLANK);
}

fn columns(print: &str, sheet: Sheet) -> (Vec<Vec<Vec<Cell>>>, Vec<usize>) {
    let rows: Vec<Vec<Vec<Cell>>> = print
        .split('\n')
        .map(|row| row.split('\t').map(|entry| ueb::transcribe(entry, &sheet.options())).collect())
        .collect();
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |at: usize| rows.iter().filter_map(|row| row.get(at)).map(Vec::len).max().unwrap_or(0);
    let widths = (0..count).map(|at| width(at).max(2)).collect();
    (rows, widths)
}

/// Whether a table's columns fit side by side.
#[cfg(feature = "markdown")]
pub(super) fn fits(print: &str, sheet: Sheet) -> bool {
    let widths = columns(print, sheet).1;
    widths.iter().sum::<usize>() + BETWEEN * widths.len().saturating_sub(1) <= sheet.cells
}

fn table(print: &str, sheet: Sheet) -> Vec<Vec<Cell>> {
    let (rows, widths) = columns(print, sheet);
    let mut out = Vec::new();
    for (at, row) in rows.iter().enumerate() {
        let mut line: Vec<Cell> = Vec::new();
        let mut start = 0;
        for (column, width) in widths.iter().enumerate() {
            line.resize(start, Cell::BLANK);
            let entry = row.get(column).map(Vec::as_slice).unwrap_or_default();
            line.extend_from_slice(entry);
            if at > 0 && column + 1 < widths.len() {
                let end = start + width;
                // An empty entry has guide dots from its first cell on.
                match entry.is_empty() {
                    true => line.resize(end, guide()),
                    false if line.len() + 3 <= end => {
                        line.push(Cell::BLANK);
                        line.resize(end, guide());
                    }
                    false => {}
                }
            }
            start += width + BETWEEN;
        }
        while line.last().is_some_and(|cell| cell.is_blank()) {
            line.pop();
        }
        out.push(line);
        if at == 0 {
            let mut under: Vec<Cell> = Vec::new();
            for width in &widths {
                if !under.is_empty() {
                    under.extend([Cell::BLANK; BETWEEN]);
                }
                under.push(guide());
                under.extend(vec![dots(&[2, 5]); width - 1]);
            }
            out.push(under);
        }
    }
    out
}

/// Whether a line stands under the headings of a table's columns.
pub(super) fn is_under_headings(line: &[Cell]) -> bool {
    let own = |part: &[Cell]| {
        part.len() > 1 && part[0] == guide() && part[1..].iter().all(|cell| *cell == dots(&[2, 5]))
    };
    let mut parts = line.split(|cell| cell.is_blank()).filter(|part| !part.is_empty()).peekable();
    parts.peek().is_some() && parts.all(own)
}

/// Whether a line is one of a box or stands before notes: what it is.
pub(super) fn ruled(line: &[Cell]) -> Option<What> {
    let all = |cell: &[u8], least: usize| line.len() >= least && line.iter().all(|one| *one == dots(cell));
    if all(&[2, 3, 5, 6], NOTE_LINE) {
        Some(What::BoxTop)
    } else if all(&[1, 2, 4, 5], NOTE_LINE) {
        Some(What::BoxBottom)
    } else if line.len() == NOTE_LINE && all(&[2, 5], NOTE_LINE) {
        Some(What::NoteLine)
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::to_ascii;

    fn set(block: Block) -> Vec<String> {
        let sheet = Sheet { contracted: false, ..Sheet::default() };
        crate::manuscript::set::fixed(&block, sheet).unwrap().iter().map(|line| to_ascii(line)).collect()
    }

    // Guide dots, box lines, the line under headings: Braille Formats 2016, from memory.
    #[test]
    fn lines_with_fixed_places() {
        let long = "the boats of the skerry line in winter and in summer";
        let entry = set(What::Entry.levelled(1, 1, format!("{long}\t12")));
        assert_eq!(entry[0], "the boats of the skerry line in");
        assert_eq!(entry[1], format!("  winter and in summer {} #ab", "\"".repeat(13)));
        assert!(entry.iter().all(|line| line.len() <= 40));
        let short = set(What::Entry.levelled(1, 1, format!("{}\t12", "b".repeat(33))));
        assert_eq!(short, [format!("{} \"\" #ab", "b".repeat(33))]);
        assert_eq!(set(What::Numbered.levelled(1, 1, "the tide\t5")), [format!("the tide{:>32}", "#e")]);
        let rows = set(What::Table.block("boat\thour\nseal\t7\nkittiwake\t\na\t12"));
        assert_eq!(rows[0], "boat       hour");
        assert_eq!(rows[1], "\"33333333  \"333");
        assert_eq!(rows[2], "seal \"\"\"\"  #g");
        assert_eq!(rows[3], "kittiwake");
        assert_eq!(rows[4], "a \"\"\"\"\"\"\"  #ab");
        assert_eq!(set(What::BoxTop.block("")), ["7".repeat(40)]);
        assert_eq!(set(What::BoxBottom.block("")), ["g".repeat(40)]);
        let under = crate::cell::from_ascii(&rows[1]).unwrap();
        assert!(is_under_headings(&under) && ruled(&under).is_none());
    }
}
