//! Beside a paper book: a word or a line entered cell by cell from the book on the desk, doubtful dots left doubtful; the same
//! clues as on a sheet, what it says as a whole, and every reading that fits, the likely ones first.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::page::browser::data;
use crate::page::browser::held::use_held;
use crate::page::learner::journal::LearnerHandle;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::read::log_paper::LogPaper;
use crate::page::widgets::by_number::by_number;
use crate::page::widgets::cells_line::CellsLine;
use crate::practice::beside::{Action, State, cell_words, dot_words};
use crate::practice::clues::{self, Doubtful, of_section};
use crate::practice::likely::Likely;
use crate::practice::reading::older_signs_in;
use crate::ueb::{self, ReadOptions};

/// Readings that are shown.
const MOST: usize = 24;

/// What the learner enters.
#[derive(Properties, PartialEq)]
pub struct BesideProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// Contracted braille or not.
    pub contracted: bool,
}

/// The words of English by how often they stand; none until they are here.
#[hook]
fn use_likely() -> Rc<Likely> {
    let likely = use_held(|| Rc::new(Likely::default()));
    {
        let likely = likely.clone();
        use_effect_with((), move |()| {
            wasm_bindgen_futures::spawn_local(async move {
                // Without it the readings stand in the order of their cells.
                if let Some(list) = data::file("often.txt").await {
                    likely.set(Rc::new(Likely::parse(&list)));
                }
            });
        });
    }
    (*likely).clone()
}

/// The cells from the book, and what they can say.
#[component]
pub fn Beside(props: &BesideProps) -> Html {
    let state = use_held(State::default);
    let likely = use_likely();
    let settings = use_settings();
    let act = {
        let state = state.clone();
        Callback::from(move |action: Action| state.set(state.after(action)))
    };
    let onkeydown = {
        let (act, state) = (act.clone(), state.clone());
        Callback::from(move |event: KeyboardEvent| {
            if event.ctrl_key() || event.alt_key() || event.meta_key() {
                return;
            }
            if let Some(action) = state.key(&event.key()) {
                event.prevent_default();
                act.emit(action);
            }
        })
    };
    let options = ReadOptions { contracted: props.contracted, older: state.older, ..ReadOptions::default() };
    let entered = state.entered().map(|(first, cells)| (first, cells.to_vec()));
    let readings = use_memo(
        (entered.clone(), options.contracted, options.older, likely),
        |(entered, contracted, older, likely)| {
            let options = ReadOptions { contracted: *contracted, older: *older, ..ReadOptions::default() };
            entered.as_ref().map(|(_, cells)| clues::readings(cells, &options, likely)).unwrap_or_default()
        },
    );
    let on = |action: Action| act.reform(move |_: MouseEvent| action);
    let older = act.reform(|event: Event| {
        Action::Older(event.target_unchecked_into::<web_sys::HtmlInputElement>().checked())
    });
    let (doubts, nothing) = (state.doubts(), entered.is_none());
    html! {
        <div class="beside-book">
            <p id="book-help">{ "Enter the cell you cannot read and its neighbours, or a whole word, cell by cell. Point at a dot once for raised, twice for doubtful, three times for none; or use the arrow keys and 1 to 6, the space bar for the next cell; Tab goes on, out of the cells." }</p>
            <label class="check"><input type="checkbox" checked={state.older} onchange={older} />{ "An older book: signs that Unified English Braille has given up are read too" }</label>
            <div class="windows" tabindex="0" role="application" aria-label="Cells from the book" aria-describedby="book-help" {onkeydown}>
                { windows(&state, settings.dot_numbers_only, &act) }
            </div>
            <p class="sr" aria-live="polite">{ format!("Cell {}: dots {}", state.at + 1, cell_words(state.cells[state.at])) }</p>
            <div class="controls">
                <button type="button" onclick={on(Action::Clue)} disabled={nothing}>{ "A clue" }</button>
                <button type="button" onclick={on(Action::Tell)} disabled={nothing}>{ "What does it say?" }</button>
                <button type="button" class="quiet" onclick={on(Action::Clear)}>{ "Clear" }</button>
            </div>
            if let Some((first, cells)) = &entered { { clue_list(&state, *first, cells, &options) } }
            if !readings.is_empty() && (state.told || doubts > 0) {
                <h3>{ if readings.len() == 1 { "It reads".to_owned() } else { format!("{} readings fit; the likely ones first", readings.len()) } }</h3>
                <ul class="readings" role="status">{ for readings.iter().take(MOST).map(|(cells, print)| html! {
                    <li><CellsLine cells={Rc::from(cells.as_slice())} dot={Some(6.0)} /><strong>{ print }</strong>{ older_note(cells, &options) }</li>
                }) }</ul>
                if doubts > clues::MOST_DOUBTS { <p class="note">{ format!("Only the first {} doubtful dots were tried.", clues::MOST_DOUBTS) }</p> }
            }
            <LogPaper learner={props.learner.clone()} />
        </div>
    }
}

