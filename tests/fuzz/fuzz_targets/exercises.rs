//! What an exercise's link holds, made of any bytes: an error or a result that is kept whole, and what the rooms ask of it.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| properties::exercises(bytes));
