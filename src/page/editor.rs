//! The text of the writing surface: lines of cells, a caret, a selection, undo and redo. No browser type in here.

use std::rc::Rc;

use crate::cell::Cell;
use crate::ueb::{self, ReadOptions, Remark};

/// Lines in one chunk: what is drawn, compared and read is kept chunk by chunk, so a key costs the same in a long text.
pub const CHUNK: usize = 24;

/// A line longer than this goes on as a further line of the surface, without a line end in the text.
const LONG: usize = 240;

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
    /// The print it gives.
    pub says: String,
    /// A prefix at its end still waits for its root: the cells of the prefix.
    pub waiting: Option<Vec<Cell>>,
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

impl Line {
    /// A line, read.
    pub fn read(cells: Vec<Cell>, options: &ReadOptions) -> Line {
        let reading = ueb::read(&cells, options);
        // Byte offsets of the print's scalar values, to cut words out of it.
        let mut offsets: Vec<usize> = reading.print.char_indices().map(|(at, _)| at).collect();
        offsets.push(reading.print.len());
        let mut words = Vec::new();
        let mut pieces = reading.pieces.iter().peekable();
        let mut from = 0;
        while from < cells.len() {
            let mut end = from;
            while end < cells.len() && !cells[end].is_blank() {
                end += 1;
            }
            let mut to = end;
            while to < cells.len() && cells[to].is_blank() {
                to += 1;
            }
            let mut word = Word { from, to, says: String::new(), waiting: None, unknown: false };
            while let Some(piece) = pieces.next_if(|piece| piece.cells.start < to) {
                if let (Some(&start), Some(&stop)) =
                    (offsets.get(piece.print.start), offsets.get(piece.print.end))
                {
                    word.says.push_str(reading.print.get(start..stop).unwrap_or_default());
                }
                match piece.remark {
                    Remark::Waiting => word.waiting = cells.get(piece.cells.clone()).map(<[Cell]>::to_vec),
                    Remark::Unknown => word.unknown = true,
                    _ => {}
                }
            }
            word.says.truncate(word.says.trim_end().len());
            words.push(word);
            from = to;
        }
        Line { cells, print: reading.print, words, goes_on: false }
    }
}

/// Some lines in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chunk {
    /// The number of its first line, from 0.
    pub first: usize,
    /// Its lines.
    pub lines: Vec<Rc<Line>>,
}

#[derive(Clone, Debug)]
struct Edit {
    /// Where, in cells and line ends from the beginning.
    at: usize,
    removed: Vec<Vec<Cell>>,
    inserted: Vec<Vec<Cell>>,
    /// Where the caret was before.
    before: usize,
}

/// The text and what was done to it.
pub struct Editor {
    lines: Vec<Rc<Line>>,
    chunks: Vec<Rc<Chunk>>,
    caret: Place,
    anchor: Option<Place>,
    done: Vec<Edit>,
    undone: Vec<Edit>,
    options: ReadOptions,
}

impl Editor {
    /// An editor over these lines, the caret at the end.
    pub fn new(lines: &[Vec<Cell>], options: ReadOptions) -> Editor {
        let mut editor = Editor {
            lines: lines.iter().flat_map(|cells| read_long(cells, false, &options)).collect(),
            chunks: Vec::new(),
            caret: Place::default(),
            anchor: None,
            done: Vec::new(),
            undone: Vec::new(),
            options,
        };
        if editor.lines.is_empty() {
            editor.lines.push(Rc::new(Line::default()));
        }
        editor.caret = editor.end();
        editor.cut_chunks(0);
        editor
    }

    /// Reads the whole text anew in another way.
    pub fn read_as(&mut self, options: ReadOptions) {
        if options != self.options {
            self.options = options;
            for line in &mut self.lines {
                let goes_on = line.goes_on;
                *line = Rc::new(Line { goes_on, ..Line::read(line.cells.clone(), &self.options) });
            }
            self.cut_chunks(0);
        }
    }

    /// The lines.
    pub fn lines(&self) -> &[Rc<Line>] {
        &self.lines
    }

    /// The lines, chunk by chunk; a chunk that did not change is the same `Rc`.
    pub fn chunks(&self) -> &[Rc<Chunk>] {
        &self.chunks
    }

    /// Where the next cell is written.
    pub fn caret(&self) -> Place {
        self.caret
    }

    /// What is selected, first place and last; `None` when nothing is.
    pub fn selection(&self) -> Option<(Place, Place)> {
        let anchor = self.anchor.filter(|anchor| *anchor != self.caret)?;
        Some((anchor.min(self.caret), anchor.max(self.caret)))
    }

