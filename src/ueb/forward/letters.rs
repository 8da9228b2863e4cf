//! Writes one letters-sequence: capitals, modifiers, contractions (4, 8, 10).

use super::super::contract::{Part, Passed};
use super::super::register::{self, SignId};
use super::known::known;
use super::plan::{Plan, Run, Sequence};
use super::sink::Sink;
use super::symbols::{Symbol, TIES};
use super::wordsigns::not_alone;

/// Writes one letters-sequence, contracted or not; `plan` holds its contractions, and `face` is the next typeform mark. True
/// when a lower contraction was used.
pub(crate) fn letters<S: Sink>(
    sequence: &Sequence,
    run: &Run,
    contracted: bool,
    plan: &Plan,
    face: &mut usize,
    sink: &mut S,
) -> bool {
    let Sequence { symbols, faces, .. } = *sequence;
    let wordsign = run.wordsign.filter(|_| contracted);
    let mut parts = plan.contractions.parts.iter();
    let mut lower = false;
    let mut i = run.range.start;
    while i < run.range.end {
        let s = &symbols[i];
        let at = s.at as usize;
        while let Some(mark) = faces.get(*face).filter(|mark| mark.before <= i) {
            sink.sign(mark.sign, at..at, "");
            *face += 1;
        }
        in_front(symbols, run, i, sink);
        let part = match wordsign {
            Some(sign) => Some((sign, run.range.len(), "")),
            None if contracted => parts.next().map(|part| (part.sign, usize::from(part.len), part.section)),
            None => None,
        };
        let (sign, len, section) = part.filter(|part| part.1 > 1).unwrap_or((s.sign, 1, ""));
        if s.ligature && len == 1 {
            ligature(symbols, run, i, sink);
        } else {
            let last = &symbols[(i + len - 1).min(symbols.len() - 1)];
            sink.sign(sign, at..(last.at + last.len) as usize, section);
        }
        lower |= len > 1 && register::get(sign).cells.iter().all(|c| !c.is_upper());
        let last = &symbols[i + len - 1];
        let end = (last.at + last.len) as usize;
        if i > run.range.start && symbols[i - 1].group {
            sink.sign(known().group_close, end..end, "4.2.5");
        }
        if last.capital_end {
            sink.sign(known().capital_end, end..end, "");
        }
        i += len;
    }
    if S::REASONS && contracted && run.wordsign.is_none() {
        passed_over(sequence, run, plan, sink);
    }
    lower
}

/// What stands in front of a letter: its capitals indicator, and its modifiers (4.2, 8.3 to 8.5).
fn in_front<S: Sink>(symbols: &[Symbol], run: &Run, i: usize, sink: &mut S) {
    let s = &symbols[i];
    let at = s.at as usize;
    if let Some(sign) = capital(symbols, run, i) {
        sink.sign(sign, at..at, "");
    }
    if s.stands_in && s.len > 0 {
        sink.unhandled(at, 'ß');
    }
    for modifier in s.modifiers.iter().flatten() {
        sink.sign(*modifier, at..at, "");
    }
    if s.group {
        sink.sign(known().group_open, at..at, "4.2.5");
    }
}

/// The capitals indicator before a letter.
fn capital(symbols: &[Symbol], run: &Run, i: usize) -> Option<SignId> {
    let know = known();
    // The second letter of a ligature has its indicator before the ligature's (4.3.3).
    let joined = i > run.range.start && symbols[i - 1].ligature;
    // A capitals word indicator never stands before one letter only.
    let goes_on = i + 1 < run.range.end && symbols[i + 1].upper && symbols[i + 1].capital == 0;
    match symbols[i].capital {
        1 if joined => None,
        1 => Some(know.capital_letter),
        2 => Some(if goes_on { know.capital_word } else { know.capital_letter }),
        3 => Some(know.capital_passage),
        _ => None,
    }
}

/// A letter and the indicator that joins it to the next (4.3).
fn ligature<S: Sink>(symbols: &[Symbol], run: &Run, i: usize, sink: &mut S) {
    let (know, s) = (known(), &symbols[i]);
    let end = (s.at + s.len) as usize;
    sink.sign(s.sign, s.at as usize..end, "");
    if i + 1 == run.range.end {
        // A tie to nothing.
        sink.unhandled(end - 1, TIES[0]);
        return sink.sign(know.unhandled, end..end, "");
    }
    let capital = symbols[i + 1].capital == 1;
    sink.sign(if capital { know.capital_ligature } else { know.ligature }, end..end, "");
}

/// Tells of the contractions that were not used.
fn passed_over<S: Sink>(sequence: &Sequence, run: &Run, plan: &Plan, sink: &mut S) {
    let symbols = sequence.symbols;
    let word = not_alone(sequence, run, &plan.runs, sink);
    // Of "in" as a word the wordsign is told, and not the groupsign too.
    let passed = plan.contractions.passed.iter().filter(|passed| !word || passed.len < run.range.len());
    for passed in passed {
        let place = |letter: usize| &symbols[(run.range.start + letter).min(run.range.end - 1)];
        let (first, last) = (place(passed.at), place(passed.at + passed.len.max(1) - 1));
        sink.passed(*passed, first.at as usize..(last.at + last.len) as usize);
    }
}

/// Tells of the contractions that letters after a number would have elsewhere (6.5.3).
pub(crate) fn after_number<S: Sink>(symbols: &[Symbol], run: &Run, parts: &[Part], sink: &mut S) {
    let mut at = 0;
    for part in parts {
        let len = usize::from(part.len);
        if len > 1 && run.range.start + at + len <= symbols.len() {
            let (first, last) = (&symbols[run.range.start + at], &symbols[run.range.start + at + len - 1]);
            let why = "the grade 1 mode that the number set goes on";
            let passed = Passed { sign: part.sign, at, len, section: "6.5.3", why };
            sink.passed(passed, first.at as usize..(last.at + last.len) as usize);
        }
        at += len;
    }
}
