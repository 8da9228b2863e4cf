//! Find my place: one check over the whole course.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::{now, seed};
use crate::page::browser::held::use_held;
use crate::page::learner::journal::LearnerHandle;
use crate::page::learner::place::choose_unit;
use crate::page::route;
use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::fields::{text_of, use_focus};
use crate::practice::find::{Find, MOST};
use crate::practice::{drill, units};

/// Whose place.
#[derive(Properties, PartialEq)]
pub struct FindProps {
    /// The learner.
    pub learner: LearnerHandle,
}

/// The check.
#[component]
pub fn FindView(props: &FindProps) -> Html {
    let find = use_held(|| Find::begin(seed()));
    let typed = use_held(String::new);
    let said = use_held(String::new);
    let since = use_mut_ref(now);
    let field = use_focus(find.answered() as u32);
    let answer = {
        let (find, typed, said, since, learner) =
            (find.clone(), typed.clone(), said.clone(), since.clone(), props.learner.clone());
        Callback::from(move |given: Option<String>| {
            let Some(item) = find.item().cloned() else { return };
            let Some(sign) = item.sign() else { return };
            // Enter on an empty field does nothing; an answer of the wrong form is asked again.
            if given.as_ref().is_some_and(|given| given.trim().is_empty()) {
                return;
            }
            if let Some(hint) =
                given.as_ref().and_then(|given| drill::slip_of_form(sign, item.direction, given))
            {
                said.set(hint.to_owned());
                return;
            }
            let judged = drill::judge_meaning(sign, &given.unwrap_or_default());
            let mut next = (*find).clone();
            next.answer(&judged, now().saturating_sub(*since.borrow()), now());
            if next.item().is_none() {
                learner.add_all(&next.events());
                choose_unit(next.start());
            }
            said.set(String::new());
            typed.set(String::new());
            *since.borrow_mut() = now();
            find.set(next);
        })
    };
    let onsubmit = {
        let (answer, typed) = (answer.clone(), typed.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            answer.emit(Some((*typed).clone()));
        })
    };
    let unknown = answer.reform(|_: MouseEvent| None);
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| typed.set(text_of(&event)))
    };
    let held = Callback::from(|event: KeyboardEvent| {
        // A held key answers once.
        if event.key() == "Enter" && event.repeat() {
            event.prevent_default();
        }
    });
    let Some(sign) = find.item().and_then(drill::Item::sign) else { return found(&find) };
    html! {
        <>
            <h1>{ "Find my place" }</h1>
            <p>{ format!("Signs from the whole course, {MOST} at most and usually far fewer. Say what each means; what you do not know yet is no mistake here.") }</p>
            <div class="drill">
                <p class="note" aria-live="polite">{ format!("Sign {}, {}", find.answered() + 1, drill::taken_as(sign.class)) }</p>
                <div class="asked" aria-live="polite"><CellsLine key={find.answered()} cells={Rc::from(sign.cells.as_slice())} dot={Some(38.0)} /></div>
                <form {onsubmit}>
                    <label>{ "It means " }<input ref={field} type="text" autocomplete="off" autocapitalize="off" spellcheck="false" value={(*typed).clone()} {oninput} onkeydown={held} /></label>
                    <button type="submit" class="main">{ "Answer" }</button>
                    <button type="button" onclick={unknown}>{ "I don’t know" }</button>
                </form>
                <p role="status">{ (*said).clone() }</p>
            </div>
            <p><a href="#/course">{ "Leave the check" }</a></p>
        </>
    }
}

/// Where the learner begins.
fn found(find: &Find) -> Html {
    let start = find.start();
    let title = units::units().get(start).map_or("", |unit| unit.title);
    let before = match start {
        0 => "The course begins with the first letters.".to_owned(),
        1 => {
            "Unit 1 counts as known; its signs come back in words and lines, so that what has slipped shows."
                .to_owned()
        }
        n => format!(
            "Units 1 to {n} count as known; their signs come back in words and lines, so that what has slipped shows."
        ),
    };
    html! {
        <>
            <h1>{ "Your place is found" }</h1>
            <p class="large" role="status">{ format!("You begin in unit {}: {title}.", start + 1) }</p>
            <p>{ format!("{before} It took {} signs.", find.answered()) }</p>
            <div class="controls">
                <a class="button main" href={route::session(Some(start))}>{ format!("Begin in unit {}", start + 1) }</a>
                <a class="button" href="#/course">{ "All units" }</a>
            </div>
        </>
    }
}
