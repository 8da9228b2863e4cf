//! What can be done to a text that is being written: lines of cells with a caret, a selection, undo and redo.

mod changes;
mod history;

use std::rc::Rc;

use self::changes::{Changes, Edit};
use super::lines::{CHUNK, Chunk, Line, Place, parts};
use crate::cell::Cell;
use crate::ueb::back::{LiveReading, Waiting};
use crate::ueb::{ReadOptions, Sign, register};

/// The text and what was done to it.
pub struct Editor {
    lines: Vec<Rc<Line>>,
    chunks: Vec<Rc<Chunk>>,
    caret: Place,
    anchor: Option<Place>,
    done: Changes,
    undone: Changes,
    /// The whole text as one run of cells, a blank for each line end: passages go on over line ends.
    live: LiveReading,
}

impl Editor {
    /// An editor over these lines, the caret at the end.
    pub fn new(lines: &[Vec<Cell>], options: ReadOptions) -> Editor {
        let mut editor = Editor {
            lines: vec![Rc::new(Line::default())],
            chunks: Vec::new(),
            caret: Place::default(),
            anchor: None,
            done: Changes::default(),
            undone: Changes::default(),
            live: LiveReading::new(options),
        };
        editor.cut_chunks(0);
        if !lines.is_empty() {
            editor.replace(Place::default(), Place::default(), lines);
        }
        editor.caret = editor.end();
        editor
    }

    /// Puts lines after the last, as part of what the text began with: they are no change that could be undone, and the
    /// caret stays.
    pub fn append(&mut self, lines: &[Vec<Cell>]) {
        if !lines.is_empty() {
            let mut with = vec![Vec::new()];
            with.extend_from_slice(lines);
            let end = self.end();
            self.replace(end, end, &with);
        }
    }

    /// Reads the whole text anew in another way.
    pub fn read_as(&mut self, options: ReadOptions) {
        if options != *self.live.options() {
            self.live.read_as(options);
            self.read_lines(0, 0, self.live.cells().len());
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
        let (at, until) = (self.offset(from), self.offset(to));
        let read = self.live.splice(at..until, &with.join(&Cell::BLANK));
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
            for (number, part) in parts(&cells).into_iter().enumerate() {
                let goes_on = number > 0 || (place == 0 && self.lines[from.line].goes_on);
                new.push(Rc::new(Line { cells: part.to_vec(), goes_on, ..Line::default() }));
            }
        }
        let same_count = new.len() == to.line - from.line + 1;
        // The last of the new lines ends here, with the cells that stood after the change.
        let end = at + length(with) + tail.len();
        let count = new.len();
        self.lines.splice(from.line..=to.line, new);
        // What was read anew may begin before the change (a word looks at the next) and go on after it (a passage).
        let (mut line, mut start) = (from.line, at - from.cell);
        while line > 0 && start > read.start {
            line -= 1;
            start -= self.lines[line].cells.len() + usize::from(!self.lines[line + 1].goes_on);
        }
        let changed_to = self.read_lines(line, start, read.end.max(end)).max(from.line + count);
        if same_count {
            for chunk in line / CHUNK..changed_to.div_ceil(CHUNK) {
                let new = self.chunk(chunk);
                if !new.lines.iter().map(Rc::as_ptr).eq(self.chunks[chunk].lines.iter().map(Rc::as_ptr)) {
                    self.chunks[chunk] = new;
                }
            }
        } else {
            self.cut_chunks(line / CHUNK);
        }
        removed
    }

    /// Takes over the reading from line `line`, which begins at cell `start` of the text, to the line that holds cell
    /// `until`. Gives the number of the line after the last that was looked at.
    fn read_lines(&mut self, mut line: usize, mut start: usize, until: usize) -> usize {
        while line < self.lines.len() {
            let old = &self.lines[line];
            let next = start + old.cells.len();
            let new = Line::read(old.cells.clone(), old.goes_on, start, &self.live);
            if new != **old {
                self.lines[line] = Rc::new(new);
            }
            line += 1;
            start = next + usize::from(self.lines.get(line).is_some_and(|line| !line.goes_on));
            if start > until {
                break;
            }
        }
        line
    }

    /// The sign that the cell after the caret belongs to; `None` where it has no meaning.
    pub fn sign_at_caret(&self) -> Option<&'static Sign> {
        self.sign_at(self.offset(self.caret))
    }

    /// The sign that the cell before the caret belongs to; `None` where it has no meaning.
    pub fn sign_before_caret(&self) -> Option<&'static Sign> {
        self.sign_at(self.offset(self.caret).checked_sub(1)?)
    }

    fn sign_at(&self, at: usize) -> Option<&'static Sign> {
        let word = self.live.words_in(at..at + 1).find(|word| word.cells.contains(&at))?;
        let place = at - word.cells.start;
        let piece = word.pieces.iter().find(|piece| piece.cells.contains(&place))?;
        piece.sign.map(register::get)
    }

    /// The prefix before the caret that waits for its root: its cells, and what it could become.
    pub fn waiting(&self) -> Option<(Vec<Cell>, Waiting)> {
        let found = self.live.waiting(self.offset(self.caret))?;
        Some((self.live.cells().get(found.cells.clone())?.to_vec(), found))
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

#[cfg(test)]
mod tests;
