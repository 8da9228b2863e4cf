//! A few signs, one after the other: shown with their meaning first, then asked; or asked at once, as a check.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::now;
use crate::page::browser::held::use_held;
use crate::page::learner::journal::LearnerHandle;
use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::fields::{text_of, use_focus};
use crate::practice::record::{Answer, Direction};
use crate::practice::{clues, drill};
use crate::ueb::register;

/// Which signs, and how.
#[derive(Properties, PartialEq)]
pub struct TeachProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// The keys of the signs.
    pub keys: Rc<Vec<&'static str>>,
    /// Whether each sign is shown with its meaning before it is asked.
    pub shown_first: bool,
    /// Called at the end with whether every answer was right.
    pub on_end: Callback<bool>,
}

/// The signs, one after the other.
#[component]
pub fn Teach(props: &TeachProps) -> Html {
    let at = use_held(usize::default);
    let seen = use_held(bool::default);
    let typed = use_held(String::new);
    let said = use_held(String::new);
    let wrong = use_held(u32::default);
    let since = use_mut_ref(now);
    let field = use_focus(*at as u32 * 2 + u32::from(*seen));
    let Some(sign) = props.keys.get(*at).and_then(|key| register::by_key(key)) else {
        return html! { <p role="status">{ (*said).clone() }</p> };
    };
    let asks = *seen || !props.shown_first;
    let onsubmit = {
        let (at, seen, typed, said, wrong, since) =
            (at.clone(), seen.clone(), typed.clone(), said.clone(), wrong.clone(), since.clone());
        let (learner, count, on_end, first) =
            (props.learner.clone(), props.keys.len(), props.on_end.clone(), props.shown_first);
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            if !asks {
                seen.set(true);
                *since.borrow_mut() = now();
                return;
            }
            let judged = drill::judge_meaning(sign, &typed);
            learner.answer(Answer {
                at: now(),
                sign: sign.key.to_owned(),
                direction: Direction::Read,
                right: judged.right,
                ms: now().saturating_sub(*since.borrow()),
                // A sign that was shown a moment ago is not yet known.
                clues: u8::from(first),
                instead: judged.instead,
                cause: judged.cause.to_owned(),
            });
            let slips = *wrong + u32::from(!judged.right);
            wrong.set(slips);
            said.set(judged.says);
            typed.set(String::new());
            seen.set(false);
            at.set(*at + 1);
            *since.borrow_mut() = now();
            if *at + 1 == count {
                on_end.emit(slips == 0);
            }
        })
    };
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| typed.set(text_of(&event)))
    };
    html! {
        <div class="teach">
            <p role="status">{ (*said).clone() }</p>
            <form class="check-unit" {onsubmit}>
                <p>{ format!("Sign {} of {}, {}:", *at + 1, props.keys.len(), drill::taken_as(sign.class)) }</p>
                <CellsLine cells={Rc::from(sign.cells.as_slice())} dot={Some(13.0)} />
                if asks {
                    <label>{ "It means " }<input ref={field} type="text" autocomplete="off" autocapitalize="off" spellcheck="false" value={(*typed).clone()} {oninput} /></label>
                    <button type="submit" class="main">{ "Answer" }</button>
                } else {
                    <p>{ format!("{} {}", drill::dots(&sign.cells), clues::meaning(sign)) }</p>
                    <button ref={field} type="submit" class="main">{ "Ask me" }</button>
                }
            </form>
        </div>
    }
}
