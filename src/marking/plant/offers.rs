//! What could go wrong at one sign, with weights after what learners do (common practice): mirrored pairs, numeric
//! indicators forgotten after a hyphen or space, contractions missed inside a word, slips of dots 3 and 6.

use std::ops::Range;

use super::super::spelling;
use super::super::{Expected, Kind};
use crate::cell::{self, Cell};
use crate::ueb::register::{self, Class, Sign};

/// One mistake that could be made.
#[derive(Clone, Debug)]
pub(super) struct Offer {
    /// Its kind.
    pub kind: Kind,
    /// The right cells it takes away, in the cells asked for.
    pub cells: Range<usize>,
    /// What comes in their place.
    pub by: Vec<Cell>,
    /// How often it is made, beside the others.
    pub weight: usize,
}

struct Offers<'a> {
    asked: &'a Expected,
    unit: usize,
    all: Vec<Offer>,
}

fn ascii(text: &str) -> Vec<Cell> {
    cell::from_ascii(text).unwrap_or_default()
}

fn letters(print: &str) -> Vec<Cell> {
    print.chars().filter(char::is_ascii_lowercase).filter_map(Cell::from_ascii).collect()
}

/// All that could go wrong at a sign.
pub(super) fn offers(asked: &Expected, unit: usize) -> Vec<Offer> {
    let mut offers = Offers { asked, unit, all: Vec::new() };
    let Some(class) = asked.units[unit].class() else { return Vec::new() };
    match class {
        Class::Space => offers.blank(),
        class if spelling::is_mark(class) => {
            offers.shapes();
            offers.indicator();
        }
        _ => {
            offers.shapes();
            offers.extra();
            offers.contraction();
            offers.barred();
            offers.prefix();
            offers.older();
            offers.sign();
        }
    }
    offers.all
}

