//! The room "Course": the units with their cells, each opening to its lesson; and the check that finds a learner's place.
//!
//! | file | what it shows |
//! | --- | --- |
//! | [`lesson_view`] | the lesson of a unit |
//! | [`walk_view`] | an example, cell by cell |
//! | [`find_view`] | find my place |
//! | [`check`] | a unit marked as known after a short check |

pub mod check;
pub mod find_view;
pub mod lesson_view;
pub mod walk_view;

use std::rc::Rc;

use gloo::events::EventListener;
use yew::prelude::*;

use crate::cell::Cell;
use crate::page::browser::held::use_held;
use crate::page::learner::journal::{told, use_learner};
use crate::page::learner::place::place_of;
use crate::page::rooms::course::find_view::FindView;
use crate::page::rooms::course::lesson_view::LessonView;
use crate::page::route::{self, FIND_MY_PLACE};
use crate::page::widgets::cells_line::CellsLine;
use crate::practice::course::{self, Action, Standing, State};
use crate::practice::units::{self, Unit};
use crate::ueb::register;

/// What the address asks for: `#/course`, `#/course?unit=strong-h`, `#/course?find=place`.
fn asked() -> State {
    if route::asked("find").is_some() {
        return State::default().after(Action::Find);
    }
    let unit = route::asked("unit").and_then(|id| units::units().iter().position(|unit| unit.id == id));
    State::default().after(Action::Open(unit))
}

/// The address of a unit's lesson, by its place from 0.
fn address(unit: usize) -> String {
    format!("#/course?unit={}", units::units().get(unit).map_or("", |unit| unit.id))
}

/// The room.
#[component]
pub fn Room() -> Html {
    let learner = use_learner();
    let state = use_held(asked);
    {
        let state = state.clone();
        use_effect_with((), move |()| {
            let listener = EventListener::new(&gloo::utils::window(), "hashchange", move |_| {
                state.set(asked());
                gloo::utils::window().scroll_to_with_x_and_y(0.0, 0.0);
            });
            move || drop(listener)
        });
    }
    let act = {
        let state = state.clone();
        Callback::from(move |action: Action| state.set(state.after(action)))
    };
    if state.finds {
        return html! { <FindView {learner} /> };
    }
    if let Some(unit) = state.unit {
        return html! { <LessonView key={unit} {learner} {unit} state={*state} {act} /> };
    }
    let place = place_of(&learner);
    let here = units::units().get(place.open).map_or("", |unit| unit.title);
    html! {
        <>
            <h1>{ "Course" }</h1>
            if let Some(trouble) = learner.trouble { { told(trouble) } }
            <p>{ "Thirty units, from the first letters to the choice between contractions. Each opens to its lesson: its signs, its rules, \
                  examples to walk through cell by cell, texts to read and lines to write." }</p>
            <div class="controls">
                <a class="button main" href={route::session(None)}>{ format!("Go on in unit {}: {here}", place.open + 1) }</a>
                <a class="button" href={FIND_MY_PLACE}>{ "Find my place" }</a>
            </div>
            { for course::stretches().map(|(name, stretch)| html! {
                <section class="stretch" key={name}>
                    <h2>{ name }</h2>
                    <ol class="course-units" start={(stretch.start + 1).to_string()}>
                        { for stretch.map(|n| tile(&units::units()[n], &course::standing(&place, &learner.memories, n))) }
                    </ol>
                </section>
            }) }
        </>
    }
}

/// So many cells of a unit's signs, about, are pictured.
const PICTURED: usize = 20;

/// The cells of a unit's signs, a blank between, as far as they fit; and how many signs are left.
fn pictured(unit: &Unit) -> (Vec<Cell>, usize) {
    let mut cells: Vec<Cell> = Vec::new();
    let mut left = unit.signs.len();
    for sign in unit.signs.iter().filter_map(|key| register::by_key(key)) {
        if cells.len() + sign.cells.len() > PICTURED {
            break;
        }
        if !cells.is_empty() {
            cells.push(Cell::BLANK);
        }
        cells.extend(&sign.cells);
        left -= 1;
    }
    (cells, left)
}

/// A unit among the others.
fn tile(unit: &Unit, standing: &Standing) -> Html {
    let (cells, left) = pictured(unit);
    html! {
        <li aria-current={standing.here.then_some("step")}>
            <a href={address(standing.unit)}>
                <span class="unit-title"><span class="unit-number">{ standing.unit + 1 }</span>{ " " }{ unit.title }</span>
                <span class="unit-cells" aria-hidden="true">
                    if !cells.is_empty() { <CellsLine cells={Rc::from(cells)} dot={Some(4.0)} says="" /> }
                    if left > 0 && !unit.signs.is_empty() { <span>{ format!("and {left} more") }</span> }
                </span>
                <span class="standing" style={format!("--share:{}%", standing.share())}>
                    { if standing.here { format!("You are here: {}", standing.words()) } else { standing.words() } }
                </span>
            </a>
        </li>
    }
}
