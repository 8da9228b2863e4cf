//! A word of the writing surface: its cells or their dot numbers, and what it says under them.

use web_sys::Element;

use super::cells_line::{self, CELL_WIDTH, CellMark, LINE_HEIGHT, decimal};
use super::drawn_lines::{Looks, across};
use super::nodes::{self, put};
use crate::cell::Cell;
use crate::writing::Word;

/// What is drawn of a word beside its reading; places are within the word.
#[derive(Default, PartialEq)]
struct Drawn {
    cells: Vec<Cell>,
    caret: Option<usize>,
    selection: Option<(usize, usize)>,
    marks: Vec<CellMark>,
}

/// A word as it stands on the page.
pub struct DrawnWord {
    /// Its element.
    pub element: Element,
    word: Option<Word>,
    drawn: Drawn,
    parts: Option<Parts>,
}

/// The elements of a word that is drawn in dots.
struct Parts {
    cells: Element,
    dots: Element,
    caret: Option<Element>,
    says: Option<Element>,
}

impl DrawnWord {
    /// A new one, the last within a line.
    pub fn new(line: &Element) -> DrawnWord {
        let element = nodes::within(line, nodes::element("span", "word"));
        DrawnWord { element, word: None, drawn: Drawn::default(), parts: None }
    }

    /// Brings it to this word with these cells, the caret before one of them, some of them chosen, some marked.
    pub fn show(
        &mut self,
        word: &Word,
        cells: &[Cell],
        caret: Option<usize>,
        selection: Option<(usize, usize)>,
        marks: Vec<CellMark>,
        looks: Looks,
    ) {
        let old = std::mem::take(&mut self.drawn);
        let same =
            old.cells == cells && (old.caret, old.selection) == (caret, selection) && old.marks == marks;
        if same && self.word.as_ref() == Some(word) {
            self.drawn = old;
            return;
        }
        self.drawn = Drawn { cells: cells.to_vec(), caret, selection, marks };
        let plain = |drawn: &Drawn| drawn.selection.is_none() && drawn.marks.is_empty();
        // What is chosen or marked seldom changes: then all of the word is made anew.
        if self.parts.is_none() || looks.frames || !plain(&old) || !plain(&self.drawn) {
            self.make(word, looks);
        } else {
            self.change(word, &old, looks);
        }
        self.word = Some(word.clone());
    }

    fn make(&mut self, word: &Word, looks: Looks) {
        self.element.set_text_content(None);
        let drawn = &self.drawn;
        self.parts = if looks.numbers {
            make_numbers(&self.element, word.from, drawn);
            None
        } else {
            Some(make_dots(&self.element, word.from, drawn, looks))
        };
        if looks.reads {
            let says = nodes::within(&self.element, nodes::element("span", class_of(word)));
            says.set_text_content(Some(&words_of(word, looks.numbers)));
            if let Some(parts) = &mut self.parts {
                parts.says = Some(says);
            }
        }
    }

    /// Changes what differs in a word of dots.
    fn change(&mut self, word: &Word, old: &Drawn, looks: Looks) {
        let (Some(parts), Some(before)) = (&mut self.parts, &self.word) else { return };
        let Drawn { cells, caret, .. } = &self.drawn;
        if old.cells != *cells {
            put(&parts.dots, "d", &cells_line::dots_path(cells, false));
            if old.cells.len() != cells.len() {
                put(&parts.cells, "style", &width(cells.len(), looks));
                put(&parts.cells, "data-cells", &cells.len().to_string());
            }
        }
        if before.from != word.from {
            put(&parts.cells, "data-at", &word.from.to_string());
        }
        let at_end = |drawn: &Drawn| drawn.caret.is_some_and(|at| at > 0 && at >= drawn.cells.len());
        if old.caret != *caret && !(parts.caret.is_some() && at_end(old) && at_end(&self.drawn)) {
            match (caret, &parts.caret) {
                (Some(at), Some(there)) => put_caret(there, *at, cells.len()),
                (Some(at), None) => parts.caret = Some(make_caret(&parts.cells, *at, cells.len())),
                (None, _) => {
                    if let Some(gone) = parts.caret.take() {
                        gone.remove();
                    }
                }
            }
        }
        if let Some(says) = &parts.says {
            if (&before.says, before.waiting) != (&word.says, word.waiting) {
                nodes::say(says, &words_of(before, looks.numbers), &words_of(word, looks.numbers));
            }
            if before.unknown != word.unknown {
                says.set_class_name(class_of(word));
            }
        }
    }
}

