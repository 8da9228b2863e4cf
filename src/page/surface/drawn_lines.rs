//! The lines of the writing surface, drawn: cells or their dot numbers, the caret, the selection, findings, and what each
//! word says under its own cells.
//!
//! They change with every key. So they are no components: their nodes are kept, and a key writes only what differs into
//! them, mostly the dots and the reading of one word.

use std::rc::Rc;

use wasm_bindgen::JsCast;
use web_sys::Element;

use crate::order::within;
use crate::page::browser::nodes::{self, put};
use crate::page::states::margin::MarginNote;
use crate::page::surface::drawn_word::DrawnWord;
use crate::page::surface::looks::Looks;
use crate::page::widgets::cells_font;
use crate::page::widgets::cells_line::{self, CellMark, LineMark};
use crate::writing::{Chunk, Line, Place, Word};

/// The place between cells under a point of the window.
pub fn place_at(x: f64, y: f64) -> Option<Place> {
    // The text box lies over the lines, so the line is not the first thing at the point.
    let found = gloo::utils::document().elements_from_point(x as f32, y as f32);
    let target = found
        .iter()
        .filter_map(|one| one.dyn_into::<Element>().ok())
        .find(|one| one.closest("[data-line]").ok().flatten().is_some())?;
    let line: Element = target.closest("[data-line]").ok()??;
    let line = line.get_attribute("data-line")?.parse().ok()?;
    let Some(cells) = target.closest("[data-at]").ok().flatten() else {
        return Some(Place { line, cell: usize::MAX });
    };
    let at: usize = cells.get_attribute("data-at")?.parse().ok()?;
    // As text each cell is a character; a dot number stands for one cell.
    let in_font = cells.class_list().contains("cells-text");
    let written = || cells.text_content().filter(|_| in_font).map(|text| text.chars().count().max(1) as u32);
    let count = cells.get_attribute("data-cells").and_then(|count| count.parse().ok());
    let count: u32 = count.or_else(written).unwrap_or(1);
    let frame = cells.get_bounding_client_rect();
    let share = within((x - frame.left()) / frame.width().max(1.0), 0.0, 1.0);
    // On a slate the line runs from right to left.
    let back = target.closest(".slate").ok().flatten().is_some();
    let share = if back { 1.0 - share } else { share };
    Some(Place { line, cell: at + (share * f64::from(count)).round() as usize })
}

/// What is to be drawn.
pub struct Picture<'a> {
    /// The lines.
    pub chunks: &'a [Rc<Chunk>],
    /// Where the caret is.
    pub caret: Place,
    /// What is selected.
    pub selection: Option<(Place, Place)>,
    /// The first chunk in view and the last.
    pub seen: (usize, usize),
    /// How far beyond them lines are drawn: nothing, the next chunk, or the one before them too.
    pub beyond: u8,
    /// Findings.
    pub marks: &'a Rc<Vec<LineMark>>,
    /// What is noted beside the lines.
    pub notes: &'a Rc<Vec<MarginNote>>,
    /// Print stands above the caret's line, in [`DrawnLines::copy`].
    pub copy: bool,
    /// How all is drawn.
    pub looks: Looks,
}

/// The lines as they stand on the page.
pub struct DrawnLines {
    /// What holds them.
    pub lines: Element,
    /// What holds the print above the caret's line.
    pub copy: Element,
    looks: Option<Looks>,
    marks: Rc<Vec<LineMark>>,
    notes: Rc<Vec<MarginNote>>,
    chunks: Vec<DrawnChunk>,
    /// The height of a line that was never drawn, in CSS pixels: the mean of those that are.
    row: Option<f64>,
    /// Where the surface was scrolled to, so that what is seen stays where it is.
    scrolled_to: Option<i32>,
}

impl Default for DrawnLines {
    fn default() -> Self {
        let (lines, copy) = (nodes::element("div", "lines"), nodes::element("span", "copy-line"));
        put(&copy, "aria-hidden", "true");
        DrawnLines {
            lines,
            copy,
            looks: None,
            marks: Rc::default(),
            notes: Rc::default(),
            chunks: Vec::new(),
            row: None,
            scrolled_to: None,
        }
    }
}

