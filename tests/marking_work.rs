//! Realistic work with several slips in a line, and words that are longer than any language has.

use cellwright::cell::{self, Cell};
use cellwright::marking::{Expected, mark};
use cellwright::ueb::Options;

#[test]
fn what_a_grader_would_write() {
    let rows = std::fs::read_to_string("tests/marking/work.tsv").unwrap();
    let mut wrong = Vec::new();
    let mut all = 0;
    for (number, line) in rows.lines().enumerate().filter(|(_, line)| !line.starts_with('#')) {
        let columns: Vec<&str> = line.split('\t').collect();
        let [print, written, asked] = columns[..] else {
            panic!("work.tsv, line {}: three columns", number + 1)
        };
        let cells = cell::from_ascii(written).unwrap();
        let found = mark(&Expected::from_print(print, &Options::default()), &[cells]).findings;
        let said = |one: &cellwright::marking::Finding| {
            format!("{} {}-{}", one.kind.name(), one.written.from, one.written.to)
        };
        let found: Vec<String> = found.iter().map(said).collect();
        all += 1;
        if found.join("; ") != asked {
            wrong.push(format!("work.tsv, line {}: {print} | {written}: {}", number + 1, found.join("; ")));
        }
    }
    println!("counted: {all} lines");
    assert!(all >= 55);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The same letters in an order that nobody would call a word.
fn letters(count: usize) -> String {
    let next = |state: &mut u32| {
        *state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        char::from(b'a' + (*state >> 24) as u8 % 26)
    };
    let mut state = 7;
    (0..count).map(|_| next(&mut state)).collect()
}

#[test]
fn a_slip_in_an_endless_word_is_found_where_it_is() {
    for count in [300, 5_000, 100_000] {
        let print = letters(count);
        let expected = Expected::from_print(&print, &Options::default());
        let mut written = expected.cells.clone();
        let at = written.len() / 3;
        written[at] = Cell::from_bits(written[at].bits() ^ 0b10_0000).unwrap();
        let found = mark(&expected, &[written]).findings;
        assert_eq!(found.len(), 1, "{count} letters: {found:?}");
        assert!(found[0].written.from <= at && at <= found[0].written.to, "{count} letters: {found:?}");
    }
}

#[test]
fn endless_words_that_have_nothing_in_common_are_marked_too() {
    let (one, other) = (letters(20_000), letters(20_001).split_off(1));
    let expected = Expected::from_print(&one, &Options::default());
    let written = Expected::from_print(&other.chars().rev().collect::<String>(), &Options::default()).cells;
    assert!(!mark(&expected, &[written]).findings.is_empty());
}
