//! The choice against the published word list.

use super::*;
use crate::cell;

/// A word of plain lower-case letters, standing alone, in braille ASCII.
fn written(word: &str) -> String {
    let letters: Vec<Letter> = word
        .chars()
        .map(|ch| Letter { ch, plain: ch.is_ascii_lowercase(), mark_before: false, alone: false })
        .collect();
    let context = Context { word_start: true, word_end: true, standing_alone: true, needs_upper: false };
    let mut parts = Vec::new();
    choose(&letters, &context, &mut parts, None);
    parts.iter().map(|part| cell::to_ascii(&register::get(part.sign).cells)).collect()
}

/// The rows of Appendix 2 that are one plain word, lower case.
fn rows() -> Vec<(String, String)> {
    include_str!("../../../tests/data/wordlist.tsv")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| {
            let mut fields = line.split('\t');
            let (word, braille) = (fields.next()?, fields.next()?);
            let lower = word.to_lowercase();
            let capital = word != lower;
            let braille = if capital { braille.strip_prefix(',')? } else { braille };
            (word.chars().all(|c| c.is_ascii_alphabetic())
                && word.chars().skip(1).all(|c| c.is_ascii_lowercase()))
            .then(|| (lower, braille.to_owned()))
        })
        .collect()
}

// Source: The Rules of UEB 2013, Appendix 2 (tests/data/wordlist.tsv).
#[test]
fn the_published_words() {
    let rows = rows();
    let wrong: Vec<String> = rows
        .iter()
        .filter(|(_, braille)| !braille.starts_with(';'))
        .filter_map(|(word, braille)| {
            let ours = written(word);
            (ours != *braille).then(|| format!("{word}: {braille}, not {ours}"))
        })
        .collect();
    println!("{} of {} words wrong:\n{}", wrong.len(), rows.len(), wrong.join("\n"));
    assert!(wrong.len() * 100 <= rows.len() * 2, "more than 2% wrong");
}

/// What the rules choose for each word of a list, for the script that makes the lexicon: the word, a tab, and the
/// chosen contractions with their places. The list's path is in CELLWRIGHT_WORDS, the output's in CELLWRIGHT_CHOICES.
#[test]
#[ignore = "a tool for src/ueb/contract/make_lexicon.py, which gives it its files"]
fn print_choices() {
    let from = std::env::var("CELLWRIGHT_WORDS").expect("CELLWRIGHT_WORDS names a file of words");
    let to = std::env::var("CELLWRIGHT_CHOICES").expect("CELLWRIGHT_CHOICES names the output");
    let mut out = String::new();
    for word in std::fs::read_to_string(from).expect("the words can be read").lines() {
        let letters: Vec<Letter> =
            word.chars().map(|ch| Letter { ch, plain: true, mark_before: false, alone: false }).collect();
        let context = Context { word_start: true, word_end: true, standing_alone: false, needs_upper: false };
        let mut parts = Vec::new();
        choose(&letters, &context, &mut parts, None);
        let mut at = 0;
        let mut chosen = Vec::new();
        for part in parts {
            if part.len > 1 {
                chosen.push(format!("{at}:{}", register::get(part.sign).print));
            }
            at += usize::from(part.len);
        }
        out.push_str(&format!("{word}\t{}\n", chosen.join(" ")));
    }
    std::fs::write(to, out).expect("the choices can be written");
}
