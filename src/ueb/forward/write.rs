//! One symbols-sequence at a time: standing alone, wordsigns, grade 1, numbers, punctuation (2.6, 5, 6, 7, 10).

use std::collections::HashMap;
use std::ops::Range;
use std::sync::OnceLock;

use super::super::contract::{self, Context, Letter, Part, Passed};
use super::super::register::{self, Class, SignId};
use super::choices;
use super::sink::Sink;
use super::symbols::{self, Kind, Symbol, known};
use crate::cell::Cell;

/// A typeform indicator or terminator and the symbol it stands before.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FaceMark {
    pub before: usize,
    pub sign: SignId,
}

/// Whether a typeform mark stands before this symbol.
pub(crate) fn marked_at(faces: &[FaceMark], place: usize) -> bool {
    faces.get(faces.partition_point(|f| f.before < place)).is_some_and(|f| f.before == place)
}

/// Buffers that are used again for each sequence.
#[derive(Default)]
pub(crate) struct Room {
    /// Reasons are wanted.
    pub reasons: bool,
    letters: Vec<Letter>,
    parts: Vec<Part>,
    passed: Vec<Passed>,
    runs: Vec<Run>,
    /// The letters-sequence whose contractions `parts` holds, and whether its end was spelt out.
    chosen: Option<(usize, bool)>,
}

/// A letters-sequence inside the symbols-sequence.
#[derive(Clone, Debug)]
struct Run {
    range: Range<usize>,
    /// Nothing but what 2.6.2 allows up to the space, hyphen or dash before it; 2.6.3 after it.
    left: bool,
    right: bool,
    /// As `right`, once an apostrophe with d, ll, re, s, t or ve is passed (10.1.2).
    suffix: bool,
    /// As `right`, once an apostrophe with any letters is passed (10.9.2).
    affix: bool,
    /// In grade 1 mode set by a number (6.5).
    numeric: bool,
    wordsign: Option<SignId>,
    /// Needs a grade 1 symbol indicator.
    guard: bool,
    /// Needs a grade 1 word indicator (10.9.6).
    guard_word: bool,
    /// No lower contraction at its end (10.10.10).
    spell_lower: bool,
    /// No groupsign at all (10.9.4).
    spell: bool,
}

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

fn before_ok(s: &Symbol) -> bool {
    matches!(s.kind, Kind::Open | Kind::OpenQuote | Kind::Apostrophe)
}

fn after_ok(s: &Symbol) -> bool {
    matches!(s.kind, Kind::Stop | Kind::Close | Kind::CloseQuote | Kind::Apostrophe)
}

fn edge(s: &Symbol) -> bool {
    matches!(s.kind, Kind::Space | Kind::Hyphen | Kind::Dash)
}

/// Writes the sequence `range` of `symbols`; blanks stand only around it.
pub(crate) fn sequence<S: Sink>(
    symbols: &[Symbol],
    range: Range<usize>,
    faces: &[FaceMark],
    contracted: bool,
    room: &mut Room,
    sink: &mut S,
) {
    find_runs(symbols, range.clone(), faces, contracted, room);
    let mark = sink.mark();
    let last_lower = write(symbols, range.clone(), faces, contracted, room, sink);
    // A sequence of lower signs only is spelt out at its last contraction (10.5.4, 10.6.10, 10.10.10).
    if let Some(run) = last_lower {
        let whole_word = room.runs.len() == 1
            && room.runs[0].wordsign.is_some()
            && range.len() == room.runs[0].range.len();
        let upper = sink.cells()[mark[0]..].iter().any(|c| c.is_upper());
        if !upper && !whole_word {
            sink.back_to(mark);
            room.runs[run].spell_lower = true;
            room.runs[run].wordsign = None;
            write(symbols, range, faces, contracted, room, sink);
        }
    }
}