impl DrawnLines {
    /// Brings them to what is to be drawn.
    pub fn show(&mut self, picture: &Picture) {
        if self.looks != Some(picture.looks) {
            self.lines.set_text_content(None);
            self.chunks.clear();
            self.row = None;
            self.looks = Some(picture.looks);
        }
        let marks_differ = !Rc::ptr_eq(&self.marks, picture.marks) && self.marks != *picture.marks
            || !Rc::ptr_eq(&self.notes, picture.notes);
        self.marks = picture.marks.clone();
        self.notes = picture.notes.clone();
        for gone in self.chunks.drain(picture.chunks.len().min(self.chunks.len())..) {
            gone.element.remove();
        }
        let parts: Vec<Part> = picture
            .chunks
            .iter()
            .enumerate()
            .map(|(number, chunk)| Part::of(number, chunk, picture))
            .collect();
        let held = self.hold(&parts, marks_differ);
        for (number, part) in parts.into_iter().enumerate() {
            let copy = picture.copy.then_some(&self.copy);
            let row = self.row.unwrap_or_else(|| picture.looks.row());
            match self.chunks.get_mut(number) {
                Some(drawn) if drawn.part == part && !marks_differ => {}
                Some(drawn) => drawn.show(part, picture, copy, row),
                None => {
                    let mut drawn = DrawnChunk {
                        element: nodes::within(&self.lines, nodes::element("div", "")),
                        part: part.clone(),
                        height: 0.0,
                        lines: Vec::new(),
                    };
                    drawn.show(part, picture, copy, row);
                    self.chunks.push(drawn);
                }
            }
        }
        if let Some(held) = held {
            self.scrolled_to = held.keep().or(self.scrolled_to);
        }
    }

    /// Before lines come or go: how high those are that go, so that just that room is left for them, and where what is
    /// seen stands.
    fn hold(&mut self, parts: &[Part], marks_differ: bool) -> Option<Held> {
        let come_or_go =
            self.chunks.iter().zip(parts).any(|(drawn, part)| drawn.lines.is_empty() == part.near);
        if !come_or_go && !marks_differ && parts.len() <= self.chunks.len() {
            return None;
        }
        let surface = self.lines.closest(".surface").ok()??;
        let (mut height, mut count) = (0.0, 0);
        for (drawn, part) in self.chunks.iter_mut().zip(parts) {
            if !drawn.lines.is_empty() && (!part.near || self.row.is_none()) {
                drawn.height = drawn.element.get_bounding_client_rect().height();
                height += drawn.height;
                count += drawn.lines.len();
            }
        }
        if self.row.is_none() && height > 0.0 {
            self.row = Some(height / count as f64);
        }
        let top = surface.get_bounding_client_rect().top();
        let lines = self.chunks.iter().flat_map(|chunk| &chunk.lines);
        let mut seen = lines.map(|line| (&line.element, line.element.get_bounding_client_rect()));
        let (line, frame) = seen.find(|(_, frame)| frame.bottom() > top)?;
        Some(Held { line: line.clone(), top: frame.top() - top, surface })
    }

    /// The first chunk in view and the last, where they really stand.
    pub fn seen(&self, surface: &Element) -> (usize, usize) {
        let frame = surface.get_bounding_client_rect();
        let above = |height: f64| {
            let is_above = |chunk: &DrawnChunk| chunk.element.get_bounding_client_rect().bottom() <= height;
            self.chunks.partition_point(is_above).min(self.chunks.len().saturating_sub(1))
        };
        (above(frame.top()), above(frame.bottom()))
    }

    /// How many lines are in view of a surface of this height, one at least.
    pub fn page(&self, height: i32) -> usize {
        let row = self.row.or(self.looks.map(|looks| looks.row())).unwrap_or(1.0);
        ((f64::from(height) / row) as usize).max(1)
    }

    /// Whether the surface stands where it was put last so that what is seen stays where it is.
    pub fn was_held_at(&self, scrolled_to: i32) -> bool {
        self.scrolled_to == Some(scrolled_to)
    }
}

/// A line in view, and how far below the surface's top it stands.
struct Held {
    line: Element,
    top: f64,
    surface: Element,
}

impl Held {
    /// Scrolls so far that the line stands where it stood. Gives where to, when it had moved.
    fn keep(self) -> Option<i32> {
        if !self.line.is_connected() {
            return None;
        }
        let frame = self.surface.get_bounding_client_rect();
        let moved = self.line.get_bounding_client_rect().top() - frame.top() - self.top;
        if moved.abs() < 0.5 {
            return None;
        }
        self.surface.set_scroll_top(self.surface.scroll_top() + moved.round() as i32);
        Some(self.surface.scroll_top())
    }
}

