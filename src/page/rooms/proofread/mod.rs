//! The room "Proofread": find planted mistakes, hand in on trial, or read a file of your own at the desk.

pub mod at_cursor;
pub mod kept_own;
pub mod notes_list;
pub mod notice;
pub mod own;
pub mod own_choice;
pub mod reading_desk;
pub mod trial;
pub mod work;
pub mod work_state;

use own::Own;
use trial::TrialOwn;
use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::rooms::proofread::reading_desk::ReadingDesk;

#[derive(Clone, Copy, PartialEq)]
enum Place {
    Find,
    Trial,
    Desk,
}

/// The room.
#[component]
pub fn Room() -> Html {
    let place = use_held(|| Place::Find);
    let choose = |to: Place, words: &'static str| {
        let place = place.clone();
        let on = *place == to;
        let onclick = Callback::from(move |_: MouseEvent| place.set(to));
        html! { <button type="button" class="tab" aria-pressed={if on { "true" } else { "false" }} {onclick}>{ words }</button> }
    };
    html! {
        <>
            <h1>{ "Proofread" }</h1>
            <div class="tabs" role="group" aria-label="What to do">
                { choose(Place::Find, "Find mistakes") }
                { choose(Place::Trial, "Trial hand-in") }
                { choose(Place::Desk, "Reading desk") }
            </div>
            { match *place {
                Place::Find => html! { <Own /> },
                Place::Trial => html! { <TrialOwn /> },
                Place::Desk => html! { <ReadingDesk /> },
            } }
        </>
    }
}
