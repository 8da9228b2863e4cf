//! Speed as ratios, measured side by side in one run.
//!
//! `cargo run --release --manifest-path tests/bench/Cargo.toml -- [file of English prose]`
//!
//! The yardsticks are general-purpose libraries: splitting the same text into words with `unicode-segmentation`,
//! and a leftmost-longest `aho-corasick` scan for the contractions' letters. Without a file, invented prose is used.

use std::hint::black_box;
use std::time::Instant;

use aho_corasick::{AhoCorasick, MatchKind};
use cellwright::ueb::{self, Options, ReadOptions, register};
use unicode_segmentation::UnicodeSegmentation;

/// Best of several runs, in seconds.
fn best<T>(mut work: impl FnMut() -> T) -> f64 {
    (0..7)
        .map(|_| {
            let start = Instant::now();
            black_box(work());
            start.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min)
}

fn invented(size: usize) -> String {
    let words: Vec<&str> = "the ferry leaves from the quay every morning and comes back in the afternoon with letters \
        for people who live on the islands some of them stand together under the lamp and wait another stranger \
        brought nothing but questions about the weather though nobody knew where it had been through the night"
        .split(' ')
        .collect();
    let mut text = String::with_capacity(size + 16);
    let mut seed = 12345u64;
    let mut length = 0;
    while text.len() < size {
        seed = seed.wrapping_mul(6364136223846793005).wrapping_add(1442695040888963407);
        let word = words[(seed >> 33) as usize % words.len()];
        if length == 0 {
            text.push_str(&word[..1].to_uppercase());
            text.push_str(&word[1..]);
        } else {
            text.push_str(word);
        }
        length += 1;
        if length == 12 {
            text.push_str(".\n");
            length = 0;
        } else {
            text.push(' ');
        }
    }
    text
}

fn main() {
    let prose = std::env::args().nth(1).and_then(|file| std::fs::read(file).ok());
    let prose = prose.map_or_else(|| invented(10_000_000), |b| String::from_utf8_lossy(&b).into_owned());
    let cut = |size: usize| {
        let mut end = size.min(prose.len());
        while !prose.is_char_boundary(end) {
            end -= 1;
        }
        &prose[..end]
    };
    let one = cut(1_000_000);
    let options = Options::default();
    let letters: Vec<&str> =
        register::signs().iter().filter(|s| s.class.is_contraction()).map(|s| s.print).collect();
    let scan = AhoCorasick::builder().match_kind(MatchKind::LeftmostLongest).build(&letters).expect("plain words");
    let megabytes = one.len() as f64 / 1e6;
    let words = best(|| one.unicode_words().count());
    let found = best(|| scan.find_iter(one).count());
    let cells = best(|| ueb::transcribe(one, &options));
    let reasons = best(|| ueb::explain(one, &options));
    let braille = ueb::transcribe(one, &options);
    let read = best(|| ueb::read(&braille, &ReadOptions::default()));
    println!("{megabytes:.2} MB of prose");
    println!("splitting into words     {:8.1} MB/s", megabytes / words);
    println!("scan for letters         {:8.1} MB/s", megabytes / found);
    println!("transcribe, cells alone  {:8.1} MB/s", megabytes / cells);
    println!("explain, with reasons    {:8.1} MB/s", megabytes / reasons);
    println!("read back                {:8.1} MB/s", megabytes / read);
    println!("transcribe : splitting   {:.2} (at least 0.25)", words / cells);
    println!("transcribe : scan        {:.2} (at least 0.10)", found / cells);
    println!("reasons cost             {:.1} times", reasons / cells);
    println!("read : transcribe        {:.2}", cells / read);
    let ten = cut(10_000_000);
    if ten.len() > 9 * one.len() {
        let long = best(|| ueb::transcribe(ten, &options));
        let times = ten.len() as f64 / one.len() as f64;
        println!("{times:.1} times the text  {:.1} times as long", long / cells);
    }
}
