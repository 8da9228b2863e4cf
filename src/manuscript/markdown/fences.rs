//! Fenced blocks: verse, plays, letters, epigraphs, notes, boxes, contents.

use super::breaks::page;
use super::{Block, Form, Kind, Reader, What, forms, letter, play, verse};

impl Reader<'_> {
    /// Sets a fenced block; `at` is where its first line begins.
    pub(super) fn fenced(&mut self, name: &str, at: usize, text: &str) {
        let from = self.out.len();
        let noted = match name {
            "verse" | "play" | "letter" | "epigraph" | "note" => self.noted(at, text),
            _ => text.to_owned(),
        };
        let text = noted.as_str();
        match name {
            "verse" => verse::put(text, &mut self.out),
            "play" => play::put(text, &mut self.out),
            "letter" => letter::put(text, &mut self.out),
            "volume" => self.tell(
                at.saturating_sub(1),
                "a volume begins here: each volume is laid out and checked by itself",
                text,
            ),
            "contents" if text.trim().is_empty() => self.out.push(What::ContentsHere.block("")),
            "symbols" if text.trim().is_empty() => self.out.push(What::SymbolsHere.block("")),
            "notes" if text.trim().is_empty() && self.depth == 0 => self.out.push(What::NotesHere.block("")),
            "contents" => {
                for (place, line) in contents(text, &mut self.out) {
                    self.tell(at + place, "this line of the contents has no page behind its words", line);
                }
            }
            "epigraph" => {
                for words in paragraphs(text) {
                    super::breaks::push(&mut self.out, Kind::Paragraph, &words);
                }
                attribute(&mut self.out[from..], 3);
                forms::group(&mut self.out[from..], 2);
            }
            "note" => {
                for words in paragraphs(text) {
                    self.out.push(What::Note.block(super::words(&words)));
                }
            }
            "box" => {
                let inside = self.within(at, text);
                self.out.push(What::BoxTop.block(""));
                self.out.extend(inside);
                self.out.push(What::BoxBottom.block(""));
            }
            "" => {
                for words in paragraphs(text) {
                    super::breaks::push(&mut self.out, Kind::Paragraph, &words);
                }
            }
            _ => {
                self.tell(
                    at.saturating_sub(1),
                    "no block has this name and such lines: verse, play, letter, epigraph, note, box, contents, symbols, notes; its lines are set as a list",
                    name,
                );
                for line in text.lines().filter(|line| !line.trim().is_empty()) {
                    super::breaks::push(&mut self.out, Kind::Item(1, 1), line);
                }
            }
        }
        if matches!(name, "verse" | "play" | "letter" | "contents") {
            forms::group(&mut self.out[from..], 0);
        }
    }
}

impl Reader<'_> {
    /// Lines of a fenced block with the marks of their notes; other marks of Markdown are told, since they stay as they are.
    fn noted(&mut self, at: usize, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut place = 0;
        for line in text.split_inclusive('\n') {
            if line.contains("](") || has_tag(line) {
                self.tell(at + place, "within this block such a mark is not read; it stays as it is", line);
            }
            let mut rest = line;
            while let Some((before, after)) = rest.split_once("[^") {
                out.push_str(before);
                let label = after.split_once(']').filter(|(label, _)| !label.contains(char::is_whitespace));
                match label {
                    Some((label, after)) => {
                        out.push_str(&self.notes.ask(label, self.out.len()));
                        rest = after;
                    }
                    None => {
                        out.push_str("[^");
                        rest = after;
                    }
                }
            }
            out.push_str(rest);
            place += line.len();
        }
        out
    }
}

/// Whether a line has a tag of HTML that is not read.
fn has_tag(line: &str) -> bool {
    line.match_indices('<').any(|(at, _)| {
        let tag = line[at..].find('>').map_or("", |end| &line[at..=at + end]);
        let read = matches!(tag, "" | "<u>" | "</u>" | "</span>" | "<br>") || crate::ueb::begins_span(tag);
        !read && tag[1..].starts_with(|c: char| c.is_ascii_alphabetic() || c == '/')
    })
}

/// The paragraphs of a fenced block, each on one line.
pub(super) fn paragraphs(text: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    let mut open = false;
    for line in text.lines() {
        let line = line.trim();
        if line.is_empty() {
            open = false;
        } else if let Some(last) = out.last_mut().filter(|_| open) {
            last.push(' ');
            last.push_str(line);
        } else {
            out.push(line.to_owned());
            open = true;
        }
    }
    out
}

/// Makes the paragraphs that begin with a dash say whom the others, which run over to cell `over`, are from: blocked,
/// four cells to the right.
pub(super) fn attribute(blocks: &mut [Block], over: u8) {
    for block in blocks {
        let dash = block.print.starts_with(['—', '–', '―']) || block.print.starts_with("--");
        if dash && block.kind == Kind::Paragraph {
            // The group that it stands in is moved two cells.
            let cell = over + 2;
            block.kind = Kind::Form(Form { first: cell, over: cell, ..What::Attribution.form() });
        }
    }
}

/// Puts the lines of the contents; given back are those without a page, with their place.
fn contents<'t>(text: &'t str, out: &mut Vec<Block>) -> Vec<(usize, &'t str)> {
    let deepest = text.lines().filter(|line| !line.trim().is_empty()).map(verse::level).max().unwrap_or(1);
    let mut without = Vec::new();
    let mut place = 0;
    for line in text.split_inclusive('\n') {
        let at = place;
        place += line.len();
        let words = line.trim();
        if words.is_empty() {
            continue;
        }
        if let Some(label) = page(words) {
            out.push(Block { kind: Kind::PrintPage, print: label.to_owned() });
            continue;
        }
        let (words, number) = match words.rsplit_once([' ', '\t', '.', '…']) {
            Some((before, number))
                if !number.is_empty()
                    && number.chars().all(|c| c.is_ascii_digit() || "ivxlcdm".contains(c)) =>
            {
                (before.trim_end_matches(['.', '…', ' ', '\t', '|']), number)
            }
            _ => {
                without.push((at, words));
                (words, "")
            }
        };
        let print = super::words(words) + "\t" + number;
        out.push(What::Entry.levelled(verse::level(line), deepest, print));
    }
    without
}
