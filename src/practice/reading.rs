//! A text laid out for reading: pages of lines, what each word says, and how much of it is known.

use std::ops::Range;

use super::book::{self, Book, LineKind};
use super::passages;
use super::supply::share_of;
use super::units;
use crate::cell::Cell;
use crate::manuscript::source::{self, Block, Kind};
use crate::ueb::{self, Options, ReadOptions, register};

/// Cells in a full line (common practice).
pub const WIDTH: usize = 40;
/// Lines on a full page (common practice).
pub const HEIGHT: usize = 25;

/// Pages before a page that are read with it: a passage that began earlier still is rare.
const PAGES_BEFORE: usize = 2;

/// One line of a page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Its cells.
    pub cells: Vec<Cell>,
    /// Part of the reading, or a running head, a page number, a change of the print page.
    pub kind: LineKind,
}

/// One word of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// Its cells in the line, half-open.
    pub cells: Range<usize>,
    /// What it says.
    pub print: String,
    /// The keys of its signs; an empty key where no rule gives a meaning.
    pub signs: Vec<&'static str>,
}

/// A text on its pages.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading {
    /// Its title.
    pub title: String,
    /// Contracted or uncontracted.
    pub contracted: bool,
    /// Its pages.
    pub pages: Vec<Vec<Line>>,
}

/// Gives the cells of a piece of print.
type Braille<'a> = &'a mut dyn FnMut(&str) -> Vec<Cell>;

