//! An answer that is typed; Enter gives it.

use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::drills::session::{Way, use_watch};
use crate::page::widgets::fields::{text_of, use_focus};
use crate::practice::sitting::Action;

/// What is to be typed.
#[derive(Properties, PartialEq)]
pub struct TypedProps {
    /// The name of the field.
    pub label: &'static str,
    /// The way on.
    pub way: Way,
    /// Dot numbers are typed: a telephone may show its number keys.
    #[prop_or_default]
    pub numbers: bool,
}

/// The field. Give it a `key` that changes with what is asked.
#[component]
pub fn Typed(props: &TypedProps) -> Html {
    let way = &props.way;
    let typed = {
        let way = way.clone();
        use_held(move || way.draft())
    };
    let watch = use_watch(way.turn);
    let field = use_focus(way.turn);
    let oninput = {
        let (typed, watch, way) = (typed.clone(), watch.clone(), way.clone());
        Callback::from(move |event: InputEvent| {
            watch.key();
            let text = text_of(&event);
            way.keep_draft(&text);
            typed.set(text);
        })
    };
    let onsubmit = {
        let (field, way) = (field.clone(), way.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            let text =
                field.cast::<web_sys::HtmlInputElement>().map(|field| field.value()).unwrap_or_default();
            way.act(Action::Typed { text, took: watch.took() });
        })
    };
    html! {
        <form class="answer-row" {onsubmit}>
            <label>{ props.label }{ " " }
                <input ref={field} type="text" aria-describedby="asked" autocomplete="off" autocapitalize="off" spellcheck="false" enterkeyhint="go"
                    inputmode={props.numbers.then_some("numeric")} value={(*typed).clone()} {oninput} />
            </label>
            <button class="main" type="submit">{ "Answer" }</button>
        </form>
    }
}
