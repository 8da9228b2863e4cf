//! Ctrl+Z wherever the focus is, for what was replaced just now.

use gloo::events::{EventListener, EventListenerOptions};
use wasm_bindgen::JsCast;
use web_sys::{Element, KeyboardEvent};
use yew::prelude::*;

/// Whether a key goes into a field with an undoing of its own. The writing surface's is asked after this one.
fn in_a_field(event: &KeyboardEvent) -> bool {
    let target = event.target().and_then(|target| target.dyn_into::<Element>().ok());
    target.is_some_and(|target| {
        target
            .matches("textarea:not([readonly], .text-box), input:not([type=checkbox], [type=radio], [type=file], [type=range])")
            .unwrap_or(false)
    })
}

/// Hears Ctrl+Z before anything else does, as long as this is held.
pub fn listen(undo: impl Fn() + 'static) -> EventListener {
    let options = EventListenerOptions { phase: gloo::events::EventListenerPhase::Capture, passive: false };
    EventListener::new_with_options(&gloo::utils::window(), "keydown", options, move |event| {
        let Some(event) = event.dyn_ref::<KeyboardEvent>() else { return };
        let command = (event.ctrl_key() || event.meta_key()) && !event.alt_key() && !event.shift_key();
        if command && event.code() == "KeyZ" && !in_a_field(event) {
            event.prevent_default();
            event.stop_propagation();
            undo();
        }
    })
}

/// Hears Ctrl+Z while there is something to undo.
#[hook]
pub fn use_undo_key(undo: Option<Callback<()>>) {
    use_effect_with(undo, |undo| {
        let listener = undo.clone().map(|undo| listen(move || undo.emit(())));
        move || drop(listener)
    });
}
