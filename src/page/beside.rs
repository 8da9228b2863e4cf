//! Beside a paper book: a cell and its neighbours entered from the book on the desk, doubtful dots left doubtful; the
//! same clues, and every reading that fits. And a log of what was read on paper.

use std::rc::Rc;

use yew::prelude::*;

use super::by_number::by_number;
use super::cells_line::CellsLine;
use super::drills::text_of;
use super::held::use_held;
use super::learner::LearnerHandle;
use super::settings::use_settings;
use crate::cell::Cell;
use crate::practice::clues::{self, Doubtful};
use crate::practice::record::Event;
use crate::ueb::{self, ReadOptions};

/// Cells that can be entered.
const CELLS: usize = 7;
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

/// A dot goes from none to raised to doubtful and back.
fn turned(cell: Doubtful, dot: u8) -> Doubtful {
    let bit = 1 << (dot - 1);
    let flip = |cell: Cell| Cell::from_bits(cell.bits() ^ bit).unwrap_or(cell);
    if cell.sure.has_dot(dot) {
        Doubtful { sure: flip(cell.sure), perhaps: flip(cell.perhaps) }
    } else if cell.perhaps.has_dot(dot) {
        Doubtful { perhaps: flip(cell.perhaps), ..cell }
    } else {
        Doubtful { sure: flip(cell.sure), ..cell }
    }
}

fn state(cell: Doubtful, dot: u8) -> &'static str {
    if cell.sure.has_dot(dot) {
        "raised"
    } else if cell.perhaps.has_dot(dot) {
        "doubtful"
    } else {
        "not there"
    }
}

/// A cell as its dot numbers, the doubtful ones apart.
fn words(cell: Doubtful) -> String {
    let perhaps = Cell::from_bits(cell.perhaps.bits() & !cell.sure.bits()).unwrap_or(Cell::BLANK);
    match (cell.sure.is_blank(), perhaps.is_blank()) {
        (_, true) => cell.sure.dot_numbers(),
        (true, false) => format!("perhaps {}", perhaps.dot_numbers()),
        (false, false) => format!("{}, perhaps {}", cell.sure.dot_numbers(), perhaps.dot_numbers()),
    }
}

