//! Any cells marked against any print: no panic, findings that lie within both.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use cellwright::cell::Cell;
use cellwright::ueb::Options;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (bool, bool, &str, Vec<Vec<u8>>)| {
    let (contracted, marks, print, lines) = input;
    let cells =
        |bytes: &Vec<u8>| -> Vec<Cell> { bytes.iter().filter_map(|b| Cell::from_bits(b & 63)).collect() };
    let written: Vec<Vec<Cell>> = lines.iter().map(cells).collect();
    properties::marked(print, &written, &Options { contracted, marks, ..Options::default() });
});