    /// The cells selected, line by line; the whole text when nothing is.
    pub fn selected(&self) -> Vec<Vec<Cell>> {
        match self.selection() {
            Some((from, to)) => self.between(from, to),
            None => whole_lines(&self.lines),
        }
    }

    /// The place after the last cell.
    pub fn end(&self) -> Place {
        let line = self.lines.len() - 1;
        Place { line, cell: self.lines[line].cells.len() }
    }

    /// Writes lines of cells at the caret, in place of what is selected.
    pub fn insert(&mut self, with: &[Vec<Cell>]) {
        let (from, to) = self.selection().unwrap_or((self.caret, self.caret));
        self.change(from, to, with.to_vec());
    }

    /// Writes one cell.
    pub fn write(&mut self, cell: Cell) {
        self.insert(&[vec![cell]]);
    }

    /// Begins a new line.
    pub fn new_line(&mut self) {
        self.insert(&[Vec::new(), Vec::new()]);
    }

    /// Erases what is selected, or the cell before the caret (or after it).
    pub fn erase(&mut self, forward: bool) {
        let (from, to) = self.selection().unwrap_or_else(|| {
            let other = if forward { self.after(self.caret) } else { self.before(self.caret) };
            (other.min(self.caret), other.max(self.caret))
        });
        if from != to {
            self.change(from, to, vec![Vec::new()]);
        }
    }

    /// Takes back the last change; `false` when there is none.
    pub fn undo(&mut self) -> bool {
        let Some(edit) = self.done.pop() else { return false };
        self.replace(self.place(edit.at), self.place(edit.at + length(&edit.inserted)), &edit.removed);
        self.caret = self.place(edit.before);
        self.anchor = None;
        self.undone.push(edit);
        true
    }

    /// Does again what was taken back; `false` when there is nothing.
    pub fn redo(&mut self) -> bool {
        let Some(edit) = self.undone.pop() else { return false };
        self.replace(self.place(edit.at), self.place(edit.at + length(&edit.removed)), &edit.inserted);
        self.caret = self.place(edit.at + length(&edit.inserted));
        self.anchor = None;
        self.done.push(edit);
        true
    }

    /// Moves the caret; with `select` the selection grows.
    pub fn go(&mut self, to: Place, select: bool) {
        self.anchor = if select { self.anchor.or(Some(self.caret)) } else { None };
        let line = to.line.min(self.lines.len() - 1);
        self.caret = Place { line, cell: to.cell.min(self.lines[line].cells.len()) };
    }

    /// Selects the whole text.
    pub fn select_all(&mut self) {
        self.anchor = Some(Place::default());
        self.caret = self.end();
    }

    /// The place one cell before.
    pub fn before(&self, place: Place) -> Place {
        self.place(self.offset(place).saturating_sub(1))
    }

    /// The place one cell after.
    pub fn after(&self, place: Place) -> Place {
        self.place(self.offset(place) + 1)
    }

    /// Cells and line ends before a place.
    fn offset(&self, place: Place) -> usize {
        let ends = self.lines.iter().take(place.line + 1).skip(1).filter(|line| !line.goes_on).count();
        self.lines.iter().take(place.line).map(|line| line.cells.len()).sum::<usize>() + ends + place.cell
    }

    /// The place after so many cells and line ends; the end when there are fewer.
    fn place(&self, mut offset: usize) -> Place {
        for (number, line) in self.lines.iter().enumerate() {
            let next = self.lines.get(number + 1);
            let joined = next.is_some_and(|next| next.goes_on);
            let length = line.cells.len();
            if offset < length || (offset == length && !joined) {
                return Place { line: number, cell: offset };
            }
            offset -= length + usize::from(!joined);
        }
        self.end()
    }

    /// The beginning of the word before (or after) a place.
    pub fn word_from(&self, mut place: Place, forward: bool) -> Place {
        let blank = |at: Place| self.lines[at.line].cells.get(at.cell).is_none_or(|cell| cell.is_blank());
        if forward {
            while place != self.end() && !blank(place) {
                place = self.after(place);
            }
            while place != self.end() && blank(place) {
                place = self.after(place);
            }
        } else {
            while place != Place::default() && blank(self.before(place)) {
                place = self.before(place);
            }
            while place != Place::default() && !blank(self.before(place)) {
                place = self.before(place);
            }
        }
        place
    }

