//! Whether pages are filled, and no word is divided over two of them (from memory). With the print at hand: what stands
//! at the head of a page might have stood on the one before, unless it may not be parted from what follows.

use crate::cell::Cell;
use crate::manuscript::block::What;
use crate::manuscript::fill::count;
use crate::manuscript::layout::Manuscript;
use crate::manuscript::source::{Block, Kind};
use crate::manuscript::tabular;
use crate::manuscript::work::{TextLine, end, indent, label, without_number};
use crate::manuscript::{GAP, number};
use crate::ueb::{self, ReadOptions};

use super::place::Found;
use super::{Asked, Findings};

/// Checks each page that another follows.
pub(super) fn check(
    right: &Manuscript,
    blocks: &[Block],
    found: &[Found],
    lines: &[TextLine],
    pages: &[Vec<Vec<Cell>>],
    asked: &Asked,
    out: &mut Findings,
) {
    let text: Vec<usize> = (0..lines.len()).filter(|at| !lines[*at].cells.is_empty()).collect();
    for two in text.windows(2) {
        let (above, line) = (&lines[two[0]], &lines[two[1]]);
        if above.page + 1 != line.page {
            continue;
        }
        let of = |at: usize| {
            let own = found.partition_point(|one| one.first <= at).checked_sub(1)?;
            Some(&found[own]).filter(|one| one.last >= at)
        };
        let (Some(old), Some(new)) = (of(two[0]), of(two[1])) else { continue };
        let goes_on = old.block == new.block;
        if goes_on {
            divided(&blocks[new.block], above, line, asked, out);
        }
        let row = last_row(&pages[above.page], asked);
        if row + 1 >= asked.sheet.lines || pages[above.page].len() > asked.sheet.lines {
            continue;
        }
        let own_label = label(&pages[above.page]).unwrap_or_default();
        let beside = if asked.sheet.numbered { number::cells(&own_label).len() + GAP } else { 0 };
        let last = asked.sheet.cells.saturating_sub(beside);
        let room = if goes_on {
            let word = indent(line.cells) + first_word(line.cells).len();
            let is_last = row + 2 == asked.sheet.lines;
            !right.is_fixed(new.block) && word <= if is_last { last } else { asked.sheet.cells }
        } else if new.first == two[1] {
            // The line below a box may stand on this page.
            let next = old.block + 1;
            let below =
                |block: &Block| matches!(block.kind, Kind::Form(form) if form.what == What::BoxBottom);
            let ends = tabular::ruled(&pages[above.page][row]) == Some(What::BoxBottom);
            let done = blocks[next..new.block].iter().position(below).filter(|_| ends).map_or(0, |at| at + 1);
            right.has_room(next + done, row + 1..asked.sheet.lines, last, now(blocks, old.block))
                && blocks[old.block + 1..new.block].iter().all(|block| {
                    !block.kind.has_words()
                        && (block.kind != Kind::PrintPage
                            || count(&block.print) == count(now(blocks, old.block)))
                })
        } else {
            false
        };
        // Where something is missing, its room is what is left.
        if room && !out.has_page(above.page) {
            let say = match row + 2 == asked.sheet.lines {
                true => "The last line has room beside the page number for what follows.".to_owned(),
                false => format!("Nothing stands below line {}, and what follows has room there.", row + 1),
            };
            out.fix("page-short", above.page, row, say);
        }
    }
}

/// The print page that a block stands on.
fn now(blocks: &[Block], at: usize) -> &str {
    let page = blocks[..=at].iter().rev().find(|block| block.kind == Kind::PrintPage);
    page.map_or("", |block| block.print.as_str())
}

fn first_word(line: &[Cell]) -> &[Cell] {
    let line = &line[indent(line)..];
    &line[..line.iter().position(|cell| cell.is_blank()).unwrap_or(line.len())]
}

/// The last line of a page with anything on it besides the page number.
fn last_row(page: &[Vec<Cell>], asked: &Asked) -> usize {
    let last = page.iter().rposition(|line| end(line) > 0).unwrap_or(0);
    let line = &page[last][..end(&page[last])];
    if !without_number(line, asked.sheet, None).is_empty() {
        return last;
    }
    page[..last].iter().rposition(|line| end(line) > 0).unwrap_or(0)
}

/// A word divided at the end of a page; a hyphen that print has is none.
fn divided(block: &Block, above: &TextLine, line: &TextLine, asked: &Asked, out: &mut Findings) {
    let from = above.cells.iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
    let Some(first) = above.cells[from..].strip_suffix(&[Cell::from_dots(&[3, 6]).unwrap_or_default()])
    else {
        return;
    };
    let letters = |cells: &[Cell]| -> String {
        let read = ReadOptions { contracted: asked.sheet.contracted, ..ReadOptions::default() };
        let print = ueb::read_print(cells, &read);
        print.chars().filter(|c| c.is_alphabetic()).flat_map(char::to_lowercase).collect()
    };
    let (first, second) = (letters(first), letters(first_word(line.cells)));
    let print = block.print.to_lowercase();
    if !first.is_empty() && print.contains(&format!("{first}{second}")) {
        let say = "This word is divided over two pages: it goes whole on one of them.";
        out.fix("division", above.page, above.line, say);
    }
}
