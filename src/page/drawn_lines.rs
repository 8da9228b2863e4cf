//! The lines of the writing surface, drawn: cells or their dot numbers, the caret, the selection, findings, and what each
//! word says under its own cells.

use std::rc::Rc;

use wasm_bindgen::JsCast;
use yew::prelude::*;

use super::braille_input::LineMark;
use super::cells_line::{self, CELL_WIDTH};
use crate::cell::Cell;
use crate::order::within;
use crate::writing::{Chunk, Line, Place, Word};

/// The place between cells under a point of the window.
pub fn place_at(x: f64, y: f64) -> Option<Place> {
    // The text box lies over the lines, so the line is not the first thing at the point.
    let found = gloo::utils::document().elements_from_point(x as f32, y as f32);
    let target = found
        .iter()
        .filter_map(|one| one.dyn_into::<web_sys::Element>().ok())
        .find(|one| one.closest("[data-line]").ok().flatten().is_some())?;
    let line: web_sys::Element = target.closest("[data-line]").ok()??;
    let line = line.get_attribute("data-line")?.parse().ok()?;
    let Some(cells) = target.closest("[data-at]").ok().flatten() else {
        return Some(Place { line, cell: usize::MAX });
    };
    let at: usize = cells.get_attribute("data-at")?.parse().ok()?;
    let count: u32 = cells.get_attribute("data-cells").and_then(|count| count.parse().ok()).unwrap_or(1);
    let frame = cells.get_bounding_client_rect();
    let share = within((x - frame.left()) / frame.width().max(1.0), 0.0, 1.0);
    // On a slate the line runs from right to left.
    let back = target.closest(".slate").ok().flatten().is_some();
    let share = if back { 1.0 - share } else { share };
    Some(Place { line, cell: at + (share * f64::from(count)).round() as usize })
}

/// Compares by identity: a chunk that did not change is the same `Rc`.
#[derive(Clone)]
pub struct ByPtr<T>(pub Rc<T>);

impl<T> PartialEq for ByPtr<T> {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.0, &other.0)
    }
}

/// Some lines to draw.
#[derive(Properties, PartialEq)]
pub struct ChunkProps {
    /// The lines.
    pub chunk: ByPtr<Chunk>,
    /// Whether they are in or near the view; others only take their room.
    pub shown: bool,
    /// The height of a row that is not drawn, in CSS pixels.
    pub row: usize,
    /// Where the caret is, if in these lines.
    pub caret: Option<Place>,
    /// Print above the caret's line.
    #[prop_or_default]
    pub copy: Option<Html>,
    /// What is selected.
    pub selection: Option<(Place, Place)>,
    /// Dot numbers instead of dots.
    pub numbers: bool,
    /// Faint frames for absent dots.
    pub frames: bool,
    /// What each word says stands under it.
    pub reads: bool,
    /// Findings in these lines.
    pub marks: Vec<LineMark>,
}

