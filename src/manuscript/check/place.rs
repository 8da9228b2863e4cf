//! Where each block of print stands on the pages, and what it is called.

use crate::cell::Cell;
use crate::manuscript::GAP;
use crate::manuscript::block::{Block, Kind, What};
use crate::manuscript::head::is_centred;
use crate::manuscript::whole::row;
use crate::manuscript::work::{MarkedWork, TextLine, end, indent};
use crate::marking;

/// A block of print as it was found on the pages.
pub(super) struct Found {
    /// Which block of the print it is.
    pub block: usize,
    /// Its first and its last line, in the lines of text.
    pub first: usize,
    pub last: usize,
    /// The cell at which it begins in its first line.
    pub from: usize,
}

/// Where each block of print stands, in order; a block whose first word is not there has no place.
pub(super) fn found(blocks: &[Block], work: &MarkedWork, lines: &[TextLine]) -> Vec<Found> {
    let places = marking::places(&work.expected, lines);
    let units = &work.expected.units;
    let mut out: Vec<Found> = Vec::new();
    let (mut at, mut print) = (0, 0);
    for (block, one) in blocks.iter().enumerate().filter(|(_, one)| one.kind.has_words()) {
        let next = print + row(one).chars().count() + 1;
        let begin = at + units[at..].iter().take_while(|unit| unit.print.end <= print).count();
        let count = units[begin..].iter().take_while(|unit| unit.print.start + 1 < next).count();
        let own = begin..begin + count;
        (at, print) = (own.end, next);
        let there = |unit: &usize| places[*unit].to > places[*unit].from && !units[*unit].is_space();
        // The first word tells where the block begins, unless it was left out.
        let word = own.clone().take_while(|&unit| !units[unit].is_space());
        let (Some(first), Some(last)) = (word.into_iter().find(there), own.clone().rev().find(there)) else {
            continue;
        };
        let (first, last) = (places[first], places[last]);
        if out.last().is_none_or(|before| before.last <= first.line) && first.line <= last.line {
            let from = lines[first.line].on_paper(first.from);
            out.push(Found { block, first: first.line, last: last.line, from });
        }
    }
    out
}

/// What a block is called in a finding.
pub(super) fn name(kind: Kind) -> &'static str {
    match kind {
        Kind::Centred | Kind::Cell5 | Kind::Cell7 => "heading",
        Kind::Paragraph | Kind::Continued => "paragraph",
        Kind::Item(..) => "list item",
        Kind::PrintPage => "print page",
        Kind::Form(form) => form.what.name(),
    }
}

/// The rule that a block's form falls under.
pub(super) fn rule(kind: Kind) -> &'static str {
    let Kind::Form(form) = kind else {
        return if kind.is_heading() { "heading" } else { "paragraph" };
    };
    match form.what {
        What::Verse => "verse",
        What::Numbered => "line-numbers",
        What::Quotation | What::Attribution | What::Listed => "quotation",
        What::Speech | What::Direction => "play",
        What::Opening | What::Closing => "letter",
        What::Note => "transcribers-note",
        What::Break => "break",
        What::End => "end-of-volume",
        What::BoxTop | What::BoxBottom => "box",
        What::NoteLine | What::Footnote | What::NotesHere => "notes",
        What::Entry | What::ContentsHere => "contents",
        What::Symbol | What::SymbolsHere => "special-symbols",
        What::Table => "table",
        What::GoesOn => "paragraph",
    }
}

/// Whether a line of text stands in the middle, or as near to it as the page number beside it leaves room for.
pub(super) fn in_the_middle(text: &[Cell], whole: &[Cell], width: usize) -> bool {
    let whole = &whole[..end(whole)];
    let number = whole.iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
    let room = if whole.len() > text.len() { number.saturating_sub(GAP) } else { width };
    let before = indent(text);
    is_centred(before, text.len() - before, width, room)
}
