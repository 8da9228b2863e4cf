//! Work on much at once, which may hold the page for longer than half a second: the page says so before it begins.

use std::cell::RefCell;
use std::rc::Rc;

use gloo::timers::callback::Timeout;
use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;

use crate::page::browser::clock::now;

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

/// A piece of work takes no longer than this, in milliseconds, and a step of it more: a key is answered between two pieces.
const PIECE: u64 = 12;

/// Work that is done in pieces; dropped, it ends.
pub struct Pieces(Rc<RefCell<Option<Timeout>>>);

impl Drop for Pieces {
    fn drop(&mut self) {
        self.0.replace(None);
    }
}

/// Does a long piece of work step by step; what is typed or pointed at meanwhile comes between. `step` does some milliseconds
/// of it and gives whether there is more. The first step is done after this call.
pub fn in_pieces(step: impl FnMut() -> bool + 'static) -> Pieces {
    let next = Rc::new(RefCell::new(None));
    go_on(Rc::new(RefCell::new(step)), next.clone());
    Pieces(next)
}

fn go_on(step: Rc<RefCell<dyn FnMut() -> bool>>, next: Rc<RefCell<Option<Timeout>>>) {
    let then = next.clone();
    let timer = Timeout::new(0, move || {
        let until = now() + PIECE;
        loop {
            let more = (step.borrow_mut())();
            // The step itself may have ended the work.
            if !more || then.borrow().is_none() {
                return;
            }
            if now() >= until {
                break;
            }
        }
        go_on(step, then);
    });
    next.replace(Some(timer));
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
