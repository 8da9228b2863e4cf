//! A shared exercise: making its link, and opening one.

use std::rc::Rc;

use yew::prelude::*;

use super::from_file;
use super::set_rooms::TaskRoom;
use super::settings::{Settings, SettingsHandle, use_settings};
use crate::exercise::Exercise;

/// A shared exercise's payload, as the address carries it.
#[derive(Properties, PartialEq)]
pub struct SharedProps {
    /// All after `#/x/`.
    pub payload: String,
}

/// The link of an exercise, or why there is none.
///
/// # Errors
/// In plain words, when the exercise does not fit into a link.
pub fn link_of(exercise: &Exercise) -> Result<String, String> {
    let payload = exercise.to_payload().map_err(|error| error.to_string())?;
    Ok(format!("{}#/x/{payload}", from_file::site().ok_or(from_file::NO_SITE)?))
}

/// Puts a link on the clipboard and says what became of it.
pub async fn copy(link: &str) -> String {
    let clipboard = gloo::utils::window().navigator().clipboard();
    match wasm_bindgen_futures::JsFuture::from(clipboard.write_text(link)).await {
        Ok(_) => "The link is on the clipboard.".to_owned(),
        Err(_) => format!("This browser does not let the page copy. The link: {link}"),
    }
}

/// A shared exercise, opened from its link; a link that cannot be opened says why.
#[component]
pub fn Shared(props: &SharedProps) -> Html {
    let opened = use_memo(props.payload.clone(), |payload| Exercise::from_payload(payload));
    match &*opened {
        Ok(exercise) => html! { <Open key={props.payload.clone()} exercise={Rc::new(exercise.clone())} /> },
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

#[derive(Properties, PartialEq)]
struct OpenProps {
    exercise: Rc<Exercise>,
}

/// An exercise at work. What the teacher has set holds here only: the learner's own settings stay as they are.
#[component]
fn Open(props: &OpenProps) -> Html {
    let exercise = &props.exercise;
    let own = use_settings();
    let here = use_state(|| Settings {
        contracted: exercise.contracted,
        dot_numbers_only: exercise.dot_numbers_only,
        hide_reading: exercise.hide_reading,
        ..(*own).clone()
    });
    let handle = SettingsHandle::passing(here);
    let title = if exercise.title.is_empty() { "An exercise" } else { exercise.title.as_str() };
    html! {
        <ContextProvider<SettingsHandle> context={handle}>
            <h1>{ title }</h1>
            <p class="note">
                { exercise.task.words() }
                { if exercise.contracted { " · contracted" } else { " · uncontracted" } }
                { if exercise.dot_numbers_only { " · dot numbers only" } else { "" } }
                { if exercise.hide_reading { " · the reading is hidden until you mark your work" } else { "" } }
            </p>
            <TaskRoom exercise={exercise.clone()} />
        </ContextProvider<SettingsHandle>>
    }
}
