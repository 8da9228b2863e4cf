//! A result slip that a learner sent back.

use yew::prelude::*;

/// The slip's payload, as the address carries it.
#[derive(Properties, PartialEq)]
pub struct SlipProps {
    /// All after `#/r/`.
    pub payload: String,
}

/// The room.
#[component]
pub fn Room(props: &SlipProps) -> Html {
    let _ = &props.payload;
    html! {
        <>
            <h1>{ "Result slip" }</h1>
            <p>{ "Reading result slips is being built. Nothing works here yet." }</p>
        </>
    }
}
