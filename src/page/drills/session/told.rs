//! What was wrong: it stands in place of the answer, with what it is, until one goes on.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::drills::session::Way;
use crate::page::marked::follow_up::AskFirstProps;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::fields::use_focus;
use crate::page::widgets::later::use_later;
use crate::practice::sitting::{Action, Told};

/// What is said.
#[derive(Properties, PartialEq)]
pub struct ToldProps {
    /// It.
    pub told: Told,
    /// The cells are seen large already.
    #[prop_or_default]
    pub seen: bool,
    /// The field stays: the same is asked again, and going on is the second choice.
    #[prop_or_default]
    pub again: bool,
    /// The way on.
    pub way: Way,
}

/// What was wrong. Where one question tells whether eye, hand or rule failed, it comes first, and the correction after it.
#[component]
pub fn ToldWrong(props: &ToldProps) -> Html {
    let ToldProps { told, way, .. } = props;
    let later = use_later();
    let asked = use_held(bool::default);
    let on_done = {
        let asked = asked.clone();
        Callback::from(move |()| asked.set(true))
    };
    let question =
        told.ask.and_then(|(about, at)| later.here(Piece::AskFirst, AskFirstProps { about, at, on_done }));
    let asks = question.is_some() && !*asked;
    let go_on = use_focus(way.turn * 2 + u32::from(asks));
    html! {
        <div class="told wrong">
            { question }
            if !asks {
                <div role="status">
                    { for told.says.iter().map(|say| html! { <p>{ say }</p> }) }
                    if !told.cells.is_empty() && !props.seen { <p>{ "It is written: " }<CellsLine cells={Rc::from(told.cells.as_slice())} dot={Some(9.0)} /></p> }
                    if props.again { <p>{ "Look again, and type it once more." }</p> }
                </div>
            }
            <p class="go-on">
                if props.again {
                    <button type="button" class="quiet" onclick={way.on_click(Action::GoOn)}>{ "Leave it and go on" }</button>
                } else {
                    <button type="button" class="main" ref={go_on} onclick={way.on_click(Action::GoOn)}>{ "Go on (Enter)" }</button>
                }
            </p>
        </div>
    }
}
