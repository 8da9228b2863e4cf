//! A link or an exercise file opened by hand, for those whom a link does not reach.

use gloo::file::callbacks::{FileReader, read_as_text};
use yew::prelude::*;

use crate::exercise;
use crate::page::browser::held::use_held;
use crate::page::browser::site::learn_site;
use crate::page::route;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::elsewhere::use_opened;

/// The largest exercise file: a link's longest payload, and much around it.
const LARGEST: f64 = 1_000_000.0;
/// The line under which [`OpenWork`] opens.
pub const LINE: &str = "Open a link or an exercise file";

/// A link or an exercise file, opened by hand.
#[component]
pub fn OpenWork() -> Html {
    let (open_at_once, line) = use_opened(Piece::OpenWork);
    let text = use_held(String::new);
    let said = use_held(String::new);
    let reader = use_mut_ref(|| None::<FileReader>);
    let open = {
        let said = said.clone();
        Callback::from(move |text: String| match exercise::in_link(&text) {
            Some((kind, payload)) => {
                learn_site(&text, kind.address());
                route::go(&format!("{}{payload}", kind.address()));
            }
            None => said.set(
                "There is no link of an exercise in this. Copy the whole link, or choose the file again."
                    .to_owned(),
            ),
        })
    };
    let oninput = {
        let text = text.clone();
        Callback::from(move |event: InputEvent| {
            text.set(event.target_unchecked_into::<web_sys::HtmlInputElement>().value());
        })
    };
    let onsubmit = {
        let (open, text) = (open.clone(), text.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            open.emit((*text).clone());
        })
    };
    let onchange = {
        let (open, said, reader) = (open, said.clone(), reader);
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let Some(file) = input.files().and_then(|files| files.get(0)) else { return };
            if file.size() > LARGEST {
                said.set("This file is too large to be an exercise.".to_owned());
                return;
            }
            let (open, said) = (open.clone(), said.clone());
            let task =
                read_as_text(&gloo::file::Blob::from(gloo::file::File::from(file)), move |text| match text {
                    Ok(text) => open.emit(text),
                    Err(_) => said.set("The file could not be read. Choose it again.".to_owned()),
                });
            *reader.borrow_mut() = Some(task);
        })
    };
    html! {
        <details open={open_at_once}>
            <summary ref={line}>{ LINE }</summary>
            <form {onsubmit} class="controls open-work">
                <label>{ "Link " }<input type="text" value={(*text).clone()} {oninput} autocomplete="off" /></label>
                <button type="submit">{ "Open the link" }</button>
                <label>{ "Exercise file " }<input type="file" accept=".txt,text/plain" {onchange} /></label>
            </form>
            <p role="status" aria-label="Opening">{ (*said).clone() }</p>
        </details>
    }
}