/// The cells, as windows with holes for the dots, or as dot numbers.
fn windows(state: &State, numbers: bool, act: &Callback<Action>) -> Html {
    if numbers {
        let words: Vec<String> = state.cells.iter().map(|cell| cell_words(*cell)).collect();
        let at = state.at;
        return by_number(&words, at, &act.reform(Action::Go), &act.reform(move |dot| Action::Turn(at, dot)));
    }
    let hole = |place: usize, cell: Doubtful, dot: u8| {
        let is = dot_words(cell, dot);
        let onclick = act.reform(move |_: MouseEvent| Action::Turn(place, dot));
        html! { <button type="button" tabindex="-1" class={classes!("hole", (is != "not there").then_some(is))} aria-label={format!("Cell {}, dot {dot}: {is}", place + 1)} {onclick} /> }
    };
    html! {
        <>{ for state.cells.iter().enumerate().map(|(place, cell)| html! {
            <div class={classes!("window", (place == state.at).then_some("now"))} role="group" aria-label={format!("Cell {}", place + 1)}>
                { for [1u8, 4, 2, 5, 3, 6].iter().map(|&dot| hole(place, *cell, dot)) }
            </div>
        }) }</>
    }
}

/// The clues that are shown for the cell that the keys are for.
fn clue_list(state: &State, first: usize, entered: &[Doubtful], options: &ReadOptions) -> Html {
    let Some(cell) = state.at.checked_sub(first).filter(|place| *place < entered.len()) else {
        return html! {};
    };
    if state.clues == 0 {
        return html! {};
    }
    let sure: Vec<Cell> = entered.iter().map(|cell| cell.sure).collect();
    let list = clues::for_cell(&sure, cell, &ueb::read(&sure, options).pieces, options.contracted);
    let doubtful = entered[cell].perhaps.bits() & !entered[cell].sure.bits() != 0;
    html! {
        <>
            if doubtful { <p class="note">{ "The clues take the doubtful dots of this cell as not there." }</p> }
            <ol class="clues" aria-live="polite">{ for list.iter().take(state.clues).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
        </>
    }
}

/// Which older signs stand in a reading, and what is written today.
fn older_note(cells: &[Cell], options: &ReadOptions) -> Html {
    if !options.older {
        return html! {};
    }
    let signs = older_signs_in(cells, options.contracted);
    html! {
        { for signs.iter().map(|sign| {
            let says = if sign.says.is_empty() { "an indicator".to_owned() } else { format!("“{}”", sign.says) };
            html! {
                <span class="note">{ format!("An older sign, {says} ({}); today ", of_section(sign.section)) }<CellsLine cells={Rc::from(sign.today.as_slice())} dot={Some(4.0)} /></span>
            }
        }) }
    }
}
