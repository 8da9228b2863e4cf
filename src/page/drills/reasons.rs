//! Why is a contraction not used here? The reasons to choose from, by pointer or by number.

use yew::prelude::*;

/// What is asked.
#[derive(Properties, PartialEq)]
pub struct ReasonsProps {
    /// The letters that are not contracted.
    pub letters: String,
    /// The reasons.
    pub reasons: Vec<&'static str>,
    /// Where the focus goes.
    pub field: NodeRef,
    /// Called with the number of a reason, from 0.
    pub choose: Callback<usize>,
}

/// The reasons.
#[component]
pub fn Reasons(props: &ReasonsProps) -> Html {
    let choose = props.choose.clone();
    let onkeydown = Callback::from(move |event: KeyboardEvent| {
        // A held key answers once.
        if let (Ok(n @ 1..=4), false) = (event.key().parse::<usize>(), event.repeat()) {
            event.prevent_default();
            choose.emit(n - 1);
        }
    });
    html! {
        <div ref={props.field.clone()} tabindex="-1" role="group" aria-labelledby="why" {onkeydown}>
            <p id="why">{ format!("Why is {} not used here? Press a number.", props.letters) }</p>
            <ol class="reasons">{ for props.reasons.iter().enumerate().map(|(n, reason)| {
                let onclick = props.choose.reform(move |_: MouseEvent| n);
                html! { <li><button type="button" {onclick}>{ format!("{} {reason}", n + 1) }</button></li> }
            }) }</ol>
        </div>
    }
}
