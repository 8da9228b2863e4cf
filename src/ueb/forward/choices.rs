//! Where the standard leaves a choice: what else would be as right.

use super::super::register::{self, SignId};
use super::super::{Choice, Explanation};
use super::sink::Sink;
use super::symbols::{Kind, Symbol, known};
use crate::cell::Cell;

fn cells(sign: SignId) -> Vec<Cell> {
    register::get(sign).cells.clone()
}

/// After the hyphen or dash at `i` was written: a dash for two hyphens (7.2.6), one length of dash for the other
/// (7.2.4).
pub(crate) fn dash<S: Sink>(symbols: &[Symbol], i: usize, sink: &mut S) {
    let hyphen = |k: Option<usize>| k.and_then(|k| symbols.get(k)).is_some_and(|s| s.kind == Kind::Hyphen);
    let end = (symbols[i].at + symbols[i].len) as usize;
    let to = sink.cells().len();
    if symbols[i].kind == Kind::Hyphen {
        let pair = hyphen(i.checked_sub(1)) && !hyphen(i.checked_sub(2)) && !hyphen(Some(i + 1));
        if pair {
            sink.choice(Choice {
                print: symbols[i - 1].at as usize..end,
                cells: to - 2..to,
                section: "7.2.6",
                why: "two hyphens for a dash may be written as a dash",
                others: vec![cells(known().dash)],
            });
        }
    } else if symbols[i].sign == known().long_dash {
        sink.choice(Choice {
            print: symbols[i].at as usize..end,
            cells: to - cells(known().long_dash).len()..to,
            section: "7.2.4",
            why: "a long dash only where print sets it off from a short one",
            others: vec![cells(known().dash)],
        });
    }
}

/// Sorts the choices, drops those that overlap an earlier one, and marks the signs they are about.
pub(crate) fn settle(explanation: &mut Explanation) {
    let Explanation { choices, signs, .. } = explanation;
    choices.sort_by_key(|choice| (choice.cells.start, choice.cells.end));
    let mut end = 0;
    choices.retain(|choice| {
        let free = choice.cells.start >= end && !choice.others.is_empty();
        if free {
            end = choice.cells.end;
        }
        free
    });
    for choice in choices.iter() {
        let first = signs.partition_point(|sign| sign.cells.end <= choice.cells.start);
        for sign in signs[first..].iter_mut().take_while(|sign| sign.cells.start < choice.cells.end) {
            sign.choice = Some(choice.section);
        }
    }
}

/// Whether a stop after these letters may make them an abbreviation that begins with a lower groupsign (10.6.4).
pub(crate) fn abbreviation(letters: &str) -> bool {
    letters.len() <= 6
        && ["be", "con", "dis"]
            .iter()
            .any(|sign| letters.get(..sign.len()).is_some_and(|start| start.eq_ignore_ascii_case(sign)))
}