/// Lines with what they say under their words.
#[component]
pub fn ChunkView(props: &ChunkProps) -> Html {
    let Chunk { first, lines } = &*props.chunk.0;
    if !props.shown {
        return html! { <div style={format!("height:{}px", lines.len() * props.row)}></div> };
    }
    html! {
        <div>
            { for lines.iter().enumerate().map(|(place, line)| {
                let number = first + place;
                let caret = props.caret.filter(|caret| caret.line == number).map(|caret| caret.cell);
                let selection = props.selection.filter(|(from, to)| (from.line..=to.line).contains(&number)).map(|(from, to)| {
                    let start = if from.line == number { from.cell } else { 0 };
                    let stop = if to.line == number { to.cell } else { line.cells.len() };
                    (start, stop)
                });
                html! {
                    <LineView key={number} line={ByPtr(line.clone())} {number} {caret} {selection} copy={caret.and(props.copy.clone())}
                        numbers={props.numbers} frames={props.frames} reads={props.reads}
                        marks={props.marks.iter().filter(|mark| mark.line == number).map(|mark| mark.mark.clone()).collect::<Vec<_>>()} />
                }
            }) }
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct LineProps {
    line: ByPtr<Line>,
    number: usize,
    caret: Option<usize>,
    copy: Option<Html>,
    selection: Option<(usize, usize)>,
    numbers: bool,
    frames: bool,
    reads: bool,
    marks: Vec<cells_line::CellMark>,
}

#[component]
fn LineView(props: &LineProps) -> Html {
    let line = &props.line.0;
    let empty = Word { from: 0, to: 0, says: String::new(), waiting: false, unknown: false };
    let words = if line.words.is_empty() { std::slice::from_ref(&empty) } else { &line.words[..] };
    let last = words.len() - 1;
    html! {
        <div class={classes!("line", props.caret.map(|_| "here"))} data-line={props.number.to_string()}>
            if let Some(copy) = &props.copy { <span class="copy-line" aria-hidden="true">{ copy.clone() }</span> }
            <span class="sr">{ cells_line::as_text(&line.cells, props.numbers) }</span>
            <span class="words" aria-hidden="true">
                { for words.iter().enumerate().map(|(place, word)| {
                    let caret = props.caret.filter(|at| (word.from..word.to).contains(at) || (place == last && *at >= word.to));
                    let selection = props.selection
                        .map(|(from, to)| (from.max(word.from), to.min(word.to)))
                        .filter(|(from, to)| from < to)
                        .map(|(from, to)| (from - word.from, to - word.from));
                    let marks: Vec<_> = props.marks.iter()
                        .filter(|mark| mark.from >= word.from && mark.from < word.to.max(word.from + 1))
                        .map(|mark| cells_line::CellMark { from: mark.from - word.from, to: mark.to.min(word.to).max(mark.from) - word.from, number: mark.number })
                        .collect();
                    html! {
                        <WordView key={place} word={word.clone()} cells={Rc::<[Cell]>::from(&line.cells[word.from..word.to])}
                            caret={caret.map(|at| at - word.from)} {selection} {marks}
                            numbers={props.numbers} frames={props.frames} reads={props.reads} />
                    }
                }) }
            </span>
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct WordProps {
    word: Word,
    cells: Rc<[Cell]>,
    caret: Option<usize>,
    selection: Option<(usize, usize)>,
    marks: Vec<cells_line::CellMark>,
    numbers: bool,
    frames: bool,
    reads: bool,
}

#[component]
fn WordView(props: &WordProps) -> Html {
    let WordProps { word, cells, caret, selection, marks, numbers, frames, reads } = props;
    let drawn = if *numbers {
        html! {
            <span class="numbers">
                { for cells.iter().enumerate().map(|(place, cell)| {
                    let chosen = selection.is_some_and(|(from, to)| (from..to).contains(&place));
                    let mark = marks.iter().find(|mark| (mark.from..mark.to.max(mark.from + 1)).contains(&place));
                    html! {
                        <>
                            if *caret == Some(place) { <span class="caret"></span> }
                            if let Some(mark) = mark.filter(|mark| mark.from == place) { <sup class="mark-number">{ mark.number }</sup> }
                            <span class={classes!("number", chosen.then_some("chosen"), mark.map(|_| "marked"))}
                                data-at={(word.from + place).to_string()}>{ cell.dot_numbers() }</span>
                        </>
                    }
                }) }
                if caret.is_some_and(|at| at >= cells.len()) { <span class="caret"></span> }
            </span>
        }
    } else {
        html! {
            <span class="drawn" data-at={word.from.to_string()} data-cells={cells.len().to_string()}>
                if let Some((from, to)) = selection {
                    <span class="chosen" style={format!("left:calc(var(--dot)*{});width:calc(var(--dot)*{})",
                        cells_line::decimal(*from as f64 * CELL_WIDTH), cells_line::decimal((to - from) as f64 * CELL_WIDTH))}></span>
                }
                { cells_line::draw_dots(cells, None, cells_line::Look::Ink, *frames, marks) }
                if let Some(at) = caret {
                    <span class="caret" style={format!("left:calc(var(--dot)*{})", cells_line::decimal(*at as f64 * CELL_WIDTH))}></span>
                }
            </span>
        }
    };
    html! {
        <span class="word">
            { drawn }
            if *reads {
                <span class={classes!("says", word.unknown.then_some("unknown"))}>
                    if *numbers { { cells_line::without_glyphs(&word.says) } } else { { &word.says } }
                    if word.waiting { { "…" } }
                    { "\u{a0}" }
                </span>
            }
        </span>
    }
}
