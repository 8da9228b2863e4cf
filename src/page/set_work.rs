//! The room "Set work".

use yew::prelude::*;

/// The room.
#[component]
pub fn Room() -> Html {
    html! {
        <>
            <h1>{ "Set work" }</h1>
            <p>{ "Setting exercises is being built. Nothing works here yet." }</p>
        </>
    }
}
