//! Where signs go: cells alone, or cells with the reasons.

use std::ops::Range;

use super::super::contract::Passed;
use super::super::register::{self, SignId};
use super::super::{Choice, Explanation, PassedOver, SignUse, Unhandled};
use crate::cell::Cell;

/// Takes the signs as they are written.
pub(crate) trait Sink {
    /// Whether reasons are kept.
    const REASONS: bool;
    /// The cells so far.
    fn cells(&mut self) -> &mut Vec<Cell>;
    /// One sign; an empty section stands for the register's own.
    fn sign(&mut self, sign: SignId, print: Range<usize>, section: &'static str);
    /// A contraction not used.
    fn passed(&mut self, passed: Passed, print: Range<usize>);
    /// A character without a sign.
    fn unhandled(&mut self, at: usize, character: char);
    /// Other cells that are as right as those written.
    fn choice(&mut self, choice: Choice);
    /// The state now, to come back to with [`Sink::back_to`].
    fn mark(&self) -> [usize; 5];
    /// Forgets everything written since.
    fn back_to(&mut self, mark: [usize; 5]);
}

/// Cells alone.
#[derive(Default)]
pub(crate) struct Cells(pub Vec<Cell>);

impl Sink for Cells {
    const REASONS: bool = false;
    fn cells(&mut self) -> &mut Vec<Cell> {
        &mut self.0
    }
    fn sign(&mut self, sign: SignId, _: Range<usize>, _: &'static str) {
        self.0.extend_from_slice(&register::get(sign).cells);
    }
    fn passed(&mut self, _: Passed, _: Range<usize>) {}
    fn unhandled(&mut self, _: usize, _: char) {}
    fn choice(&mut self, _: Choice) {}
    fn mark(&self) -> [usize; 5] {
        [self.0.len(), 0, 0, 0, 0]
    }
    fn back_to(&mut self, mark: [usize; 5]) {
        self.0.truncate(mark[0]);
    }
}

impl Sink for Explanation {
    const REASONS: bool = true;
    fn cells(&mut self) -> &mut Vec<Cell> {
        &mut self.cells
    }
    fn sign(&mut self, sign: SignId, print: Range<usize>, section: &'static str) {
        let from = self.cells.len();
        let entry = register::get(sign);
        self.cells.extend_from_slice(&entry.cells);
        self.signs.push(SignUse {
            print,
            cells: from..self.cells.len(),
            sign,
            section: if section.is_empty() { entry.section } else { section },
            choice: None,
        });
    }
    fn passed(&mut self, passed: Passed, print: Range<usize>) {
        self.passed_over.push(PassedOver {
            sign: passed.sign,
            print,
            section: passed.section,
            why: passed.why,
        });
    }
    fn unhandled(&mut self, at: usize, character: char) {
        self.unhandled.push(Unhandled { at, character });
    }
    fn choice(&mut self, choice: Choice) {
        self.choices.push(choice);
    }
    fn mark(&self) -> [usize; 5] {
        [self.cells.len(), self.signs.len(), self.passed_over.len(), self.unhandled.len(), self.choices.len()]
    }
    fn back_to(&mut self, mark: [usize; 5]) {
        self.cells.truncate(mark[0]);
        self.signs.truncate(mark[1]);
        self.passed_over.truncate(mark[2]);
        self.unhandled.truncate(mark[3]);
        self.choices.truncate(mark[4]);
    }
}
