//! A unit marked as known after a short check.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::seed;
use crate::page::browser::held::use_held;
use crate::page::drills::teach::Teach;
use crate::page::learner::journal::LearnerHandle;
use crate::practice::record::Event;
use crate::practice::units;

/// How many signs a check asks.
const ASKED: usize = 6;

/// Which unit.
#[derive(Properties, PartialEq)]
pub struct CheckProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// The unit, by its place from 0.
    pub unit: usize,
    /// Called when it is to be put away.
    pub on_done: Callback<()>,
}

/// A short check: a few signs of the unit; when all are right, the unit is marked as known.
#[component]
pub fn Check(props: &CheckProps) -> Html {
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
