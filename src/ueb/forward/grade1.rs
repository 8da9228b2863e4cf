//! Grade 1 words and passages, chosen over single indicators (5.9).

use std::ops::Range;

use super::sequence::{FaceMark, Room, Run, choose, find_runs};
use super::sink::{Cells, Sink};
use super::symbols::{self, Kind, Symbol};
use super::write::write;

/// Words spelt or stammered with hyphens: one grade 1 word indicator where it saves indicators (5.9.1).
pub(crate) fn spelled(symbols: &[Symbol], range: &Range<usize>, room: &mut Room) {
    let guards = room.runs.iter().filter(|r| r.guard).count();
    if guards < 2 || guards == 2 && !spread(symbols, room) {
        return;
    }
    let Some(mut first) = room.runs.iter().position(|r| r.guard) else { return };
    // What is chosen here leaves typeforms aside: it must not be taken for the choice itself.
    room.chosen = None;
    // Only where nothing after it would be contracted.
    for k in first..room.runs.len() {
        let run = room.runs[k].clone();
        if run.wordsign.is_some() {
            return;
        }
        choose(symbols, range, k, &[], room);
        room.chosen = None;
        if room.parts.iter().any(|p| p.len > 1) {
            return;
        }
    }
    // What stands before it goes in too where that changes nothing.
    while first > 0 && room.runs[first - 1].wordsign.is_none() {
        choose(symbols, range, first - 1, &[], room);
        room.chosen = None;
        if room.parts.iter().any(|p| p.len > 1) || room.runs[first - 1].numeric {
            break;
        }
        first -= 1;
    }
    if guards == 2 && first > 0 {
        return;
    }
    for run in &mut room.runs[first..] {
        run.guard = false;
    }
    room.runs[first].guard_word = true;
}

/// Whether two guards are those of a word in three or more parts, such as un-e-mo-tion-al or S-O-S, for which one
/// indicator serves as well in as many cells. A sound that goes on, as in br-r-r, keeps an indicator for each (10.12.14).
fn spread(symbols: &[Symbol], room: &Room) -> bool {
    let same = |a: &Run, b: &Run| {
        let letters = |run: &Run| symbols[run.range.clone()].iter().map(|s| s.ch).collect::<Vec<char>>();
        letters(a) == letters(b)
    };
    let (first, last) = (room.runs[0].range.start, room.runs[room.runs.len() - 1].range.end);
    room.runs.len() > 2
        && !room.runs.windows(2).any(|two| two[0].guard && two[1].guard && same(&two[0], &two[1]))
        && symbols[first..last].iter().all(|s| matches!(s.kind, Kind::Letter | Kind::Hyphen))
}

/// The cells of a symbols-sequence, and the grade 1 indicators in it.
fn measure(
    symbols: &[Symbol],
    range: &Range<usize>,
    faces: &[FaceMark],
    passage: bool,
    room: &mut Room,
) -> (usize, usize, usize) {
    let reasons = std::mem::take(&mut room.reasons);
    let was = std::mem::replace(&mut room.passage, passage);
    let specific = room.specific.len();
    (room.guards, room.guard_cells, room.first_guard, room.word_from) = (0, 0, None, None);
    let mut scratch = Cells::default();
    find_runs(symbols, range.clone(), faces, !passage, room);
    write(symbols, range.clone(), faces, !passage, room, &mut scratch);
    (room.reasons, room.passage) = (reasons, was);
    room.specific.truncate(specific);
    (scratch.cells().len(), room.guards, room.guard_cells)
}

/// What grade 1 mode would save a symbols-sequence that has no contractions anyway: indicators and cells. `None` for
/// one that has some.
pub(crate) fn savings(
    symbols: &[Symbol],
    range: &Range<usize>,
    faces: &[FaceMark],
    room: &mut Room,
) -> Option<(usize, usize, Option<usize>)> {
    let passage = measure(symbols, range, faces, true, room);
    let single = measure(symbols, range, faces, false, room);
    let same = single.0 - single.2 == passage.0 - passage.2;
    same.then_some((single.1 - passage.1, single.2 - passage.2, room.first_guard))
}

/// Signs of technical expressions that need grade 1 mode.
fn technical(s: &Symbol) -> bool {
    s.kind == Kind::Index || s.kind == Kind::Other && symbols::needs_grade1(s)
}

/// Where a grade 1 word indicator takes the place of two or more single indicators in a technical expression.
pub(crate) fn word_from(
    symbols: &[Symbol],
    range: &Range<usize>,
    faces: &[FaceMark],
    room: &mut Room,
) -> Option<usize> {
    if !symbols[range.clone()].iter().any(technical) {
        return None;
    }
    let (indicators, _, first) = savings(symbols, range, faces, room)?;
    if indicators < 2 {
        return None;
    }
    // A single letter in front, a variable, goes in.
    let letter = |at: usize| symbols.get(at).is_some_and(|s| s.kind == Kind::Letter);
    if letter(range.start) && !letter(range.start + 1) { Some(range.start) } else { first }
}

/// A grade 1 passage takes three cells and its terminator two.
const PASSAGE: usize = 5;

/// The stretches of an equation for which a grade 1 passage saves cells (5.4, 5.9.1, 5.9.2): three symbols-sequences
/// or more that have no contractions. The first was `begun` in the piece before, the last `goes_on` in the next.
pub(crate) fn passages(
    symbols: &[Symbol],
    faces: &[FaceMark],
    begun: bool,
    goes_on: bool,
    room: &mut Room,
) -> Vec<Range<usize>> {
    let operator = |s: &Symbol| {
        technical(s) || s.kind == Kind::Other && matches!(s.ch, '=' | '+' | '−' | '×' | '÷' | '<' | '>' | '→')
    };
    let mut out = Vec::new();
    if symbols.iter().filter(|s| operator(s)).count() < 3 {
        return out;
    }
    // The sequences that could be in a passage: where they stand, and what that saves.
    let mut held: Vec<(Range<usize>, usize)> = Vec::new();
    let mut close = |held: &mut Vec<(Range<usize>, usize)>| {
        let first = held.iter().position(|h| h.1 > 0);
        let last = held.iter().rposition(|h| h.1 > 0);
        if let (Some(first), Some(last)) = (first, last) {
            let saved: usize = held.iter().map(|h| h.1).sum();
            let range = held[first].0.start..held[last].0.end;
            if last - first >= 2 && saved > PASSAGE && symbols[range.clone()].iter().any(operator) {
                out.push(range);
            }
        }
        held.clear();
    };
    let mut i = 0;
    while i < symbols.len() {
        let from = i;
        while i < symbols.len() && symbols[i].kind != Kind::Space {
            i += 1;
        }
        if i > from {
            let a = faces.partition_point(|f| f.before < from);
            let b = faces.partition_point(|f| f.before <= i);
            let marked = symbols[from..i].iter().any(|s| s.capital == 3 || s.capital_end) || a < b;
            let cut = begun && from == 0 || goes_on && i == symbols.len();
            if cut {
                close(&mut held);
                continue;
            }
            match savings(symbols, &(from..i), &faces[a..b], room) {
                Some((_, cells, _)) if !marked => held.push((from..i, cells)),
                _ => close(&mut held),
            }
        }
        i += 1;
    }
    close(&mut held);
    out
}
