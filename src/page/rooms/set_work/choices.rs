//! Set work, what a teacher chooses of any exercise: a text of the shelf, tries, order, what counts, what is asked of the
//! learner, the sheet.

use yew::prelude::*;

use crate::exercise::{Asks, Exercise, TRIES, Task};
use crate::marking::plant::KINDS;
use crate::page::browser::data;
use crate::page::browser::held::use_held;
use crate::page::rooms::exercise::book::print_of;
use crate::page::rooms::set_work::set_details::DetailsProps;
use crate::page::widgets::switch::Switch;
use crate::practice::shelf;

type Change = fn(&mut Exercise, String);

/// The choices.
#[component]
pub fn Choices(props: &DetailsProps) -> Html {
    let set = &props.set;
    let with = |change: Change| {
        let (set, put) = (set.clone(), props.put.clone());
        move |value: String| {
            let mut new = (*set).clone();
            change(&mut new, value);
            put.emit(new);
        }
    };
    let chosen = |change: Change| {
        let with = with(change);
        Callback::from(move |event: Event| {
            with(event.target_unchecked_into::<web_sys::HtmlSelectElement>().value())
        })
    };
    let typed = |change: Change| {
        let with = with(change);
        Callback::from(move |event: Event| {
            with(event.target_unchecked_into::<web_sys::HtmlInputElement>().value())
        })
    };
    let on = |change: fn(&mut Exercise, bool)| {
        let (set, put) = (set.clone(), props.put.clone());
        Callback::from(move |on: bool| {
            let mut new = (*set).clone();
            change(&mut new, on);
            put.emit(new);
        })
    };
    let number = |number: Option<u8>| number.map(|number| number.to_string()).unwrap_or_default();
    html! {
        <details class="more">
            <summary>{ "Tries, order, what counts, the slip" }</summary>
            <div class="set">
                if set.trial.is_none() {
                    <label>{ "Tries (empty: as many as they like)" }<br />
                        <input type="number" min="1" max={TRIES.to_string()} value={number(set.tries)} onchange={typed(|set, value| set.tries = value.parse().ok().map(|tries: u8| tries.clamp(1, TRIES)))} />
                    </label>
                }
                <label>{ "On the slip the learner puts" }<br />
                    <select onchange={chosen(|set, value| set.asks = Asks::ALL.into_iter().find(|asks| asks.words() == value).unwrap_or_default())}>
                        { for Asks::ALL.iter().map(|asks| html! { <option value={asks.words()} selected={*asks == set.asks}>{ asks.words() }</option> }) }
                    </select>
                </label>
                if set.task == Task::Transcribe {
                    <label>{ "Cells in a line" }<br />
                        <input type="number" min="12" max="60" placeholder="40" value={number(set.cells)} onchange={typed(|set, value| set.cells = value.parse().ok().map(|cells: u8| cells.clamp(12, 60)))} />
                    </label>
                    <label>{ "Lines on a page" }<br />
                        <input type="number" min="5" max="40" placeholder="25" value={number(set.lines)} onchange={typed(|set, value| set.lines = value.parse().ok().map(|lines: u8| lines.clamp(5, 40)))} />
                    </label>
                    <Switch label="Words divided at a line’s end" on={set.divide} set={on(|set, on| set.divide = on)} />
                }
                if set.is_a_round() { <Switch label="Items in another order each time" on={set.shuffled} set={on(|set, on| set.shuffled = on)} /> }
            </div>
            if !set.is_a_round() && set.task != Task::Proofread { <Counted set={set.clone()} put={props.put.clone()} /> }
        </details>
    }
}

/// A text of the shelf in place of one's own: the link then carries its name alone.
#[component]
pub fn BookChoice(props: &DetailsProps) -> Html {
    let books = use_held(Vec::<(String, String)>::new);
    {
        let books = books.clone();
        use_effect_with((), move |()| {
            wasm_bindgen_futures::spawn_local(async move {
                let Some(list) = data::file("books.txt").await else { return };
                let all = shelf::parse_list(&list).into_iter();
                let named =
                    |book: shelf::Listed| (book.file.trim_end_matches(".txt").to_owned(), book.head.title);
                books.set(all.map(named).collect());
            });
        });
    }
    let onchange = {
        let (set, put) = (props.set.clone(), props.put.clone());
        Callback::from(move |event: Event| {
            let (set, put) = (set.clone(), put.clone());
            let book = event.target_unchecked_into::<web_sys::HtmlSelectElement>().value();
            if book.is_empty() {
                // The text stays, as one's own.
                put.emit(Exercise { book, ..(*set).clone() });
                return;
            }
            wasm_bindgen_futures::spawn_local(async move {
                if let Some(text) = print_of(&book).await {
                    put.emit(Exercise { book, text, ..(*set).clone() });
                }
            });
        })
    };
    html! {
        <label>{ "Text" }<br />
            <select {onchange}>
                <option value="" selected={props.set.book.is_empty()}>{ "Your own" }</option>
                { for books.iter().map(|(file, title)| html! { <option value={file.clone()} selected={*file == props.set.book}>{ title }</option> }) }
            </select>
        </label>
    }
}

/// Which mistakes count.
#[component]
fn Counted(props: &DetailsProps) -> Html {
    let kind = |name: &'static str| {
        let (set, put) = (props.set.clone(), props.put.clone());
        Callback::from(move |counts: bool| {
            let mut new = (*set).clone();
            new.uncounted.retain(|own| own != name);
            if !counts {
                new.uncounted.push(name.to_owned());
            }
            put.emit(new);
        })
    };
    html! {
        <fieldset>
            <legend>{ "Mistakes that count" }</legend>
            <div class="set">
                { for KINDS.iter().map(|one| html! {
                    <Switch label={one.words()} on={!props.set.uncounted.iter().any(|name| name == one.name())} set={kind(one.name())} />
                }) }
            </div>
        </fieldset>
    }
}
