//! Where signs go: cells alone, or cells with the reasons.

use std::ops::Range;

use super::super::contract::Passed;
use super::super::register::{self, SignId};
use super::super::{Choice, Explanation, PassedOver, SignUse, Unhandled};
use super::known::known;
use crate::cell::Cell;

/// How much was written: cells, signs, places passed over, characters without a sign, choices.
pub(crate) type Mark = [usize; 5];

/// Takes the signs as they are written.
pub(crate) trait Sink {
    /// Whether reasons are kept.
    const REASONS: bool;
    /// Where pieces are kept to be written again.
    type Store: Default;
    /// One such piece.
    type Kept: Copy + Default;
    /// The cells so far.
    fn cells(&mut self) -> &mut Vec<Cell>;
    /// One sign; an empty section stands for the register's own.
    fn sign(&mut self, sign: SignId, print: Range<usize>, section: &'static str);
    /// The blank at this place of print.
    fn blank(&mut self, at: usize) {
        self.sign(known().space, at..at + 1, "");
    }
    /// A contraction not used.
    fn passed(&mut self, passed: Passed, print: Range<usize>);
    /// A character without a sign.
    fn unhandled(&mut self, at: usize, character: char);
    /// Other cells that are as right as those written.
    fn choice(&mut self, choice: Choice);
    /// The state now, to come back to with [`Sink::back_to`].
    fn mark(&self) -> Mark;
    /// Forgets everything written since.
    fn back_to(&mut self, mark: Mark);
    /// Keeps what was written since `mark` for print that begins at `base`.
    fn keep(&self, mark: Mark, base: usize, store: &mut Self::Store) -> Self::Kept;
    /// Writes again what was kept, for print that begins at `base`.
    fn again(&mut self, kept: Self::Kept, base: usize, store: &Self::Store);
}

/// Cells alone.
#[derive(Default)]
pub(crate) struct Cells(pub Vec<Cell>);

impl Sink for Cells {
    const REASONS: bool = false;
    type Store = Vec<Cell>;
    type Kept = KeptCells;
    fn cells(&mut self) -> &mut Vec<Cell> {
        &mut self.0
    }
    fn sign(&mut self, sign: SignId, _: Range<usize>, _: &'static str) {
        match register::get(sign).cells[..] {
            [cell] => self.0.push(cell),
            ref cells => self.0.extend_from_slice(cells),
        }
    }
    #[inline]
    fn blank(&mut self, _: usize) {
        self.0.push(Cell::BLANK);
    }
    fn passed(&mut self, _: Passed, _: Range<usize>) {}
    fn unhandled(&mut self, _: usize, _: char) {}
    fn choice(&mut self, _: Choice) {}
    fn mark(&self) -> Mark {
        [self.0.len(), 0, 0, 0, 0]
    }
    fn back_to(&mut self, mark: Mark) {
        self.0.truncate(mark[0]);
    }
    fn keep(&self, mark: Mark, _: usize, store: &mut Vec<Cell>) -> KeptCells {
        let written = &self.0[mark[0]..];
        let mut kept = KeptCells { len: written.len() as u32, ..KeptCells::default() };
        if let Some(cells) = kept.cells.get_mut(..written.len()) {
            cells.copy_from_slice(written);
        } else {
            kept.from = store.len() as u32;
            store.extend_from_slice(written);
        }
        kept
    }
    #[inline]
    fn again(&mut self, kept: KeptCells, _: usize, store: &Vec<Cell>) {
        let len = kept.len as usize;
        if len <= kept.cells.len() {
            // A fixed number of cells is written quicker than just those that are wanted.
            let to = self.0.len() + len;
            self.0.extend_from_slice(&kept.cells);
            self.0.truncate(to);
        } else {
            self.0.extend_from_slice(&store[kept.from as usize..kept.from as usize + len]);
        }
    }
}

/// Cells that were kept: a few here, more in the store.
#[derive(Clone, Copy, Default)]
pub(crate) struct KeptCells {
    cells: [Cell; 16],
    len: u32,
    from: u32,
}

/// `range` moved by the distance of `to` from `from`.
fn moved(range: &Range<usize>, from: usize, to: usize) -> Range<usize> {
    range.start - from + to..range.end - from + to
}

/// The parts of an explanation that were kept: first and last places as in [`Mark`].
#[derive(Clone, Copy, Default)]
pub(crate) struct Kept {
    from: [u32; 5],
    to: [u32; 5],
}

impl Kept {
    fn range(&self, part: usize) -> Range<usize> {
        self.from[part] as usize..self.to[part] as usize
    }
}

/// Appends what `source` holds between the marks, with its print and cells moved.
fn copy(
    source: &Explanation,
    part: impl Fn(usize) -> Range<usize>,
    print: [usize; 2],
    out: &mut Explanation,
) {
    let cells = [part(0).start, out.cells.len()];
    out.cells.extend_from_slice(&source.cells[part(0)]);
    out.signs.extend(source.signs[part(1)].iter().map(|sign| SignUse {
        print: moved(&sign.print, print[0], print[1]),
        cells: moved(&sign.cells, cells[0], cells[1]),
        ..*sign
    }));
    out.passed_over.extend(
        source.passed_over[part(2)]
            .iter()
            .map(|passed| PassedOver { print: moved(&passed.print, print[0], print[1]), ..*passed }),
    );
    out.unhandled
        .extend(source.unhandled[part(3)].iter().map(|u| Unhandled { at: u.at - print[0] + print[1], ..*u }));
    out.choices.extend(source.choices[part(4)].iter().map(|choice| Choice {
        print: moved(&choice.print, print[0], print[1]),
        cells: moved(&choice.cells, cells[0], cells[1]),
        ..choice.clone()
    }));
}

impl Sink for Explanation {
    const REASONS: bool = true;
    type Store = Explanation;
    type Kept = Kept;
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
    fn choice(&mut self, mut choice: Choice) {
        widen(&mut choice, &self.signs, &self.cells);
        self.choices.push(choice);
    }
    fn mark(&self) -> Mark {
        [self.cells.len(), self.signs.len(), self.passed_over.len(), self.unhandled.len(), self.choices.len()]
    }
    fn back_to(&mut self, mark: Mark) {
        self.cells.truncate(mark[0]);
        self.signs.truncate(mark[1]);
        self.passed_over.truncate(mark[2]);
        self.unhandled.truncate(mark[3]);
        self.choices.truncate(mark[4]);
    }
    fn keep(&self, mark: Mark, base: usize, store: &mut Explanation) -> Kept {
        let ends = self.mark();
        let from = store.mark().map(|n| n as u32);
        copy(self, |part| mark[part]..ends[part], [base, 0], store);
        Kept { from, to: store.mark().map(|n| n as u32) }
    }
    fn again(&mut self, kept: Kept, base: usize, store: &Explanation) {
        copy(store, |part| kept.range(part), [0, base], self);
    }
}

/// The print of a choice that [`widen`] is still to find.
pub(crate) const NOWHERE: Range<usize> = usize::MAX..usize::MAX;

/// Widens a choice to whole signs, and finds the print that it is about.
pub(crate) fn widen(choice: &mut Choice, signs: &[SignUse], cells: &[Cell]) {
    let first = signs.partition_point(|sign| sign.cells.end <= choice.cells.start);
    let last = signs.partition_point(|sign| sign.cells.start < choice.cells.end).max(first);
    let inside = &signs[first..last];
    if let (Some(from), Some(to)) = (inside.first(), inside.last()) {
        let (front, back) =
            (&cells[from.cells.start..choice.cells.start], &cells[choice.cells.end..to.cells.end]);
        for other in &mut choice.others {
            other.splice(0..0, front.iter().copied());
            other.extend_from_slice(back);
        }
        choice.cells = from.cells.start..to.cells.end;
    }
    if choice.print == NOWHERE {
        // Indicators have no print of their own: the sign after them has.
        let from = signs.get(first).map(|sign| sign.print.start);
        let from = from.or_else(|| signs.last().map(|sign| sign.print.end)).unwrap_or(0);
        let to = inside.iter().map(|sign| sign.print.end).max().unwrap_or(from);
        let next = signs[last..].iter().find(|sign| sign.print.end > sign.print.start);
        choice.print = if to > from { from..to } else { from..next.map_or(from, |sign| sign.print.end) };
    }
}
