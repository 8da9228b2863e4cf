//! Running heads and print page numbers that the other pages ask for.

use crate::cell::Cell;
use crate::manuscript::number;
use crate::manuscript::work::{end, indent, label, parts_pages, without_number};

use super::{Asked, Findings};
use crate::manuscript::Profile;

/// Pages that must have a running head before the others are asked for it.
const MANY: usize = 2;

/// The running head of most pages belongs on every one but the title page.
pub(super) fn heads(pages: &[Vec<Vec<Cell>>], head: &[Cell], asked: &Asked, out: &mut Findings) {
    if head.is_empty() {
        return;
    }
    let bare = |page: &[Vec<Cell>]| {
        let line = page.first().map(|line| &line[..end(line)]).unwrap_or_default();
        let line = without_number(line, asked.sheet, None);
        (line.to_vec(), line[indent(line)..].to_vec())
    };
    let with = pages.iter().filter(|page| bare(page).1 == head).count();
    for (page, lines) in pages.iter().enumerate() {
        if with < MANY || label(lines).as_deref() == Some("t1") {
            continue;
        }
        let (line, text) = bare(lines);
        if text != head {
            let say = "The first line of the other pages is a running head: it belongs here too.";
            out.fix("running-head", page, 0, say);
        } else {
            let middle = asked.sheet.cells.saturating_sub(text.len()) / 2;
            let beside = end(&lines[0]) > line.len();
            let before = indent(&line);
            if before != middle && before != middle + 1 && !(beside && before < middle && before >= 3) {
                out.fix("running-head", page, 0, "The running head is not centred.");
            }
        }
    }
}

/// Print page numbers follow one another: 12, a12, b12, 13.
pub(super) fn print_pages(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    if asked.sheet.profile == Profile::Plain {
        return;
    }
    let at_top = |page: &Vec<Vec<Cell>>| {
        let line = page.first()?;
        let line = &line[..end(line)];
        (line.len() + 1 >= asked.sheet.cells).then(|| number::at_end(line)).flatten().map(|(label, _)| label)
    };
    let own: Vec<usize> = (0..pages.len())
        .filter(|page| {
            let own = label(&pages[*page]).and_then(|label| number::parts(&label));
            own.is_none_or(|(letter, _)| letter.is_none())
        })
        .collect();
    let with = own.iter().filter(|page| at_top(&pages[**page]).is_some()).count();
    if with < MANY || with * 4 < own.len() * 3 {
        return;
    }
    let mut now: Option<(Option<char>, u32)> = None;
    for &page in &own {
        let there = at_top(&pages[page]).and_then(|label| number::parts(&label));
        match (there, now) {
            (None, _) => {
                let say = "The other pages have a print page number at the right end of the first line.";
                out.fix("print-page", page, 0, say);
            }
            (Some((letter, number)), Some((old, before))) => {
                let next = old.map_or('a', |old| if old == 'z' { 'z' } else { (old as u8 + 1) as char });
                let good = match letter {
                    Some(letter) => number == before && letter == next,
                    None => number > before,
                };
                if !good {
                    let say = match letter {
                        _ if number < before => {
                            format!("Print page {number} does not follow print page {before}.")
                        }
                        _ => format!("Print page {before} runs on here: its number is {next}{before}."),
                    };
                    out.fix("print-page", page, 0, say);
                    // What follows is measured by what is right, unless the learner goes on from here.
                    now = Some((Some(next), before));
                    if number > before {
                        now = Some((letter, number));
                    }
                } else {
                    now = there;
                }
            }
            (there, None) => now = there,
        }
        for line in pages[page].iter().skip(1).map(|line| &line[..end(line)]) {
            if parts_pages(line) {
                let from = line.iter().rposition(|cell| cell.to_ascii() == '-').map_or(0, |at| at + 1);
                // What a line without a number changes to is not known.
                let label = number::label(&line[from..]).and_then(|label| number::parts(&label));
                now = label.map(|(_, number)| (None, number));
            }
        }
    }
}
