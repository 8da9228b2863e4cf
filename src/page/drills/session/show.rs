//! A new sign: large, with what it says, its dots, its place in the seven lines, what looks like it, and a word.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::drills::session::Way;
use crate::page::drills::session::large::Large;
use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::fields::use_focus;
use crate::practice::drill;
use crate::practice::line::Line;
use crate::practice::sitting::{Action, words};
use crate::ueb::register;

/// What is shown.
#[derive(Properties, PartialEq)]
pub struct ShowProps {
    /// The sign's key.
    pub sign: &'static str,
    /// Signs that look like it, the most alike first.
    pub alike: Vec<&'static str>,
    /// A word with it.
    pub word: Option<Line>,
    /// The way on.
    pub way: Way,
}

/// So many look-alikes are shown.
const ALIKE: usize = 3;

/// The sign.
#[component]
pub fn Show(props: &ShowProps) -> Html {
    let go_on = use_focus(props.way.turn);
    let Some(sign) = register::by_key(props.sign) else { return Html::default() };
    let alike = props.alike.iter().take(ALIKE).filter_map(|key| register::by_key(key));
    html! {
        <>
            <p class="asks">{ "A new sign" }</p>
            <Large cells={Rc::from(sign.cells.as_slice())} />
            <p class="answer-row"><strong class="large">{ words::name(sign) }</strong><span class="dots-of">{ drill::dots(&sign.cells) }</span></p>
            <div class="about-sign">
                { for words::in_the_lines(sign).into_iter().map(|say| html! { <p>{ say }</p> }) }
                <ul class="beside-it">
                    if let Some(word) = &props.word {
                        <li><span class="tag">{ "in a word" }</span><CellsLine cells={Rc::from(word.cells.as_slice())} dot={Some(9.0)} /><span class="serif">{ word.print.clone() }</span></li>
                    }
                    { for alike.enumerate().map(|(n, other)| html! {
                        <li><span class="tag">{ if n == 0 { "looks like" } else { "or" } }</span><CellsLine cells={Rc::from(other.cells.as_slice())} dot={Some(9.0)} frames={Some(true)} /><span class="serif">{ words::name(other) }</span></li>
                    }) }
                </ul>
            </div>
            <p class="go-on"><button type="button" class="main" ref={go_on} onclick={props.way.on_click(Action::Seen)}>{ "Ask me (Enter)" }</button></p>
        </>
    }
}
