//! The tour before hand-in: every place of a piece where this learner tends to slip, right or not.

use serde::{Deserialize, Serialize};

use crate::cell::Cell;
use crate::marking::{Expected, places};
use crate::ueb::{self, Options, ReadOptions, register};

use super::Sheet;
use super::head::Head;
use super::work::{by_volume, print_of, text_lines};
use super::{source, volumes};

/// What a learner tends to slip at: a sign, perhaps only after another.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(default)]
pub struct Habit {
    /// The sign's key; a group of signs by the beginning of theirs ("numeric indicator").
    pub sign: String,
    /// The sign before it, by its key; empty for any.
    pub after: String,
}

/// A place to look at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stop {
    /// The page, from 0.
    pub page: usize,
    /// The line, from 0.
    pub line: usize,
    /// The first cell.
    pub from: usize,
    /// The place after the last cell; at least one further.
    pub to: usize,
    /// Which habit, by its place in those given.
    pub habit: usize,
}

/// How many habits a tour looks for.
const HABITS: usize = 12;
/// How often a sign must have gone wrong to be a habit.
const OFTEN: usize = 2;

/// The habits of a learner: what a grader has told, and the signs that went wrong at least twice, each with what stood
/// in its place; the most frequent first. `wrong` are signs that went wrong and what was written instead, by key.
pub fn habits<'a>(told: &[Habit], wrong: impl IntoIterator<Item = (&'a str, &'a str)>) -> Vec<Habit> {
    let mut counts: Vec<(&str, usize, Vec<&str>)> = Vec::new();
    for (sign, instead) in wrong {
        let at = counts.iter().position(|(key, ..)| *key == sign).unwrap_or_else(|| {
            counts.push((sign, 0, Vec::new()));
            counts.len() - 1
        });
        counts[at].1 += 1;
        if !instead.is_empty() && register::by_key(instead).is_some() && !counts[at].2.contains(&instead) {
            counts[at].2.push(instead);
        }
    }
    counts.retain(|(sign, count, _)| *count >= OFTEN && register::by_key(sign).is_some());
    counts.sort_by_key(|(_, count, _)| std::cmp::Reverse(*count));
    let mut out = told.to_vec();
    for (sign, _, instead) in counts {
        // What is written for a sign is looked at as well: each e where i went wrong.
        for key in std::iter::once(sign).chain(instead) {
            out.push(Habit { sign: key.to_owned(), after: String::new() });
        }
    }
    let mut seen = std::collections::HashSet::new();
    out.retain(|habit| seen.insert(habit.clone()));
    out.truncate(HABITS.max(told.len()));
    out
}

impl Habit {
    fn fits(&self, sign: &str, before: Option<&str>) -> bool {
        let same = |asked: &str, key: &str| {
            key == asked || key.strip_prefix(asked).is_some_and(|rest| rest.starts_with(" before "))
        };
        same(&self.sign, sign) && (self.after.is_empty() || before.is_some_and(|key| same(&self.after, key)))
    }
}

/// The stops in work of one or several volumes, each volume held against its own print.
pub fn stops_of_book(print: &str, pages: &[Vec<Vec<Cell>>], sheet: Sheet, habits: &[Habit]) -> Vec<Stop> {
    let prints = volumes::split(print);
    let mut out = Vec::new();
    for (volume, part) in prints.iter().zip(by_volume(prints.len(), pages)) {
        let own = stops(Some(&volume.text), &pages[part.clone()], sheet, habits);
        out.extend(own.into_iter().map(|stop| Stop { page: stop.page + part.start, ..stop }));
    }
    out
}

