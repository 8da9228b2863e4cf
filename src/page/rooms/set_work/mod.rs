//! The room "Set work": a teacher makes an exercise, sees it, and gets its link, the same as a QR code, and a file.

pub mod choices;
pub mod class_sheet;
pub mod own_shelf;
pub mod send;
pub mod set_details;

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::{Exercise, Task, over_limits};
use crate::page::browser::held::use_held;
use crate::page::browser::site::{self, SiteAddress};
use crate::page::browser::store;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::exercise::Preview;
use crate::page::rooms::set_work::choices::{BookChoice, Choices};
use crate::page::rooms::set_work::class_sheet::ClassTable;
use crate::page::rooms::set_work::own_shelf::OwnShelf;
use crate::page::rooms::set_work::send::Send;
use crate::page::rooms::set_work::set_details::{SignChoice, TaskDetails};
use crate::page::widgets::open_work::OpenWork;
use crate::page::widgets::switch::Switch;
use crate::ueb::Edition;

const KEY: &str = "set";
const VERSION: u32 = 1;

/// The room.
#[component]
pub fn Room() -> Html {
    let settings = use_settings();
    let set = use_held(|| {
        let fresh =
            Exercise { contracted: settings.contracted, edition: settings.edition(), ..Exercise::default() };
        Rc::new(store::load_any::<Exercise>(KEY, VERSION).unwrap_or(fresh))
    });
    let seen = use_held(bool::default);
    let site = use_held(site::site);
    let on_site = {
        let site = site.clone();
        Callback::from(move |()| site.set(site::site()))
    };
    {
        use_effect_with((*set).clone(), |set| {
            // What the teacher types is kept; a browser that keeps nothing says so on every other page.
            let _ = store::save_any(KEY, VERSION, &**set);
        });
    }
    let change = |with: fn(&mut Exercise, String)| {
        let set = set.clone();
        Callback::from(move |value: String| {
            let mut new = (**set).clone();
            with(&mut new, value);
            set.set(Rc::new(new));
        })
    };
    let switch = |with: fn(&mut Exercise, bool)| {
        let set = set.clone();
        Callback::from(move |on: bool| {
            let mut new = (**set).clone();
            with(&mut new, on);
            set.set(Rc::new(new));
        })
    };
    let typed = |to: Callback<String>| {
        Callback::from(move |event: InputEvent| {
            to.emit(event.target_unchecked_into::<web_sys::HtmlInputElement>().value());
        })
    };
    let area = |to: Callback<String>| {
        Callback::from(move |event: InputEvent| {
            to.emit(event.target_unchecked_into::<web_sys::HtmlTextAreaElement>().value());
        })
    };
    let chosen = {
        let to = change(|set, value| {
            // What belongs to one task only does not travel with another.
            (set.plants, set.trial, set.answers, set.shuffled, set.divide) =
                (None, None, false, false, false);
            (set.cells, set.lines) = (None, None);
            set.task =
                value.parse().ok().and_then(|at: usize| Task::ALL.get(at).copied()).unwrap_or_default();
            if matches!(set.task, Task::Transcribe | Task::Proofread) {
                set.signs.clear();
                set.items = None;
            }
        });
        Callback::from(move |event: Event| {
            to.emit(event.target_unchecked_into::<web_sys::HtmlSelectElement>().value());
        })
    };
    let title = typed(change(|set, value| set.title = value));
    let items = typed(change(|set, value| set.items = value.parse().ok()));
    let text = area(change(|set, value| {
        set.text = value;
        // Changed, it is no longer the shelf's.
        set.book.clear();
    }));

    let put = {
        let set = set.clone();
        Callback::from(move |new: Exercise| set.set(Rc::new(new)))
    };
    let over = over_limits(&set);
    let link = (!set.is_empty() && over.is_empty()).then(|| site::link_of(&set));
    let see = {
        let seen = seen.clone();
        Callback::from(move |_: MouseEvent| seen.set(!*seen))
    };
    html! {
        <>
            <h1>{ "Set work" }</h1>
            <p class="note">{ "An exercise travels whole in its link: no account, no server. What you type here stays in this browser." }</p>
            <div class="set">
                <label>{ "Title" }<br /><input type="text" value={set.title.clone()} oninput={title} /></label>
                <label>{ "What to do" }<br />
                    <select onchange={chosen}>
                        { for Task::ALL.iter().enumerate().map(|(at, task)| html! {
                            <option value={at.to_string()} selected={*task == set.task}>{ task.words() }</option>
                        }) }
                    </select>
                </label>
                if set.signs.is_empty() { <BookChoice set={(*set).clone()} put={put.clone()} /> }
                if !matches!(set.task, Task::Transcribe | Task::Proofread) {
                    <label>{ "How many items (empty: all)" }<br />
                        <input type="number" min="1" max="1000" value={set.items.map(|items| items.to_string()).unwrap_or_default()} oninput={items} />
                    </label>
                }
            </div>
            if set.signs.is_empty() {
                <p><label>{ if matches!(set.task, Task::Transcribe | Task::Proofread) { "Text (# heading, - list item, *emphasis*)" } else { "Text, one item a line" } }
                    <textarea rows="6" value={set.text.clone()} oninput={text} /></label></p>
            }
            { for over.iter().map(|over| html! { <p class="alert" role="alert">{ over }</p> }) }
            if !matches!(set.task, Task::Transcribe | Task::Proofread) {
                <SignChoice set={(*set).clone()} put={put.clone()} />
            }
            <TaskDetails set={(*set).clone()} put={put.clone()} />
            <Choices set={(*set).clone()} put={put.clone()} />
            <div class="controls">
                <Switch label="Contracted" on={set.contracted} set={switch(|set, on| set.contracted = on)} />
                <Switch label="Third edition of the rules (2024)" on={set.edition == Edition::Third}
                    set={switch(|set, on| set.edition = if on { Edition::Third } else { Edition::Second })} />
                <Switch label="Shown as dot numbers only" on={set.dot_numbers_only} set={switch(|set, on| set.dot_numbers_only = on)} />
                <Switch label="Hide the reading until handed in" on={set.hide_reading} set={switch(|set, on| set.hide_reading = on)} />
                <Switch label="Help may be asked for" on={set.help} set={switch(|set, on| set.help = on)} />
            </div>
            if site::is_file() { <SiteAddress {on_site} /> }
            { match link {
                None if !over.is_empty() => html! {},
                None => html! { <p class="note">{ "Type or paste a text or choose signs, and the link appears here." }</p> },
                Some(Err(why)) => html! { <p class="alert" role="alert">{ why }</p> },
                Some(Ok(link)) => html! {
                    <>
                        <Send link={link.clone()} label="The exercise's link" field="Link" file="exercise.txt">
                            <button type="button" aria-expanded={if *seen { "true" } else { "false" }} onclick={see}>{ "See it as the learner will" }</button>
                        </Send>
                        if *seen {
                            <p class="note">{ "Try it: nothing you do here is kept or recorded. " }<a href={site::here(&link)}>{ "Open it on a page of its own" }</a></p>
                            <Preview exercise={(*set).clone()} />
                        }
                    </>
                },
            } }
            <OwnShelf set={(*set).clone()} put={put.clone()} />
            <ClassTable on_exercise={put} />
            <OpenWork />
        </>
    }
}
