//! Any text: no panic, the same cells with and without reasons, signs that cover every cell once.
#![no_main]
use cellwright::ueb::{self, Options};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|input: (bool, bool, &str)| {
    let (contracted, marks, text) = input;
    let options = Options { contracted, marks };
    let explained = ueb::explain(text, &options);
    assert_eq!(explained.cells, ueb::transcribe(text, &options));
    let length = text.chars().count();
    let mut at = 0;
    for sign in &explained.signs {
        assert_eq!(sign.cells.start, at);
        assert!(sign.print.start <= sign.print.end && sign.print.end <= length);
        at = sign.cells.end;
    }
    assert_eq!(at, explained.cells.len());
});