/// Every place of written pages where a habit may have struck, in the order of the pages: where the print asks for the
/// sign, and where the braille reads as it.
pub fn stops(print: Option<&str>, pages: &[Vec<Vec<Cell>>], sheet: Sheet, habits: &[Habit]) -> Vec<Stop> {
    let (front, blocks) = print.map(source::read).unwrap_or_default();
    let head = Head::of(&front, blocks.iter(), sheet).cells;
    let lines = text_lines(pages, &head, sheet);
    let mut out: Vec<Stop> = Vec::new();
    let mut put = |line: usize, from: usize, to: usize, habit: usize| {
        if let Some(line) = lines.get(line) {
            let from = from.min(line.cells.len().saturating_sub(1));
            out.push(Stop { page: line.page, line: line.line, from, to: to.max(from + 1), habit });
        }
    };
    let read = ReadOptions { contracted: sheet.contracted, edition: sheet.edition, ..ReadOptions::default() };
    for (number, line) in lines.iter().enumerate() {
        let mut before = None;
        for piece in ueb::read(line.cells, &read).pieces {
            let Some(key) = piece.sign.map(|sign| register::get(sign).key) else { continue };
            for (at, habit) in habits.iter().enumerate() {
                if habit.fits(key, before) {
                    put(number, piece.cells.start, piece.cells.end, at);
                }
            }
            before = Some(key);
        }
    }
    if let Some(print) = print {
        let expected = Expected::from_print(
            &print_of(print),
            &Options { contracted: sheet.contracted, marks: true, edition: sheet.edition },
        );
        let places = places(&expected, &lines);
        let mut before = None;
        for (unit, place) in expected.units.iter().zip(places) {
            let Some(key) = unit.sign.map(|sign| register::get(sign).key) else { continue };
            for (at, _) in habits.iter().enumerate().filter(|(_, habit)| habit.fits(key, before)) {
                put(place.line, place.from, place.to, at);
            }
            before = Some(key);
        }
    }
    out.sort_by_key(|stop| (stop.page, stop.line, stop.from, stop.to, stop.habit));
    // One place is one stop, whatever calls for it.
    out.dedup_by(|next, stop| (next.page, next.line) == (stop.page, stop.line) && next.from < stop.to);
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    fn at(habits: &[Habit], print: &str, written: &str) -> Vec<(usize, usize)> {
        let page = written.lines().map(|line| cell::from_ascii(line).unwrap()).collect();
        let sheet = Sheet::default();
        stops(Some(print), &[page], sheet, habits).iter().map(|stop| (stop.line, stop.from)).collect()
    }

    fn habit(sign: &str, after: &str) -> Habit {
        Habit { sign: sign.to_owned(), after: after.to_owned() }
    }

    // Braille: sections 6.1 (numeric indicator dots 3-4-5-6), 4.1 (letters) of the standard.
    #[test]
    fn right_and_wrong_places_are_visited_alike() {
        // Every e and every i, the reversed one in "tide" too.
        let both = [habit("letter e", ""), habit("letter i", "")];
        assert_eq!(at(&both, "tide lie", "  tedi lie"), [(0, 3), (0, 5), (0, 8), (0, 9)]);
        // Each number after a hyphen, with its indicator or without.
        let number = [habit("numeric indicator", "hyphen")];
        assert_eq!(at(&number, "10-12 10-12", "  #aj-#ab\n#aj-ab").len(), 2);
    }

    // Each volume begins with a title page of its own: from memory.
    #[test]
    fn every_volume_is_visited_on_its_own_pages() {
        use crate::manuscript::volumes::Book;
        let text = "---\ntitle: The Skerry Line\n---\n# The Quay\n\nBoats zig here.\n\n```volume\n```\n# The Sea\n\nThey zag; a zoo.\n";
        let sheet = Sheet::default();
        let pages = Book::from_print(text, sheet).lines();
        let letter = [habit("letter z", "")];
        let places = |pages: &[Vec<Vec<crate::cell::Cell>>]| -> Vec<(usize, crate::cell::Cell)> {
            let stops = stops_of_book(text, pages, sheet, &letter);
            stops.iter().map(|stop| (stop.page, pages[stop.page][stop.line][stop.from])).collect()
        };
        let z = cell::from_ascii("z").unwrap()[0];
        assert_eq!(places(&pages), [(1, z), (3, z), (3, z)]);
        // A z that became another sign in the second volume is visited where it stands.
        let mut wrong = pages.clone();
        let line = wrong[3].iter().position(|line| line.contains(&z)).unwrap();
        let at = wrong[3][line].iter().position(|cell| *cell == z).unwrap();
        wrong[3][line][at] = z.mirror();
        assert_eq!(places(&wrong), [(1, z), (3, z.mirror()), (3, z)]);
        // The volume that is still to come has no stop of its own, and takes none from the first.
        assert_eq!(places(&pages[..2]), [(1, z)]);
    }

    #[test]
    fn habits_are_what_was_told_and_what_goes_wrong_often() {
        let told = [habit("numeric indicator", "hyphen")];
        let wrong = [
            ("letter i", "letter e"),
            ("letter a", ""),
            ("letter i", ""),
            ("no sign", "x"),
            ("no sign", "x"),
        ];
        let found = habits(&told, wrong);
        assert_eq!(
            found,
            [habit("numeric indicator", "hyphen"), habit("letter i", ""), habit("letter e", "")]
        );
    }
}
