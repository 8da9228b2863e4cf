//! A trial of the learner's own: a whole text without help, against a pass line.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::{Exercise, Task, Trial};
use crate::page::browser::held::use_held;
use crate::page::browser::store;
use crate::page::learner::settings::use_settings;
use crate::page::rooms::proofread::notice::NOTICE;
use crate::page::rooms::transcribe;
use crate::page::widgets::passage_choice::PassageChoice;

/// A text of the learner's own that is pasted for a trial.
const PASTED: &str = "work.trial.pasted";

/// Text and pass line, and then the desk.
#[component]
pub fn TrialOwn() -> Html {
    let settings = use_settings();
    let own = use_held(|| store::load::<String>(PASTED, 1).unwrap_or_default());
    let text = use_held(|| own_or_notice(&own));
    let tenths = use_held(|| Trial::default().tenths);
    let begun = use_held(bool::default);
    let choose = {
        let text = text.clone();
        Callback::from(move |chosen: Option<(AttrValue, AttrValue)>| {
            text.set(chosen.map_or(AttrValue::Static(NOTICE), |(_, chosen)| chosen));
        })
    };
    let own_text = {
        let (text, own) = (text.clone(), own.clone());
        Callback::from(move |event: InputEvent| {
            let typed = event.target_unchecked_into::<web_sys::HtmlTextAreaElement>().value();
            // What the browser does not take is held, and the page says so.
            let _ = store::save(PASTED, 1, &typed);
            text.set(own_or_notice(&typed));
            own.set(typed);
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
        return html! { <transcribe::desk::Desk set={Some(Rc::new(set))} /> };
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
            <label>{ "Or a text of your own" }<textarea rows="4" value={(*own).clone()} oninput={own_text} /></label>
            <div class="controls"><button type="button" class="main" onclick={begin}>{ "Begin the trial" }</button></div>
        </section>
    }
}

/// The text of the learner's own, or where there is none, the first.
fn own_or_notice(own: &str) -> AttrValue {
    if own.trim().is_empty() { AttrValue::Static(NOTICE) } else { own.to_owned().into() }
}
