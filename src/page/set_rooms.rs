//! What an exercise opens: the room of its task.

use std::rc::Rc;

use yew::prelude::*;

use super::learner::use_learner;
use super::read_line::ReadLine;
use super::write::Desk;
use super::{proofread, transcribe};
use crate::cell::Cell;
use crate::exercise::{Exercise, Task};
use crate::ueb::{self, Options};

/// An exercise to work on.
#[derive(Properties, PartialEq)]
pub struct TaskRoomProps {
    /// The exercise.
    pub exercise: Rc<Exercise>,
}

/// The lines of its text that hold something, as many as the exercise asks for.
fn items(exercise: &Exercise) -> Vec<AttrValue> {
    let most = exercise.items.map_or(usize::MAX, usize::from);
    let lines = exercise.text.lines().map(str::trim).filter(|line| !line.is_empty()).take(most);
    lines.map(|line| AttrValue::from(line.to_owned())).collect()
}

/// The room of an exercise's task.
#[component]
pub fn TaskRoom(props: &TaskRoomProps) -> Html {
    let exercise = &props.exercise;
    match exercise.task {
        Task::Read => html! { <ReadThrough exercise={exercise.clone()} /> },
        Task::DotNumbers => html! { <NameNumbers exercise={exercise.clone()} /> },
        Task::Transcribe => html! { <transcribe::Desk set={exercise.clone()} /> },
        Task::Proofread => html! {
            <proofread::Work text={AttrValue::from(exercise.text.clone())} contracted={exercise.contracted}
                plants={exercise.plants.clone().unwrap_or_default()} set={exercise.clone()} />
        },
        Task::Write | Task::Slate => html! {
            <Desk set={AttrValue::from(items(exercise).join("\n"))} contracted={exercise.contracted}
                slate={exercise.task == Task::Slate} hide={exercise.hide_reading}
                title={AttrValue::from(exercise.title.clone())} />
        },
    }
}

/// Braille to read, line by line.
#[component]
fn ReadThrough(props: &TaskRoomProps) -> Html {
    let learner = use_learner();
    let at = use_state_eq(|| 0usize);
    let said = use_state_eq(String::new);
    let items = use_memo(props.exercise.clone(), |exercise| items(exercise));
    let on_next = {
        let (at, said) = (at.clone(), said.clone());
        Callback::from(move |(_, says): (bool, String)| {
            said.set(says);
            at.set(*at + 1);
        })
    };
    html! {
        <>
        if !said.is_empty() { <p role="status" class="before">{ (*said).clone() }</p> }
        if let Some(print) = items.get(*at) {
            <p class="where">{ format!("Line {} of {}", *at + 1, items.len()) }</p>
            <ReadLine key={*at} print={print.clone()} contracted={props.exercise.contracted} {learner} {on_next} />
        } else {
            <Done words={format!("All {} lines are read.", items.len())} again={Callback::from(move |()| at.set(0))} />
        }
        </>
    }
}

/// Where the learner is in naming dot numbers.
#[derive(Clone, Debug, Default, PartialEq)]
struct Naming {
    at: usize,
    tries: usize,
    /// Items named at the first try.
    at_once: usize,
    says: String,
}

/// Print whose dot numbers are to be named, item by item.
#[component]
fn NameNumbers(props: &TaskRoomProps) -> Html {
    let now = use_state_eq(Naming::default);
    let typed = use_state_eq(String::new);
    let items = use_memo(props.exercise.clone(), |exercise| items(exercise));
    let Some(print) = items.get(now.at) else {
        let words = format!("{} of {} named at the first try.", now.at_once, items.len());
        return html! { <Done {words} again={Callback::from(move |()| now.set(Naming::default()))} /> };
    };
    let options = Options { contracted: props.exercise.contracted, ..Options::default() };
    let asked: Vec<Cell> =
        ueb::transcribe(print, &options).into_iter().filter(|cell| !cell.is_blank()).collect();
    let onsubmit = {
        let (now, typed, asked) = (now.clone(), typed.clone(), asked.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            let named: Vec<Option<Cell>> = typed.split_whitespace().map(Cell::from_dot_numbers).collect();
            let named = named.into_iter().filter(|cell| cell.is_none_or(|cell| !cell.is_blank()));
            match differs(&asked, &named.collect::<Vec<_>>()) {
                None => {
                    let at_once = now.at_once + usize::from(now.tries == 0);
                    now.set(Naming { at: now.at + 1, tries: 0, at_once, says: "Right.".to_owned() });
                    typed.set(String::new());
                }
                Some(says) => now.set(Naming { tries: now.tries + 1, says, ..(*now).clone() }),
            }
        })
    };
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| {
            typed.set(event.target_unchecked_into::<web_sys::HtmlInputElement>().value());
        })
    };
    let show = {
        let (now, says) = (now.clone(), super::cells_line::numbers(&asked));
        Callback::from(move |_: MouseEvent| {
            now.set(Naming { tries: now.tries + 1, says: says.clone(), ..(*now).clone() });
        })
    };
    html! {
        <form class="practise" {onsubmit}>
            <p class="where">{ format!("{} of {}", now.at + 1, items.len()) }</p>
            <p class="asked"><strong>{ print }</strong></p>
            <label class="wide">{ "Its dot numbers, a blank between cells, such as 1-2-4 1-5" }
                <input type="text" autocomplete="off" inputmode="text" value={(*typed).clone()} {oninput} />
            </label>
            <div class="controls">
                <button type="submit" class="main">{ "Answer" }</button>
                if props.exercise.help { <button type="button" class="quiet" onclick={show}>{ "Show it" }</button> }
            </div>
            <p role="status">{ &now.says }</p>
        </form>
    }
}

/// Where what was named differs from what was asked, in plain words; none when it is right.
fn differs(asked: &[Cell], named: &[Option<Cell>]) -> Option<String> {
    if let Some(at) = named.iter().position(Option::is_none) {
        return Some(format!(
            "Cell {} is not written in dot numbers: use the digits 1 to 6, lowest first.",
            at + 1
        ));
    }
    let wrong = asked.iter().zip(named).position(|(asked, named)| Some(*asked) != *named);
    match wrong {
        Some(at) => Some(format!("Not yet: look again at cell {}.", at + 1)),
        None if asked.len() != named.len() => {
            Some(format!("Not yet: it has {} cells, and you named {}.", asked.len(), named.len()))
        }
        None => None,
    }
}

#[derive(Properties, PartialEq)]
struct DoneProps {
    words: String,
    again: Callback<()>,
}

/// The end of an exercise.
#[component]
fn Done(props: &DoneProps) -> Html {
    let again = props.again.reform(|_: MouseEvent| ());
    html! {
        <section class="done">
            <p role="status">{ &props.words }</p>
            <div class="controls">
                <button type="button" onclick={again}>{ "Do it again" }</button>
                <a class="button" href="#/">{ "To the first screen" }</a>
            </div>
        </section>
    }
}
