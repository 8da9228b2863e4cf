//! Print laid out on pages: a paragraph at its margins, a heading at its place, a line that runs over going on at cell 3.
//! A long text is laid out in pieces, so that its first page is there at once and the page never stands still.

use std::rc::Rc;

use super::{Braille, HEIGHT, Line, Pages, Reading, WIDTH};
use crate::cell::Cell;
use crate::manuscript::source::{self, Block, Kind};
use crate::practice::book::LineKind;
use crate::practice::passages;
use crate::ueb::{self, Options};

/// Lines of at most `width` cells, broken at blanks; the first begins after `first` blanks, the others after `rest`.
pub(super) fn wrap(cells: &[Cell], first: usize, rest: usize, width: usize) -> Vec<Vec<Cell>> {
    let mut lines = vec![vec![Cell::BLANK; first]];
    let mut empty = true;
    for word in cells.split(|cell| cell.is_blank()).filter(|word| !word.is_empty()) {
        // A word longer than a line is cut; no text of the page has one.
        for part in word.chunks(width - first.max(rest)) {
            let room =
                lines.last().is_some_and(|line| line.len() + usize::from(!empty) + part.len() <= width);
            if !room && !empty {
                lines.push(vec![Cell::BLANK; rest]);
                empty = true;
            }
            if let Some(line) = lines.last_mut() {
                if !empty {
                    line.push(Cell::BLANK);
                }
                line.extend_from_slice(part);
                empty = false;
            }
        }
    }
    lines
}

/// Cells in rows of at most `width`, broken at blanks.
pub fn rows(cells: &[Cell], width: usize) -> Vec<Vec<Cell>> {
    wrap(cells, 0, 0, width)
}

/// A line, or the lines of at most `width` cells that it is broken into for a narrow screen.
pub(super) fn broken(line: &Line, width: usize) -> Vec<Line> {
    if line.cells.len() <= width {
        return vec![line.clone()];
    }
    let margin = line.cells.iter().take_while(|cell| cell.is_blank()).count();
    // A centred line loses its margin, which no longer centres it.
    let margin = if margin > 6 { 0 } else { margin };
    let rows = wrap(&line.cells, margin, 0, width.max(margin + 8));
    rows.into_iter().map(|cells| Line { cells, kind: line.kind }).collect()
}

/// A block of print as the lines of a sheet: headings centred or at their cell, with a blank line before, paragraphs and
/// items at their margins.
pub(super) fn set(block: &Block, braille: Braille) -> Vec<Vec<Cell>> {
    let cells = braille(&block.print);
    let (first, rest) = block.kind.margins();
    let mut lines = Vec::new();
    if block.kind.is_heading() {
        lines.push(Vec::new());
    }
    if block.kind == Kind::Centred {
        // Three blank cells at least on either side (common practice).
        for line in wrap(&cells, 0, 0, WIDTH - 6) {
            let margin = vec![Cell::BLANK; (WIDTH - line.len()) / 2];
            lines.push([margin, line].concat());
        }
        lines.push(Vec::new());
    } else {
        lines.extend(wrap(&cells, first - 1, rest - 1, WIDTH));
    }
    lines
}

/// Puts print on pages of [`HEIGHT`] lines; no page begins with a blank line, none ends with a heading.
#[derive(Clone, Debug, Default)]
pub(super) struct Setter {
    pub(super) pages: Vec<Vec<Line>>,
}

impl Setter {
    fn put(&mut self, cells: Vec<Cell>) {
        if self.pages.last().is_none_or(|page| page.len() >= HEIGHT) {
            self.pages.push(Vec::new());
        }
        if let Some(page) = self.pages.last_mut() {
            page.push(Line { cells, kind: LineKind::Text });
        }
    }

    /// Paragraphs, headings and items.
    pub(super) fn paragraphs(&mut self, print: &str, braille: Braille) {
        if self.pages.is_empty() {
            self.pages.push(Vec::new());
        }
        for block in source::read(print).1 {
            let lines = set(&block, braille);
            let here = self.pages.last().map_or(0, Vec::len);
            // A heading stays with the first two lines of what follows.
            if block.kind.is_heading() && here > 0 && here + lines.len() + 2 > HEIGHT {
                self.pages.push(Vec::new());
            }
            for line in lines {
                let full = self.pages.last().is_none_or(|page| page.len() >= HEIGHT);
                let after_blank = self
                    .pages
                    .last()
                    .is_none_or(|page| page.last().is_none_or(|before| before.cells.is_empty()));
                if !(line.is_empty() && (full || after_blank)) {
                    self.put(line);
                }
            }
        }
    }

    /// Line by line.
    pub(super) fn lines(&mut self, print: &str, braille: Braille) {
        for line in print.lines() {
            for cells in wrap(&braille(line), 0, 2, WIDTH) {
                self.put(cells);
            }
        }
    }
}

