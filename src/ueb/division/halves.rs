//! How the two parts of a divided word are written: as the whole word is, but for what 10.13 asks at the break.

use std::ops::Range;

use super::{Division, Whole, Written, settled, sign};
use crate::cell::Cell;
use crate::ueb::PassedOver;
use crate::ueb::back;
use crate::ueb::contract::{self, Context, Letter, Part, Passed};
use crate::ueb::register::{self, Class, SignId};

/// A run of letters with what it takes to write its parts.
struct Run<'a> {
    whole: &'a Whole,
    place: Range<usize>,
    /// All its letters are capitals.
    capitals: bool,
    /// The whole word has shortforms, which its parts keep (10.13.12).
    shortforms: bool,
    /// Its first letter begins a word (10.6.2).
    word_start: bool,
}

/// How both parts of a run are written.
#[derive(Default)]
struct Chosen {
    parts: Vec<Part>,
    /// For each part the letter from which it would be read as a shortform (10.9.5, 10.9.6).
    guards: [Option<usize>; 2],
    /// Contractions that are not used.
    passed: Vec<Passed>,
}

impl Whole {
    /// The parts of a run of letters at each of these places in it; left out is a place within a shortform (10.13.12).
    pub(super) fn divided(&self, run: &Range<usize>, places: &[usize]) -> Vec<Division> {
        let shortforms = self.shortforms(run);
        let word = self.run(run, !shortforms.is_empty());
        let begin = self.sign_at(run.start);
        // A terminator behind its letters goes with them.
        let signs = &self.said.signs;
        let end = signs.iter().position(|sign| sign.print.start >= run.end).unwrap_or(signs.len());
        let within = |at: usize| shortforms.iter().any(|form| form.start < at && at < form.end);
        let places = places.iter().copied().filter(|&at| !within(at));
        places
            .map(|at| {
                let (head, tail) = word.parts(at, &word.chosen(at));
                let mut first = self.before(begin, run);
                first.extend(head);
                first.extend(sign("hyphen"));
                let mut second = tail;
                second.extend(self.written(end..self.said.signs.len()));
                let section = if word.shortforms { "10.13.12" } else { "10.13.1" };
                Division { at: run.start + at, first: settled(first), second: settled(second), section }
            })
            .collect()
    }

    fn run(&self, run: &Range<usize>, shortforms: bool) -> Run<'_> {
        Run {
            whole: self,
            place: run.clone(),
            capitals: self.print[run.clone()].iter().all(char::is_ascii_uppercase),
            shortforms,
            word_start: run.start.checked_sub(1).is_none_or(|i| !matches!(self.print[i], '\'' | '’'))
                || self.print[..run.start].iter().all(|c| !c.is_ascii_alphabetic()),
        }
    }

    /// Contractions that the parts of a run do not use, if it is divided before this letter of it.
    pub(super) fn passed_over(&self, run: &Range<usize>, at: usize) -> Vec<PassedOver> {
        let passed = self.run(run, !self.shortforms(run).is_empty()).chosen(at).passed;
        let placed = |one: Passed| {
            let from = run.start + one.at;
            PassedOver { sign: one.sign, print: from..from + one.len, section: one.section, why: one.why }
        };
        passed.into_iter().map(placed).collect()
    }

    /// The letters of a run that shortforms stand for.
    pub(super) fn shortforms(&self, run: &Range<usize>) -> Vec<Range<usize>> {
        let signs = self.said.signs.iter().filter(|s| register::get(s.sign).class == Class::Shortform);
        signs
            .filter(|s| run.start <= s.print.start && s.print.end <= run.end)
            .map(|s| s.print.start - run.start..s.print.end - run.start)
            .collect()
    }

    /// What is written before a run of letters, without the indicators of its own letters.
    fn before(&self, begin: usize, run: &Range<usize>) -> Vec<Written> {
        let signs = &self.said.signs;
        let own = (begin..signs.len()).find(|&i| !signs[i].print.is_empty()).unwrap_or(signs.len());
        let indicators = (begin..own).filter(|&i| {
            let key = register::get(signs[i].sign).key;
            let own = key.starts_with("capital") && key != "capitalised passage indicator";
            signs[i].print.start == run.start && !own && !key.starts_with("grade 1")
        });
        let mut out = self.written(0..begin);
        out.extend(indicators.flat_map(|i| self.written(i..i + 1)));
        out
    }
}

