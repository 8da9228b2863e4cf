//! The room "Read".

use yew::prelude::*;

/// The room.
#[component]
pub fn Room() -> Html {
    html! {
        <>
            <h1>{ "Read" }</h1>
            <p>{ "Reading practice is being built. Nothing works here yet." }</p>
        </>
    }
}
