//! A trial of the learner's own: a whole text without help, against a pass line.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::{Exercise, Task, Trial};
use crate::page::browser::held::use_held;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::proofread::notice::NOTICE;
use crate::page::rooms::transcribe;
use crate::page::widgets::passage_choice::PassageChoice;

/// Text and pass line, and then the desk.
#[component]
pub fn TrialOwn() -> Html {
    let settings = use_settings();
    let text = use_held(|| AttrValue::Static(NOTICE));
    let tenths = use_held(|| Trial::default().tenths);
    let begun = use_held(bool::default);
    let choose = {
        let text = text.clone();
        Callback::from(move |chosen: Option<(AttrValue, AttrValue)>| {
            text.set(chosen.map_or(AttrValue::Static(NOTICE), |(_, chosen)| chosen));
        })
    };
    let own_text = {
        let text = text.clone();
        Callback::from(move |event: InputEvent| {
            let area: web_sys::HtmlTextAreaElement = event.target_unchecked_into();
            if !area.value().trim().is_empty() {
                text.set(area.value().into());
            }
        })
    };
    let line = {
        let tenths = tenths.clone();
        Callback::from(move |event: InputEvent| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            if let Ok(mistakes) = input.value().parse::<f64>() {
                tenths.set((mistakes.clamp(0.0, 100.0) * 10.0).round() as u16);
            }
        })
    };
    let begin = {
        let begun = begun.clone();
        Callback::from(move |_: MouseEvent| begun.set(true))
    };
    if *begun {
        let set = Exercise {
            title: "Trial hand-in".to_owned(),
            text: text.to_string(),
            task: Task::Transcribe,
            contracted: settings.contracted,
            edition: settings.edition(),
            hide_reading: true,
            help: false,
            trial: Some(Trial { tenths: *tenths, ..Trial::default() }),
            ..Exercise::default()
        };
        return html! { <transcribe::Desk set={Some(Rc::new(set))} /> };
    }
    html! {
        <section aria-label="Trial hand-in">
            <p>{ "A whole piece without help: no reading, no clues, no answers. Faults of layout count too. It is marked by mistakes a page and by cause against the pass line, and you have a second try that shows which causes were cured and which came back." }</p>
            <div class="set">
                <PassageChoice label="Text" first="Lost and found" text={(*text).clone()} contracted={settings.contracted} on_choose={choose} />
                <label>{ "Pass line: at most so many mistakes a page" }<br />
                    <input type="number" min="0" max="100" step="0.5" value={format!("{}", f64::from(*tenths) / 10.0)} oninput={line} />
                </label>
            </div>
            <label>{ "Or a text of your own" }<textarea rows="4" oninput={own_text} /></label>
            <div class="controls"><button type="button" class="main" onclick={begin}>{ "Begin the trial" }</button></div>
        </section>
    }
}
