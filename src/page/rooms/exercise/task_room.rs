//! What an exercise opens: the room of its task.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::{Exercise, Task};
use crate::page::rooms::exercise::round::Round;
use crate::page::rooms::exercise::writing::Writing;
use crate::page::rooms::{proofread, transcribe};
use crate::page::surface::work;

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
    if !exercise.signs.is_empty() {
        return html! { <Round exercise={exercise.clone()} /> };
    }
    match exercise.task {
        Task::Read | Task::DotNumbers => html! { <Round exercise={exercise.clone()} /> },
        Task::Transcribe => html! { <transcribe::desk::Desk set={exercise.clone()} /> },
        Task::Proofread => html! {
            <proofread::work::Work text={AttrValue::from(exercise.text.clone())} contracted={exercise.contracted}
                plants={exercise.plants.clone().unwrap_or_default()} set={exercise.clone()}
                name={work::name_of("proofread", &exercise.identity())} />
        },
        Task::Write | Task::Slate => html! { <Writing exercise={exercise.clone()} /> },
    }
}