/// A text of print that is being laid out, some letters at a time.
pub struct Laying {
    print: Rc<str>,
    at: usize,
    paragraphs: bool,
    title: String,
    options: Options,
    setter: Setter,
    /// Pages that nothing more comes on.
    full: Vec<Rc<Vec<Line>>>,
}

impl Laying {
    /// Begins to lay out a text; nothing is laid out yet.
    pub fn new(title: &str, print: Rc<str>, contracted: bool) -> Laying {
        Laying {
            at: 0,
            paragraphs: passages::in_paragraphs(&print),
            print,
            title: title.to_owned(),
            options: Options { contracted, marks: true, ..Options::default() },
            setter: Setter::default(),
            full: Vec::new(),
        }
    }

    /// Whether all of it is laid out.
    pub fn is_done(&self) -> bool {
        self.at >= self.print.len()
    }

    /// Lays out about so many letters more, up to the end of a paragraph or a line.
    pub fn go_on(&mut self, letters: usize) {
        if self.is_done() {
            return;
        }
        let rest = &self.print[self.at..];
        let piece = &rest[..end_of_piece(rest, letters, self.paragraphs)];
        let mut braille = |print: &str| ueb::transcribe(print, &self.options);
        if self.paragraphs {
            // Fields of a title page stand at the very top alone.
            let later = if self.at > 0 { "\n" } else { "" };
            self.setter.paragraphs(&format!("{later}{piece}"), &mut braille);
        } else {
            self.setter.lines(piece, &mut braille);
        }
        self.at += piece.len();
        let ready = self.setter.pages.len().saturating_sub(1);
        self.full.extend(self.setter.pages.drain(..ready).map(Rc::new));
    }

    /// The text as far as it is laid out.
    pub fn reading(&self) -> Reading {
        let last = self.setter.pages.iter().cloned().map(Rc::new);
        Reading {
            title: self.title.clone(),
            contracted: self.options.contracted,
            older: false,
            pages: Pages::Set(self.full.iter().cloned().chain(last).collect()),
        }
    }
}

/// A paragraph of so many letters is never cut.
const LONG: usize = 4_000;

/// Where a piece of about so many letters ends: after an empty line or, in a text that is set line by line, after a line;
/// where none comes for long, after a line or a word.
fn end_of_piece(text: &str, letters: usize, paragraphs: bool) -> usize {
    let from = letters.min(text.len());
    let Some(from) = (from..text.len()).find(|at| text.is_char_boundary(*at)) else { return text.len() };
    let most = from.saturating_mul(8).max(LONG);
    let after = |what: &str, most: usize| {
        text[from..].find(what).map(|at| from + at + what.len()).filter(|end| *end <= most)
    };
    let end = if paragraphs { after("\n\n", most) } else { None };
    end.or_else(|| after("\n", most)).or_else(|| after(" ", usize::MAX)).unwrap_or(text.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Laid out in pieces of any size a text is what it is when it is laid out at once: by paragraphs, and by lines.
    #[test]
    fn a_text_laid_out_in_pieces_is_the_same() {
        let paragraph = "The *Grey Seal* went round by Gull Point, and everybody on board was glad of it.";
        let book: String = (0..60)
            .map(|n| {
                let head = if n % 7 == 0 { format!("# Chapter {n}\n\n") } else { String::new() };
                format!("{head}{paragraph} {n}\n\n- soup\n- bread\n\n---\n\n")
            })
            .collect();
        let by_lines: String = (0..200).map(|n| format!("Line {n} of the log: {paragraph}\n")).collect();
        for text in [book.as_str(), by_lines.as_str(), "", "one", "---\ntitle: A\n---\n\nText.\n\nMore."] {
            let whole = Reading::of_print("t", text, true);
            for letters in [1, 90, 1_000, 100_000] {
                let mut laying = Laying::new("t", Rc::from(text), true);
                while !laying.is_done() {
                    laying.go_on(letters);
                }
                let reading = laying.reading();
                assert_eq!(reading.count(), whole.count(), "{letters}");
                for page in 0..whole.count() {
                    assert_eq!(reading.page(page), whole.page(page), "{letters}, page {page}");
                }
            }
        }
    }

    /// A text without an end of a line is laid out in pieces too.
    #[test]
    fn no_piece_is_much_longer_than_was_asked_for() {
        let words = "sea ".repeat(50_000);
        assert!(end_of_piece(&words, 2_000, true) < 2_010 && end_of_piece(&words, 2_000, false) < 2_010);
        let lines = "the sea\n".repeat(50_000);
        assert!(end_of_piece(&lines, 2_000, true) < 2_010);
    }
}
