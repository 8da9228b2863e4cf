//! Seams: where a word's parts meet, and no contraction may bridge them (10.11), and words whose pronunciation the
//! rules over letters can't tell (10.6 to 10.8).
//!
//! The lexicon is a sorted text file, one word a line: the word with its seams, a tab, and a reason code. In the word
//! `|` bars every contraction across this point; `~` says that the contraction across this point is permitted, though
//! the rules over letters would bar it.

use std::collections::HashMap;
use std::sync::OnceLock;

use crate::ueb::register::Class;

/// What the lexicon says of a word; nothing of most words.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Seams {
    /// Bit `n`: no contraction across the point before letter `n`.
    barred: u64,
    /// Bit `n`: the contraction across the point before letter `n` is permitted.
    permitted: u64,
    reason: Reason,
}

/// Why a word stands in the lexicon.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reason {
    /// Words make up a compound (10.11.1).
    #[default]
    Compound,
    /// The h is sounded (10.11.2).
    Aspirated,
    /// A prefix meets the rest of the word (10.11.4, 10.11.5).
    Prefix,
    /// A suffix (10.11.7, 10.8.3, 10.8.4).
    Suffix,
    /// How the word is said (10.6.1, 10.7.2 to 10.7.9).
    Said,
}

impl Reason {
    fn of(code: &str) -> Option<Reason> {
        Some(match code {
            "compound" => Reason::Compound,
            "aspirated" => Reason::Aspirated,
            "prefix" => Reason::Prefix,
            "suffix" => Reason::Suffix,
            "said" => Reason::Said,
            _ => return None,
        })
    }
}

fn across(at: usize, len: usize) -> u64 {
    (at + 1..at + len).filter(|&point| point < 64).fold(0, |bits, point| bits | 1 << point)
}

impl Seams {
    /// Whether a seam lies within these letters.
    pub fn bars(&self, at: usize, len: usize) -> bool {
        self.barred & across(at, len) != 0
    }

    /// Whether the lexicon permits a contraction over these letters.
    pub fn permits(&self, at: usize, len: usize) -> bool {
        self.permitted & across(at, len) != 0
    }

    /// The section and the reason for a contraction barred by a seam.
    pub fn section(&self, class: Class, letters: &[u8]) -> (&'static str, &'static str) {
        match self.reason {
            Reason::Compound => ("10.11.1", "would bridge the words of a compound"),
            Reason::Aspirated => ("10.11.2", "the h is sounded"),
            Reason::Prefix if letters == b"ea" => {
                ("10.11.4", "would bridge a prefix and the rest of the word")
            }
            Reason::Prefix => ("10.11.5", "would bridge a prefix and the rest of the word"),
            Reason::Suffix => ("10.11.7", "would bridge the word and its suffix"),
            Reason::Said => match (class, letters) {
                (Class::LowerGroupsign, _) => ("10.6.1", "not the first syllable of the word"),
                (_, b"had") => ("10.7.3", "the a is not short"),
                (_, b"ever") => ("10.7.4", "the stress is not on the first e"),
                (_, b"here" | b"name") => ("10.7.5", "is not said as one syllable"),
                (_, b"one") => ("10.7.6", "is not said as one syllable"),
                (_, b"some") => ("10.7.7", "is not a syllable of the basic word"),
                (_, b"time") => ("10.7.8", "is not said like the word time"),
                _ => ("10.10.9", "would distort the word"),
            },
        }
    }
}

/// What the lexicon says of a word in lower case.
pub fn of(word: &[u8]) -> Seams {
    static LEXICON: OnceLock<HashMap<Box<[u8]>, Seams>> = OnceLock::new();
    let lexicon = LEXICON.get_or_init(|| {
        include_str!("lexicon.txt")
            .lines()
            .filter(|line| !line.starts_with('#'))
            .filter_map(|line| {
                let (marked, code) = line.split_once('\t')?;
                let (word, seams) = parse(marked, Reason::of(code)?);
                Some((word.into_boxed_slice(), seams))
            })
            .collect()
    });
    lexicon.get(word).copied().unwrap_or_default()
}

fn parse(marked: &str, reason: Reason) -> (Vec<u8>, Seams) {
    let mut seams = Seams { reason, ..Seams::default() };
    let mut word = Vec::new();
    for c in marked.bytes() {
        match c {
            b'|' if word.len() < 64 => seams.barred |= 1 << word.len(),
            b'~' if word.len() < 64 => seams.permitted |= 1 << word.len(),
            c => word.push(c),
        }
    }
    (word, seams)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lexicon_is_sorted_and_every_line_is_read() {
        let mut last = String::new();
        for line in include_str!("lexicon.txt").lines().filter(|line| !line.starts_with('#')) {
            let (marked, code) = line.split_once('\t').unwrap();
            assert!(Reason::of(code).is_some(), "{line}");
            let word: String = marked.chars().filter(|c| c.is_ascii_lowercase()).collect();
            assert!(word > last, "{word} after {last}");
            assert!(marked.contains(['|', '~']), "{line}");
            last = word;
        }
        assert!(!last.is_empty());
    }
}
