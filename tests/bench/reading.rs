//! Reading back: how the time grows with the cells, hostile ones too, with meanings and without, and live.
//!
//! `cargo run --release --manifest-path tests/bench/Cargo.toml --bin reading`

use std::hint::black_box;
use std::time::Duration;

use cellwright::cell::{self, Cell};
use cellwright::ueb::back::LiveReading;
use cellwright::ueb::{self, Options, ReadOptions};
use cpu_time::ThreadTime;

mod kinds;

/// Cells that a row is made of: what bookkeeping may stumble over.
const UNITS: [(&str, &str); 22] = [
    ("only dot 6", ","),
    ("only dots 5-6", ";"),
    ("only dots 3-4-5-6", "#"),
    ("only dots 4-5", "^"),
    ("opening brackets", "\"<"),
    ("opening quotes", "8"),
    ("apostrophes", "'"),
    ("hyphens and letters", "-c"),
    ("letters", "fr"),
    ("shortforms", "grt"),
    ("lower cells", "2"),
    ("final letters", ";n"),
    ("numbers", "#a"),
    ("fractions", "#a/b"),
    ("accents", "^/e"),
    ("typeform words", ".1a"),
    ("typeform passages", ".7a "),
    ("unclosed words", ".1a^1b _1c"),
    ("indices", ";9x"),
    ("open groups", ";;<a<"),
    ("fractions in grade 1", ";;((a./b"),
    ("radicals in grade 1", ";;%%a"),
];

fn row(unit: &str, size: usize) -> Vec<Cell> {
    cell::from_ascii(unit).expect("braille ASCII").into_iter().cycle().take(size).collect()
}

fn seconds(time: Duration) -> f64 {
    time.as_secs_f64()
}

/// Ten times the work against the work, the two measured in turn, in processor time, so that other work of the
/// machine counts little; the best of some runs of each.
fn growth<T>(mut short: impl FnMut() -> T, mut long: impl FnMut() -> T) -> (f64, f64) {
    let mut best = (f64::INFINITY, f64::INFINITY);
    let time = |work: &mut dyn FnMut() -> T| {
        let start = ThreadTime::now();
        black_box(work());
        seconds(start.elapsed())
    };
    for _ in 0..2 {
        for _ in 0..4 {
            best.0 = best.0.min(time(&mut short));
        }
        best.1 = best.1.min(time(&mut long));
    }
    (best.1 / best.0, best.0)
}

fn main() {
    // Above what the allocator keeps for itself, so that both ask the system for their memory.
    const SHORT: usize = 1_000_000;
    let plain = ReadOptions::default();
    let all = ReadOptions { marks: true, older: true, ..ReadOptions::default() };
    let mut rows: Vec<(&str, Vec<Cell>)> =
        UNITS.iter().map(|(name, unit)| (*name, row(unit, 10 * SHORT))).collect();
    let (_, make) = kinds::ALL.into_iter().find(|kind| kind.0 == "prose").expect("a kind");
    let prose = ueb::transcribe(&make(2 * SHORT), &Options::default());
    rows.push(("prose", prose.iter().copied().cycle().take(10 * SHORT).collect()));
    let mut seed = 7u32;
    let drawn = (0..10 * SHORT).filter_map(|_| {
        seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        Cell::from_bits((seed >> 26) as u8)
    });
    rows.push(("any cells", drawn.collect()));
    let endless: Vec<Cell> =
        prose.iter().copied().filter(|c| !c.is_blank()).cycle().take(10 * SHORT).collect();
    rows.push(("one endless word", endless));
    println!("ten times the cells take so many times as long (at most 11), and cells a second:");
    println!("  {:24} print alone         with meanings, marks and older signs", "");
    let mut worst = 0f64;
    for (name, cells) in &rows {
        let few = &cells[..SHORT];
        let (print, once) = growth(|| ueb::read_print(few, &plain), || ueb::read_print(cells, &plain));
        let (meanings, full) = growth(|| ueb::read(few, &all), || ueb::read(cells, &all));
        worst = worst.max(print).max(meanings);
        let rate = |time: f64| SHORT as f64 / time / 1e6;
        println!(
            "  {name:24} {print:5.1} {:8.1} million   {meanings:5.1} {:8.1} million",
            rate(once),
            rate(full)
        );
    }
    println!("worst: {worst:.1}");

    println!(
        "one more cell written at the end, microseconds: in 100, 1,000, 10,000 and 100,000 cells of prose"
    );
    let written = |length: usize, at: fn(usize) -> usize| {
        let mut live = LiveReading::new(ReadOptions::default());
        live.splice(0..0, &prose[..length]);
        let place = at(length);
        let mut best = f64::INFINITY;
        for _ in 0..200 {
            let start = ThreadTime::now();
            for k in 0..10 {
                live.splice(place + k..place + k, &prose[k..k + 1]);
            }
            best = best.min(seconds(start.elapsed()) / 10.0);
            live.splice(place..place + 10, &[]);
        }
        best * 1e6
    };
    for (name, at) in [("end", (|n| n) as fn(usize) -> usize), ("middle", |n| n / 2)] {
        let times: Vec<f64> = [100, 1_000, 10_000, 100_000].map(|length| written(length, at)).to_vec();
        let ratio = times[3] / times[0];
        println!(
            "  {name:7} {}  last : first {ratio:.2}",
            times.iter().map(|t| format!("{t:7.2}")).collect::<String>()
        );
    }
}
