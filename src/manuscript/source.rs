//! Print with CommonMark's block marks, as blocks.
//!
//! These are the marks that both halves of the page read; text that has more is read by [`super::markdown`].
//!
//! Read are headings (`#` centred, `##` cell-5, `###` and deeper cell-7), list items (`-`, `*`, `+`, `1.`, `1)`, deeper
//! by indenting), paragraphs parted by an empty line, and between two lines `---` at the very top the title page's
//! fields, `name: words`. Emphasis inside a block is read by `ueb`.
//!
//! A print page break is a form feed with the page's number after it on the same line (`\f12`); a Roman number in
//! small letters belongs to print's front matter, and a `t` in place of a number begins the pages that the transcriber
//! makes (special symbols, transcriber's notes). With no empty line before it the paragraph runs on over the break.

use super::Sheet;
use std::collections::HashSet;

use crate::ueb;

pub use super::block::{Block, Kind};
use super::block::{What, deepen, push_words, words};
use super::told::{self, Told};

/// The title page's fields; empty where not given.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Front {
    /// `title`.
    pub title: String,
    /// `author`.
    pub author: String,
    /// `series`: the series it belongs to.
    pub series: String,
    /// `publisher`: publisher and place.
    pub publisher: String,
    /// `copyright`: the notice or the permission.
    pub copyright: String,
    /// `transcriber`: who transcribed it.
    pub transcriber: String,
    /// `year` of the transcription.
    pub year: String,
    /// `volumes`: how many volumes there are.
    pub volumes: String,
    /// `volume`: which of them this is, the first by default.
    pub volume: String,
    /// `running-head`: the words at the head of every page.
    pub running_head: String,
}

impl Front {
    /// What ends a volume where there are several: the last one ends the book.
    pub fn end(&self) -> Option<String> {
        let volumes: u32 = self.volumes.parse().ok().filter(|count| *count > 1)?;
        let volume: u32 = if self.volume.is_empty() { 1 } else { self.volume.parse().ok()? };
        Some(if volume == volumes { "The End".to_owned() } else { format!("End of Volume {volume}") })
    }

    fn field(&mut self, name: &str) -> Option<&mut String> {
        Some(match name {
            "title" => &mut self.title,
            "author" => &mut self.author,
            "series" => &mut self.series,
            "publisher" => &mut self.publisher,
            "copyright" => &mut self.copyright,
            "transcriber" => &mut self.transcriber,
            "year" => &mut self.year,
            "volumes" => &mut self.volumes,
            "volume" => &mut self.volume,
            "running-head" => &mut self.running_head,
            _ => return None,
        })
    }
}

/// A text as it was read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Read {
    /// The title page's fields.
    pub front: Front,
    /// Its blocks.
    pub blocks: Vec<Block>,
    /// What can't be set.
    pub told: Vec<Told>,
}

/// A text's title page fields and blocks, for the usual sheet.
pub fn read(text: &str) -> (Front, Vec<Block>) {
    let read = read_for(text, Sheet::default());
    (read.front, read.blocks)
}

/// A text's title page fields and blocks, and what can't be set. Text that uses Markdown beyond the block marks above is
/// read by a parser of CommonMark, where there is one (see `markdown`). A table that is too wide for the sheet is listed.
pub fn read_for(text: &str, sheet: Sheet) -> Read {
    let text = text.trim_start_matches('\u{feff}');
    let mut lines = std::borrow::Cow::Borrowed(text);
    if text.contains('\r') {
        lines = text.replace("\r\n", "\n").replace('\r', "\n").into();
    }
    let text = &*lines;
    let mut out = Read::default();
    let mut body = text;
    if let Some(rest) = text.strip_prefix("---\n")
        && let Some((fields, after)) = rest.split_once("\n---")
    {
        for (at, line) in fields.lines().enumerate() {
            let field = line.split_once(':').map(|(name, words)| (name.trim(), words));
            match field.and_then(|(name, words)| Some((out.front.field(name)?, words))) {
                Some((field, words)) => *field = self::words(words),
                None if line.trim().is_empty() => {}
                None => out.told.push(Told::new(at + 2, told::FIELD, line)),
            }
        }
        body = after.split_once('\n').map_or("", |(_, body)| body);
    }
    let above = text[..text.len() - body.len()].matches('\n').count();
    out.blocks = body_of(body, sheet, above, &mut out.told);
    if let Some(end) = out.front.end().filter(|_| !out.front.title.is_empty()) {
        out.blocks.push(What::End.block(end));
    }
    out
}

/// The blocks below the title page's fields, which take so many lines.
fn body_of(body: &str, sheet: Sheet, above: usize, told: &mut Vec<Told>) -> Vec<Block> {
    #[cfg(feature = "markdown")]
    if let Some((blocks, own)) = super::markdown::read(body, sheet) {
        told.extend(own.into_iter().map(|told| Told { line: told.line + above, ..told }));
        return blocks;
    }
    let _ = (sheet, above, told);
    blocks(body)
}

