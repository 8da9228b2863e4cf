//! Contents that a link carries: sealed, they open without a panic.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|text: &str| properties::inside_a_link(text));
