//! What marking costs, beside transcribing the same print with reasons; and how both grow with the text.
//!
//! `cargo run --release --manifest-path tests/bench/Cargo.toml --bin marking`

use std::hint::black_box;

use cellwright::cell::Cell;
use cellwright::marking::plant::plant;
use cellwright::marking::{self, Expected};
use cellwright::ueb::{self, Options};
use cpu_time::ThreadTime;
use growth::growth;
use peak_alloc::PeakAlloc;

mod growth;

#[global_allocator]
static MEMORY: PeakAlloc = PeakAlloc;

/// Best of several runs, in seconds of the processor's time: a busy machine changes nothing.
fn best<T>(mut work: impl FnMut() -> T) -> f64 {
    let run = |_| {
        let start = ThreadTime::now();
        black_box(work());
        start.elapsed().as_secs_f64()
    };
    (0..7).map(run).fold(f64::INFINITY, f64::min)
}

/// The most memory that some work takes beyond what is there, in bytes.
fn memory<T>(work: impl FnOnce() -> T) -> f64 {
    let before = MEMORY.current_usage();
    MEMORY.reset_peak_usage();
    black_box(work());
    MEMORY.peak_usage().saturating_sub(before) as f64
}

/// Invented prose, a sentence a line.
fn prose(cells: usize) -> String {
    let words: Vec<&str> = "the ferry leaves from the quay every morning and comes back in the afternoon with letters \
        for people who live on the islands some of them stand together under the lamp and wait another stranger \
        brought nothing but questions about the weather though nobody knew where it had been on 10 or 12 nights"
        .split(' ')
        .collect();
    let (mut text, mut seed, mut length) = (String::new(), 12345u64, 0);
    while length < cells {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        let line: Vec<&str> =
            (0..12).map(|n| words[((seed >> (17 + n)) % words.len() as u64) as usize]).collect();
        let line = format!("{}.", line.join(" "));
        length += ueb::transcribe(&line, &Options::default()).len() + 1;
        text.push_str(&line);
        text.push('\n');
    }
    text
}

/// The braille of print in lines of at most 40 cells.
fn lines(print: &str) -> Vec<Vec<Cell>> {
    let mut out = vec![Vec::new()];
    let cells = ueb::transcribe(print.trim_end(), &Options::default());
    for word in cells.split(|cell| cell.is_blank()).filter(|word| !word.is_empty()) {
        if let Some(line) = out.last_mut().filter(|line: &&mut Vec<Cell>| line.len() + word.len() < 40) {
            if !line.is_empty() {
                line.push(Cell::BLANK);
            }
            line.extend_from_slice(word);
        } else {
            out.push(word.to_vec());
        }
    }
    out
}

fn main() {
    let options = Options::default();
    let mut last: Option<(f64, f64, f64)> = None;
    println!(
        "  cells  mistakes  findings   explain ms   mark ms   mark : explain   memory KB   right : explain"
    );
    for cells in [6_250, 12_500, 25_000, 50_000, 100_000] {
        let print = prose(cells);
        let right = lines(&print);
        let (mut written, key) = plant(&right, &[], 200.0 / 25_000.0, 7, true);
        // A line skipped and a line written twice.
        let twice = written[written.len() / 3].clone();
        written.insert(written.len() / 3, twice);
        written.remove(written.len() * 2 / 3);
        let findings = marking::mark_print(&print, &written, &options).findings.len();
        let explain = best(|| ueb::explain(&print, &options));
        let mark = best(|| marking::mark_print(&print, &written, &options));
        let alone = best(|| marking::mark_print(&print, &right, &options));
        let bytes = memory(|| marking::mark_print(&print, &written, &options));
        println!(
            "{cells:>7} {:>9} {findings:>9} {:>12.2} {:>9.2} {:>16.1} {:>11.0} {:>12.1}",
            key.len() + 2,
            explain * 1e3,
            mark * 1e3,
            mark / explain,
            bytes / 1e3,
            alone / explain
        );
        if cells == 25_000 {
            println!("        mark : explain {:.1} (at most 10)", mark / explain);
        }
        if let Some((before, time, space)) = last {
            println!(
                "        {:.1} times the text: {:.1} times as long, {:.1} times the memory",
                cells as f64 / before,
                mark / time,
                bytes / space
            );
        }
        last = Some((cells as f64, mark, bytes));
    }
    // Two texts that have nothing in common.
    let unlike = |cells: usize| {
        let print = prose(cells);
        let mut other: Vec<Vec<Cell>> = lines(&print);
        for (at, cell) in other.iter_mut().flatten().enumerate() {
            *cell = Cell::from_bits((at * 37 % 64) as u8).unwrap_or_default();
        }
        (Expected::from_print(&print, &options), other)
    };
    let (short, long) = (unlike(5_000), unlike(50_000));
    let (one, ten) = growth(|| marking::mark(&short.0, &short.1), || marking::mark(&long.0, &long.1));
    println!(
        "nothing in common, 5,000 and 50,000 cells: {one:.1} ms and {ten:.1} ms, ratio {:.1} (at most 11)",
        ten / one
    );
}
