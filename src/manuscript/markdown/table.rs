//! Tables: columns where they fit, else a row an item, each entry behind its heading, with a transcriber's note.

use super::{Block, Kind, What};
use crate::manuscript::Sheet;
use crate::manuscript::tabular;

/// What the note says of a table that is listed.
const NOTE: &str = "The table is listed: each row is an item, with the headings before its entries.";

pub(super) fn put(rows: Vec<Vec<String>>, sheet: Sheet, out: &mut Vec<Block>) {
    let print = rows.iter().map(|row| row.join("\t")).collect::<Vec<_>>().join("\n");
    if rows.first().is_none_or(Vec::is_empty) {
        return;
    }
    if tabular::fits(&print, sheet) {
        out.push(What::Table.block(print));
        return;
    }
    out.push(What::Note.block(NOTE));
    let (heads, body) = rows.split_at(1);
    for row in body {
        let entries: Vec<String> = row
            .iter()
            .zip(&heads[0])
            .filter(|(entry, _)| !entry.is_empty())
            .map(|(entry, head)| if head.is_empty() { entry.clone() } else { format!("{head}: {entry}") })
            .collect();
        out.push(Block { kind: Kind::Item(1, 1), print: entries.join("; ") });
    }
}
