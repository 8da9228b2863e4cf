//! Any pages of braille laid out anew: pages that keep to the sheet.
#![no_main]
#[path = "../../properties/mod.rs"]
mod properties;

use cellwright::manuscript::file::BrailleFile;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (&str, [u8; 3], [u8; 3])| {
    let (text, old, sheet) = input;
    let pages = BrailleFile::from_text(text).cells();
    properties::reflowed(&pages, properties::sheet(old), properties::sheet(sheet));
});
