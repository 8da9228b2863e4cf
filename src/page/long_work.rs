//! Work on much at once, which may hold the page for longer than half a second: the page says so before it begins.

use std::rc::Rc;

use gloo::timers::callback::Timeout;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use yew::prelude::*;

use super::live::Live;

/// From so many letters or cells on, some work of the page may take half a second on a slow computer.
pub const LONG: usize = 20_000;
const WORDS: &str = "At work. The page answers again in a moment.";

/// Does a piece of work on so many letters or cells: at once, or, when there are many, after saying so.
pub fn on(size: usize, work: impl FnOnce() + 'static) {
    if size < LONG {
        work();
        return;
    }
    say(WORDS);
    after_a_frame(move || {
        work();
        // What has come of it is drawn in the same frame.
        say("");
    });
}

/// Work on all that is being written.
pub fn on_writing(live: &Rc<Live>, work: Callback<()>) -> Callback<()> {
    let live = live.clone();
    Callback::from(move |()| {
        let (cells, work) = (live.now().lines().map(|line| line.cells.len()).sum(), work.clone());
        on(cells, move || work.emit(()));
    })
}

/// When what stands on the page now has been painted; a page out of sight is not painted, and does not wait.
fn after_a_frame(work: impl FnOnce() + 'static) {
    let then = || Timeout::new(0, work).forget();
    if gloo::utils::document().hidden() {
        then();
        return;
    }
    let frame = Closure::once_into_js(then);
    let _ = gloo::utils::window().request_animation_frame(frame.unchecked_ref());
}

/// Puts the words, or none, into the place that index.html has for them.
fn say(words: &str) {
    let document = gloo::utils::document();
    if let Some(place) = document.get_element_by_id("at-work") {
        place.set_text_content(Some(words));
    }
    if let Some(room) = document.get_element_by_id("room") {
        let _ = room.remove_attribute("aria-busy");
        if !words.is_empty() {
            let _ = room.set_attribute("aria-busy", "true");
        }
    }
}
