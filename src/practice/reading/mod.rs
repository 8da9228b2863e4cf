//! A text laid out for reading: pages of lines, what each word says, and how much of it is known.

mod laying;
mod older;
mod through;

pub use laying::{Laying, rows};
pub use older::{OlderSign, older_signs_in, seems_older};
pub use through::{Found, Measure, Search};

use std::ops::Range;
use std::rc::Rc;

use super::book::{self, Book, LineKind, Sheets};
use super::passages;
use super::supply::share_of;
use super::units;
use crate::cell::Cell;
use crate::manuscript::source;
use crate::ueb::{self, Options, ReadOptions, register};
use laying::{Setter, set, wrap};

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
    /// Whether signs that UEB dropped (section 1.3) are read in it.
    pub older: bool,
    pages: Pages,
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Pages {
    Set(Vec<Rc<Vec<Line>>>),
    /// A braille file, whose pages are read when they are asked for.
    File(Rc<Sheets>),
}

/// A page as it stands on a screen: its lines, which may be broken, and what their words say.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Page {
    /// Its lines.
    pub lines: Vec<Line>,
    /// The words of each line.
    pub words: Vec<Vec<Word>>,
}

/// Gives the cells of a piece of print.
type Braille<'a> = &'a mut dyn FnMut(&str) -> Vec<Cell>;

fn text(cells: Vec<Cell>) -> Line {
    Line { cells, kind: LineKind::Text }
}

impl Reading {
    /// Print, transcribed: paragraphs and headings at their margins, or line by line, a line that runs over going on at
    /// cell 3 (see [`passages::in_paragraphs`]). Words are never divided.
    pub fn of_print(title: &str, print: &str, contracted: bool) -> Reading {
        let options = Options { contracted, marks: true, ..Options::default() };
        Reading::set(title, print, contracted, &mut |piece| ueb::transcribe(piece, &options))
    }

    /// The same with cells from elsewhere: `braille` is asked for those of each paragraph, heading or line, in order.
    pub fn set(title: &str, print: &str, contracted: bool, braille: Braille) -> Reading {
        let mut setter = Setter::default();
        if passages::in_paragraphs(print) {
            setter.paragraphs(print, braille);
        } else {
            setter.lines(print, braille);
        }
        Reading::new(title, contracted, setter.pages)
    }

    /// A text of these pages, without older signs.
    pub fn new(title: &str, contracted: bool, pages: Vec<Vec<Line>>) -> Reading {
        let pages = pages.into_iter().map(Rc::new).collect();
        Reading { title: title.to_owned(), contracted, older: false, pages: Pages::Set(pages) }
    }

    /// Pages of print, each a sheet of its own, line by line.
    pub fn of_pages(title: &str, pages: &[Vec<&str>], contracted: bool, braille: Braille) -> Reading {
        let mut sheets = Vec::new();
        for page in pages {
            let lines: Vec<Line> =
                page.iter().flat_map(|line| wrap(&braille(line), 0, 2, WIDTH)).map(text).collect();
            sheets.extend(lines.chunks(HEIGHT).map(<[Line]>::to_vec));
        }
        Reading::new(title, contracted, sheets)
    }

    /// Print line by line, empty lines kept, headings at their places; a line that runs over goes on at cell 3.
    pub fn of_lines(title: &str, print: &str, contracted: bool, braille: Braille) -> Reading {
        let mut pages: Vec<Vec<Line>> = vec![Vec::new()];
        for line in print.lines() {
            let set = match source::read(line).1.first() {
                None => vec![Vec::new()],
                Some(block) if block.kind.is_heading() => set(block, braille),
                Some(_) => wrap(&braille(line), 0, 2, WIDTH),
            };
            for line in set {
                if pages.last().is_some_and(|page| page.len() >= HEIGHT) {
                    pages.push(Vec::new());
                }
                // No page begins with an empty line, and none follows another.
                if let Some(page) = pages.last_mut()
                    && !(line.is_empty() && page.last().is_none_or(|before| before.cells.is_empty()))
                {
                    page.push(text(line));
                }
            }
        }
        Reading::new(title, contracted, pages)
    }

    /// How many pages it has.
    pub fn count(&self) -> usize {
        match &self.pages {
            Pages::Set(pages) => pages.len(),
            Pages::File(sheets) => sheets.count(),
        }
    }

