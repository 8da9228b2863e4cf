//! Lines of a text that is being written, word by word with what they say.

use std::rc::Rc;

use crate::cell::Cell;
use crate::ueb::back::LiveReading;
use crate::ueb::{Piece, Remark};

/// Lines in one chunk: what is drawn and compared is kept chunk by chunk, so a key costs the same in a long text.
pub const CHUNK: usize = 12;

/// A line longer than this goes on as a further line of the surface, without a line end in the text. Its parts fill a line of
/// 40 cells or a little more, and a key draws no more than one of them again.
const LONG: usize = 56;

/// A place between cells.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The line, from 0.
    pub line: usize,
    /// The cell before which it stands, from 0.
    pub cell: usize,
}

/// A word of a line with the blanks after it, and what it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Word {
    /// Its first cell in the line.
    pub from: usize,
    /// The cell after its last, blanks included.
    pub to: usize,
    /// The print it gives; a prefix that waits for its root gives none.
    pub says: String,
    /// A prefix at its end still waits for its root.
    pub waiting: bool,
    /// Some of its cells have no meaning here.
    pub unknown: bool,
}

/// A line and its reading.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line {
    /// The cells.
    pub cells: Vec<Cell>,
    /// What they say, as a whole.
    pub print: String,
    /// Word by word.
    pub words: Vec<Word>,
    /// It goes on the line before: there is no line end between them.
    pub goes_on: bool,
}

/// Some lines in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chunk {
    /// The number of its first line, from 0.
    pub first: usize,
    /// Its lines.
    pub lines: Vec<Rc<Line>>,
}

impl Line {
    /// The line of these cells, which begin at cell `start` of the text that was read.
    pub(super) fn read(cells: Vec<Cell>, goes_on: bool, start: usize, live: &LiveReading) -> Line {
        let mut line = Line { goes_on, print: String::with_capacity(cells.len() * 2), ..Line::default() };
        let end = start + cells.len();
        let said = live.words_in(start..end);
        let mut said = said.filter(|word| word.cells.end > start && word.cells.start < end);
        let mut from = 0;
        while from < cells.len() {
            let end = cells[from..].iter().position(|cell| cell.is_blank()).map_or(cells.len(), |n| from + n);
            let to = cells[end..].iter().position(|cell| !cell.is_blank()).map_or(cells.len(), |n| end + n);
            let mut word = Word { from, to, says: String::new(), waiting: false, unknown: false };
            if end > from
                && let Some(read) = said.next()
            {
                // A run of cells that goes over the end of a long line is shared out piece by piece.
                let part = (start + from).saturating_sub(read.cells.start)..start + end - read.cells.start;
                let pieces = read.pieces.iter().filter(|piece| part.contains(&piece.cells.start));
                word.says = says(read.print, pieces, part.len() == read.cells.len(), &mut word.waiting);
                word.unknown = read
                    .pieces
                    .iter()
                    .any(|piece| piece.remark == Remark::Unknown && part.contains(&piece.cells.start));
            }
            line.print.push_str(&word.says);
            // Blanks may say nothing: those that a line continuation indicator takes with it (6.10).
            line.print.push_str(&live.print_of(start + end..start + to));
            line.words.push(word);
            from = to;
        }
        line.cells = cells;
        line
    }
}

/// The print of these pieces of a word; a prefix that waits stands for nothing yet.
fn says<'a>(
    print: &str,
    pieces: impl Iterator<Item = &'a Piece> + Clone,
    whole: bool,
    waiting: &mut bool,
) -> String {
    *waiting = pieces.clone().any(|piece| piece.remark == Remark::Waiting);
    if whole && !*waiting {
        return print.to_owned();
    }
    let offsets: Vec<usize> = print.char_indices().map(|(at, _)| at).chain([print.len()]).collect();
    pieces
        .filter(|piece| piece.remark != Remark::Waiting)
        .filter_map(|piece| print.get(*offsets.get(piece.print.start)?..*offsets.get(piece.print.end)?))
        .collect()
}

/// A line's cells in parts, of which each but the last ends at a blank where there is one; a line that is not long is
/// one part.
pub(super) fn parts(cells: &[Cell]) -> Vec<&[Cell]> {
    let mut parts = Vec::new();
    let mut rest = cells;
    while rest.len() > LONG {
        // Well before the limit, so that writing on does not cut again at every key.
        let reach = LONG - LONG / 4;
        let cut = rest[..reach].iter().rposition(|cell| cell.is_blank()).map_or(reach, |blank| blank + 1);
        let (part, after) = rest.split_at(cut);
        parts.push(part);
        rest = after;
    }
    parts.push(rest);
    parts
}
