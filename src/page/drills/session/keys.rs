//! The six keys, to be tried before the first chord: which is which, and what comes of them.

use yew::prelude::*;

use crate::keys::Key;
use crate::page::browser::held::use_held;
use crate::page::drills::session::Way;
use crate::page::drills::session::chord::DOT;
use crate::page::learner::settings::use_settings;
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::written::Written;
use crate::page::widgets::fields::use_focus;
use crate::page::widgets::six_keys::key_name;
use crate::practice::drill;
use crate::practice::sitting::Action;

/// The way on.
#[derive(Properties, PartialEq)]
pub struct KeysProps {
    /// It.
    pub way: Way,
}

/// The keys.
#[component]
pub fn TryKeys(props: &KeysProps) -> Html {
    let settings = use_settings();
    let map = settings.key_map();
    let said = use_held(String::new);
    let go_on = use_focus(u32::from(!said.is_empty()));
    let on_change = {
        let said = said.clone();
        Callback::from(move |written: Written| {
            if let Some(cell) = written.cells().into_iter().flatten().rfind(|cell| !cell.is_blank()) {
                said.set(format!("You wrote {}. That is how every cell is written.", drill::dots(&[cell])));
            }
        })
    };
    let name = |dot: u8| map.code_of(Key::Dot(dot)).map_or_else(|| "none".to_owned(), key_name);
    html! {
        <>
            <p class="asks">{ "Your six keys" }</p>
            <div class="keys-picture" role="img" aria-label={format!("Dots 1 to 3 are {}, dots 4 to 6 are {}",
                [1, 2, 3].map(name).join(", "), [4, 5, 6].map(name).join(", "))}>
                { for [3, 2, 1, 4, 5, 6].into_iter().map(|dot| html! { <span class={(dot == 4).then_some("right-hand")}><b>{ dot }</b>{ name(dot) }</span> }) }
            </div>
            <p id="asked" class="how-to">{ format!("Each key is a dot. Press the keys of a cell together, then let go: {} alone is dot 1, {} and {} together are dots 1-4. Try a cell.",
                name(1), name(1), name(4)) }</p>
            <div class="answer-row writes"><BrailleInput reads={false} drill=true autofocus=true dot={Some(DOT)} {on_change} /></div>
            <p class="verdict" role="status">{ (*said).clone() }</p>
            <p class="go-on">
                if said.is_empty() {
                    <button type="button" class="quiet" onclick={props.way.on_click(Action::Seen)}>{ "Not now" }</button>
                } else {
                    <button type="button" class="main" ref={go_on} onclick={props.way.on_click(Action::Seen)}>{ "Go on (Enter)" }</button>
                }
            </p>
        </>
    }
}
