//! Grade 1 words and passages, chosen over single indicators (5.9).

use std::ops::Range;

use super::sequence::{Room, choose};
use super::symbols::Symbol;

/// Words spelt or stammered with hyphens: one grade 1 word indicator where it saves indicators (5.9.1).
pub(crate) fn spelled(symbols: &[Symbol], range: &Range<usize>, room: &mut Room) {
    let guards = room.runs.iter().filter(|r| r.guard).count();
    if guards < 3 {
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
    for run in &mut room.runs[first..] {
        run.guard = false;
    }
    room.runs[first].guard_word = true;
}
