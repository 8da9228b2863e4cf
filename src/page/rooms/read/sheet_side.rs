//! The sheet of a page, the print beside it, and what turns the page.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::proofread::Look;
use crate::page::learner::journal::LearnerHandle;
use crate::page::learner::settings::Settings;
use crate::page::rooms::read::print_side::print_side;
use crate::page::rooms::read::reader_view::{Facing, View};
use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::paper::Paper;
use crate::page::widgets::sheet_text::{SheetLines, SheetText, focus_text};
use crate::practice::book::LineKind;
use crate::practice::figures;
use crate::practice::reader::{Action, State, print_of};
use crate::practice::reading::{Page, WIDTH, older_signs_in};

/// What stands on the sheet.
pub struct OnSheet<'a> {
    /// Where the reader is.
    pub state: &'a State,
    /// The page.
    pub page: &'a Page,
    /// How many pages there are.
    pub pages: usize,
    /// The cells of the other side, line by line.
    pub behind: Rc<Vec<Vec<Cell>>>,
    /// How it looks.
    pub view: View,
    /// The distance between two dots, in tenths of a CSS pixel.
    pub dot: u32,
    /// Cells in a line of the screen.
    pub fitting: usize,
    /// The title, as it may be shown.
    pub title: &'a str,
    /// Whether its older signs are marked.
    pub older: bool,
    /// Contracted or not.
    pub contracted: bool,
}

const HELP: &str = "Arrow keys move from cell to cell, Page Up and Page Down turn the page. Enter gives a clue, the space bar uncovers the word, with Shift the line; Shift and Enter read the line aloud. Tab moves on, out of the sheet. What is said of a cell is set in the room Write, under Settings for writing.";

/// What stands apart: running heads, page numbers and changes of the print page.
fn apart(page: &Page) -> String {
    let lines = page.lines.iter().zip(&page.words).filter(|(line, _)| line.kind != LineKind::Text);
    let told = lines.map(|(line, words)| {
        let kind = match line.kind {
            LineKind::RunningHead => "running head",
            LineKind::PageNumber => "page number",
            _ => "the print page changes",
        };
        format!("{} ({kind})", print_of(words))
    });
    told.collect::<Vec<_>>().join("; ")
}