/// All of a text that can't be set, in its order: marks of print that no form answers, and characters without a sign.
pub fn told(text: &str, sheet: Sheet) -> Vec<Told> {
    let read = read_for(text, sheet);
    let mut out = read.told;
    let options = sheet.options();
    let front = &read.front;
    let fields = [
        &front.title,
        &front.author,
        &front.series,
        &front.publisher,
        &front.copyright,
        &front.transcriber,
        &front.year,
        &front.running_head,
    ];
    let prints = read.blocks.iter().filter(|block| block.kind.has_words()).map(|block| &block.print);
    let mut without = HashSet::new();
    // Plain text, which is nearly all, is asked about without a second transcription.
    for print in fields
        .into_iter()
        .chain(prints)
        .filter(|print| !print.bytes().all(|b| b == b' ' || b.is_ascii_graphic()))
    {
        for piece in print.split(['\t', '\n']) {
            without.extend(ueb::explain(piece, &options).unhandled.into_iter().map(|one| one.character));
        }
    }
    if !without.is_empty() {
        for (at, line) in text.lines().enumerate() {
            let mut seen = HashSet::new();
            for c in line.chars().filter(|c| without.contains(c)) {
                if seen.insert(c) {
                    out.push(Told::new(at + 1, told::CHARACTER, &c.to_string()));
                }
            }
        }
    }
    out.sort_by_key(|told| told.line);
    out
}

fn blocks(text: &str) -> Vec<Block> {
    let mut out: Vec<Block> = Vec::new();
    // Whether the next plain line goes on with the block before it.
    let mut open = false;
    for line in text.lines() {
        let trimmed = line.trim_matches([' ', '\t']);
        if let Some(page) = trimmed.strip_prefix('\u{c}') {
            let runs_on =
                open && matches!(out.last(), Some(Block { kind: Kind::Paragraph | Kind::Continued, .. }));
            let label: String = page.trim().chars().filter(char::is_ascii_alphanumeric).take(8).collect();
            out.push(Block { kind: Kind::PrintPage, print: label.to_ascii_lowercase() });
            open = runs_on;
            continue;
        }
        if trimmed.is_empty() {
            open = false;
            continue;
        }
        let (kind, words) = if let Some(heading) = heading(trimmed) {
            heading
        } else if let Some(words) = item(trimmed) {
            let indent = line.chars().take_while(|c| *c == ' ').count()
                + 4 * line.chars().take_while(|c| *c == '\t').count();
            (Kind::Item((indent / 2 + 1).min(5) as u8, 1), words)
        } else if open {
            match out.last_mut() {
                Some(Block { kind: Kind::PrintPage, .. }) => (Kind::Continued, trimmed),
                Some(last) => {
                    last.print.push(' ');
                    push_words(&mut last.print, trimmed);
                    continue;
                }
                None => (Kind::Paragraph, trimmed),
            }
        } else {
            (Kind::Paragraph, trimmed)
        };
        let mut print = String::new();
        push_words(&mut print, words);
        open = !kind.is_heading();
        if !print.is_empty() {
            out.push(Block { kind, print });
        }
    }
    deepen(&mut out);
    out
}

fn heading(line: &str) -> Option<(Kind, &str)> {
    let level = line.bytes().take_while(|b| *b == b'#').count();
    let words = line[level..].strip_prefix(' ')?;
    let kind = match level {
        0 => return None,
        1 => Kind::Centred,
        2 => Kind::Cell5,
        3..=6 => Kind::Cell7,
        _ => return None,
    };
    Some((kind, words.trim().trim_end_matches('#')))
}

/// A list item's words; a number stays, since print shows it, and a bullet goes.
fn item(line: &str) -> Option<&str> {
    if let Some(words) = ["- ", "* ", "+ "].iter().find_map(|mark| line.strip_prefix(mark)) {
        return Some(words);
    }
    let digits = line.bytes().take_while(u8::is_ascii_digit).count();
    let after = &line[digits..];
    ((1..=9).contains(&digits) && (after.starts_with(". ") || after.starts_with(") "))).then_some(line)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn block_marks_are_read() {
        // Source of the marks: CommonMark 0.31, ATX headings and list items.
        let (front, blocks) = read(
            "---\ntitle: The winter boats\n---\n# Notice\n\nOne\ntwo.\n\u{c}2\nthree\n\n- a\n  - b\n1. c\n",
        );
        assert_eq!(front.title, "The winter boats");
        let kinds: Vec<Kind> = blocks.iter().map(|block| block.kind).collect();
        assert_eq!(
            kinds,
            [
                Kind::Centred,
                Kind::Paragraph,
                Kind::PrintPage,
                Kind::Continued,
                Kind::Item(1, 2),
                Kind::Item(2, 2),
                Kind::Item(1, 2)
            ]
        );
        assert_eq!(blocks[1].print, "One two.");
        assert_eq!(blocks[6].print, "1. c");
    }

    #[test]
    fn what_has_no_place_is_told_with_its_line() {
        let text = "---\ntitle: Boats\ncolour: blue\n---\n# Fares\n\nA boat and a ☃.\n\n![the quay](quay.png)\n\n<div>x</div>\n\n```rust\nfn main() {}\n```\n";
        let all: Vec<(usize, &str)> =
            told(text, Sheet::default()).iter().map(|told| (told.line, told.what)).collect();
        let lines: Vec<usize> = all.iter().map(|told| told.0).collect();
        assert_eq!(lines, [3, 7, 9, 11, 13], "{all:?}");
        assert_eq!(told("# Fares\n\nThe *boat* costs £12.\n\n- a\n  - b\n", Sheet::default()), []);
    }
}
