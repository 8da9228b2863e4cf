//! A shared exercise: making its link, and opening one.

use yew::prelude::*;

/// A shared exercise's payload, as the address carries it.
#[derive(Properties, PartialEq)]
pub struct SharedProps {
    /// All after `#/x/`.
    pub payload: String,
}

/// The link of an exercise made from a prompt, or why there is none.
pub fn link_of(
    _title: &str,
    _text: &str,
    _contracted: bool,
    _numbers: bool,
    _hidden: bool,
) -> Result<String, String> {
    Err("Links are being built.".to_owned())
}

/// Puts a link on the clipboard and says what became of it.
pub async fn copy(link: &str) -> String {
    let clipboard = gloo::utils::window().navigator().clipboard();
    match wasm_bindgen_futures::JsFuture::from(clipboard.write_text(link)).await {
        Ok(_) => "The link is on the clipboard.".to_owned(),
        Err(_) => format!("This browser does not let the page copy. The link: {link}"),
    }
}

/// A shared exercise, opened from its link.
#[component]
pub fn Shared(props: &SharedProps) -> Html {
    let _ = &props.payload;
    html! { <super::write::Room /> }
}
