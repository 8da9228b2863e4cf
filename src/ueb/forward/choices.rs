//! Where the standard leaves a choice: what else would be as right.
//!
//! Most choices are found by writing the symbols-sequence again in the other way and setting the two against each
//! other.

use std::ops::Range;

use super::super::register::{self, Class, SignId};
use super::super::{Choice, Explanation, SignUse};
use super::acronyms::listed;
use super::beside;
use super::grade1;
use super::known::known;
use super::sequence::{COMPOSER, FaceMark, Room, in_parts, sequence};
use super::sink::{Cells, Mark, Sink};
use super::syllables::{self, Joined};
use super::symbols::{Kind, Symbol};
use crate::cell::Cell;

/// Another way of writing a symbols-sequence.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) enum Tweak {
    /// None.
    #[default]
    No,
    /// This letters-sequence without contractions.
    Spelled(usize),
    /// This letters-sequence with contractions, though its letters seem to be said one by one.
    Contracted(usize),
    /// This letters-sequence without the lower groupsign in front, of so many letters.
    NotLower(usize, usize),
    /// This letters-sequence with the lower groupsign in front, of so many letters.
    Lower(usize, usize),
    /// A grade 1 word from this symbol on.
    GradeOne(usize),
    /// Grade 1 symbol indicators instead of a grade 1 word.
    Singly,
    /// A word in syllables, where it may be one.
    Syllables,
    /// As the other edition has it.
    OtherEdition,
}

fn cells(sign: SignId) -> Vec<Cell> {
    register::get(sign).cells.clone()
}

/// Choices are looked for in symbols-sequences of so many symbols, far more than any word has: each is written again as a
/// whole.
const LONGEST: usize = 200;

/// The choices in a symbols-sequence that was written from `mark` on.
pub(crate) fn in_sequence<S: Sink>(
    symbols: &[Symbol],
    range: &Range<usize>,
    faces: &[FaceMark],
    room: &mut Room,
    mark: Mark,
    sink: &mut S,
) {
    if range.len() > LONGEST || !open(&symbols[range.clone()]) {
        return;
    }
    let runs: Vec<Range<usize>> = room.runs.iter().map(|run| run.range.clone()).collect();
    let word_mode = room.word_from.is_some() || room.runs.iter().any(|run| run.guard_word);
    let mut again = Again { range, faces, room, mark, sink };
    for (k, run) in runs.iter().enumerate() {
        let letters = &symbols[run.clone()];
        if doubtful_acronym(letters) {
            let tweaks = [Tweak::Spelled(k), Tweak::Contracted(k)];
            let why = "letters that may be said one by one";
            again.tweaked(symbols, run, &tweaks, "10.12.1", why);
        } else if let Some(lower) = doubtful_abbreviation(letters, symbols.get(run.end)) {
            let tweaks = [Tweak::Lower(k, lower), Tweak::NotLower(k, lower)];
            again.tweaked(symbols, run, &tweaks, "10.6.4", "an abbreviation of a word that is not known");
        }
        let before_line = symbols.get(run.end).is_some_and(|s| s.sign == known().line);
        if before_line
            || in_parts(letters)
            || letters.iter().map(|s| s.ch).take(COMPOSER.len()).eq(COMPOSER.chars())
        {
            let why = "the other edition writes it so";
            let section = if before_line { "15.1.2" } else { "10.9" };
            again.tweaked(symbols, run, &[Tweak::OtherEdition], section, why);
        }
        if letters.iter().any(|s| s.upper) && letters.iter().any(|s| !s.upper) {
            again.capitals(symbols, run);
        }
    }
    let either = runs.iter().find(|run| syllables::around(symbols, run, again.room) == Joined::Either);
    if let Some(run) = either.cloned() {
        let why = "a compound, or a word in syllables";
        again.tweaked(symbols, &run, &[Tweak::Syllables], "10.1.4", why);
    }
    let hyphens = symbols[range.clone()].iter().filter(|s| s.kind == Kind::Hyphen).count();
    // A stammer or a sound: letters that no word has (5.10.1).
    let sound = || !symbols[range.clone()].iter().any(|s| "aeiouy".contains(s.ch));
    if (hyphens > 1 || hyphens == 1 && sound()) && !runs.is_empty() {
        again.grade1(symbols, word_mode);
    }
}

