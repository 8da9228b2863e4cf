//! Small words between spaces come back letter for letter.
#![no_main]
use cellwright::ueb::{self, Options, ReadOptions};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let text: String = bytes.iter().map(|b| char::from(b'a' + b % 26)).collect();
    let cells = ueb::transcribe(&text, &Options::default());
    let print = ueb::read(&cells, &ReadOptions::default()).print;
    assert_eq!(print, text);
});