/// The sheet, with the print beside it where that is wanted.
pub fn sheet_side(
    of: &OnSheet,
    learner: &LearnerHandle,
    settings: &Settings,
    act: &Callback<Action>,
) -> Html {
    let OnSheet { state, page, view, dot, .. } = *of;
    let (line, cell) = state.within(page);
    let cells: Vec<Vec<Cell>> = page
        .lines
        .iter()
        .map(|line| if line.kind == LineKind::Text { line.cells.clone() } else { Vec::new() })
        .collect();
    // As wide as a sheet is, however short its lines are; what is broken for the screen is as wide as that.
    let width = cells.iter().map(Vec::len).max().unwrap_or(0).max(of.fitting.min(WIDTH)).min(WIDTH.max(60));
    let line_cells = cells.get(line).cloned().unwrap_or_default();
    let (guides, frames) = view.help(figures::low_shape_help(&learner.record));
    let look = if settings.dot_numbers_only { Look::Numbers } else { view.look() };
    let (facing, by_line) = (view.facing(), view.by_line());
    // Line by line, the sheet holds one line; that of the other side lies behind it.
    let first = if by_line { line } else { 0 };
    let one = |all: &[Vec<Cell>]| Rc::new(vec![all.get(line).cloned().unwrap_or_default()]);
    let (lines, behind) =
        if by_line { (one(&cells), one(&of.behind)) } else { (Rc::new(cells), of.behind.clone()) };
    let marks: Vec<(usize, usize, usize)> = if of.older {
        let signs = |(n, cells): (usize, &Vec<Cell>)| {
            older_signs_in(cells, of.contracted)
                .into_iter()
                .map(move |sign| (n, sign.cells.start, sign.cells.end))
        };
        lines.iter().enumerate().flat_map(signs).collect()
    } else {
        Vec::new()
    };
    let covered = facing == Facing::BrailleCovered;
    let numbers = look == Look::Numbers;
    let shown = |line: &Vec<Cell>| if covered { Vec::new() } else { line.clone() };
    let on_point = act.reform(move |(row, cell): (usize, usize)| Action::To(row + first, cell));
    let onkeydown = {
        let (act, state, page, pages) = (act.clone(), (*state).clone(), page.clone(), of.pages);
        Callback::from(move |event: KeyboardEvent| {
            if event.ctrl_key() || event.alt_key() || event.meta_key() {
                return;
            }
            if let Some(action) = state.key(&page, pages, &event.key(), event.shift_key()) {
                event.prevent_default();
                act.emit(action);
            }
        })
    };
    let apart = apart(page);
    html! {
        <>
            if !apart.is_empty() { <p class="note apart">{ apart }</p> }
            <div class={classes!("face", (facing != Facing::Alone).then_some("two"))} style={format!("--dot:{}.{}px", dot / 10, dot % 10)}>
                <div class="read-sheet" onclick={|event: MouseEvent| focus_text(&event)}>
                    <SheetText label={format!("{}, page {}", of.title, state.page + 1)} help={HELP}
                        lines={Rc::new(SheetLines::of(lines.iter().map(shown).collect::<Vec<_>>().iter().map(Vec::as_slice), numbers))}
                        at={(line - first, cell)} cell={line_cells.get(cell).copied().filter(|_| !covered)} place={format!("line {}, cell {}", line + 1, cell + 1)}
                        on_move={on_point.clone()} on_key={onkeydown} />
                    if numbers {
                        { for lines.iter().enumerate().map(|(n, cells)| html! {
                            <div class={classes!("sheet-line", (n + first == line).then_some("now"))}>
                                if !covered { <CellsLine cells={Rc::from(cells.as_slice())} numbers={Some(true)} /> }
                            </div>
                        }) }
                    } else {
                        <Paper lines={lines.clone()} {behind} {look} light={view.light} {guides} {frames} {width} marks={Rc::new(marks)}
                            at={Some((line - first, cell))} {covered} {on_point} />
                    }
                </div>
                if facing != Facing::Alone { { print_side(page, state, line, by_line, facing == Facing::PrintCovered) } }
            </div>
        </>
    }
}

/// The buttons under the sheet: lines and pages back and forth, a page by its number, the page read.
pub fn turning(of: &OnSheet, act: &Callback<Action>, finish: Callback<MouseEvent>) -> Html {
    let OnSheet { state, page, pages, view, .. } = *of;
    let (line, _) = state.within(page);
    // Blank lines, and those that stand apart, are passed over.
    let has_text = |at: &usize| {
        page.lines.get(*at).is_some_and(|line| line.kind == LineKind::Text && !line.cells.is_empty())
    };
    let before = (0..line).rev().find(has_text);
    let next = (line + 1..page.lines.len()).find(has_text);
    let step = |to: Option<usize>| act.reform(move |_: MouseEvent| Action::To(to.unwrap_or(line), 0));
    let turn = |to: usize| act.reform(move |_: MouseEvent| Action::Turn(to, 0));
    let to_page = act.reform(move |event: Event| {
        let field: web_sys::HtmlInputElement = event.target_unchecked_into();
        let page = field.value().parse::<usize>().unwrap_or(1).clamp(1, pages);
        field.set_value(&page.to_string());
        Action::Turn(page - 1, 0)
    });
    html! {
        <div class="controls">
            if view.by_line() {
                <button type="button" disabled={before.is_none()} onclick={step(before)}>{ "Line before" }</button>
                <button type="button" disabled={next.is_none()} onclick={step(next)}>{ "Next line" }</button>
            }
            <button type="button" disabled={state.page == 0} onclick={turn(state.page.saturating_sub(1))}>{ "Page before" }</button>
            <button type="button" disabled={state.page + 1 >= pages} onclick={turn((state.page + 1).min(pages - 1))}>{ "Next page" }</button>
            if pages > 4 {
                <label class="to-page">{ "Go to page " }<input type="number" min="1" max={pages.to_string()} value={(state.page + 1).to_string()} onchange={to_page} /></label>
            }
            <button type="button" class="main push" onclick={finish}>{ "I have read this page" }</button>
        </div>
    }
}
