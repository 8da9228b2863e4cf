//! The choice against the published word list.

use std::collections::HashSet;

use super::seams::tests::{Instead, put_instead};
use super::*;
use crate::cell;

/// A word of plain lower-case letters, standing alone, in braille ASCII.
fn written(word: &str) -> String {
    let letters: Vec<Letter> = word
        .chars()
        .map(|ch| Letter { ch, plain: ch.is_ascii_lowercase(), mark_before: false, alone: None })
        .collect();
    let mut parts = Vec::new();
    choose(&letters, &Context::WORD, &mut parts, None);
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

// Source: by rule, our own reading of The Rules of UEB 2013 (by_rule.tsv); none of these words is in the check data.
#[test]
fn words_by_rule() {
    let check = check_words();
    let (mut count, mut wrong) = (0, Vec::new());
    for line in include_str!("by_rule.tsv").lines().filter(|line| !line.starts_with('#')) {
        let fields: Vec<&str> = line.split('\t').collect();
        let [word, braille, section] = fields[..] else { panic!("{line}") };
        assert!(!check.contains(word.to_ascii_lowercase().as_bytes()), "{word} is in the check data");
        let cells = crate::ueb::transcribe(word, &crate::ueb::Options::default());
        let ours = cell::to_ascii(&cells);
        count += 1;
        if ours != braille {
            wrong.push(format!("{section} {word}: {ours}, not {braille}"));
        }
    }
    println!("{count} words by rule");
    assert!(count > 400 && wrong.is_empty(), "{wrong:#?}");
}

// A word of a million letters is chosen as its beginning is, and in a time that a test can wait for.
#[test]
fn huge_words_take_linear_time() {
    for piece in ["great", "thing", "stone", "x", "children", "northeast"] {
        let letters = |n: usize| -> Vec<Letter> {
            let letters = piece.chars().cycle().take(n * piece.len());
            letters.map(|ch| Letter { ch, plain: true, mark_before: false, alone: None }).collect()
        };
        let (mut small, mut large, mut passed) = (Vec::new(), Vec::new(), Vec::new());
        choose(&letters(100), &Context::WORD, &mut small, None);
        choose(&letters(100_000), &Context::WORD, &mut large, Some(&mut passed));
        assert_eq!(small[..50], large[..50], "{piece}");
        assert_eq!(large.iter().map(|part| usize::from(part.len)).sum::<usize>(), 100_000 * piece.len());
    }
}

/// The words that the check data holds, in lower case: letters-sequences of tests/data/wordlist.tsv and examples*.tsv.
fn check_words() -> HashSet<Vec<u8>> {
    let first = include_str!("../../../tests/data/wordlist.tsv").lines().map(|line| line.split('\t').next());
    let second = [
        include_str!("../../../tests/data/examples.tsv"),
        include_str!("../../../tests/data/examples-marked.tsv"),
    ];
    let second = second.iter().flat_map(|text| text.lines()).map(|line| line.split('\t').nth(1));
    first
        .chain(second)
        .flatten()
        .filter(|print| !print.starts_with('#'))
        .flat_map(|print| print.split(|c: char| !c.is_ascii_alphabetic()))
        .filter(|word| !word.is_empty())
        .map(|word| word.to_ascii_lowercase().into_bytes())
        .collect()
}

/// Rows that are a slip of the book or of its extraction; tests/standard.rs says of each by which section.
const SLIPS: [&str; 2] = ["S—", "CANDU reactor"];

/// Rows of a file of the check data that are right, and all that count, with the wrong ones.
fn score(text: &str, print: usize, braille: usize) -> (usize, usize, Vec<String>) {
    let (mut right, mut all, mut wrong) = (0, 0, Vec::new());
    for line in text.lines().filter(|line| !line.starts_with('#') && !line.is_empty()) {
        let fields: Vec<&str> = line.split('\t').collect();
        if fields.get(4).is_some_and(|depends| !depends.is_empty()) {
            continue;
        }
        if SLIPS.contains(&fields[print]) {
            continue;
        }
        all += 1;
        let cells = crate::ueb::transcribe(fields[print], &crate::ueb::Options::default());
        let ours = cell::to_ascii(&cells);
        if ours.eq_ignore_ascii_case(fields[braille]) {
            right += 1;
        } else {
            wrong.push(format!("{}: {}, not {ours}", fields[print], fields[braille]));
        }
    }
    (right, all, wrong)
}

// Source: The Rules of UEB 2013, Appendix 2 and its worked examples (tests/data): with every word of the check data
// out of the lexicon, the rules alone are right on 99.5% of them.
#[test]
fn the_rules_stand_on_their_own() {
    put_instead(Some(Instead::Without(check_words())));
    for (name, text, print, braille) in [
        ("words", include_str!("../../../tests/data/wordlist.tsv"), 0, 1),
        ("examples", include_str!("../../../tests/data/examples.tsv"), 1, 2),
    ] {
        let (right, all, wrong) = score(text, print, braille);
        println!("counted: {right} of {all} {name}\n  {}", wrong.join("\n  "));
        assert!(all > 400 && right * 1000 >= all * 995, "{name}: {right} of {all}");
    }
    put_instead(None);
}

/// What is chosen for a word in lower case, not standing alone: where each contraction begins, and its letters.
fn chosen(word: &str) -> Vec<(usize, &'static str)> {
    let letters: Vec<Letter> =
        word.chars().map(|ch| Letter { ch, plain: true, mark_before: false, alone: None }).collect();
    let context = Context { standing_alone: false, ..Context::WORD };
    let mut parts = Vec::new();
    choose(&letters, &context, &mut parts, None);
    let mut at = 0;
    let mut out = Vec::new();
    for part in parts {
        if part.len > 1 {
            out.push((at, register::get(part.sign).print));
        }
        at += usize::from(part.len);
    }
    out
}

/// Whether what is chosen for a line of the lexicon keeps all its marks.
fn holds(line: &str) -> bool {
    let (marked, _) = line.split_once('\t').unwrap();
    let word: String = marked.chars().filter(char::is_ascii_lowercase).collect();
    let chosen = chosen(&word);
    let mut at = 0;
    marked.chars().all(|c| {
        let crossed = || chosen.iter().any(|&(from, letters)| from < at && at < from + letters.len());
        match c {
            '|' => !crossed(),
            '~' => crossed(),
            _ => {
                at += 1;
                true
            }
        }
    })
}

fn lexicon_lines() -> Vec<&'static str> {
    include_str!("lexicon.txt").lines().filter(|line| !line.starts_with('#')).collect()
}

