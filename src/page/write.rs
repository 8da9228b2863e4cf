//! The room "Write".

use yew::prelude::*;

/// The room.
#[component]
pub fn Room() -> Html {
    html! {
        <>
            <h1>{ "Write" }</h1>
            <p>{ "Six-key writing is being built." }</p>
        </>
    }
}

/// A shared exercise's payload, as the address carries it.
#[derive(Properties, PartialEq)]
pub struct SharedProps {
    /// All after `#/x/`.
    pub payload: String,
}

/// A shared exercise, opened from its link.
#[component]
pub fn Shared(props: &SharedProps) -> Html {
    let _ = &props.payload;
    html! { <Room /> }
}
