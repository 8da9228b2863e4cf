//! The room "Set work": a teacher makes an exercise, sees it, and gets its link, the same as a QR code, and a file.

use std::rc::Rc;

use yew::prelude::*;

use super::from_file::{self, SiteAddress};
use super::hand_in::{LINK, href};
use super::held::use_held;
use super::set_details::{SignChoice, TaskDetails};
use super::settings::use_settings;
use super::shared;
use super::store;
use super::write::Switch;
use crate::exercise::{Exercise, TEXT, TITLE, Task};

const KEY: &str = "set";
const VERSION: u32 = 1;

/// The room.
#[component]
pub fn Room() -> Html {
    let settings = use_settings();
    let set = use_held(|| {
        let fresh = Exercise { contracted: settings.contracted, ..Exercise::default() };
        Rc::new(store::load_any::<Exercise>(KEY, VERSION).unwrap_or(fresh))
    });
    let said = use_held(String::new);
    let seen = use_held(bool::default);
    let site = use_held(from_file::site);
    let on_site = {
        let site = site.clone();
        Callback::from(move |()| site.set(from_file::site()))
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
            (set.plants, set.trial, set.answers) = (None, None, false);
            set.task =
                value.parse().ok().and_then(|at: usize| Task::ALL.get(at).copied()).unwrap_or_default();
            if matches!(set.task, Task::Transcribe | Task::Proofread) {
                set.signs.clear();
            }
        });
        Callback::from(move |event: Event| {
            to.emit(event.target_unchecked_into::<web_sys::HtmlSelectElement>().value());
        })
    };
    let title = typed(change(|set, value| set.title = value.chars().take(TITLE).collect()));
    let items = typed(change(|set, value| set.items = value.parse().ok()));
    let text = area(change(|set, value| set.text = value.chars().take(TEXT).collect()));

    let put = {
        let set = set.clone();
        Callback::from(move |new: Exercise| set.set(Rc::new(new)))
    };
    let link =
        if set.text.trim().is_empty() && set.signs.is_empty() { None } else { Some(shared::link_of(&set)) };
    let copy = {
        let (said, link) = (said.clone(), link.clone());
        Callback::from(move |_: MouseEvent| {
            let (said, link) = (said.clone(), link.clone());
            wasm_bindgen_futures::spawn_local(async move {
                if let Some(Ok(link)) = link {
                    said.set(shared::copy(&link).await);
                }
            });
        })
    };
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
                <label>{ "How many items (empty: all)" }<br />
                    <input type="number" min="1" max="1000" value={set.items.map(|items| items.to_string()).unwrap_or_default()} oninput={items} />
                </label>
            </div>
            if set.signs.is_empty() {
                <p><label>{ if matches!(set.task, Task::Transcribe | Task::Proofread) { "Text (# heading, - list item, *emphasis*)" } else { "Text, one item a line" } }
                    <textarea rows="6" value={set.text.clone()} oninput={text} /></label></p>
            }
            if !matches!(set.task, Task::Transcribe | Task::Proofread) {
                <SignChoice set={(*set).clone()} put={put.clone()} />
            }
            <TaskDetails set={(*set).clone()} {put} />
            <div class="controls">
                <Switch label="Contracted" on={set.contracted} set={switch(|set, on| set.contracted = on)} />
                <Switch label="Shown as dot numbers only" on={set.dot_numbers_only} set={switch(|set, on| set.dot_numbers_only = on)} />
                <Switch label="Hide the reading until handed in" on={set.hide_reading} set={switch(|set, on| set.hide_reading = on)} />
                <Switch label="Help may be asked for" on={set.help} set={switch(|set, on| set.help = on)} />
            </div>
            if from_file::is_file() { <SiteAddress {on_site} /> }
            { match link {
                None => html! { <p class="note">{ "Type or paste a text or choose signs, and the link appears here." }</p> },
                Some(Err(why)) => html! { <p class="alert" role="alert">{ why }</p> },
                Some(Ok(link)) => html! {
                    <section class="marked" aria-label="The exercise's link">
                        <div class="link-out">
                        <div>
                        <h2>{ "Its link" }</h2>
                        <p><input type="text" readonly=true value={link.clone()} aria-label="Link" style="width:100%" /></p>
                        if link.len() > LINK {
                            <p class="alert">{ format!("This link has {} characters; some programs cut links above {LINK}. Send the file instead.", link.len()) }</p>
                        }
                        <div class="controls">
                            <button type="button" class="main" onclick={copy}>{ "Copy link" }</button>
                            <button type="button" aria-expanded={if *seen { "true" } else { "false" }} onclick={see}>{ "See it as the learner will" }</button>
                            <a class="button" href={href(&link)} download="exercise.txt">{ "Save as a file" }</a>
                            <span role="status" aria-label="Copied" class="note">{ (*said).clone() }</span>
                        </div>
                        </div>
                        <QrCode text={link.clone()} />
                        </div>
                        if *seen {
                            <p class="note">{ "Try it: nothing you do here is kept or recorded. " }<a href={from_file::here(&link)}>{ "Open it on a page of its own" }</a></p>
                            <shared::Preview exercise={(*set).clone()} />
                        }
                    </section>
                },
            } }
            <from_file::OpenWork />
        </>
    }
}

#[derive(Properties, PartialEq)]
struct QrProps {
    text: AttrValue,
}

/// A module of a QR code is at least so wide, in CSS pixels, so that a camera tells one from the next (from memory).
const MODULE: i32 = 4;

/// A link as a QR code (ISO/IEC 18004), black on white in every theme.
#[component]
fn QrCode(props: &QrProps) -> Html {
    let code = use_memo(props.text.clone(), |text| {
        qrcodegen::QrCode::encode_text(text, qrcodegen::QrCodeEcc::Low).ok().map(|code| {
            let size = code.size();
            let mut path = String::new();
            for y in 0..size {
                for x in (0..size).filter(|x| code.get_module(*x, y)) {
                    path.push_str(&format!("M{x} {y}h1v1h-1z"));
                }
            }
            (size, path)
        })
    });
    match &*code {
        None => html! { <p class="note">{ "The link is too long for a QR code." }</p> },
        Some((size, path)) => html! {
            <svg role="img" aria-label="The link as a QR code" viewBox={format!("-4 -4 {} {}", size + 8, size + 8)}
                style={format!("width:min({}px,100%);background:#fff", (MODULE * (size + 8)).max(280))} shape-rendering="crispEdges">
                <path d={path.clone()} fill="#000" />
            </svg>
        },
    }
}