impl Run<'_> {
    /// The signs of both parts, when the run is divided before this letter. They are chosen for the word as a whole, so
    /// that no part is contracted as if it were a word of its own.
    fn chosen(&self, at: usize) -> Chosen {
        let letters = self.place.clone().enumerate().map(|(i, place)| Letter {
            ch: self.whole.print[place].to_ascii_lowercase(),
            plain: true,
            mark_before: i > 0 && !self.capitals && self.whole.print[place].is_ascii_uppercase(),
            alone: None,
        });
        let mut letters: Vec<Letter> = letters.collect();
        let spelled = |letters: &[Letter]| letters.iter().map(|l| letter(l.ch)).collect::<Vec<Part>>();
        if !self.whole.contracted {
            return Chosen { parts: spelled(&letters), ..Chosen::default() };
        }
        let context = Context {
            word_start: self.word_start,
            word_end: true,
            standing_alone: true,
            shortforms: self.shortforms,
            needs_upper: false,
            divided: Some(at),
        };
        let mut guards = [None, None];
        // Letters taken out of a groupsign may leave another such place after them.
        for _ in 0..4 {
            let (mut parts, mut passed) = (Vec::new(), Vec::new());
            contract::choose(&letters, &context, &mut parts, Some(&mut passed));
            let (head, tail) = parts.split_at(split(&parts, at));
            let mut again = false;
            for (which, (half, from)) in [(head, 0), (tail, at)].into_iter().enumerate() {
                match misread(half) {
                    Some(Misread::Grouped(range)) => {
                        let apart = Some(("10.9.4", "would be read as part of a shortform"));
                        letters[from + range.start..from + range.end]
                            .iter_mut()
                            .for_each(|l| l.alone = apart);
                        again = true;
                    }
                    Some(Misread::Spelt(place)) => guards[which] = Some(place),
                    None => {}
                }
            }
            if !again {
                return Chosen { parts, guards, passed };
            }
        }
        Chosen { parts: spelled(&letters), guards, passed: Vec::new() }
    }

    fn parts(&self, at: usize, chosen: &Chosen) -> (Vec<Written>, Vec<Written>) {
        let (head, tail) = chosen.parts.split_at(split(&chosen.parts, at));
        (self.written(head, 0, chosen.guards[0]), self.written(tail, at, chosen.guards[1]))
    }

    /// The signs of one part, whose first letter is this one of the run; `guard` is the letter from which it would be read
    /// as a shortform (10.9.5, 10.9.6).
    fn written(&self, parts: &[Part], from: usize, guard: Option<usize>) -> Vec<Written> {
        let spelled: Vec<Part>;
        let (indicator, parts) = match guard {
            None => (None, parts),
            Some(0) => (sign("grade 1 symbol indicator"), parts),
            Some(_) => {
                let letters = parts.iter().map(|part| usize::from(part.len)).sum::<usize>();
                let range = self.place.start + from..self.place.start + from + letters;
                spelled = self.whole.print[range].iter().map(|c| letter(c.to_ascii_lowercase())).collect();
                (sign("grade 1 word indicator"), &spelled[..])
            }
        };
        let mut out: Vec<Written> = indicator.into_iter().collect();
        let mut at = self.place.start + from;
        for part in parts {
            out.extend(self.capital(at));
            out.push((part.sign, register::get(part.sign).cells.clone()));
            at += usize::from(part.len);
        }
        out
    }

    /// The capitals indicator before a letter, where it has one; that of a whole word stands at its beginning only, as
    /// the word goes on over the break.
    fn capital(&self, at: usize) -> Option<Written> {
        let print = &self.whole.print;
        let begins = at.checked_sub(1).is_none_or(|before| !print[before].is_ascii_alphabetic());
        if !print[at].is_ascii_uppercase() || self.capitals && !begins {
            return None;
        }
        // Within a passage the whole word has none either.
        let signs = &self.whole.said.signs;
        let capital = |key: &str| key == "capitalised word indicator";
        if self.capitals
            && !signs
                .iter()
                .any(|s| s.print.start == at && s.print.is_empty() && capital(register::get(s.sign).key))
        {
            return None;
        }
        sign(if self.capitals { "capitalised word indicator" } else { "capital letter indicator" })
    }
}

fn letter(ch: char) -> Part {
    Part { sign: register::letter(ch), len: 1, section: "" }
}

/// How many parts stand for the first `at` letters.
fn split(parts: &[Part], at: usize) -> usize {
    let mut letters = 0;
    parts
        .iter()
        .take_while(|part| {
            letters += usize::from(part.len);
            letters <= at
        })
        .count()
}

/// How one part of a word would be misread beside the break.
enum Misread {
    /// As a shortform, one of whose cells is a groupsign: the letters there.
    Grouped(Range<usize>),
    /// As a shortform in the place of letters, the first of them this one.
    Spelt(usize),
}

/// What a reader sees in the cells of one part that is not meant.
fn misread(parts: &[Part]) -> Option<Misread> {
    let cells: Vec<Cell> = parts.iter().flat_map(|part| &register::get(part.sign).cells).copied().collect();
    let (mut cell, mut letter) = (0, 0);
    let mut placed: Vec<(SignId, Range<usize>, Range<usize>, bool)> = Vec::new();
    for part in parts {
        let (to, end) = (cell + register::get(part.sign).cells.len(), letter + usize::from(part.len));
        placed.push((part.sign, cell..to, letter..end, part.len > 1));
        (cell, letter) = (to, end);
    }
    let read = back::shortforms_in(&cells);
    let (seen, _) = read
        .iter()
        .find(|(range, sign)| !placed.iter().any(|(own, cells, ..)| own == sign && cells == range))?;
    let held: Vec<_> = placed.iter().filter(|(_, c, ..)| seen.start < c.end && c.start < seen.end).collect();
    let from = held.iter().map(|(.., letters, _)| letters.start).min()?;
    let to = held.iter().map(|(.., letters, _)| letters.end).max()?;
    let grouped = held.iter().any(|(.., grouped)| *grouped);
    Some(if grouped { Misread::Grouped(from..to) } else { Misread::Spelt(from) })
}
