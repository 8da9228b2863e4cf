//! Notes at the cells of a braille file: the reading desk's margin, and its list to copy.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::cell::Cell;

/// The place of a cell: page, line and cell, each from 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct At {
    /// The page.
    pub page: usize,
    /// The line.
    pub line: usize,
    /// The cell.
    pub cell: usize,
}

/// Notes by the place of their cell.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(from = "Vec<(At, String)>", into = "Vec<(At, String)>")]
pub struct Notes(BTreeMap<At, String>);

impl From<Vec<(At, String)>> for Notes {
    fn from(all: Vec<(At, String)>) -> Notes {
        Notes(all.into_iter().collect())
    }
}

impl From<Notes> for Vec<(At, String)> {
    fn from(notes: Notes) -> Self {
        notes.0.into_iter().collect()
    }
}

impl Notes {
    /// Writes a note; an empty one takes it away.
    pub fn write(&mut self, at: At, text: &str) {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if text.is_empty() {
            self.0.remove(&at);
        } else {
            self.0.insert(at, text);
        }
    }

    /// The note at a cell.
    pub fn at(&self, at: At) -> Option<&str> {
        self.0.get(&at).map(String::as_str)
    }

    /// All notes, in the order of the file.
    pub fn iter(&self) -> impl Iterator<Item = (At, &str)> {
        self.0.iter().map(|(at, text)| (*at, text.as_str()))
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The notes as a list to copy, a line a note: page, line, cell, its dots, the note.
    pub fn list(&self, pages: &[Vec<Vec<Cell>>]) -> String {
        let mut out = String::new();
        for (at, text) in self.iter() {
            let cell =
                pages.get(at.page).and_then(|page| page.get(at.line)).and_then(|line| line.get(at.cell));
            let dots = match cell {
                Some(cell) if !cell.is_blank() => format!("dots {}", cell.dot_numbers()),
                _ => "blank".to_owned(),
            };
            out.push_str(&format!(
                "page {}, line {}, cell {} ({dots}): {text}\n",
                at.page + 1,
                at.line + 1,
                at.cell + 1
            ));
        }
        out
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    #[test]
    fn notes_are_listed_in_the_order_of_the_file() {
        let mut notes = Notes::default();
        notes.write(At { page: 0, line: 1, cell: 0 }, "e for i?");
        notes.write(At { page: 0, line: 0, cell: 2 }, "  one\nblank  too many ");
        notes.write(At { page: 9, line: 0, cell: 0 }, "gone");
        notes.write(At { page: 9, line: 0, cell: 0 }, " ");
        let pages = vec![vec![cell::from_ascii("in it").unwrap(), cell::from_ascii("i").unwrap()]];
        let list = notes.list(&pages);
        assert_eq!(
            list,
            "page 1, line 1, cell 3 (blank): one blank too many\npage 1, line 2, cell 1 (dots 2-4): e for i?\n"
        );
        let kept = serde_json::to_string(&notes).unwrap();
        assert_eq!(serde_json::from_str::<Notes>(&kept).unwrap(), notes);
    }
}
