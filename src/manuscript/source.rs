//! Print with CommonMark's block marks, as blocks.
//!
//! Read are headings (`#` centred, `##` cell-5, `###` and deeper cell-7), list items (`-`, `*`, `+`, `1.`, `1)`, deeper
//! by indenting), paragraphs parted by an empty line, and between two lines `---` at the very top the title page's
//! fields, `name: words`. Emphasis inside a block is read by `ueb`. A general reader of CommonMark would bring tables,
//! links and HTML that no format here has a place for, and much more weight; so these few marks are read here.
//!
//! A print page break is a form feed with the page's number after it on the same line (`\f12`); a Roman number in
//! small letters belongs to print's front matter, and a `t` in place of a number begins the pages that the transcriber
//! makes (special symbols, transcriber's notes). With no empty line before it the paragraph runs on over the break.

/// What a block is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A heading of level 1: centred, a blank line before and after.
    Centred,
    /// A heading of level 2: cell-5, a blank line before, none after.
    Cell5,
    /// A heading of level 3 or deeper: cell-7, a blank line before, none after.
    Cell7,
    /// A paragraph: first line at cell 3, others at cell 1.
    Paragraph,
    /// The rest of a paragraph after a print page break: all lines at cell 1.
    Continued,
    /// An item of a list, its level from 1, and the deepest level of its list.
    Item(u8, u8),
    /// A print page begins; the text is its number.
    PrintPage,
}

impl Kind {
    /// The cell, from 1, where the first line begins, and the others (from memory).
    pub fn margins(self) -> (usize, usize) {
        match self {
            Kind::Paragraph => (3, 1),
            Kind::Cell5 => (5, 5),
            Kind::Cell7 => (7, 7),
            Kind::Item(level, deepest) => (2 * usize::from(level) - 1, 2 * usize::from(deepest) + 1),
            Kind::Centred | Kind::Continued | Kind::PrintPage => (1, 1),
        }
    }

    /// Whether it is a heading.
    pub fn is_heading(self) -> bool {
        matches!(self, Kind::Centred | Kind::Cell5 | Kind::Cell7)
    }
}

/// A block of print.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// What it is.
    pub kind: Kind,
    /// Its print on one line, single spaces; emphasis marks kept.
    pub print: String,
}

/// The title page's fields; empty where not given.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Front {
    /// `title`.
    pub title: String,
    /// `author`.
    pub author: String,
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
    fn field(&mut self, name: &str) -> Option<&mut String> {
        Some(match name {
            "title" => &mut self.title,
            "author" => &mut self.author,
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

/// A text's title page fields and blocks.
pub fn read(text: &str) -> (Front, Vec<Block>) {
    let text = text.trim_start_matches('\u{feff}');
    let mut lines = std::borrow::Cow::Borrowed(text);
    if text.contains('\r') {
        lines = text.replace("\r\n", "\n").replace('\r', "\n").into();
    }
    let text = &*lines;
    let mut front = Front::default();
    let mut body = text;
    if let Some(rest) = text.strip_prefix("---\n")
        && let Some((fields, after)) = rest.split_once("\n---")
    {
        for (name, words) in fields.lines().filter_map(|line| line.split_once(':')) {
            if let Some(field) = front.field(name.trim()) {
                *field = self::words(words);
            }
        }
        body = after.split_once('\n').map_or("", |(_, body)| body);
    }
    (front, blocks(body))
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

/// Words with one space between them; spaces that do not part words (a digit separator, U+00A0 or U+2009) stay.
pub(super) fn words(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    push_words(&mut out, text);
    out
}

fn push_words(out: &mut String, words: &str) {
    for (place, word) in words.split_ascii_whitespace().enumerate() {
        if place > 0 {
            out.push(' ');
        }
        out.push_str(word);
    }
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

/// Gives every item the deepest level of its list.
fn deepen(blocks: &mut [Block]) {
    let mut from = 0;
    while from < blocks.len() {
        // A print page that begins does not end the list.
        let of_list = |block: &&Block| matches!(block.kind, Kind::Item(..) | Kind::PrintPage);
        let run = blocks[from..].iter().take_while(of_list).count();
        let list = &mut blocks[from..from + run];
        let deep =
            list.iter().map(|block| if let Kind::Item(level, _) = block.kind { level } else { 1 }).max();
        for block in list {
            if let Kind::Item(_, deepest) = &mut block.kind {
                *deepest = deep.unwrap_or(1);
            }
        }
        from += run.max(1);
    }
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
}
