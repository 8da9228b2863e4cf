//! Footnotes: what asks for them in the text, and their place behind the print page or the text that asks.

use std::collections::HashMap;

use super::{Block, Kind, What, forms};

#[derive(Default)]
pub(super) struct Notes {
    /// Each note's label, place and blocks.
    defined: Vec<(String, usize, Vec<Block>)>,
    /// The notes asked for, by label: the mark in the text.
    marks: HashMap<String, String>,
    /// In the order of the text: behind how many blocks a note was first asked for, and its label.
    asked: Vec<(usize, String)>,
}

impl Notes {
    /// The mark in the text that asks for a note; `blocks` stand before it.
    pub fn ask(&mut self, label: &str, blocks: usize) -> String {
        if let Some(mark) = self.marks.get(label) {
            return mark.clone();
        }
        let own = !label.is_empty() && label.len() <= 4 && label.bytes().all(|b| b.is_ascii_digit());
        let shown = if own { label.to_owned() } else { (self.asked.len() + 1).to_string() };
        let mark = format!("^{{{shown}}}");
        self.asked.push((blocks, label.to_owned()));
        self.marks.insert(label.to_owned(), mark.clone());
        mark
    }

    pub fn define(&mut self, label: &str, at: usize) {
        self.defined.push((label.to_owned(), at, Vec::new()));
    }

    /// The note whose definition ends.
    pub fn end(&mut self, blocks: Vec<Block>) {
        if let Some((.., own)) = self.defined.iter_mut().rev().find(|(.., own)| own.is_empty()) {
            *own = blocks;
        }
    }

    /// Notes that nothing asks for: their place and label.
    pub fn unused(&self) -> Vec<(usize, String)> {
        let unused = self.defined.iter().filter(|(label, ..)| !self.marks.contains_key(label));
        unused.map(|(label, at, _)| (*at, label.clone())).collect()
    }

    /// Labels that the text asks for, and no note has.
    pub fn missing(&self) -> Vec<String> {
        let defined = |label: &String| self.defined.iter().any(|(own, ..)| own == label);
        self.asked.iter().map(|(_, label)| label).filter(|label| !defined(label)).cloned().collect()
    }

    /// The blocks with the notes behind the print page that asks for them, or behind all of the text. Where a paragraph
    /// runs on over the page break, they wait for the next one; where a place is given for them, they wait for that.
    pub fn put(self, blocks: Vec<Block>) -> Vec<Block> {
        let Notes { mut defined, marks, asked } = self;
        if asked.is_empty() {
            return blocks.into_iter().filter(|block| !is_place(block)).collect();
        }
        let mut asked = asked.into_iter().peekable();
        let mut due: Vec<String> = Vec::new();
        let mut out = Vec::with_capacity(blocks.len());
        let mut flush = |due: &mut Vec<String>, out: &mut Vec<Block>, foot: bool| {
            let from = out.len();
            if !due.is_empty() && foot {
                out.push(What::NoteLine.block(""));
            }
            for label in due.drain(..) {
                let Some(place) = defined.iter().position(|(own, ..)| *own == label) else { continue };
                let (_, _, own) = defined.swap_remove(place);
                let mark = marks.get(&label).cloned().unwrap_or_default();
                for (at, block) in own.into_iter().enumerate() {
                    let mut note = What::Footnote.block(match at {
                        0 => format!("{mark} {}", block.print),
                        _ => block.print,
                    });
                    if let Kind::Form(form) = &mut note.kind
                        && at > 0
                    {
                        form.first = form.over;
                    }
                    out.push(note);
                }
            }
            if !foot {
                forms::group(&mut out[from..], 0);
            }
        };
        let all = blocks.len();
        let last = blocks.iter().rposition(is_place);
        for (at, block) in blocks.iter().enumerate() {
            let runs_on = |next: Option<&Block>| match next.map(|block| block.kind) {
                Some(Kind::Continued) => true,
                Some(Kind::Form(form)) => form.what == What::GoesOn,
                _ => false,
            };
            let waits = last.is_some_and(|last| at < last);
            if block.kind == Kind::PrintPage && !runs_on(blocks.get(at + 1)) && !waits {
                flush(&mut due, &mut out, true);
            }
            if is_place(block) {
                flush(&mut due, &mut out, false);
                continue;
            }
            out.push(block.clone());
            while let Some((_, label)) = asked.next_if(|(blocks, _)| *blocks <= at) {
                due.push(label);
            }
        }
        due.extend(asked.filter(|(blocks, _)| *blocks >= all).map(|(_, label)| label));
        flush(&mut due, &mut out, true);
        out
    }
}

/// Whether notes are put here.
fn is_place(block: &Block) -> bool {
    matches!(block.kind, Kind::Form(form) if form.what == What::NotesHere)
}
