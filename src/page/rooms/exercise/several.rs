//! A set of exercises at work: which are done, the one that is open, and one slip for all.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::Slip;
use crate::exercise::proofread;
use crate::exercise::set::Set;
use crate::exercise::{Exercise, Task, told};
use crate::page::browser::held::use_held;
use crate::page::browser::store;
use crate::page::learner::settings::use_settings;
use crate::page::marked::hand_in::HandIn;
use crate::page::marked::progress::{InSet, Kept, kept_of};
use crate::page::rooms::exercise::Open;
use crate::page::surface::work;
use crate::page::widgets::cells_line::shown;

const VERSION: u32 = 1;

/// A set.
#[derive(Properties, PartialEq)]
pub struct SeveralProps {
    /// The set.
    pub set: Rc<Set>,
    /// Its payload, by which it is known.
    pub payload: AttrValue,
}

fn slip_of(set: &Set, all: &[Kept]) -> Slip {
    let part = |(exercise, kept): (&Exercise, &Kept)| {
        let planted = exercise.task == Task::Proofread && !kept.tries.is_empty();
        let proof = planted.then(|| {
            let plants = exercise.plants.clone().unwrap_or_default();
            proofread::proof_by(&exercise.text, exercise.contracted, exercise.edition, &plants)
        });
        Slip::of(exercise, &kept.tries, proof.as_ref())
    };
    Slip::of_set(&set.title, set.exercises.iter().zip(all).map(part).collect())
}

/// How one of its exercises stands.
fn stands(exercise: &Exercise, kept: &Kept) -> String {
    match kept.tries.last() {
        None => "not handed in".to_owned(),
        Some(last) => {
            let slip = Slip::of(exercise, std::slice::from_ref(last), None);
            format!("handed in: {}", told::score(&slip, last.right, last.asked))
        }
    }
}

/// The exercises, the open one, the slip.
#[component]
pub fn Several(props: &SeveralProps) -> Html {
    let settings = use_settings();
    let set = &props.set;
    let name = use_memo(props.payload.clone(), |payload| work::name_of("several", payload));
    let all = use_held(|| set.exercises.iter().map(kept_of).collect::<Vec<Kept>>());
    let handed_in: Vec<bool> = all.iter().map(|kept| !kept.tries.is_empty()).collect();
    let at = use_held(|| store::load_any::<usize>(&name, VERSION).or(set.next(&handed_in)).unwrap_or(0));
    let at_now = (*at).min(set.exercises.len().saturating_sub(1));
    let go = |to: usize| {
        let (at, name) = (at.clone(), name.clone());
        Callback::from(move |_: MouseEvent| {
            // A browser that keeps nothing opens the first that is left.
            let _ = store::save_any(&name, VERSION, &to);
            at.set(to);
        })
    };
    let again = {
        let (all, set) = (all.clone(), set.clone());
        InSet(Callback::from(move |()| all.set(set.exercises.iter().map(kept_of).collect())))
    };
    let again = use_memo((), |()| again);
    let Some(exercise) = set.exercises.get(at_now) else {
        return html! { <p class="alert" role="alert">{ "There is nothing in this set. Ask for it to be made anew." }</p> };
    };
    let title = |at: usize, one: &Exercise| {
        let title =
            if one.title.is_empty() { one.task.words().to_owned() } else { shown(&one.title, &settings) };
        format!("{}. {title}", at + 1)
    };
    let done = handed_in.iter().filter(|done| **done).count();
    let next = set.next(&handed_in).filter(|next| *next != at_now && handed_in[at_now]);
    html! {
        <>
            <p role="status" aria-label="The set">{ format!("{done} of {} handed in{}.", set.exercises.len(), if set.in_order { "; they are done in order" } else { "; in any order" }) }</p>
            <ol aria-label="Exercises of the set" class="set-exercises">{ for set.exercises.iter().enumerate().map(|(n, one)| html! {
                <li>
                    <button type="button" class="tab" aria-pressed={if n == at_now { "true" } else { "false" }} disabled={!set.open(n, &handed_in)} onclick={go(n)}>{ title(n, one) }</button>
                    <span class="note">{ format!(" {}", stands(one, &all[n])) }</span>
                </li>
            }) }</ol>
            <section class="marked" aria-label={title(at_now, exercise)}>
                <h2>{ title(at_now, exercise) }</h2>
                <ContextProvider<InSet> context={(*again).clone()}>
                    <Open key={at_now} exercise={Rc::new(exercise.clone())} />
                </ContextProvider<InSet>>
            </section>
            if let Some(next) = next { <button type="button" class="main" onclick={go(next)}>{ format!("On to number {}", next + 1) }</button> }
            if done > 0 { <HandIn slip={slip_of(set, &all)} name={(*name).clone()} /> }
        </>
    }
}
