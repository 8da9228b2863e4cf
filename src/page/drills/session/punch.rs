//! A sign that is punched on the slate, from the back of the sheet.

use yew::prelude::*;

use crate::cell::Cell;
use crate::page::drills::session::{Way, use_watch};
use crate::page::drills::slate::Slate;
use crate::practice::sitting::Action;

/// What is to be punched.
#[derive(Properties, PartialEq)]
pub struct PunchProps {
    /// How many cells the sign has.
    pub count: usize,
    /// The way on.
    pub way: Way,
}

/// The slate. Give it a `key` that changes with what is asked.
#[component]
pub fn Punch(props: &PunchProps) -> Html {
    let watch = use_watch(props.way.turn);
    let on_done = {
        let way = props.way.clone();
        Callback::from(move |cells: Vec<Cell>| way.act(Action::Punched { cells, took: watch.took() }))
    };
    html! { <div class="answer-row writes"><Slate count={props.count} {on_done} /></div> }
}
