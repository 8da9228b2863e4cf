//! Names that this project once used and uses no more stay away, and so do phrases that were not its own.
//!
//! Of a name only a hash stands here (the first eight bytes of its SHA-256), so that it does not stand in the project for
//! the test's sake. What is excepted is listed by file, with the reason.

use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};

/// Hashes of names: of one word or of two with a space between.
const NAMES: [u64; 60] = [
    0x055679df0c12b481,
    0x10c2fec550e262ef,
    0x1c138a6815366076,
    0x1eb4bb66f5894362,
    0x1fd8efb7a57a5ef9,
    0x2258681791fe8b68,
    0x23cbcfc3e80a6fe5,
    0x2c002237c6cca439,
    0x2dcde7fbe88c424f,
    0x2e24f69bbc30d475,
    0x38fdf519314e3151,
    0x3e1f50dbe3fba79e,
    0x413724a51d89359f,
    0x4437f4a5cb8e4d27,
    0x4531b37fcf028363,
    0x4759550c01e442c8,
    0x4b56fc477e134cbc,
    0x4c30aebf3acbac0f,
    0x4c6a649578beabfe,
    0x4dee08017df3310b,
    0x5495e995647e42fe,
    0x597d0dd6aa15b00d,
    0x5fc2e14d9e18cdee,
    0x6650f168612058e7,
    0x6759600cd97d0948,
    0x678892ef4786e877,
    0x67d3d96806d6400c,
    0x6a4830fac5ab6c55,
    0x6becc6c35785d982,
    0x8652979242c09277,
    0x8e661dd19ad82717,
    0x8f27fdcc77ab5083,
    0x91b07ad4c19d70d0,
    0x91f73e8e223093a9,
    0x95903d66ebdf2fbc,
    0x9bc4386f63d9675c,
    0xa8b6b40e16937af1,
    0xace0fc1bd762a670,
    0xaeb959134938fd0b,
    0xb6b989777cd6c0a7,
    0xba3cb005cef1d595,
    0xbe42a1339f42c648,
    0xc0f1fe1718a3d2e5,
    0xd296bcf3dfaacad4,
    0xd8077eeaf8be5c7d,
    0xd8f07931c6841896,
    0xdba4f60b4f734215,
    0xdc12bd784704e271,
    0xdcb17698cf832a37,
    0xde77a8cd25c430bb,
    0xdfc8f52ab56bf034,
    0xdfee18d2d0efc3f0,
    0xe0c737eb72a17c92,
    0xe82c1600acc7d2af,
    0xe930f2e1784e7b0b,
    0xf0ec4e3cc13d5926,
    0xf57cda715b15e591,
    0xf8976d2c717af90a,
    0xfb7accfff8c6f8ea,
    0xfbcf56b65cd4900d,
];

/// Files in which such a name may stand, and why.
const NAMES_STAY: [(&str, &str); 3] = [
    ("tests/data/examples.tsv", "facts quoted from the published standard"),
    ("tests/data/examples-marked.tsv", "facts quoted from the published standard"),
    ("tests/reading.rs", "names two rows of the standard's that braille does not tell"),
];

/// Phrases, exact, letter case and all.
const PHRASES: [&str; 20] = [
    "most people forget",
    "Most people forget",
    "commonest slip",
    "forgotten most",
    "mix up most",
    "w stands apart",
    "drawn up for French",
    "top two rows",
    "thirds",
    "retired",
    "Retired",
    "RETIRED",
    "Marker: a",
    "ighlight",
    "marked off",
    "Which dots are these",
    "Its dot numbers?",
    "0 for a blank",
    "0 is a blank",
    "No dots in the bottom row",
];

/// Where such a phrase stays, and why.
const PHRASES_STAY: [(&str, &str, &str); 8] = [
    ("src/marking/mod.rs", "retired", "the name that a kind has in links, slips and records of before"),
    ("tests/data/record-1-events.txt", "retired", "a record of before"),
    ("tests/record.rs", "retired", "what stands in that record"),
    ("www/style.css", "ighlight", "a system colour of CSS"),
    ("www/data/words.txt", "ighlight", "an English word to be read"),
    ("www/data/often.txt", "ighlight", "an English word, in a list of those that are used often"),
    ("www/data/often.txt", "retired", "an English word, in a list of those that are used often"),
    ("www/data/often.txt", "thirds", "an English word, in a list of those that are used often"),
];

