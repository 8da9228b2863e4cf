//! Any word divided at a line's end: places within it, halves with cells.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|word: &str| properties::divided(word));
