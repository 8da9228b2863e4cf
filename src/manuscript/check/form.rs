//! The form of each block, where the print is at hand: its place on the line, the lines it runs over to, the blank
//! lines around it (from memory; see the module above).

use crate::cell::Cell;
use crate::manuscript::block::{Block, Kind, What};
use crate::manuscript::set;
use crate::manuscript::work::{TextLine, indent};

use super::place::{Found, in_the_middle, name, rule};
use super::{Asked, Findings, Outcome, between, fixed};

/// Checks each block that was found.
pub(super) fn check(
    blocks: &[Block],
    found: &[Found],
    lines: &[TextLine],
    pages: &[Vec<Vec<Cell>>],
    asked: &Asked,
    out: &mut Findings,
) {
    let width = asked.sheet.cells;
    for (at, one) in found.iter().enumerate() {
        let kind = blocks[one.block].kind;
        let (first, others) = kind.margins();
        let line = &lines[one.first];
        let what = name(kind);
        let fix = |out: &mut Findings, rule, line: &TextLine, say: String| {
            out.fix(rule, line.page, line.line, say);
        };
        // Does it begin its line?
        let before = indent(line.cells);
        if line.cells.get(before..one.from).is_some_and(|cells| cells.iter().any(|cell| cell.is_blank())) {
            let shared = found[..at].last().is_some_and(|other| other.last == one.first);
            if shared {
                fix(
                    out,
                    rule(kind),
                    line,
                    format!(
                        "A {what} begins in the middle of this line, but should begin a line of its own."
                    ),
                );
            }
            continue;
        }
        if let Some(right) = set::fixed(&blocks[one.block], asked.sheet) {
            fixed::check(kind, one, &right, lines, pages, out);
        } else if kind.is_centred() {
            let off = |line: &&TextLine| !in_the_middle(line.cells, &pages[line.page][line.line], width);
            if let Some(line) = lines[one.first..=one.last].iter().find(off) {
                let say = format!(
                    "This {what} is to be centred: it has {} blank cells before it and {} after it.",
                    indent(line.cells),
                    width.saturating_sub(line.cells.len())
                );
                fix(out, rule(kind), line, say);
            }
        } else if before + 1 != first {
            let say = format!("This {what} begins at cell {}, but should begin at cell {first}.", before + 1);
            fix(out, rule(kind), line, say);
        } else {
            runs_over(one, others, what, rule(kind), lines, width, out);
        }
        if matches!(kind, Kind::Form(form) if form.what == What::Note) {
            fixed::note(one, lines, out);
        }
        if matches!(kind, Kind::Form(form) if form.what == What::Symbol) {
            fixed::symbol(&blocks[one.block].print, one, lines, out);
        }
        inside(kind, one, lines, out);
        if let Some(before) = at.checked_sub(1).map(|at| &found[at]) {
            between::check(blocks, before, one, lines, pages, out);
        }
        if let Some(next) = found.get(at + 1).filter(|next| kind.is_heading() && next.block == one.block + 1)
        {
            let (line, next) = (&lines[one.last], &lines[next.first]);
            if next.page != line.page {
                fix(
                    out,
                    "heading-at-foot",
                    line,
                    "A heading at the foot: take it over to the next page.".to_owned(),
                );
            }
        }
    }
}

/// The lines after a block's first: where they begin, and whether the line before was full.
fn runs_over(
    one: &Found,
    others: usize,
    what: &str,
    rule: &'static str,
    lines: &[TextLine],
    width: usize,
    out: &mut Findings,
) {
    let own: Vec<&TextLine> =
        lines[one.first..=one.last].iter().filter(|line| !line.cells.is_empty()).collect();
    if let Some(line) = own.iter().skip(1).find(|line| indent(line.cells) + 1 != others) {
        let say = format!(
            "This {what} runs over to cell {}, but should run over to cell {others}.",
            indent(line.cells) + 1
        );
        out.fix(rule, line.page, line.line, say);
        return;
    }
    for two in own.windows(2).filter(|two| two[0].page == two[1].page) {
        let (line, next) = (two[0], two[1]);
        let word = next.cells[indent(next.cells)..].iter().take_while(|cell| !cell.is_blank()).count();
        // What is taken from the room of the first line is a page number's.
        if line.line > 0 && line.cells.len() + 1 + word <= width {
            let say = format!("The first word of the next line has room here, in this {what}.");
            out.put(rule, Outcome::YourCall, Some((line.page, line.line)), say);
            return;
        }
    }
}

/// Blank lines inside a block.
fn inside(kind: Kind, one: &Found, lines: &[TextLine], out: &mut Findings) {
    let goes_on = |place: usize| lines[place + 1..=one.last].iter().find(|line| !line.cells.is_empty());
    let inside = (one.first + 1..one.last).find(|&place| {
        lines[place].cells.is_empty()
            && !lines[place - 1].cells.is_empty()
            && lines[place - 1].page == lines[place].page
            && goes_on(place).is_some_and(|next| next.page == lines[place].page)
    });
    if let Some(place) = inside {
        let say = format!("A blank line stands inside this {}.", name(kind));
        out.fix("blank-lines", lines[place].page, lines[place].line, say);
    }
}