/// Whether anything in a symbols-sequence could leave a choice.
fn open(symbols: &[Symbol]) -> bool {
    let (mut capitals, mut hyphens) = (0, 0);
    for symbol in symbols {
        capitals += usize::from(symbol.upper);
        hyphens += usize::from(symbol.kind == Kind::Hyphen);
    }
    let lower = |start: &str| start.chars().eq(symbols.iter().take(start.len()).map(|s| s.ch));
    capitals > 1
        || hyphens > 0
        || symbols.iter().any(|s| s.sign == known().line)
        || symbols.len() < 12 && lower(COMPOSER)
        || symbols.len() < 12 && ["be", "con", "dis"].into_iter().any(lower)
}

/// Writes a symbols-sequence again in other ways.
struct Again<'a, S: Sink> {
    range: &'a Range<usize>,
    faces: &'a [FaceMark],
    room: &'a mut Room,
    mark: Mark,
    sink: &'a mut S,
}

impl<S: Sink> Again<'_, S> {
    fn write(&mut self, symbols: &[Symbol], tweak: Tweak) -> Vec<Cell> {
        let reasons = std::mem::take(&mut self.room.reasons);
        let edition = self.room.edition;
        if tweak == Tweak::OtherEdition {
            self.room.edition = edition.other();
        }
        self.room.tweak = tweak;
        let specific = self.room.specific.len();
        let mut out = Cells::default();
        sequence(symbols, self.range.clone(), self.faces, true, self.room, &mut out);
        self.room.specific.truncate(specific);
        self.room.tweak = Tweak::No;
        self.room.edition = edition;
        self.room.reasons = reasons;
        out.0
    }

    /// A choice between what was written and `others`, over the cells in which they differ.
    fn offer(&mut self, mut others: Vec<Vec<Cell>>, section: &'static str, why: &'static str) {
        let first = self.mark[0];
        let written = self.sink.cells()[first..].to_vec();
        others.retain(|other| *other != written);
        others.dedup();
        let alike = |other: &Vec<Cell>| other.iter().zip(&written).take_while(|(a, b)| a == b).count();
        let Some(front) = others.iter().map(alike).min() else { return };
        let alike = |other: &Vec<Cell>| {
            let ends = other[front..].iter().rev().zip(written[front..].iter().rev());
            ends.take_while(|(a, b)| a == b).count()
        };
        let back = others.iter().map(alike).min().unwrap_or(0);
        let others = others.iter().map(|other| other[front..other.len() - back].to_vec()).collect();
        let cells = first + front..first + written.len() - back;
        self.sink.choice(Choice { print: NOWHERE, cells, section, why, others });
    }

    fn tweaked(
        &mut self,
        symbols: &[Symbol],
        _run: &Range<usize>,
        tweaks: &[Tweak],
        section: &'static str,
        why: &'static str,
    ) {
        let others = tweaks.iter().map(|tweak| self.write(symbols, tweak.clone())).collect();
        self.offer(others, section, why);
    }

    /// Single capitals, a capitals word with its terminator, or a capitals word and a single capital (8.8).
    fn capitals(&mut self, symbols: &[Symbol], run: &Range<usize>) {
        // The sequence alone is copied, with the blanks beside it.
        let first = self.range.start.saturating_sub(1);
        let symbols = &symbols[first..symbols.len().min(self.range.end + 1)];
        let faces: Vec<FaceMark> = self
            .faces
            .iter()
            .map(|face| FaceMark { before: face.before.saturating_sub(first), ..*face })
            .collect();
        let range = self.range.start - first..self.range.end - first;
        let run = run.start - first..run.end - first;
        let Again { room, mark, sink, .. } = self;
        Again { range: &range, faces: &faces, room, mark: *mark, sink: *sink }.capitals_alone(symbols, &run);
    }

    fn capitals_alone(&mut self, symbols: &[Symbol], run: &Range<usize>) {
        let mut others: Vec<Vec<Cell>> = Vec::new();
        let mut at = run.start;
        while at < run.end {
            if !symbols[at].upper || symbols[at].capital == 3 {
                at += 1;
                continue;
            }
            let from = at;
            while at < run.end && symbols[at].upper {
                at += 1;
            }
            // A passage has its own indicators.
            if at - from < 2 || symbols[from].capital == 0 {
                continue;
            }
            let small_after = at < run.end;
            let set = |flags: &dyn Fn(usize) -> u8, end: bool| {
                let mut other = symbols.to_vec();
                for (k, symbol) in other[from..at].iter_mut().enumerate() {
                    symbol.capital = flags(k);
                    symbol.capital_end = false;
                }
                other[at - 1].capital_end = end;
                other
            };
            let last = at - from - 1;
            let mut ways = vec![set(&|_| 1, false), set(&|k| if k == 0 { 2 } else { 0 }, small_after)];
            if small_after && last > 1 {
                ways.push(set(&|k| if k == 0 { 2 } else { u8::from(k == last) }, false));
            }
            for way in ways {
                let cells = self.write(&way, Tweak::No);
                if !others.contains(&cells) {
                    others.push(cells);
                }
            }
        }
        self.offer(others, "8.8", "single capitals or capitals word mode");
    }

    /// Grade 1 symbol indicators or a grade 1 word; an optional grade 1 word (5.9.1, 5.10.1).
    fn grade1(&mut self, symbols: &[Symbol], word_mode: bool) {
        if self.room.passage {
            return;
        }
        let reasons = std::mem::take(&mut self.room.reasons);
        let saved = grade1::savings(symbols, self.range, self.faces, self.room);
        self.room.reasons = reasons;
        let Some((indicators, ..)) = saved else { return };
        let written = self.sink.cells().len() - self.mark[0];
        if word_mode {
            let other = self.write(symbols, Tweak::Singly);
            if other.len() <= written {
                self.offer(vec![other], "5.9.1", "grade 1 indicators one by one, or one for the word");
            }
        } else if indicators > 0 {
            let other = self.write(symbols, Tweak::GradeOne(self.range.start));
            let hyphens = symbols[self.range.clone()].iter().filter(|s| s.kind == Kind::Hyphen).count();
            if other.len() <= written || hyphens == 1 {
                self.offer(vec![other], "5.9.1", "grade 1 indicators one by one, or one for the word");
            }
        } else if symbols[self.range.clone()]
            .iter()
            .all(|s| matches!(s.kind, Kind::Letter | Kind::Hyphen | Kind::Stop))
        {
            let other = self.write(symbols, Tweak::GradeOne(self.range.start));
            self.offer(vec![other], "5.10.1", "no contraction occurs: a grade 1 indicator may be used");
        }
    }
}

