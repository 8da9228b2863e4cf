//! What else would be as right for a hyphen or dash (7.2).

use super::super::Choice;
use super::super::register;
use super::known::known;
use super::plan::Sequence;
use super::sink::Sink;
use super::symbols::Kind;
use crate::cell::Cell;

/// After the hyphen or dash at `i` was written: a dash for two hyphens (7.2.6), one length of dash for the other
/// (7.2.4), a blank where print spaces the dash on one side only (7.2.1).
pub(crate) fn choices<S: Sink>(sequence: &Sequence, i: usize, sink: &mut S) {
    let symbols = sequence.symbols;
    let cells = |sign| register::get(sign).cells.clone();
    let hyphen = |k: Option<usize>| k.and_then(|k| symbols.get(k)).is_some_and(|s| s.kind == Kind::Hyphen);
    let symbol = &symbols[i];
    let (from, end) = (symbol.at as usize, (symbol.at + symbol.len) as usize);
    let to = sink.cells().len();
    if symbol.kind == Kind::Hyphen {
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
        return;
    }
    let length = cells(symbol.sign).len();
    let long = symbol.sign == known().long_dash;
    if long || sequence.setting.lengths && matches!(symbol.ch, '—' | '―' | '⸺' | '⸻') {
        sink.choice(Choice {
            print: from..end,
            cells: to - length..to,
            section: "7.2.4",
            why: "a long dash only where print sets it off from a short one",
            others: vec![cells(if long { known().dash } else { known().long_dash })],
        });
        return;
    }
    // Print spaces it on the one side or the other.
    let letter = |k: usize| sequence.get(k).is_some_and(|s| s.kind == Kind::Letter);
    let (first, last) = (i == sequence.from && from > 0, i + 1 == sequence.to);
    let blank = |at: usize, place: usize| Choice {
        print: place..place,
        cells: at..at,
        section: "7.2.1",
        why: "a dash that print spaces on one side only may be spaced on both",
        others: vec![vec![Cell::BLANK]],
    };
    if first && letter(i + 1) {
        sink.choice(blank(to, end));
    } else if last && i > 0 && letter(i - 1) {
        sink.choice(blank(to - length, from));
    }
}
