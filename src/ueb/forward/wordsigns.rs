//! Wordsigns, and what must not be read as one or as a shortform (10.1, 10.2, 10.5, 10.9.4 to 10.9.6).

use std::collections::HashMap;
use std::hash::BuildHasherDefault;
use std::ops::Range;
use std::sync::OnceLock;

use super::super::Edition;
use super::super::back;
use super::super::contract::{Part, Passed, shortforms};
use super::super::register::{self, Class, SignId};
use super::contractions::{in_parts, is_acronym};
use super::faces::marked_at;
use super::memory::Quick;
use super::plan::{Contractions, Plan, Run, Sequence, Way};
use super::sink::Sink;
use super::syllables::{self, Joined};
use super::symbols::{Kind, Symbol};
use crate::cell::Cell;

type Table<V> = HashMap<&'static str, V, BuildHasherDefault<Quick>>;

fn wordsigns() -> &'static Table<(SignId, Class)> {
    static MAP: OnceLock<Table<(SignId, Class)>> = OnceLock::new();
    MAP.get_or_init(|| {
        register::signs()
            .iter()
            .filter(|s| {
                matches!(s.class, Class::AlphabeticWordsign | Class::StrongWordsign | Class::LowerWordsign)
            })
            .map(|s| (s.print, (s.id, s.class)))
            .collect()
    })
}

/// A word with more letters cannot be read as holding a shortform: readers look no further than sixty cells.
const LOOKED_AT: usize = 96;

/// The longest word that has a wordsign.
const LONGEST: usize = "knowledge".len();

fn wordsign(word: &str) -> Option<&'static (SignId, Class)> {
    if word.len() > LONGEST { None } else { wordsigns().get(word) }
}

/// Wordsign, guard or neither for one letters-sequence.
pub(crate) fn decide(sequence: &Sequence, k: usize, plan: &mut Plan) {
    let Plan { runs, contractions, .. } = plan;
    let run = &runs[k];
    let letters = &sequence.symbols[run.range.clone()];
    if run.numeric || !sequence.contracted || !run.left || letters.iter().any(|s| !s.plain()) {
        return;
    }
    if let [letter] = letters {
        runs[k].guard = run.suffix && !matches!(letter.ch, 'a' | 'i' | 'o');
        return;
    }
    if letters.len() > LOOKED_AT || !run.affix {
        return;
    }
    let wordsign = own_wordsign(sequence, k, runs);
    if wordsign.is_some() {
        runs[k].wordsign = wordsign;
    } else if !marked_inside(sequence, run) {
        not_misread(sequence, k, &mut runs[k], contractions);
    } else if sequence.edition == Edition::Third && in_parts(letters) {
        guard_parts(sequence, k, &mut runs[k], contractions);
    }
}

/// Whether an indicator stands within a letters-sequence.
fn marked_inside(sequence: &Sequence, run: &Run) -> bool {
    let symbols = sequence.symbols;
    (run.range.start + 1..run.range.end).any(|i| {
        matches!(symbols[i].capital, 1 | 2) || symbols[i - 1].capital_end || marked_at(sequence.faces, i)
    })
}

/// The wordsign of a letters-sequence that may have one where it stands.
fn own_wordsign(sequence: &Sequence, k: usize, runs: &[Run]) -> Option<SignId> {
    let run = &runs[k];
    let letters = &sequence.symbols[run.range.clone()];
    let mut text = [0u8; LONGEST];
    for (slot, s) in text.get_mut(..letters.len())?.iter_mut().zip(letters) {
        *slot = s.ch as u8;
    }
    let text = std::str::from_utf8(&text[..letters.len()]).unwrap_or("");
    let &(sign, class) = wordsign(text)?;
    // In one piece, and no abbreviation.
    let singly = sequence.way != Way::Contracted(k) && is_acronym(sequence, &run.range);
    if marked_inside(sequence, run) || singly || sequence.way == Way::Spelled(k) {
        return None;
    }
    let lower_neighbour =
        |place: Option<usize>| place.and_then(|place| sequence.get(place)).is_some_and(Symbol::lower);
    let allowed = match (class, text) {
        (Class::LowerWordsign, "in") => true,
        (Class::LowerWordsign, "enough") => run.right || run.possessive,
        (Class::LowerWordsign, _) => {
            run.right
                && !lower_neighbour(run.range.start.checked_sub(1))
                && !lower_neighbour(Some(run.range.end))
        }
        (Class::AlphabeticWordsign, _) => {
            run.suffix
                && match syllables::around(sequence, &run.range, runs) {
                    Joined::Compound => true,
                    Joined::Syllables => false,
                    Joined::Either => sequence.way != Way::Syllables,
                }
        }
        _ => run.suffix,
    };
    allowed.then_some(sign)
}

/// A letters-sequence that stands alone is not to be read as a shortform, or as containing one (10.9.4 to 10.9.6). No
/// shortform spans an indicator.
fn not_misread(sequence: &Sequence, k: usize, run: &mut Run, contractions: &mut Contractions) {
    // Letters taken out of their groupsigns may leave another such place after them, once for each letter at most.
    for _ in 0..shortforms::LONGEST {
        contractions.choose(sequence, k, run);
        match misread(&contractions.parts) {
            None => return,
            Some(Misread::Written) => run.no_shortform = true,
            Some(Misread::Grouped(letters)) if run.alone.is_empty() => run.alone = letters,
            Some(Misread::Grouped(letters)) => {
                run.alone = run.alone.start.min(letters.start)..run.alone.end.max(letters.end);
            }
            Some(Misread::Spelt(at)) => {
                if at == 0 {
                    run.guard = true;
                } else {
                    run.guard_word = true;
                }
                // In grade 1 mode no shortform is read.
                run.no_shortform = true;
                return;
            }
        }
    }
}

