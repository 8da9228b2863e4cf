//! What marking found in what was written, and every sign of the print.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::marking::Marked;
use crate::marking::cause::Booked;
use crate::page::marked::findings::{Findings, Outcome};
use crate::page::widgets::why::Why;

/// Marked writing.
#[derive(Properties, PartialEq)]
pub struct MarksProps {
    /// The print that was to be written.
    pub print: String,
    /// Contracted or not.
    pub contracted: bool,
    /// What was written, line by line.
    pub written: Rc<Vec<Vec<Cell>>>,
    /// What marking found, once it was marked.
    pub marked: Option<Rc<Marked>>,
    /// The finding that is open.
    pub open: Option<usize>,
    /// Called with the finding that is to be open.
    pub on_open: Callback<Option<usize>>,
    /// Called with what a mistake is booked to.
    pub on_book: Callback<Booked>,
}

/// The findings, and what follows them.
#[component]
pub fn Marks(props: &MarksProps) -> Html {
    let MarksProps { print, contracted, written, marked, open, on_open, on_book } = props;
    html! {
        <>
            <Outcome marked={marked.clone()} />
            if let Some(marked) = marked {
                <Findings print={print.clone()} lines={written.clone()} marked={marked.clone()} open={*open} on_open={on_open.clone()}
                    on_book={Some(on_book.clone())} />
                <details>
                    <summary>{ "Every sign of this text, and why" }</summary>
                    <Why print={print.clone()} contracted={*contracted} />
                </details>
            }
        </>
    }
}
