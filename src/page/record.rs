//! The room "Record".

use yew::prelude::*;

/// The room.
#[component]
pub fn Room() -> Html {
    html! {
        <>
            <h1>{ "Record" }</h1>
            <p>{ "The record is being built. Nothing works here yet." }</p>
        </>
    }
}
