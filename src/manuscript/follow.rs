//! Which line of the copy is being written, told by what the written braille says.
//!
//! The words of each written line are aligned with the words of the copy around the place where the line before ended,
//! so a word that was skipped, doubled or misspelt throws nothing off; a line that fits nowhere near is looked for in
//! the whole copy. A line costs a fixed window of words, so a text costs linear time.

use std::collections::HashMap;

use super::copy::CopyLine;

/// How far before and after the expected place a line's words are looked for, in words.
const BACK: usize = 12;
const AHEAD: usize = 40;
/// What a word adds that is the copy's, and a word of one or two letters, which stand everywhere.
const SAME: i32 = 20;
const SAME_SHORT: i32 = 12;
/// What it costs to write another word, to skip one and to add one.
const OTHER: i32 = 6;
const SKIPPED: i32 = 10;
const ADDED: i32 = 10;
/// What it costs to go on elsewhere than where the line before ended, and each word on the way.
const JUMP: i32 = 20;
/// A word that stands more often than this tells no place in the whole copy.
const RARE: usize = 24;

/// A word, by its number in the order of their first places in the copy.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Word {
    /// The copy does not have it: none.
    number: Option<u32>,
    short: bool,
}

/// The words of a copy, ready to be followed.
#[derive(Clone, Debug, Default)]
pub struct Follower {
    numbers: HashMap<String, u32>,
    words: Vec<u32>,
    /// The line of the copy that each word stands on.
    line_of: Vec<usize>,
    /// For each number where the word stands.
    places: Vec<Vec<usize>>,
}

/// How far the writing has come.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Reached {
    /// The words of the copy that are behind.
    words: usize,
    /// The first part of a word that was divided at the line's end.
    part: String,
}

