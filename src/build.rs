//! Writes the table of letters that are a letter and a mark, from the Unicode standard's canonical decompositions as the
//! library `unicode-normalization` has them: the page needs a small part of the library's tables.

use std::fmt::Write as _;
use std::path::Path;

use unicode_normalization::char::{compose, decompose_canonical};

/// Roman and Greek letters and their marks lie below; what is made of others no sign of the code stands for.
const END_OF_GREEK: u32 = 0x400;
/// The marks that go on a letter.
const MARKS: std::ops::Range<char> = '\u{300}'..'\u{370}';

fn main() {
    println!("cargo:rerun-if-changed=src/build.rs");
    let mut rows = String::new();
    let mut count = 0;
    // All that is made of these letters lies in the first plane.
    for c in (0..=0xFFFF).filter_map(char::from_u32) {
        let mut parts = Vec::new();
        decompose_canonical(c, |part| parts.push(part));
        let Some((&mark, before)) = parts.split_last() else { continue };
        if before.is_empty()
            || MARKS.contains(&before[0])
            || parts.iter().any(|&part| u32::from(part) >= END_OF_GREEK)
        {
            continue;
        }
        let letter = before[1..].iter().try_fold(before[0], |letter, &mark| compose(letter, mark));
        let letter = letter.unwrap_or_else(|| panic!("{c} is a letter and a mark"));
        let _ = writeln!(rows, "    ({}, {}, {}),", u32::from(c), u32::from(letter), u32::from(mark));
        count += 1;
    }
    let table = format!("static MARKED: [(u16, u16, u16); {count}] = [\n{rows}];\n");
    let folder = std::env::var_os("OUT_DIR").expect("cargo says where to write");
    std::fs::write(Path::new(&folder).join("marked.rs"), table).expect("the table can be written");
}