impl DrawnLines {
    /// Whether the font of the cells draws them; else all are to be drawn again. To be asked after they were laid out.
    pub fn are_drawn(&mut self) -> bool {
        let Some(looks) = self.looks else { return true };
        let lines = self.chunks.iter().flat_map(|chunk| &chunk.lines);
        let drawn = lines
            .flat_map(|line| &line.words)
            .find_map(DrawnWord::in_font)
            .is_none_or(|(word, cells)| cells_font::drew(word, cells, looks.dot));
        if !drawn {
            self.looks = None;
        }
        drawn
    }

    /// Puts the text of the caret's line beside its cells, when nothing was written for a moment.
    pub fn settle(&mut self) {
        let Some(looks) = self.looks else { return };
        for line in self.chunks.iter_mut().flat_map(|chunk| &mut chunk.lines) {
            if let Some(of) = line.line.clone() {
                line.settle(&of, looks);
            }
        }
    }
}

/// What of a picture lies in one chunk.
#[derive(Clone)]
struct Part {
    chunk: Rc<Chunk>,
    /// In or near the view, or at the caret; others only take their room.
    near: bool,
    caret: Option<Place>,
    selection: Option<(Place, Place)>,
    copy: bool,
}

impl PartialEq for Part {
    fn eq(&self, other: &Part) -> bool {
        Rc::ptr_eq(&self.chunk, &other.chunk)
            && (self.near, self.caret, self.selection, self.copy)
                == (other.near, other.caret, other.selection, other.copy)
    }
}

impl Part {
    fn of(number: usize, chunk: &Rc<Chunk>, picture: &Picture) -> Part {
        let lines = chunk.first..chunk.first + chunk.lines.len();
        let caret = Some(picture.caret).filter(|caret| lines.contains(&caret.line));
        let caret_chunk = picture.caret.line / crate::writing::CHUNK;
        Part {
            chunk: chunk.clone(),
            near: number.abs_diff(caret_chunk) <= 1
                || (picture.seen.0..=picture.seen.1).contains(&number)
                || (number == picture.seen.1 + 1 && picture.beyond > 0)
                || (number + 1 == picture.seen.0 && picture.beyond > 1),
            caret,
            selection: picture.selection.filter(|(from, to)| from.line < lines.end && to.line >= lines.start),
            copy: picture.copy && caret.is_some(),
        }
    }
}

/// Some lines in a row.
struct DrawnChunk {
    element: Element,
    part: Part,
    /// How high it was when it was drawn last; nothing when it never was.
    height: f64,
    lines: Vec<DrawnLine>,
}

impl DrawnChunk {
    /// Draws it, or leaves the room for it: as much as it took, or else `row` for a line.
    fn show(&mut self, part: Part, picture: &Picture, copy: Option<&Element>, row: f64) {
        let Chunk { first, lines } = &*part.chunk;
        if !part.near {
            self.element.set_text_content(None);
            self.lines.clear();
            if self.height == 0.0 || lines.len() != self.part.chunk.lines.len() {
                self.height = lines.len() as f64 * row;
            }
            put(&self.element, "style", &format!("height:{}px", cells_line::decimal(self.height)));
        } else {
            if self.lines.is_empty() {
                let _ = self.element.remove_attribute("style");
            }
            for gone in self.lines.drain(lines.len().min(self.lines.len())..) {
                gone.element.remove();
            }
            for (place, line) in lines.iter().enumerate() {
                let number = first + place;
                if self.lines.len() == place {
                    self.lines.push(DrawnLine::new(&self.element));
                }
                let span = part.selection.filter(|(from, to)| (from.line..=to.line).contains(&number));
                let at = At {
                    number,
                    caret: part.caret.filter(|caret| caret.line == number).map(|caret| caret.cell),
                    selection: span.map(|(from, to)| {
                        let start = if from.line == number { from.cell } else { 0 };
                        (start, if to.line == number { to.cell } else { line.cells.len() })
                    }),
                    marks: picture
                        .marks
                        .iter()
                        .filter(|mark| mark.line == number)
                        .map(|mark| mark.mark.clone())
                        .collect(),
                    notes: picture
                        .notes
                        .iter()
                        .filter(|note| note.line == number && note.is_about(&line.cells))
                        .cloned()
                        .collect(),
                };
                self.lines[place].show(line, at, picture.looks, copy);
            }
        }
        self.part = part;
    }
}

/// What is shown in a line beside its cells.
#[derive(Clone, Default, PartialEq)]
struct At {
    number: usize,
    caret: Option<usize>,
    selection: Option<(usize, usize)>,
    marks: Vec<CellMark>,
    notes: Vec<MarginNote>,
}

