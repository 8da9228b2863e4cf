//! Braille page numbers: there, at their place, in order (from memory).

use crate::cell::Cell;
use crate::manuscript::work::end;
use crate::manuscript::{GAP, number, source};

use super::{Asked, Findings, Outcome, Scope};

pub(super) fn check(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    if !asked.sheet.numbered {
        return;
    }
    let mut before: Option<(Option<char>, u32)> = None;
    let mut due: Option<(Option<char>, u32)> = None;
    // Volumes behind the first may number on.
    let front = asked.print.map(|print| source::read_for(print, asked.sheet).front).unwrap_or_default();
    let later_volume = front.volume.parse().is_ok_and(|volume: u32| volume > 1);
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
            before = before.map(|(letter, number)| (letter, number + 1));
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
        // What follows is measured by the right number, or goes on from a wrong one that was told.
        let follows = |old: (Option<char>, u32)| match rank(old.0) == rank(letter) {
            true => count == old.1 + 1,
            false => rank(old.0) < rank(letter) && count == 1,
        };
        let later = letter.is_none() && later_volume;
        let good = match before {
            None => count == 1 || later,
            Some(old) => follows(old) || due.is_some_and(follows) || (later && rank(old.0) < 2),
        };
        if !good {
            let say = match before {
                None => format!("The first page is numbered {label}: numbers begin with 1."),
                Some(_) => format!("{label} does not follow the number of the page before."),
            };
            out.fix("page-number-order", page, last, say);
        }
        due = match (good, before) {
            (false, Some((old, n))) => Some((old, n + 1)),
            _ => None,
        };
        before = Some((letter, count));
    }
}
