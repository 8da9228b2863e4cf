//! Bytes from outside (links, slips, records, braille files): an error or a result that is kept whole.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| properties::outside(bytes));
