//! A sheet of cells with a cursor: `<Sheet lines=.. at=.. on_move=.. />`. For proofreading and for the reading desk.

use std::rc::Rc;

use wasm_bindgen::JsCast;
use web_sys::{KeyboardEvent, PointerEvent};
use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::proofread::Look;
use crate::page::learner::settings::use_settings;
use crate::page::widgets::cells_line::{self, CELL_WIDTH, CellMark, LineMark};
use crate::page::widgets::sheet_text::{SheetLines, SheetText, focus_text};

/// What stands on the sheet, and how.
#[derive(Properties, PartialEq)]
pub struct SheetProps {
    /// Its accessible name.
    pub label: AttrValue,
    /// Its lines.
    pub lines: Rc<Vec<Rc<[Cell]>>>,
    /// How it looks; dot numbers only where the learner has set so.
    #[prop_or_default]
    pub look: Look,
    /// Print that stands above a line.
    #[prop_or_default]
    pub above: Rc<Vec<Option<AttrValue>>>,
    /// Cells that are marked.
    #[prop_or_default]
    pub marks: Rc<Vec<LineMark>>,
    /// Line and cell of the cursor, from 0.
    pub at: (usize, usize),
    /// Called with the cursor's new place.
    pub on_move: Callback<(usize, usize)>,
    /// Called when Enter or the space bar is pressed at the cursor; with none, those keys do nothing.
    #[prop_or_default]
    pub on_act: Option<Callback<()>>,
    /// What the cell under the cursor means, where that is not what is being learned here.
    #[prop_or_default]
    pub meaning: Option<AttrValue>,
}

/// The name of a cell at a place, for the ear: "line 3, cell 14: dots 1 2 4".
pub fn said(lines: &[Rc<[Cell]>], at: (usize, usize)) -> String {
    let what = match lines.get(at.0).and_then(|line| line.get(at.1)) {
        None => "after the line’s end".to_owned(),
        Some(cell) if cell.is_blank() => "blank".to_owned(),
        Some(cell) if cell.dots().count() == 1 => format!("dot {}", cell.dot_numbers()),
        Some(cell) => format!("dots {}", cell.dot_numbers().replace('-', " ")),
    };
    format!("line {}, cell {}: {what}", at.0 + 1, at.1 + 1)
}

/// A sheet with a cell cursor.
#[component]
pub fn Sheet(props: &SheetProps) -> Html {
    let settings = use_settings();
    let look = if settings.dot_numbers_only { Look::Numbers } else { props.look };
    let lines = &props.lines;
    let (line, cell) = props.at;
    let onkeydown = {
        let (lines, on_move, on_act) = (lines.clone(), props.on_move.clone(), props.on_act.clone());
        Callback::from(move |event: KeyboardEvent| {
            if event.ctrl_key() || event.alt_key() || event.meta_key() {
                return;
            }
            let width = |line: usize| lines.get(line).map_or(0, |line| line.len().saturating_sub(1));
            let last = lines.len().saturating_sub(1);
            let to = match event.key().as_str() {
                "ArrowLeft" if cell > 0 => (line, cell - 1),
                "ArrowLeft" if line > 0 => (line - 1, width(line - 1)),
                "ArrowRight" if cell < width(line) => (line, cell + 1),
                "ArrowRight" if line < last => (line + 1, 0),
                "ArrowUp" if line > 0 => (line - 1, cell.min(width(line - 1))),
                "ArrowDown" if line < last => (line + 1, cell.min(width(line + 1))),
                "Home" => (line, 0),
                "End" => (line, width(line)),
                "PageUp" => (0, 0),
                "PageDown" => (last, width(last)),
                "Enter" | " " => {
                    event.prevent_default();
                    if let Some(on_act) = &on_act {
                        on_act.emit(());
                    }
                    return;
                }
                _ => return,
            };
            event.prevent_default();
            on_move.emit(to);
        })
    };
    let onpointerdown = {
        let on_move = props.on_move.clone();
        Callback::from(move |event: PointerEvent| {
            if let Some(at) = place_of(&event) {
                on_move.emit(at);
            }
        })
    };
    let numbers = look == Look::Numbers;
    let text = use_memo((lines.clone(), numbers), |(lines, numbers)| {
        SheetLines::of(lines.iter().map(|line| &line[..]), *numbers)
    });
    // Where print stands between the lines, each is told in its place too.
    let among_print = props.above.iter().any(Option::is_some);
    let mark = props.marks.iter().find(|mark| {
        let cells = mark.mark.from..mark.mark.to.max(mark.mark.from + 1);
        mark.line == line && cells.contains(&cell)
    });
    let mut place = format!("line {}, cell {}", line + 1, cell + 1);
    if let Some(mark) = mark {
        place = format!("mark {}, {place}", mark.mark.number);
    }
    let help = if props.on_act.is_some() {
        "Arrow keys move from cell to cell. Enter marks the cell under the cursor, or takes its mark off. Tab moves on, out of the sheet. What is said of a cell is set in the room Write, under Settings for writing."
    } else {
        "Arrow keys move from cell to cell. Tab moves on, out of the sheet. What is said of a cell is set in the room Write, under Settings for writing."
    };
    html! {
        <div class="sheet-frame">
        <div class={classes!("read-sheet", "cursor-sheet")} style={format!("--dot:max(5px, min({}px, 100cqw / 113))", cells_line::decimal(settings.dot))}
            {onpointerdown} onclick={|event: MouseEvent| focus_text(&event)}>
        <SheetText label={props.label.clone()} {help} lines={text} at={props.at} cell={lines.get(line).and_then(|line| line.get(cell)).copied()}
            meaning={props.meaning.clone()} {place} on_move={props.on_move.clone()} on_key={onkeydown} />
            { for lines.iter().enumerate().map(|(number, cells)| {
                let behind: Option<Rc<[Cell]>> = (look == Look::Interpoint).then(|| {
                    let other: &[Cell] = lines.get((number + 1) % lines.len().max(1)).map(|line| &line[..]).unwrap_or_default();
                    let mut back: Vec<Cell> = other.iter().rev().map(|cell| cell.mirror()).collect();
                    back.resize(cells.len(), Cell::BLANK);
                    back.into()
                });
                html! {
                    <SheetLine key={number} {number} {among_print} cells={cells.clone()} {behind} {look} frames={settings.frames}
                        above={props.above.get(number).cloned().flatten()}
                        cursor={(number == line).then_some(cell)}
                        marks={props.marks.iter().filter(|mark| mark.line == number).map(|mark| mark.mark.clone()).collect::<Vec<_>>()} />
                }
            }) }
        </div>
        </div>
    }
}

