//! Single letters beside a capitals passage: whether they belong to it is a judgement (8.5.4).

use std::ops::Range;

use super::super::register::{self, Class};
use super::super::{Choice, Explanation, SignUse};
use super::known::known;
use crate::cell::Cell;

const SECTION: &str = "8.5.4";
const WHY: &str = "whether the letter belongs to the capitals passage beside it is a judgement";

/// Looks at every capitals passage, and offers the letter beside it or at its edge the other way too.
pub(crate) fn letters(explanation: &mut Explanation) {
    let know = known();
    let Explanation { cells, choices, signs, .. } = explanation;
    let mut found = Vec::new();
    for first in 0..signs.len() {
        if signs[first].sign != know.capital_passage {
            continue;
        }
        let last = (first..signs.len()).find(|&i| signs[i].sign == know.capital_end);
        let text = Text { signs, cells };
        found.extend(text.first_letter(first, last));
        found.extend(text.letter_before(first));
        if let Some(last) = last {
            found.extend(text.last_letter(first, last));
            found.extend(text.letter_after(last));
        }
    }
    for choice in found {
        choices.retain(|other| {
            other.section != "8.6.2"
                || other.cells.end <= choice.cells.start
                || choice.cells.end <= other.cells.start
        });
        choices.push(choice);
    }
}

struct Text<'a> {
    signs: &'a [SignUse],
    cells: &'a [Cell],
}

