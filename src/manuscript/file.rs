//! Braille files: braille ASCII (`.brf`: lines end by CR LF, pages by form feed), Unicode braille text, plain print.

use std::fmt;

use crate::cell::{self, Cell};

/// The largest file that is opened: 10 MB.
pub const LIMIT: usize = 10_000_000;

/// How a file's text is written, told by its characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notation {
    /// North American braille ASCII.
    Ascii,
    /// Unicode braille patterns.
    Unicode,
}

/// Why a file could not be opened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FileError {
    /// More than [`LIMIT`] bytes; how many.
    TooLarge(usize),
    /// Not a text file: a zero byte, or bytes that are neither UTF-8 nor UTF-16 with a byte-order mark.
    Binary,
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FileError::TooLarge(size) => write!(
                f,
                "This file has {:.1} MB; at most {} MB are opened. Open a larger text in parts, a volume at a time.",
                *size as f64 / 1e6,
                LIMIT / 1_000_000
            ),
            FileError::Binary => f.write_str(
                "This is not a text file. Save the work as braille ASCII (.brf) or as plain text (UTF-8) and open that.",
            ),
        }
    }
}

impl std::error::Error for FileError {}

/// The text of a file: UTF-8, or UTF-16 with a byte-order mark; the mark is dropped.
///
/// # Errors
/// [`FileError`] for a file that is too large or no text.
pub fn text(bytes: &[u8]) -> Result<String, FileError> {
    if bytes.len() > LIMIT {
        return Err(FileError::TooLarge(bytes.len()));
    }
    let wide = |join: fn([u8; 2]) -> u16| {
        let units: Vec<u16> =
            bytes[2..].chunks(2).map(|two| join([two[0], *two.get(1).unwrap_or(&0)])).collect();
        String::from_utf16(&units).map_err(|_| FileError::Binary)
    };
    let text = match bytes {
        [0xff, 0xfe, ..] => wide(u16::from_le_bytes)?,
        [0xfe, 0xff, ..] => wide(u16::from_be_bytes)?,
        _ => std::str::from_utf8(bytes)
            .map_err(|_| FileError::Binary)?
            .trim_start_matches('\u{feff}')
            .to_owned(),
    };
    if text.contains('\0') { Err(FileError::Binary) } else { Ok(text) }
}

/// A braille file as it stands, page by page and line by line, with any character that does not belong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BrailleFile {
    /// How it is written.
    pub notation: Notation,
    /// The text between form feeds, split at line ends; joined again it is the file.
    raw: Vec<Vec<String>>,
}

impl BrailleFile {
    /// Opens a file.
    ///
    /// # Errors
    /// [`FileError`] for a file that is too large or no text.
    pub fn open(bytes: &[u8]) -> Result<BrailleFile, FileError> {
        Ok(BrailleFile::from_text(&text(bytes)?))
    }

    /// A file's text.
    pub fn from_text(text: &str) -> BrailleFile {
        let unicode = text.chars().any(|c| ('\u{2800}'..='\u{28ff}').contains(&c));
        let text = normal(text);
        BrailleFile {
            notation: if unicode { Notation::Unicode } else { Notation::Ascii },
            raw: text.split('\u{c}').map(|page| page.split('\n').map(str::to_owned).collect()).collect(),
        }
    }

    /// The file of laid-out pages: every line ended, every page ended by a form feed.
    pub fn from_pages(pages: &[Vec<Vec<Cell>>]) -> BrailleFile {
        let mut raw: Vec<Vec<String>> = pages
            .iter()
            .map(|page| page.iter().map(|line| cell::to_ascii(line)).chain([String::new()]).collect())
            .collect();
        raw.push(vec![String::new()]);
        BrailleFile { notation: Notation::Ascii, raw }
    }

    /// The pages' lines as written. A form feed at the very end opens no page, a line end at a page's end no line.
    pub fn pages(&self) -> impl Iterator<Item = &[String]> {
        let last = self.raw.len().saturating_sub(1);
        self.raw.iter().enumerate().filter_map(move |(at, page)| {
            let lines = match page.split_last() {
                Some((end, lines)) if end.is_empty() => lines,
                _ => page,
            };
            (!(at == last && lines.is_empty() && last > 0)).then_some(lines)
        })
    }