    /// The lines of a page; none beyond the last.
    pub fn page(&self, page: usize) -> Rc<Vec<Line>> {
        match &self.pages {
            Pages::Set(pages) => pages.get(page).cloned().unwrap_or_default(),
            Pages::File(sheets) => {
                Rc::new(sheets.page(page).into_iter().map(|(cells, kind)| Line { cells, kind }).collect())
            }
        }
    }

    /// A page with no line longer than `width` cells, and what its words say: a line that is longer goes on in the next
    /// one, at its own margin. Lines that are broken in two for a screen are not those of the sheet; the pages are.
    pub fn on_screen(&self, page: usize, width: usize) -> Page {
        let lines: Vec<Line> = self.page(page).iter().flat_map(|line| laying::broken(line, width)).collect();
        Page { words: self.words_on(page, &lines), lines }
    }

    /// The line of a page on a screen with `width` cells a line at which a line of the sheet begins.
    pub fn line_on_screen(&self, page: usize, line: usize, width: usize) -> usize {
        self.page(page).iter().take(line).map(|line| laying::broken(line, width).len()).sum()
    }

    /// How many cells the longest line of a page has.
    pub fn width(&self, page: usize) -> usize {
        self.page(page).iter().map(|line| line.cells.len()).max().unwrap_or(0)
    }

    /// A file of the learner's own: print, braille ASCII (`brf`) or Unicode braille. A braille file keeps its lines and
    /// its pages; without form feeds, every [`HEIGHT`] lines are a page. A long text of print is better laid out in
    /// pieces: see [`Laying`].
    pub fn of_file(title: &str, file: &str, brf: bool, contracted: bool) -> Reading {
        match book::open(file, brf, HEIGHT) {
            Book::Print(print) => Reading::of_print(title, &print, contracted),
            Book::Braille(sheets) => Reading::of_sheets(title, sheets, contracted),
        }
    }

    /// The pages of a braille file.
    pub fn of_sheets(title: &str, sheets: Sheets, contracted: bool) -> Reading {
        Reading { title: title.to_owned(), contracted, older: false, pages: Pages::File(Rc::new(sheets)) }
    }

    /// The same text, its older signs read as such or not.
    pub fn with_older(self, older: bool) -> Reading {
        Reading { older, ..self }
    }

    /// How its braille is read.
    pub fn options(&self) -> ReadOptions {
        ReadOptions { contracted: self.contracted, older: self.older, ..ReadOptions::default() }
    }

    /// What the words of a page say, line by line.
    pub fn words(&self, page: usize) -> Vec<Vec<Word>> {
        self.words_on(page, &self.page(page))
    }

