//! What came of a session: what was met, what is kept, what slipped, how quick it was, and what comes next.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::take_home::TakeHome;
use crate::practice::session::summary::Summary;
use crate::practice::sitting::{AIM, words};
use crate::practice::units;
use crate::ueb::register;

/// Signs with what they say, in one row.
fn signs(title: &str, keys: &[&'static str]) -> Html {
    if keys.is_empty() {
        return Html::default();
    }
    html! {
        <section>
            <h2>{ format!("{title}: {}", keys.len()) }</h2>
            <ul class="sign-row">
                { for keys.iter().filter_map(|key| register::by_key(key)).map(|sign| html! {
                    <li><CellsLine cells={Rc::from(sign.cells.as_slice())} dot={Some(7.0)} /><span class="serif">{ words::name(sign) }</span></li>
                }) }
            </ul>
        </section>
    }
}

/// Seconds with one decimal: whole numbers alone are put into words, which is less code.
fn seconds(ms: u64) -> String {
    format!("{}.{} s", ms / 1_000, ms % 1_000 / 100)
}

fn minutes(ms: u64) -> String {
    match ms.div_ceil(60_000) {
        0 | 1 => "1 minute".to_owned(),
        many => format!("{many} minutes"),
    }
}

/// How many signs the course teaches.
fn all_signs() -> usize {
    units::units().iter().map(|unit| unit.signs.len()).sum()
}

/// The summary; `sight` is the middle of the times in which signs were read.
pub fn summary(summary: &Summary, sight: Option<u64>, another: Callback<MouseEvent>, focus: NodeRef) -> Html {
    let of_all = format!("{} of {}", summary.kept_in_all, all_signs());
    html! {
        <div class="session-summary">
            <h1>{ if summary.answers == 0 { "The session is over" } else { "What came of it" } }</h1>
            <p class="next-step" role="status">{ summary.next_step() }</p>
            <p class="controls">
                <button type="button" class="main" ref={focus} onclick={another}>{ "Go on: another session" }</button>
                <a class="button" href="#/read">{ "Read" }</a>
                <a href="#/">{ "To the first screen" }</a>
            </p>
            if summary.answers > 0 {
                <dl class="figures">
                    <div><dt>{ "right" }</dt><dd>{ format!("{} of {}", summary.right, summary.answers) }</dd></div>
                    if let Some(ms) = sight { <div><dt>{ format!("to read a sign (aim: {})", seconds(AIM)) }</dt><dd>{ seconds(ms) }</dd></div> }
                    <div><dt>{ "practised" }</dt><dd>{ minutes(summary.practised) }</dd></div>
                    <div><dt>{ "signs kept in all" }</dt><dd>{ of_all }</dd></div>
                </dl>
            }
            { signs("Met", &summary.met) }
            { signs("Kept from now on", &summary.kept) }
            { signs("Slipped, and asked again", &summary.slipped) }
            <section class="before-you-leave">
                <h2>{ "Before you leave this computer" }</h2>
                <p class="note">{ "One file takes everything with you: open it in Record wherever you go on. In Record you can also leave no trace here." }</p>
                <TakeHome />
            </section>
        </div>
    }
}
