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
    let slip = use_memo(props.payload.clone(), |payload| Slip::from_payload(payload));
    let slip = match &*slip {
        Ok(slip) => slip,
        Err(error) => {
            return html! {
                <>
                    <h1>{ "This link could not be opened" }</h1>
                    <p class="alert" role="alert">{ error.to_string() }</p>
                    <p>{ "Nothing that you have saved was touched. Choose a room above to go on." }</p>
                </>
            };
        }
    };
    let or_none = |text: &str| if text.is_empty() { "not given".to_owned() } else { text.to_owned() };
    let row = |name: &str, value: String| html! { <tr><th scope="row">{ name }</th><td>{ value }</td></tr> };
    html! {
        <>
            <h1>{ "Result slip" }</h1>
            <p class="note">{ "The learner’s own page wrote this slip; whoever has the link could have changed it." }</p>
            <table>
                <tbody>
                    { row("Exercise", or_none(&slip.title)) }
                    { row("Asked", slip.task.words().to_owned()) }
                    { row("By", or_none(&slip.by)) }
                    { row("Day", or_none(&slip.day)) }
                    { row("Right", format!("{} of {}", slip.right, slip.asked)) }
                    { row("Time", format!("{} min {} s", slip.seconds / 60, slip.seconds % 60)) }
                    { row("Help used", if slip.helped { "yes" } else { "no" }.to_owned()) }
                </tbody>
            </table>
            if !slip.findings.is_empty() {
                <h2>{ "Findings" }</h2>
                <table>
                    <thead><tr><th scope="col">{ "Kind" }</th><th scope="col">{ "Times" }</th></tr></thead>
                    <tbody>{ for slip.findings.iter().map(|finding| row(&finding.name, finding.times.to_string())) }</tbody>
                </table>
            }
        </>
    }
}
