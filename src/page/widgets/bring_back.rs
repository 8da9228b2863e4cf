//! What was put aside just now, and the way to bring it back: `<BringBack what=".." back=.. />`. It stands there until something
//! is changed.

use yew::prelude::*;

/// What was put aside, and how it is brought back.
#[derive(Properties, PartialEq)]
pub struct BringBackProps {
    /// What became of it, in a sentence.
    pub what: AttrValue,
    /// Brings it back; with none, nothing is set aside.
    pub back: Option<Callback<()>>,
}

/// The word of it and its button. The live region stands there before anything is put into it.
#[component]
pub fn BringBack(props: &BringBackProps) -> Html {
    html! {
        <div class="brought" role="status" aria-label="Set aside">
            if let Some(back) = &props.back {
                <span>{ &props.what }</span>
                <button type="button" class="quiet" onclick={back.reform(|_: MouseEvent| ())}>{ "Bring it back (Ctrl+Z)" }</button>
            }
        </div>
    }
}