    fn between(&self, from: Place, to: Place) -> Vec<Vec<Cell>> {
        let mut found: Vec<Vec<Cell>> = Vec::new();
        for number in from.line..=to.line {
            let line = &self.lines[number];
            let start = if number == from.line { from.cell } else { 0 };
            let stop = if number == to.line { to.cell } else { line.cells.len() };
            match found.last_mut() {
                Some(last) if line.goes_on => last.extend_from_slice(&line.cells[start..stop]),
                _ => found.push(line.cells[start..stop].to_vec()),
            }
        }
        found
    }

    fn change(&mut self, from: Place, to: Place, inserted: Vec<Vec<Cell>>) {
        let (at, before) = (self.offset(from), self.offset(self.caret));
        let removed = self.replace(from, to, &inserted);
        self.caret = self.place(at + length(&inserted));
        self.anchor = None;
        self.undone.clear();
        self.done.push(Edit { at, removed, inserted, before });
    }

    fn replace(&mut self, from: Place, to: Place, with: &[Vec<Cell>]) -> Vec<Vec<Cell>> {
        let removed = self.between(from, to);
        let head = &self.lines[from.line].cells[..from.cell];
        let tail = &self.lines[to.line].cells[to.cell..];
        let last = with.len().saturating_sub(1);
        let mut new: Vec<Rc<Line>> = Vec::new();
        for place in 0..=last {
            let mut cells = if place == 0 { head.to_vec() } else { Vec::new() };
            cells.extend(with.get(place).into_iter().flatten());
            if place == last {
                cells.extend_from_slice(tail);
            }
            new.extend(read_long(&cells, place == 0 && self.lines[from.line].goes_on, &self.options));
        }
        let same_count = new.len() == to.line - from.line + 1;
        self.lines.splice(from.line..=to.line, new);
        if same_count {
            for chunk in from.line / CHUNK..=to.line / CHUNK {
                self.chunks[chunk] = self.chunk(chunk);
            }
        } else {
            self.cut_chunks(from.line / CHUNK);
        }
        removed
    }

    fn chunk(&self, number: usize) -> Rc<Chunk> {
        let first = number * CHUNK;
        let end = (first + CHUNK).min(self.lines.len());
        Rc::new(Chunk { first, lines: self.lines[first..end].to_vec() })
    }

    fn cut_chunks(&mut self, from: usize) {
        self.chunks.truncate(from);
        for number in from..self.lines.len().div_ceil(CHUNK) {
            self.chunks.push(self.chunk(number));
        }
    }
}

/// Cells and line ends of a text.
fn length(text: &[Vec<Cell>]) -> usize {
    text.iter().map(Vec::len).sum::<usize>() + text.len().saturating_sub(1)
}

/// The lines of the text, those that go on joined to what they go on.
pub fn whole_lines<'a>(lines: impl IntoIterator<Item = &'a Rc<Line>>) -> Vec<Vec<Cell>> {
    let mut whole: Vec<Vec<Cell>> = Vec::new();
    for line in lines {
        match whole.last_mut() {
            Some(last) if line.goes_on => last.extend_from_slice(&line.cells),
            _ => whole.push(line.cells.clone()),
        }
    }
    whole
}

/// A line, read; a long one in parts that end at a blank where there is one.
fn read_long(cells: &[Cell], mut goes_on: bool, options: &ReadOptions) -> Vec<Rc<Line>> {
    let mut parts = Vec::new();
    let mut rest = cells;
    loop {
        let cut = if rest.len() <= LONG {
            rest.len()
        } else {
            // Well before the limit, so that writing on does not cut again at every key.
            let reach = LONG - LONG / 4;
            rest[..reach].iter().rposition(|cell| cell.is_blank()).map_or(reach, |blank| blank + 1)
        };
        let (part, after) = rest.split_at(cut);
        parts.push(Rc::new(Line { goes_on, ..Line::read(part.to_vec(), options) }));
        if after.is_empty() {
            return parts;
        }
        rest = after;
        goes_on = true;
    }
}

/// Pasted text as lines of cells: Unicode braille if it holds any, else braille ASCII; what is neither is left out and
/// counted.
pub fn lines_of(text: &str) -> (Vec<Vec<Cell>>, usize) {
    let unicode = text.chars().any(|c| Cell::from_unicode(c).is_some());
    let mut lost = 0;
    let lines = text
        .replace("\r\n", "\n")
        .split(['\n', '\r', '\u{c}'])
        .map(|line| {
            let take = |c: char| {
                let cell = match c {
                    ' ' | '\u{a0}' => Some(Cell::BLANK),
                    _ if unicode => Cell::from_unicode(c),
                    _ => Cell::from_ascii(c),
                };
                lost += usize::from(cell.is_none());
                cell
            };
            line.chars().filter_map(take).collect()
        })
        .collect();
    (lines, lost)
}
