//! A log of what was read on paper.

use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::learner::journal::LearnerHandle;
use crate::page::widgets::fields::text_of;
use crate::practice::record::Event;

/// What the log needs.
#[derive(Properties, PartialEq)]
pub struct LogProps {
    /// The learner.
    pub learner: LearnerHandle,
}

/// What was read on paper, for the record.
#[component]
pub fn LogPaper(props: &LogProps) -> Html {
    let fields = use_held(|| [String::new(), String::new(), String::new()]);
    let said = use_held(String::new);
    let oninput = |n: usize| {
        let fields = fields.clone();
        Callback::from(move |event: InputEvent| {
            let mut new = (*fields).clone();
            new[n] = text_of(&event);
            fields.set(new);
        })
    };
    let onsubmit = {
        let (fields, said, learner) = (fields.clone(), said.clone(), props.learner.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            let [title, pages, minutes] = &*fields;
            let (Ok(pages), Ok(minutes)) = (pages.trim().parse::<u32>(), minutes.trim().parse::<u32>())
            else {
                said.set("Pages and minutes are numbers.".to_owned());
                return;
            };
            // A full page of 25 lines of 40 cells holds about 150 words in 800 cells (from memory); the record keeps the
            // time exactly and the rest as an estimate.
            learner.add(Event::Text {
                title: format!("On paper: {}", if title.trim().is_empty() { "a book" } else { title.trim() }),
                words: pages.min(10_000) * 150,
                cells: pages.min(10_000) * 800,
                ms: u64::from(minutes.min(10_000)) * 60_000,
                missed: 0,
            });
            said.set(format!(
                "Logged: {pages} pages in {minutes} minutes, counted as about {} words.",
                pages.min(10_000) * 150
            ));
            fields.set([String::new(), String::new(), String::new()]);
        })
    };
    html! {
        <form class="log-paper" {onsubmit}>
            <h3>{ "Log what you read on paper" }</h3>
            <div class="controls">
                <label>{ "Title " }<input type="text" value={fields[0].clone()} oninput={oninput(0)} /></label>
                <label>{ "Pages " }<input type="number" min="1" value={fields[1].clone()} oninput={oninput(1)} /></label>
                <label>{ "Minutes " }<input type="number" min="0" value={fields[2].clone()} oninput={oninput(2)} /></label>
                <button type="submit">{ "Log it" }</button>
            </div>
            <p role="status">{ (*said).clone() }</p>
        </form>
    }
}
