//! Words that are looked for in a long text, in pieces, so that the page never stands still.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::browser::long_work::{Pieces, in_pieces};
use crate::page::widgets::fields::text_of;
use crate::practice::reading::{Reading, Search};

/// What is looked through.
#[derive(Properties, PartialEq)]
pub struct FindProps {
    /// The text.
    pub reading: Rc<Reading>,
    /// Called with page and line of the place that was chosen.
    pub found: Callback<(usize, usize)>,
}

/// What is said of a search.
fn said(search: &Search, reading: &Reading) -> String {
    let places = match search.found.len() {
        0 => "It stands nowhere".to_owned(),
        1 => "It stands in 1 line".to_owned(),
        n if n >= Search::MOST => format!("It stands in {n} lines and more"),
        n => format!("It stands in {n} lines"),
    };
    if search.is_done(reading) {
        format!("{places}.")
    } else {
        format!("{places} up to page {} of {} …", search.pages, reading.count())
    }
}

/// The field, and where it stands.
#[component]
pub fn Find(props: &FindProps) -> Html {
    let wanted = use_held(String::new);
    let search = use_held(Option::<Rc<Search>>::default);
    let work = use_mut_ref(Option::<Pieces>::default);
    let look = {
        let (wanted, search, work, reading) =
            (wanted.clone(), search.clone(), work.clone(), props.reading.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            let (mut at, search, reading) = (Search::new(&wanted), search.clone(), reading.clone());
            if wanted.trim().is_empty() {
                search.set(None);
                return;
            }
            let mut shown = 0;
            *work.borrow_mut() = Some(in_pieces(move || {
                at.go_on(&reading, 4);
                // Drawn when there is something to see, not after every piece.
                let done = at.is_done(&reading);
                if done || at.found.len() > shown || at.pages % 100 == 0 {
                    shown = at.found.len();
                    search.set(Some(Rc::new(at.clone())));
                }
                !done
            }));
        })
    };
    let oninput = {
        let wanted = wanted.clone();
        Callback::from(move |event: InputEvent| wanted.set(text_of(&event)))
    };
    html! {
        <form class="find controls" role="search" onsubmit={look}>
            <label>{ "Find in this text " }<input type="search" value={(*wanted).clone()} {oninput} /></label>
            <button type="submit">{ "Find" }</button>
            <p role="status">{ search.as_ref().as_ref().map(|search| said(search, &props.reading)).unwrap_or_default() }</p>
            if let Some(search) = &*search {
                <ul class="found">
                    { for search.found.iter().map(|place| {
                        let (found, to) = (props.found.clone(), (place.page, place.line));
                        html! {
                            <li><button type="button" class="quiet" onclick={Callback::from(move |_: MouseEvent| found.emit(to))}>
                                { format!("Page {}, line {}: {}", place.page + 1, place.line + 1, place.print) }
                            </button></li>
                        }
                    }) }
                </ul>
            }
        </form>
    }
}