impl Text<'_> {
    fn class(&self, at: usize) -> Option<Class> {
        self.signs.get(at).map(|sign| register::get(sign.sign).class)
    }

    fn is(&self, at: usize, class: Class) -> bool {
        self.class(at) == Some(class)
    }

    fn cells(&self, signs: Range<usize>) -> &[Cell] {
        match (self.signs.get(signs.start), self.signs.get(signs.end.saturating_sub(1))) {
            (Some(from), Some(to)) if !signs.is_empty() => &self.cells[from.cells.start..to.cells.end],
            _ => &[],
        }
    }

    /// One letter with a blank or nothing on each side, but for stops after it: where it ends with them.
    fn alone(&self, letter: usize) -> Option<usize> {
        if !self.is(letter, Class::Letter) {
            return None;
        }
        let stops = (letter + 1..self.signs.len()).take_while(|&at| self.is_stop(at)).count();
        Some(letter + 1 + stops)
    }

    fn is_stop(&self, at: usize) -> bool {
        self.signs
            .get(at)
            .is_some_and(|sign| matches!(register::get(sign.sign).print, "," | ";" | ":" | "." | "!" | "?"))
    }

    /// Whether the letter reads as itself: a, i, o, or one behind a grade 1 indicator (5.7.1).
    fn guarded(&self, letter: usize, before: Option<usize>) -> bool {
        matches!(register::get(self.signs[letter].sign).print, "a" | "i" | "o")
            || before.is_some_and(|at| self.signs[at].sign == known().grade1)
    }

    /// How many symbols-sequences with letters stand in these signs.
    fn sequences(&self, signs: Range<usize>) -> usize {
        let (mut count, mut any) = (0, false);
        for at in signs {
            match self.class(at) {
                Some(Class::Space) => any = false,
                Some(class) if !any && (class == Class::Letter || class.is_contraction()) => {
                    (any, count) = (true, count + 1);
                }
                _ => {}
            }
        }
        count
    }

    fn choice(&self, signs: Range<usize>, others: Vec<Vec<Cell>>) -> Choice {
        let (from, to) = (&self.signs[signs.start], &self.signs[signs.end - 1]);
        let print = from.print.start..self.signs[signs].iter().map(|sign| sign.print.end).max().unwrap_or(0);
        let print = print.start..print.end.max(print.start);
        Choice { print, cells: from.cells.start..to.cells.end, section: SECTION, why: WHY, others }
    }

    /// The passage's first letter by itself, and the passage, or what is left of it, after that.
    fn first_letter(&self, first: usize, last: Option<usize>) -> Option<Choice> {
        let end = self.alone(first + 1)?;
        if !self.is(end, Class::Space) || !self.guarded(first + 1, first.checked_sub(1)) {
            return None;
        }
        let know = known();
        let capital = &register::get(know.capital_letter).cells;
        let mut other = capital.clone();
        other.extend_from_slice(self.cells(first + 1..end + 1));
        let until = last.unwrap_or(self.signs.len());
        if self.sequences(end..until) >= 3 {
            other.extend_from_slice(self.cells(first..first + 1));
            return Some(self.choice(first..end + 1, vec![other]));
        }
        // Two words are left: each has its own indicator.
        let last = last?;
        let plain = |at: usize| {
            self.class(at).is_some_and(|class| {
                class == Class::Letter || class.is_contraction() || class == Class::Space
            })
        };
        let lone = |at: usize| {
            self.is(at, Class::Letter)
                && self.is(at - 1, Class::Space)
                && !self.class(at + 1).is_some_and(|class| class == Class::Letter || class.is_contraction())
        };
        if !(end + 1..last).all(|at| (plain(at) || self.is_stop(at)) && !lone(at)) {
            return None;
        }
        let word = &register::get(know.capital_word).cells;
        other.extend_from_slice(word);
        for at in end + 1..last {
            other.extend_from_slice(self.cells(at..at + 1));
            if self.is(at, Class::Space) {
                other.extend_from_slice(word);
            }
        }
        Some(self.choice(first..last + 1, vec![other]))
    }

    /// The single letter before a passage as its first.
    fn letter_before(&self, first: usize) -> Option<Choice> {
        let blank = first.checked_sub(1)?;
        let stops = (0..blank).rev().take_while(|&at| self.is_stop(at)).count();
        let letter = (blank - stops).checked_sub(1)?;
        let indicator = letter.checked_sub(1)?;
        let own = self.is(blank, Class::Space)
            && self.is(letter, Class::Letter)
            && self.signs[indicator].sign == known().capital_letter;
        let before = indicator.checked_sub(1);
        let opens = before.is_none_or(|at| {
            self.is(at, Class::Space)
                || self.signs[at].sign == known().grade1
                || self.is(at, Class::Punctuation) && !self.is_stop(at)
        });
        if !own || !opens || !self.guarded(letter, before) {
            return None;
        }
        let mut other = self.cells(first..first + 1).to_vec();
        other.extend_from_slice(self.cells(letter..blank + 1));
        Some(self.choice(indicator..first + 1, vec![other]))
    }

    /// The passage's last letter by itself, behind the terminator.
    fn last_letter(&self, first: usize, last: usize) -> Option<Choice> {
        let stops = (first..last).rev().take_while(|&at| self.is_stop(at)).count();
        let letter = (last - stops).checked_sub(1)?;
        let mut from = letter;
        if letter > 0 && self.signs[letter - 1].sign == known().grade1 {
            from -= 1;
        }
        let blank = from.checked_sub(1).filter(|&at| at > first && self.is(at, Class::Space))?;
        if !self.is(letter, Class::Letter)
            || !self.guarded(letter, letter.checked_sub(1))
            || self.sequences(first..blank) < 3
        {
            return None;
        }
        let end = self.cells(last..last + 1);
        let mut other = end.to_vec();
        other.extend_from_slice(self.cells(blank..letter));
        other.extend_from_slice(&register::get(known().capital_letter).cells);
        other.extend_from_slice(self.cells(letter..last));
        let mut others = vec![other];
        if stops > 0 {
            others.push([self.cells(blank..letter + 1), end, self.cells(letter + 1..last)].concat());
        }
        Some(self.choice(blank..last + 1, others))
    }

    /// The single letter behind a passage as its last.
    fn letter_after(&self, last: usize) -> Option<Choice> {
        let stops = (0..last).rev().take_while(|&at| self.is_stop(at)).count();
        let from = last - stops;
        let blank = last + 1;
        let mut at = blank + 1;
        if self.signs.get(at).is_some_and(|sign| sign.sign == known().grade1) {
            at += 1;
        }
        let own = self.is(blank, Class::Space)
            && self.signs.get(at).is_some_and(|sign| sign.sign == known().capital_letter);
        let letter = at + 1;
        let end = self.alone(letter).filter(|_| own)?;
        if !self.class(end).is_none_or(|class| class == Class::Space)
            || !self.guarded(letter, letter.checked_sub(2))
        {
            return None;
        }
        let terminator = self.cells(last..last + 1);
        let (stop, rest) = (self.cells(from..last), self.cells(blank..at));
        let with = [stop, rest, self.cells(letter..letter + 1), terminator].concat();
        let mut others = vec![with];
        if stops > 0 {
            others.push([terminator, stop, rest, self.cells(at..letter + 1)].concat());
        }
        Some(self.choice(from..letter + 1, others))
    }
}
