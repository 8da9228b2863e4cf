//! Margins, headings and blank lines, as far as the pages alone tell.

use crate::cell::Cell;
use crate::ueb;

use super::{Asked, Findings, Line};

/// Lines that no blank line parts, on one page.
fn chunks<'l, 'a>(lines: &'l [Line<'a>]) -> impl Iterator<Item = &'l [Line<'a>]> {
    lines.chunk_by(|a, b| a.page == b.page && a.row + 1 == b.row)
}

pub(super) fn check(lines: &[Line], head: &[Cell], asked: &Asked, out: &mut Findings) {
    let width = asked.sheet.cells;
    let asterisks = ueb::transcribe("* * *", &ueb::Options::default());
    for chunk in chunks(lines) {
        margins(chunk, width, &asterisks, out);
        headings(chunk, width, &asterisks, out);
    }
    for (at, two) in lines.windows(2).enumerate().filter(|(_, two)| two[0].page + 1 == two[1].page) {
        let (line, next) = (&two[0], &two[1]);
        // The last line shares its room with the page number.
        let beside = line.row + 1 >= asked.sheet.lines && asked.sheet.numbered;
        let room = if beside { width.saturating_sub(BESIDE_NUMBER) } else { width };
        // What a full line runs over to may stand in the middle.
        let runs_over = !line.after_blank && at > 0 && !lines[at - 1].is_centred(width);
        let bare = &line.cells[line.indent()..];
        let heading = line.is_surely_centred(width) && !runs_over && bare != asterisks && !line.ends_note()
            || (matches!(line.indent(), 4 | 6)
                && line.after_blank
                && !line.is_note()
                && !line.is_full_before(next, room)
                && !line.may_end()
                && !ends_in_comma(line)
                && matches!(next.indent(), 0 | 2));
        if heading && line.last && !line.fixed && !line.first {
            let say = "A heading at the foot: take it over to the next page.";
            out.fix("heading-at-foot", line.page, line.row, say);
        }
        short(line, next, asked, out);
    }
    for two in lines.windows(2).filter(|two| two[0].page == two[1].page && two[0].row + 2 == two[1].row) {
        let (line, next) = (&two[0], &two[1]);
        let within = !line.fixed && !next.fixed && !next.ruled && !line.ruled;
        if within
            && matches!(line.indent(), 0 | 2)
            && next.indent() == 0
            && next.after_blank
            && line.is_full_before(next, width)
            && !line.may_end()
            && next.begins_small()
        {
            let say = "A blank line stands inside this paragraph.";
            out.fix("blank-lines", line.page, line.row + 1, say);
        }
    }
    if head.is_empty() {
        return;
    }
    for line in lines.iter().filter(|line| line.first && line.row == 2 && !line.ruled) {
        let heading = line.is_centred(width) || line.indent() >= 4;
        if !heading && line.alone {
            // What stands between blank lines at the head of a page is a heading.
            let say = "A heading is centred, or begins at cell 5 or 7.";
            out.fix("heading", line.page, line.row, say);
        } else if !heading {
            let say = "No blank line belongs between the running head and the text.";
            out.fix("head-gap", line.page, 1, say);
        }
    }
}

/// Cells that no page number goes beyond, with the blanks before it.
const BESIDE_NUMBER: usize = 10;

fn ends_in_comma(line: &Line) -> bool {
    line.cells.last().is_some_and(|cell| cell.to_ascii() == '1')
}

/// A page that ends in the middle of a paragraph before its lines are full.
fn short(line: &Line, next: &Line, asked: &Asked, out: &mut Findings) {
    let sure = line.last
        && next.first
        && !line.may_end()
        && next.begins_small()
        && next.indent() == 0
        && matches!(line.indent(), 0 | 2)
        && !line.fixed
        && !next.fixed
        && line.is_full_before(next, asked.sheet.cells);
    let word = next.cells.iter().take_while(|cell| !cell.is_blank()).count();
    let beside = word + BESIDE_NUMBER <= asked.sheet.cells && asked.sheet.numbered;
    let last = line.row + 2 == asked.sheet.lines;
    if sure && (line.row + 2 < asked.sheet.lines || last && beside) && !out.has_page(line.page) {
        let say = format!("Nothing stands below line {}, and the paragraph goes on overleaf.", line.row + 1);
        out.fix("page-short", line.page, line.row, say);
    }
}

