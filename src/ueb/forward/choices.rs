//! Where the standard leaves a choice: what else would be as right.
//!
//! Most choices are found by writing the symbols-sequence again in the other way and setting the two against each
//! other.

use std::ops::Range;

use super::super::register::{self, Class};
use super::super::{Choice, Explanation, SignUse};
use super::acronyms::listed;
use super::beside;
use super::contractions::{COMPOSER, in_parts};
use super::faces::FaceMark;
use super::grade1;
use super::known::known;
use super::plan::{Plan, Run, Sequence, Way};
use super::sequence::write_sequence;
use super::sink::{Cells, Mark, NOWHERE, Sink, widen};
use super::syllables::{self, Joined};
use super::symbols::{Kind, Symbol};
use crate::cell::Cell;

/// Choices are looked for in symbols-sequences of so many symbols, far more than any word has: each is written again as a
/// whole.
const LONGEST: usize = 200;

/// The choices in a symbols-sequence that was written as `plan` has it, from `mark` on.
pub(crate) fn in_sequence<S: Sink>(sequence: &Sequence, plan: &Plan, mark: Mark, sink: &mut S) {
    if sequence.own().len() > LONGEST || !open(sequence.own()) {
        return;
    }
    let mut others = OtherWays { sequence, mark, sink };
    for (k, run) in plan.runs.iter().enumerate() {
        others.letters(k, run.range.clone());
    }
    let either = |run: &Run| syllables::around(sequence, &run.range, &plan.runs) == Joined::Either;
    if plan.runs.iter().any(either) {
        others.ways(&[Way::Syllables], "10.1.4", "a compound, or a word in syllables");
    }
    let hyphens = sequence.own().iter().filter(|s| s.kind == Kind::Hyphen).count();
    // A stammer or a sound: letters that no word has (5.10.1).
    let sound = || !sequence.own().iter().any(|s| "aeiouy".contains(s.ch));
    if (hyphens > 1 || hyphens == 1 && sound()) && !plan.runs.is_empty() {
        others.grade1(plan.word_from.is_some() || plan.runs.iter().any(|run| run.guard_word));
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
struct OtherWays<'a, S: Sink> {
    sequence: &'a Sequence<'a>,
    mark: Mark,
    sink: &'a mut S,
}

/// The cells of a symbols-sequence.
fn cells_of(sequence: &Sequence) -> Vec<Cell> {
    let mut out = Cells::default();
    let sequence = Sequence { reasons: false, ..*sequence };
    write_sequence(&sequence, &mut Plan::default(), &mut out);
    out.0
}

impl<S: Sink> OtherWays<'_, S> {
    fn cells(&self, way: Way) -> Vec<Cell> {
        cells_of(&Sequence { way, ..*self.sequence })
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

    fn ways(&mut self, ways: &[Way], section: &'static str, why: &'static str) {
        let others = ways.iter().map(|way| self.cells(*way)).collect();
        self.offer(others, section, why);
    }

    /// What the letters of one letters-sequence leave open.
    fn letters(&mut self, k: usize, run: Range<usize>) {
        let symbols = self.sequence.symbols;
        let letters = &symbols[run.clone()];
        if doubtful_acronym(letters) {
            let ways = [Way::Spelled(k), Way::Contracted(k)];
            self.ways(&ways, "10.12.1", "letters that may be said one by one");
        } else if let Some(lower) = doubtful_abbreviation(letters, symbols.get(run.end)) {
            let ways = [Way::Lower(k, lower), Way::NotLower(k, lower)];
            self.ways(&ways, "10.6.4", "an abbreviation of a word that is not known");
        }
        let before_line = symbols.get(run.end).is_some_and(|s| s.sign == known().line);
        let composer = || letters.iter().map(|s| s.ch).take(COMPOSER.len()).eq(COMPOSER.chars());
        if before_line || in_parts(letters) || composer() {
            let edition = self.sequence.edition.other();
            let other = cells_of(&Sequence { edition, ..*self.sequence });
            let section = if before_line { "15.1.2" } else { "10.9" };
            self.offer(vec![other], section, "the other edition writes it so");
        }
        if letters.iter().any(|s| s.upper) && letters.iter().any(|s| !s.upper) {
            self.capitals(run);
        }
    }

    /// Single capitals, a capitals word with its terminator, or a capitals word and a single capital (8.8).
    fn capitals(&mut self, run: Range<usize>) {
        let symbols = self.sequence.symbols;
        let mut others: Vec<Vec<Cell>> = Vec::new();
        let mut at = run.start;
        while at < run.end {
            let from = at;
            while at < run.end && symbols[at].upper && symbols[from].capital != 3 {
                at += 1;
            }
            // A passage has its own indicators.
            if at - from >= 2 && symbols[from].capital != 0 {
                for cells in self.capitals_of(from..at, at < run.end) {
                    if !others.contains(&cells) {
                        others.push(cells);
                    }
                }
            }
            at = at.max(from + 1);
        }
        self.offer(others, "8.8", "single capitals or capitals word mode");
    }

    /// The sequence with these capitals in each way; small letters follow them or not.
    fn capitals_of(&self, capitals: Range<usize>, small_after: bool) -> Vec<Vec<Cell>> {
        // The sequence alone is copied, with the blanks beside it.
        let first = self.sequence.from.saturating_sub(1);
        let own = &self.sequence.symbols[first..self.sequence.symbols.len().min(self.sequence.to + 1)];
        let moved = |face: &FaceMark| FaceMark { before: face.before.saturating_sub(first), ..*face };
        let faces: Vec<FaceMark> = self.sequence.faces.iter().map(moved).collect();
        let written = |flags: &dyn Fn(usize) -> u8, end: bool| {
            let mut symbols = own.to_vec();
            for (k, symbol) in symbols[capitals.start - first..capitals.end - first].iter_mut().enumerate() {
                symbol.capital = flags(k);
                symbol.capital_end = false;
            }
            symbols[capitals.end - 1 - first].capital_end = end;
            let (from, to) = (self.sequence.from - first, self.sequence.to - first);
            cells_of(&Sequence { symbols: &symbols, from, to, faces: &faces, ..*self.sequence })
        };
        let last = capitals.len() - 1;
        let mut ways = vec![written(&|_| 1, false), written(&|k| if k == 0 { 2 } else { 0 }, small_after)];
        if small_after && last > 1 {
            ways.push(written(&|k| if k == 0 { 2 } else { u8::from(k == last) }, false));
        }
        ways
    }

    /// Grade 1 symbol indicators or a grade 1 word; an optional grade 1 word (5.9.1, 5.10.1).
    fn grade1(&mut self, word_mode: bool) {
        const EITHER: &str = "grade 1 indicators one by one, or one for the word";
        if self.sequence.passage {
            return;
        }
        let Some(saved) = grade1::savings(self.sequence, &mut Plan::default()) else { return };
        let written = self.sink.cells().len() - self.mark[0];
        let own = self.sequence.own();
        let hyphens = || own.iter().filter(|s| s.kind == Kind::Hyphen).count();
        let from = Way::GradeOne(self.sequence.from);
        if word_mode {
            let other = self.cells(Way::Singly);
            if other.len() <= written {
                self.offer(vec![other], "5.9.1", EITHER);
            }
        } else if saved.indicators > 0 {
            let other = self.cells(from);
            if other.len() <= written || hyphens() == 1 {
                self.offer(vec![other], "5.9.1", EITHER);
            }
        } else if own.iter().all(|s| matches!(s.kind, Kind::Letter | Kind::Hyphen | Kind::Stop)) {
            self.ways(&[from], "5.10.1", "no contraction occurs: a grade 1 indicator may be used");
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
