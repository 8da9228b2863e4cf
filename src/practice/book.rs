//! The learner's own texts: UTF-8 text, braille ASCII (.brf) and Unicode braille.
//!
//! Running heads, page numbers and the lines where print turns a page are recognised and kept apart.

use std::collections::HashMap;

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
    /// Braille, page by page and line by line, each line with what it is.
    Braille(Vec<Vec<(Vec<Cell>, LineKind)>>),
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

fn kinds(pages: Vec<Vec<Vec<Cell>>>) -> Vec<Vec<(Vec<Cell>, LineKind)>> {
    let mut heads: HashMap<String, u32> = HashMap::new();
    for page in &pages {
        if let Some(line) = page.iter().find(|line| line.iter().any(|cell| !cell.is_blank())) {
            *heads.entry(head(line)).or_default() += 1;
        }
    }
    let mut out = Vec::new();
    // Where pages are told by form feeds, a page number stands on a page's first or last line; a lone number elsewhere
    // is that of a chapter.
    let told = pages.len() > 1;
    for page in pages {
        let mut lines = Vec::new();
        let mut first = true;
        let written = |line: &Vec<Cell>| line.iter().any(|cell| !cell.is_blank());
        let edges = (page.iter().position(written), page.iter().rposition(written));
        for (n, line) in page.into_iter().enumerate() {
            let edge = Some(n) == edges.0 || Some(n) == edges.1;
            let kind = if line.iter().all(|cell| cell.is_blank()) {
                LineKind::Text
            } else if number(&line) && (edge || !told) {
                LineKind::PageNumber
            } else if page_change(&line) {
                LineKind::PageChange
            } else if first && heads.get(&head(&line)).is_some_and(|pages| *pages >= 2) {
                LineKind::RunningHead
            } else {
                LineKind::Text
            };
            first &= line.iter().all(|cell| cell.is_blank());
            lines.push((line, kind));
        }
        out.push(lines);
    }
    out
}

/// Takes in a file's text; `brf` says that its name ends in .brf. A text of Unicode braille is known by its
/// characters.
pub fn open(text: &str, brf: bool) -> Book {
    let text = text.trim_start_matches('\u{feff}');
    let braille = text.chars().filter(|c| Cell::from_unicode(*c).is_some()).count();
    let print = text.chars().filter(|c| c.is_alphanumeric()).count();
    if !brf && braille <= print {
        return Book::Print(text.to_owned());
    }
    let cells = |line: &str| -> Vec<Cell> {
        line.trim_end()
            .chars()
            .map(|c| Cell::from_unicode(c).or_else(|| Cell::from_ascii(c)).unwrap_or_default())
            .collect()
    };
    let pages = text.split('\u{c}').map(|page| page.lines().map(cells).collect()).collect();
    Book::Braille(kinds(pages))
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
        let Book::Braille(pages) = open(&text, true) else { panic!("braille") };
        assert_eq!(pages.len(), 3);
        let lines = pages.concat();
        let count = |kind| lines.iter().filter(|(_, k)| *k == kind).count();
        assert_eq!(count(LineKind::RunningHead), 2);
        assert_eq!(count(LineKind::PageChange), 2);
        assert_eq!(count(LineKind::PageNumber), 1);
        assert_eq!(count(LineKind::Text), 5);
    }

    #[test]
    fn a_chapters_number_within_a_page_belongs_to_the_reading() {
        let page = "          #c\ntwo\n                     #j";
        let Book::Braille(pages) = open(&format!("a\n{page}\u{c}b\n{page}"), true) else { panic!("braille") };
        for page in pages {
            let kinds: Vec<LineKind> = page.iter().map(|(_, kind)| *kind).collect();
            assert_eq!(kinds, [LineKind::Text, LineKind::Text, LineKind::Text, LineKind::PageNumber]);
        }
    }

    #[test]
    fn kinds_of_files_are_told_apart() {
        assert!(matches!(open("⠓⠑⠇⠇⠕", false), Book::Braille(_)));
        assert!(matches!(open("hello", false), Book::Print(_)));
        assert!(matches!(open("hello", true), Book::Braille(_)));
    }
}
