//! Incremental equals whole: after any changes, a live reading says what reading anew says.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use cellwright::cell::Cell;
use cellwright::ueb::ReadOptions;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (bool, bool, bool, Vec<u8>, Vec<(u16, u8, Vec<u8>)>)| {
    let (contracted, older, marks, start, changes) = input;
    let cells =
        |bytes: &[u8]| -> Vec<Cell> { bytes.iter().filter_map(|b| Cell::from_bits(b & 63)).collect() };
    let changes: Vec<_> = changes
        .iter()
        .map(|(from, length, with)| (usize::from(*from), usize::from(*length), cells(with)))
        .collect();
    properties::live(&cells(&start), &changes, &ReadOptions { contracted, older, marks, ..ReadOptions::default() });
});
