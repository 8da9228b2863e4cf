//! The learner's own texts: UTF-8 text, braille ASCII (.brf) and Unicode braille.
//!
//! Running heads, page numbers and the lines where print turns a page are recognised and kept apart.

use std::collections::HashMap;
use std::ops::Range;

use crate::cell::{self, Cell};

/// What a line of a braille file is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineKind {
    /// Part of the reading.
    Text,
    /// A running head, the same at the top of several pages.
    RunningHead,
    /// A line with a page number and nothing else.
    PageNumber,
    /// A line of hyphens or dots 3-6 that ends in a print page number (common practice).
    PageChange,
}

/// A file taken in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Book {
    /// Print, to be transcribed.
    Print(String),
    /// Braille.
    Braille(Sheets),
}

/// The pages of a braille file. Where they begin is known at once; a page is read when it is asked for, so that a book of
/// a thousand pages opens as quickly as a letter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheets {
    text: String,
    /// Where each page stands in the text, in bytes.
    pages: Vec<Range<usize>>,
    /// Whether form feeds tell the pages.
    told: bool,
    /// The running heads: what stands at the top of several pages.
    heads: Vec<String>,
}

fn number(cells: &[Cell]) -> bool {
    let text = cell::to_ascii(cells);
    let text = text.trim();
    let digits = |t: &str| !t.is_empty() && t.chars().all(|c| ('a'..='j').contains(&c));
    text.strip_prefix('#').is_some_and(digits)
}

fn page_change(cells: &[Cell]) -> bool {
    let text = cell::to_ascii(cells);
    let text = text.trim_end();
    let body = text.trim_start_matches('-');
    text.len() - body.len() >= 5
        && (body.is_empty() || number(&cells[text.len() - body.len()..]) || body.len() <= 6)
}

/// A head without the page number at its end, for comparing.
fn head(cells: &[Cell]) -> String {
    let text = cell::to_ascii(cells);
    let text = text.trim();
    match text.rsplit_once("  ") {
        Some((before, last)) if last.trim_start().starts_with('#') => before.trim().to_owned(),
        _ => text.to_owned(),
    }
}

fn written(line: &[Cell]) -> bool {
    line.iter().any(|cell| !cell.is_blank())
}

fn cells_of(line: &str) -> Vec<Cell> {
    line.trim_end()
        .chars()
        .map(|c| Cell::from_unicode(c).or_else(|| Cell::from_ascii(c)).unwrap_or_default())
        .collect()
}

impl Sheets {
    /// The pages of a text; `height` lines are a page where no form feed tells them.
    fn of(text: String, height: usize) -> Sheets {
        let told = text.trim_end_matches('\u{c}').contains('\u{c}');
        let mut sheets = Sheets { text, pages: Vec::new(), told, heads: Vec::new() };
        let text = &sheets.text;
        let ends = text.match_indices(if told { '\u{c}' } else { '\n' });
        let mut from = 0;
        for (n, (at, _)) in ends.enumerate() {
            if told || (n + 1) % height == 0 {
                sheets.pages.push(from..at);
                from = at + 1;
            }
        }
        // A form feed or a line end at the very end begins no page.
        if !text[from..].trim_end_matches(['\u{c}', '\r', '\n']).is_empty() || sheets.pages.is_empty() {
            sheets.pages.push(from..text.len());
        }
        if told {
            let mut heads: HashMap<String, u32> = HashMap::new();
            for page in &sheets.pages {
                let lines = sheets.text[page.clone()].lines().map(cells_of);
                if let Some(line) = lines.into_iter().find(|line| written(line)) {
                    *heads.entry(head(&line)).or_default() += 1;
                }
            }
            sheets.heads = heads.into_iter().filter(|(_, pages)| *pages >= 2).map(|(head, _)| head).collect();
            crate::order::sort(&mut sheets.heads);
        }
        sheets
    }

    /// How many pages there are; one at least.
    pub fn count(&self) -> usize {
        self.pages.len()
    }

