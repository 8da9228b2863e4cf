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
    let (short, long) = (text(26_000), text(260_000));
    let sheet = Sheet::default();
    let pages = |text: &str| Manuscript::from_print(text, sheet).lines();
    let (few, many) = (pages(&short), pages(&long));
    let cells: usize = many.iter().flatten().map(Vec::len).sum();
    println!("{} pages and {} pages ({cells} cells)", few.len(), many.len());
    println!("| what | 1 | 10 | ratio for ten times the text |\n| --- | --- | --- | --- |");
    let row = |what: &str, one: f64, ten: f64| println!("| {what} | {one:.2} ms | {ten:.2} ms | {:.2} |", ten / one);
    row("laying out", best(7, || pages(&short)), best(5, || pages(&long)));
    let divided = Sheet { divide: true, ..sheet };
    row(
        "laying out with word division",
        best(5, || Manuscript::from_print(&short, divided).lines()),
        best(3, || Manuscript::from_print(&long, divided).lines()),
    );
    row("setting braille anew", best(5, || reflow::blocks(&few, sheet)), best(3, || reflow::blocks(&many, sheet)));
    let file = |pages: &[_]| BrailleFile::from_pages(pages);
    row(
        "hand-in check",
        best(5, || check(&file(&few), &Asked::default())),
        best(3, || check(&file(&many), &Asked::default())),
    );
    row("marking", best(5, || work::mark(&short, &few, sheet)), best(3, || work::mark(&long, &many, sheet)));
    let yard = |text: &str| ueb::transcribe(text, &Options { marks: true, ..Options::default() });
    row("transcribing alone, as the yardstick", best(7, || yard(&short)), best(5, || yard(&long)));
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
