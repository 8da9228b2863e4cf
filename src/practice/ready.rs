//! The braille of the page's own words, sentences and texts, made when the page is built.
//!
//! The half of the page that loads first reads braille, and has no way from print to braille: what it gives to read comes
//! with its braille, which a file beside the texts holds. [`write`] makes that file, `cargo run -- build` calls it.

use std::collections::BTreeSet;

use super::supply::Supply;
use crate::cell::{self, Cell};
use crate::ueb::{self, Options};

/// Words and texts in braille.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ready {
    /// What stands between blanks in the lines to read, in order: print, contracted, uncontracted, parted by tabs. Where
    /// one is left out, its braille ASCII is the print itself.
    words: Vec<String>,
    /// The pieces of each text, in braille ASCII.
    texts: Vec<Vec<String>>,
}

fn print_of(word: &str) -> &str {
    word.split('\t').next().unwrap_or_default()
}

impl Ready {
    /// Reads what [`write`] has made.
    pub fn parse(file: &str) -> Ready {
        let mut parts = file.split("\n\n").map(|part| part.lines().map(str::to_owned).collect());
        Ready { words: parts.next().unwrap_or_default(), texts: parts.collect() }
    }

    fn word(&self, print: &str, contracted: bool) -> Option<Vec<Cell>> {
        let at = self.words.binary_search_by(|word| print_of(word).cmp(print)).ok()?;
        let ready = self.words[at].split('\t').nth(if contracted { 1 } else { 2 });
        cell::from_ascii(ready.filter(|ready| !ready.is_empty()).unwrap_or(print))
    }

    /// A line of print in braille, when every word of it is here.
    pub fn line(&self, print: &str, contracted: bool) -> Option<Vec<Cell>> {
        let mut cells = Vec::new();
        for (n, word) in print.split(' ').enumerate() {
            if n > 0 {
                cells.push(Cell::BLANK);
            }
            cells.extend(self.word(word, contracted)?);
        }
        Some(cells)
    }

    /// The pieces of a text, by its place, in the order in which they are set.
    pub fn text(&self, place: usize) -> impl Iterator<Item = Vec<Cell>> {
        self.texts.get(place).into_iter().flatten().map(|piece| cell::from_ascii(piece).unwrap_or_default())
    }
}

/// The braille of the words, the sentences and the texts of the data files (see [`Supply::parse`]).
pub fn write(texts: &str, frames: &str, words: &str) -> String {
    let supply = Supply::parse(texts, frames, words, "");
    let all: BTreeSet<String> = supply.words().iter().cloned().chain(supply.words_of_frames()).collect();
    let mut file = String::new();
    for print in all {
        let ready = |contracted| {
            let ready = cell::to_ascii(&ueb::transcribe(
                &print,
                &Options { contracted, marks: false, ..Options::default() },
            ));
            if ready == print { String::new() } else { ready }
        };
        file.push_str(format!("{print}\t{}\t{}", ready(true), ready(false)).trim_end_matches('\t'));
        file.push('\n');
    }
    for passage in &supply.passages {
        file.push('\n');
        passage.set(&mut |print| {
            let cells = ueb::transcribe(
                print,
                &Options { contracted: passage.contracted, marks: true, ..Options::default() },
            );
            file.push_str(&cell::to_ascii(&cells));
            file.push('\n');
            cells
        });
    }
    file
}

#[cfg(test)]
mod tests {
    use super::super::supply::tests::{file, shipped};
    use super::super::{lines, units};
    use super::*;
    use crate::ueb::register;

    /// Ready made or not, a line is the same; and its signs, read from its cells, are those it was written with.
    #[test]
    fn sentences_from_ready_words_are_what_the_engine_writes() {
        let supply = shipped();
        let mut chance = fastrand::Rng::with_seed(11);
        let last = units::units().len() - 1;
        for n in 0..3_000 {
            let (unit, contracted) = (chance.usize(3..=last), n % 2 == 0);
            let Some(text) = supply.sentence(unit, contracted, &[], &mut chance) else { continue };
            let explained = ueb::explain(&text, &Options { contracted, marks: false, ..Options::default() });
            let cells = supply.cells(&text, contracted);
            assert_eq!(cells.as_ref(), Some(&explained.cells), "{text}");
            let mut keys: Vec<&str> = Vec::new();
            for used in &explained.signs {
                let key = register::get(used.sign).key;
                if units::unit_of(key).is_some() && !keys.contains(&key) {
                    keys.push(key);
                }
            }
            assert_eq!(lines::judge_read(&text, &explained.cells, contracted, &text).signs, keys, "{text}");
        }
    }

    #[test]
    fn texts_are_set_alike_from_what_is_ready() {
        let supply = shipped();
        for (place, passage) in supply.passages.iter().enumerate() {
            let options = Options { contracted: passage.contracted, marks: true, ..Options::default() };
            let mut ready = supply.ready.text(place);
            passage.set(&mut |print| {
                let cells = ueb::transcribe(print, &options);
                assert_eq!(ready.next().as_ref(), Some(&cells), "{}: {print}", passage.title);
                cells
            });
            assert_eq!(ready.next(), None, "{}", passage.title);
        }
    }

    #[test]
    fn every_word_of_every_frame_is_there() {
        let supply = shipped();
        let ready = Ready::parse(&write(&file("passages.txt"), &file("frames.txt"), &file("words.txt")));
        for word in supply.words_of_frames() {
            for contracted in [false, true] {
                let asked =
                    ueb::transcribe(&word, &Options { contracted, marks: false, ..Options::default() });
                assert_eq!(ready.line(&word, contracted), Some(asked), "{word}");
            }
        }
        assert_eq!(ready.line("no such-word-xq", true), None);
    }
}
