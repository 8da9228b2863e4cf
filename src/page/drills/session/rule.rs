//! A word and its rules: which letters are contracted, then why not the others; only then what it is.

use yew::prelude::*;

use crate::page::drills::session::typed::Typed;
use crate::page::drills::session::{Way, use_watch};
use crate::page::widgets::fields::use_focus;
use crate::practice::rules::Item;
use crate::practice::sitting::Action;

/// The word and the reasons to choose from, once it has come to them.
#[derive(Properties, PartialEq)]
pub struct RuleProps {
    /// The word.
    pub item: Item,
    /// The reasons.
    pub reasons: Option<Vec<&'static str>>,
    /// The way on.
    pub way: Way,
}

/// The two questions. Give it a `key` that changes with what is asked.
#[component]
pub fn Rule(props: &RuleProps) -> Html {
    let way = &props.way;
    let watch = use_watch(way.turn);
    let choices = use_focus(way.turn);
    let choose = {
        let (way, watch) = (way.clone(), watch.clone());
        move |reason: usize| way.act(Action::Chose { reason, took: watch.took() })
    };
    let onkeydown = {
        let choose = choose.clone();
        Callback::from(move |event: KeyboardEvent| {
            if let Ok(n @ 1..=9) = event.key().parse::<usize>() {
                event.prevent_default();
                choose(n - 1);
            }
        })
    };
    let letters = props.item.passed.first().map(|passed| passed.letters.as_str()).unwrap_or_default();
    html! {
        <>
            <p class="asks">{ "A word and its rules" }</p>
            <p class="large copy" id="asked">{ &props.item.word }</p>
            if let Some(reasons) = &props.reasons {
                <div class="reasons-of" ref={choices} tabindex="-1" role="group" aria-labelledby="why" {onkeydown}>
                    <p id="why">{ format!("Why is {letters} not used here? Press a number.") }</p>
                    <ol class="reasons">{ for reasons.iter().enumerate().map(|(n, reason)| {
                        let onclick = { let choose = choose.clone(); Callback::from(move |_: MouseEvent| choose(n)) };
                        html! { <li><button type="button" {onclick}>{ format!("{} {reason}", n + 1) }</button></li> }
                    }) }</ol>
                </div>
            } else {
                <p class="how-to">{ "Which letters are contracted? In order, a space between; “none” for none." }</p>
                <Typed label="Contracted letters" way={way.clone()} />
            }
        </>
    }
}
