//! Any text: no panic, the same cells with and without reasons, every character with a sign.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use cellwright::ueb::Options;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (bool, bool, &str)| {
    let (contracted, marks, text) = input;
    properties::any_text(text, &Options { contracted, marks, ..Options::default() });
});
