//! A word of the writing surface: its cells or their dot numbers, and what it says under them.

use web_sys::Element;

use crate::cell::{self, Cell};
use crate::page::browser::nodes::{self, Said, put};
use crate::page::surface::looks::{Looks, across};
use crate::page::widgets::cells_font;
use crate::page::widgets::cells_line::{self, CELL_WIDTH, CellMark, LINE_HEIGHT, decimal};
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
    /// What the caret's place is counted in.
    around: Element,
    cells: Element,
    dots: Dots,
    caret: Option<Element>,
    says: Option<(Element, Said)>,
}

/// The dots of a word.
enum Dots {
    /// A path.
    Shapes(Element),
    /// Text in the font of the cells.
    Text(Said),
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
        let dots_for_font =
            old.cells.is_empty() && matches!(&self.parts, Some(Parts { dots: Dots::Shapes(_), .. }));
        // What is chosen or marked seldom changes: then all of the word is made anew.
        if self.parts.is_none() || looks.frames || dots_for_font || !plain(&old) || !plain(&self.drawn) {
            self.make(word, looks);
        } else {
            self.change(word, &old, looks);
        }
        self.word = Some(word.clone());
    }

    fn make(&mut self, word: &Word, looks: Looks) {
        self.element.set_text_content(None);
        let drawn = &self.drawn;
        let in_font = !looks.numbers
            && !looks.frames
            && !looks.slate
            && drawn.selection.is_none()
            && drawn.marks.is_empty()
            && (cells_font::has_begun() || !drawn.cells.is_empty())
            && cells_font::may_draw();
        self.element.set_class_name(if in_font { "word in-font" } else { "word" });
        self.parts = if looks.numbers {
            make_numbers(&self.element, word.from, drawn);
            None
        } else if in_font {
            Some(make_text(&self.element, word.from, drawn))
        } else {
            Some(make_dots(&self.element, word.from, drawn, looks))
        };
        if looks.reads {
            if in_font {
                nodes::within(&self.element, nodes::element("br", ""));
            }
            let says = nodes::within(&self.element, nodes::element("span", class_of(word)));
            let said = Said::new(&says, words_of(word, looks.numbers));
            if let Some(parts) = &mut self.parts {
                parts.says = Some((says, said));
            }
        }
    }

    /// Changes what differs in a word of dots.
    fn change(&mut self, word: &Word, old: &Drawn, looks: Looks) {
        let (Some(parts), Some(before)) = (&mut self.parts, &self.word) else { return };
        let Drawn { cells, caret, .. } = &self.drawn;
        if old.cells != *cells {
            match &mut parts.dots {
                Dots::Text(text) => text.say(cell::to_unicode(cells)),
                Dots::Shapes(path) => {
                    put(path, "d", &cells_line::dots_path(cells, false));
                    if old.cells.len() != cells.len() {
                        put(&parts.cells, "style", &width(cells.len(), looks));
                        put(&parts.cells, "data-cells", &cells.len().to_string());
                    }
                }
            }
        }
        if before.from != word.from {
            put(&parts.cells, "data-at", &word.from.to_string());
        }
        if old.caret != *caret && !(old.at_end() && self.drawn.at_end()) {
            parts.put_caret(&self.drawn);
        }
        if let Some((element, said)) = &mut parts.says {
            if (&before.says, before.waiting) != (&word.says, word.waiting) {
                said.say(words_of(word, looks.numbers));
            }
            if before.unknown != word.unknown {
                element.set_class_name(class_of(word));
            }
        }
    }

    /// Its cells as they are drawn with the font of the cells, and how many there are.
    pub fn in_font(&self) -> Option<(&Element, usize)> {
        let parts = self.parts.as_ref().filter(|parts| matches!(parts.dots, Dots::Text(_)))?;
        Some((&parts.cells, self.drawn.cells.len())).filter(|(_, cells)| *cells > 0)
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

impl Drawn {
    /// Whether the caret stands behind the last cell.
    fn at_end(&self) -> bool {
        self.caret.is_some_and(|at| at > 0 && at >= self.cells.len())
    }
}

impl Parts {
    /// Puts the caret where it stands. Behind the last cell it is the edge of the cells, and moves with it by itself.
    fn put_caret(&mut self, drawn: &Drawn) {
        let edge = drawn.at_end() && matches!(self.dots, Dots::Text(_));
        if matches!(self.dots, Dots::Text(_)) {
            self.cells.set_class_name(if edge { "cells-text caret" } else { "cells-text" });
        }
        match drawn.caret.filter(|_| !edge) {
            Some(at) => {
                let left = if drawn.at_end() { "100%".to_owned() } else { across(at) };
                let caret = self
                    .caret
                    .get_or_insert_with(|| nodes::within(&self.around, nodes::element("span", "caret")));
                put(caret, "style", &format!("left:{left}"));
            }
            None => {
                if let Some(gone) = self.caret.take() {
                    gone.remove();
                }
            }
        }
    }
}

/// The cells as text in their font. All of the word is one piece of text in two lines then: a browser lays that out sooner than
/// lines that are pieces of their own.
fn make_text(word: &Element, from: usize, drawn: &Drawn) -> Parts {
    let cells = nodes::within(word, nodes::element("span", "cells-text"));
    put(&cells, "data-at", &from.to_string());
    let dots = Dots::Text(Said::new(&cells, cell::to_unicode(&drawn.cells)));
    let mut parts = Parts { around: word.clone(), cells, dots, caret: None, says: None };
    parts.put_caret(drawn);
    parts
}

fn make_dots(within: &Element, from: usize, drawn: &Drawn, looks: Looks) -> Parts {
    let Drawn { cells, selection, marks, .. } = drawn;
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
    }
    for (at, numbers) in cells_line::mark_numbers(marks) {
        let number = nodes::within(&svg, nodes::svg("text", "mark-number"));
        put(&number, "x", &decimal(at));
        put(&number, "y", "0.85");
        number.set_text_content(Some(&numbers));
    }
    let mut parts =
        Parts { around: all.clone(), cells: all, dots: Dots::Shapes(dots), caret: None, says: None };
    parts.put_caret(drawn);
    parts
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
        let numbers = cells_line::mark_numbers_at(marks, place);
        if !numbers.is_empty() {
            let number = nodes::within(&all, nodes::element("sup", "mark-number"));
            number.set_text_content(Some(&numbers));
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
