//! A shared exercise: making its link, and opening one.

pub mod book;
pub mod round;
pub mod several;
pub mod task_room;
pub mod writing;

use std::rc::Rc;

use gloo::timers::callback::Timeout;
use yew::prelude::*;

use crate::exercise::{Exercise, Work};
use crate::page::browser::held::use_held;
use crate::page::learner::rehearsal::Rehearsal;
use crate::page::learner::settings::{Settings, SettingsHandle, use_settings};
use crate::page::rooms::exercise::book::WithText;
use crate::page::rooms::exercise::several::Several;
use crate::page::rooms::exercise::task_room::TaskRoom;
use crate::page::widgets::cells_line::{shown, without_glyphs};
use crate::ueb::Edition;

/// A shared exercise's payload, as the address carries it.
#[derive(Properties, PartialEq)]
pub struct SharedProps {
    /// All after `#/x/`.
    pub payload: String,
}

/// A shared exercise, opened from its link; a link that cannot be opened says why.
#[component]
pub fn Shared(props: &SharedProps) -> Html {
    let own = use_settings();
    let opened = use_memo(props.payload.clone(), |payload| Work::from_payload(payload));
    match &*opened {
        Ok(Work::One(exercise)) => {
            html! {
                <>
                    <h1>{ title_of(exercise, &own) }</h1>
                    <Open key={props.payload.clone()} exercise={Rc::new((**exercise).clone())} />
                </>
            }
        }
        Ok(Work::Many(set)) => {
            let title = if set.title.is_empty() { "A set of exercises" } else { &set.title };
            html! {
                <>
                    <h1>{ shown(title, &own) }</h1>
                    <Several key={props.payload.clone()} set={Rc::new(set.clone())} payload={props.payload.clone()} />
                </>
            }
        }
        Err(error) => html! {
            <>
                <h1>{ "This link could not be opened" }</h1>
                <p class="alert" role="alert">{ error.to_string() }</p>
                <p>{ "Nothing that you have saved was touched. The page itself works as ever: choose a room above, or " }
                    <a href="#/write">{ "go and write" }</a>{ "." }</p>
            </>
        },
    }
}

/// Whether it is shown in dot numbers only: as the teacher has set it, or as the learner wants it everywhere.
fn numbers_only(exercise: &Exercise, own: &Settings) -> bool {
    exercise.dot_numbers_only || own.dot_numbers_only
}

/// What stands above an exercise.
fn title_of(exercise: &Exercise, own: &Settings) -> String {
    match exercise.title.as_str() {
        "" => "An exercise".to_owned(),
        title if numbers_only(exercise, own) => without_glyphs(title),
        title => title.to_owned(),
    }
}

/// An exercise.
#[derive(Properties, PartialEq)]
pub struct OpenProps {
    /// The exercise.
    pub exercise: Rc<Exercise>,
}

/// How long a teacher has to pause before the exercise is shown anew, in milliseconds.
const PAUSE: u32 = 700;

/// An exercise as the learner will see it, under the eyes of the one who is making it: it follows what is changed, a
/// moment later, and nothing that is tried in it is kept or recorded.
#[component]
pub fn Preview(props: &OpenProps) -> Html {
    let own = use_settings();
    let shown = use_held(|| props.exercise.clone());
    {
        let shown = shown.clone();
        use_effect_with(props.exercise.clone(), move |exercise| {
            let exercise = exercise.clone();
            let timer = Timeout::new(PAUSE, move || shown.set(exercise));
            move || drop(timer)
        });
    }
    let payload = shown.to_payload().unwrap_or_default();
    html! {
        <section class="marked preview" aria-label="As the learner will see it">
            <h2>{ title_of(&shown, &own) }</h2>
            <ContextProvider<Rehearsal> context={Rehearsal}>
                <Open key={payload} exercise={(*shown).clone()} />
            </ContextProvider<Rehearsal>>
        </section>
    }
}

/// An exercise at work, when its text is here.
#[component]
fn Open(props: &OpenProps) -> Html {
    let show = use_callback((), |exercise: Rc<Exercise>, ()| html! { <AtWork {exercise} /> });
    html! { <WithText exercise={props.exercise.clone()} {show} /> }
}

/// An exercise at work. What the teacher has set holds here only: the learner's own settings stay as they are. A learner who
/// wants dot numbers only has them here too.
#[component]
fn AtWork(props: &OpenProps) -> Html {
    let exercise = &props.exercise;
    let own = use_settings();
    let here = use_state(|| Settings {
        contracted: exercise.contracted,
        third_edition: exercise.edition == Edition::Third,
        dot_numbers_only: numbers_only(exercise, &own),
        hide_reading: exercise.hide_reading,
        ..(*own).clone()
    });
    // Of a rehearsal nothing is kept.
    let rehearsal = use_context::<Rehearsal>().is_some();
    let handle =
        if rehearsal { SettingsHandle::passing(here) } else { SettingsHandle::within(here, own.clone()) };
    let handle = handle.with_numbers_set(exercise.dot_numbers_only);
    html! {
        <ContextProvider<SettingsHandle> context={handle}>
            <p class="note">
                { exercise.task.words() }
                { if exercise.contracted { " · contracted" } else { " · uncontracted" } }
                { if exercise.edition == Edition::Third { " · third edition of the rules (2024)" } else { "" } }
                { if numbers_only(exercise, &own) { " · dot numbers only" } else { "" } }
                { if exercise.hide_reading { " · the reading is hidden until you mark your work" } else { "" } }
            </p>
            <TaskRoom exercise={exercise.clone()} />
        </ContextProvider<SettingsHandle>>
    }
}
