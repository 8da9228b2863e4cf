//! The engine as it runs in the browser: the same answers as natively. Run by `wasm-pack test --headless --chrome`.
#![cfg(target_arch = "wasm32")]

mod alike;

use alike::alike;
use cellwright::ueb::{self, Options, ReadOptions};
use cellwright::{cell, exercise};
use wasm_bindgen_test::{wasm_bindgen_test, wasm_bindgen_test_configure};

wasm_bindgen_test_configure!(run_in_browser);

/// The published word list (The Rules of UEB 2013, Appendix 2): the braille of each word, and the word back from it.
#[wasm_bindgen_test]
fn the_published_words_both_ways() {
    let mut rows = 0;
    for line in include_str!("data/wordlist.tsv").lines().filter(|line| !line.starts_with("# ")) {
        let fields: Vec<&str> = line.split('\t').collect();
        hold(fields[0], fields[1], false, false);
        rows += 1;
    }
    assert_eq!(rows, 506);
}

/// Our own readings of the rules: the braille of each, and the print back from it but where the cells do not tell it.
#[wasm_bindgen_test]
fn our_own_readings_both_ways() {
    let mut rows = 0;
    for line in include_str!("data/readings.tsv").lines().filter(|line| !line.starts_with("# ")) {
        let fields: Vec<&str> = line.split('\t').collect();
        hold(fields[1], fields[2], fields.get(3) == Some(&"marks"), fields.get(4) == Some(&"one-way"));
        rows += 1;
    }
    assert!(rows > 2000, "{rows}");
}

fn hold(print: &str, braille: &str, marks: bool, one_way: bool) {
    let options = Options { marks, ..Options::default() };
    assert_eq!(cell::to_ascii(&ueb::transcribe(print, &options)), braille, "{print}");
    let cells = cell::from_ascii(braille).expect("braille ASCII");
    let read = ueb::read(&cells, &ReadOptions { marks, ..ReadOptions::default() }).print;
    if !one_way {
        assert_eq!(alike(&read), alike(print), "{braille}");
    }
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
