//! A result slip that a learner sent back.

use yew::prelude::*;

use crate::exercise::Slip;

/// The slip's payload, as the address carries it.
#[derive(Properties, PartialEq)]
pub struct SlipProps {
    /// All after `#/r/`.
    pub payload: String,
}

/// The room.
#[component]
pub fn Room(props: &SlipProps) -> Html {
    let opened = use_memo(props.payload.clone(), |payload| Slip::from_payload(payload));
    let slip = match &*opened {
        Ok(slip) => slip,
        Err(error) => {
            return html! {
                <>
                    <h1>{ "This slip could not be opened" }</h1>
                    <p class="alert" role="alert">{ error.to_string() }</p>
                    <p>{ "Ask the learner to send it again, as a file if the link was cut." }</p>
                </>
            };
        }
    };
    html! {
        <>
            <h1>{ if slip.title.is_empty() { "Result slip" } else { slip.title.as_str() } }</h1>
            <p class="note">{ "This is what the learner's own computer reported; nothing here has been verified." }</p>
            <table>
                <tbody>
                    if !slip.by.is_empty() { <tr><th scope="row">{ "By" }</th><td>{ &slip.by }</td></tr> }
                    if !slip.day.is_empty() { <tr><th scope="row">{ "Day" }</th><td>{ &slip.day }</td></tr> }
                    <tr><th scope="row">{ "Task" }</th><td>{ slip.task.words() }</td></tr>
                    <tr><th scope="row">{ "Right" }</th><td>{ format!("{} of {}", slip.right, slip.asked) }</td></tr>
                    <tr><th scope="row">{ "Time" }</th><td>{ format!("{} min {:02} s", slip.seconds / 60, slip.seconds % 60) }</td></tr>
                    <tr><th scope="row">{ "Help" }</th><td>{ if slip.helped { "used" } else { "not used" } }</td></tr>
                </tbody>
            </table>
            if !slip.findings.is_empty() {
                <h2>{ "What was found" }</h2>
                <table>
                    <thead><tr><th>{ "What" }</th><th>{ "How often" }</th></tr></thead>
                    <tbody>
                        { for slip.findings.iter().map(|found| html! { <tr><td>{ &found.name }</td><td>{ found.times }</td></tr> }) }
                    </tbody>
                </table>
            }
        </>
    }
}
