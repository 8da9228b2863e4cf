//! Blocks whose cells have fixed places (contents, tables, numbered verse), and the indicators of transcriber's notes.

use crate::cell::Cell;
use crate::manuscript::block::What;
use crate::manuscript::set::{note_indicators, symbol as symbol_cells};
use crate::manuscript::source::Kind;
use crate::manuscript::tabular;
use crate::manuscript::work::{TextLine, end, indent};

use super::Findings;
use super::place::{Found, rule};

/// What a line says, wherever its cells stand.
fn words(line: &[Cell]) -> Vec<Cell> {
    let all = line.iter().filter(|cell| !cell.is_blank() && **cell != tabular::guide());
    all.copied().collect()
}

/// Checks a block against its lines as they are to stand. Where the words differ, marking tells.
pub(super) fn check(
    kind: Kind,
    one: &Found,
    right: &[Vec<Cell>],
    lines: &[TextLine],
    pages: &[Vec<Vec<Cell>>],
    out: &mut Findings,
) {
    let what = if let Kind::Form(form) = kind { form.what } else { return };
    let under = right.iter().position(|line| tabular::is_under_headings(line));
    let text = right.iter().filter(|line| !tabular::is_under_headings(line));
    for (line, right) in lines[one.first..=one.last].iter().zip(text) {
        if line.cells == *right || words(line.cells) != words(right) {
            continue;
        }
        let (key, say) = match what {
            What::Entry if indent(line.cells) != indent(right) => {
                ("contents", format!("This line of the contents should begin at cell {}.", indent(right) + 1))
            }
            What::Entry => (
                "contents",
                "Guide dots fill the room before the page, with a blank cell before and after them, and the page ends the line."
                    .to_owned(),
            ),
            What::Numbered if indent(line.cells) != indent(right) => {
                ("verse", format!("This line of verse should begin at cell {}.", indent(right) + 1))
            }
            What::Numbered => ("line-numbers", "The line’s number belongs at the right end.".to_owned()),
            _ => (
                rule(kind),
                "The columns should begin below their headings, with guide dots from one to the next.".to_owned(),
            ),
        };
        out.fix(key, line.page, line.line, say);
    }
    if let Some(at) = under {
        let head = &lines[(one.first + at).saturating_sub(1).min(one.last)];
        let there = pages[head.page].get(head.line + 1).map(|line| &line[..end(line)]).unwrap_or_default();
        if there != right[at] {
            let say = "Under the headings of the columns belongs a line of dots 2-5 that begins with dot 5.";
            out.fix("table", head.page, head.line + 1, say);
        }
    }
}

/// The symbol before its name, behind the dot locator for "mention".
pub(super) fn symbol(print: &str, one: &Found, lines: &[TextLine], out: &mut Findings) {
    let line = &lines[one.first];
    if !line.cells[indent(line.cells)..].starts_with(&symbol_cells(print)) {
        let say =
            "The symbol stands before its name, behind the dot locator for “mention”, dots 4-6, 1-2-3-4-5-6.";
        out.fix("special-symbols", line.page, line.line, say);
    }
}

/// The indicators before and after a transcriber's note.
pub(super) fn note(one: &Found, lines: &[TextLine], out: &mut Findings) {
    let [open, close] = note_indicators();
    let (first, last) = (&lines[one.first], &lines[one.last]);
    if !first.cells[indent(first.cells)..].starts_with(&open) {
        let say = "A transcriber’s note begins with its indicator, dots 4, 4-6, 1-2-6.";
        out.fix("transcribers-note", first.page, first.line, say);
    } else if !last.cells.ends_with(&close) {
        let say = "A transcriber’s note ends with its indicator, dots 4, 4-6, 3-4-5.";
        out.fix("transcribers-note", last.page, last.line, say);
    }
}
