//! A file from the disk or dropped: read, told apart, refused in words. Nothing leaves the page.

use std::rc::Rc;

use gloo::file::callbacks::{FileReader, read_as_bytes};
use yew::prelude::*;

use crate::manuscript::file::{self, FileError};

/// What to do with a file.
#[derive(Properties, PartialEq)]
pub struct OpenFileProps {
    /// What the field is called.
    pub label: AttrValue,
    /// The kinds of file offered first.
    #[prop_or(AttrValue::Static(".brf,.txt,.md,text/plain"))]
    pub accept: AttrValue,
    /// Called with the file's name and its text.
    pub open: Callback<(String, Rc<str>)>,
    /// Called with the reason when a file is refused.
    pub refuse: Callback<String>,
}

/// A field that takes a file by choosing or by dropping: `<OpenFile label=".." open=.. refuse=.. />`.
#[component]
pub fn OpenFile(props: &OpenFileProps) -> Html {
    let reader = use_mut_ref(|| None::<FileReader>);
    let take = {
        let (open, refuse) = (props.open.clone(), props.refuse.clone());
        Rc::new(move |chosen: web_sys::File| {
            let chosen = gloo::file::File::from(chosen);
            if chosen.size() > file::LIMIT as u64 {
                refuse.emit(FileError::TooLarge(chosen.size() as usize).to_string());
                return;
            }
            let (name, open, refuse) = (chosen.name(), open.clone(), refuse.clone());
            *reader.borrow_mut() = Some(read_as_bytes(&chosen, move |bytes| {
                match bytes
                    .map_err(|error| error.to_string())
                    .and_then(|bytes| file::text(&bytes).map_err(|error| error.to_string()))
                {
                    Ok(text) => open.emit((name, text.into())),
                    Err(why) => refuse.emit(why),
                }
            }));
        })
    };
    let onchange = {
        let take = take.clone();
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            if let Some(chosen) = input.files().and_then(|files| files.get(0)) {
                take(chosen);
            }
            // The same file can be chosen again.
            input.set_value("");
        })
    };
    let ondrop = {
        Callback::from(move |event: DragEvent| {
            event.prevent_default();
            if let Some(chosen) =
                event.data_transfer().and_then(|data| data.files()).and_then(|files| files.get(0))
            {
                take(chosen);
            }
        })
    };
    let ondragover = Callback::from(|event: DragEvent| event.prevent_default());
    html! {
        <div class="drop" {ondrop} {ondragover}>
            <label>{ format!("{} ", props.label) }<input type="file" accept={props.accept.clone()} {onchange} /></label>
            <span class="note">{ " or drop it here" }</span>
        </div>
    }
}