/// The words of the lexicon on which the rules, with the exceptions found so far, would be wrong. The shortest come
/// first, so that an inflected word follows its stem where it can.
fn needed(lines: &[&str]) -> Vec<String> {
    let mut lines: Vec<&str> = lines.to_vec();
    lines.sort_by_key(|line| line.len());
    let mut out: Vec<String> = Vec::new();
    loop {
        put_instead(Some(Instead::Table(seams::table(&out.join("\n")))));
        let wrong: Vec<&str> = lines.iter().copied().filter(|line| !holds(line)).collect();
        // In one go all that are as short as the shortest, up to two letters more: their inflected forms are longer.
        let Some(first) = wrong.first() else { break };
        let new: Vec<String> = wrong
            .iter()
            .filter(|line| line.len() <= first.len() && !out.iter().any(|known| known == *line))
            .map(|line| (*line).to_owned())
            .collect();
        // A line that its own marks do not make right stays in, and the test of the lexicon names it.
        lines.retain(|line| !out.iter().any(|known| known == line) || holds(line));
        out.extend(new);
    }
    put_instead(None);
    out.sort_by_key(|line| line.replace(['|', '~'], ""));
    out
}

// The lexicon's own decisions: every word comes out as its line says, and nothing more is compiled in than that takes.
#[test]
fn the_lexicon_holds() {
    let lines = lexicon_lines();
    let wrong: Vec<&str> = lines.iter().copied().filter(|line| !holds(line)).collect();
    assert!(wrong.is_empty(), "{} lines: {wrong:#?}", wrong.len());
    let needed = needed(&lines);
    let compiled: Vec<&str> =
        include_str!("exceptions.txt").lines().filter(|line| !line.starts_with('#')).collect();
    println!("{} words decided, {} of them against the rules", lines.len(), needed.len());
    assert!(compiled == needed, "run make_lexicon.py: exceptions.txt is not what the lexicon needs");
}

