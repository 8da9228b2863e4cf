//! Any file checked before hand-in, with or without print: no panic, places that lie within it.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (&str, Option<&str>, bool, [u8; 3])| {
    let (text, print, volume, sheet) = input;
    properties::checked(text, print, volume, properties::sheet(sheet));
});
