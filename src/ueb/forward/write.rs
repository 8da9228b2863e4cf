//! Writes one symbols-sequence: numbers, punctuation, grade 1 indicators (5, 6, 7).

use std::ops::Range;

use super::super::contract::Passed;
use super::choices;
use super::index::{index_end, index_start};
use super::known::{self, known};
use super::letters::letters;
use super::punctuation;
use super::quotes;
use super::sequence::{FaceMark, Room, Run, before_ok, choose};
use super::sink::Sink;
use super::symbols::{self, Kind, Symbol};
use super::technical;

/// Tells of the contractions that letters after a number would have elsewhere (6.5.3).
fn after_number<S: Sink>(symbols: &[Symbol], run: &Run, room: &Room, sink: &mut S) {
    let mut at = 0;
    for part in &room.parts {
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

/// Writes the sequence and gives the last letters-sequence that holds a lower contraction.
pub(crate) fn write<S: Sink>(
    symbols: &[Symbol],
    range: Range<usize>,
    faces: &[FaceMark],
    contracted: bool,
    room: &mut Room,
    sink: &mut S,
) -> Option<usize> {
    let know = known();
    let mut last_lower = None;
    let mut next_run = 0;
    let begun = room.begun.unwrap_or_default();
    let mut in_number = begun.number; // digits may follow without an indicator (6.1.1)
    // Set by a number or by a grade 1 word or passage indicator.
    let mut grade1 = room.passage || begun.grade1;
    let mut word_mode = room.passage || begun.grade1_word;
    let mut face = faces.partition_point(|f| f.before < range.start);
    let mut i = range.start;
    while i < range.end {
        let s = &symbols[i];
        let at = s.at as usize;
        let print = at..at + s.len as usize;
        if room.word_from == Some(i) && !grade1 {
            sink.sign(know.grade1_word, at..at, "5.9.1");
            grade1 = true;
            word_mode = true;
        }
        if s.kind != Kind::Letter {
            while face < faces.len() && faces[face].before <= i {
                in_number = false;
                sink.sign(faces[face].sign, at..at, "");
                face += 1;
            }
        }
        match s.kind {
            Kind::Letter => {
                let run = room.runs[next_run].clone();
                // A letter of a capitals passage has no indicator of its own.
                let low = s.modifiers[0].is_none() && s.capital == 0 && ('a'..='j').contains(&s.ch);
                while face < faces.len() && faces[face].before <= i {
                    sink.sign(faces[face].sign, at..at, "");
                    face += 1;
                }
                if run.guard_word && !grade1 {
                    room.guarded(i, 2);
                    sink.sign(know.grade1_word, at..at, "5.3");
                    grade1 = true;
                    word_mode = true;
                } else if run.guard && !grade1 {
                    let section = if run.range.len() == 1 { "5.7.1" } else { "5.7.2" };
                    room.guarded(i, 1);
                    sink.sign(know.grade1, at..at, section);
                } else if in_number && low {
                    room.guarded(i, 1);
                    sink.sign(know.grade1, at..at, "6.5.2");
                }
                in_number = false;
                if contracted && !grade1 && run.wordsign.is_none() {
                    choose(symbols, &range, next_run, faces, room);
                }
                if S::REASONS && contracted && grade1 && !word_mode {
                    choose(symbols, &range, next_run, faces, room);
                    after_number(symbols, &run, room, sink);
                }
                let lower = letters(symbols, &run, faces, &mut face, contracted && !grade1, room, sink);
                if lower {
                    last_lower = Some(next_run);
                }
                next_run += 1;
                i = run.range.end;
                continue;
            }
            Kind::Digit => {
                if s.fresh && in_number {
                    sink.sign(know.numeric, at..at, "11.3.2");
                } else if !in_number {
                    sink.sign(know.numeric, at..at, "");
                }
                in_number = true;
                grade1 = true;
                sink.sign(s.sign, print, "");
            }
            Kind::NumericSpace if in_number && symbols.get(i + 1).is_some_and(|n| n.kind == Kind::Digit) => {
                let digit = &symbols[i + 1];
                let end = (digit.at + digit.len) as usize;
                sink.sign(known::spaced_digit(digit.ch), at..end, "");
                i += 2;
                continue;
            }
            Kind::NumericSpace | Kind::Space => sink.sign(know.space, print, ""),
            Kind::FractionLine if in_number && symbols.get(i + 1).is_some_and(|n| n.kind == Kind::Digit) => {
                sink.sign(know.fraction, print, "6.2");
            }
            Kind::FractionLine => {
                in_number = false;
                sink.sign(known::solidus(), print, "");
            }
            Kind::Stop
                if matches!(s.ch, '.' | ',')
                    && i + 1 < range.end
                    && symbols[i + 1].kind == Kind::Digit
                    && !ellipsis(symbols, &range, i) =>
            {
                let clear = i == range.start
                    || before_ok(&symbols[i - 1])
                    || matches!(symbols[i - 1].kind, Kind::Other | Kind::Index)
                    || number_joins(&symbols[range.start..i]);
                if !in_number && clear {
                    sink.sign(know.numeric, at..at, "6.4");
                    in_number = true;
                    grade1 = true;
                }
                sink.sign(if in_number && s.ch == '.' { know.point } else { s.sign }, print, "");
            }
            Kind::Stop if in_number && matches!(s.ch, '.' | ',') => {
                // Numeric mode lasts; a letter after it may still be read as a digit (6.5.2). An ellipsis ends it (6.3.1).
                in_number = !(ellipsis(symbols, &range, i)
                    && symbols.get(i + 1).is_some_and(|next| next.kind == Kind::Digit));
                sink.sign(s.sign, print, "");
            }
            Kind::Stop => {
                in_number = false;
                if !grade1 && let Some(section) = punctuation::guard(symbols, &range, i, faces, contracted) {
                    room.guarded(i, 1);
                    sink.sign(know.grade1, at..at, section);
                }
                sink.sign(s.sign, print, "");
            }
            Kind::Hyphen | Kind::Dash => {
                in_number = false;
                grade1 = word_mode;
                sink.sign(s.sign, print, "");
                if S::REASONS {
                    choices::dash(symbols, &range, i, room, sink);
                }
            }
            Kind::Index => {
                let depth_end = index_end(symbols, i, range.end);
                let inner = &symbols[i + 1..depth_end.max(i + 1)];
                let number = !inner.is_empty()
                    && inner
                        .iter()
                        .all(|s| s.kind == Kind::Digit || matches!(s.ch, '.' | ',') && s.kind == Kind::Stop);
                let one = inner.len() == 1 || number;
                if !grade1 && contracted {
                    if one {
                        room.guarded(i, 1);
                        sink.sign(know.grade1, at..at, "3.24");
                    } else {
                        room.guarded(i, 2);
                        sink.sign(know.grade1_word, at..at, "5.3");
                        grade1 = true;
                        word_mode = true;
                    }
                }
                in_number = false;
                sink.sign(s.sign, print, "");
                if !one {
                    sink.sign(know.group_open, at..at, "");
                }
            }
            Kind::IndexEnd => {
                in_number = false;
                let start = index_start(symbols, i, range.start);
                let inner = &symbols[(start + 1).min(i)..i];
                let number = !inner.is_empty()
                    && inner
                        .iter()
                        .all(|s| s.kind == Kind::Digit || matches!(s.ch, '.' | ',') && s.kind == Kind::Stop);
                if !(inner.len() == 1 || number) {
                    sink.sign(know.group_close, print, "");
                }
            }
            Kind::OpenQuote if grade1 && s.sign == know.one_open => {
                // In grade 1 mode it would be read as a question mark (7.6.7); its partner follows suit (7.6.3).
                in_number = false;
                if let Some(close) = quotes::partner(symbols, i) {
                    room.specific.push(close);
                }
                sink.sign(quotes::specific(s), print, "7.6.7");
            }
            Kind::CloseQuote if s.sign == know.one_close && room.specific.contains(&i) => {
                in_number = false;
                sink.sign(quotes::specific(s), print, "7.6.3");
            }
            Kind::Unhandled => {
                in_number = false;
                sink.unhandled(at, s.ch);
                sink.sign(s.sign, print, "");
            }
            _ => {
                in_number = false;
                let figure = technical::figure(s.ch);
                let confusing = punctuation::word_like(symbols, &range, i, s.sign);
                if !grade1 && contracted && (figure.is_some() || confusing || symbols::needs_grade1(s)) {
                    room.guarded(i, 1);
                    sink.sign(know.grade1, at..at, if figure.is_some() { "2.4.4" } else { "7.1.3" });
                }
                if let Some(figure) = figure {
                    let (last, before) = figure.signs.split_last().unwrap_or((&s.sign, &[]));
                    for &sign in before {
                        sink.sign(sign, at..at, "");
                    }
                    let end = print.end;
                    sink.sign(*last, print, "");
                    if figure.shape && i + 1 < range.end {
                        sink.sign(know.shape_end, end..end, "11.7.1");
                    }
                } else {
                    sink.sign(s.sign, print, "");
                }
            }
        }
        if s.capital_end {
            let end = (s.at + s.len) as usize;
            sink.sign(know.capital_end, end..end, "");
        }
        i += 1;
    }
    (room.carry.number, room.carry.grade1, room.carry.grade1_word) = (in_number, grade1, word_mode);
    let end = symbols.get(range.end.wrapping_sub(1)).map_or(0, |s| (s.at + s.len) as usize);
    while face < faces.len() && faces[face].before <= range.end && faces[face].before > range.start {
        if symbols::terminator(faces[face].sign) {
            sink.sign(faces[face].sign, end..end, "");
            face += 1;
        } else {
            break;
        }
    }
    last_lower
}

/// Whether what stands before a point shows it to be a decimal point: a hyphen or dash that is a minus, or joins it to
/// the number before.
fn number_joins(before: &[Symbol]) -> bool {
    match before {
        [.., number, join] if matches!(join.kind, Kind::Hyphen | Kind::Dash) => {
            number.kind == Kind::Digit || before_ok(number)
        }
        [join] => matches!(join.kind, Kind::Hyphen | Kind::Dash),
        _ => false,
    }
}

/// Whether the stop at `i` is the last of three, an ellipsis (7.3).
fn ellipsis(symbols: &[Symbol], range: &Range<usize>, i: usize) -> bool {
    let dots =
        symbols[range.start..=i].iter().rev().take(3).take_while(|s| s.ch == '.' && s.kind == Kind::Stop);
    dots.count() == 3
}
