//! The room "One line to read".

use yew::prelude::*;

/// The room.
#[component]
pub fn Room() -> Html {
    html! {
        <>
            <h1>{ "One line to read" }</h1>
            <p>{ "The first screen is being built. The Write room works already." }</p>
        </>
    }
}
