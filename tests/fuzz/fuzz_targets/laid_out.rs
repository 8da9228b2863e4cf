//! Any print on any sheet: pages that keep to it, and again when they are laid out anew.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (&str, [u8; 3], [u8; 3])| {
    let (print, sheet, other) = input;
    properties::laid_out(print, properties::sheet(sheet), properties::sheet(other));
});
