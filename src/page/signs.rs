//! The room "Signs".

use yew::prelude::*;

/// The room.
#[component]
pub fn Room() -> Html {
    html! {
        <>
            <h1>{ "Signs" }</h1>
            <p>{ "The chart of signs is being built. Nothing works here yet." }</p>
        </>
    }
}
