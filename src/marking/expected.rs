//! What is asked for: signs with their print and their sections, from print or from a key.

use std::ops::Range;

use super::spelling;
use crate::cell::Cell;
use crate::ueb::{self, Choice, Explanation, Options, PassedOver, ReadOptions, SignId, register};

/// One sign that is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unit {
    /// Its cells, half-open.
    pub cells: Range<usize>,
    /// Its print, in Unicode scalar values, half-open.
    pub print: Range<usize>,
    /// The sign; `None` for cells that no rule gives a meaning to.
    pub sign: Option<SignId>,
    /// The section that asks for it.
    pub section: &'static str,
    /// How many blank cells in a row are right here: as many as print has spaces, or the key blanks. 0 for other
    /// signs.
    pub blanks: usize,
}

impl Unit {
    fn new(cells: Range<usize>, print: Range<usize>, sign: Option<SignId>, section: &'static str) -> Unit {
        let mut unit = Unit { cells, print, sign, section, blanks: 0 };
        if unit.is_space() {
            unit.blanks = unit.cells.len().max(unit.print.len());
        }
        unit
    }

    /// The class of its sign.
    pub fn class(&self) -> Option<ueb::Class> {
        self.sign.map(|sign| register::get(sign).class)
    }

    /// Whether it is a blank cell.
    pub fn is_space(&self) -> bool {
        self.class() == Some(ueb::Class::Space)
    }

    /// Whether it is an indicator or a terminator.
    pub fn is_mark(&self) -> bool {
        self.class().is_some_and(spelling::is_mark)
    }
}

/// What is asked for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Expected {
    /// The print.
    pub print: Vec<char>,
    /// The cells.
    pub cells: Vec<Cell>,
    /// The signs, in order; together they cover every cell exactly once.
    pub units: Vec<Unit>,
    /// Contractions that are not to be used.
    pub passed_over: Vec<PassedOver>,
    /// Where other cells are as right, in order of cells.
    pub choices: Vec<Choice>,
    /// Places in print that no sign stands for: what is written there can't be marked.
    pub unhandled: Vec<usize>,
    /// What is the transcriber's own in this text.
    pub(super) open: Open,
}

/// What print leaves to the transcriber throughout a text.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Open {
    /// Print spaces its dashes now so and now so (7.2.1).
    pub dashes: bool,
    /// Which quotation marks are the predominant ones: none stand within others (7.6.1, 7.6.2).
    pub quotes: bool,
    /// Nothing at all: a part of a word that is known.
    pub nothing: bool,
}

impl Open {
    fn of(print: &[char], units: &[Unit]) -> Open {
        let has = |keys: [&str; 2]| {
            units.iter().filter_map(|unit| unit.sign).any(|sign| keys.contains(&register::get(sign).key))
        };
        let nested = has(["opening quotation mark", "closing quotation mark"])
            && (has(["opening double quotation mark", "closing double quotation mark"])
                || has(["opening single quotation mark", "closing single quotation mark"]));
        Open { dashes: dashes_vary(print), quotes: !nested, nothing: false }
    }
}

/// Whether dashes of one kind are spaced in more than one way, or one is spaced on one side only, between words.
fn dashes_vary(print: &[char]) -> bool {
    let mut ways = [None::<bool>; 3];
    let mut at = 0;
    while at < print.len() {
        let (kind, length) = match print[at] {
            '–' => (0, 1),
            '—' | '―' | '⸺' | '⸻' => (1, 1),
            '-' if print.get(at + 1) == Some(&'-') => (2, 2),
            _ => {
                at += 1;
                continue;
            }
        };
        let before = at.checked_sub(1).map(|at| print[at]);
        at += length;
        let (Some(before), Some(&after)) = (before, print.get(at)) else { continue };
        let (left, right) = (before.is_whitespace(), after.is_whitespace());
        // A dash that ends a word that breaks off is spaced on one side by what it is.
        if left != right || *ways[kind].get_or_insert(left) != left {
            return true;
        }
    }
    false
}

impl Expected {
    /// What print asks for.
    pub fn from_print(print: &str, options: &Options) -> Expected {
        Expected::explained(print, ueb::explain(print.trim_end(), options))
    }

