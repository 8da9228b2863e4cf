//! Wordsigns, and what must not be read as one or as a shortform (10.1, 10.2, 10.5, 10.9.4 to 10.9.6).

use std::collections::HashMap;
use std::hash::BuildHasherDefault;
use std::ops::Range;
use std::sync::OnceLock;

use super::super::back;
use super::super::contract::{Part, Passed};
use super::super::register::{self, Class, SignId};
use super::choices::Tweak;
use super::memory::Quick;
use super::sequence::{FaceMark, Room, Run, choose, is_acronym, marked_at};
use super::sink::Sink;
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

/// A word with more letters cannot be read as holding a shortform: readers look no further than thirty cells.
const LOOKED_AT: usize = 96;

/// The longest word that has a wordsign.
const LONGEST: usize = "knowledge".len();

fn wordsign(word: &str) -> Option<&'static (SignId, Class)> {
    if word.len() > LONGEST { None } else { wordsigns().get(word) }
}

/// Pieces that are syllables and never words by themselves.
const SYLLABLES: &str = " al ance ber ble cal cer cher cial cian cious cle cy der ding dle dor dy ed ence eous er ers \
    est ev fle ful fy ger gious gle gy ible ic ify ing ings ious ise ish ism ist ity ize ker ket kle ler ling ly \
    ment mer ming nal ner ness ning non ny ous ple py ral ry ser sher sian sion sions sor sy tain tal ter ters ther tial \
    tian tic ting tion tions tious tive tle ton tor ture ty uous vas ver ving zle ";

/// Whether the hyphens show a word in its syllables (10.1.4).
fn in_syllables(symbols: &[Symbol], room: &Room) -> bool {
    room.runs.len() > 1
        && room.runs.len() < 12
        && room.begun.is_none()
        && !room.goes_on
        && room.runs.iter().skip(1).any(|r| {
            symbols[r.range.start - 1].kind == Kind::Hyphen && r.range.len() <= LONGEST_SYLLABLE && {
                let piece: String = symbols[r.range.clone()].iter().map(|s| s.ch).collect();
                SYLLABLES.split(' ').any(|syllable| syllable == piece)
            }
        })
}

/// No syllable of them has more letters.
const LONGEST_SYLLABLE: usize = 5;

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
    if letters.len() > LOOKED_AT || !run.affix {
        return;
    }
    let mut text = [0u8; LOOKED_AT];
    for (slot, s) in text.iter_mut().zip(letters) {
        *slot = s.ch as u8;
    }
    let text = std::str::from_utf8(&text[..letters.len()]).unwrap_or("");
    if let (Some(&(sign, class)), true) =
        (wordsign(text), whole && !is_acronym(letters, &room.acronyms) && room.tweak != Tweak::Spelled(k))
    {
        let lower_neighbour = |s: Option<&Symbol>| s.is_some_and(|s| s.kind != Kind::Space && s.lower());
        let allowed = match (class, text) {
            (Class::LowerWordsign, "in") => true,
            (Class::LowerWordsign, "enough") => run.right || run.possessive,
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
    // Could it be read as a shortform, or as containing one (10.9.4 to 10.9.6)? No shortform spans an indicator.
    let marked =
        |i: usize| matches!(symbols[i].capital, 1 | 2) || symbols[i - 1].capital_end || marked_at(faces, i);
    if (run.range.start + 1..run.range.end).any(marked) {
        return;
    }
    // Letters taken out of their groupsigns may leave another such place after them.
    for _ in 0..4 {
        choose(symbols, range, k, faces, room);
        match misread(&room.parts) {
            None => break,
            Some(Misread::Written) => room.runs[k].no_shortform = true,
            Some(Misread::Grouped(letters)) => {
                let alone = &mut room.runs[k].alone;
                *alone = if alone.start == alone.end {
                    letters
                } else {
                    alone.start.min(letters.start)..alone.end.max(letters.end)
                };
            }
            Some(Misread::Spelt(at)) => {
                if at == 0 {
                    room.runs[k].guard = true;
                } else {
                    room.runs[k].guard_word = true;
                }
                // In grade 1 mode no shortform is read.
                room.runs[k].no_shortform = true;
                room.chosen = None;
                break;
            }
        }
        room.chosen = None;
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
    if let Some((seen, _)) = read.iter().find(|seen| !meant(seen)) {
        let held = || placed.iter().filter(|(_, cells, _)| seen.start < cells.end && cells.start < seen.end);
        let from = held().map(|(.., letters)| letters.start).min()?;
        let to = held().map(|(.., letters)| letters.end).max()?;
        let grouped = held().any(|(part, ..)| part.len > 1);
        return Some(if grouped { Misread::Grouped(from..to) } else { Misread::Spelt(from) });
    }
    let written = parts.iter().filter(|part| register::get(part.sign).class == Class::Shortform).count();
    (written != read.len()).then_some(Misread::Written)
}

/// A word that has a wordsign and is written without it.
pub(crate) fn not_alone<S: Sink>(symbols: &[Symbol], run: &Run, sink: &mut S) {
    if run.range.len() > LONGEST {
        return;
    }
    let word: String = symbols[run.range.clone()].iter().map(|s| s.ch).collect();
    let Some(&(sign, class)) = wordsign(&word) else { return };
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
