//! Any cells: no panic, pieces that cover every cell once, nothing dropped.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use cellwright::cell::Cell;
use cellwright::ueb::ReadOptions;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (bool, bool, bool, &[u8])| {
    let (contracted, older, marks, bytes) = input;
    let cells: Vec<Cell> = bytes.iter().filter_map(|b| Cell::from_bits(b & 63)).collect();
    properties::any_cells(&cells, &ReadOptions { contracted, older, marks, ..ReadOptions::default() });
});