    fn explained(print: &str, mut explanation: Explanation) -> Expected {
        // Print may end in a space that a character without a sign follows: blanks at the end are nobody's mistake.
        let end = explanation.cells.iter().rposition(|cell| !cell.is_blank()).map_or(0, |last| last + 1);
        explanation.cells.truncate(end);
        let units = explanation
            .signs
            .into_iter()
            .filter(|used| used.cells.end <= end)
            .map(|used| Unit::new(used.cells, used.print, Some(used.sign), used.section))
            .collect();
        Expected {
            print: print.chars().collect(),
            cells: explanation.cells,
            units,
            passed_over: explanation.passed_over,
            choices: explanation.choices.into_iter().filter(|choice| choice.cells.end <= end).collect(),
            unhandled: explanation.unhandled.iter().map(|one| one.at).collect(),
            open: Open::default(),
        }
        .tidied()
    }

    /// What a key asks for: expected braille without its print. Where the key reads as print that is written with
    /// the same cells, the reasons are those of that print; elsewhere its signs are those it reads as.
    pub fn from_key(key: &[Vec<Cell>], contracted: bool) -> Expected {
        Expected::from_key_of(key, contracted, ueb::Edition::default())
    }

    /// The same for a key that follows this edition of the rules.
    pub fn from_key_of(key: &[Vec<Cell>], contracted: bool, edition: ueb::Edition) -> Expected {
        let mut cells = key.join(&Cell::BLANK);
        while cells.last().is_some_and(|cell| cell.is_blank()) {
            cells.pop();
        }
        let reading = ueb::read(&cells, &ReadOptions { contracted, older: false, marks: false, edition });
        let explanation = ueb::explain(&reading.print, &Options { contracted, marks: false, edition });
        if explanation.cells == cells {
            return Expected::explained(&reading.print, explanation);
        }
        let units = reading
            .pieces
            .into_iter()
            .map(|piece| Unit::new(piece.cells, piece.print, piece.sign, piece.section))
            .collect();
        Expected { print: reading.print.chars().collect(), cells, units, ..Expected::default() }.tidied()
    }

    /// What is asked for when both the print and its braille are known; the signs are found by setting one
    /// against the other.
    pub fn from_known(print: &str, cells: &[Cell]) -> Expected {
        let characters: Vec<char> = print.chars().collect();
        let units = match spelling::parse(cells, &characters) {
            Some(signs) => signs
                .into_iter()
                .map(|used| Unit::new(used.cells, used.print, Some(used.sign), used.section))
                .collect(),
            None => (0..cells.len()).map(|at| Unit::new(at..at + 1, 0..0, None, "")).collect(),
        };
        Expected { print: characters, cells: cells.to_vec(), units, ..Expected::default() }.tidied()
    }

    /// Runs of blanks made by line ends and paragraph indents count as one blank; the units cover every cell.
    fn tidied(mut self) -> Expected {
        self.open = Open::of(&self.print, &self.units);
        let blank = |unit: &Unit| self.cells.get(unit.cells.start).is_some_and(|cell| cell.is_blank());
        let tidy = self.units.first().is_none_or(|first| !blank(first))
            && self.units.windows(2).all(|two| !(blank(&two[0]) && blank(&two[1])))
            && self
                .units
                .iter()
                .all(|unit| !unit.cells.is_empty() && (unit.cells.len() == 1 || !blank(unit)));
        if tidy {
            return self;
        }
        let Expected { print, cells, units, passed_over, choices, unhandled, open } = self;
        let mut out = Expected { print, passed_over, unhandled, open, ..Expected::default() };
        // Where each cell has gone.
        let mut moved = vec![0; cells.len() + 1];
        for unit in units {
            let own = cells.get(unit.cells.clone()).unwrap_or_default();
            let blank = !own.is_empty() && own.iter().all(|cell| cell.is_blank());
            let from = out.cells.len();
            for (step, at) in unit.cells.clone().enumerate() {
                if let Some(place) = moved.get_mut(at) {
                    *place = from + step;
                }
            }
            if blank && out.cells.last().is_none_or(|cell| cell.is_blank()) {
                // The blank that stays tells how many there may be.
                if let Some(last) = out.units.last_mut() {
                    last.print.end = last.print.end.max(unit.print.end);
                    last.blanks = (last.blanks + own.len()).max(last.print.len());
                }
                continue;
            }
            out.cells.extend_from_slice(if blank { &own[..1] } else { own });
            if out.cells.len() > from {
                out.units.push(Unit { cells: from..out.cells.len(), ..unit });
            }
        }
        moved[cells.len()] = out.cells.len();
        for mut choice in choices {
            let place = |at: usize| moved.get(at).copied().unwrap_or(out.cells.len());
            let to = if choice.cells.is_empty() {
                place(choice.cells.start)
            } else {
                place(choice.cells.end - 1) + 1
            };
            choice.cells = place(choice.cells.start)..to;
            if out.cells.get(choice.cells.clone()).is_some() {
                out.choices.push(choice);
            }
        }
        out
    }

