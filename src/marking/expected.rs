//! What is asked for: signs with their print and their sections, from print or from a key.

use std::ops::Range;

use super::spelling;
use crate::cell::Cell;
use crate::ueb::{self, Options, PassedOver, ReadOptions, SignId};

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
    /// The section that leaves a choice here.
    pub choice: Option<&'static str>,
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
}

impl Expected {
    /// What print asks for.
    pub fn from_print(print: &str, options: &Options) -> Expected {
        let explained = ueb::explain(print.trim_end(), options);
        let units = explained
            .signs
            .into_iter()
            .map(|used| Unit {
                cells: used.cells,
                print: used.print,
                sign: Some(used.sign),
                section: used.section,
                choice: used.choice,
            })
            .collect();
        Expected {
            print: print.chars().collect(),
            cells: explained.cells,
            units,
            passed_over: explained.passed_over,
        }
        .tidied()
    }

    /// What a key asks for: expected braille without its print. Its signs are those it reads as.
    pub fn from_key(key: &[Vec<Cell>], contracted: bool) -> Expected {
        let mut cells = key.join(&Cell::BLANK);
        while cells.last().is_some_and(|cell| cell.is_blank()) {
            cells.pop();
        }
        let reading = ueb::read(&cells, &ReadOptions { contracted, older: false, marks: false });
        let units = reading
            .pieces
            .into_iter()
            .map(|piece| Unit {
                cells: piece.cells,
                print: piece.print,
                sign: piece.sign,
                section: piece.section,
                choice: None,
            })
            .collect();
        Expected { print: reading.print.chars().collect(), cells, units, passed_over: Vec::new() }.tidied()
    }

    /// What is asked for when both the print and its braille are known; the signs are found by setting one
    /// against the other.
    pub fn from_known(print: &str, cells: &[Cell]) -> Expected {
        let characters: Vec<char> = print.chars().collect();
        let units = match spelling::parse(cells, &characters, false) {
            Some(signs) => signs
                .into_iter()
                .map(|used| Unit {
                    cells: used.cells,
                    print: used.print,
                    sign: used.sign,
                    section: used.section,
                    choice: None,
                })
                .collect(),
            None => (0..cells.len())
                .map(|at| Unit { cells: at..at + 1, print: 0..0, sign: None, section: "", choice: None })
                .collect(),
        };
        Expected { print: characters, cells: cells.to_vec(), units, passed_over: Vec::new() }.tidied()
    }

    /// Runs of blanks made by line ends and paragraph indents count as one blank; the units cover every cell.
    fn tidied(self) -> Expected {
        let mut out = Expected { print: self.print, passed_over: self.passed_over, ..Expected::default() };
        for unit in self.units {
            let cells = self.cells.get(unit.cells.clone()).unwrap_or_default();
            let blank = !cells.is_empty() && cells.iter().all(|cell| cell.is_blank());
            if blank && out.cells.last().is_none_or(|cell| cell.is_blank()) {
                continue;
            }
            let from = out.cells.len();
            out.cells.extend_from_slice(if blank { &cells[..1] } else { cells });
            if out.cells.len() > from {
                out.units.push(Unit { cells: from..out.cells.len(), ..unit });
            }
        }
        out
    }

    /// The index of the unit that holds this cell; the last unit for a place past the end.
    pub fn unit_at(&self, cell: usize) -> Option<usize> {
        let after = self.units.partition_point(|unit| unit.cells.start <= cell);
        after.checked_sub(1)
    }
}
