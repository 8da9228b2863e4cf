//! Any cells: no panic, and pieces that cover every cell once.
#![no_main]
use cellwright::cell::Cell;
use cellwright::ueb::{self, ReadOptions};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (bool, bool, bool, &[u8])| {
    let (contracted, older, marks, bytes) = input;
    let cells: Vec<Cell> = bytes.iter().filter_map(|b| Cell::from_bits(b & 63)).collect();
    let reading = ueb::read(&cells, &ReadOptions { contracted, older, marks });
    let mut at = 0;
    for piece in &reading.pieces {
        assert_eq!(piece.cells.start, at);
        at = piece.cells.end;
    }
    assert_eq!(at, cells.len());
});