/// Where the cursor of a sheet is, and its way elsewhere.
#[derive(Properties, PartialEq)]
pub struct StepsProps {
    /// The sheet's lines.
    pub lines: Rc<Vec<Rc<[Cell]>>>,
    /// Line and cell of the cursor, from 0.
    pub at: (usize, usize),
    /// Called with the cursor's new place.
    pub on_move: Callback<(usize, usize)>,
}

/// Steps of the cursor for a finger, which is wider than a cell: a cell on or back, a line up or down.
#[component]
pub fn Steps(props: &StepsProps) -> Html {
    let (line, cell) = props.at;
    let width = |line: usize| props.lines.get(line).map_or(0, |line| line.len().saturating_sub(1));
    let last = props.lines.len().saturating_sub(1);
    let step = |name: &'static str, sign: &'static str, to: (usize, usize)| {
        let onclick = props.on_move.reform(move |_: MouseEvent| to);
        html! { <button type="button" aria-label={name} {onclick}>{ sign }</button> }
    };
    let (above, below) = (line.saturating_sub(1), (line + 1).min(last));
    html! {
        <div class="steps" role="group" aria-label="Steps">
            { step("Cell before", "←", (line, cell.saturating_sub(1))) }
            { step("Next cell", "→", (line, (cell + 1).min(width(line)))) }
            { step("Line above", "↑", (above, cell.min(width(above)))) }
            { step("Line below", "↓", (below, cell.min(width(below)))) }
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct LineProps {
    number: usize,
    among_print: bool,
    cells: Rc<[Cell]>,
    behind: Option<Rc<[Cell]>>,
    look: Look,
    frames: bool,
    above: Option<AttrValue>,
    cursor: Option<usize>,
    marks: Vec<CellMark>,
}

#[component]
fn SheetLine(props: &LineProps) -> Html {
    let LineProps { number, among_print, cells, behind, look, frames, above, cursor, marks } = props;
    let drawn = if *look == Look::Numbers {
        html! {
            <span class="numbers">
                { for cells.iter().enumerate().map(|(place, cell)| {
                    let mark = marks.iter().find(|mark| (mark.from..mark.to.max(mark.from + 1)).contains(&place));
                    let numbers = cells_line::mark_numbers_at(marks, place);
                    html! {
                        <>
                            if !numbers.is_empty() { <sup class="mark-number">{ numbers }</sup> }
                            <span class={classes!("number", (*cursor == Some(place)).then_some("chosen"), mark.map(|_| "marked"))}
                                data-at={place.to_string()}>{ cell.dot_numbers() }</span>
                        </>
                    }
                }) }
                if cells.is_empty() { { "\u{a0}" } }
            </span>
        }
    } else {
        let raised = matches!(look, Look::Raised | Look::Interpoint);
        let kind = if raised { cells_line::Look::Raised } else { cells_line::Look::Ink };
        html! {
            <span class="drawn" data-cells={cells.len().max(1).to_string()}>
                if let Some(at) = cursor {
                    <span class="chosen" style={format!("left:calc(var(--dot)*{:.2});width:calc(var(--dot)*{CELL_WIDTH})", *at as f64 * CELL_WIDTH)}></span>
                }
                { cells_line::draw_dots(cells, behind.as_deref(), kind, *frames, marks) }
            </span>
        }
    };
    html! {
        <>
            if let Some(print) = above { <p class="print">{ print }</p> }
            <div class={classes!("sheet-line", cursor.map(|_| "now"))} data-line={number.to_string()}>
                if *among_print { <span class="sr">{ cells_line::as_text(cells, *look == Look::Numbers) }</span> }
                <span aria-hidden="true">{ drawn }</span>
            </div>
        </>
    }
}

/// The cell that a pointer points at.
fn place_of(event: &PointerEvent) -> Option<(usize, usize)> {
    let target: web_sys::Element = event.target()?.dyn_into().ok()?;
    let line = target.closest("[data-line]").ok()??;
    let number = line.get_attribute("data-line")?.parse().ok()?;
    if let Ok(Some(cell)) = target.closest("[data-at]") {
        return Some((number, cell.get_attribute("data-at")?.parse().ok()?));
    }
    let drawn = line.query_selector("[data-cells]").ok()??;
    let cells: f64 = drawn.get_attribute("data-cells")?.parse().ok()?;
    let dots = drawn.query_selector("svg").ok()??.get_bounding_client_rect();
    let share = (f64::from(event.client_x()) - dots.left()) / dots.width().max(1.0);
    Some((number, (share * cells).floor().clamp(0.0, cells - 1.0) as usize))
}