    /// Some of the signs as a piece of their own, with their reasons.
    pub(super) fn part(&self, units: Range<usize>) -> Expected {
        let cells = self.cells_of(&units);
        let print = self.print_of(&units);
        let within =
            |range: &Range<usize>, all: &Range<usize>| all.start <= range.start && range.end <= all.end;
        let less = |range: &Range<usize>, by: usize| range.start - by..range.end - by;
        let first = self.passed_over.partition_point(|passed| passed.print.start < print.start);
        let passed_over = self.passed_over[first..]
            .iter()
            .take_while(|passed| passed.print.start < print.end)
            .filter(|passed| within(&passed.print, &print))
            .map(|passed| PassedOver { print: less(&passed.print, print.start), ..passed.clone() });
        let first = self.choices.partition_point(|choice| choice.cells.start < cells.start);
        let choices = self.choices[first..]
            .iter()
            .take_while(|choice| choice.cells.start <= cells.end)
            .filter(|choice| within(&choice.cells, &cells) && within(&choice.print, &print))
            .map(|choice| Choice {
                print: less(&choice.print, print.start),
                cells: less(&choice.cells, cells.start),
                ..choice.clone()
            });
        Expected {
            passed_over: passed_over.collect(),
            choices: choices.collect(),
            unhandled: Vec::new(),
            open: self.open,
            units: self.units[units]
                .iter()
                .map(|unit| Unit {
                    cells: less(&unit.cells, cells.start),
                    print: less(&unit.print, print.start),
                    ..unit.clone()
                })
                .collect(),
            cells: self.cells[cells.clone()].to_vec(),
            print: self.print.get(print).unwrap_or_default().to_vec(),
        }
    }

    /// The index of the unit that holds this cell; the last unit for a place past the end.
    pub fn unit_at(&self, cell: usize) -> Option<usize> {
        let after = self.units.partition_point(|unit| unit.cells.start <= cell);
        after.checked_sub(1)
    }

    /// The print of some units; an empty range where they have none.
    pub fn print_of(&self, units: &Range<usize>) -> Range<usize> {
        let all = self.units.get(units.clone()).unwrap_or_default();
        let from = all.iter().map(|unit| unit.print.start).min();
        let to = all.iter().map(|unit| unit.print.end).max();
        match (from, to) {
            (Some(from), Some(to)) if from <= to => from..to,
            _ => {
                let end = self.units.last().map_or(0, |last| last.print.end);
                let at = self.units.get(units.start).map_or(end, |unit| unit.print.start);
                at..at
            }
        }
    }

    /// The print of some units as text.
    pub fn words(&self, units: &Range<usize>) -> String {
        self.print.get(self.print_of(units)).map(|all| all.iter().collect()).unwrap_or_default()
    }

    /// Takes in what is asked for behind it, a space apart. Gives where its print and its cells begin.
    pub(crate) fn join(&mut self, other: Expected) -> (usize, usize) {
        self.print.push('\n');
        let (print, cells) = (self.print.len(), self.cells.len());
        let moved = |range: Range<usize>, by: usize| range.start + by..range.end + by;
        self.print.extend(other.print);
        self.cells.extend(other.cells);
        self.units.extend(other.units.into_iter().map(|unit| Unit {
            cells: moved(unit.cells, cells),
            print: moved(unit.print, print),
            ..unit
        }));
        self.unhandled.extend(other.unhandled.into_iter().map(|at| at + print));
        (print, cells)
    }

    /// The cells of some units.
    pub fn cells_of(&self, units: &Range<usize>) -> Range<usize> {
        let start = |at: usize| self.units.get(at).map_or(self.cells.len(), |unit| unit.cells.start);
        start(units.start)..start(units.end)
    }
}
