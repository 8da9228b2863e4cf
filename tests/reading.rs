//! Braille to print against the worked examples of The Rules of Unified English Braille (second edition, 2013): see
//! the heads of the files in tests/data for source and licence.

mod properties;

use cellwright::cell::{self, Cell};
use cellwright::ueb::{self, ReadOptions, Remark};
use proptest::prelude::*;

struct Row {
    section: String,
    print: String,
    braille: String,
}

fn rows(text: &str, word_list: bool) -> Vec<Row> {
    text.lines()
        .filter(|line| !line.starts_with("# "))
        .filter_map(|line| {
            let f: Vec<&str> = line.split('\t').collect();
            if word_list {
                let section = f.get(2).copied().unwrap_or_default();
                return Some(Row {
                    section: section.into(),
                    print: (*f.first()?).into(),
                    braille: (*f.get(1)?).into(),
                });
            }
            if f.get(4).is_some_and(|depends| !depends.trim().is_empty()) {
                return None;
            }
            Some(Row {
                section: (*f.first()?).into(),
                print: (*f.get(1)?).into(),
                braille: (*f.get(2)?).into(),
            })
        })
        .collect()
}

/// Print with what braille does not tell apart made alike: the style of quotation marks, the width of dashes, and
/// three dots or the ellipsis character (7.3 writes both alike).
fn alike(print: &str) -> String {
    print
        .replace('…', "...")
        .chars()
        .map(|c| match c {
            '“' | '”' => '"',
            '‘' | '’' => '\'',
            '–' | '―' => '—',
            // Greek capitals that print shares with Latin letters, and the micro sign, are written as Greek.
            c => c,
        })
        .collect()
}

/// Rows whose print the cells do not tell: section and print. 9.7.3 has a change of typeform before closing punctuation
/// ignored, so that these have the cells of a stop in the typeform, which is how 9.7.2 has a reader in doubt take it.
const NOT_TOLD: [(&str, &str); 2] =
    [("9.7.3", "Did you read <u>Hamlet</u>?"), ("9.7.3", "\"*Help!* I'm *falling*.\"")];

fn score(name: &str, rows: &[Row], marks: bool) {
    let options = ReadOptions { marks, ..ReadOptions::default() };
    let (mut wrong, mut not_told) = (Vec::new(), 0);
    for row in rows {
        let cells =
            cell::from_ascii(&row.braille).unwrap_or_else(|| panic!("not braille ASCII: {}", row.braille));
        let reading = ueb::read(&cells, &options);
        assert_eq!(reading.print, ueb::read_print(&cells, &options));
        assert!(
            reading.pieces.iter().all(|p| p.remark == Remark::None),
            "{}: a cell without a meaning",
            row.braille
        );
        if NOT_TOLD.contains(&(row.section.as_str(), row.print.as_str())) {
            not_told += 1;
        } else if alike(&reading.print) != alike(&row.print) {
            wrong.push(format!("{}\t{}\t{}\t{}", row.section, row.print, row.braille, reading.print));
        }
    }
    let right = rows.len() - wrong.len() - not_told;
    println!("{name}: {right} of {} read back, {not_told} that braille does not tell", rows.len());
    assert!(!rows.is_empty());
    assert!(wrong.is_empty(), "{name}: {} rows wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn worked_examples() {
    score("examples.tsv", &rows(include_str!("data/examples.tsv"), false), false);
}

#[test]
fn word_list() {
    score("wordlist.tsv", &rows(include_str!("data/wordlist.tsv"), true), false);
}

#[test]
fn worked_examples_with_marks() {
    score("examples-marked.tsv", &rows(include_str!("data/examples-marked.tsv"), false), true);
}

fn any_cells(most: usize) -> impl Strategy<Value = Vec<Cell>> {
    // Blanks, prefixes, and the signs that modes turn on more often than others.
    let telling = prop::sample::select(b",;#^_\".@'-1278905<>".to_vec());
    let cell = prop_oneof![
        2 => Just(Cell::BLANK),
        4 => (0u8..64).prop_map(|bits| Cell::from_bits(bits).unwrap_or_default()),
        4 => telling.prop_map(|c| Cell::from_ascii(char::from(c)).unwrap_or_default()),
    ];
    prop::collection::vec(cell, 0..most)
}

fn any_options() -> impl Strategy<Value = ReadOptions> {
    (any::<bool>(), any::<bool>(), any::<bool>()).prop_map(|(contracted, older, marks)| ReadOptions {
        contracted,
        older,
        marks,
        ..ReadOptions::default()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(2000) })]
    #[test]
    fn pieces_cover_every_cell_once(cells in any_cells(60), options in any_options()) {
        properties::any_cells(&cells, &options);
    }

    #[test]
    fn words_that_come_again_say_the_same(word in any_cells(6), other in any_cells(6), options in any_options()) {
        // Long enough for words to be remembered.
        let cells: Vec<Cell> = [word, other].concat().into_iter().chain([Cell::BLANK]).cycle().take(700).collect();
        properties::any_cells(&cells, &options);
    }

    #[test]
    fn live_reading_is_the_whole_reading(
        start in any_cells(60),
        changes in prop::collection::vec((any::<usize>(), 0usize..9, any_cells(9)), 0..8),
        options in any_options(),
    ) {
        properties::live(&start, &changes, &options);
    }
}
