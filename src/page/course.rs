//! The course: its units, where the learner stands, starting anywhere, and a unit marked as known after a short check.

use std::rc::Rc;

use yew::prelude::*;

use super::held::use_held;
use super::learner::{LearnerHandle, seed};
use super::teach::Teach;
use crate::practice::record::Event;
use crate::practice::units::{self, Unit};

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
    let checking = use_held(Option::<usize>::default);
    let knows = props.learner.knows();
    let known = |unit: &Unit| unit.signs.iter().filter(|key| knows(key)).count();
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

/// A short check: a few signs of the unit; when all are right, the unit is marked as known.
#[component]
fn Check(props: &CheckProps) -> Html {
    let ended = use_held(Option::<bool>::default);
    let asked = use_memo(props.unit, |unit| {
        let mut signs = units::units().get(*unit).map(|unit| unit.signs.clone()).unwrap_or_default();
        fastrand::Rng::with_seed(seed()).shuffle(&mut signs);
        signs.truncate(ASKED);
        Rc::new(signs)
    });
    let on_end = {
        let (ended, learner, unit) = (ended.clone(), props.learner.clone(), props.unit);
        Callback::from(move |right: bool| {
            if right {
                let signs = units::units().get(unit).map(|unit| unit.signs.as_slice()).unwrap_or_default();
                let marks: Vec<Event> =
                    signs.iter().map(|key| Event::Mark { sign: (*key).to_owned(), on: true }).collect();
                learner.add_all(&marks);
            }
            ended.set(Some(right));
        })
    };
    let close = {
        let on_done = props.on_done.clone();
        Callback::from(move |_: MouseEvent| on_done.emit(()))
    };
    match *ended {
        None => {
            html! { <Teach learner={props.learner.clone()} keys={(*asked).clone()} shown_first=false {on_end} /> }
        }
        Some(right) => html! {
            <p role="status">
                { if right { "All right: the unit is marked as known. The Signs room shows the marks. " } else { "Not all right. Practise this unit a little first. " } }
                <button type="button" class="quiet" onclick={close}>{ "Close" }</button>
            </p>
        },
    }
}
