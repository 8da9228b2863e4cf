//! Laying out, checking and marking a manuscript: what ten times the pages cost, and what one changed block costs, in one
//! run.
//!
//! `cargo run --release --manifest-path tests/bench/Cargo.toml --bin desk`

use std::hint::black_box;

use cellwright::manuscript::check::{Asked, check};
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::layout::Manuscript;
use cellwright::manuscript::{Sheet, reflow, work};
use cellwright::ueb::{self, Options};
use cpu_time::ThreadTime;
use growth::growth;

mod growth;
#[allow(dead_code)]
mod kinds;

/// Best of several runs, in milliseconds of processor time, so that other work of the machine counts little.
fn best<T>(runs: usize, mut work: impl FnMut() -> T) -> f64 {
    (0..runs)
        .map(|_| {
            let start = ThreadTime::now();
            black_box(work());
            start.elapsed().as_secs_f64() * 1e3
        })
        .fold(f64::INFINITY, f64::min)
}

/// Paragraphs of prose that fill about so many cells.
fn text(size: usize) -> String {
    let prose = kinds::prose(size);
    let words: Vec<&str> = prose.split_whitespace().collect();
    words.chunks(120).map(|words| words.join(" ")).collect::<Vec<_>>().join("\n\n")
}

fn main() {
    // The shortest row of the table takes at least 50 ms in the small.
    let (short, long) = (text(1_300_000), text(13_000_000));
    let sheet = Sheet::default();
    let pages = |text: &str| Manuscript::from_print(text, sheet).lines();
    let (few, many) = (pages(&short), pages(&long));
    let cells: usize = many.iter().flatten().map(Vec::len).sum();
    println!("{} pages and {} pages ({cells} cells)", few.len(), many.len());
    println!("| what | 1 | 10 | ratio for ten times the text (at most 11) |\n| --- | --- | --- | --- |");
    let row = |what: &str, (one, ten): (f64, f64)| {
        println!("| {what} | {one:.1} ms | {ten:.1} ms | {:.1} |", ten / one);
    };
    row("laying out", growth(|| pages(&short), || pages(&long)));
    let divided = Sheet { divide: true, ..sheet };
    let divided = |text: &str| Manuscript::from_print(text, divided).lines();
    row("laying out with word division", growth(|| divided(&short), || divided(&long)));
    row("setting braille anew", growth(|| reflow::blocks(&few, sheet), || reflow::blocks(&many, sheet)));
    let checked = |pages: &[_]| check(&BrailleFile::from_pages(pages), &Asked::default());
    row("hand-in check", growth(|| checked(&few), || checked(&many)));
    row("marking", growth(|| work::mark(&short, &few, sheet), || work::mark(&long, &many, sheet)));
    let yard = |text: &str| ueb::transcribe(text, &Options { marks: true, ..Options::default() });
    row("transcribing alone, as the yardstick", growth(|| yard(&short), || yard(&long)));
    drop((few, many));
    let long = text(260_000);
    let mut manuscript = Manuscript::from_print(&long, sheet);
    let middle = manuscript.blocks() / 2;
    let print = manuscript.print(middle).unwrap_or_default().to_owned();
    let mut turn = false;
    let change = best(50, || {
        turn = !turn;
        manuscript.change(middle, if turn { &print[1..] } else { &print })
    });
    println!("one block in the middle changed: {change:.3} ms");
}
