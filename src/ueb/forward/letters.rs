//! Writes one letters-sequence: capitals, modifiers, contractions (4, 8, 10).

use super::super::register;
use super::known::known;
use super::sequence::{FaceMark, Room, Run};
use super::sink::Sink;
use super::symbols::{Symbol, TIES};
use super::wordsigns::not_alone;

/// Writes one letters-sequence; `room.parts` holds its contractions. True when a lower contraction was used.
pub(crate) fn letters<S: Sink>(
    symbols: &[Symbol],
    run: &Run,
    faces: &[FaceMark],
    face: &mut usize,
    contracted: bool,
    room: &Room,
    sink: &mut S,
) -> bool {
    let know = known();
    let mut lower = false;
    let mut i = run.range.start;
    let mut part = 0;
    while i < run.range.end {
        let s = &symbols[i];
        let at = s.at as usize;
        while *face < faces.len() && faces[*face].before <= i {
            sink.sign(faces[*face].sign, at..at, "");
            *face += 1;
        }
        // The second letter of a ligature has its indicator before the ligature's (4.3.3).
        let joined = i > run.range.start && symbols[i - 1].ligature;
        let capital = match s.capital {
            1 if joined => None,
            1 => Some(know.capital_letter),
            2 => Some(if run_of_one(symbols, run, i) { know.capital_letter } else { know.capital_word }),
            3 => Some(know.capital_passage),
            _ => None,
        };
        if let Some(sign) = capital {
            sink.sign(sign, at..at, "");
        }
        if s.stands_in && s.len > 0 {
            sink.unhandled(at, 'ß');
        }
        for modifier in s.modifiers.iter().flatten() {
            sink.sign(*modifier, at..at, "");
        }
        if s.group {
            sink.sign(know.group_open, at..at, "4.2.5");
        }
        let (sign, len, section) = if let (Some(sign), true) = (run.wordsign, contracted) {
            (sign, run.range.len(), "")
        } else if contracted && part < room.parts.len() {
            let p = room.parts[part];
            part += 1;
            if p.len > 1 { (p.sign, usize::from(p.len), p.section) } else { (s.sign, 1, "") }
        } else {
            (s.sign, 1, "")
        };
        if s.ligature && len == 1 {
            let end = at + s.len as usize;
            sink.sign(s.sign, at..end, "");
            if i + 1 == run.range.end {
                // A tie to nothing.
                sink.unhandled(end - 1, TIES[0]);
                sink.sign(know.unhandled, end..end, "");
            } else {
                let capital = symbols[i + 1].capital == 1;
                sink.sign(if capital { know.capital_ligature } else { know.ligature }, end..end, "");
            }
        } else {
            let last = &symbols[(i + len - 1).min(symbols.len() - 1)];
            sink.sign(sign, at..(last.at + last.len) as usize, section);
        }
        if len > 1 {
            let sign = register::get(sign);
            lower |= sign.cells.iter().all(|c| !c.is_upper());
        }
        let last = &symbols[i + len - 1];
        if i > run.range.start && symbols[i - 1].group {
            let end = (last.at + last.len) as usize;
            sink.sign(know.group_close, end..end, "4.2.5");
        }
        if last.capital_end {
            let end = (last.at + last.len) as usize;
            sink.sign(know.capital_end, end..end, "");
        }
        i += len;
    }
    if S::REASONS && contracted && run.wordsign.is_none() {
        let word = not_alone(symbols, run, room, sink);
        // Of "in" as a word the wordsign is told, and not the groupsign too.
        for passed in room.passed.iter().filter(|passed| !word || passed.len < run.range.len()) {
            let first = &symbols[(run.range.start + passed.at).min(run.range.end - 1)];
            let last = &symbols[(run.range.start + passed.at + passed.len.max(1) - 1).min(run.range.end - 1)];
            sink.passed(*passed, first.at as usize..(last.at + last.len) as usize);
        }
    }
    lower
}

/// A capitals word indicator never stands before one letter only.
fn run_of_one(symbols: &[Symbol], run: &Run, i: usize) -> bool {
    let goes_on = i + 1 < run.range.end && symbols[i + 1].upper && symbols[i + 1].capital == 0;
    !goes_on
}
