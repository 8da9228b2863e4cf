//! The room "Set work": a teacher makes an exercise and gets its link. Nothing is sent anywhere: the link is the exercise.

use std::rc::Rc;

use serde::{Deserialize, Serialize};
use yew::prelude::*;

use super::cells_line::CellsLine;
use super::shared::{copy, link_of};
use super::store;
use super::write::Switch;
use crate::cell::Cell;
use crate::exercise::{Exercise, TEXT, TITLE};
use crate::ueb::{self, Options};

const KEY: &str = "set";
const VERSION: u32 = 1;

/// The draft, kept by the browser so that a reload loses nothing.
#[derive(Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
struct Draft {
    exercise: Exercise,
}

/// Puts a field's new value into the draft.
type Change = Rc<dyn Fn(&mut Exercise, String)>;

/// The room.
#[component]
pub fn Room() -> Html {
    let draft = use_state(|| store::load::<Draft>(KEY, VERSION).unwrap_or_default().exercise);
    let said = use_state_eq(String::new);
    let change = |with: Change| {
        let (draft, said) = (draft.clone(), said.clone());
        Callback::from(move |value: String| {
            let mut exercise = (*draft).clone();
            with(&mut exercise, value);
            let kept = store::save(KEY, VERSION, &Draft { exercise: exercise.clone() });
            said.set(kept.err().map(|error| error.words().to_owned()).unwrap_or_default());
            draft.set(exercise);
        })
    };
    let flag = |with: fn(&mut Exercise, bool)| {
        let change = change(Rc::new(move |exercise, value| with(exercise, value == "on")));
        Callback::from(move |on: bool| change.emit(if on { "on" } else { "off" }.to_owned()))
    };
    let title = change(Rc::new(|exercise, value| exercise.title = value));
    let text = change(Rc::new(|exercise, value| exercise.text = value));
    let ontitle = Callback::from(move |event: InputEvent| {
        let input: web_sys::HtmlInputElement = event.target_unchecked_into();
        title.emit(input.value());
    });
    let ontext = Callback::from(move |event: InputEvent| {
        let area: web_sys::HtmlTextAreaElement = event.target_unchecked_into();
        text.emit(area.value());
    });
    let empty = draft.text.trim().is_empty();
    let link = (!empty).then(|| link_of(&draft));
    let options = Options { contracted: draft.contracted, ..Options::default() };
    let told = use_memo((draft.text.clone(), draft.contracted), |(text, _)| ueb::explain(text, &options));
    let unknown: String =
        told.unhandled.iter().map(|one| one.character).filter(|c| *c != '\n').take(20).collect();
    let first: Rc<[Cell]> = told.cells.iter().copied().take(40).collect();
    let oncopy = {
        let (link, said) = (link.clone(), said.clone());
        Callback::from(move |_: MouseEvent| {
            if let Some(Ok(link)) = link.clone() {
                let said = said.clone();
                wasm_bindgen_futures::spawn_local(async move { said.set(copy(&link).await) });
            }
        })
    };
    let start_again = {
        let (draft, said) = (draft.clone(), said.clone());
        Callback::from(move |_: MouseEvent| {
            store::forget(KEY);
            draft.set(Exercise::default());
            said.set(String::new());
        })
    };
    html! {
        <>
            <h1>{ "Set work" }</h1>
            <p>{ "Make an exercise and send its link. The link carries the whole exercise; no account and no server has a part in it." }</p>
            <div class="form">
                <label for="set-title">{ "Title" }</label>
                <input id="set-title" type="text" maxlength={TITLE.to_string()} value={draft.title.clone()} oninput={ontitle} />
                <label for="set-text">{ "Print to write in braille" }</label>
                <textarea id="set-text" rows="6" maxlength={TEXT.to_string()} value={draft.text.clone()} oninput={ontext}
                    aria-describedby="set-text-help" />
                <p id="set-text-help" class="note">{ format!("{} of {TEXT} characters, {} cells.", draft.text.chars().count(), told.cells.len()) }</p>
                if !unknown.is_empty() {
                    <p class="alert">{ format!("No sign is known here for: {unknown}") }</p>
                }
                <div class="controls">
                    <Switch label="Contracted" on={draft.contracted} set={flag(|exercise, on| exercise.contracted = on)} />
                    <Switch label="Dot numbers only" on={draft.dot_numbers_only} set={flag(|exercise, on| exercise.dot_numbers_only = on)} />
                    <Switch label="Hide the reading until the work is marked" on={draft.hide_reading} set={flag(|exercise, on| exercise.hide_reading = on)} />
                </div>
            </div>
            if !first.is_empty() {
                <h2>{ "It begins in braille" }</h2>
                <div class="strip" tabindex="0" role="region" aria-label="The first cells"><CellsLine cells={first} /></div>
            }
            <h2>{ "The link" }</h2>
            { match &link {
                None => html! { <p class="note">{ "Write or paste the print above; the link appears here." }</p> },
                Some(Err(why)) => html! { <p class="alert" role="alert">{ why }</p> },
                Some(Ok(link)) => html! {
                    <>
                        <p class="link"><a href={link.clone()}>{ link }</a></p>
                        <div class="controls">
                            <button type="button" class="main" onclick={oncopy}>{ "Copy link" }</button>
                            <a class="button" href={link.clone()}>{ "Try it" }</a>
                            <button type="button" class="quiet" onclick={start_again}>{ "Start again" }</button>
                        </div>
                    </>
                },
            } }
            <p role="status" aria-label="Link" class="note">{ (*said).clone() }</p>
        </>
    }
}
