//! Braille and print page numbers: 12, t1 (made by the transcriber), p1 (print front matter), a12 (print page 12 runs
//! on). From memory.

use crate::cell::Cell;
use crate::ueb::{self, Options, ReadOptions};

use super::GAP;

/// What stands in place of a print page's number on pages that the transcriber makes.
pub const MADE: &str = "t";

/// Cells of the longest page number: a letter, an indicator, ten digits.
const LONGEST: usize = 12;

/// A page number's cells, in small letters.
pub fn cells(label: &str) -> Vec<Cell> {
    ueb::transcribe(&label.to_ascii_lowercase(), &Options::default())
}

/// The label that a page number's cells stand for, whatever is wrong with their indicators: its small letters and digits.
pub fn text(cells: &[Cell]) -> String {
    let print = ueb::read_print(cells, &ReadOptions { contracted: false, ..ReadOptions::default() });
    print.chars().filter(|c| c.is_ascii_lowercase() || c.is_ascii_digit()).collect()
}

/// The ranges of braille page numbers, one for each kind: t1-t2, p1-p3, 1-20.
pub fn ranges(labels: &[String]) -> Vec<(Option<char>, String)> {
    let mut out = Vec::new();
    for kind in [Some('t'), Some('p'), None] {
        let mut own = labels.iter().filter(|label| parts(label).is_some_and(|parts| parts.0 == kind));
        let Some(from) = own.next() else { continue };
        out.push((kind, own.next_back().map_or_else(|| from.clone(), |to| format!("{from}-{to}"))));
    }
    out
}

/// A page number at the right end of a line: its label and the cell where it begins. It stands alone, or after at
/// least three blank cells.
pub fn at_end(line: &[Cell]) -> Option<(String, usize)> {
    let (label, from) = last_word(line)?;
    let before = &line[..from];
    (before.len() >= GAP && before[before.len() - GAP..].iter().all(|cell| cell.is_blank()))
        .then_some((label, from))
}

/// The page number that is the last word of a line, however many blanks stand before it.
pub fn last_word(line: &[Cell]) -> Option<(String, usize)> {
    let end = line.iter().rposition(|cell| !cell.is_blank())? + 1;
    let from = line[..end].iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
    label(&line[from..end]).map(|label| (label, from))
}

/// The label of a page number's cells: at most one letter, then a number.
pub fn label(word: &[Cell]) -> Option<String> {
    // No page number is longer, but many words are.
    let print = (word.len() <= LONGEST)
        .then(|| ueb::read_print(word, &ReadOptions { contracted: false, ..ReadOptions::default() }))?;
    let digits = print.strip_prefix(|c: char| c.is_ascii_lowercase()).unwrap_or(&print);
    (!digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit())).then_some(print)
}

/// A label's parts: its letter (t, p, or a run-on letter) and its number.
pub fn parts(label: &str) -> Option<(Option<char>, u32)> {
    let letter = label.chars().next().filter(char::is_ascii_lowercase);
    let digits = &label[letter.map_or(0, char::len_utf8)..];
    Some((letter, digits.parse().ok()?))
}

/// Whether a print page number belongs to print's front matter: a Roman numeral in small letters.
pub fn is_front(print_page: &str) -> bool {
    !print_page.is_empty() && print_page.chars().all(|c| "ivxlcdm".contains(c))
}

/// The print page number where it runs on: 12, a12, b12, …; after z12 it stays z12.
pub fn run_on(print_page: &str, times: usize) -> String {
    match times {
        _ if print_page.is_empty() => String::new(),
        0 => print_page.to_owned(),
        n => format!("{}{print_page}", (b'a' + (n - 1).min(25) as u8) as char),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    #[test]
    fn numbers_are_written_and_read_back() {
        // Transcriber-made pages t1, print front matter p1, run-on a12: from memory.
        for (label_, ascii) in [("12", "#ab"), ("t1", "t#a"), ("p30", "p#cj"), ("a12", "a#ab")] {
            assert_eq!(cell::to_ascii(&cells(label_)), ascii);
            assert_eq!(label(&cells(label_)).as_deref(), Some(label_));
        }
        assert_eq!(cell::to_ascii(&cells("t1-t2")), "t#a-t#b");
        assert_eq!(run_on("12", 2), "b12");
        // Letters that alone would be a word or a shortform: sections 5.7.1 and 5.7.2.
        for (label, ascii) in [
            ("i", "i"),
            ("iii", "iii"),
            ("v", ";v"),
            ("cd", ";cd"),
            ("xiv", "xiv"),
            ("12", "#ab"),
            ("a2", "a#b"),
        ] {
            assert_eq!(cell::to_ascii(&cells(label)), ascii);
            assert_eq!(text(&cells(label)), label);
        }
        assert!(is_front("iv") && !is_front("4"));
    }
}
