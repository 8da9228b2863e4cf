//! Words and numbers with the punctuation of prose come back letter for letter.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (bool, &[u8])| {
    let (contracted, bytes) = input;
    properties::round_trip(&properties::prose(bytes), contracted);
});
