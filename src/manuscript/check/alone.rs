//! What the pages tell by themselves, without their print. Told is only what no right work can look like: a line that is
//! full may end a paragraph, and most margins are somebody's. So a line goes on with the one before for certain only if that
//! one was full and ended no sentence, and this one begins with a small letter.

use crate::cell::Cell;
use crate::manuscript::set::note_indicators;
use crate::manuscript::work::{TextLine, end, indent, label, page_lines, parts_pages};
use crate::manuscript::{reflow, tabular};

use super::{Asked, Findings, Scope};

mod blocks;
mod order;
mod ruled;

/// A line of text as it stands on its page.
#[derive(Clone, Copy)]
struct Line<'a> {
    page: usize,
    row: usize,
    cells: &'a [Cell],
    /// Whether the row above is empty, or there is none.
    after_blank: bool,
    /// Whether it stands between blank lines.
    alone: bool,
    /// The first of its page.
    first: bool,
    /// The last of its page.
    last: bool,
    /// Whether its cells have fixed places: a row of a table, a line of the contents, verse with a number.
    fixed: bool,
    /// Whether a box line or the like stands right above, or right below.
    ruled: bool,
    /// Whether the text is made of sentences that begin with a capital, so that a small letter goes on with one.
    sentences: bool,
}

impl Line<'_> {
    fn indent(&self) -> usize {
        indent(self.cells)
    }

    /// Whether the line stands in the middle and at no margin.
    fn is_centred(&self, width: usize) -> bool {
        let (before, after) = (self.indent(), width.saturating_sub(self.cells.len()));
        before >= 3 && before.abs_diff(after) <= 1
    }

    /// Centred, and nothing else can look so.
    fn is_surely_centred(&self, width: usize) -> bool {
        self.is_centred(width) && (self.indent() >= 8 || self.indent() % 2 == 1)
    }

    fn ends_note(&self) -> bool {
        self.cells.ends_with(&note_indicators()[1])
    }

    fn is_note(&self) -> bool {
        self.cells[self.indent()..].starts_with(&note_indicators()[0])
    }

    /// Whether the line has no room for the first word of another.
    fn is_full_before(&self, next: &Line, width: usize) -> bool {
        let text = &next.cells[next.indent()..];
        let word = text.iter().take_while(|cell| !cell.is_blank()).count();
        self.cells.len() + 1 + word > width
    }

    /// Whether a sentence may end here.
    fn may_end(&self) -> bool {
        self.cells.last().is_none_or(|cell| {
            !(cell.to_ascii().is_ascii_lowercase()
                || matches!(cell.to_ascii(), '1' | '+' | '?' | '!' | '*' | '%'))
        })
    }

    /// Whether it begins with a small letter or a contraction.
    fn begins_small(&self) -> bool {
        // Lower wordsigns stand alone; dot 5 begins contractions.
        let two: Vec<char> = self.cells[self.indent()..].iter().take(2).map(|cell| cell.to_ascii()).collect();
        if let [first, second] = two[..]
            && ("02589".contains(first) && second == ' ' || first == '"' && second.is_ascii_lowercase())
        {
            return true;
        }
        let first = self.cells.get(self.indent()).map_or(' ', |cell| cell.to_ascii());
        first.is_ascii_lowercase()
            || matches!(
                first,
                '!' | '&' | '=' | '(' | ')' | '*' | '%' | '?' | ':' | '$' | '}' | '|' | '{' | '>' | '<'
            )
    }

    /// Whether the next line surely goes on with this one.
    fn goes_on(&self, next: &Line, width: usize) -> bool {
        !self.fixed
            && !next.fixed
            && self.sentences
            && !self.is_surely_centred(width)
            && self.page == next.page
            && self.row + 1 == next.row
            && self.is_full_before(next, width)
            && !self.may_end()
            && next.begins_small()
    }
}

/// Checks pages without their print.
pub(super) fn check(pages: &[Vec<Vec<Cell>>], asked: &Asked, out: &mut Findings) {
    let head = reflow::running_head(pages);
    order::heads(pages, &head, asked, out);
    order::print_pages(pages, asked, out);
    ruled::check(pages, asked, out);
    let mut lines = lines(pages, &head, asked);
    if has_sentences(&lines, asked.sheet.cells) {
        // Verse begins its lines anew with small letters, lists their items.
        let together = |a: &Line, b: &Line| a.page == b.page && a.row + 1 == b.row;
        for chunk in lines.chunk_by_mut(together) {
            let sentences = !begins_anew(chunk, asked.sheet.cells);
            chunk.iter_mut().for_each(|line| line.sentences = sentences);
        }
    }
    blocks::check(&lines, &head, asked, out);
}

/// Whether a line begins with a small letter though the one before it had room for its first word.
fn begins_anew(chunk: &[Line], width: usize) -> bool {
    chunk.windows(2).any(|two| {
        let (before, line) = (&two[0], &two[1]);
        // The first line of a page may share its room with a number.
        before.row > 0
            && line.begins_small()
            && !line.fixed
            && !before.fixed
            && !before.is_full_before(line, width)
    })
}

/// Whether no line that surely begins a paragraph begins with a small letter.
fn has_sentences(lines: &[Line], width: usize) -> bool {
    !lines.windows(2).any(|two| {
        let (before, line) = (&two[0], &two[1]);
        let begins = line.after_blank || !before.is_full_before(line, width);
        line.indent() == 2 && begins && line.page == before.page && !line.fixed && line.begins_small()
    })
}

fn lines<'a>(pages: &'a [Vec<Vec<Cell>>], head: &[Cell], asked: &Asked) -> Vec<Line<'a>> {
    let mut out = Vec::new();
    for page in 0..pages.len() {
        let made = page == 0 && label(&pages[page]).as_deref() == Some("t1");
        if made || (asked.scope == Scope::Volume && page == 0) {
            continue;
        }
        let text: Vec<TextLine> =
            page_lines(pages, page, head, asked.sheet).filter(|line| !line.cells.is_empty()).collect();
        let count = text.len();
        for (at, line) in text.into_iter().enumerate() {
            let row =
                |row: Option<usize>| row.and_then(|row| pages[page].get(row)).map(|row| &row[..end(row)]);
            let (above, below) = (row(line.line.checked_sub(1)), row(Some(line.line + 1)));
            let blank = |row: Option<&[Cell]>| row.is_none_or(<[Cell]>::is_empty);
            let ruled = |row: Option<&[Cell]>| {
                row.is_some_and(|row| {
                    tabular::ruled(row).is_some() || tabular::is_under_headings(row) || parts_pages(row)
                })
            };
            out.push(Line {
                page,
                row: line.line,
                cells: line.cells,
                after_blank: blank(above) || (line.line == 1 && !head.is_empty()),
                alone: blank(above) && blank(below),
                first: at == 0,
                last: at + 1 == count,
                fixed: line.is_fixed(),
                ruled: ruled(above) || ruled(below),
                sentences: false,
            });
        }
    }
    out
}