/// Every text file of the project but the developers' own notes, by its path in the project.
fn files() -> Vec<(String, String)> {
    let home = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    let mut folders: Vec<PathBuf> = ["src", "www", "tests"].map(|name| home.join(name)).into();
    let mut paths: Vec<PathBuf> =
        ["README.md", "index.html", "Cargo.toml"].map(|name| home.join(name)).into();
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).unwrap() {
            let path = entry.unwrap().path();
            let name = path.file_name().unwrap().to_string_lossy().into_owned();
            match path.is_dir() {
                true if ["target", "pkg", "corpus"].contains(&name.as_str()) => {}
                true => folders.push(path),
                false => paths.push(path),
            }
        }
    }
    for path in paths {
        let name = path.strip_prefix(home).unwrap().to_string_lossy().replace('\\', "/");
        // This file holds the phrases; the other is built from words.txt and texts that are looked at themselves.
        if ["tests/words.rs", "www/data/braille.txt"].contains(&name.as_str()) || name.ends_with("Cargo.lock")
        {
            continue;
        }
        if let Ok(text) = std::fs::read_to_string(&path) {
            found.push((name, text));
        }
    }
    assert!(found.len() > 300, "only {} files were found", found.len());
    found
}

fn is_name(words: &str) -> bool {
    // Every name has a capital or a digit in its first word; most words are passed over by that.
    let first = words.split(' ').next().unwrap_or_default();
    if !first.contains(|c: char| c.is_uppercase() || c.is_ascii_digit()) {
        return false;
    }
    let hash = Sha256::digest(words.as_bytes());
    NAMES.contains(&u64::from_be_bytes(hash[..8].try_into().unwrap()))
}

/// The words of a line, each as it stands and without what may follow a name.
fn words(line: &str) -> Vec<&str> {
    let inside = |c: char| c.is_alphanumeric() || "&.-'’".contains(c);
    line.split(|c: char| !inside(c))
        .map(|word| word.trim_matches(['.', '-', '\'', '’', '&']))
        .map(|word| ["'s", "’s", "'S"].iter().find_map(|end| word.strip_suffix(end)).unwrap_or(word))
        .filter(|word| !word.is_empty())
        .collect()
}

#[test]
fn names_that_went_stay_away() {
    let mut wrong = Vec::new();
    let mut stayed = Vec::new();
    for (file, text) in files() {
        for (at, line) in text.lines().enumerate() {
            let words = words(line);
            let two = words.windows(2).map(|two| two.join(" "));
            for words in words.iter().map(|word| (*word).to_owned()).chain(two).filter(|words| is_name(words))
            {
                match NAMES_STAY.iter().find(|(name, _)| *name == file) {
                    Some((name, _)) => stayed.push(*name),
                    None => wrong.push(format!("{file}, line {}: {words}", at + 1)),
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    for (file, why) in NAMES_STAY {
        assert!(stayed.contains(&file), "{file} needs no exception any more ({why})");
    }
}

#[test]
fn phrases_that_went_stay_away() {
    let mut wrong = Vec::new();
    let mut stayed = Vec::new();
    for (file, text) in files() {
        for (at, line) in text.lines().enumerate() {
            for phrase in PHRASES.iter().filter(|phrase| line.contains(**phrase)) {
                match PHRASES_STAY.iter().find(|(name, stays, _)| *name == file && stays == phrase) {
                    Some(exception) => stayed.push(exception),
                    None => wrong.push(format!("{file}, line {}: {phrase}", at + 1)),
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    for exception in &PHRASES_STAY {
        let (file, phrase, why) = exception;
        assert!(stayed.contains(&exception), "{file} needs no exception for {phrase} any more ({why})");
    }
}
