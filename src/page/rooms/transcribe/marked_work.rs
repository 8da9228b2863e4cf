//! How marking came out, under the writing: the outcome as it is told, and the findings.

use yew::prelude::*;

use crate::page::marked::findings::{Findings, Outcome};
use crate::page::states::desk::{Action, MarkedLines};

/// The marked work.
#[derive(Properties, PartialEq)]
pub struct MarkedWorkProps {
    /// The findings, once it is marked and they may be seen.
    pub marked: Option<MarkedLines>,
    /// Something was written since.
    pub stale: bool,
    /// How many lines a page has.
    pub page: usize,
    /// The finding that is open.
    pub open: Option<usize>,
    /// Opens one, and books a mistake.
    pub act: Callback<Action>,
}

/// The outcome and the findings. The live region stands there before anything is marked.
#[component]
pub fn MarkedWork(props: &MarkedWorkProps) -> Html {
    let MarkedWorkProps { marked, stale, page, open, act } = props;
    html! {
        <>
            <Outcome marked={marked.as_ref().map(|lines| lines.marked.clone())} />
            if let Some(lines) = marked {
                if *stale { <p class="note">{ "You have written on since this was marked. Mark again to see what is left." }</p> }
                <Findings print={AttrValue::from(lines.print.clone())} lines={lines.lines.clone()} marked={lines.marked.clone()} page={Some(*page)}
                    open={*open} on_open={act.reform(Action::Open)} on_book={Some(act.reform(Action::Book))} kept_at={Some(lines.at)} />
            }
        </>
    }
}