fn margins(chunk: &[Line], width: usize, asterisks: &[Cell], out: &mut Findings) {
    // Where the block at hand began; unknown at the head of a page, where a block may go on.
    let mut began: Option<usize> = None;
    // How often paragraphs of this chunk ran over to cell 1, and blocks from cell 1 to cell 3 or further.
    let (mut paragraphs, mut lists) = (0, 0);
    let at_edge = chunk.windows(2).any(|two| two[1].indent() == 0 && !two[0].goes_on(&two[1], width));
    for (at, line) in chunk.iter().enumerate() {
        let here = line.indent();
        let before = at.checked_sub(1).map(|at| &chunk[at]);
        if line.fixed || line.is_surely_centred(width) || line.cells[here..] == *asterisks {
            began = None;
            continue;
        }
        // Nothing that begins anew stands so far to the right but what is centred.
        if line.after_blank && here >= 7 && !line.first && !line.is_note() {
            let say = format!("This line begins at cell {} and is not centred.", here + 1);
            out.fix("heading", line.page, line.row, say);
            began = None;
            continue;
        }
        if here % 2 == 1 && line.row > 0 {
            if out.has_line(line.page, line.row) {
                began = None;
                continue;
            }
            let say = format!("The line begins at cell {}: no paragraph, list or heading does.", here + 1);
            out.fix("paragraph", line.page, line.row, say);
            began = None;
            continue;
        }
        match before.filter(|before| before.goes_on(line, width)) {
            Some(_) => {
                let next = chunk.get(at + 1).filter(|next| line.goes_on(next, width));
                let bad = match began {
                    Some(2) => {
                        here == 2
                            && !at_edge
                            && (paragraphs > 0 || next.is_some_and(|next| next.indent() == 0))
                    }
                    Some(0) => here == 0 && lists > 0 && paragraphs == 0,
                    Some(4) => here == 0,
                    Some(6) => here == 0 || here == 2,
                    _ => false,
                };
                match (began, here) {
                    (Some(2), 0) => paragraphs += 1,
                    (Some(0), 2..) => lists += 1,
                    _ => {}
                }
                if let (true, Some(start)) = (bad, began) {
                    let say = format!(
                        "The text begins at cell {} and runs over to cell {}: a paragraph is 3-1, a list 1-3.",
                        start + 1,
                        here + 1
                    );
                    out.fix("paragraph", line.page, line.row, say);
                    began = None;
                }
            }
            None => {
                let full = before.is_some_and(|before| before.is_full_before(line, width));
                // A paragraph that has run over to cell 1 is over: what begins at cell 1 is none, and a heading or list
                // needs its blank line.
                let ended = before.is_some() && !full && paragraphs > 0 && lists == 0 && !line.ruled;
                if ended && here == 0 && !line.first {
                    began_at_the_edge(chunk, at, width, out);
                    paragraphs = 0;
                } else if ended && !line.is_note() && (here == 4 || here == 6 && !line.begins_small()) {
                    let say = "A blank line belongs before this heading.";
                    out.fix("blank-lines", line.page, line.row, say);
                }
                began = (!(full || line.first && line.begins_small())).then_some(here);
            }
        }
    }
}

/// What begins at cell 1 right below a paragraph: another one that should begin at cell 3, or a list without its blank line.
fn began_at_the_edge(chunk: &[Line], at: usize, width: usize, out: &mut Findings) {
    let line = &chunk[at];
    let next = chunk.get(at + 1);
    let paragraph = next.is_some_and(|next| line.goes_on(next, width) && next.indent() == 0);
    if paragraph {
        let say = "The line begins at cell 1: a paragraph begins at cell 3.";
        out.fix("paragraph", line.page, line.row, say);
    } else if next.is_some() {
        out.fix("blank-lines", line.page, line.row, "A blank line belongs before the list.");
    }
}

/// Blank lines around what is centred.
fn headings(chunk: &[Line], width: usize, asterisks: &[Cell], out: &mut Findings) {
    // What a full line runs over to is no heading, wherever it stands.
    let centred = |at: usize| {
        let line = &chunk[at];
        let begins = at == 0 || !chunk[at - 1].is_full_before(line, width) || chunk[at - 1].is_centred(width);
        begins && line.is_surely_centred(width) && !line.fixed && !line.ruled
    };
    for at in 1..chunk.len() {
        let (line, next) = (&chunk[at - 1], &chunk[at]);
        let what = |line: &Line| {
            if line.cells[line.indent()..] == *asterisks { "break" } else { "centred heading" }
        };
        if centred(at - 1) && !next.is_centred(width) {
            let say = format!("A blank line belongs after the {}.", what(line));
            out.fix("blank-lines", next.page, next.row, say);
        } else if centred(at) && !line.is_centred(width) && !out.has_line(line.page, line.row) {
            let say = format!("A blank line belongs before the {}.", what(next));
            out.fix("blank-lines", next.page, next.row, say);
        }
    }
}