/// Short words that are no acronym where they stand in capitals.
const WORDS: &str = " and are arm art ate bar be bed car ear eat egg ebb end err far fed few for had he her here his how \
    ill in ink its jar law led low me men now of off one or our out own part pen row sea see she shy so sow tar tea ten the \
    their them then there these they this those thy to tow was we wed were when where which while why win with you ";

/// Whether capitals may be an abbreviation whose letters are said one by one (10.1.3, 10.12.1): up to three, or up to
/// five without a vowel.
fn doubtful_acronym(letters: &[Symbol]) -> bool {
    let vowel = || letters.iter().any(|s| "aeiouy".contains(s.ch));
    let short = (2..=3).contains(&letters.len()) || (4..=5).contains(&letters.len()) && !vowel();
    if listed(letters).is_some_and(|one| one.word && letters[0].capital != 0) {
        return true;
    }
    let capitals =
        letters.first().is_some_and(|s| s.capital == 2) && letters.iter().all(|s| s.upper && s.plain());
    capitals && short && {
        let word: String = letters.iter().map(|s| s.ch).collect();
        !WORDS.split_whitespace().any(|known| known == word)
    }
}

/// Words that begin like these abbreviations and are none.
const WHOLE: &str =
    " beck beds beg bell belt bench bend bent berth best bet bets bed conch conk cons disc discs disk disks ";

