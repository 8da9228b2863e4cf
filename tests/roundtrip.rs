//! Print to braille and back again, letter for letter, on open texts that Debian carries: the words of SCOWL (package
//! scowl, sizes 10 to 70, American and British) and English prose (packages fortunes and dict-gcide). None of that
//! text is part of this project. A missing text fails with the package to install.
//!
//! Quotation-mark style and dash width are left aside: braille does not tell them apart.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use cellwright::ueb::{self, Options, ReadOptions};

/// Print with what braille does not tell apart made alike: the style of quotation marks (7.6: one cell for the
/// outer pair, whichever print has), the width of dashes, the length of a low line (7.2.3), an ellipsis character or
/// three dots (7.3), and `::` or the proportion sign (3.17).
fn alike(print: &str) -> String {
    let mut out = String::with_capacity(print.len());
    for c in print.replace('…', "...").replace("--", "—").chars() {
        let c = match c {
            '“' | '”' | '"' | '‘' | '’' | '`' => '\'',
            '–' | '―' => '—',
            '\u{a0}' => ' ',
            c => c,
        };
        if c != '_' || !out.ends_with('_') {
            out.push(c);
        }
    }
    out
}

fn back(print: &str) -> String {
    let cells = ueb::transcribe(print, &Options::default());
    ueb::read_print(&cells, &ReadOptions::default())
}

fn words() -> Vec<String> {
    let dir = Path::new("/usr/share/dict/scowl");
    let files = fs::read_dir(dir).expect("SCOWL is not there: apt-get install scowl");
    let mut words = Vec::new();
    for file in files.flatten() {
        let name = file.file_name().to_string_lossy().into_owned();
        let Some((kind, size)) = name.rsplit_once('.') else { continue };
        let plain = ["english", "american", "british"].iter().any(|k| kind.starts_with(k));
        let part =
            kind.ends_with("-words") || kind.ends_with("-proper-names") || kind.ends_with("-contractions");
        if !plain || !part || size.parse::<u32>().map_or(true, |s| s > 70) {
            continue;
        }
        let text = fs::read_to_string(file.path()).expect("Debian's SCOWL is in UTF-8");
        words.extend(text.lines().map(str::to_owned));
    }
    words.sort();
    words.dedup();
    assert!(words.len() > 50_000, "SCOWL is not complete: apt-get install scowl");
    words
}

/// Words that do not come back, with the reason. "en's": the groupsign and "'s" are the cells of "enough's" (10.5.2);
/// the transcription should spell the letters out here.
const EXCEPTIONS: [&str; 1] = ["en's"];

#[test]
#[ignore = "reads texts of Debian packages: scowl; tests/run asks for it"]
fn every_word_of_scowl_70() {
    let words = words();
    let wrong: Vec<String> = words
        .iter()
        .filter_map(|word| {
            let got = back(word);
            (alike(&got) != alike(word) && !EXCEPTIONS.contains(&word.as_str()))
                .then(|| format!("{word}\t{got}"))
        })
        .collect();
    for line in wrong.iter().take(200) {
        println!("{line}");
    }
    println!("{} of {} words come back", words.len() - wrong.len(), words.len());
    assert!(wrong.is_empty(), "{} words do not come back", wrong.len());
}

fn prose() -> String {
    let mut text = String::new();
    let dir =
        fs::read_dir("/usr/share/games/fortunes").expect("fortunes are not there: apt-get install fortunes");
    for file in dir.flatten() {
        if file.path().extension().is_none()
            && let Ok(part) = fs::read_to_string(file.path())
        {
            text.push_str(&part);
        }
    }
    let gcide = Command::new("gzip")
        .args(["-dc", "/usr/share/dictd/gcide.dict.dz"])
        .output()
        .expect("gzip is needed to read dict-gcide");
    assert!(gcide.status.success(), "the dictionary is not there: apt-get install dict-gcide");
    let gcide = String::from_utf8_lossy(&gcide.stdout);
    text.extend(gcide.chars().take(6_000_000));
    assert!(text.len() > 5_000_000, "too little text: apt-get install fortunes dict-gcide");
    text
}

/// What of prose does not come back is an ambiguity of the code; its share is held here.
#[test]
#[ignore = "reads texts of Debian packages: fortunes, dict-gcide; tests/run asks for it"]
fn five_megabytes_of_prose() {
    let text = prose();
    let mut unwritten = 0usize;
    let (mut all, mut wrong) = (0usize, BTreeMap::<(String, String), usize>::new());
    for line in text.lines() {
        let got = alike(&back(line));
        let want = alike(line);
        all += want.split_whitespace().count();
        if got == want {
            continue;
        }
        // Characters that no sign stands for are reported by the engine, and cannot come back.
        if !ueb::explain(line, &Options::default()).unhandled.is_empty() {
            unwritten += 1;
            continue;
        }
        let (w, g): (Vec<&str>, Vec<&str>) =
            (want.split_whitespace().collect(), got.split_whitespace().collect());
        if w.len() != g.len() {
            *wrong.entry((want.trim().to_owned(), got.trim().to_owned())).or_default() += 1;
            continue;
        }
        for (w, g) in w.into_iter().zip(g).filter(|(w, g)| w != g) {
            *wrong.entry((w.to_owned(), g.to_owned())).or_default() += 1;
        }
    }
    let total: usize = wrong.values().sum();
    let mut list: Vec<_> = wrong.into_iter().collect();
    list.sort_by_key(|(_, n)| std::cmp::Reverse(*n));
    for ((want, got), n) in list.iter().take(150) {
        println!("{n}\t{want}\t{got}");
    }
    println!(
        "{} of {all} words of prose come back; {unwritten} lines have a character without a sign",
        all - total
    );
    assert!(total * 10_000 / MOST_PER_TEN_THOUSAND <= all, "{total} of {all} words do not come back");
}

/// Words in ten thousand that may come back otherwise: print that braille writes alike.
const MOST_PER_TEN_THOUSAND: usize = 5;
