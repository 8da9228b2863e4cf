//! What holds for any page: no two blank lines, no indicator at a line's end (from memory).

use crate::cell::Cell;
use crate::manuscript::work::{end, without_number};

use super::{Asked, Findings, Scope};

/// Blank lines, and indicators at a line's end.
pub(super) fn check(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    for (page, lines) in pages.iter().enumerate() {
        let title = asked.scope == Scope::Volume && page == 0;
        // Text without the page numbers at the right ends of the first and last line.
        let mut text: Vec<&[Cell]> = lines.iter().map(|line| &line[..end(line)]).collect();
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
    }
}
