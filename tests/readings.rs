//! Print to braille and back on examples of our own, section by section (`tests/data/readings.tsv` says how they were made).

mod alike;

use std::collections::HashSet;

use alike::alike;
use cellwright::cell;
use cellwright::ueb::{self, Options, ReadOptions};

struct Row {
    section: String,
    print: String,
    braille: String,
    marks: bool,
    one_way: bool,
}

fn rows() -> Vec<Row> {
    let text = include_str!("data/readings.tsv");
    text.lines()
        .filter(|line| !line.starts_with("# ") && !line.is_empty())
        .map(|line| {
            let columns: Vec<&str> = line.split('\t').collect();
            assert!(columns.len() >= 3, "{line}");
            assert!(columns.get(3).is_none_or(|marks| ["marks", ""].contains(marks)), "{line}");
            assert!(columns.get(4).is_none_or(|way| *way == "one-way"), "{line}");
            Row {
                section: columns[0].to_owned(),
                print: columns[1].to_owned(),
                braille: columns[2].to_owned(),
                marks: columns.get(3) == Some(&"marks"),
                one_way: columns.get(4) == Some(&"one-way"),
            }
        })
        .collect()
}

#[test]
fn print_to_braille() {
    let rows = rows();
    let wrong: Vec<String> = rows
        .iter()
        .filter_map(|row| {
            let options = Options { marks: row.marks, ..Options::default() };
            let cells = cell::to_ascii(&ueb::transcribe(&row.print, &options));
            (cells != row.braille)
                .then(|| format!("{}: {}: {cells}, by the rule {}", row.section, row.print, row.braille))
        })
        .collect();
    println!("counted: {} sentences", rows.len() - wrong.len());
    assert!(rows.len() > 1000 && wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The print comes back; where the cells do not tell it ("one-way"), another print comes.
#[test]
fn and_back() {
    let wrong: Vec<String> = rows()
        .iter()
        .filter_map(|row| {
            let cells = cell::from_ascii(&row.braille).expect(&row.braille);
            let options = ReadOptions { marks: row.marks, ..ReadOptions::default() };
            let print = ueb::read_print(&cells, &options);
            let same = alike(&print) == alike(&row.print);
            (same == row.one_way)
                .then(|| format!("{}: {}: read {print}, print {}", row.section, row.braille, row.print))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Every row has the sections that decide it, in rising order; none stands twice, and none is an example or a listed word
/// of the book.
#[test]
fn rows_are_of_our_own_making() {
    let number =
        |section: &str| -> Option<Vec<u8>> { section.split('.').map(|part| part.parse().ok()).collect() };
    let published: HashSet<&str> = [
        (include_str!("data/examples.tsv"), 1),
        (include_str!("data/examples-marked.tsv"), 1),
        (include_str!("data/wordlist.tsv"), 0),
    ]
    .into_iter()
    .flat_map(|(text, column)| text.lines().filter_map(move |line| line.split('\t').nth(column)))
    .collect();
    let mut seen = HashSet::new();
    for row in rows() {
        let what = format!("{}\t{}", row.section, row.print);
        let sections: Option<Vec<Vec<u8>>> = row.section.split(';').map(number).collect();
        assert!(sections.is_some_and(|all| all.is_sorted_by(|one, next| one < next)), "{what}: its sections");
        assert!(!published.contains(row.print.as_str()), "{what}: this is quoted");
        assert!(seen.insert((row.print.clone(), row.marks)), "{what}: stands twice");
    }
}
