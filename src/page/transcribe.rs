//! The room "Transcribe".

use yew::prelude::*;

/// The room.
#[component]
pub fn Room() -> Html {
    html! {
        <>
            <h1>{ "Transcribe" }</h1>
            <p>{ "Transcribing against a source is being built. Nothing works here yet." }</p>
        </>
    }
}
