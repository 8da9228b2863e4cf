//! The running head: on every page but the title page, in the middle, with no blank line below it but a heading's (from
//! memory).

use crate::cell::Cell;
use crate::manuscript::head::Head;
use crate::manuscript::work::{end, indent, without_number};

use super::place::in_the_middle;
use super::{Asked, Findings, Outcome};

/// The running head on every page but the title page.
pub(super) fn check(head: &Head, print: &str, pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    if head.cells.is_empty() {
        return;
    }
    for (page, lines) in pages.iter().enumerate() {
        if page == 0 && crate::manuscript::work::label(lines).as_deref() == Some("t1") {
            continue;
        }
        let first = lines.first().map(Vec::as_slice).unwrap_or_default();
        let first = &first[..end(first)];
        let alone = without_number(first, asked.sheet, None);
        let there = &alone[indent(alone)..];
        if there != head.cells {
            let words = |cells: &[Cell]| -> Vec<Vec<Cell>> {
                cells.split(|c| c.is_blank()).map(<[Cell]>::to_vec).collect()
            };
            if head.cut && !there.is_empty() && words(there).first() == words(&head.cells).first() {
                let say = format!(
                    "The running head “{print}” is too long for its line: is it cut short well here?"
                );
                out.put("running-head", Outcome::YourCall, Some((page, 0)), say);
            } else {
                out.fix(
                    "running-head",
                    page,
                    0,
                    format!("The running head “{print}” belongs on the first line."),
                );
            }
        } else if !in_the_middle(alone, first, asked.sheet.cells) {
            out.fix("running-head", page, 0, "The running head is not centred.");
        }
    }
}

/// No blank line stands between the running head and the text but that of a heading; `headings` are their places.
pub(super) fn gap(
    head: &Head,
    headings: &[(usize, usize)],
    pages: &[Vec<Vec<Cell>>],
    asked: &Asked,
    out: &mut Findings,
) {
    for (page, lines) in pages.iter().enumerate() {
        let row = |at: usize| lines.get(at).map(|line| &line[..end(line)]).unwrap_or_default();
        let first = without_number(row(0), asked.sheet, None);
        let headed = !head.cells.is_empty() && first[indent(first)..] == head.cells;
        let made = page == 0 && crate::manuscript::work::label(lines).as_deref() == Some("t1");
        if headed && !made && headings.contains(&(page, 1)) {
            let say = "A blank line belongs between the running head and this heading.";
            out.fix("blank-lines", page, 1, say);
        }
        let text = !made && lines.len() > 3 && !row(2).is_empty();
        if headed && text && row(1).is_empty() && !headings.contains(&(page, 2)) {
            out.fix("head-gap", page, 1, "No blank line belongs between the running head and the text.");
        }
    }
}
