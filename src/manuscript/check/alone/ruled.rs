//! What can be told of boxes, notes, contents, tables and breaks from their own lines.

use crate::cell::Cell;
use crate::manuscript::block::What;
use crate::manuscript::set::note_indicators;
use crate::manuscript::work::{end, indent, parts_pages};
use crate::manuscript::{number, tabular};
use crate::ueb;

use super::{Asked, Findings};

/// A row of a page and its place.
type Row<'a> = (usize, usize, &'a [Cell]);

/// Checks all pages.
pub(super) fn check(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    let rows: Vec<Row> = pages
        .iter()
        .enumerate()
        .flat_map(|(page, lines)| {
            lines.iter().enumerate().map(move |(at, line)| (page, at, &line[..end(line)]))
        })
        .collect();
    boxes(&rows, out);
    notes(&rows, out);
    breaks(&rows, asked, out);
    for page in rows.chunk_by(|a, b| a.0 == b.0) {
        contents(page, asked, out);
        tables(page, out);
    }
}

/// Every box has a line above and a line below, and no blank line within them.
fn boxes(rows: &[Row], out: &mut Findings) {
    let mut open: Option<(usize, usize)> = None;
    for (at, &(page, row, line)) in rows.iter().enumerate() {
        let blank = |at: Option<usize>| {
            at.and_then(|at| rows.get(at)).is_some_and(|other| other.0 == page && other.2.is_empty())
        };
        match tabular::ruled(line) {
            Some(What::BoxTop) => {
                if let Some((page, row)) = open.replace((page, row)) {
                    out.fix("box", page, row, "No line of dots 1-2-4-5 ends this box.");
                }
            }
            Some(What::BoxBottom) => {
                let lone = open.take().is_none();
                if lone {
                    out.fix("box", page, row, "No line of dots 2-3-5-6 begins this box.");
                    // With text right below it, it is a beginning turned round.
                    let text = |next: &Row| !next.2.is_empty() && !parts_pages(next.2);
                    open = rows.get(at + 1).is_some_and(text).then_some((page, row));
                }
            }
            _ => {}
        }
        let ruled = tabular::ruled(line);
        if matches!(ruled, Some(What::BoxTop | What::NoteLine)) && blank(Some(at + 1)) {
            out.fix("blank-lines", page, row + 1, "No blank line belongs below this line.");
        }
        if ruled.is_some() && row == 2 && rows[at - 1].2.is_empty() && !rows[at - 2].2.is_empty() {
            let first = rows[at - 2].2;
            if indent(first) >= 3 && number::label(&first[indent(first)..]).is_none() {
                let say = "No blank line belongs between the running head and the text.";
                out.fix("head-gap", page, 1, say);
            }
        }
    }
    if let Some((page, row)) = open {
        out.fix("box", page, row, "No line of dots 1-2-4-5 ends this box.");
    }
}

/// Transcriber's notes have both indicators, and run over to cell 5.
fn notes(rows: &[Row], out: &mut Findings) {
    let [open, close] = note_indicators();
    let mut begun: Option<(usize, usize)> = None;
    for (at, &(page, row, line)) in rows.iter().enumerate() {
        let text = &line[indent(line)..];
        let begins = text.starts_with(&open);
        let ends = text.len() > open.len() && text.ends_with(&close);
        let next = rows.get(at + 1).filter(|next| next.0 == page);
        if begins {
            begun = Some((page, row));
        } else if ends && begun.is_none() {
            let say = "A transcriber’s note ends here, and no indicator (dots 4, 4-6, 1-2-6) begins it.";
            out.fix("transcribers-note", page, row, say);
        } else if begun.is_some() && indent(line) != 4 && !text.is_empty() && row > 0 {
            let say = format!("A transcriber’s note runs over to cell 5, not to cell {}.", indent(line) + 1);
            out.fix("transcribers-note", page, row, say);
        }
        if ends {
            begun = None;
        } else if let Some((first, from)) = begun
            && next.is_some_and(|next| next.2.is_empty())
        {
            // The note goes on below the blank line, or its end is missing.
            let later =
                rows[at + 1..].iter().take(3).any(|later| later.0 == page && later.2.ends_with(&close));
            if later {
                out.fix("blank-lines", page, row + 1, "A blank line stands inside this transcriber’s note.");
                continue;
            }
            let say = "No indicator (dots 4, 4-6, 3-4-5) ends this transcriber’s note.";
            out.fix("transcribers-note", first, from, say);
            begun = None;
        }
    }
}

