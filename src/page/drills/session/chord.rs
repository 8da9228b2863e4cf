//! A sign that is written with the six keys; its last cell is the answer.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::drills::session::{Way, use_watch};
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::written::{Given, Written};
use crate::practice::sitting::Action;

/// The distance between two dots on the surface, in CSS pixels.
pub const DOT: f64 = 22.0;

/// What is to be written.
#[derive(Properties, PartialEq)]
pub struct ChordProps {
    /// How many cells the sign has.
    pub count: usize,
    /// The way on.
    pub way: Way,
}

/// The surface. Give it a `key` that changes with what is asked.
#[component]
pub fn Chord(props: &ChordProps) -> Html {
    let watch = use_watch(props.way.turn);
    // A new line without a cell is no answer: the surface begins anew.
    let given = use_held(Given::default);
    let on_change = {
        let (way, count, given) = (props.way.clone(), props.count, given.clone());
        Callback::from(move |written: Written| {
            let lines = written.cells();
            let cells = lines.iter().flatten().filter(|cell| !cell.is_blank()).count();
            if cells > 0 {
                watch.key();
            }
            if cells >= count {
                way.act(Action::Wrote { lines, took: watch.took() });
            } else if lines.len() > 1 {
                let kept = lines.into_iter().flatten().collect();
                given.set(Given { version: given.version + 1, lines: Rc::new(vec![kept]), over: false });
            }
        })
    };
    html! {
        <div class="answer-row writes">
            <BrailleInput reads={false} drill=true autofocus=true given={(*given).clone()} dot={Some(DOT)} {on_change} />
        </div>
    }
}
