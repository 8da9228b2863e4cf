//! A word or a line to write; Enter hands it in.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell;
use crate::page::browser::held::use_held;
use crate::page::drills::session::{Way, use_watch};
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::written::{Given, Written};
use crate::practice::line::Line;
use crate::practice::sitting::Action;

/// What is to be written.
#[derive(Properties, PartialEq)]
pub struct WriteProps {
    /// The line.
    pub line: Line,
    /// The way on.
    pub way: Way,
}

/// The print and the surface. Give it a `key` that changes with what is asked.
#[component]
pub fn Write(props: &WriteProps) -> Html {
    let watch = use_watch(props.way.turn);
    let begins = {
        let way = props.way.clone();
        move || {
            let lines: Vec<_> = way.draft().lines().filter_map(cell::from_ascii).collect();
            Given { version: 0, lines: Rc::new(lines), over: false }
        }
    };
    let given = use_held(begins);
    let written = use_mut_ref(Vec::new);
    let hand_in = {
        let (way, written, watch) = (props.way.clone(), written.clone(), watch.clone());
        move || way.act(Action::Wrote { lines: written.borrow().clone(), took: watch.took() })
    };
    let on_change = {
        let (hand_in, way, given) = (hand_in.clone(), props.way.clone(), given.clone());
        Callback::from(move |new: Written| {
            let lines = new.cells();
            let ended = lines.len() > 1 && new.caret.line > 0;
            let cells: Vec<_> = lines.iter().filter(|line| !line.is_empty()).cloned().collect();
            if !cells.is_empty() {
                watch.key();
            }
            let text: Vec<String> = cells.iter().map(|line| cell::to_ascii(line)).collect();
            way.keep_draft(&text.join("\n"));
            let nothing = cells.iter().flatten().all(|cell| cell.is_blank());
            *written.borrow_mut() = cells;
            if ended && nothing {
                // Enter on an empty line is no answer: the surface begins anew.
                given.set(Given { version: given.version + 1, lines: Rc::default(), over: false });
            } else if ended {
                hand_in();
            }
        })
    };
    let click = {
        let hand_in = hand_in.clone();
        Callback::from(move |_: MouseEvent| hand_in())
    };
    let asks = if props.line.print.contains(' ') { "Write the line." } else { "Write the word." };
    html! {
        <>
            <p class="asks">{ asks }</p>
            <p class="large copy" id="asked">{ props.line.print.clone() }</p>
            <div class="answer-row writes">
                <BrailleInput reads={false} autofocus=true given={(*given).clone()} dot={Some(13.0)} contracted={Some(props.line.contracted)} {on_change} />
                <p class="go-on"><button type="button" class="main" onclick={click}>{ "Done (Enter)" }</button></p>
            </div>
        </>
    }
}