    /// What the words of a page say, line by line, its lines given. Those of its text are read as one, and those of a few
    /// pages before it, so that what begins on one line or page and ends on the next is understood; lines that stand
    /// apart are read each on its own.
    fn words_on(&self, page: usize, lines: &[Line]) -> Vec<Vec<Word>> {
        let mut out: Vec<Vec<Word>> = vec![Vec::new(); lines.len()];
        let mut running: Vec<Cell> = Vec::new();
        for before in page.saturating_sub(PAGES_BEFORE)..page.min(self.count()) {
            for line in self.page(before).iter().filter(|line| line.kind == LineKind::Text) {
                running.extend_from_slice(&line.cells);
                running.push(Cell::BLANK);
            }
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
        let reading = ueb::read(cells, &self.options());
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

    /// The text of a page as one run of cells, its lines parted by blanks; heads and page numbers are left out.
    fn running(&self, page: usize) -> Vec<Cell> {
        let lines = self.page(page);
        let mut cells = Vec::with_capacity(lines.iter().map(|line| line.cells.len() + 1).sum());
        for line in lines.iter().filter(|line| line.kind == LineKind::Text) {
            cells.extend_from_slice(&line.cells);
            cells.push(Cell::BLANK);
        }
        cells
    }

    /// The signs of some pages of the text, with how many cells each use takes; heads and page numbers are left out.
    pub fn uses(&self, pages: Range<usize>) -> Vec<(&'static str, usize)> {
        let running: Vec<Cell> = pages.flat_map(|page| self.running(page)).collect();
        let pieces = ueb::read(&running, &self.options()).pieces;
        let key = |piece: &ueb::Piece| piece.sign.map_or("unknown", |sign| register::get(sign).key);
        pieces.iter().map(|piece| (key(piece), piece.cells.len())).collect()
    }

    /// The share of the cells of some pages, 0 to 1, that belong to signs the learner knows, and the unknown signs that the
    /// course teaches, the most frequent first.
    pub fn known(&self, pages: Range<usize>, knows: impl Fn(&str) -> bool) -> (f64, Vec<&'static str>) {
        let (share, mut unknown) = share_of(self.uses(pages).into_iter(), knows);
        unknown.retain(|key| units::unit_of(key).is_some());
        (share, unknown)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    /// Broken for a narrow screen, a text has the same words in the same order, on as many pages.
    #[test]
    fn a_text_broken_for_a_narrow_screen_says_the_same() {
        let print = "# The long way\n\nThe *Grey Seal* went round by Gull Point, and everybody on board was glad of it.\n\n- soup\n- bread";
        let whole = Reading::of_print("t", print, true);
        let words = |words: Vec<Vec<Word>>| -> Vec<String> {
            words.into_iter().flatten().map(|word| word.print).collect()
        };
        for width in [12, 17, 24, 39, 40] {
            let broken = whole.on_screen(0, width);
            assert!(broken.lines.iter().all(|line| line.cells.len() <= width), "{width}");
            assert_eq!(words(broken.words), words(whole.words(0)), "{width}");
        }
        assert_eq!(whole.on_screen(0, 40).lines, *whole.page(0));
    }

    fn said(reading: &Reading, page: usize) -> Vec<String> {
        let line = |words: &Vec<Word>| words.iter().map(|w| w.print.as_str()).collect::<Vec<_>>().join(" ");
        reading.words(page).iter().map(line).collect()
    }

    #[test]
    fn every_text_fits_the_sheet_and_its_words_are_its_print() {
        for passage in passages::parse(&super::super::supply::tests::file("passages.txt")) {
            let reading = Reading::of_print(&passage.title, &passage.text, passage.contracted);
            assert!(reading.count() > 0);
            for page in (0..reading.count()).map(|page| reading.page(page)) {
                assert!(page.len() <= HEIGHT, "{}", passage.title);
                assert!(page.first().is_some_and(|line| !line.cells.is_empty()), "{}", passage.title);
                assert!(page.iter().all(|line| line.cells.len() <= WIDTH), "{}", passage.title);
            }
            let all: Vec<String> = (0..reading.count()).flat_map(|page| said(&reading, page)).collect();
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
        assert_eq!(reading.count(), 2);
        assert_eq!(reading.page(0)[0].kind, LineKind::RunningHead);
        assert_eq!(said(&reading, 0)[1..], ["The cat sat on", "the mat."]);
        let (share, unknown) = reading.known(0..9, |key| key != "contraction the");
        assert!(share < 1.0 && unknown == ["contraction the"]);
        let none = Reading::of_file("x", "", true, true);
        assert!(none.words(0).iter().all(Vec::is_empty) && none.known(0..1, |_| true).0 == 0.0);
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
        let pages = vec![vec![cells(",,,stop"), cells("and look,' now")]];
        let reading = Reading::new("", false, pages.clone());
        assert_eq!(said(&reading, 0), ["STOP", "AND LOOK now"]);
        // The same over the end of a page.
        let pages = pages.concat().into_iter().map(|line| vec![line]).collect();
        let reading = Reading::new("", false, pages);
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

    /// Nine hundred full pages: the first is there before any other is read, and each says what it says alone.
    #[test]
    fn a_page_of_a_long_book_is_read_when_it_is_asked_for() {
        let page = |n: usize| {
            format!(",page {n} says #{}\n", "a".repeat(1 + n % 7)) + &"! cat sat on ! mat4\n".repeat(24)
        };
        let book: String = (0..900).map(|n| page(n) + "\u{c}").collect();
        let reading = Reading::of_file("x", &book, true, true);
        assert_eq!(reading.count(), 900);
        for n in [0, 1, 450, 899] {
            let alone = Reading::of_file("x", &page(n), true, true);
            assert_eq!(reading.page(n), alone.page(0));
            assert_eq!(said(&reading, n), said(&alone, 0));
        }
        assert!(reading.page(900).is_empty() && reading.words(900).is_empty());
    }
}