    /// The lines of a page, each with what it is; none beyond the last page.
    pub fn page(&self, page: usize) -> Vec<(Vec<Cell>, LineKind)> {
        let Some(place) = self.pages.get(page) else { return Vec::new() };
        let lines: Vec<Vec<Cell>> =
            self.text[place.clone()].trim_matches('\u{c}').lines().map(cells_of).collect();
        // Where pages are told by form feeds, a page number stands on a page's first or last line; a lone number
        // elsewhere is that of a chapter.
        let top = lines.iter().position(|line| written(line));
        let edges = (top, lines.iter().rposition(|line| written(line)));
        let kind = |(n, line): (usize, Vec<Cell>)| {
            let edge = Some(n) == edges.0 || Some(n) == edges.1;
            let kind = if !written(&line) {
                LineKind::Text
            } else if number(&line) && (edge || !self.told) {
                LineKind::PageNumber
            } else if page_change(&line) {
                LineKind::PageChange
            } else if Some(n) == top && self.heads.binary_search(&head(&line)).is_ok() {
                LineKind::RunningHead
            } else {
                LineKind::Text
            };
            (line, kind)
        };
        lines.into_iter().enumerate().map(kind).collect()
    }
}

/// So many letters of a text tell whether it is print or braille.
const TOLD_BY: usize = 20_000;

/// Takes in a file's text; `brf` says that its name ends in .brf. A text of Unicode braille is known by its
/// characters. `height` lines are a page of a braille file that has no form feeds.
pub fn open(text: &str, brf: bool, height: usize) -> Book {
    let text = text.trim_start_matches('\u{feff}');
    let beginning = || text.chars().take(TOLD_BY);
    let braille = || beginning().filter(|c| Cell::from_unicode(*c).is_some()).count();
    let print = || beginning().filter(|c| c.is_alphanumeric()).count();
    if !brf && braille() <= print() {
        return Book::Print(text.to_owned());
    }
    Book::Braille(Sheets::of(text.to_owned(), height))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn running_heads_page_numbers_and_page_changes_stand_apart() {
        let page = |n: &str, text: &str| {
            format!("    ,! ,SK]RY ,L9E        {n}\n{text}\n---------------------#b\nmore text")
        };
        let text = format!("{}\u{c}{}\u{c}#c\n{}", page("#a", "one"), page("#b", "two"), "last");
        let Book::Braille(sheets) = open(&text, true, 25) else { panic!("braille") };
        assert_eq!(sheets.count(), 3);
        let lines: Vec<_> = (0..3).flat_map(|page| sheets.page(page)).collect();
        let count = |kind| lines.iter().filter(|(_, k)| *k == kind).count();
        assert_eq!(count(LineKind::RunningHead), 2);
        assert_eq!(count(LineKind::PageChange), 2);
        assert_eq!(count(LineKind::PageNumber), 1);
        assert_eq!(count(LineKind::Text), 5);
    }

    #[test]
    fn a_chapters_number_within_a_page_belongs_to_the_reading() {
        let page = "          #c\ntwo\n                     #j";
        let text = format!("a\n{page}\u{c}b\n{page}\u{c}");
        let Book::Braille(sheets) = open(&text, true, 25) else { panic!("braille") };
        assert_eq!(sheets.count(), 2, "a form feed at the end begins no page");
        for page in 0..2 {
            let kinds: Vec<LineKind> = sheets.page(page).iter().map(|(_, kind)| *kind).collect();
            assert_eq!(kinds, [LineKind::Text, LineKind::Text, LineKind::Text, LineKind::PageNumber]);
        }
    }

    #[test]
    fn kinds_of_files_are_told_apart() {
        assert!(matches!(open("⠓⠑⠇⠇⠕", false, 25), Book::Braille(_)));
        assert!(matches!(open("hello", false, 25), Book::Print(_)));
        assert!(matches!(open("hello", true, 25), Book::Braille(_)));
    }

    /// Without form feeds every so many lines are a page, whatever ends them.
    #[test]
    fn pages_without_form_feeds_have_so_many_lines() {
        for end in ["\n", "\r\n"] {
            for (lines, pages) in [(0, 1), (1, 1), (25, 1), (26, 2), (50, 2), (51, 3)] {
                let text: String = (0..lines).map(|n| format!("line #{n}{end}")).collect();
                let Book::Braille(sheets) = open(&text, true, 25) else { panic!("braille") };
                assert_eq!(sheets.count(), pages, "{lines} lines");
                let all: usize = (0..pages).map(|page| sheets.page(page).len()).sum();
                assert_eq!(all, lines);
            }
        }
    }
}
