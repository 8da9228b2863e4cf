//! Going through a long text in pieces: what stands in it, and how much of it is known.

use std::collections::HashMap;

use super::Reading;
use crate::practice::units;
use crate::ueb::letter_case::in_small;
use crate::ueb::read_print;

/// How much of a text a learner knows, found page by page.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Measure {
    /// Pages that were measured.
    pub pages: usize,
    known: usize,
    all: usize,
    unknown: HashMap<&'static str, usize>,
}

impl Measure {
    /// Measures so many pages more.
    pub fn go_on(&mut self, reading: &Reading, pages: usize, knows: impl Fn(&str) -> bool) {
        let to = (self.pages + pages).min(reading.count());
        for (key, cells) in reading.uses(self.pages..to).into_iter().filter(|(key, _)| *key != "space") {
            self.all += cells;
            if knows(key) {
                self.known += cells;
            } else if units::unit_of(key).is_some() {
                *self.unknown.entry(key).or_default() += 1;
            }
        }
        self.pages = to;
    }

    /// The share of the cells that belong to signs the learner knows, 0 to 1, and how many of the course's signs are
    /// unknown.
    pub fn known(&self) -> (f64, usize) {
        (self.known as f64 / self.all.max(1) as f64, self.unknown.len())
    }
}

/// A place where what was looked for stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// The page, from 0.
    pub page: usize,
    /// The line of the page as it stands in the text, from 0.
    pub line: usize,
    /// The print of that line.
    pub print: String,
}

/// A word or words that are looked for in a text, page by page.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Search {
    wanted: String,
    /// Pages that were looked through.
    pub pages: usize,
    /// Where it stands, at most [`Search::MOST`] places.
    pub found: Vec<Found>,
}

fn one_spaced(text: &str) -> String {
    in_small(text).split_whitespace().collect::<Vec<_>>().join(" ")
}

impl Search {
    /// So many places are told.
    pub const MOST: usize = 50;

    /// Looks for these words, whatever their case.
    pub fn new(wanted: &str) -> Search {
        Search { wanted: one_spaced(wanted), ..Search::default() }
    }

    /// Whether there is nothing more to look through.
    pub fn is_done(&self, reading: &Reading) -> bool {
        self.wanted.is_empty() || self.pages >= reading.count() || self.found.len() >= Search::MOST
    }

    /// Looks through so many pages more. What begins on one page and ends on the next is not found.
    pub fn go_on(&mut self, reading: &Reading, pages: usize) {
        let to = (self.pages + pages).min(reading.count());
        while self.pages < to && !self.is_done(reading) {
            let page = self.pages;
            self.pages += 1;
            // The whole page's print is quicker had than that of each word.
            let print = one_spaced(&read_print(&reading.running(page), &reading.options()));
            if print.contains(&self.wanted) {
                self.in_page(reading, page);
            }
        }
    }

    fn in_page(&mut self, reading: &Reading, page: usize) {
        let lines: Vec<String> = reading
            .words(page)
            .iter()
            .map(|words| words.iter().map(|word| word.print.as_str()).collect::<Vec<_>>().join(" "))
            .collect();
        let small: Vec<String> = lines.iter().map(|line| one_spaced(line)).collect();
        let mut running = String::new();
        let mut starts = Vec::new();
        for line in &small {
            starts.push(running.len());
            running.push_str(line);
            if !line.is_empty() {
                running.push(' ');
            }
        }
        let mut last = None;
        for (at, _) in running.match_indices(&self.wanted) {
            let line = starts.partition_point(|start| *start <= at).saturating_sub(1);
            if last != Some(line) && self.found.len() < Search::MOST {
                self.found.push(Found { page, line, print: lines[line].clone() });
            }
            last = Some(line);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn book() -> Reading {
        let page = |n: usize| {
            let last = if n % 100 == 7 { ",a purple\ncow sat down4\n" } else { ",x rain$4\n" };
            "! cat sat on ! mat4\n\n".repeat(10) + last
        };
        let text: String = (0..300).map(|n| page(n) + "\u{c}").collect();
        Reading::of_file("x", &text, true, true)
    }

    #[test]
    fn words_are_found_page_by_page_over_line_ends_too() {
        let book = book();
        let mut search = Search::new(" Purple  COW ");
        let mut steps = 0;
        while !search.is_done(&book) {
            search.go_on(&book, 20);
            steps += 1;
        }
        let places: Vec<(usize, usize)> = search.found.iter().map(|found| (found.page, found.line)).collect();
        assert_eq!((steps, places), (15, vec![(7, 20), (107, 20), (207, 20)]));
        assert_eq!(search.found[0].print, "A purple");
        // Not more than can be looked at.
        let mut search = Search::new("cat");
        search.go_on(&book, 300);
        assert!(search.is_done(&book) && search.found.len() == Search::MOST && search.pages < 10);
        assert!(Search::new("  ").is_done(&book));
    }

    #[test]
    fn a_text_measured_in_pieces_is_known_as_the_whole_is() {
        let book = book();
        let knows = |key: &str| key != "contraction the";
        let mut measure = Measure::default();
        while measure.pages < book.count() {
            measure.go_on(&book, 7, knows);
        }
        let (share, unknown) = book.known(0..book.count(), knows);
        assert!((measure.known().0 - share).abs() < 1e-9);
        assert_eq!(measure.known().1, unknown.len());
    }
}
