//! Print page breaks within Markdown: a form feed at the head of a line becomes a mark that the parser takes for a word.

use super::{Block, Kind, forms};

/// Stand before and after a print page's number.
const OPEN: char = '\u{fdd0}';
const CLOSE: char = '\u{fdd1}';
/// Stands where a line ends in print.
pub(super) const LINE_END: char = '\u{fdd2}';

/// The text with its print page breaks marked, and for each of its lines the one that it was, from 1.
pub(super) fn mark(text: &str) -> (String, Vec<usize>) {
    let all: Vec<&str> = text.lines().collect();
    let mut out = String::with_capacity(text.len() + 64);
    let mut lines = Vec::with_capacity(all.len());
    let mut fence: Option<&str> = None;
    for (at, line) in all.iter().enumerate() {
        let mut put = |line: &str| {
            out.push_str(line);
            out.push('\n');
            lines.push(at + 1);
        };
        let trimmed = line.trim_matches([' ', '\t']);
        if let Some(open) = fence {
            let mark = open.as_bytes()[0];
            if trimmed.len() >= open.len() && trimmed.bytes().all(|b| b == mark) {
                fence = None;
            }
        } else {
            fence = opening(trimmed);
        }
        let Some(page) = trimmed.strip_prefix('\u{c}') else {
            match line.contains([OPEN, CLOSE, LINE_END]) {
                true => put(&line.replace([OPEN, CLOSE, LINE_END], "\u{fffd}")),
                false => put(line),
            }
            continue;
        };
        let label: String = page.trim().chars().filter(char::is_ascii_alphanumeric).take(8).collect();
        let label = format!("{OPEN}{}{CLOSE}", label.to_ascii_lowercase());
        let before = at.checked_sub(1).map_or("", |at| all[at].trim());
        let next = all.get(at + 1).copied().unwrap_or_default();
        if fence.is_some() {
            put(&label);
        } else if before.starts_with('>') && next.trim_start().starts_with('>') {
            put(&format!("> {label}"));
        } else if before.is_empty() || before.starts_with(['#', '|']) || begins_block(next) {
            let indent = &next[..next.len() - next.trim_start().len()];
            put("");
            put(&format!("{indent}{label}"));
            put("");
        } else {
            put(&label);
        }
    }
    (out, lines)
}

/// The mark of a fence that begins here.
fn opening(line: &str) -> Option<&str> {
    let mark = line.chars().next().filter(|c| matches!(c, '`' | '~'))?;
    let count = line.chars().take_while(|c| *c == mark).count();
    (count >= 3).then(|| &line[..count])
}

fn begins_block(line: &str) -> bool {
    let line = line.trim_start();
    line.is_empty() || line.starts_with(['#', '>', '|', '-', '*', '+', '`', '~', '\u{c}']) || {
        let digits = line.bytes().take_while(u8::is_ascii_digit).count();
        digits > 0 && line[digits..].starts_with(['.', ')'])
    }
}

/// Puts blocks for print that may hold page breaks and ends of lines.
pub(super) fn push(out: &mut Vec<Block>, kind: Kind, print: &str) {
    let mut kind = kind;
    let mut rest = print;
    loop {
        let end = rest.find([OPEN, LINE_END]).unwrap_or(rest.len());
        let words = super::words(&rest[..end]);
        if !words.is_empty() {
            let block = Block { kind, print: words };
            kind = forms::rest_of(kind);
            out.push(block);
        }
        rest = &rest[end..];
        if let Some(after) = rest.strip_prefix(OPEN) {
            let (label, after) = after.split_once(CLOSE).unwrap_or((after, ""));
            out.push(Block { kind: Kind::PrintPage, print: label.to_owned() });
            rest = after;
        } else if let Some(after) = rest.strip_prefix(LINE_END) {
            rest = after;
        } else {
            return;
        }
    }
}

/// The number of a print page that begins with this line.
pub(super) fn page(line: &str) -> Option<&str> {
    line.trim().strip_prefix(OPEN)?.strip_suffix(CLOSE)
}
