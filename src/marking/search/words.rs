//! Whole words: left out, too many, others, two for one, mirrored.

use std::ops::Range;

use super::{Grid, Move, Op, PLAIN};
use crate::cell::Cell;
use crate::marking::expected::Unit;
use crate::marking::spelling;
use crate::ueb::register::Class;
use crate::ueb::{self, ReadOptions};

const WORDS: u32 = 230;
const WORD_REPLACED: u32 = 300;
const TWO_WORDS: u32 = 15;
/// A word of the same letters in another order: dearer than any slip, cheaper than two.
const JUMBLED: u32 = 235;
/// No word that is looked at for that has more cells.
const LONGEST_JUMBLED: usize = 24;

/// The runs of places that are no blanks.
fn words(places: Range<usize>, blank: impl Fn(usize) -> bool) -> Vec<Range<usize>> {
    let mut out: Vec<Range<usize>> = Vec::new();
    for at in places.filter(|&at| !blank(at)) {
        match out.last_mut() {
            Some(last) if last.end == at => last.end = at + 1,
            _ => out.push(at..at + 1),
        }
    }
    out
}

/// What another word costs for one of so many signs.
fn replaced(signs: usize) -> u32 {
    (120 + 40 * signs as u32).clamp(WORD_REPLACED, 2 * WORDS - 20)
}

