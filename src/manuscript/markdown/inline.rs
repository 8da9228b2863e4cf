//! The words of a block, with the marks that `ueb` reads: `*`, `**`, `<u>`, and a backslash before what is no mark.

use std::ops::Range;

use pulldown_cmark::{Event, Tag, TagEnd};

use super::breaks::LINE_END;
use crate::ueb;

/// The words of the block that is being read.
#[derive(Default)]
pub(super) struct Inline {
    print: String,
    /// Spans that are open in it.
    spans: usize,
}

const MARKS: [char; 9] = ['*', '_', '~', '\\', '<', '^', '`', '{', '}'];

impl Inline {
    pub fn open(&mut self, _at: usize) {
        if !self.print.ends_with([' ', '\n']) && !self.print.is_empty() {
            self.print.push(' ');
        }
    }

    pub fn push(&mut self, words: &str) {
        self.print.push_str(words);
    }

    pub fn take(&mut self) -> String {
        // No span goes on from one block to the next.
        for _ in 0..std::mem::take(&mut self.spans) {
            self.print.push_str("</span>");
        }
        std::mem::take(&mut self.print)
    }

    pub fn start(
        &mut self,
        tag: &Tag,
        range: Range<usize>,
        source: &str,
        told: &mut Vec<(usize, &'static str, String)>,
        beyond: &mut bool,
    ) {
        let mut tell = |what: &'static str| {
            *beyond = true;
            told.push((range.start, what, source[range.clone()].to_owned()));
        };
        match tag {
            Tag::Emphasis | Tag::Strong => {
                *beyond |= source[range.clone()].starts_with('_');
                self.print.push_str(if *tag == Tag::Strong { "**" } else { "*" });
            }
            Tag::Image { .. } => tell("a picture can't be set; only its words are"),
            Tag::Link { .. } => tell("an address that print does not show is left out; the words are set"),
            _ => tell("this is not set as it is marked; the words are kept"),
        }
    }

    pub fn end(&mut self, tag: &TagEnd) {
        match tag {
            TagEnd::Emphasis => self.print.push('*'),
            TagEnd::Strong => self.print.push_str("**"),
            _ => {}
        }
    }

    pub fn event(
        &mut self,
        event: &Event,
        range: Range<usize>,
        source: &str,
        told: &mut Vec<(usize, &'static str, String)>,
        beyond: &mut bool,
    ) {
        let raw = source.get(range.clone()).unwrap_or_default();
        let mut tell = |what: &'static str| {
            *beyond = true;
            told.push((range.start, what, raw.to_owned()));
        };
        match event {
            Event::Text(text) => {
                if source[..range.start].ends_with('\\')
                    && raw.starts_with(|c: char| c.is_ascii_punctuation())
                {
                    self.print.push('\\');
                }
                if **text == *raw {
                    if raw.contains("[^") {
                        tell("no note has this number; the mark stays as it is");
                    }
                    self.print.push_str(raw);
                } else {
                    // A character by its name.
                    *beyond = true;
                    self.literal(text);
                }
            }
            Event::Code(text) => {
                tell("code is set as plain words");
                self.literal(text);
            }
            Event::SoftBreak => self.print.push(' '),
            Event::HardBreak => self.print.push(LINE_END),
            Event::InlineHtml(html) => match html.trim() {
                "<u>" | "</u>" => self.print.push_str(html.trim()),
                "</span>" if self.spans > 0 => {
                    self.spans -= 1;
                    self.print.push_str("</span>");
                }
                html if ueb::begins_span(html) => {
                    self.spans += 1;
                    self.print.push_str(html);
                }
                "<br>" | "<br/>" | "<br />" => {
                    *beyond = true;
                    self.print.push(LINE_END);
                }
                html if html.starts_with("<!--") => *beyond = true,
                _ => tell("HTML has no place on braille pages; the tag is left out"),
            },
            Event::TaskListMarker(_) => tell("a box to tick is left out"),
            _ => tell("this is not set as it is marked; the words are kept"),
        }
    }

    /// Words in which nothing is a mark.
    fn literal(&mut self, text: &str) {
        for c in text.chars() {
            if MARKS.contains(&c) {
                self.print.push('\\');
            }
            self.print.push(c);
        }
    }
}
