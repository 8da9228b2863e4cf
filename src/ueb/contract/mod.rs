//! The choice of contractions inside one letters-sequence (sections 10.3 to 10.11).
//!
//! The engine finds the letters-sequences and asks [`choose`] once for each. Wordsigns that stand for the whole
//! sequence (10.1, 10.2, 10.5) are the engine's; everything shorter, and shortforms (10.9), is chosen here.

use std::sync::OnceLock;

use super::register::{self, Class, SignId};

mod rules;
pub mod seams;
pub mod shortforms;

/// One letter of a letters-sequence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Letter {
    /// The letter in lower case.
    pub ch: char,
    /// Unmodified, so that it may take part in a contraction (4.2, 4.3).
    pub plain: bool,
    /// A capitals or typeform indicator or terminator, or another grade 1 sign, stands directly before it: lower
    /// groupsigns (10.6.5) and final-letter groupsigns (10.8) are barred there, and a contraction may begin here
    /// but not span it.
    pub mark_before: bool,
    /// The caller keeps this letter out of contractions (the letter itself must be written).
    pub alone: bool,
}

/// What stands around a letters-sequence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Context {
    /// The first letter begins a word in the sense of 10.6.1: space, hyphen, dash or opening punctuation and
    /// indicators before it.
    pub word_start: bool,
    /// The last letter ends a word: nothing but closing punctuation, apostrophe, hyphen, dash or space after it.
    pub word_end: bool,
    /// The whole sequence stands alone (2.6), so that a shortform may be used (10.9.1).
    pub standing_alone: bool,
    /// Nothing else in the symbols-sequence is written with an upper dot: 10.6.8 and 10.10.10.
    pub needs_upper: bool,
}

/// One sign chosen, and how many letters it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// The sign.
    pub sign: SignId,
    /// How many letters it stands for.
    pub len: u8,
    /// The section that asks for it; empty where the register's section serves.
    pub section: &'static str,
}

/// A contraction whose letters stand in the sequence and that was not used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Passed {
    /// The contraction.
    pub sign: SignId,
    /// Its first letter's place in the sequence.
    pub at: usize,
    /// How many letters it has.
    pub len: usize,
    /// The section that bars it or prefers another.
    pub section: &'static str,
    /// The reason in a few plain words.
    pub why: &'static str,
}

/// A contraction that may stand for part of a word.
struct Candidate {
    letters: &'static [u8],
    sign: SignId,
    class: Class,
    cells: u32,
}

/// The contractions by their first letter, a to z.
fn candidates() -> &'static [Vec<Candidate>; 26] {
    static CANDIDATES: OnceLock<[Vec<Candidate>; 26]> = OnceLock::new();
    CANDIDATES.get_or_init(|| {
        let mut table: [Vec<Candidate>; 26] = Default::default();
        for sign in register::signs() {
            let part = matches!(
                sign.class,
                Class::StrongContraction
                    | Class::StrongGroupsign
                    | Class::LowerGroupsign
                    | Class::InitialLetterContraction
                    | Class::FinalLetterGroupsign
            );
            let letters = sign.print.as_bytes();
            if part && letters.first().is_some_and(u8::is_ascii_lowercase) {
                table[usize::from(letters[0] - b'a')].push(Candidate {
                    letters,
                    sign: sign.id,
                    class: sign.class,
                    cells: sign.cells.len() as u32,
                });
            }
        }
        table
    })
}

/// What a way of writing costs: cells first (10.10.2), then the order of preference (10.10.3 to 10.10.7), in the low
/// bits.
const CELL: u32 = 1 << 8;

fn preference(class: Class, letters: &[u8], rest: &[u8]) -> u32 {
    match class {
        Class::StrongContraction => 0,
        Class::LowerGroupsign if matches!(letters, b"be" | b"con" | b"dis") => 0,
        Class::StrongGroupsign => 1,
        Class::LowerGroupsign => 2,
        // 10.10.6: encea, enced, encer.
        Class::FinalLetterGroupsign
            if letters == b"ence" && matches!(rest.first(), Some(b'a' | b'd' | b'r')) =>
        {
            0
        }
        _ => 3,
    }
}

