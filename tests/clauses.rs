//! Every numbered clause of sections 2 to 11 has its place: in code or data, or told to be a definition, or left to the
//! transcriber with the reason (`tests/data/clause-places.tsv`). Source of the numbers: *The Rules of Unified English
//! Braille*, Second Edition 2013; numbers only.

use std::collections::BTreeMap;
use std::fs;

/// How many clauses of the third level each part of a section has, part after part.
const CLAUSES: [(&str, &[usize]); 10] = [
    ("2", &[0, 0, 4, 7, 5, 4]),
    ("3", &[1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1]),
    ("4", &[1, 8, 6, 2, 2]),
    ("5", &[2, 1, 2, 3, 2, 2, 2, 1, 2, 1, 1]),
    ("6", &[1, 1, 1, 1, 4, 1, 1, 1, 4, 5]),
    ("7", &[4, 6, 1, 1, 4, 7, 1]),
    ("8", &[1, 1, 3, 4, 7, 3, 1, 3, 1]),
    ("9", &[3, 3, 2, 4, 1, 2, 3, 1, 1]),
    ("10", &[4, 2, 1, 3, 4, 10, 9, 4, 6, 10, 9, 17, 12]),
    ("11", &[0, 2, 4, 3, 2, 4, 3, 1, 1, 2]),
];

/// The numbers of the clauses; a part without any at the third level is one itself.
fn clauses() -> Vec<String> {
    let mut numbers = Vec::new();
    for (section, parts) in CLAUSES {
        for (part, count) in (1..).zip(parts) {
            match count {
                0 => numbers.push(format!("{section}.{part}")),
                count => numbers.extend((1..=*count).map(|clause| format!("{section}.{part}.{clause}"))),
            }
        }
    }
    numbers
}

/// Whether a file has what is named: a function, type or value in code, a key in a table.
fn has(text: &str, file: &str, name: &str) -> bool {
    if file.ends_with(".tsv") {
        return text.lines().any(|row| row.split('\t').next() == Some(name));
    }
    text.lines().filter(|line| !line.trim_start().starts_with("//")).any(|line| {
        ["fn ", "const ", "static ", "struct ", "enum ", "type "].iter().any(|kind| {
            line.split_once(kind).is_some_and(|(_, rest)| {
                rest.strip_prefix(name)
                    .is_some_and(|rest| !rest.starts_with(|c: char| c.is_alphanumeric() || c == '_'))
            })
        })
    })
}

#[test]
fn every_clause_has_its_place() {
    let clauses = clauses();
    assert_eq!(clauses.len(), 290);
    let table = fs::read_to_string("tests/data/clause-places.tsv").expect("the table");
    let mut places = BTreeMap::new();
    let mut wrong = Vec::new();
    for row in table.lines().filter(|row| !row.starts_with("# ")) {
        let [clause, place, why] = row.split('\t').collect::<Vec<_>>()[..] else { panic!("{row}") };
        if !clauses.iter().any(|known| known == clause) {
            wrong.push(format!("{clause} is no clause"));
        }
        if places.insert(clause.to_owned(), place.to_owned()).is_some() {
            wrong.push(format!("{clause} stands there twice"));
        }
        if place == "transcriber" || place == "definition" {
            if why == "-" {
                wrong.push(format!("{clause}: why is it a {place}?"));
            }
            continue;
        }
        for place in place.split("; ") {
            let (file, name) = place.split_once("::").unwrap_or((place, ""));
            match fs::read_to_string(file) {
                Ok(text) if name.is_empty() || has(&text, file, name) => {}
                Ok(_) => wrong.push(format!("{clause}: {file} has no {name}")),
                Err(_) => wrong.push(format!("{clause}: there is no {file}")),
            }
        }
    }
    wrong.extend(
        clauses.iter().filter(|clause| !places.contains_key(*clause)).map(|c| format!("{c} is missing")),
    );
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn names_are_looked_for_whole() {
    let text = "    pub fn index_end(x: u8) {\n// fn told\nconst WHY: &str = \"\";";
    assert!(has(text, "a.rs", "index_end") && has(text, "a.rs", "WHY"));
    assert!(!has(text, "a.rs", "index") && !has(text, "a.rs", "told"));
    assert!(has("space\tx\n", "a.tsv", "space") && !has("spaced\tx\n", "a.tsv", "space"));
}
