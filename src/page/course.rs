//! The course: its units, where the learner stands, starting anywhere, and a unit marked as known after a short check.

use std::rc::Rc;

use yew::prelude::*;

use super::cells_line::CellsLine;
use super::drills::{text_of, use_focus};
use super::learner::{LearnerHandle, now, seed};
use crate::practice::drill;
use crate::practice::due::Known;
use crate::practice::record::{Answer, Direction, Event};
use crate::practice::units::{self, Unit};
use crate::ueb::register;

/// What the course needs.
#[derive(Properties, PartialEq)]
pub struct CourseProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// The unit they are at, from 0.
    pub unit: usize,
    /// Called with the unit to start at.
    pub on_start: Callback<usize>,
}

/// The units, as a list.
#[component]
pub fn Course(props: &CourseProps) -> Html {
    let checking = use_state_eq(|| None::<usize>);
    let marks = props.learner.record.marks();
    let known = |unit: &Unit| {
        let is = |key: &&&str| props.learner.memories.known(key) >= Known::Known || marks.contains(**key);
        unit.signs.iter().filter(is).count()
    };
    let done = {
        let checking = checking.clone();
        Callback::from(move |()| checking.set(None))
    };
    html! {
        <ol class="course">
            { for units::units().iter().enumerate().map(|(n, unit)| {
                let start = { let on_start = props.on_start.clone(); Callback::from(move |_: MouseEvent| on_start.emit(n)) };
                let check = { let checking = checking.clone(); Callback::from(move |_: MouseEvent| checking.set(Some(n))) };
                html! {
                    <li aria-current={(n == props.unit).then_some("step")}>
                        <h3>{ unit.title }</h3>
                        <p>{ unit.about }</p>
                        <p class="note">{ format!("Sections {}. {}", unit.sections.join(", "),
                            if unit.signs.is_empty() { "Rules only.".to_owned() } else { format!("{} of {} signs known.", known(unit), unit.signs.len()) }) }</p>
                        <div class="controls">
                            <button type="button" onclick={start}>{ "Start here" }</button>
                            if !unit.signs.is_empty() { <button type="button" class="quiet" onclick={check}>{ "I know this: a short check" }</button> }
                        </div>
                        if *checking == Some(n) { <Check learner={props.learner.clone()} unit={n} on_done={done.clone()} /> }
                    </li>
                }
            }) }
        </ol>
    }
}

/// How many signs a check asks.
const ASKED: usize = 6;

#[derive(Properties, PartialEq)]
struct CheckProps {
    learner: LearnerHandle,
    unit: usize,
    on_done: Callback<()>,
}

/// A short check: a few signs of the unit, all right, and the unit is marked as known.
#[component]
fn Check(props: &CheckProps) -> Html {
    let asked = use_memo(props.unit, |unit| {
        let mut signs = units::units().get(*unit).map(|unit| unit.signs.clone()).unwrap_or_default();
        fastrand::Rng::with_seed(seed()).shuffle(&mut signs);
        signs.truncate(ASKED);
        signs
    });
    let at = use_state_eq(|| 0usize);
    let typed = use_state_eq(String::new);
    let wrong = use_state_eq(|| None::<String>);
    let since = use_mut_ref(now);
    let field = use_focus(*at as u32);
    let Some(sign) = asked.get(*at).and_then(|key| register::by_key(key)) else {
        return html! { <p role="status">{ "All right. The unit is marked as known; the Signs room shows the marks." }</p> };
    };
    if let Some(says) = &*wrong {
        let close = {
            let on_done = props.on_done.clone();
            Callback::from(move |_: MouseEvent| on_done.emit(()))
        };
        return html! {
            <p role="status">{ format!("{says} Practise this unit a little first. ") }<button type="button" class="quiet" onclick={close}>{ "Close" }</button></p>
        };
    }
    let onsubmit = {
        let (at, typed, wrong, since, learner, unit, count) = (
            at.clone(),
            typed.clone(),
            wrong.clone(),
            since.clone(),
            props.learner.clone(),
            props.unit,
            asked.len(),
        );
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            let judged = drill::judge_meaning(sign, &typed);
            learner.answer(Answer {
                at: now(),
                sign: sign.key.to_owned(),
                direction: Direction::Read,
                right: judged.right,
                ms: now().saturating_sub(*since.borrow()),
                clues: 0,
                instead: judged.instead,
                cause: judged.cause.to_owned(),
            });
            if !judged.right {
                wrong.set(Some(judged.says));
                return;
            }
            if *at + 1 == count {
                let signs = units::units().get(unit).map(|unit| unit.signs.as_slice()).unwrap_or_default();
                let marks: Vec<Event> =
                    signs.iter().map(|key| Event::Mark { sign: (*key).to_owned(), on: true }).collect();
                learner.add_all(&marks);
            }
            at.set(*at + 1);
            typed.set(String::new());
            *since.borrow_mut() = now();
        })
    };
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| typed.set(text_of(&event)))
    };
    html! {
        <form class="check-unit" {onsubmit}>
            <p>{ format!("Sign {} of {}, {}:", *at + 1, asked.len(), drill::taken_as(sign.class)) }</p>
            <CellsLine cells={Rc::from(sign.cells.as_slice())} dot={Some(13.0)} />
            <label>{ "It means " }<input ref={field} type="text" autocomplete="off" autocapitalize="off" spellcheck="false" value={(*typed).clone()} {oninput} /></label>
            <button type="submit" class="main">{ "Answer" }</button>
        </form>
    }
}
