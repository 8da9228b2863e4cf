//! Any line read as cells in any notation, told or guessed: no panic, and what was read is written and read again.
#![no_main]
#[path = "../../../src/native/notation.rs"]
mod notation;

use libfuzzer_sys::fuzz_target;
use notation::Notation;

fuzz_target!(|line: &str| {
    for name in ["ascii", "unicode", "dots"] {
        let notation = Notation::named(name).expect("a notation");
        let mut refused = 0;
        let cells = notation.read(line, |_, _| refused += 1);
        assert!(refused + cells.len() <= line.chars().count());
        let again = notation.read(&notation.write(&cells), |at, what| panic!("{at}: {what}"));
        assert_eq!(again, cells);
    }
    Notation::of(line).read(line, |_, _| {});
});