    /// The file of some of its pages, from 0, half-open.
    pub fn of_pages(&self, pages: std::ops::Range<usize>) -> BrailleFile {
        let mut raw = self.raw.get(pages).unwrap_or_default().to_vec();
        raw.push(vec![String::new()]);
        BrailleFile { notation: self.notation, raw }
    }

    /// The cell of a character in this file's notation.
    pub fn cell(&self, c: char) -> Option<Cell> {
        match (self.notation, c) {
            (_, ' ') => Some(Cell::BLANK),
            (Notation::Unicode, c) => Cell::from_unicode(c),
            (Notation::Ascii, c) => Cell::from_ascii(c),
        }
    }

    /// The pages' cells; a tab counts as a blank, and any other character that is no cell is left out.
    pub fn cells(&self) -> Vec<Vec<Vec<Cell>>> {
        let cell = |c| if c == '\t' { Some(Cell::BLANK) } else { self.cell(c) };
        self.pages()
            .map(|page| page.iter().map(|line| line.chars().filter_map(cell).collect()).collect())
            .collect()
    }

    /// The file's text: the same characters, line ends as CR LF.
    pub fn to_text(&self) -> String {
        let pages: Vec<String> = self.raw.iter().map(|page| page.join("\r\n")).collect();
        pages.join("\u{c}")
    }

    /// The same cells in the other notation (`.brf`, or Unicode braille text).
    pub fn written_in(&self, notation: Notation) -> BrailleFile {
        let line = |line: &String| -> String {
            line.chars()
                .map(|c| match (self.cell(c), notation) {
                    (Some(cell), Notation::Unicode) => cell.to_unicode(),
                    (Some(cell), Notation::Ascii) => cell.to_ascii(),
                    (None, _) => c,
                })
                .collect()
        };
        BrailleFile { notation, raw: self.raw.iter().map(|page| page.iter().map(line).collect()).collect() }
    }
}

/// Line ends of any kind as a line feed: CR LF, CR, LF, next line, line and paragraph separator.
fn normal(text: &str) -> String {
    text.replace("\r\n", "\n").replace(['\r', '\u{85}', '\u{2028}', '\u{2029}'], "\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn back_byte_for_byte(text in "[ -~\n\u{c}]{0,200}") {
            let file = BrailleFile::open(text.as_bytes()).unwrap();
            prop_assert_eq!(file.to_text(), text.replace('\n', "\r\n"));
            prop_assert_eq!(&BrailleFile::from_text(&file.to_text()), &file);
            prop_assert_eq!(file.written_in(Notation::Unicode).cells(), file.cells());
        }

        #[test]
        fn unicode_braille_comes_back_whatever_its_line_ends(
            text in "[⠀-⠿ \n\u{c}]{0,120}⠿",
            end in prop::sample::select(vec!["\n", "\r\n", "\r"]),
            mark in prop::sample::select(vec!["", "\u{feff}"]),
        ) {
            let file = BrailleFile::open(format!("{mark}{}", text.replace('\n', end)).as_bytes()).unwrap();
            prop_assert_eq!(file.notation, Notation::Unicode);
            prop_assert_eq!(file.to_text(), text.replace('\n', "\r\n"));
            let ascii = file.written_in(Notation::Ascii);
            prop_assert_eq!(ascii.cells(), file.cells());
            prop_assert_eq!(BrailleFile::from_text(&ascii.to_text()).cells(), file.cells());
        }

        #[test]
        fn any_bytes_end_well(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
            let _ = BrailleFile::open(&bytes).map(|file| file.cells());
        }
    }

    #[test]
    fn line_ends_marks_and_refusals() {
        for text in ["ab\r\ncd\u{c}ef", "ab\rcd\u{c}ef", "\u{feff}ab\ncd\u{c}ef"] {
            let file = BrailleFile::open(text.as_bytes()).unwrap();
            assert_eq!(file.to_text(), "ab\r\ncd\u{c}ef");
        }
        assert_eq!(BrailleFile::open(&[b'a', 0, b'b']), Err(FileError::Binary));
        let error = BrailleFile::open(&vec![b'a'; LIMIT + 1]).unwrap_err();
        assert!(error.to_string().contains("10 MB"));
        assert_eq!(BrailleFile::from_text("⠁⠃\n").cells(), BrailleFile::from_text("ab\n").cells());
    }
}