struct DrawnLine {
    element: Element,
    text: Element,
    within: Element,
    line: Option<Rc<Line>>,
    at: At,
    copied: bool,
    /// Its text is older than its cells.
    late: bool,
    words: Vec<DrawnWord>,
    /// What holds its notes, where it has some.
    beside: Option<Element>,
}

impl DrawnLine {
    fn new(chunk: &Element) -> DrawnLine {
        let element = nodes::within(chunk, nodes::element("div", "line"));
        let text = nodes::within(&element, nodes::element("span", "sr"));
        let within = nodes::within(&element, nodes::element("span", "words"));
        put(&within, "aria-hidden", "true");
        // No number yet: the first one is written.
        let at = At { number: usize::MAX, ..At::default() };
        DrawnLine {
            element,
            text,
            within,
            line: None,
            at,
            copied: false,
            late: true,
            words: Vec::new(),
            beside: None,
        }
    }

    fn show(&mut self, line: &Rc<Line>, at: At, looks: Looks, copy: Option<&Element>) {
        let copy = copy.filter(|_| at.caret.is_some());
        let same = self.line.as_ref().is_some_and(|old| Rc::ptr_eq(old, line));
        if same && self.at == at && self.copied == copy.is_some() {
            return;
        }
        if self.at.number != at.number {
            put(&self.element, "data-line", &at.number.to_string());
        }
        if self.at.notes != at.notes {
            self.note(&at.notes);
        }
        if (self.at.caret.is_some(), self.copied) != (at.caret.is_some(), copy.is_some()) {
            for (class, on) in [("here", at.caret.is_some()), ("copied", copy.is_some())] {
                let _ = self.element.class_list().toggle_with_force(class, on);
            }
            // When the caret leaves, the print goes with it to its new line.
            if let Some(copy) = copy {
                let _ = self.element.insert_before(copy, self.element.first_child().as_ref());
            }
            self.copied = copy.is_some();
        }
        self.late |= !same;
        if at.caret.is_none() {
            self.settle(line, looks);
        }
        let empty = Word { from: 0, to: 0, says: String::new(), waiting: false, unknown: false };
        let words = if line.words.is_empty() { std::slice::from_ref(&empty) } else { &line.words[..] };
        for gone in self.words.drain(words.len().min(self.words.len())..) {
            gone.element.remove();
        }
        let last = words.len() - 1;
        for (place, word) in words.iter().enumerate() {
            if self.words.len() == place {
                self.words.push(DrawnWord::new(&self.within));
            }
            let mine = |at: usize| at >= word.from && at < word.to.max(word.from + 1);
            let here =
                at.caret.filter(|at| (word.from..word.to).contains(at) || (place == last && *at >= word.to));
            let chosen = at.selection.map(|(from, to)| (from.max(word.from), to.min(word.to)));
            let marks = at.marks.iter().filter(|mark| mine(mark.from)).map(|mark| CellMark {
                from: mark.from - word.from,
                to: mark.to.min(word.to).max(mark.from) - word.from,
                number: mark.number,
            });
            self.words[place].show(
                word,
                &line.cells[word.from..word.to],
                here.map(|at| at - word.from),
                chosen.filter(|(from, to)| from < to).map(|(from, to)| (from - word.from, to - word.from)),
                marks.collect(),
                looks,
            );
        }
        self.line = Some(line.clone());
        self.at = at;
    }
}

impl DrawnLine {
    /// Writes its notes beside it, or under it where there is no room.
    fn note(&mut self, notes: &[MarginNote]) {
        let _ = self.element.class_list().toggle_with_force("noted", !notes.is_empty());
        if let Some(old) = self.beside.take() {
            old.remove();
        }
        if notes.is_empty() {
            return;
        }
        let beside = nodes::within(&self.element, nodes::element("div", "beside-line"));
        for note in notes {
            let one = nodes::within(&beside, nodes::element("p", ""));
            for (class, words) in note.parts() {
                nodes::within(&one, nodes::element("span", class)).set_text_content(Some(&words));
            }
        }
        self.beside = Some(beside);
    }

    /// Puts the line's cells as text beside them. The caret's line stands in the text box anyway, so there it has time: a
    /// browser takes long to find the glyphs of braille.
    fn settle(&mut self, line: &Line, looks: Looks) {
        if std::mem::take(&mut self.late) {
            self.text.set_text_content(Some(&cells_line::as_text(&line.cells, looks.numbers)));
        }
    }
}
