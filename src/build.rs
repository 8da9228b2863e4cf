//! Writes the tables of capital and small letters, and of letters that are a letter and a mark. The latter are the Unicode
//! standard's canonical decompositions as the library `unicode-normalization` has them. The page needs a small part of the
//! libraries' tables.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::Path;

use unicode_normalization::char::{compose, decompose_canonical};

#[path = "build_data.rs"]
mod data;
#[path = "build_font.rs"]
mod font;

/// Roman and Greek letters and their marks lie below; what is made of others no sign of the code stands for.
const END_OF_GREEK: u32 = 0x400;
/// The marks that go on a letter.
const MARKS: std::ops::Range<char> = '\u{300}'..'\u{370}';

fn main() {
    println!("cargo:rerun-if-changed=src/build.rs");
    println!("cargo:rerun-if-changed=src/ueb/signs.tsv");
    println!("cargo:rerun-if-changed=src/build_font.rs");
    println!("cargo:rerun-if-changed=src/build_data.rs");
    for file in
        data::check_all(&[Path::new("src"), Path::new("www/data")]).unwrap_or_else(|bad| panic!("{bad}"))
    {
        println!("cargo:rerun-if-changed={}", file.display());
    }
    write("cells.ttf", &font::cells());
    letter_case();
    marked();
    println!("cargo:rerun-if-changed=src/ueb/contract/parts.txt");
    signs();
    parts();
}

/// Writes the parts of compounds as short as they can be told: a line for those of the same roles, its first letter the
/// roles (1 first, 2 second, 4 form, added up), then each word in order as what it shares with the word before (so many
/// letters, `A` for none) and the rest. `ueb::contract::parts` reads it.
fn parts() {
    let list = std::fs::read_to_string("src/ueb/contract/parts.txt").expect("the parts can be read");
    let mut roles: BTreeMap<&str, u8> = BTreeMap::new();
    let mut role = 0;
    for line in list.lines().filter(|line| !line.starts_with('#')) {
        match line {
            "[first]" => role = 1,
            "[second]" => role = 2,
            line if line.starts_with('[') => role = 4,
            line => line.split_whitespace().for_each(|word| *roles.entry(word).or_default() |= role),
        }
    }
    let mut short = String::new();
    for roles_now in 1..8 {
        let mut last = "";
        let _ = write!(short, "{roles_now}");
        for (word, _) in roles.iter().filter(|(_, roles)| **roles == roles_now) {
            assert!(word.bytes().all(|byte| byte.is_ascii_lowercase()), "{word}: small letters");
            let shared = word.bytes().zip(last.bytes()).take_while(|(one, two)| one == two).count();
            let _ = write!(short, "{}{}", char::from(b'A' + shared as u8), &word[shared..]);
            last = word;
        }
        short.push('\n');
    }
    write("parts.txt", &short);
}

/// Writes the register of signs as short as it can be told: without its Unicode values, and without what a line says twice.
/// `ueb::register` reads it.
fn signs() {
    let table = std::fs::read_to_string("src/ueb/signs.tsv").expect("the register can be read");
    let mut short = String::new();
    let mut last = "";
    for line in table.lines().filter(|line| !line.starts_with("# ")) {
        let fields: Vec<&str> = line.split('\t').collect();
        let [key, cells, print, _unicode, class, section, name] = fields[..] else {
            panic!("{line}: seven fields")
        };
        let kind = match key.strip_suffix(name) {
            Some(kind) if kind.is_empty() || kind.ends_with(' ') => kind.to_owned(),
            _ => format!("{key}="),
        };
        let name = if name == print { "" } else { name };
        let said = if section == last { "" } else { section };
        last = section;
        let _ = writeln!(short, "{kind}\t{cells}\t{print}\t{class}\t{said}\t{name}");
    }
    write("signs.tsv", &short);
}

/// Writes a file for the code to include.
fn write(name: &str, content: &(impl AsRef<[u8]> + ?Sized)) {
    let folder = std::env::var_os("OUT_DIR").expect("cargo says where to write");
    std::fs::write(Path::new(&folder).join(name), content).expect("the table can be written");
}

/// Writes the tables of capital and small letters of the first plane, as the standard library has them, for those that are
/// one letter in the other case: runs of a first and a last letter, what to add, and how far apart the letters are. They
/// are an eighth of the library's own.
fn letter_case() {
    let lower = |c: char| c.is_uppercase().then(|| one(c.to_lowercase()))?;
    let upper = |c: char| c.is_lowercase().then(|| one(c.to_uppercase()))?;
    let mut tables = String::new();
    for (name, other) in [("LOWER", &lower as &dyn Fn(char) -> Option<char>), ("UPPER", &upper)] {
        let mut runs: Vec<[u16; 4]> = Vec::new();
        for c in '\u{80}'..='\u{ffff}' {
            let Some(to) = other(c).filter(|to| *to != c) else { continue };
            let (Ok(c), Ok(to)) = (u16::try_from(u32::from(c)), u16::try_from(u32::from(to))) else {
                continue;
            };
            let add = to.wrapping_sub(c);
            match runs.last_mut() {
                Some(run)
                    if run[2] == add && (c - run[1] == run[3] || (run[0] == run[1] && c - run[1] <= 2)) =>
                {
                    run[3] = c - run[1];
                    run[1] = c;
                }
                _ => runs.push([c, c, add, 1]),
            }
        }
        let _ = writeln!(tables, "static {name}: [[u16; 4]; {}] = {runs:?};", runs.len());
    }
    write("letter_case.rs", &tables);
}

/// The only one of some.
fn one(mut some: impl Iterator<Item = char>) -> Option<char> {
    some.next().filter(|_| some.next().is_none())
}

fn marked() {
    let (mut whole, mut letters, mut last) = (Vec::new(), Vec::new(), Vec::new());
    // All that is made of these letters lies in the first plane.
    for c in '\0'..='\u{ffff}' {
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
        whole.push(u32::from(c));
        letters.push(u32::from(letter));
        last.push(u32::from(mark));
    }
    // One list after the other: like stands beside like, and packs well.
    let mut tables = String::new();
    for (name, list) in [("WHOLE", whole), ("LETTERS", letters), ("LAST", last)] {
        let _ = writeln!(tables, "static {name}: [u16; {}] = {list:?};", list.len());
    }
    write("marked.rs", &tables);
}
