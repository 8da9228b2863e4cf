//! The room "Proofread": find planted mistakes, hand in on trial, or read a file of your own at the desk.

mod own;
mod trial;
mod work;

use yew::prelude::*;

use super::held::use_held;
use super::reading_desk::ReadingDesk;
use own::Own;
use trial::TrialOwn;
pub use work::Work;

/// A notice to proofread until the texts are there; written for this project.
const NOTICE: &str = "# Lost and found\n\nOn Monday 14 September a grey umbrella, two left boots and a letter to nobody were handed in on the Kittiwake. Whoever misses them may ask at the office on Hallam Quay between nine and five.\n\n- One umbrella with a carved handle, said to be from Orrin\n- Two boots, both of the same foot\n";

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