impl Offers<'_> {
    fn add(&mut self, kind: Kind, cells: Range<usize>, by: Vec<Cell>, weight: usize) {
        self.all.push(Offer { kind, cells, by, weight });
    }

    fn cells(&self) -> Range<usize> {
        self.asked.units[self.unit].cells.clone()
    }

    fn own(&self) -> Vec<Cell> {
        self.asked.cells[self.cells()].to_vec()
    }

    fn sign_of(&self, unit: usize) -> Option<&'static Sign> {
        self.asked.units.get(unit)?.sign.map(register::get)
    }

    fn class_of(&self, unit: Option<usize>) -> Option<Class> {
        self.asked.units.get(unit?)?.class()
    }

    fn before(&self) -> Option<Class> {
        self.class_of(self.unit.checked_sub(1))
    }

    fn begins(&self) -> bool {
        matches!(self.before(), None | Some(Class::Space))
    }

    fn print(&self) -> String {
        let unit = &self.asked.units[self.unit];
        let print = self.asked.print.get(unit.print.clone()).unwrap_or_default();
        print.iter().map(|c| spelling::plain(*c)).collect()
    }

    fn blank(&mut self) {
        let cells = self.cells();
        let small = |unit: Option<usize>| {
            let print = unit.and_then(|unit| self.asked.units.get(unit)).map(|unit| unit.print.clone());
            let print: String =
                self.asked.print.get(print.unwrap_or_default()).unwrap_or_default().iter().collect();
            ["a", "and", "for", "of", "the", "with"].contains(&print.to_lowercase().as_str())
        };
        let joined = small(self.unit.checked_sub(1)) && small(Some(self.unit + 1));
        self.add(Kind::Spacing, cells.clone(), vec![], if joined { 8 } else { 2 });
        self.add(Kind::Spacing, cells.clone(), vec![Cell::BLANK; 2], 1);
        let word = self.word(self.unit + 1);
        let whole = cells.end..self.asked.cells_of(&word).end;
        if !whole.is_empty() {
            self.add(Kind::LeftOut, cells.start..whole.end, vec![], 1);
            let mut twice = vec![Cell::BLANK];
            twice.extend_from_slice(&self.asked.cells[whole.clone()]);
            self.add(Kind::Added, whole.end..whole.end, twice, 1);
        }
        let before = self.word_before();
        let plain = |word: &Range<usize>| {
            let units = &self.asked.units[word.clone()];
            let class = |unit: &super::super::expected::Unit| unit.class();
            !units.is_empty()
                && units.iter().all(|unit| {
                    class(unit).is_some_and(|class| class == Class::Letter || class.is_contraction())
                })
        };
        if plain(&before) && plain(&word) {
            let (first, second) = (self.asked.cells_of(&before), self.asked.cells_of(&word));
            let by = [&self.asked.cells[second.clone()], &[Cell::BLANK], &self.asked.cells[first.clone()]];
            self.add(Kind::WordOrder, first.start..second.end, by.concat(), 1);
        }
    }

    fn word_before(&self) -> Range<usize> {
        let units = &self.asked.units[..self.unit];
        units.iter().rposition(|unit| unit.is_space()).map_or(0, |at| at + 1)..self.unit
    }

    fn word(&self, from: usize) -> Range<usize> {
        let rest = self.asked.units.get(from..).unwrap_or_default();
        from..from + rest.iter().position(|unit| unit.is_space()).unwrap_or(rest.len())
    }

    fn shapes(&mut self) {
        for at in self.cells() {
            let cell = self.asked.cells[at];
            // Mirrored pairs of two roots are mixed up (common practice).
            let pair = cell.mirror() != cell && !cell.is_prefix() && !cell.mirror().is_prefix();
            self.add(Kind::Mirrored, at..at + 1, vec![cell.mirror()], if pair { 12 } else { 3 });
            for rows in [1, -1, 2, -2] {
                let moved: Vec<Cell> = cell.shifted(rows).into_iter().collect();
                if !moved.is_empty() {
                    self.add(Kind::Shifted, at..at + 1, moved, 2);
                }
            }
            for (dot, weight) in [(6, 3), (3, 3), (1, 1), (2, 1), (4, 1), (5, 1)] {
                let slipped = Cell::from_bits(cell.bits() ^ 1 << (dot - 1)).unwrap_or(cell);
                if !slipped.is_blank() {
                    self.add(Kind::DotSlip, at..at + 1, vec![slipped], weight);
                }
            }
        }
    }

    fn indicator(&mut self) {
        let cells = self.cells();
        let text = cell::to_ascii(&self.own());
        // A number again after a hyphen or a space: the place where it is forgotten (common practice).
        let again = text == "#"
            && matches!(self.before(), Some(Class::Space | Class::Punctuation | Class::Symbol))
            && self.class_of(self.unit.checked_sub(2)) == Some(Class::Digit);
        self.add(Kind::MissingIndicator, cells.clone(), vec![], if again { 40 } else { 14 });
        let others: &[(&str, usize)] = match text.as_str() {
            "," => &[(",,", 4), (";", 1)],
            ",," => &[(",", 6), (",,,", 2)],
            ",,," => &[(",,", 8), (",", 2)],
            ";" => &[(";;", 3), (",", 1)],
            ";;" => &[(";", 6)],
            "#" => &[(";", 2)],
            ".1" => &[(".2", 3), (".7", 3), ("_1", 1)],
            ".7" => &[(".1", 6)],
            ".2" => &[(".1", 4)],
            ",'" => &[(";'", 2)],
            _ => &[],
        };
        for (other, weight) in others {
            self.add(Kind::WrongIndicator, cells.clone(), ascii(other), *weight);
        }
    }

    fn extra(&mut self) {
        let at = self.cells().start;
        let class = self.class_of(Some(self.unit));
        if !self.begins() && class != Some(Class::Digit) {
            return;
        }
        let mut extra = |mark: &str, weight| {
            self.all.push(Offer { kind: Kind::ExtraIndicator, cells: at..at, by: ascii(mark), weight });
        };
        match class {
            // Inside a number, after its comma or point.
            Some(Class::Digit) => extra("#", 3),
            Some(Class::AlphabeticWordsign) => extra(";", 3),
            Some(Class::Letter) => {
                extra(",", 2);
                extra("#", 1);
            }
            Some(class) if class.is_contraction() => {
                extra(",", 2);
                extra(";", 2);
            }
            _ => {}
        }
    }

    fn contraction(&mut self) {
        let Some(sign) = self.sign_of(self.unit).filter(|sign| sign.class.is_contraction()) else { return };
        let cells = self.cells();
        let inside = !self.begins();
        self.add(Kind::MissedContraction, cells.clone(), letters(sign.print), if inside { 40 } else { 16 });
        for (before, other, after) in others(sign.print) {
            let by = [letters(before), other.cells.clone(), letters(after)].concat();
            self.add(Kind::WrongContraction, cells.clone(), by, 6);
        }
    }

    /// Contractions that were passed over here, for a rule or for another.
    fn barred(&mut self) {
        let start = self.asked.units[self.unit].print.start;
        let passed: Vec<_> = {
            let first = self.asked.passed_over.partition_point(|passed| passed.print.start < start);
            let here = self.asked.passed_over[first..].iter().take(8);
            here.filter(|passed| passed.print.start == start).cloned().collect()
        };
        for passed in passed {
            let mut end = self.unit;
            while self
                .asked
                .units
                .get(end)
                .is_some_and(|unit| unit.print.end <= passed.print.end && !unit.is_mark())
            {
                end += 1;
            }
            if end == self.unit || self.asked.units[end - 1].print.end != passed.print.end {
                continue;
            }
            let spelled = (self.unit..end).all(|unit| self.class_of(Some(unit)) == Some(Class::Letter));
            let kind = if spelled { Kind::BarredContraction } else { Kind::WrongContraction };
            let cells = self.asked.cells_of(&(self.unit..end));
            self.add(kind, cells, register::get(passed.sign).cells.clone(), 30);
        }
    }

    fn prefix(&mut self) {
        let own = self.own();
        let [first, _, ..] = own[..] else { return };
        if !first.is_prefix() {
            return;
        }
        let at = self.cells().start;
        self.add(Kind::LostPrefix, at..at + 1, vec![], 16);
        for other in ["\"", "^", "_", ".", ";"] {
            let other = ascii(other);
            if other[0] != first {
                self.add(Kind::LostPrefix, at..at + 1, other, 1);
            }
        }
    }

    fn older(&mut self) {
        let start = self.asked.units[self.unit].print.start;
        for old in spelling::older() {
            let print = self.asked.print.get(start..start + old.print.len()).unwrap_or_default();
            if print.len() != old.print.len()
                || print.iter().zip(&old.print).any(|(a, b)| spelling::plain(*a) != *b)
            {
                continue;
            }
            let end = start + old.print.len();
            let units = &self.asked.units[self.unit..];
            let Some(count) = units.iter().position(|unit| unit.print.end == end && !unit.is_mark()) else {
                continue;
            };
            let cells = self.asked.cells_of(&(self.unit..self.unit + count + 1));
            self.add(Kind::OlderSign, cells, old.cells.clone(), 5);
        }
    }

    fn sign(&mut self) {
        let cells = self.cells();
        let (own, print) = (self.own(), self.print());
        let next = self.asked.units.get(self.unit + 1);
        let double = next.is_some_and(|next| self.asked.cells[next.cells.clone()] == own[..]);
        self.add(Kind::LeftOut, cells.clone(), vec![], if double { 6 } else { 1 });
        self.add(Kind::Added, cells.end..cells.end, own.clone(), 1);
        if let Some(next) = next.filter(|next| !next.is_space() && !next.is_mark()) {
            let by = [&self.asked.cells[next.cells.clone()], own.as_slice()].concat();
            self.add(Kind::WrongSign, cells.start..next.cells.end, by, 3);
        }
        // Letters and groupsigns that sound alike, and one lower sign for another.
        let alike: &[&str] = match print.as_str() {
            "c" => &["k", "s"],
            "k" => &["c"],
            "s" => &["c", "z"],
            "er" => &[">"],
            "ar" => &["]"],
            "ou" => &["["],
            "ow" => &["\\"],
            "ch" => &["%"],
            "sh" => &["*"],
            "th" => &[":"],
            "wh" => &["?"],
            "en" => &["9"],
            "in" => &["5"],
            "ea" => &["2"],
            _ => &[],
        };
        for other in alike {
            self.add(Kind::WrongSign, cells.clone(), ascii(other), 3);
        }
        if !self.begins() {
            self.add(Kind::Spacing, cells.start..cells.start, vec![Cell::BLANK], 1);
        }
    }
}

/// Groupsigns inside the letters of a contraction, each with the letters before and after it.
fn others(print: &'static str) -> Vec<(&'static str, &'static Sign, &'static str)> {
    let group = |sign: &&Sign| {
        matches!(sign.class, Class::StrongContraction | Class::StrongGroupsign | Class::LowerGroupsign)
            && !matches!(sign.print, "be" | "con" | "dis")
            && sign.print.len() < print.len()
    };
    register::signs()
        .iter()
        .filter(group)
        .filter_map(|sign| {
            let at = print.find(sign.print)?;
            Some((&print[..at], sign, &print[at + sign.print.len()..]))
        })
        .collect()
}
