//! What stands in the first download for what only the whole page holds, until that has come.

use gloo::timers::callback::Timeout;
use yew::prelude::*;

use crate::page::browser::halves::{self, WORTH_A_WORD, focus_left, take_piece};
use crate::page::browser::held::{Held, use_held};
use crate::page::states::hand_over::{Focus, Piece};

/// What is to be done when the whole page is here.
#[derive(Properties, PartialEq)]
pub struct ElsewhereProps {
    /// The piece of a room that it stands for; nothing for a whole room.
    #[prop_or_default]
    pub piece: Option<Piece>,
}

/// Stands in the place of what the first download does not hold until the whole page is here.
#[component]
pub fn Elsewhere(props: &ElsewhereProps) -> Html {
    let piece = props.piece;
    // Apart from each other: a network that refuses at once is not spoken of as a slow one afterwards.
    let (slow, failed) = (use_held(bool::default), use_held(bool::default));
    {
        let (slow, failed) = (slow.clone(), failed.clone());
        use_effect_with((), move |()| {
            let timer = Timeout::new(WORTH_A_WORD, move || slow.set(true));
            bring(piece, failed);
            move || drop(timer)
        });
    }
    let again = {
        let failed = failed.clone();
        Callback::from(move |_: MouseEvent| {
            failed.set(false);
            bring(piece, failed.clone());
        })
    };
    html! {
        if *failed {
            if piece.is_none() { <h1>{ "This room could not be loaded" }</h1> }
            <p class="alert" role="alert">{ "The network did not bring this part of the page. What you have written and recorded is safe. Reading and writing go on without it." }</p>
            <button type="button" class="main" onclick={again}>{ "Try again" }</button>
        } else {
            if piece.is_none() { <h1 class="sr">{ "One moment" }</h1> }
            <p role="status" aria-label="Loading">{ if *slow { "This part of the page is being loaded …" } else { "" } }</p>
        }
    }
}

/// Asks for the whole page; says when it does not come.
fn bring(piece: Option<Piece>, failed: Held<bool>) {
    wasm_bindgen_futures::spawn_local(async move {
        if !halves::bring(piece).await {
            failed.set(true);
        }
    });
}

/// What opens under a line, when it is in the whole page alone.
#[derive(Properties, PartialEq)]
pub struct FoldedProps {
    /// The piece, for [`use_opened`].
    pub piece: Piece,
    /// The line.
    pub line: &'static str,
    /// The class of the whole.
    pub class: &'static str,
}

/// Stands in the first download for a `details` of the whole page, which comes when it is opened.
#[component]
pub fn Folded(props: &FoldedProps) -> Html {
    let open = use_held(bool::default);
    let ontoggle = {
        let open = open.clone();
        Callback::from(move |event: Event| {
            let details: web_sys::Element = event.target_unchecked_into();
            open.set(details.has_attribute("open"));
        })
    };
    html! {
        <details class={props.class} data-later="" {ontoggle}>
            <summary>{ props.line }</summary>
            if *open { <Elsewhere piece={Some(props.piece)} /> }
        </details>
    }
}

/// Whether the first download has left a [`Folded`] to be opened here; its line, to which this belongs, then has the focus again.
#[hook]
pub fn use_opened(piece: Piece) -> (bool, NodeRef) {
    let summary = use_node_ref();
    let opened = use_memo((), move |()| take_piece(piece));
    {
        let (summary, opened) = (summary.clone(), *opened);
        use_effect_with((), move |()| {
            // Who has gone on to something else meanwhile is not called back.
            if let (true, Focus::Line, Some(line)) =
                (opened, focus_left(), summary.cast::<web_sys::HtmlElement>())
            {
                let _ = line.focus();
            }
        });
    }
    (*opened, summary)
}