/// The marks of a line with the class of each contraction whose letters stand across them.
fn marks(line: &str) -> Vec<(char, Class)> {
    let (marked, _) = line.split_once('\t').unwrap();
    let word: Vec<u8> = marked.bytes().filter(u8::is_ascii_lowercase).collect();
    let mut out = Vec::new();
    let mut point = 0usize;
    for mark in marked.chars() {
        if mark.is_ascii_lowercase() {
            point += 1;
            continue;
        }
        for at in point.saturating_sub(10)..point {
            let over = candidates().at(&word, at).filter(|c| at + c.letters.len() > point);
            out.extend(over.map(|candidate| (mark, candidate.class)));
        }
    }
    out
}

// No word of the check data is a case of its own: what is said of it serves other words.
#[test]
fn every_word_of_the_check_data_in_the_lexicon_has_kin() {
    let check = check_words();
    let of_check = |line: &str| {
        let word: Vec<u8> = line.bytes().take_while(|&c| c != b'\t').filter(u8::is_ascii_lowercase).collect();
        check.contains(&word)
    };
    let (ours, others): (Vec<&str>, Vec<&str>) = lexicon_lines().into_iter().partition(|line| of_check(line));
    let code = |line: &str| line.split_once('\t').unwrap().1.to_owned();
    let kin: HashSet<(String, char, String)> = others
        .iter()
        .flat_map(|line| {
            marks(line).into_iter().map(move |(mark, class)| (code(line), mark, class.name().to_owned()))
        })
        .collect();
    for line in &ours {
        for (mark, class) in marks(line) {
            assert!(
                kin.contains(&(code(line), mark, class.name().to_owned())),
                "{line}: no other word has {mark} for a {}",
                class.name()
            );
        }
    }
    println!("{} words of the check data stand in the lexicon, all with kin", ours.len());
}

/// Writes exceptions.txt anew, for the script that makes the lexicon.
#[test]
#[ignore = "a tool for src/ueb/contract/make_lexicon.py"]
fn write_exceptions() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/src/ueb/contract/exceptions.txt");
    let mut text =
        "# Made from lexicon.txt by make_lexicon.py: the words on which the rules alone would be wrong.\n"
            .to_owned();
    for line in needed(&lexicon_lines()) {
        text.push_str(&line);
        text.push('\n');
    }
    std::fs::write(path, text).expect("exceptions.txt can be written");
}

/// What is chosen for each word of a list, for the script that makes the lexicon: the word, a tab, what the rules alone
/// choose with its places, a tab, the same with the lexicon. The list's path is in CELLWRIGHT_WORDS, the output's in
/// CELLWRIGHT_CHOICES.
#[test]
#[ignore = "a tool for src/ueb/contract/make_lexicon.py, which gives it its files"]
fn print_choices() {
    let from = std::env::var("CELLWRIGHT_WORDS").expect("CELLWRIGHT_WORDS names a file of words");
    let to = std::env::var("CELLWRIGHT_CHOICES").expect("CELLWRIGHT_CHOICES names the output");
    let show = |word: &str| {
        let parts: Vec<String> = chosen(word).iter().map(|(at, letters)| format!("{at}:{letters}")).collect();
        parts.join(" ")
    };
    let mut out = String::new();
    for word in std::fs::read_to_string(from).expect("the words can be read").lines() {
        put_instead(Some(Instead::Table(seams::table(""))));
        let alone = show(word);
        put_instead(None);
        out.push_str(&format!("{word}\t{alone}\t{}\n", show(word)));
    }
    std::fs::write(to, out).expect("the choices can be written");
}