fn find_runs(symbols: &[Symbol], range: Range<usize>, faces: &[FaceMark], contracted: bool, room: &mut Room) {
    room.runs.clear();
    room.chosen = None;
    let mut numeric = false;
    let mut i = range.start;
    // Whether the way back to the last space, hyphen or dash is open (2.6.2).
    let mut left = true;
    while i < range.end {
        let s = &symbols[i];
        match s.kind {
            Kind::Letter => {
                let from = i;
                while i < range.end && symbols[i].kind == Kind::Letter {
                    i += 1;
                }
                room.runs.push(Run {
                    range: from..i,
                    left,
                    right: false,
                    suffix: false,
                    affix: false,
                    numeric,
                    wordsign: None,
                    guard: false,
                    guard_word: false,
                    spell_lower: false,
                    spell: false,
                });
                left = false;
                continue;
            }
            Kind::Digit => {
                numeric = true;
                left = false;
            }
            Kind::Hyphen | Kind::Dash => {
                numeric = false;
                left = true;
            }
            _ if before_ok(s) => {}
            _ => left = false,
        }
        i += 1;
    }
    // The way on to the next space, hyphen or dash (2.6.3), from the right.
    let mut right = true;
    let mut i = range.end;
    let mut next_letters: Option<(usize, usize, bool)> = None;
    for k in (0..room.runs.len()).rev() {
        let run = room.runs[k].range.clone();
        while i > run.end {
            i -= 1;
            let s = &symbols[i];
            if edge(s) {
                right = true;
            } else if !after_ok(s) {
                right = false;
            }
        }
        room.runs[k].right = right;
        room.runs[k].suffix = right;
        room.runs[k].affix = right;
        if let Some((from, to, open)) = next_letters
            && open
            && from == run.end + 1
            && symbols[run.end].kind == Kind::Apostrophe
        {
            room.runs[k].affix = true;
            let mut text = [' '; 2];
            let n = to - from;
            if n <= 2 {
                for (place, s) in symbols[from..to].iter().enumerate() {
                    text[place] = s.ch;
                }
                let text: String = text[..n].iter().collect();
                room.runs[k].suffix = matches!(text.as_str(), "d" | "ll" | "re" | "s" | "t" | "ve");
            }
        }
        next_letters = Some((run.start, run.end, right));
        i = run.start;
        right = false;
    }
    for k in 0..room.runs.len() {
        decide(symbols, &range, k, faces, contracted, room);
    }
    spelled(symbols, &range, room);
    // A grouped index asks for a grade 1 word; a letter alone in front of it goes in (11.4.3).
    if contracted && room.runs.first().is_some_and(|r| r.range == (range.start..range.start + 1)) {
        let index = range.start + 1;
        if index < range.end && symbols[index].kind == Kind::Index {
            let end = index_end(symbols, index, range.end);
            let number = symbols[index + 1..end].iter().all(|s| s.kind == Kind::Digit);
            if end > index + 2 && !number {
                room.runs[0].guard = false;
                room.runs[0].guard_word = true;
            }
        }
    }
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
fn decide(
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

/// Words spelt or stammered with hyphens: one grade 1 word indicator where it saves indicators (5.9.1).
fn spelled(symbols: &[Symbol], range: &Range<usize>, room: &mut Room) {
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

/// The contractions of one letters-sequence, into `room.parts`.
fn choose(symbols: &[Symbol], range: &Range<usize>, k: usize, faces: &[FaceMark], room: &mut Room) {
    let run = room.runs[k].clone();
    if room.chosen == Some((k, run.spell_lower)) {
        return;
    }
    room.chosen = Some((k, run.spell_lower));
    room.letters.clear();
    for i in run.range.clone() {
        let s = &symbols[i];
        let inner = i > run.range.start;
        let bound = inner && (symbols[i - 1].ligature || symbols[i - 1].group);
        room.letters.push(Letter {
            ch: s.ch,
            plain: s.plain() && !bound,
            mark_before: inner
                && (s.capital == 1 || s.capital == 2 || symbols[i - 1].capital_end || marked_at(faces, i)),
            alone: false,
        });
    }
    let before = run.range.start.checked_sub(1).filter(|&p| p >= range.start).map(|p| &symbols[p]);
    let after = Some(run.range.end).filter(|&p| p < range.end).map(|p| &symbols[p]);
    let context = Context {
        word_start: run.left
            || before.is_none_or(|s| {
                s.kind != Kind::Apostrophe && s.kind != Kind::Digit && s.kind != Kind::Letter
            }) && before.is_none_or(edge),
        word_end: run.right || after.is_none(),
        // Two letters are kept out of a groupsign only where they would be read as a wordsign (10.4.2).
        standing_alone: run.left && if run.range.len() == 2 { run.right } else { run.affix },
        needs_upper: run.spell_lower,
    };
    room.parts.clear();
    room.passed.clear();
    let fragment = run.left && run.right && run.range.len() == 2 && {
        let pair = [room.letters[0].ch, room.letters[1].ch];
        ["ch", "gh", "sh", "th", "wh", "ou", "st", "en"].iter().any(|w| w.chars().eq(pair))
    };
    if fragment || run.spell || run.spell_lower && run.range.len() == 2 {
        for l in &room.letters {
            room.parts.push(Part { sign: register::letter(l.ch), len: 1, section: "" });
        }
    } else {
        let passed = room.reasons.then_some(&mut room.passed);
        contract::choose(&room.letters, &context, &mut room.parts, passed);
    }
}

/// Writes the sequence and gives the last letters-sequence that holds a lower contraction.
fn write<S: Sink>(
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
    let mut in_number = false; // digits may follow without an indicator (6.1.1)
    let mut grade1 = false; // set by a number or a grade 1 word indicator
    let mut word_mode = false;
    let mut face = faces.partition_point(|f| f.before < range.start);
    let mut i = range.start;
    while i < range.end {
        let s = &symbols[i];
        let at = s.at as usize;
        let print = at..at + s.len as usize;
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
                let after_digit = in_number && i > range.start;
                let low = s.modifiers[0].is_none() && !s.upper && ('a'..='j').contains(&s.ch);
                while face < faces.len() && faces[face].before <= i {
                    sink.sign(faces[face].sign, at..at, "");
                    face += 1;
                }
                if run.guard_word && !grade1 {
                    sink.sign(know.grade1_word, at..at, "5.3");
                    grade1 = true;
                    word_mode = true;
                } else if run.guard && !grade1 {
                    let section = if run.range.len() == 1 { "5.7.1" } else { "5.7.2" };
                    sink.sign(know.grade1, at..at, section);
                } else if after_digit && low {
                    sink.sign(know.grade1, at..at, "6.5.2");
                }
                in_number = false;
                if contracted && !grade1 && run.wordsign.is_none() {
                    choose(symbols, &range, next_run, faces, room);
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
                if !in_number {
                    sink.sign(know.numeric, at..at, "");
                }
                in_number = true;
                grade1 = true;
                sink.sign(s.sign, print, "");
            }
            Kind::NumericSpace if in_number && symbols.get(i + 1).is_some_and(|n| n.kind == Kind::Digit) => {
                let digit = &symbols[i + 1];
                let end = (digit.at + digit.len) as usize;
                sink.sign(symbols::spaced_digit(digit.ch), at..end, "");
                i += 2;
                continue;
            }
            Kind::NumericSpace | Kind::Space => sink.sign(know.space, print, ""),
            Kind::FractionLine if in_number && symbols.get(i + 1).is_some_and(|n| n.kind == Kind::Digit) => {
                sink.sign(know.fraction, print, "6.2");
            }
            Kind::FractionLine => {
                in_number = false;
                sink.sign(symbols::solidus(), print, "");
            }
            Kind::Stop
                if matches!(s.ch, '.' | ',') && i + 1 < range.end && symbols[i + 1].kind == Kind::Digit =>
            {
                let clear = i == range.start
                    || before_ok(&symbols[i - 1])
                    || symbols[i - 1].kind == Kind::Other
                    || symbols[i - 1].kind == Kind::Index;
                if !in_number && clear {
                    sink.sign(know.numeric, at..at, "6.4");
                    in_number = true;
                    grade1 = true;
                }
                sink.sign(if in_number && s.ch == '.' { know.point } else { s.sign }, print, "");
            }
            Kind::Stop if in_number && matches!(s.ch, '.' | ',') => {
                // Numeric mode lasts; a letter after it may still be read as a digit (6.5.2).
                sink.sign(s.sign, print, "");
            }
            Kind::Stop => {
                in_number = false;
                let letter_before = i > range.start && symbols[i - 1].kind == Kind::Letter;
                let next = symbols.get(i + 1).filter(|_| i + 1 < range.end);
                let first_of_row = i == range.start || symbols[i - 1].ch != s.ch;
                let mut j = i + 1;
                while first_of_row && j < range.end && symbols[j].ch == s.ch {
                    j += 1;
                }
                let letter_after = j < range.end && symbols[j].kind == Kind::Letter;
                let section = if grade1 {
                    ""
                } else if s.ch == '?' {
                    let mut left = true;
                    for b in symbols[range.start..i].iter().rev() {
                        if edge(b) {
                            break;
                        }
                        if !before_ok(b) {
                            left = false;
                            break;
                        }
                    }
                    if left { "7.5.4" } else { "" }
                } else if (letter_before
                    && letter_after
                    && first_of_row
                    && matches!(s.ch, ',' | ';' | ':' | '!'))
                    || (i == range.start && s.ch == ';' && next.is_none_or(edge))
                    || (i == range.start && letter_after && j == i + 1 && matches!(s.ch, ';' | ':' | '.'))
                {
                    "7.1.3"
                } else {
                    ""
                };
                if !section.is_empty() {
                    sink.sign(know.grade1, at..at, section);
                }
                sink.sign(s.sign, print, "");
            }
            Kind::Hyphen | Kind::Dash => {
                in_number = false;
                grade1 = word_mode;
                sink.sign(s.sign, print, "");
                if S::REASONS {
                    choices::dash(symbols, i, sink);
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
                if !grade1 {
                    if one {
                        sink.sign(know.grade1, at..at, "3.24");
                    } else {
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
            Kind::Unhandled => {
                in_number = false;
                sink.unhandled(at, s.ch);
                sink.sign(s.sign, print, "");
            }
            _ => {
                in_number = false;
                let alone = range.len() == 1;
                let technical = symbols::mode(s.ch);
                let confusing = alone && (s.sign == know.one_close || s.ch == '′');
                if !grade1 && (technical.is_some() || confusing || symbols::needs_grade1(s.ch)) {
                    sink.sign(know.grade1, at..at, if technical.is_some() { "2.4.4" } else { "7.1.3" });
                }
                match technical {
                    Some((indicator, ends)) => {
                        sink.sign(indicator, at..at, "");
                        sink.sign(s.sign, print, "");
                        if ends && i + 1 < range.end {
                            sink.sign(know.shape_end, at + 1..at + 1, "");
                        }
                    }
                    None => sink.sign(s.sign, print, ""),
                }
            }
        }
        if s.capital_end {
            let end = (s.at + s.len) as usize;
            sink.sign(know.capital_end, end..end, "");
        }
        i += 1;
    }
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

fn index_end(symbols: &[Symbol], from: usize, end: usize) -> usize {
    let mut depth = 0;
    for (k, s) in symbols.iter().enumerate().take(end).skip(from) {
        match s.kind {
            Kind::Index => depth += 1,
            Kind::IndexEnd => {
                depth -= 1;
                if depth == 0 {
                    return k;
                }
            }
            _ => {}
        }
    }
    end
}

fn index_start(symbols: &[Symbol], from: usize, start: usize) -> usize {
    let mut depth = 0;
    for k in (start..=from).rev() {
        match symbols[k].kind {
            Kind::IndexEnd => depth += 1,
            Kind::Index => {
                depth -= 1;
                if depth == 0 {
                    return k;
                }
            }
            _ => {}
        }
    }
    start
}

/// Writes one letters-sequence; `room.parts` holds its contractions. True when a lower contraction was used.
fn letters<S: Sink>(
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
        let capital = match s.capital {
            1 => Some(know.capital_letter),
            2 => Some(if run_of_one(symbols, run, i) { know.capital_letter } else { know.capital_word }),
            3 => Some(know.capital_passage),
            _ => None,
        };
        if let Some(sign) = capital {
            sink.sign(sign, at..at, "");
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
            sink.sign(s.sign, at..at + s.len as usize, "");
            sink.sign(know.ligature, at + 1..at + 1, "");
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
        for passed in &room.passed {
            let first = &symbols[(run.range.start + passed.at).min(run.range.end - 1)];
            let last = &symbols[(run.range.start + passed.at + passed.len.max(1) - 1).min(run.range.end - 1)];
            sink.passed(*passed, first.at as usize..(last.at + last.len) as usize);
        }
        not_alone(symbols, run, sink);
    }
    lower
}

/// A capitals word indicator never stands before one letter only.
fn run_of_one(symbols: &[Symbol], run: &Run, i: usize) -> bool {
    let goes_on = i + 1 < run.range.end && symbols[i + 1].upper && symbols[i + 1].capital == 0;
    !goes_on && !symbols[i].ligature
}

/// A word that has a wordsign and is written without it.
fn not_alone<S: Sink>(symbols: &[Symbol], run: &Run, sink: &mut S) {
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
