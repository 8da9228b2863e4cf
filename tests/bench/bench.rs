//! Speed as ratios, measured side by side in one run.
//!
//! `cargo run --release --manifest-path tests/bench/Cargo.toml -- [file of English prose]`
//!
//! What ten times the text costs, alone, for a tenth of so many bytes against all of them, and for some kinds of text or all:
//!
//! `cargo run --release --manifest-path tests/bench/Cargo.toml -- --growth [bytes [kind...]]`
//!
//! The yardsticks are general-purpose libraries: splitting the same text into words with `unicode-segmentation`,
//! and a leftmost-longest `aho-corasick` scan for the contractions' letters. Without a file, invented prose is used.

mod growth;
mod kinds;

use std::hint::black_box;

use aho_corasick::{AhoCorasick, MatchKind};
use cellwright::cell::Cell;
use cellwright::ueb::back::LiveReading;
use cellwright::ueb::{self, Options, ReadOptions, register};
use cpu_time::ThreadTime;
use growth::{growth, is_warm, with_warm_memory};
use unicode_segmentation::UnicodeSegmentation;

/// Best of several runs, in seconds of processor time, so that other work of the machine counts little.
fn best<T>(runs: usize, mut work: impl FnMut() -> T) -> f64 {
    (0..runs)
        .map(|_| {
            let start = ThreadTime::now();
            black_box(work());
            start.elapsed().as_secs_f64()
        })
        .fold(f64::INFINITY, f64::min)
}

fn cut(text: &str, size: usize) -> &str {
    let mut end = size.min(text.len());
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    &text[..end]
}

/// Seconds for one more cell at the end of `length` cells, and for one cell changed in the middle.
fn one_more(cells: &[Cell], length: usize) -> (f64, f64) {
    let times = 300;
    let mut live = LiveReading::new(ReadOptions::default());
    live.splice(0..0, &cells[..length]);
    let more = (0..5)
        .map(|_| {
            let start = ThreadTime::now();
            for k in 0..times {
                let at = live.cells().len();
                live.splice(at..at, &cells[length + k..length + k + 1]);
            }
            let seconds = start.elapsed().as_secs_f64() / times as f64;
            let at = live.cells().len();
            live.splice(at - times..at, &[]);
            seconds
        })
        .fold(f64::INFINITY, f64::min);
    let changed = (0..5)
        .map(|_| {
            let start = ThreadTime::now();
            for k in 0..times {
                live.splice(length / 2..length / 2 + 1, &cells[k..k + 1]);
            }
            start.elapsed().as_secs_f64() / times as f64
        })
        .fold(f64::INFINITY, f64::min);
    (more, changed)
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    if arguments.first().is_some_and(|first| first == "--growth") {
        if !is_warm() {
            return with_warm_memory(&arguments);
        }
        let bytes = arguments.get(1).map_or(10_000_000, |bytes| bytes.parse().expect("a number of bytes"));
        return ten_times(bytes, arguments.get(2..).unwrap_or_default());
    }
    let prose = arguments.first().map(|file| std::fs::read(&file).expect("the file of prose can be read"));
    let prose = prose.map_or_else(|| kinds::prose(10_000_000), |b| String::from_utf8_lossy(&b).into_owned());
    let one = cut(&prose, 1_000_000);
    let options = Options::default();
    let letters: Vec<&str> =
        register::signs().iter().filter(|s| s.class.is_contraction()).map(|s| s.print).collect();
    let scan =
        AhoCorasick::builder().match_kind(MatchKind::LeftmostLongest).build(&letters).expect("plain words");
    let megabytes = one.len() as f64 / 1e6;
    let words = best(15, || one.unicode_words().count());
    let found = best(15, || scan.find_iter(one).count());
    let cells = best(15, || ueb::transcribe(one, &options));
    let reasons = best(15, || ueb::explain(one, &options));
    let braille = ueb::transcribe(one, &options);
    let read = best(15, || ueb::read_print(&braille, &ReadOptions::default()));
    let meanings = best(15, || ueb::read(&braille, &ReadOptions::default()));
    println!("{megabytes:.2} MB of prose");
    println!("splitting into words     {:8.1} MB/s", megabytes / words);
    println!("scan for letters         {:8.1} MB/s", megabytes / found);
    println!("transcribe, cells alone  {:8.1} MB/s", megabytes / cells);
    println!("explain, with reasons    {:8.1} MB/s", megabytes / reasons);
    println!("read back, print alone   {:8.1} MB/s of print", megabytes / read);
    println!("read back, with meanings {:8.1} MB/s of print", megabytes / meanings);
    println!("transcribe : splitting   {:.2} (at least 0.25)", words / cells);
    println!("transcribe : scan        {:.2} (at least 0.10)", found / cells);
    println!(
        "read back : transcribe   {:.2} (at least 1; with meanings {:.2})",
        cells / read,
        cells / meanings
    );
    println!("reasons                  {:.1} times the cells alone", reasons / cells);
    let mut long = braille.clone();
    while long.len() < 101_000 {
        long.extend_from_slice(&braille);
    }
    let (short_end, short_middle) = one_more(&long, 100);
    let (long_end, long_middle) = one_more(&long, 100_000);
    println!("one more cell at the end of 100,000 : of 100     {:.2} (at most 1.5)", long_end / short_end);
    println!("one cell changed in 100,000 : in 100             {:.2}", long_middle / short_middle);
    with_warm_memory(&["--growth".to_owned()]);
}

/// What ten times the text costs, for hostile kinds of text too: those named, or all.
fn ten_times(bytes: usize, wanted: &[String]) {
    println!(
        "ten times the text takes so many times as long (at most 11): {} bytes against {bytes}",
        bytes / 10
    );
    println!(
        "  {:20} {:>10} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8}",
        "", "transcribe", "marks", "plain", "reasons", "read", "meanings", "live"
    );
    let mut worst = (0f64, String::new());
    for (name, make) in kinds::ALL {
        if !wanted.is_empty() && !wanted.iter().any(|kind| kind == name) {
            continue;
        }
        let ten = make(bytes);
        let one = cut(&ten, ten.len() / 10);
        let mut ratios: Vec<f64> = Vec::new();
        let mut ratio = |(one, ten): (f64, f64)| ratios.push(ten / one);
        let options = Options::default();
        for options in [
            &options,
            &Options { marks: true, ..options.clone() },
            &Options { contracted: false, ..options.clone() },
        ] {
            ratio(growth(|| ueb::transcribe(one, options), || ueb::transcribe(&ten, options)));
        }
        ratio(growth(|| ueb::explain(one, &options), || ueb::explain(&ten, &options)));
        let (few, many) = (ueb::transcribe(one, &options), ueb::transcribe(&ten, &options));
        let read = ReadOptions::default();
        ratio(growth(|| ueb::read_print(&few, &read), || ueb::read_print(&many, &read)));
        ratio(growth(|| ueb::read(&few, &read), || ueb::read(&many, &read)));
        let live = |cells: &[Cell]| {
            let mut live = LiveReading::new(read.clone());
            live.splice(0..0, cells);
            live
        };
        ratio(growth(|| live(&few), || live(&many)));
        let row: String = ratios.iter().map(|ratio| format!(" {ratio:8.1}")).collect();
        println!("  {name:20}  {row}");
        for ratio in ratios {
            if ratio > worst.0 {
                worst = (ratio, name.to_owned());
            }
        }
    }
    println!("worst: {:.1} ({}) (at most 11)", worst.0, worst.1);
}
