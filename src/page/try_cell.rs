//! The first screen's place to try the six keys: a small writing surface whose writing is not kept.

use gloo::timers::callback::Timeout;
use yew::prelude::*;

use super::braille_input::BrailleInput;
use super::halves::AFTER_THE_FIRST_FRAME;
use super::held::use_held;

/// What the surface needs.
#[derive(Properties, PartialEq)]
pub struct TryCellProps {
    /// Contracted or not, as the line above it is.
    pub contracted: bool,
}

/// A cell to write. The surface comes right after the first frame, which does not wait for it.
#[component]
pub fn TryCell(props: &TryCellProps) -> Html {
    let here = use_held(bool::default);
    {
        let here = here.clone();
        use_effect_with((), move |()| {
            let soon = Timeout::new(AFTER_THE_FIRST_FRAME, move || here.set(true));
            move || drop(soon)
        });
    }
    html! {
        <section class="try-cell">
            <h2>{ "Write a cell" }</h2>
            if *here { <BrailleInput contracted={Some(props.contracted)} drill=true /> }
            <p class="note">{ "To try the keys; this is not kept. Next: " }<a href="#/write">{ "a line of print to write" }</a></p>
        </section>
    }
}
