//! Letters: heading, address and greeting, the paragraphs, close and signature.

use super::breaks;
use super::{Form, Kind, What};

/// The parts that a line may name, and what each is set as.
const PARTS: [(&str, What); 5] = [
    ("heading:", What::Opening),
    ("address:", What::Opening),
    ("greeting:", What::Opening),
    ("closing:", What::Closing),
    ("signature:", What::Closing),
];

pub(super) fn put(text: &str, out: &mut Vec<super::Block>) {
    let mut paragraph = String::new();
    let mut before: Option<&str> = None;
    let flush = |paragraph: &mut String, out: &mut Vec<super::Block>| {
        breaks::push(out, Kind::Paragraph, &std::mem::take(paragraph));
    };
    for line in text.lines() {
        let line = line.trim();
        let part = PARTS
            .iter()
            .find(|(name, _)| line.get(..name.len()).is_some_and(|start| start.eq_ignore_ascii_case(name)));
        match part {
            Some((name, what)) => {
                flush(&mut paragraph, out);
                // A blank line parts the heading, the address and the greeting, and stands before the close.
                let apart = before.is_some_and(|before| before != *name) && *name != "signature:";
                let form = Form { before: apart, ..what.form() };
                breaks::push(out, Kind::Form(form), &line[name.len()..]);
                before = Some(name);
            }
            None if line.is_empty() => flush(&mut paragraph, out),
            None => {
                paragraph.push(' ');
                paragraph.push_str(line);
            }
        }
    }
    flush(&mut paragraph, out);
}
