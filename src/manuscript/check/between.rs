//! What stands between two blocks that follow one another: blank lines, and the lines of boxes and notes (from memory).

use crate::cell::Cell;
use crate::manuscript::block::{Block, Kind, What};
use crate::manuscript::forms;
use crate::manuscript::tabular;
use crate::manuscript::work::{TextLine, end, parts_pages};

use super::Findings;
use super::place::{Found, name};

/// A line that is no text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Row {
    Blank,
    Ruled(What),
    Change,
}

/// Checks what stands between a block and the one before it.
pub(super) fn check(
    blocks: &[Block],
    before: &Found,
    one: &Found,
    lines: &[TextLine],
    pages: &[Vec<Vec<Cell>>],
    out: &mut Findings,
) {
    // A block whose first word is not there leaves nothing to say.
    let among = &blocks[before.block + 1..one.block];
    if before.last >= one.first || among.iter().any(|block| block.kind.has_words()) {
        return;
    }
    let asked = asked(blocks, before.block, one.block);
    let (above, line) = (&lines[before.last], &lines[one.first]);
    let there = there(pages, (above.page, above.line), (line.page, line.line));
    for what in ruled(&asked) {
        if !there.iter().any(|(row, _)| *row == Row::Ruled(what)) {
            missing(what, above, line, out);
            return;
        }
    }
    if let Some((Row::Ruled(what), (page, row))) = there
        .iter()
        .find(|(row, _)| matches!(row, Row::Ruled(what) if !ruled(&asked).any(|own| own == *what)))
    {
        let key = if *what == What::NoteLine { "notes" } else { "box" };
        out.fix(key, *page, *row, format!("Print has no {} here.", what.name()));
        return;
    }
    let parted = there.iter().any(|(row, _)| *row == Row::Change) || asked.contains(&Row::Change);
    if line.page != above.page {
        // What stands between a box line, or the line before notes, and its text is on the page of the text.
        let mut last = there.iter().rev().skip_while(|(row, _)| *row == Row::Blank);
        if let (Some((Row::Ruled(_), (page, row))), Some(Row::Ruled(_))) = (last.next(), asked.last())
            && *page == line.page
            && *row + 2 == line.line
        {
            let say = format!("No blank line belongs before this {}.", name(blocks[one.block].kind));
            out.fix("blank-lines", line.page, row + 1, say);
        }
        return;
    }
    if parted {
        // A heading has its blank line also below the line at which print pages change.
        let change = there.iter().rposition(|(row, _)| *row == Row::Change);
        if let Some(change) = change
            && blocks[one.block].kind.is_heading()
            && there[change + 1..].is_empty()
        {
            out.fix(
                "blank-lines",
                line.page,
                line.line,
                wanted_here(blocks[before.block].kind, blocks[one.block].kind),
            );
        }
        return;
    }
    blanks(blocks, before.block, one.block, &asked, &there, line, out);
}

fn ruled(rows: &[Row]) -> impl Iterator<Item = What> + '_ {
    rows.iter().filter_map(|row| if let Row::Ruled(what) = row { Some(*what) } else { None })
}

/// What is to stand between two blocks.
fn asked(blocks: &[Block], from: usize, to: usize) -> Vec<Row> {
    let mut out = Vec::new();
    let mut old = blocks[from].kind;
    for block in &blocks[from + 1..=to] {
        if block.kind == Kind::PrintPage {
            out.push(Row::Change);
            continue;
        }
        if old == Kind::Centred || forms::apart(Some(old), block.kind) {
            out.push(Row::Blank);
        }
        if let Kind::Form(form) = block.kind
            && !form.what.has_words()
        {
            out.push(Row::Ruled(form.what));
        }
        old = block.kind;
    }
    out
}

/// What stands between two lines, with its place; page numbers and running heads are none of it.
fn there(pages: &[Vec<Vec<Cell>>], from: (usize, usize), to: (usize, usize)) -> Vec<(Row, (usize, usize))> {
    let mut out = Vec::new();
    for page in from.0..=to.0 {
        let first = if page == from.0 { from.1 + 1 } else { 0 };
        let last = if page == to.0 { to.1 } else { pages[page].len() };
        for row in first..last.max(first) {
            let line = &pages[page][row][..end(&pages[page][row])];
            let what = if line.is_empty() {
                Row::Blank
            } else if parts_pages(line) {
                Row::Change
            } else if let Some(what) = tabular::ruled(line) {
                Row::Ruled(what)
            } else {
                continue;
            };
            out.push((what, (page, row)));
        }
    }
    out
}

fn missing(what: What, above: &TextLine, line: &TextLine, out: &mut Findings) {
    match what {
        What::BoxTop => {
            out.fix(
                "box",
                line.page,
                line.line,
                "A line of dots 2-3-5-6 belongs before the text of this box.",
            );
        }
        What::BoxBottom => {
            let say = "A line of dots 1-2-4-5 belongs after the text of this box.";
            out.fix("box", above.page, above.line, say);
        }
        _ => {
            let say = "A line of twelve dots 2-5 belongs between the text and its notes.";
            out.fix("notes", line.page, line.line, say);
        }
    }
}

/// Blank lines too few or too many; more than one together is told elsewhere.
fn blanks(
    blocks: &[Block],
    from: usize,
    to: usize,
    asked: &[Row],
    there: &[(Row, (usize, usize))],
    line: &TextLine,
    out: &mut Findings,
) {
    let mut asked = asked.iter().peekable();
    let mut there = there.iter().peekable();
    let (old, kind) = (blocks[from].kind, blocks[to].kind);
    loop {
        let wanted = asked.next_if(|row| **row == Row::Blank).is_some();
        let mut found = Vec::new();
        while let Some((_, place)) = there.next_if(|(row, _)| *row == Row::Blank) {
            found.push(*place);
        }
        if wanted && found.is_empty() {
            let (page, row) = there.peek().map_or((line.page, line.line), |(_, place)| *place);
            out.fix("blank-lines", page, row, wanted_here(old, kind));
        } else if !wanted && found.len() == 1 {
            let say = match there.peek() {
                Some(_) => "No blank line belongs before this line.".to_owned(),
                None => format!("No blank line belongs before this {}.", name(kind)),
            };
            out.fix("blank-lines", found[0].0, found[0].1, say);
        }
        // The ruled lines are the same on both sides.
        if asked.next().is_none() | there.next().is_none() {
            break;
        }
    }
}

fn wanted_here(old: Kind, kind: Kind) -> String {
    let item = |kind| matches!(kind, Kind::Item(..));
    match (old, kind) {
        (_, kind) if kind.is_heading() => "A blank line belongs before this heading.".to_owned(),
        (Kind::Centred, _) => "A blank line belongs after the centred heading.".to_owned(),
        (old, _) if item(old) => "A blank line belongs after the list.".to_owned(),
        (_, kind) if item(kind) => "A blank line belongs before the list.".to_owned(),
        (Kind::Form(form), Kind::Paragraph) => {
            format!("A blank line belongs after the {}.", form.what.name())
        }
        _ => format!("A blank line belongs before this {}.", name(kind)),
    }
}
