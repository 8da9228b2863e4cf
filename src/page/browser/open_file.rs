//! A file from the disk or dropped: read, told apart, refused in words. Nothing leaves the page.

use std::rc::Rc;

use gloo::file::callbacks::{FileReader, read_as_bytes};
use yew::prelude::*;

use crate::manuscript::file::{self, FileError};
use crate::page::browser::long_work;

/// Reads a file and hands on its name and its text, or says why it is refused.
///
/// A long text is handed on after a word about it, unless what is done with it is quick (`at_once`).
#[hook]
fn use_taking(
    open: Callback<(String, Rc<str>)>,
    refuse: Callback<String>,
    at_once: bool,
) -> Callback<web_sys::File> {
    let reader = use_mut_ref(|| None::<FileReader>);
    Callback::from(move |chosen: web_sys::File| {
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
                Ok(text) => {
                    let size = if at_once { 0 } else { text.len() };
                    long_work::on(size, move || open.emit((name, text.into())));
                }
                Err(why) => refuse.emit(why),
            }
        }));
    })
}

/// What is done with a file that is dropped: it is taken once, by the first place that it meets.
fn on_drop(take: Callback<web_sys::File>) -> Callback<DragEvent> {
    Callback::from(move |event: DragEvent| {
        if event.default_prevented() {
            return;
        }
        event.prevent_default();
        if let Some(chosen) =
            event.data_transfer().and_then(|data| data.files()).and_then(|files| files.get(0))
        {
            take.emit(chosen);
        }
    })
}

/// Lets a file be dropped here; without it the browser would leave the page and open the file.
fn allow(event: DragEvent) {
    event.prevent_default();
}

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
    /// Whether what is done with a long text is as quick as with a short one.
    #[prop_or_default]
    pub at_once: bool,
}

/// A field that takes a file by choosing or by dropping: `<OpenFile label=".." open=.. refuse=.. />`.
#[component]
pub fn OpenFile(props: &OpenFileProps) -> Html {
    let take = use_taking(props.open.clone(), props.refuse.clone(), props.at_once);
    let onchange = {
        let take = take.clone();
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            if let Some(chosen) = input.files().and_then(|files| files.get(0)) {
                take.emit(chosen);
            }
            // The same file can be chosen again.
            input.set_value("");
        })
    };
    html! {
        <div class="drop" ondrop={on_drop(take)} ondragover={allow}>
            <label>{ format!("{} ", props.label) }<input type="file" accept={props.accept.clone()} {onchange} /></label>
            <span class="note">{ " or drop it here" }</span>
        </div>
    }
}

/// A part of the page that takes what is dropped anywhere on it.
#[derive(Properties, PartialEq)]
pub struct DropAreaProps {
    /// Its class.
    pub class: Classes,
    /// What stands in it.
    pub children: Html,
    /// Called with the file's name and its text.
    pub open: Callback<(String, Rc<str>)>,
    /// Called with the reason when a file is refused.
    pub refuse: Callback<String>,
}

/// `<DropArea class=".." open=.. refuse=..>…</DropArea>`.
#[component]
pub fn DropArea(props: &DropAreaProps) -> Html {
    let take = use_taking(props.open.clone(), props.refuse.clone(), false);
    html! {
        <div class={props.class.clone()} ondrop={on_drop(take)} ondragover={allow}>{ props.children.clone() }</div>
    }
}
