//! Wordsigns, and what must not be read as one or as a shortform (10.1, 10.2, 10.5, 10.9.4 to 10.9.6).

use std::collections::HashMap;
use std::ops::Range;
use std::sync::OnceLock;

use super::super::contract::{Part, Passed};
use super::super::register::{self, Class, SignId};
use super::sequence::{FaceMark, Room, Run, choose};
use super::sink::Sink;
use super::symbols::{Kind, Symbol};
use crate::cell::Cell;

fn wordsigns() -> &'static HashMap<&'static str, (SignId, Class)> {
    static MAP: OnceLock<HashMap<&'static str, (SignId, Class)>> = OnceLock::new();
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

fn shortform_cells() -> &'static HashMap<&'static [Cell], SignId> {
    static MAP: OnceLock<HashMap<&'static [Cell], SignId>> = OnceLock::new();
    MAP.get_or_init(|| {
        register::signs()
            .iter()
            .filter(|s| s.class == Class::Shortform)
            .map(|s| (s.cells.as_slice(), s.id))
            .collect()
    })
}

/// Shortforms that take no added s.
const NO_PLURAL: [&str; 3] = ["about", "almost", "him"];

/// Pieces that are syllables and never words by themselves.
const SYLLABLES: [&str; 20] = [
    "ing", "tion", "sion", "ton", "ev", "er", "est", "ed", "ly", "ble", "ment", "ness", "ful", "ty", "ry",
    "ic", "ous", "tive", "ture", "ny",
];

/// Whether the hyphens show a word in its syllables (10.1.4).
fn in_syllables(symbols: &[Symbol], room: &Room) -> bool {
    room.runs.len() > 1
        && room.runs.len() < 12
        && room.runs.iter().skip(1).any(|r| {
            symbols[r.range.start - 1].kind == Kind::Hyphen
                && SYLLABLES.iter().any(|s| s.chars().eq(symbols[r.range.clone()].iter().map(|s| s.ch)))
        })
}

/// Wordsign, guard or neither for one letters-sequence.
pub(crate) fn decide(
    symbols: &[Symbol],
    range: &Range<usize>,
    k: usize,
    faces: &[FaceMark],
    contracted: bool,
    room: &mut Room,
) {
    let run = room.runs[k].clone();
    if run.numeric || !contracted || !run.left {
        return;
    }
    let letters = &symbols[run.range.clone()];
    if letters.iter().any(|s| !s.plain()) {
        return;
    }
    let whole = !letters[1..].iter().any(|s| s.capital == 1 || s.capital == 2)
        && !letters[..letters.len() - 1].iter().any(|s| s.capital_end)
        && faces.partition_point(|f| f.before <= run.range.start)
            == faces.partition_point(|f| f.before < run.range.end);
    if letters.len() == 1 {
        let c = letters[0].ch;
        room.runs[k].guard = run.suffix && !matches!(c, 'a' | 'i' | 'o');
        return;
    }
    if letters.len() > 24 || !run.affix {
        return;
    }
    let mut text = [0u8; 24];
    for (slot, s) in text.iter_mut().zip(letters) {
        *slot = s.ch as u8;
    }
    let text = std::str::from_utf8(&text[..letters.len()]).unwrap_or("");
    if let (Some(&(sign, class)), true) = (wordsigns().get(text), whole) {
        let lower_neighbour = |s: Option<&Symbol>| s.is_some_and(|s| s.kind != Kind::Space && s.lower());
        let allowed = match (class, text) {
            (Class::LowerWordsign, "in") => true,
            (Class::LowerWordsign, "enough") => run.suffix,
            (Class::LowerWordsign, _) => {
                run.right
                    && !(run.range.start > range.start && lower_neighbour(symbols.get(run.range.start - 1)))
                    && !(run.range.end < range.end && lower_neighbour(symbols.get(run.range.end)))
            }
            (Class::AlphabeticWordsign, _) => run.suffix && !in_syllables(symbols, room),
            _ => run.suffix,
        };
        if allowed {
            room.runs[k].wordsign = Some(sign);
            return;
        }
    }
    // Could it be read as a shortform, or as containing one (10.9.5, 10.9.6)?
    choose(symbols, range, k, faces, room);
    if room.parts.iter().any(|p| register::get(p.sign).class == Class::Shortform) {
        return;
    }
    let mut cells: Vec<Cell> = Vec::new();
    for part in &room.parts {
        cells.extend_from_slice(&register::get(part.sign).cells);
    }
    if shortform_cells().contains_key(cells.as_slice()) {
        // A groupsign that would make up the shortform is left out (10.9.4); else the indicator (10.9.5).
        if room.parts.iter().any(|p| p.len > 1) {
            room.runs[k].spell = true;
            room.chosen = None;
        } else {
            room.runs[k].guard = true;
        }
        return;
    }
    if let (Some(form), true) = (text.strip_suffix('s').and(cells.split_last()).map(|c| c.1), whole) {
        let plural =
            shortform_cells().get(form).is_some_and(|&s| !NO_PLURAL.contains(&register::get(s).print));
        if plural && room.parts.iter().all(|p| p.len == 1) {
            room.runs[k].guard = true;
            return;
        }
    }
    let mut at = 0;
    let mut taken = 0;
    for p in 0..room.parts.len() {
        let rest = &cells[at..];
        for (form, anywhere, vowels) in reading_forms() {
            if rest.len() > form.len() && rest.starts_with(form) || at > 0 && rest == form.as_slice() {
                let next = letters_after(&room.parts, p, form.len(), taken, text);
                let barred = !*vowels && next.is_some_and(|c| "aeiouy".contains(c));
                if (*anywhere || at == 0) && !barred {
                    if at == 0 {
                        room.runs[k].guard = true;
                    } else {
                        room.runs[k].guard_word = true;
                    }
                    return;
                }
            }
        }
        at += register::get(room.parts[p].sign).cells.len();
        taken += usize::from(room.parts[p].len);
    }
}

/// The print letter that follows the signs which fill `cells` cells from part `p` on.
fn letters_after(parts: &[Part], p: usize, cells: usize, taken: usize, text: &str) -> Option<char> {
    let (mut filled, mut letters) = (0, taken);
    for part in &parts[p..] {
        if filled >= cells {
            break;
        }
        filled += register::get(part.sign).cells.len();
        letters += usize::from(part.len);
    }
    text[letters.min(text.len())..].chars().next()
}

/// The shortforms that are read inside longer words (10.9.3): cells, anywhere or at the beginning only, and whether
/// a vowel may follow.
fn reading_forms() -> &'static [(Vec<Cell>, bool, bool)] {
    static FORMS: OnceLock<Vec<(Vec<Cell>, bool, bool)>> = OnceLock::new();
    FORMS.get_or_init(|| {
        [
            ("braille", true, true),
            ("great", true, true),
            ("children", true, false),
            ("blind", false, false),
            ("first", false, false),
            ("friend", false, false),
            ("good", false, false),
            ("letter", false, false),
            ("little", false, false),
            ("quick", false, false),
        ]
        .iter()
        .filter_map(|&(word, anywhere, vowel)| {
            Some((register::by_key(&format!("shortform {word}"))?.cells.clone(), anywhere, vowel))
        })
        .collect()
    })
}

/// A word that has a wordsign and is written without it.
pub(crate) fn not_alone<S: Sink>(symbols: &[Symbol], run: &Run, sink: &mut S) {
    let word: String = symbols[run.range.clone()].iter().map(|s| s.ch).collect();
    let Some(&(sign, class)) = wordsigns().get(word.as_str()) else { return };
    let (section, why) = match class {
        Class::AlphabeticWordsign => ("10.1.1", "the word does not stand alone"),
        Class::StrongWordsign => ("10.2.1", "the word does not stand alone"),
        _ if run.left && run.right => ("10.5.1", "it touches a sign with lower dots only"),
        _ => ("10.5.1", "the word does not stand alone"),
    };
    let first = &symbols[run.range.start];
    let last = &symbols[run.range.end - 1];
    let passed = Passed { sign, at: 0, len: run.range.len(), section, why };
    sink.passed(passed, first.at as usize..(last.at + last.len) as usize);
}