fn class_of(word: &Word) -> &'static str {
    if word.unknown { "says unknown" } else { "says" }
}

/// What a word says, as it stands under its cells.
fn words_of(word: &Word, numbers: bool) -> String {
    let says = if numbers { cells_line::without_glyphs(&word.says) } else { word.says.clone() };
    format!("{says}{}\u{a0}", if word.waiting { "…" } else { "" })
}

/// As a plain length: with a variable in it, a browser takes longer to find the style of what changes with every key.
fn width(cells: usize, looks: Looks) -> String {
    format!("width:{}px", decimal(cells.max(1) as f64 * CELL_WIDTH * looks.dot))
}

/// Puts the caret before a cell; behind the last it stands where the word ends, and moves with that end by itself.
fn put_caret(caret: &Element, at: usize, of: usize) {
    let left = if at > 0 && at >= of { "100%".to_owned() } else { across(at) };
    put(caret, "style", &format!("left:{left}"));
}

fn make_caret(cells: &Element, at: usize, of: usize) -> Element {
    let caret = nodes::within(cells, nodes::element("span", "caret"));
    put_caret(&caret, at, of);
    caret
}

fn make_dots(within: &Element, from: usize, drawn: &Drawn, looks: Looks) -> Parts {
    let Drawn { cells, caret, selection, marks } = drawn;
    let all = nodes::within(within, nodes::element("span", "drawn"));
    put(&all, "data-at", &from.to_string());
    put(&all, "data-cells", &cells.len().to_string());
    put(&all, "style", &width(cells.len(), looks));
    if let Some((from, to)) = *selection {
        let chosen = nodes::within(&all, nodes::element("span", "chosen"));
        put(&chosen, "style", &format!("left:{};width:{}", across(from), across(to - from)));
    }
    // As wide as one cell; the dots of the others lie beyond it.
    let svg = nodes::within(&all, nodes::svg("svg", "dots"));
    put(&svg, "viewBox", &format!("0 0 {} {}", decimal(CELL_WIDTH), decimal(LINE_HEIGHT)));
    let path = |class, d: &str| {
        let path = nodes::within(&svg, nodes::svg("path", class));
        put(&path, "d", d);
        path
    };
    if looks.frames {
        path("absent", &cells_line::dots_path(cells, true));
    }
    let dots = path("dot", &cells_line::dots_path(cells, false));
    for mark in marks {
        path("mark", &cells_line::mark_path(mark));
        let number = nodes::within(&svg, nodes::svg("text", "mark-number"));
        put(&number, "x", &decimal(cells_line::mark_number_at(mark)));
        put(&number, "y", "0.85");
        number.set_text_content(Some(&mark.number.to_string()));
    }
    let caret = caret.map(|at| make_caret(&all, at, cells.len()));
    Parts { cells: all, dots, caret, says: None }
}

fn make_numbers(within: &Element, from: usize, drawn: &Drawn) {
    let Drawn { cells, caret, selection, marks } = drawn;
    let all = nodes::within(within, nodes::element("span", "numbers"));
    let caret_here = || nodes::within(&all, nodes::element("span", "caret"));
    for (place, cell) in cells.iter().enumerate() {
        if *caret == Some(place) {
            caret_here();
        }
        let mark = marks.iter().find(|mark| (mark.from..mark.to.max(mark.from + 1)).contains(&place));
        if let Some(mark) = mark.filter(|mark| mark.from == place) {
            let number = nodes::within(&all, nodes::element("sup", "mark-number"));
            number.set_text_content(Some(&mark.number.to_string()));
        }
        let chosen = selection.is_some_and(|(from, to)| (from..to).contains(&place));
        let number = nodes::within(
            &all,
            nodes::element(
                "span",
                match (chosen, mark.is_some()) {
                    (false, false) => "number",
                    (true, false) => "number chosen",
                    (false, true) => "number marked",
                    (true, true) => "number chosen marked",
                },
            ),
        );
        put(&number, "data-at", &(from + place).to_string());
        number.set_text_content(Some(&cell.dot_numbers()));
    }
    if caret.is_some_and(|at| at >= cells.len()) {
        caret_here();
    }
}
