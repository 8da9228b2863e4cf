//! Plays: a speech begins with the name of who speaks; what stands in brackets by itself is a stage direction.

use super::breaks::{self, page};
use super::{Block, Kind, What};

pub(super) fn put(text: &str, out: &mut Vec<Block>) {
    let mut all: Vec<String> = Vec::new();
    for line in text.lines().filter(|line| !line.trim().is_empty()) {
        match all.last_mut() {
            Some(last) if line.starts_with([' ', '\t']) && page(last).is_none() => {
                last.push(' ');
                last.push_str(line.trim());
            }
            _ => all.push(line.trim().to_owned()),
        }
    }
    for line in all {
        if let Some(label) = page(&line) {
            out.push(Block { kind: Kind::PrintPage, print: label.to_owned() });
            continue;
        }
        let bare = line.trim_matches(['*', '_']);
        let direction = [('(', ')'), ('[', ']')]
            .iter()
            .any(|(open, close)| bare.starts_with(*open) && bare.ends_with(*close));
        let what = if direction { What::Direction } else { What::Speech };
        breaks::push(out, Kind::Form(what.form()), &line);
    }
}