/// The cells from the book, and what they can say.
#[component]
pub fn Beside(props: &BesideProps) -> Html {
    let cells = use_held(|| vec![Doubtful::default(); CELLS]);
    let at = use_held(|| CELLS / 2);
    let shown = use_held(usize::default);
    let turn = {
        let (cells, shown) = (cells.clone(), shown.clone());
        move |place: usize, dot: u8| {
            let mut new = (*cells).clone();
            if let Some(cell) = new.get_mut(place) {
                *cell = turned(*cell, dot);
            }
            cells.set(new);
            shown.set(0);
        }
    };
    let onkeydown = {
        let (at, turn) = (at.clone(), turn.clone());
        Callback::from(move |event: KeyboardEvent| {
            match (event.key().parse::<u8>().ok(), event.key().as_str()) {
                (Some(dot @ 1..=6), _) => turn(*at, dot),
                (_, "ArrowLeft") => at.set(at.saturating_sub(1)),
                (_, "ArrowRight") => at.set((*at + 1).min(CELLS - 1)),
                _ => return,
            }
            event.prevent_default();
        })
    };
    // Blank cells at the ends are where nothing was entered.
    let filled = |cell: &Doubtful| !cell.sure.is_blank() || !cell.perhaps.is_blank();
    let (first, last) = (cells.iter().position(filled), cells.iter().rposition(filled));
    let entered: Vec<Doubtful> = match (first, last) {
        (Some(first), Some(last)) => cells[first..=last].to_vec(),
        _ => Vec::new(),
    };
    let options = ReadOptions { contracted: props.contracted, ..ReadOptions::default() };
    let readings = if entered.is_empty() { Vec::new() } else { clues::readings(&entered, &options) };
    let doubts: u32 = entered.iter().map(|c| (c.perhaps.bits() & !c.sure.bits()).count_ones()).sum();
    let clue_list = first.filter(|first| (*first..first + entered.len()).contains(&*at)).map(|first| {
        let sure: Vec<Cell> = entered.iter().map(|cell| cell.sure).collect();
        let reading = ueb::read(&sure, &options);
        let place = *at - first;
        let doubtful = (entered[place].perhaps.bits() & !entered[place].sure.bits()) != 0;
        (clues::for_cell(&sure, place, &reading.pieces, props.contracted), doubtful)
    });
    let more = {
        let shown = shown.clone();
        Callback::from(move |_: MouseEvent| shown.set((*shown + 1).min(6)))
    };
    let clear = {
        let (cells, shown) = (cells.clone(), shown.clone());
        Callback::from(move |_: MouseEvent| {
            cells.set(vec![Doubtful::default(); CELLS]);
            shown.set(0);
        })
    };
    // A window with its holes is a drawn cell; with dot numbers only the cells stand as numbers.
    let by_numbers = use_settings().dot_numbers_only.then(|| {
        let words: Vec<String> = cells.iter().map(|cell| words(*cell)).collect();
        let choose = {
            let at = at.clone();
            Callback::from(move |place| at.set(place))
        };
        let turn = {
            let (turn, at) = (turn.clone(), at.clone());
            Callback::from(move |dot| turn(*at, dot))
        };
        by_number(&words, *at, &choose, &turn)
    });
    html! {
        <div class="beside-book">
            <p id="book-help">{ "Enter the cell you cannot read and its neighbours. Point at a dot once for raised, twice for doubtful, three times for none; or use the arrow keys and 1 to 6; Tab goes on, out of the cells." }</p>
            <div class="windows" tabindex="0" role="application" aria-label="Cells from the book" aria-describedby="book-help" {onkeydown}>
                if let Some(by_numbers) = by_numbers { { by_numbers } } else { { for cells.iter().enumerate().map(|(place, cell)| html! {
                    <div class={classes!("window", (place == *at).then_some("now"))} role="group" aria-label={format!("Cell {}", place + 1)}>
                        { for [1u8, 4, 2, 5, 3, 6].iter().map(|&dot| {
                            let onclick = { let (turn, at) = (turn.clone(), at.clone()); Callback::from(move |_: MouseEvent| { at.set(place); turn(place, dot); }) };
                            let is = state(*cell, dot);
                            html! { <button type="button" tabindex="-1" class={classes!("hole", (is != "not there").then_some(is))} aria-label={format!("Cell {}, dot {dot}: {is}", place + 1)} {onclick} /> }
                        }) }
                    </div>
                }) } }
            </div>
            <p class="sr" aria-live="polite">{ format!("Cell {}: dots {}", *at + 1, words(cells[*at])) }</p>
            <div class="controls">
                <button type="button" onclick={more} disabled={clue_list.is_none()}>{ "A clue" }</button>
                <button type="button" class="quiet" onclick={clear}>{ "Clear" }</button>
            </div>
            if let Some((list, doubtful)) = clue_list {
                if *shown > 0 && doubtful { <p class="note">{ "The clues take the doubtful dots of this cell as not there." }</p> }
                <ol class="clues">{ for list.iter().take(*shown).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
            }
            if !readings.is_empty() && (*shown > 0 || doubts > 0) {
                <h3>{ if readings.len() == 1 { "It reads".to_owned() } else { format!("{} readings fit; the likely ones first", readings.len()) } }</h3>
                <ul class="readings" role="status">{ for readings.iter().take(MOST).map(|(cells, print)| html! {
                    <li><CellsLine cells={Rc::from(cells.as_slice())} dot={Some(6.0)} /><strong>{ print }</strong></li>
                }) }</ul>
                if doubts as usize > clues::MOST_DOUBTS { <p class="note">{ format!("Only the first {} doubtful dots were tried.", clues::MOST_DOUBTS) }</p> }
            }
            <LogPaper learner={props.learner.clone()} />
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct LogProps {
    learner: LearnerHandle,
}

/// What was read on paper, for the record.
#[component]
fn LogPaper(props: &LogProps) -> Html {
    let fields = use_held(|| [String::new(), String::new(), String::new()]);
    let said = use_held(String::new);
    let oninput = |n: usize| {
        let fields = fields.clone();
        Callback::from(move |event: InputEvent| {
            let mut new = (*fields).clone();
            new[n] = text_of(&event);
            fields.set(new);
        })
    };
    let onsubmit = {
        let (fields, said, learner) = (fields.clone(), said.clone(), props.learner.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            let [title, pages, minutes] = &*fields;
            let (Ok(pages), Ok(minutes)) = (pages.trim().parse::<u32>(), minutes.trim().parse::<u32>())
            else {
                said.set("Pages and minutes are numbers.".to_owned());
                return;
            };
            // A full page of 25 lines of 40 cells holds about 150 words in 800 cells (from memory); the record keeps the
            // time exactly and the rest as an estimate.
            learner.add(Event::Text {
                title: format!("On paper: {}", if title.trim().is_empty() { "a book" } else { title.trim() }),
                words: pages.min(10_000) * 150,
                cells: pages.min(10_000) * 800,
                ms: u64::from(minutes.min(10_000)) * 60_000,
                missed: 0,
            });
            said.set(format!(
                "Logged: {pages} pages in {minutes} minutes, counted as about {} words.",
                pages.min(10_000) * 150
            ));
            fields.set([String::new(), String::new(), String::new()]);
        })
    };
    html! {
        <form class="log-paper" {onsubmit}>
            <h3>{ "Log what you read on paper" }</h3>
            <div class="controls">
                <label>{ "Title " }<input type="text" value={fields[0].clone()} oninput={oninput(0)} /></label>
                <label>{ "Pages " }<input type="number" min="1" value={fields[1].clone()} oninput={oninput(1)} /></label>
                <label>{ "Minutes " }<input type="number" min="0" value={fields[2].clone()} oninput={oninput(2)} /></label>
                <button type="submit">{ "Log it" }</button>
            </div>
            <p role="status">{ (*said).clone() }</p>
        </form>
    }
}