/// For an abbreviation that begins with be, con or dis, how many letters that is (10.6.4): no vowel after it, and for
/// be a full stop.
fn doubtful_abbreviation(letters: &[Symbol], next: Option<&Symbol>) -> Option<usize> {
    if !(3..=6).contains(&letters.len()) || letters.iter().skip(1).any(|s| s.upper || !s.plain()) {
        return None;
    }
    let word: String = letters.iter().map(|s| s.ch).collect();
    let lower = ["be", "con", "dis"].iter().find(|lower| word.starts_with(**lower))?.len();
    let stop = next.is_some_and(|s| s.ch == '.');
    let vowel = word[lower..].contains(['a', 'e', 'i', 'o', 'u', 'y']);
    let known = WHOLE.split_whitespace().any(|known| known == word);
    (word.len() > lower && !vowel && !known && (stop || lower == 3)).then_some(lower)
}

/// Whether a stop after these letters may make them an abbreviation that begins with a lower groupsign (10.6.4).
pub(crate) fn abbreviation(letters: &str) -> bool {
    letters.len() <= 6
        && ["be", "con", "dis"]
            .iter()
            .any(|sign| letters.get(..sign.len()).is_some_and(|start| start.eq_ignore_ascii_case(sign)))
}

/// After the hyphen or dash at `i` was written: a dash for two hyphens (7.2.6), one length of dash for the other
/// (7.2.4), a blank where print spaces the dash on one side only (7.2.1).
pub(crate) fn dash<S: Sink>(symbols: &[Symbol], range: &Range<usize>, i: usize, room: &Room, sink: &mut S) {
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
    if long || room.lengths && matches!(symbol.ch, '—' | '―' | '⸺' | '⸻') {
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
    let letter = |k: usize| range.contains(&k) && symbols[k].kind == Kind::Letter;
    let (first, last) = (i == range.start && from > 0, i + 1 == range.end);
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

/// Puts the choices in order, drops those that overlap an earlier one, and marks the signs they are about.
pub(crate) fn settle(explanation: &mut Explanation) {
    terminators(explanation);
    beside::letters(explanation);
    orders(explanation);
    whole_line(explanation);
    let Explanation { choices, signs, .. } = explanation;
    crate::order::sort_by_key(choices, |choice| (choice.cells.start, choice.cells.end));
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

/// The print of a choice that [`widen`] is still to find.
const NOWHERE: Range<usize> = usize::MAX..usize::MAX;

/// Widens a choice to whole signs, and finds the print that it is about.
pub(crate) fn widen(choice: &mut Choice, signs: &[SignUse], cells: &[Cell]) {
    let first = signs.partition_point(|sign| sign.cells.end <= choice.cells.start);
    let last = signs.partition_point(|sign| sign.cells.start < choice.cells.end).max(first);
    let inside = &signs[first..last];
    if let (Some(from), Some(to)) = (inside.first(), inside.last()) {
        let (front, back) =
            (&cells[from.cells.start..choice.cells.start], &cells[choice.cells.end..to.cells.end]);
        for other in &mut choice.others {
            other.splice(0..0, front.iter().copied());
            other.extend_from_slice(back);
        }
        choice.cells = from.cells.start..to.cells.end;
    }
    if choice.print == NOWHERE {
        // Indicators have no print of their own: the sign after them has.
        let from = signs.get(first).map(|sign| sign.print.start);
        let from = from.or_else(|| signs.last().map(|sign| sign.print.end)).unwrap_or(0);
        let to = inside.iter().map(|sign| sign.print.end).max().unwrap_or(from);
        let next = signs[last..].iter().find(|sign| sign.print.end > sign.print.start);
        choice.print = if to > from { from..to } else { from..next.map_or(from, |sign| sign.print.end) };
    }
}

/// Two typeform indicators for the same text, or two terminators, may stand in either order (9.8.1).
fn orders(explanation: &mut Explanation) {
    let Explanation { cells, choices, signs, .. } = explanation;
    let typeform = |sign: &SignUse| matches!(register::get(sign.sign).section, "9.2" | "9.3" | "9.4");
    for at in 1..signs.len() {
        let [first, second] = [&signs[at - 1], &signs[at]];
        let alike = register::get(first.sign).class == register::get(second.sign).class;
        let more = [at.checked_sub(2), Some(at + 1)].into_iter().flatten().filter_map(|k| signs.get(k));
        // Three at once, or a terminator beside punctuation, have choices of their own.
        let own = more.clone().any(typeform)
            || register::get(second.sign).class == Class::Terminator && more.clone().any(is_stop);
        if typeform(first) && typeform(second) && alike && first.sign != second.sign && !own {
            let mut other = cells[second.cells.clone()].to_vec();
            other.extend_from_slice(&cells[first.cells.clone()]);
            choices.push(Choice {
                print: first.print.start..second.print.end,
                cells: first.cells.start..second.cells.end,
                section: "9.8.1",
                why: "the order of typeform indicators is not prescribed",
                others: vec![other],
            });
        }
    }
}

/// Whether it is one of `,;:.!?`.
fn is_stop(sign: &SignUse) -> bool {
    matches!(register::get(sign.sign).print, "," | ";" | ":" | "." | "!" | "?")
}

/// A terminator may stand before or after the punctuation at the end (8.6.2, 9.7.2).
fn terminators(explanation: &mut Explanation) {
    let Explanation { cells, choices, signs, .. } = explanation;
    let ends = |sign: &SignUse| register::get(sign.sign).class == Class::Terminator;
    for at in 0..signs.len() {
        if !ends(&signs[at]) || signs[at].sign == known().grade1_end {
            continue;
        }
        let section = if signs[at].sign == known().capital_end { "8.6.2" } else { "9.7.2" };
        let before = signs[..at].iter().rev().take_while(|sign| is_stop(sign)).count();
        let after = signs[at + 1..].iter().take_while(|sign| is_stop(sign)).count();
        let (from, to) = if before > 0 { (at - before, at + 1) } else { (at, at + 1 + after) };
        // Within a word the terminator shows where the capitals end.
        if to - from < 2 || after > 0 && before == 0 && !passage_before(&signs[..at]) {
            continue;
        }
        let range = signs[from].cells.start..signs[to - 1].cells.end;
        let own = &cells[signs[at].cells.clone()];
        let mut other = Vec::new();
        if before > 0 {
            other.extend_from_slice(own);
            other.extend_from_slice(&cells[range.start..signs[at].cells.start]);
        } else {
            other.extend_from_slice(&cells[signs[at].cells.end..range.end]);
            other.extend_from_slice(own);
        }
        let why = "the terminator may precede or follow the punctuation";
        let mut choice = Choice { print: NOWHERE, cells: range, section, why, others: vec![other] };
        widen(&mut choice, signs, cells);
        choices.push(choice);
    }
}

/// Whether the terminator after these signs ends a passage.
fn passage_before(signs: &[SignUse]) -> bool {
    signs
        .iter()
        .rev()
        .map(|sign| register::get(sign.sign))
        .find(|sign| {
            sign.class == Class::Indicator && sign.name.contains("word") || sign.name.contains("passage")
        })
        .is_some_and(|sign| sign.name.contains("passage"))
}

/// A typeform over the whole of a line may be that of a heading, which need not be shown (9.1.1, 9.1.3).
fn whole_line(explanation: &mut Explanation) {
    let Explanation { choices, signs, .. } = explanation;
    let named = |sign: &SignUse, what: &str| {
        let name = register::get(sign.sign).name;
        ["bold", "italic", "underline", "script"].iter().any(|face| name.starts_with(face))
            && name.contains(what)
    };
    let (Some(first), Some(last)) = (signs.first(), signs.last()) else { return };
    let blank = signs.iter().any(|sign| register::get(sign.sign).class == Class::Space);
    let ended = named(first, "passage indicator") && named(last, "terminator");
    let word =
        !blank && named(first, "word indicator") && !signs.iter().any(|sign| named(sign, "terminator"));
    if !(ended || word) || signs[1..].iter().any(|s| named(s, "indicator")) {
        return;
    }
    for sign in [first, last].into_iter().take(if ended { 2 } else { 1 }) {
        let why = "a typeform over the whole line may be that of a heading";
        let (print, cells) = (sign.print.clone(), sign.cells.clone());
        choices.push(Choice { print, cells, section: "9.1.3", why, others: vec![Vec::new()] });
    }
}