impl Grid<'_> {
    /// Whole words left out, added, or in another's place.
    pub(super) fn words(&mut self, from: usize, cost: u32, node: usize, w: usize, number: usize) {
        if cost + WORDS > self.bound {
            return;
        }
        let end = self.region.units.end;
        let starts = self.starts_word(number);
        let begins = w == 0 || self.written[w - 1].is_blank();
        let blank = self.written.get(w).is_some_and(|cell| cell.is_blank());
        let left = self.words_left_out(number, w);
        let added = if begins || blank { self.words_added(number, w) } else { Vec::new() };
        if starts && begins && !blank && number < end && !self.is_space(number) && w < self.written.len() {
            let word = self.word_end(number);
            let cells = &self.written[w..];
            let length = cells.iter().position(|cell| cell.is_blank()).unwrap_or(cells.len());
            let to = (self.starts[word - self.region.units.start], w + length, PLAIN);
            let asked = &self.expected.cells[self.expected.cells_of(&(number..word))];
            let mirrors = |mut cells: std::slice::Iter<Cell>| {
                length > 1
                    && length == asked.len()
                    && asked.iter().all(|cell| cells.next().map(|c| c.mirror()) == Some(*cell))
            };
            if asked != &cells[..length] && mirrors(cells[..length].iter()) {
                self.reach(from, cost + WORDS, to, Op::WordMirrored);
            }
            if cost + JUMBLED <= self.bound && self.is_jumbled(number..word, &cells[..length]) {
                self.reach(from, cost + JUMBLED, to, Op::WordJumbled);
            }
            self.reach(from, cost + replaced(word - number), to, Op::WordReplaced);
            self.two_for_one(from, cost, number..word, w, length);
        }
        for (more, to) in left.into_iter().enumerate() {
            let to = (self.starts[to - self.region.units.start], w, PLAIN);
            self.reach(from, cost + WORDS + 2 * more as u32, to, Op::WordsLeftOut);
        }
        for (more, to) in added.into_iter().enumerate() {
            self.reach(from, cost + WORDS + 2 * more as u32, (node, to, PLAIN), Op::WordsAdded);
        }
    }

    /// Whether the cells read as a word with the letters of the one asked for, in another order: "god" for "dog".
    fn is_jumbled(&self, word: Range<usize>, cells: &[Cell]) -> bool {
        let asked = self.expected.cells_of(&word);
        if asked.len().max(cells.len()) > LONGEST_JUMBLED || self.expected.cells[asked] == *cells {
            return false;
        }
        // Nothing but letters, and the same signs around them.
        let print = self.expected.words(&word);
        let read = ueb::read_print(cells, &ReadOptions::default());
        let core = |text: &str| -> Option<(String, Vec<char>, String)> {
            let letters = text.trim_matches(|c: char| !c.is_alphabetic());
            let (before, behind) = text.split_once(letters)?;
            let letters: Vec<char> = letters.chars().map(spelling::plain).collect();
            let whole = letters.len() >= 3 && letters.iter().all(|c| c.is_alphabetic());
            whole.then(|| (before.to_owned(), letters, behind.to_owned()))
        };
        let (Some((before, mut asked, behind)), Some((first, mut read, last))) = (core(&print), core(&read))
        else {
            return false;
        };
        if asked == read || (before, behind) != (first, last) {
            return false;
        }
        asked.sort_unstable();
        read.sort_unstable();
        asked == read
    }

    fn is_space(&self, unit: usize) -> bool {
        self.slots[unit - self.region.units.start].space
    }

    /// The blank at or after a sign, or the end of the region.
    fn word_end(&self, unit: usize) -> usize {
        let end = self.region.units.end;
        (unit..end).find(|&unit| self.is_space(unit)).unwrap_or(end)
    }

    /// Behind a blank a word goes with the blank after it; before one, with that.
    fn starts_word(&self, number: usize) -> bool {
        number == self.region.units.start || self.is_space(number - 1)
    }

    /// Up to which signs words may be left out from this one on.
    fn words_left_out(&self, number: usize, w: usize) -> Vec<usize> {
        let end = self.region.units.end;
        let mut left = Vec::new();
        // A sentence without its first word still begins with a capital: its indicator stays.
        let mark = |at: usize| self.slots[at - self.region.units.start].mark;
        let first = number > self.region.units.start
            && mark(number - 1)
            && (number - 1 == self.region.units.start || self.is_space(number - 2));
        if number < end && (self.starts_word(number) || first || self.is_space(number)) {
            let mut at = number;
            while at < end {
                let from_blank = usize::from(self.is_space(number));
                let word = self.word_end(at + from_blank);
                at = if from_blank == 1 { word } else { (word + 1).min(end) };
                // Its last mark may be there all the same: "sang." for "sang a song."
                let mark = self.last_marks(word);
                let there = from_blank == 1 && number + 1 < mark && mark < word;
                let cells = &self.expected.cells[self.expected.cells_of(&(mark..word))];
                if there && self.written[w..].starts_with(cells) {
                    left.push(mark);
                }
                left.push(at);
            }
        }
        left
    }

    /// Up to which cells words may be too many from this one on.
    fn words_added(&self, number: usize, w: usize) -> Vec<usize> {
        let blank = self.written.get(w).is_some_and(|cell| cell.is_blank());
        let mut added = Vec::new();
        let mut at = w;
        while at < self.written.len() {
            let skip = usize::from(blank);
            let cells = &self.written[(at + skip).min(self.written.len())..];
            let word =
                cells.iter().position(|cell| cell.is_blank()).map_or(self.written.len(), |k| at + skip + k);
            at = if blank { word } else { (word + 1).min(self.written.len()) };
            // The mark of the word before may come behind them: "sang a song." for "sang."
            let next = self.word_end(number);
            if blank && number < next && self.last_marks(next) == number {
                let marks = &self.expected.cells[self.expected.cells_of(&(number..next))];
                if self.written[w + 1..word].len() > marks.len() && self.written[w..word].ends_with(marks) {
                    added.push(word - marks.len());
                }
            }
            added.push(at);
        }
        added
    }

    /// Where the punctuation begins that ends before a sign.
    fn last_marks(&self, end: usize) -> usize {
        let first = self.region.units.start;
        let mark = |unit: &&Unit| unit.class() == Some(Class::Punctuation);
        end - self.expected.units[first..end].iter().rev().take(6).take_while(mark).count()
    }

    /// One word written for two, or two for one: "at" for "in the", "do not" for "don't".
    fn two_for_one(&mut self, from: usize, cost: u32, word: Range<usize>, w: usize, length: usize) {
        let cells = &self.written[w + length..];
        if cells.first().is_some_and(|cell| cell.is_blank()) {
            let next = cells[1..].iter().position(|cell| cell.is_blank()).unwrap_or(cells.len() - 1);
            let to = (self.starts[word.end - self.region.units.start], w + length + 1 + next, PLAIN);
            if next > 0 {
                self.reach(from, cost + replaced(word.len()) + TWO_WORDS, to, Op::WordReplaced);
            }
        }
        let end = self.region.units.end;
        if word.end + 1 < end {
            let space = |&unit: &usize| self.slots[unit - self.region.units.start].space;
            let second = (word.end + 1..end).find(space).unwrap_or(end);
            let to = (self.starts[second - self.region.units.start], w + length, PLAIN);
            self.reach(from, cost + replaced(second - word.start) + TWO_WORDS, to, Op::WordReplaced);
        }
    }

    /// Words left out where others are too many are other words: told word by word where they are as many.
    pub(super) fn other_words(&self, story: Vec<Move>) -> Vec<Move> {
        let mut out: Vec<Move> = Vec::with_capacity(story.len());
        for step in story {
            let pair = out.last().is_some_and(|last| {
                matches!(
                    (last.op, step.op),
                    (Op::WordsLeftOut, Op::WordsAdded) | (Op::WordsAdded, Op::WordsLeftOut)
                )
            });
            match out.pop_if(|_| pair) {
                Some(last) => {
                    let units = last.units.start.min(step.units.start)..last.units.end.max(step.units.end);
                    let written = last.written.start..step.written.end;
                    out.extend(self.replaced_words(units, written));
                }
                None => out.push(step),
            }
        }
        out
    }

    fn replaced_words(&self, units: Range<usize>, written: Range<usize>) -> Vec<Move> {
        let asked = words(units.clone(), |at| self.expected.units[at].is_space());
        let cells = words(written.clone(), |at| self.all[at].is_blank());
        let one = |(units, written)| Move { op: Op::WordReplaced, units, written };
        let differ = |(units, written): &(Range<usize>, Range<usize>)| {
            self.expected.cells[self.expected.cells_of(units)] != self.all[written.clone()]
        };
        match asked.len() == cells.len() {
            true => asked.into_iter().zip(cells).filter(differ).map(one).collect(),
            false => vec![one((units, written))],
        }
    }
}