/// Chooses the signs for one letters-sequence of plain letters `a` to `z`; letters that take no contraction are left
/// to the caller as parts with `sign` the letter's own. The parts cover every letter once.
///
/// `passed` is filled only when given; the choice is the same either way. Time grows linearly with the letters.
pub fn choose(letters: &[Letter], context: &Context, out: &mut Vec<Part>, passed: Option<&mut Vec<Passed>>) {
    let word: Vec<u8> = letters
        .iter()
        .map(|l| if l.plain && !l.alone && l.ch.is_ascii_lowercase() { l.ch as u8 } else { b'?' })
        .collect();
    let n = word.len();
    let marked = |at: usize| at > 0 && at < n && letters[at].mark_before;
    let inner_mark = (1..n).any(marked);
    let shortforms = match std::str::from_utf8(&word) {
        Ok(text) if context.standing_alone && n > 1 && !inner_mark && !word.contains(&b'?') => {
            shortforms::places(text)
        }
        _ => Vec::new(),
    };
    let seams = seams::of(&word);

    // From the end: the least cost of writing the letters from each place on, and the sign that begins it.
    let mut best: Vec<(u32, u8, Option<SignId>)> = vec![(0, 0, None); n + 1];
    let mut refused: Vec<Passed> = Vec::new();
    let wanted = passed.is_some();
    for at in (0..n).rev() {
        best[at] = (best[at + 1].0.saturating_add(CELL), 1, None);
        if let Some(&(_, len, sign, _)) = shortforms.iter().find(|&&(from, ..)| from == at) {
            best[at] = (best[at + len].0, len as u8, Some(sign));
            continue;
        }
        let inside = |len: usize| {
            shortforms.iter().any(|&(from, ..)| from > at && from < at + len)
                || shortforms.iter().any(|&(from, long, ..)| from <= at && at < from + long)
        };
        if !word[at].is_ascii_lowercase() {
            continue;
        }
        for candidate in &candidates()[usize::from(word[at] - b'a')] {
            let len = candidate.letters.len();
            if !word[at..].starts_with(candidate.letters) {
                continue;
            }
            let place = rules::Place {
                word: &word,
                at,
                len,
                word_start: context.word_start,
                standing_alone: context.standing_alone,
                mark_before: marked(at),
                mark_after: marked(at + len),
                permitted: seams.permits(at, len),
            };
            let bar = if inside(len) {
                Some(("10.9.2", "the shortform is used"))
            } else if (at + 1..at + len).any(marked) {
                Some(("10.12.12", "an indicator stands within the letters"))
            } else if seams.bars(at, len) {
                Some(seams.section(candidate.class, candidate.letters))
            } else {
                rules::bar(candidate.class, &place)
            };
            if let Some((section, why)) = bar {
                if wanted {
                    refused.push(Passed { sign: candidate.sign, at, len, section, why });
                }
                continue;
            }
            let cost = best[at + len].0.saturating_add(
                candidate.cells * CELL
                    + preference(candidate.class, candidate.letters, place_rest(&word, at + len)),
            );
            if cost < best[at].0 {
                best[at] = (cost, len as u8, Some(candidate.sign));
            }
        }
    }

    let first = out.len();
    let mut at = 0;
    while at < n {
        let (_, len, sign) = best[at];
        let section = shortforms.iter().find(|place| place.0 == at).map_or("", |place| place.3);
        let sign = sign.unwrap_or_else(|| register::letter(letters[at].ch));
        out.push(Part { sign, len, section });
        at += usize::from(len);
    }
    spell_last_lower(letters, context, first, out);
    if let Some(passed) = passed {
        refused.extend(unchosen(&word, &out[first..], &refused));
        refused.sort_by_key(|place| (place.at, std::cmp::Reverse(place.len)));
        passed.append(&mut refused);
    }
}

fn place_rest(word: &[u8], from: usize) -> &[u8] {
    &word[from.min(word.len())..]
}

/// 10.10.10: a sequence of lower signs only does not end in a lower groupsign.
fn spell_last_lower(letters: &[Letter], context: &Context, first: usize, out: &mut Vec<Part>) {
    let lower = |part: &Part| register::get(part.sign).cells.iter().all(|cell| cell.is_lower());
    if !context.needs_upper || out[first..].is_empty() || !out[first..].iter().all(lower) {
        return;
    }
    if let Some(last) = out.pop() {
        for letter in &letters[letters.len() - usize::from(last.len)..] {
            out.push(Part { sign: register::letter(letter.ch), len: 1, section: "10.10.10" });
        }
    }
}

/// Contractions that no rule bars and that gave way to others.
fn unchosen(word: &[u8], parts: &[Part], refused: &[Passed]) -> Vec<Passed> {
    let mut out = Vec::new();
    let mut begins = vec![None; word.len() + 1];
    let mut at = 0;
    for part in parts {
        begins[at] = Some(part);
        at += usize::from(part.len);
    }
    for at in 0..word.len() {
        if !word[at].is_ascii_lowercase() {
            continue;
        }
        for candidate in &candidates()[usize::from(word[at] - b'a')] {
            let len = candidate.letters.len();
            let chosen = begins[at].is_some_and(|part| part.sign == candidate.sign);
            let barred = refused.iter().any(|passed| passed.at == at && passed.sign == candidate.sign);
            if word[at..].starts_with(candidate.letters) && !chosen && !barred {
                let (section, why) = match candidate.class {
                    Class::LowerGroupsign => ("10.10.5", "another sign is preferred"),
                    Class::InitialLetterContraction | Class::FinalLetterGroupsign => {
                        ("10.10.7", "another sign is preferred")
                    }
                    _ => ("10.10.2", "another sign takes fewer cells"),
                };
                out.push(Passed { sign: candidate.sign, at, len, section, why });
            }
        }
    }
    out
}

#[cfg(test)]
mod tests;