/// Lines of at most `width` cells, broken at blanks; the first begins after `first` blanks, the others after `rest`.
fn wrap(cells: &[Cell], first: usize, rest: usize, width: usize) -> Vec<Vec<Cell>> {
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

/// A block of print as the lines of a sheet: headings centred or at their cell, with a blank line before, paragraphs and
/// items at their margins.
fn set(block: &Block, braille: Braille) -> Vec<Vec<Cell>> {
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

/// Paragraphs and headings on pages of [`HEIGHT`] lines; no page begins with a blank line, none ends with a heading.
fn set_pages(print: &str, braille: Braille) -> Vec<Vec<Line>> {
    let mut pages: Vec<Vec<Line>> = vec![Vec::new()];
    for block in source::read(print).1 {
        let lines = set(&block, braille);
        let here = pages.last().map_or(0, Vec::len);
        // A heading stays with the first two lines of what follows.
        if block.kind.is_heading() && here > 0 && here + lines.len() + 2 > HEIGHT {
            pages.push(Vec::new());
        }
        for line in lines {
            if pages.last().is_some_and(|page| page.len() >= HEIGHT) {
                pages.push(Vec::new());
            }
            if let Some(page) = pages.last_mut()
                && !(line.is_empty() && page.last().is_none_or(|before| before.cells.is_empty()))
            {
                page.push(text(line));
            }
        }
    }
    pages
}

fn text(cells: Vec<Cell>) -> Line {
    Line { cells, kind: LineKind::Text }
}

impl Reading {
    /// Print, transcribed: paragraphs and headings at their margins, or line by line, a line that runs over going on at
    /// cell 3 (see [`passages::in_paragraphs`]). Words are never divided.
    pub fn of_print(title: &str, print: &str, contracted: bool) -> Reading {
        let options = Options { contracted, marks: true };
        Reading::set(title, print, contracted, &mut |piece| ueb::transcribe(piece, &options))
    }

    /// The same with cells from elsewhere: `braille` is asked for those of each paragraph, heading or line, in order.
    pub fn set(title: &str, print: &str, contracted: bool, braille: Braille) -> Reading {
        let pages = if passages::in_paragraphs(print) {
            set_pages(print, braille)
        } else {
            let lines: Vec<Line> =
                print.lines().flat_map(|line| wrap(&braille(line), 0, 2, WIDTH)).map(text).collect();
            lines.chunks(HEIGHT).map(<[Line]>::to_vec).collect()
        };
        Reading { title: title.to_owned(), contracted, pages }
    }

    /// A file of the learner's own: print, braille ASCII (`brf`) or Unicode braille. A braille file keeps its lines and
    /// its pages; without form feeds, every [`HEIGHT`] lines are a page.
    pub fn of_file(title: &str, file: &str, brf: bool, contracted: bool) -> Reading {
        match book::open(file, brf) {
            Book::Print(print) => Reading::of_print(title, &print, contracted),
            Book::Braille(pages) => {
                let line = |(cells, kind)| Line { cells, kind };
                let whole = pages.len() == 1;
                let pages: Vec<Vec<Line>> =
                    pages.into_iter().map(|page| page.into_iter().map(line).collect()).collect();
                let pages =
                    if whole { pages.concat().chunks(HEIGHT).map(<[Line]>::to_vec).collect() } else { pages };
                Reading { title: title.to_owned(), contracted, pages }
            }
        }
    }

    /// What the words of a page say, line by line. The lines of its text are read as one, and those of a few pages before
    /// it, so that what begins on one line or page and ends on the next is understood; lines that stand apart are read
    /// each on its own.
    pub fn words(&self, page: usize) -> Vec<Vec<Word>> {
        let lines = self.pages.get(page).map(Vec::as_slice).unwrap_or_default();
        let mut out: Vec<Vec<Word>> = vec![Vec::new(); lines.len()];
        let mut running: Vec<Cell> = Vec::new();
        for line in self.pages
            [page.saturating_sub(PAGES_BEFORE).min(self.pages.len())..page.min(self.pages.len())]
            .iter()
            .flatten()
            .filter(|line| line.kind == LineKind::Text)
        {
            running.extend_from_slice(&line.cells);
            running.push(Cell::BLANK);
        }
        let before = running.len();
        let mut places: Vec<(usize, usize)> = Vec::new();
        for (n, line) in lines.iter().enumerate() {
            if line.kind == LineKind::Text {
                places.push((n, running.len()));
                running.extend_from_slice(&line.cells);
                running.push(Cell::BLANK);
            } else {
                out[n] = self.words_of(&line.cells);
            }
        }
        // Each word belongs to the line that it begins in.
        let mut at = 0;
        for word in self.words_of(&running).into_iter().filter(|word| word.cells.start >= before) {
            while places.get(at + 1).is_some_and(|(_, start)| *start <= word.cells.start) {
                at += 1;
            }
            if let Some((line, start)) = places.get(at) {
                let cells = word.cells.start - start..word.cells.end - start;
                out[*line].push(Word { cells, ..word });
            }
        }
        out
    }

    fn words_of(&self, cells: &[Cell]) -> Vec<Word> {
        let options = ReadOptions { contracted: self.contracted, ..ReadOptions::default() };
        let reading = ueb::read(cells, &options);
        let print: Vec<char> = reading.print.chars().collect();
        let mut pieces = reading.pieces.iter().peekable();
        let mut words = Vec::new();
        let mut at = 0;
        while at < cells.len() {
            if cells[at].is_blank() {
                at += 1;
                continue;
            }
            let end = cells[at..].iter().position(|cell| cell.is_blank()).map_or(cells.len(), |n| at + n);
            let mut word = Word { cells: at..end, print: String::new(), signs: Vec::new() };
            while pieces.next_if(|piece| piece.cells.end <= at).is_some() {}
            while let Some(piece) = pieces.next_if(|piece| piece.cells.start < end) {
                word.print.extend(print.get(piece.print.clone()).unwrap_or_default());
                word.signs.push(piece.sign.map_or("", |sign| register::get(sign).key));
            }
            word.print = word.print.trim().to_owned();
            words.push(word);
            at = end;
        }
        words
    }

    /// The signs of the first `pages` pages of the text, with how many cells each use takes; heads and page numbers are
    /// left out.
    pub fn uses(&self, pages: usize) -> Vec<(&'static str, usize)> {
        let options = ReadOptions { contracted: self.contracted, ..ReadOptions::default() };
        let mut running: Vec<Cell> = Vec::new();
        for line in self.pages.iter().take(pages).flatten().filter(|line| line.kind == LineKind::Text) {
            running.extend_from_slice(&line.cells);
            running.push(Cell::BLANK);
        }
        let pieces = ueb::read(&running, &options).pieces;
        let key = |piece: &ueb::Piece| piece.sign.map_or("unknown", |sign| register::get(sign).key);
        pieces.iter().map(|piece| (key(piece), piece.cells.len())).collect()
    }

    /// The share of its cells, 0 to 1, that belong to signs the learner knows, and the unknown signs that the course
    /// teaches, the most frequent first.
    pub fn known(&self, pages: usize, knows: impl Fn(&str) -> bool) -> (f64, Vec<&'static str>) {
        let (share, mut unknown) = share_of(self.uses(pages).into_iter(), knows);
        unknown.retain(|key| units::unit_of(key).is_some());
        (share, unknown)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    fn said(reading: &Reading, page: usize) -> Vec<String> {
        let line = |words: &Vec<Word>| words.iter().map(|w| w.print.as_str()).collect::<Vec<_>>().join(" ");
        reading.words(page).iter().map(line).collect()
    }

    #[test]
    fn every_text_fits_the_sheet_and_its_words_are_its_print() {
        for passage in passages::parse(&super::super::supply::tests::file("passages.txt")) {
            let reading = Reading::of_print(&passage.title, &passage.text, passage.contracted);
            assert!(!reading.pages.is_empty());
            for page in &reading.pages {
                assert!(page.len() <= HEIGHT, "{}", passage.title);
                assert!(page.first().is_some_and(|line| !line.cells.is_empty()), "{}", passage.title);
                assert!(page.iter().all(|line| line.cells.len() <= WIDTH), "{}", passage.title);
            }
            let all: Vec<String> = (0..reading.pages.len()).flat_map(|page| said(&reading, page)).collect();
            let straight =
                |text: &str| text.replace(['“', '”'], "\"").replace(['‘', '’'], "'").replace(['*', '#'], "");
            let all: Vec<String> = straight(&all.join(" ")).split_whitespace().map(str::to_owned).collect();
            let text: Vec<String> = passages::pieces(&passage.text)
                .iter()
                .flat_map(|piece| straight(piece).split_whitespace().map(str::to_owned).collect::<Vec<_>>())
                .collect();
            let differ = all.iter().zip(&text).filter(|(a, b)| a != b).count();
            assert_eq!(all.len(), text.len(), "{}", passage.title);
            assert_eq!(differ, 0, "{}: words differ", passage.title);
        }
    }

    #[test]
    fn a_braille_file_keeps_its_lines_and_its_heads_stand_apart() {
        let page = |n: &str| format!("    ,! ,SK]RY ,L9E        {n}\n  ,! CAT SAT ON\n! MAT4\n");
        let reading = Reading::of_file("x", &format!("{}\u{c}{}", page("#a"), page("#b")), true, true);
        assert_eq!(reading.pages.len(), 2);
        assert_eq!(reading.pages[0][0].kind, LineKind::RunningHead);
        assert_eq!(said(&reading, 0)[1..], ["The cat sat on", "the mat."]);
        let (share, unknown) = reading.known(9, |key| key != "contraction the");
        assert!(share < 1.0 && unknown == ["contraction the"]);
        let none = Reading::of_file("x", "", true, true);
        assert!(none.words(0).iter().all(Vec::is_empty) && none.known(1, |_| true).0 == 0.0);
    }

    #[test]
    fn what_begins_on_one_line_is_understood_on_the_next() {
        let cells = |text: &str| text_line(text);
        fn text_line(text: &str) -> Line {
            text_of(cell::from_ascii(text).unwrap())
        }
        fn text_of(cells: Vec<Cell>) -> Line {
            Line { cells, kind: LineKind::Text }
        }
        // A capitals passage over two lines (8.5).
        let reading = Reading {
            title: String::new(),
            contracted: false,
            pages: vec![vec![cells(",,,stop"), cells("and look,' now")]],
        };
        assert_eq!(said(&reading, 0), ["STOP", "AND LOOK now"]);
        // The same over the end of a page.
        let pages = reading.pages.concat().into_iter().map(|line| vec![line]).collect();
        let reading = Reading { pages, ..reading };
        assert_eq!(
            (said(&reading, 0), said(&reading, 1)),
            (vec!["STOP".into()], vec!["AND LOOK now".into()])
        );
    }

    #[test]
    fn long_lines_run_over_at_cell_three() {
        let lines = wrap(&cell::from_ascii(&"abcde ".repeat(12)).unwrap(), 0, 2, WIDTH);
        assert!(lines.iter().all(|line| line.len() <= WIDTH));
        assert!(lines[1][..2].iter().all(|cell| cell.is_blank()) && !lines[1][2].is_blank());
        assert_eq!(wrap(&[Cell::from_bits(1).unwrap(); 100], 0, 2, WIDTH).len(), 3);
    }
}
