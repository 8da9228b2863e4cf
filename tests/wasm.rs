//! The engine as it runs in the browser: the same answers as natively. Run by `wasm-pack test --headless --chrome`.
#![cfg(target_arch = "wasm32")]

use cellwright::ueb::{self, Options, ReadOptions};
use cellwright::{cell, exercise};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

/// Rows of one plain word of the published word list: The Rules of UEB 2013, Appendix 2 (tests/data/wordlist.tsv).
#[wasm_bindgen_test]
fn the_published_words_both_ways() {
    let (mut right, mut rows) = (0, 0);
    for line in include_str!("data/wordlist.tsv").lines().filter(|line| !line.starts_with('#')) {
        let mut fields = line.split('\t');
        let (Some(print), Some(braille)) = (fields.next(), fields.next()) else { continue };
        rows += 1;
        let cells = cell::from_ascii(braille).expect("braille ASCII");
        let written = ueb::transcribe(print, &Options::default()) == cells;
        let read = ueb::read(&cells, &ReadOptions::default()).print.chars().count() == print.chars().count();
        right += usize::from(written && read);
    }
    assert!(rows > 400);
    assert!(right * 100 >= rows * 97, "{right} of {rows}");
}

#[wasm_bindgen_test]
fn an_exercise_of_version_1_stays_readable() {
    let (name, payload) = include_str!("data/links-1.tsv")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .find_map(|line| line.split_once('\t'))
        .expect("a link of version 1");
    assert_eq!(name, "ferry");
    let exercise = exercise::Exercise::from_payload(payload.trim()).expect("it opens");
    assert_eq!(exercise.title, "Notice 2");
}
