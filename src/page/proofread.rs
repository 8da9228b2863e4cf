//! The room "Proofread".

use yew::prelude::*;

/// The room.
#[component]
pub fn Room() -> Html {
    html! {
        <>
            <h1>{ "Proofread" }</h1>
            <p>{ "Proofreading is being built. Nothing works here yet." }</p>
        </>
    }
}