/// A word's letters and digits, in lower case.
fn key(word: &str) -> String {
    word.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

impl Follower {
    /// Follows this copy.
    pub fn new(copy: &[CopyLine]) -> Follower {
        let mut out = Follower::default();
        for (number, line) in copy.iter().enumerate().filter(|(_, line)| !line.is_page_number()) {
            for word in line.print().split(' ').map(key).filter(|word| !word.is_empty()) {
                let next = out.numbers.len() as u32;
                let word = *out.numbers.entry(word).or_insert(next);
                if word == next {
                    out.places.push(Vec::new());
                }
                out.places[word as usize].push(out.words.len());
                out.words.push(word);
                out.line_of.push(number);
            }
        }
        out
    }

    /// The line of the copy that is being written, from 0; the last one when all is written.
    pub fn line(&self, reached: &Reached) -> usize {
        self.line_of.get(reached.words).or(self.line_of.last()).copied().unwrap_or(0)
    }

    /// How far the writing has come with one more line, whose words say this. A word that says nothing stands for
    /// cells without a meaning.
    pub fn after<'a>(&self, before: &Reached, said: impl IntoIterator<Item = &'a str>) -> Reached {
        let mut part = String::new();
        let mut words: Vec<String> = Vec::new();
        for word in said {
            let key = key(word);
            // A dash alone is no word; cells that say nothing are one, of no use for finding the place.
            if key.is_empty() && !word.trim().is_empty() {
                continue;
            }
            part = if word.ends_with('-') { key.clone() } else { String::new() };
            words.push(key);
        }
        if !part.is_empty() {
            words.pop();
        }
        if words.is_empty() {
            let part = if part.is_empty() { before.part.clone() } else { part };
            return Reached { words: before.words, part };
        }
        let mut known: Vec<Word> = words.iter().map(|word| self.word(word)).collect();
        let mut came = self.align(before.words, &known);
        if !before.part.is_empty() {
            // A word divided over two lines; or two words, the first with a hyphen at its end.
            known[0] = self.word(&format!("{}{}", before.part, words[0]));
            let joined = self.align(before.words, &known);
            if joined.0 >= came.0 {
                came = joined;
            }
        }
        let (score, mut at) = came;
        if score < SAME * words.len() as i32 * 2 / 5
            && let Some(elsewhere) = self.elsewhere(before.words, &known)
        {
            at = elsewhere;
        }
        Reached { words: at, part }
    }

    fn word(&self, key: &str) -> Word {
        Word { number: self.numbers.get(key).copied(), short: key.chars().count() <= 2 }
    }

    /// Aligns words with the copy around a place: the score, and the words of the copy that are behind.
    fn align(&self, at: usize, words: &[Word]) -> (i32, usize) {
        let count = words.len();
        let as_asked =
            |there: &[u32]| there.iter().zip(words).all(|(other, word)| word.number == Some(*other));
        if self.words.get(at..at + count).is_some_and(as_asked) {
            return (SAME * count as i32, at + count);
        }
        let from = at.saturating_sub(BACK);
        let there = &self.words[from..(at + count + AHEAD).min(self.words.len())];
        // The best score with so many words of the copy behind.
        let mut best: Vec<i32> = (0..=there.len())
            .map(|place| match (from + place).abs_diff(at) {
                0 => 0,
                far => -JUMP - far as i32,
            })
            .collect();
        for word in words {
            let mut next: Vec<i32> = best.iter().map(|score| score - ADDED).collect();
            for (place, other) in there.iter().enumerate() {
                let same = match word.number == Some(*other) {
                    false => -OTHER,
                    true if word.short => SAME_SHORT,
                    true => SAME,
                };
                next[place + 1] = next[place + 1].max(best[place] + same).max(next[place] - SKIPPED);
            }
            best = next;
        }
        let expected = at + count;
        let place = (0..best.len())
            .max_by_key(|place| (best[*place], std::cmp::Reverse((from + place).abs_diff(expected))))
            .unwrap_or(0);
        (best[place], from + place)
    }

    /// Where in the whole copy most of these words stand in a row, behind them; nothing when fewer than three do, or
    /// fewer than half.
    fn elsewhere(&self, at: usize, words: &[Word]) -> Option<usize> {
        let places = |word: &Word| word.number.map(|number| &self.places[number as usize]);
        let known = words.iter().enumerate().filter_map(|(n, word)| Some((n, places(word)?)));
        let (n, places) =
            known.min_by_key(|(_, places)| places.len()).filter(|(_, all)| all.len() <= RARE)?;
        let starts = places.iter().filter_map(|place| place.checked_sub(n));
        let matching = |start: usize| {
            words
                .iter()
                .zip(&self.words[start..])
                .filter(|(word, other)| word.number == Some(**other))
                .count()
        };
        let (_, _, start) = starts
            .map(|start| (matching(start), std::cmp::Reverse(start.abs_diff(at)), start))
            .max()
            .filter(|(count, ..)| *count >= 3 && 2 * count >= words.len())?;
        Some((start + words.len()).min(self.words.len()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::manuscript::copy;
    use crate::ueb::{self, Options, ReadOptions};

    const TEXT: &str = "# The winter timetable\n\nFrom Monday the boats of the Skerry Line keep these hours. Be on the quay ten minutes before, with your ticket in your hand, and mind the step; the crew will help you over it.\n\n- 7:15 Hallam Quay to Orrin\n- 10:30 Hallam Quay to Little Fenn\n- 16:45 Orrin to Hallam Quay\n\nThe galley is open on every crossing. Dogs travel on the deck with their owners.\n";

    /// The copy's line after each of these lines, written as braille and read back.
    fn follow(lines: &[&str]) -> Vec<String> {
        let copy = copy::lines(TEXT, &[]);
        let follower = Follower::new(&copy);
        let mut reached = Reached::default();
        let mut out = Vec::new();
        for line in lines {
            let cells = ueb::transcribe(line, &Options::default());
            let read = ueb::read(&cells, &ReadOptions::default()).print;
            reached = follower.after(&reached, read.split(' '));
            out.push(copy[follower.line(&reached)].print().split(' ').take(3).collect::<Vec<_>>().join(" "));
        }
        out
    }

    #[test]
    fn right_work_is_followed_to_its_end() {
        let came = follow(&[
            "The winter timetable",
            "From Monday the boats of the",
            "Skerry Line keep these hours. Be on",
            "the quay ten minutes before, with your tick-",
            "et in your hand, and mind the step;",
            "the crew will help you over it.",
            "7:15 Hallam Quay to Orrin",
            "10:30 Hallam Quay to Little Fenn",
            "16:45 Orrin to Hallam Quay",
        ]);
        assert_eq!(came[0], "From Monday the");
        assert_eq!(came[5], "7:15 Hallam Quay");
        assert_eq!(came[6], "10:30 Hallam Quay");
        assert_eq!(came[7], "16:45 Orrin to");
        assert_eq!(came[8], "The galley is");
    }

    #[test]
    fn skipped_doubled_and_misspelt_words_throw_nothing_off() {
        // "of the" is skipped, "keep" is doubled, "minutes" is misspelt, "and mind the step" is skipped.
        let came = follow(&[
            "The winter timetable",
            "From Monday the boats Skerry Line keep keep these hours. Be on",
            "the quay ten minits before, with your ticket in your hand;",
            "the crew will help you over it.",
            "7:15 Hallam Quay to Orrin",
        ]);
        assert_eq!(came[3..], ["7:15 Hallam Quay", "10:30 Hallam Quay"]);
    }

    #[test]
    fn a_line_out_of_turn_is_found() {
        // A sailing is left out, and the next one is as like it as can be.
        let came =
            follow(&["The winter timetable", "7:15 Hallam Quay to Orrin", "16:45 Orrin to Hallam Quay"]);
        assert_eq!(came[1..], ["10:30 Hallam Quay", "The galley is"]);
        // Beginning with the last paragraph.
        assert_eq!(follow(&["The galley is open on every crossing. Dogs"]), ["The galley is"]);
        // Words that are nowhere in the copy go on from where the writing was.
        let came = follow(&["The winter timetable", "Nothing of this stands there"]);
        assert!(came[1] == "From Monday the", "{came:?}");
        assert_eq!(follow(&[]), Vec::<String>::new());
        assert_eq!(Follower::new(&[]).line(&Reached::default()), 0);
    }
}