/// Three asterisks by themselves stand in the middle.
fn breaks(rows: &[Row], asked: &Asked, out: &mut Findings) {
    let asterisks = ueb::transcribe("* * *", &ueb::Options::default());
    for &(page, row, line) in rows {
        let before = indent(line);
        if line[before..] == asterisks {
            let after = asked.sheet.cells.saturating_sub(line.len());
            if before.abs_diff(after) > 1 {
                out.fix("break", page, row, "A break in context stands in the middle of its line.");
            }
        }
    }
}

/// The guide dots of a line: where they begin and end.
fn guides(line: &[Cell]) -> Option<(usize, usize)> {
    let from = line.windows(3).position(|run| run.iter().all(|cell| *cell == tabular::guide()))?;
    Some((from, from + line[from..].iter().take_while(|cell| **cell == tabular::guide()).count()))
}

/// Lines of contents are alike: what most lines around one have it has too.
fn contents(rows: &[Row], asked: &Asked, out: &mut Findings) {
    let width = asked.sheet.cells;
    let is_entry = |line: &[Cell]| {
        let Some((from, to)) = guides(line) else { return false };
        line.len() == width
            && from > 0
            && line[from - 1].is_blank()
            && line.get(to).is_some_and(|cell| cell.is_blank())
            && line[to + 1..].iter().all(|cell| !cell.is_blank())
    };
    for (at, &(page, row, line)) in rows.iter().enumerate() {
        let around = [at.checked_sub(1), Some(at + 1)];
        let alike = around.iter().flatten().filter(|at| rows.get(**at).is_some_and(|row| is_entry(row.2)));
        if alike.count() == 0 || is_entry(line) {
            continue;
        }
        // Words that run over have no page behind them.
        let word = line.iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
        let wide = word >= 4 && line[word - 4..word].iter().all(|cell| cell.is_blank());
        // A number by itself is the page's.
        let words = word > indent(line);
        if guides(line).is_some() || (wide && words && line.len() == width) {
            let say = "Guide dots fill the room before the page, with a blank cell before and after them, and the page ends the line.";
            out.fix("contents", page, row, say);
        }
    }
}

/// The rows below the headings of a table keep to their columns.
fn tables(rows: &[Row], out: &mut Findings) {
    let mut at = 0;
    while at < rows.len() {
        let (page, row, line) = rows[at];
        if !tabular::is_under_headings(line) {
            // Guide dots within rows that no line under headings goes before.
            let inner = |line: &[Cell]| {
                guides(line).is_some_and(|(_, to)| line[to..].starts_with(&[Cell::BLANK, Cell::BLANK]))
            };
            let begins = at > 0 && rows[at - 1].2.is_empty();
            let chunk: Vec<&Row> = rows[at..].iter().take_while(|row| !row.2.is_empty()).collect();
            let count = chunk.iter().filter(|row| inner(row.2)).count();
            if begins && count >= 2 && !chunk.iter().any(|row| tabular::is_under_headings(row.2)) {
                let say =
                    "Under the headings of the columns belongs a line of dots 2-5 that begins with dot 5.";
                out.fix("table", page, row + 1, say);
                at += chunk.len();
            }
            at += 1;
            continue;
        }
        // A heading to the side has no blank line after it.
        let heading = at >= 3
            && matches!(indent(rows[at - 2].2), 4 | 6)
            && (rows[at - 3].2.is_empty() || rows[at - 2].1 == 1);
        if at >= 2 && !rows[at - 2].2.is_empty() && rows[at - 2].1 > 0 && !heading {
            out.fix("blank-lines", page, row - 1, "A blank line belongs before this table.");
        }
        let starts: Vec<usize> =
            (1..line.len()).filter(|cell| line[cell - 1].is_blank() && !line[*cell].is_blank()).collect();
        at += 1;
        while let Some(&(page, row, line)) = rows.get(at).filter(|row| !row.2.is_empty()) {
            at += 1;
            // The last line of the page may have its number alone.
            if starts.iter().any(|start| line.len() > *start && !line[start - 1].is_blank()) {
                out.fix("blank-lines", page, row, "A blank line belongs after the table.");
                break;
            }
            let off = starts.iter().any(|start| {
                let shifted = line.get(*start).is_some_and(|cell| cell.is_blank())
                    && line.get(start + 1).is_some_and(|cell| !cell.is_blank());
                let room = line.len() > *start
                    && line[start.saturating_sub(5)..*start].iter().all(|cell| cell.is_blank());
                shifted || (room && *start >= 5)
            });
            if off {
                let say = "The columns begin below their headings, with guide dots from one to the next.";
                out.fix("table", page, row, say);
            }
        }
    }
}
