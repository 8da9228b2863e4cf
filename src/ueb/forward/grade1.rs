//! Grade 1 words and passages, chosen over single indicators (5.9).

use std::ops::Range;

use super::plan::{Plan, Sequence, Way, Written};
use super::runs;
use super::sink::{Cells, Sink};
use super::symbols::{self, Kind, Symbol};
use super::write::write;

/// What grade 1 mode would save.
pub(crate) struct Savings {
    pub indicators: usize,
    pub cells: usize,
    /// The symbol before which the first of the indicators would stand.
    pub first: Option<usize>,
}

/// Writes a symbols-sequence on trial, in a grade 1 passage or not: how many cells it takes, and the indicators.
fn measure(sequence: &Sequence, passage: bool, plan: &mut Plan) -> (usize, Written) {
    let sequence = Sequence { passage, contracted: !passage, reasons: false, way: Way::Usual, ..*sequence };
    let mut scratch = Cells::default();
    plan.word_from = None;
    runs::find(&sequence, plan);
    let written = write(&sequence, plan, &mut scratch);
    (scratch.cells().len(), written)
}

/// What grade 1 mode would save a symbols-sequence that has no contractions anyway. `None` for one that has some.
pub(crate) fn savings(sequence: &Sequence, plan: &mut Plan) -> Option<Savings> {
    let (all, inside) = measure(sequence, true, plan);
    let (cells, single) = measure(sequence, false, plan);
    let same = cells - single.guard_cells == all - inside.guard_cells;
    same.then(|| Savings {
        indicators: single.guards - inside.guards,
        cells: single.guard_cells - inside.guard_cells,
        first: single.first_guard,
    })
}

/// Signs of technical expressions that need grade 1 mode.
fn technical(s: &Symbol) -> bool {
    s.kind == Kind::Index || s.kind == Kind::Other && symbols::needs_grade1(s)
}

/// Where a grade 1 word indicator takes the place of two or more single indicators in a technical expression.
pub(crate) fn word_from(sequence: &Sequence, plan: &mut Plan) -> Option<usize> {
    if !sequence.own().iter().any(technical) {
        return None;
    }
    let savings = savings(sequence, plan)?;
    if savings.indicators < 2 {
        return None;
    }
    // A single letter in front, a variable, goes in.
    let letter = |at: usize| sequence.symbols.get(at).is_some_and(|s| s.kind == Kind::Letter);
    if letter(sequence.from) && !letter(sequence.from + 1) { Some(sequence.from) } else { savings.first }
}

/// A grade 1 passage takes three cells and its terminator two.
const PASSAGE: usize = 5;

/// The stretches of an equation for which a grade 1 passage saves cells (5.4, 5.9.1, 5.9.2): three symbols-sequences or
/// more that have no contractions. `text` is all of the symbols; its first symbols-sequence may have begun in the piece
/// before, and its last go on in the next.
pub(crate) fn passages(text: &Sequence, plan: &mut Plan) -> Vec<Range<usize>> {
    let symbols = text.symbols;
    let operator = |s: &Symbol| {
        technical(s) || s.kind == Kind::Other && matches!(s.ch, '=' | '+' | '−' | '×' | '÷' | '<' | '>' | '→')
    };
    let mut out = Vec::new();
    if symbols.iter().filter(|s| operator(s)).count() < 3 {
        return out;
    }
    // The sequences that could be in a passage: where they stand, and what that saves.
    let mut held: Vec<(Range<usize>, usize)> = Vec::new();
    let mut i = 0;
    while i < symbols.len() {
        let from = i;
        while i < symbols.len() && symbols[i].kind != Kind::Space {
            i += 1;
        }
        if i > from {
            match saved_by_passage(text, from..i, plan) {
                Some(cells) => held.push((from..i, cells)),
                None => {
                    out.extend(passage(&mut held).filter(|range| symbols[range.clone()].iter().any(operator)))
                }
            }
        }
        i += 1;
    }
    out.extend(passage(&mut held).filter(|range| symbols[range.clone()].iter().any(operator)));
    out
}

/// The cells that a symbols-sequence would save in a passage, if it may stand in one.
fn saved_by_passage(
    text: &Sequence,
    Range { start: from, end: to }: Range<usize>,
    plan: &mut Plan,
) -> Option<usize> {
    let a = text.faces.partition_point(|f| f.before < from);
    let b = text.faces.partition_point(|f| f.before <= to);
    let marked = text.symbols[from..to].iter().any(|s| s.capital == 3 || s.capital_end) || a < b;
    let cut = text.begun.is_some() && from == 0 || text.goes_on && to == text.symbols.len();
    if marked || cut {
        return None;
    }
    let sequence = Sequence { from, to, faces: &[], begun: None, goes_on: false, ..*text };
    savings(&sequence, plan).map(|savings| savings.cells)
}

/// The passage that these sequences make, from the first that saves something to the last.
fn passage(held: &mut Vec<(Range<usize>, usize)>) -> Option<Range<usize>> {
    let held = std::mem::take(held);
    let first = held.iter().position(|h| h.1 > 0)?;
    let last = held.iter().rposition(|h| h.1 > 0)?;
    let saved: usize = held.iter().map(|h| h.1).sum();
    (last - first >= 2 && saved > PASSAGE).then(|| held[first].0.start..held[last].0.end)
}