/// Where a part of a word in parts would be read as a shortform that is not meant, the word is in grade 1 mode (10.9.6).
fn guard_parts(sequence: &Sequence, k: usize, run: &mut Run, contractions: &mut Contractions) {
    contractions.choose(sequence, k, run);
    let parts = &contractions.parts;
    let mut begins = run.range.start;
    let mut from = 0;
    for at in 1..=parts.len() {
        begins += usize::from(parts[at - 1].len);
        if at == parts.len() || sequence.symbols[begins].upper {
            if misread(&parts[from..at]).is_some() {
                run.guard_word = true;
                run.no_shortform = true;
                return;
            }
            from = at;
        }
    }
}

/// How a letters-sequence that stands alone would be misread.
enum Misread {
    /// As a shortform that is not meant, one of whose cells is a groupsign: the letters there.
    Grouped(Range<usize>),
    /// As a shortform in the place of letters, the first of them this one.
    Spelt(usize),
    /// Without a shortform that is meant.
    Written,
}

/// What a reader sees in the cells of these parts that is not meant.
fn misread(parts: &[Part]) -> Option<Misread> {
    let cells: Vec<Cell> = parts.iter().flat_map(|part| &register::get(part.sign).cells).copied().collect();
    let read = back::shortforms_in(&cells);
    // Each part with its cells and letters.
    let (mut cell, mut letter) = (0, 0);
    let placed: Vec<(&Part, Range<usize>, Range<usize>)> = parts
        .iter()
        .map(|part| {
            let (cells, letters) = (cell, letter);
            cell += register::get(part.sign).cells.len();
            letter += usize::from(part.len);
            (part, cells..cell, letters..letter)
        })
        .collect();
    let meant = |seen: &(Range<usize>, SignId)| {
        placed.iter().any(|(part, cells, _)| part.sign == seen.1 && *cells == seen.0)
    };
    let unmeant: Vec<Range<usize>> =
        read.iter().filter(|seen| !meant(seen)).map(|seen| seen.0.clone()).collect();
    if !unmeant.is_empty() {
        let held = |seen: &Range<usize>| -> Option<(Range<usize>, bool)> {
            let held =
                || placed.iter().filter(|(_, cells, _)| seen.start < cells.end && cells.start < seen.end);
            let from = held().map(|(.., letters)| letters.start).min()?;
            let to = held().map(|(.., letters)| letters.end).max()?;
            Some((from..to, held().any(|(part, ..)| part.len > 1)))
        };
        let all: Vec<(Range<usize>, bool)> = unmeant.iter().filter_map(held).collect();
        let (first, grouped) = all.first()?;
        if !grouped {
            return Some(Misread::Spelt(first.start));
        }
        let last = all.iter().filter(|(_, grouped)| *grouped).map(|(letters, _)| letters.end).max()?;
        return Some(Misread::Grouped(first.start..last));
    }
    let written = parts.iter().filter(|part| register::get(part.sign).class == Class::Shortform).count();
    (written != read.len()).then_some(Misread::Written)
}

/// A word that has a wordsign and is written without it. True when there was one to tell of.
pub(crate) fn not_alone<S: Sink>(sequence: &Sequence, run: &Run, runs: &[Run], sink: &mut S) -> bool {
    let symbols = sequence.symbols;
    if run.range.len() > LONGEST {
        return false;
    }
    let word: String = symbols[run.range.clone()].iter().map(|s| s.ch).collect();
    let Some(&(sign, class)) = wordsign(&word) else { return false };
    let apostrophe = symbols.get(run.range.end).is_some_and(|s| s.kind == Kind::Apostrophe);
    let (section, why) = match (class, word.as_str()) {
        _ if is_acronym(sequence, &run.range) => (
            if class == Class::AlphabeticWordsign { "10.1.3" } else { "10.12.1" },
            "the letters are said one by one",
        ),
        (Class::AlphabeticWordsign, _)
            if run.suffix && syllables::around(sequence, &run.range, runs) != Joined::Compound =>
        {
            ("10.1.4", "the hyphens show a word in its syllables")
        }
        (Class::AlphabeticWordsign, _) if run.affix && !run.suffix && apostrophe => {
            ("10.1.2", AFTER_APOSTROPHE)
        }
        (Class::StrongWordsign, _) if run.affix && !run.suffix && apostrophe => ("10.2.2", AFTER_APOSTROPHE),
        (Class::AlphabeticWordsign, _) => ("10.1.1", "the word does not stand alone"),
        (Class::StrongWordsign, _) => ("10.2.1", "the word does not stand alone"),
        (_, "in") => ("10.5.3", "no sign beside it has an upper dot"),
        (_, "enough") if run.left && run.right => ("10.5.4", "no sign beside it has an upper dot"),
        (_, "enough") => ("10.5.2", "the word does not stand alone"),
        _ if run.left && run.right => ("10.5.1", "it touches a sign with lower dots only"),
        _ => ("10.5.1", "the word does not stand alone"),
    };
    let first = &symbols[run.range.start];
    let last = &symbols[run.range.end - 1];
    let passed = Passed { sign, at: 0, len: run.range.len(), section, why };
    sink.passed(passed, first.at as usize..(last.at + last.len) as usize);
    true
}

/// Why a word before an apostrophe has no wordsign (10.1.2, 10.2.2).
const AFTER_APOSTROPHE: &str = "only before ’d, ’ll, ’re, ’s, ’t or ’ve";
