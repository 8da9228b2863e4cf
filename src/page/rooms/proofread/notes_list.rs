//! The notes at the cells of a file, as a list to copy or to save.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::manuscript::notes::Notes;
use crate::page::browser::clipboard::copy_text;
use crate::page::browser::held::use_held;
use crate::page::browser::saving::href;

/// The lines of a file, page by page.
pub type Pages = Vec<Vec<Rc<[Cell]>>>;

/// The notes, and the pages that they are at.
#[derive(Properties, PartialEq)]
pub struct NotesListProps {
    /// The notes.
    pub notes: Notes,
    /// The pages.
    pub pages: Rc<Pages>,
}

/// The list.
#[component]
pub fn NotesList(props: &NotesListProps) -> Html {
    let NotesListProps { notes, pages } = props;
    let copied = use_held(String::new);
    let cells: Vec<Vec<Vec<Cell>>> =
        pages.iter().map(|page| page.iter().map(|line| line.to_vec()).collect()).collect();
    let list = notes.list(&cells);
    let copy = {
        let (copied, list) = (copied.clone(), list.clone());
        Callback::from(move |_: MouseEvent| {
            let (copied, list) = (copied.clone(), list.clone());
            wasm_bindgen_futures::spawn_local(async move { copied.set(copy_text(&list).await) });
        })
    };
    html! {
        <section class="marked" aria-label="Notes">
            <h2>{ format!("Notes ({})", notes.len()) }</h2>
            <pre class="list" tabindex="0" role="region" aria-label="List of notes">{ &list }</pre>
            <div class="controls">
                <button type="button" onclick={copy}>{ "Copy the list" }</button>
                <a class="button" href={href(&list)} download="notes.txt">{ "Save the list" }</a>
                <span role="status" aria-label="List copied" class="note">{ (*copied).clone() }</span>
            </div>
        </section>
    }
}
