//! Print page numbers: on the first line of every page, and on the lines at which print pages change (from memory).

use crate::cell::Cell;
use crate::manuscript::source::{Block, Kind};
use crate::manuscript::work::{TextLine, end, parts_pages};
use crate::manuscript::{GAP, number};

use super::Findings;
use super::place::Found;

/// The print page numbers at the right end of the first lines, and the lines that part print pages.
pub(super) fn check(
    blocks: &[Block],
    found: &[Found],
    lines: &[TextLine],
    pages: &[Vec<Vec<Cell>>],
    width: usize,
    out: &mut Findings,
) {
    // The number that the print page of each block has, and the braille page where it begins.
    let mut now: Option<(&str, usize)> = None;
    let mut due: Option<&str> = None;
    let mut block = 0;
    let mut shown = vec![None::<String>; pages.len()];
    let mut reached = 0;
    for (at, one) in found.iter().enumerate() {
        while block < one.block {
            if blocks[block].kind == Kind::PrintPage {
                due = Some(&blocks[block].print);
            }
            block += 1;
        }
        let page = lines[one.first].page;
        // Pages that the print page before goes on over.
        go_on(&mut shown, reached..page + usize::from(due.is_none()), now);
        if let Some(label) = due.take() {
            let above = at.checked_sub(1).map(|at| &lines[found[at].last]).filter(|line| line.page == page);
            now = Some((label, page));
            match above {
                None => shown[page] = Some(run_on(label, 0)),
                Some(above) if label != number::MADE && !label.is_empty() => {
                    shown[page] = shown[page].take().or(Some(String::new()));
                    part(label, page, above.line + 1..lines[one.first].line, pages, out);
                }
                Some(_) => {}
            }
        }
        let last = lines[one.last].page;
        go_on(&mut shown, page + 1..last + 1, now);
        reached = last;
    }
    let mut off: Option<i32> = None;
    for (page, label) in shown.iter().enumerate() {
        let Some(label) = label.as_ref().filter(|label| !label.is_empty()) else { continue };
        // A letter that is off in the same way as on the page before was told there.
        let first = pages[page].first().map(Vec::as_slice).unwrap_or_default();
        let first = &first[..end(first)];
        let from = first.iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
        let apart = from < GAP || first[from - GAP..from].iter().all(|cell| cell.is_blank());
        let there = number::label(&first[from..]).filter(|_| apart);
        let by = there.as_deref().and_then(|there| off_by(label, there));
        if by.is_some_and(|by| by != 0) && std::mem::replace(&mut off, by) == by {
            continue;
        }
        off = by;
        let say = if first[from..] != number::cells(label) {
            match there {
                Some(there) => format!("Print page {label} stands here, and the first line says {there}."),
                None => format!("The print page number {label} belongs at the right end of the first line."),
            }
        } else if !apart {
            format!("At least {GAP} blank cells belong before the print page number.")
        } else if first.len() != width {
            format!("The print page number ends at cell {}: it belongs at the right end.", first.len())
        } else {
            continue;
        };
        out.fix("print-page", page, 0, say);
    }
}

/// How many letters a number is ahead of the right one, where it is the same print page.
fn off_by(right: &str, there: &str) -> Option<i32> {
    let ((right, number), (there, same)) = (number::parts(right)?, number::parts(there)?);
    let place = |letter: Option<char>| letter.map_or(0, |letter| letter as i32 - 'a' as i32 + 1);
    (number == same).then(|| place(there) - place(right))
}

/// Pages that the print page at hand goes on over, where nothing else was found for them.
fn go_on(shown: &mut [Option<String>], pages: std::ops::Range<usize>, now: Option<(&str, usize)>) {
    let Some((label, from)) = now else { return };
    for (page, shown) in shown.iter_mut().enumerate().take(pages.end).skip(pages.start) {
        shown.get_or_insert_with(|| run_on(label, page - from));
    }
}

fn run_on(label: &str, times: usize) -> String {
    if label == number::MADE { String::new() } else { number::run_on(label, times) }
}

/// A line of dots 3-6 with the new number belongs between two print pages.
fn part(
    label: &str,
    page: usize,
    between: std::ops::Range<usize>,
    pages: &[Vec<Vec<Cell>>],
    out: &mut Findings,
) {
    let rows = pages[page].get(between.clone()).unwrap_or_default();
    let row = rows.iter().position(|row| parts_pages(&row[..end(row)]));
    match row.map(|at| (between.start + at, &rows[at])) {
        None => {
            let say = format!(
                "Print page {label} begins here: a line of dots 3-6 with its number belongs before it."
            );
            out.fix("print-page", page, between.end, say);
        }
        // A line without a number is told as such.
        Some((line, row))
            if row[..end(row)].last().is_some_and(|cell| cell.to_ascii() != '-')
                && !row[..end(row)].ends_with(&number::cells(label)) =>
        {
            out.fix(
                "print-page",
                page,
                line,
                format!("Print page {label} begins here, and the line has another number."),
            );
        }
        Some(_) => {}
    }
}
