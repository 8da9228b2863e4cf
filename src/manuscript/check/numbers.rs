//! Braille page numbers: there, at their place, in order (from memory).

use crate::cell::Cell;
use crate::manuscript::work::end;
use crate::manuscript::{GAP, number};

use super::{Asked, Findings, Outcome, Scope};

pub(super) fn check(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    if !asked.sheet.numbered {
        return;
    }
    let mut before: Option<(Option<char>, u32)> = None;
    for (page, lines) in pages.iter().enumerate() {
        let Some(last) = lines.iter().rposition(|line| end(line) > 0) else {
            out.fix("page-number", page, 0, "This page is empty and has no number.");
            continue;
        };
        let Some((label, _)) = number::last_word(&lines[last]).filter(|(_, from)| {
            number::at_end(&lines[last]).is_some() || (last + 1 == asked.sheet.lines && *from > 0)
        }) else {
            let short = asked.scope == Scope::Piece && pages.len() == 1 && lines.len() < asked.sheet.lines;
            let result = if short { Outcome::YourCall } else { Outcome::ToFix };
            let line = &lines[last][..end(&lines[last])];
            let from = line.iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
            let apart = from >= GAP && line[from - GAP..from].iter().all(|cell| cell.is_blank());
            let say = match apart && line.len() == asked.sheet.cells {
                true => {
                    "What ends the last line is no page number: it has a numeric indicator before its digits."
                }
                false => "No braille page number ends the last line.",
            };
            out.put("page-number", result, Some((page, last.max(lines.len() - 1))), say);
            continue;
        };
        if number::at_end(&lines[last]).is_none() {
            out.fix("page-number", page, last, "At least three blank cells belong before the page number.");
        } else if last + 1 != asked.sheet.lines && lines.len() <= asked.sheet.lines {
            let say = format!(
                "The page number stands on line {}; it belongs on line {}.",
                last + 1,
                asked.sheet.lines
            );
            out.fix("page-number", page, last, say);
        } else if end(&lines[last]) != asked.sheet.cells {
            let say = format!(
                "The page number ends at cell {}; it belongs at the right end of the line.",
                end(&lines[last])
            );
            out.fix("page-number", page, last, say);
        }
        let Some((letter, count)) = number::parts(&label) else { continue };
        let rank = |letter: Option<char>| match letter {
            Some('t') => 0,
            Some('p') => 1,
            _ => 2,
        };
        let good = match before {
            None => true,
            Some((old, n)) if rank(old) == rank(letter) => count == n + 1,
            Some((old, _)) => rank(old) < rank(letter) && (rank(letter) == 2 || count == 1),
        };
        if !good {
            out.fix(
                "page-number-order",
                page,
                last,
                format!("{label} does not follow the number of the page before."),
            );
        }
        before = Some((letter, count));
    }
}
