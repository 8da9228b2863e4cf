//! What an exercise opens: the room of its task.

use std::rc::Rc;

use yew::prelude::*;

use super::halves::{Elsewhere, WHOLE};
use super::round::Round;
use super::write::Desk;
use super::{proofread, transcribe, work};
use crate::exercise::{Exercise, Task};

/// An exercise to work on.
#[derive(Properties, PartialEq)]
pub struct TaskRoomProps {
    /// The exercise.
    pub exercise: Rc<Exercise>,
}

/// The room of an exercise's task.
#[component]
pub fn TaskRoom(props: &TaskRoomProps) -> Html {
    let exercise = &props.exercise;
    let here = matches!(exercise.task, Task::Write | Task::Slate) && exercise.signs.is_empty();
    if !WHOLE && !here {
        return html! { <Elsewhere /> };
    }
    if !exercise.signs.is_empty() {
        return html! { <Round exercise={exercise.clone()} /> };
    }
    match exercise.task {
        Task::Read | Task::DotNumbers => html! { <Round exercise={exercise.clone()} /> },
        Task::Transcribe => html! { <transcribe::Desk set={exercise.clone()} /> },
        Task::Proofread => html! {
            <proofread::Work text={AttrValue::from(exercise.text.clone())} contracted={exercise.contracted}
                plants={exercise.plants.clone().unwrap_or_default()} set={exercise.clone()}
                name={work::name_of("proofread", &exercise.to_payload().unwrap_or_default())} />
        },
        Task::Write | Task::Slate => html! {
            <Desk set={AttrValue::from(exercise.prompt())} contracted={exercise.contracted}
                slate={exercise.task == Task::Slate} hide={exercise.hide_reading}
                title={AttrValue::from(exercise.title.clone())} exercise={exercise.clone()} />
        },
    }
}
