//! The form of each block, where the print is at hand: its place on the line, the lines it runs over to, the blank
//! lines around it (from memory; see the module above).

use crate::cell::Cell;
use crate::manuscript::head::{Head, is_centred};
use crate::manuscript::source::{Block, Kind};
use crate::manuscript::work::{MarkedWork, TextLine, end, indent, parts_pages, without_number};
use crate::manuscript::{GAP, number};
use crate::marking;

use super::{Asked, Findings, Outcome};

/// A block of print as it was found on the pages.
pub(super) struct Found {
    /// Which block of the print it is.
    pub block: usize,
    /// Its first and its last line, in the lines of text.
    pub first: usize,
    pub last: usize,
    /// The cell at which it begins in its first line.
    pub from: usize,
}

/// Where each block of print stands, in order; a block whose first word is not there has no place.
pub(super) fn found(blocks: &[Block], work: &MarkedWork, lines: &[TextLine]) -> Vec<Found> {
    let places = marking::places(&work.expected, lines);
    let units = &work.expected.units;
    let mut out: Vec<Found> = Vec::new();
    let (mut at, mut print) = (0, 0);
    for (block, one) in blocks.iter().enumerate().filter(|(_, one)| one.kind != Kind::PrintPage) {
        let next = print + one.print.chars().count() + 1;
        let begin = at + units[at..].iter().take_while(|unit| unit.print.end <= print).count();
        let count = units[begin..].iter().take_while(|unit| unit.print.start + 1 < next).count();
        let own = begin..begin + count;
        (at, print) = (own.end, next);
        let there = |unit: &usize| places[*unit].to > places[*unit].from && !units[*unit].is_space();
        // The first word tells where the block begins, unless it was left out.
        let word = own.clone().take_while(|&unit| !units[unit].is_space());
        let (Some(first), Some(last)) = (word.into_iter().find(there), own.clone().rev().find(there)) else {
            continue;
        };
        let (first, last) = (places[first], places[last]);
        if out.last().is_none_or(|before| before.last <= first.line) && first.line <= last.line {
            out.push(Found { block, first: first.line, last: last.line, from: first.from });
        }
    }
    out
}

/// What a block is called in a finding.
fn name(kind: Kind) -> &'static str {
    match kind {
        Kind::Centred | Kind::Cell5 | Kind::Cell7 => "heading",
        Kind::Paragraph | Kind::Continued => "paragraph",
        Kind::Item(..) => "list item",
        Kind::PrintPage => "print page",
    }
}

fn rule(kind: Kind) -> &'static str {
    if kind.is_heading() { "heading" } else { "paragraph" }
}

/// Whether a line of text stands in the middle, or as near to it as the page number beside it leaves room for.
fn in_the_middle(text: &[Cell], whole: &[Cell], width: usize) -> bool {
    let whole = &whole[..end(whole)];
    let number = whole.iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
    let room = if whole.len() > text.len() { number.saturating_sub(GAP) } else { width };
    let before = indent(text);
    is_centred(before, text.len() - before, width, room)
}

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
                    format!("A {what} begins in the middle of this line: it begins a line of its own."),
                );
            }
            continue;
        }
        if kind == Kind::Centred {
            let off = |line: &&TextLine| !in_the_middle(line.cells, &pages[line.page][line.line], width);
            if let Some(line) = lines[one.first..=one.last].iter().find(off) {
                let say = format!(
                    "This heading is centred in print: it has {} blank cells before it and {} after it.",
                    indent(line.cells),
                    width.saturating_sub(line.cells.len())
                );
                fix(out, "heading", line, say);
            }
        } else if before + 1 != first {
            let say = format!("This {what} begins at cell {}: it begins at cell {first}.", before + 1);
            fix(out, rule(kind), line, say);
        } else {
            runs_over(one, others, what, rule(kind), lines, width, out);
        }
        blank_lines(blocks, found, at, lines, pages, out);
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
            "This {what} runs over to cell {}: its other lines begin at cell {others}.",
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

/// The blank lines before a block, and inside it.
fn blank_lines(
    blocks: &[Block],
    found: &[Found],
    at: usize,
    lines: &[TextLine],
    pages: &[Vec<Vec<Cell>>],
    out: &mut Findings,
) {
    let one = &found[at];
    let kind = blocks[one.block].kind;
    let inside = (one.first + 1..one.last)
        .find(|&place| lines[place].cells.is_empty() && lines[place - 1].page == lines[place + 1].page);
    if let Some(place) = inside {
        let say = format!("A blank line stands inside this {}.", name(kind));
        out.fix("blank-lines", lines[place].page, lines[place].line, say);
    }
    let Some(before) = at.checked_sub(1).map(|at| &found[at]) else { return };
    let old = blocks[before.block].kind;
    let (line, above) = (&lines[one.first], &lines[before.last]);
    let between = above.line + 1..line.line;
    let parted = pages[line.page]
        .get(between.clone())
        .is_some_and(|all| all.iter().any(|row| parts_pages(&row[..end(row)])));
    if line.page != above.page || parted || before.block + 1 != one.block || before.last >= one.first {
        return;
    }
    let item = |kind| matches!(kind, Kind::Item(..));
    let list_begins = item(kind) && !item(old) && !matches!(old, Kind::Cell5 | Kind::Cell7);
    let asked = kind.is_heading() || old == Kind::Centred || (item(old) && !item(kind)) || list_begins;
    let blank = between.len();
    let what = name(kind);
    if asked && blank == 0 {
        let say = match (old, kind.is_heading()) {
            (Kind::Centred, _) => "A blank line belongs after the centred heading.".to_owned(),
            (_, true) => "A blank line belongs before this heading.".to_owned(),
            _ if item(old) => "A blank line belongs after the list.".to_owned(),
            _ => "A blank line belongs before the list.".to_owned(),
        };
        out.fix("blank-lines", line.page, line.line, say);
    } else if !asked && blank == 1 {
        let say = format!("No blank line belongs before this {what}.");
        out.fix("blank-lines", line.page, line.line.saturating_sub(1), say);
    }
}

/// The print page numbers at the right end of the first lines, and the lines that part print pages.
pub(super) fn print_pages(
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
    for (page, label) in shown.iter().enumerate() {
        let Some(label) = label.as_ref().filter(|label| !label.is_empty()) else { continue };
        let first = pages[page].first().map(Vec::as_slice).unwrap_or_default();
        let first = &first[..end(first)];
        let from = first.iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
        let apart = from < GAP || first[from - GAP..from].iter().all(|cell| cell.is_blank());
        let say = if first[from..] != number::cells(label) {
            match number::label(&first[from..]).filter(|_| apart) {
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
        Some((line, row)) if !row[..end(row)].ends_with(&number::cells(label)) => {
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

/// The running head on every page but the title page.
pub(super) fn running_head(
    head: &Head,
    print: &str,
    pages: &[Vec<Vec<Cell>>],
    asked: &Asked,
    out: &mut Findings,
) {
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
