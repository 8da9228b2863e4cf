//! The shape of the text: blank lines, headings at the foot, margins, indicators at a line's end (from memory).

use crate::cell::Cell;
use crate::manuscript::number;
use crate::manuscript::work::{end, indent, parts_pages, without_number};

use super::{Asked, Findings, Scope};

/// Blank lines, headings at the foot, margins, and indicators at a line's end.
pub(super) fn check(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    let width = asked.sheet.cells;
    for (page, lines) in pages.iter().enumerate() {
        let title = asked.scope == Scope::Volume && page == 0;
        // Text without the page numbers at the right ends of the first and last line.
        let mut text: Vec<&[Cell]> = lines.iter().map(|line| &line[..end(line)]).collect();
        let numbered_first = text.first().is_some_and(|line| number::at_end(line).is_some());
        for at in [0, text.len().saturating_sub(1)] {
            if let Some(line) = text.get_mut(at) {
                *line = without_number(line, asked.sheet, None);
            }
        }
        let last = text.iter().rposition(|line| !line.is_empty()).unwrap_or(0);
        let first = usize::from(text.first().is_some_and(|line| line.is_empty()));
        for at in (first + 1)..last {
            if text[at].is_empty()
                && text[at - 1].is_empty()
                && (at < 2 || !text[at - 2].is_empty())
                && !title
            {
                out.fix("blank-lines", page, at, "More than one blank line.");
            }
        }
        let centred = |at: usize| {
            let line = text[at];
            let (left, right) = (indent(line), width.saturating_sub(line.len()));
            left >= 3 && left.abs_diff(right) <= 1
        };
        let heading = |at: usize| {
            let line = text[at];
            (at == 0 || text[at - 1].is_empty()) && (matches!(indent(line), 4 | 6) || centred(at))
        };
        // Where the print is at hand, its blocks tell.
        let follows = asked.print.is_none()
            && pages.get(page + 1).is_some_and(|next| next.iter().any(|line| end(line) > 0));
        if follows && !title && !text.is_empty() && !text[last].is_empty() && heading(last) {
            out.fix("heading-at-foot", page, last, "A heading at the foot: take it over to the next page.");
        }
        for (at, line) in text.iter().enumerate() {
            let ends = |key: char| line.last().is_some_and(|cell| cell.to_ascii() == key);
            let before = line.len().checked_sub(2).map(|at| line[at].to_ascii());
            if ends('#') || (ends(',') && matches!(before, None | Some(' ' | ',' | '-'))) {
                out.fix(
                    "indicator-at-line-end",
                    page,
                    at,
                    "An indicator ends the line, apart from what it is for.",
                );
            }
        }
        if !title && asked.print.is_none() {
            margins(page, &text, numbered_first, &centred, width, out);
        }
    }
}

fn margins(
    page: usize,
    text: &[&[Cell]],
    numbered_first: bool,
    centred: &dyn Fn(usize) -> bool,
    width: usize,
    out: &mut Findings,
) {
    // Where the block at hand began; unknown at the head of a page, where a block may go on.
    let mut began: Option<usize> = None;
    let mut head = true;
    for at in 0..text.len() {
        let line = text[at];
        if line.is_empty() || parts_pages(line) || centred(at) {
            began = None;
            head &= !line.is_empty();
            continue;
        }
        let first = std::mem::take(&mut head);
        let here = indent(line);
        let word = line[here..].iter().take_while(|cell| !cell.is_blank()).count();
        let full = at > 0 && !(at == 1 && numbered_first) && text[at - 1].len() + 1 + word > width;
        let runs_over =
            at > 0 && !text[at - 1].is_empty() && !parts_pages(text[at - 1]) && full && !centred(at - 1);
        if runs_over {
            let Some(start) = began else { continue };
            let good = match start {
                2 => here == 0 || here == 4,
                0 => here >= 2 && here.is_multiple_of(2),
                4 | 6 => here == start || here > 4,
                _ => true,
            };
            if !good {
                let say = format!(
                    "The text begins at cell {} and runs over to cell {}: a paragraph is 3-1, a list 1-3.",
                    start + 1,
                    here + 1
                );
                out.fix("paragraph", page, at, say);
                began = None;
            }
            continue;
        }
        if here % 2 == 1 {
            out.fix(
                "paragraph",
                page,
                at,
                format!("The line begins at cell {}: a paragraph begins at cell 3.", here + 1),
            );
            began = None;
        } else if !first {
            began = Some(here);
        }
    }
}
