//! Signs in a row, which could be read as contractions (5.1.1, 7.1.3, 7.5): every pair and triple of ASCII signs between
//! letters, at a word's start, and between digits comes back as it was written. Source: our own list of all of them.

use cellwright::ueb::{self, Options, ReadOptions};

/// The signs of ASCII.
const SIGNS: &[u8] = b"!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~";

/// What stands before and behind the signs. The letters are those that signs with lower dots could be misread beside.
const AROUND: &[(&str, &str)] = &[
    ("wow", "she"),
    ("see", "below"),
    ("a", "b"),
    ("", "before"),
    ("", "she"),
    ("so ", "x"),
    ("12", "34"),
    ("5", "6"),
];

fn back(print: &str) -> Option<String> {
    let cells = ueb::transcribe(print, &Options::default());
    let read = ueb::read_print(&cells, &ReadOptions::default());
    (alike(&read) != alike(print)).then(|| format!("{print}  {}  {read}", cellwright::cell::to_ascii(&cells)))
}

/// Print with what one sign of braille stands for made the same: quotation marks (7.6), a row of low lines (7.2.3).
fn alike(print: &str) -> String {
    let mut out = String::new();
    for c in print.chars() {
        match c {
            '“' | '”' => out.push('"'),
            '‘' | '’' => out.push('\''),
            '_' if out.ends_with('_') => {}
            c => out.push(c),
        }
    }
    out
}

fn all(signs: &[Vec<u8>]) -> Vec<String> {
    let mut wrong = Vec::new();
    for row in signs {
        let row = String::from_utf8_lossy(row);
        wrong.extend(AROUND.iter().filter_map(|(before, after)| back(&format!("{before}{row}{after}"))));
    }
    wrong
}

fn rows(length: usize) -> Vec<Vec<u8>> {
    (0..length).fold(vec![Vec::new()], |rows, _| {
        rows.iter().flat_map(|row| SIGNS.iter().map(move |sign| [&row[..], &[*sign]].concat())).collect()
    })
}

#[test]
fn pairs_come_back() {
    let wrong = all(&rows(2));
    println!("counted: {} pairs in {} surroundings", rows(2).len(), AROUND.len());
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong[..wrong.len().min(200)].join("\n"));
}

#[test]
fn triples_come_back() {
    let wrong = all(&rows(3));
    println!("counted: {} triples in {} surroundings", rows(3).len(), AROUND.len());
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong[..wrong.len().min(200)].join("\n"));
}
