//! What came of a trial hand-in: mistakes a page against the pass line, and what became of each cause.

use yew::prelude::*;

use crate::exercise::told::tenths;
use crate::exercise::trial::{Attempt, Trial, compare};

/// The tries so far.
#[derive(Properties, PartialEq)]
pub struct TrialResultProps {
    /// What is asked.
    pub trial: Trial,
    /// The tries, in order.
    pub tries: Vec<Attempt>,
    /// Whether it is done with.
    #[prop_or_default]
    pub finished: bool,
}

/// The outcome of a trial.
#[component]
pub fn TrialResult(props: &TrialResultProps) -> Html {
    let Some(last) = props.tries.last() else { return html! {} };
    let passed = last.passes(&props.trial);
    let left = usize::from(props.trial.tries.max(1)).saturating_sub(props.tries.len());
    let mut head = format!(
        "{}. Mistakes a page: {}; pass line: {}.",
        if passed { "Passed" } else { "Not passed" },
        tenths(last.tenths()),
        tenths(usize::from(props.trial.tenths))
    );
    if last.mistakes == 0 {
        head.push_str(" There is no mistake in it.");
    } else if left > 0 && !props.finished {
        head.push_str(" Go through it again by the causes below and hand it in once more, or leave it at this try; the places are shown after that.");
    }
    let second = (props.tries.len() > 1).then(|| compare(&props.tries[props.tries.len() - 2], last));
    html! {
        <section class="marked" aria-label="Trial">
            <h2>{ format!("Try {}", props.tries.len()) }</h2>
            <p role="status" aria-label="Trial result">{ head }</p>
            { match second {
                None if last.causes.is_empty() => html! {},
                None => html! {
                    <table>
                        <thead><tr><th scope="col">{ "Cause" }</th><th scope="col">{ "How often" }</th></tr></thead>
                        <tbody>{ for last.causes.iter().map(|(cause, count)| html! { <tr><td>{ cause.words() }</td><td>{ *count }</td></tr> }) }</tbody>
                    </table>
                },
                Some(compared) => html! {
                    <table>
                        <thead><tr><th scope="col">{ "Cause" }</th><th scope="col">{ "First" }</th><th scope="col">{ "Second" }</th><th scope="col">{ "What became of it" }</th></tr></thead>
                        <tbody>{ for compared.iter().map(|(cause, first, second, change)| html! {
                            <tr><td>{ cause.words() }</td><td>{ *first }</td><td>{ *second }</td><td>{ change.words() }</td></tr>
                        }) }</tbody>
                    </table>
                },
            } }
        </section>
    }
}
