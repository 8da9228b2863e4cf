//! Verse: every line of print is a line, further to the right by its level; an empty line parts stanzas.

use super::breaks::page;
use super::{Block, Kind, What, words};

pub(super) fn put(text: &str, out: &mut Vec<Block>) {
    let deepest = text.lines().filter(|line| !line.trim().is_empty()).map(level).max().unwrap_or(1);
    let mut begins = false;
    for line in text.lines() {
        if line.trim().is_empty() {
            begins = true;
            continue;
        }
        if let Some(label) = page(line) {
            out.push(Block { kind: Kind::PrintPage, print: label.to_owned() });
            continue;
        }
        let level = level(line);
        let mut block = match numbered(line.trim()) {
            Some((words, number)) => {
                What::Numbered.levelled(level, deepest, super::words(words) + "\t" + number)
            }
            None => What::Verse.levelled(level, deepest, words(line)),
        };
        if let Kind::Form(form) = &mut block.kind {
            form.before = std::mem::take(&mut begins);
        }
        out.push(block);
    }
}

/// A line and the number at its end, behind two blanks or a tab.
fn numbered(line: &str) -> Option<(&str, &str)> {
    let digits = line.len() - line.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let (words, number) = line.split_at(line.len() - digits);
    (digits > 0 && (words.ends_with("  ") || words.ends_with('\t'))).then(|| (words.trim_end(), number))
}

/// How many levels a line stands to the right, from 1: two blanks more for each.
pub(super) fn level(line: &str) -> usize {
    let blanks: usize =
        line.chars().take_while(|c| c.is_whitespace()).map(|c| if c == '\t' { 4 } else { 1 }).sum();
    (blanks / 2 + 1).min(6)
}
