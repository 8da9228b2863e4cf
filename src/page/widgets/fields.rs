//! What stands in a field, and the way of the focus to it.

use yew::prelude::*;

/// The text of an input event's field.
pub fn text_of(event: &InputEvent) -> String {
    event.target_unchecked_into::<web_sys::HtmlInputElement>().value()
}

/// Whether somebody goes through a list by its keys: what it opens must not take the focus away at every step.
pub fn choosing() -> bool {
    let active = gloo::utils::document().active_element();
    active.is_some_and(|active| {
        active.tag_name() == "SELECT" && active.matches(":focus-visible").unwrap_or(false)
    })
}

/// Puts the focus into a field whenever `turn` changes, and when it appears.
#[hook]
pub fn use_focus(turn: u32) -> NodeRef {
    let node = use_node_ref();
    {
        let node = node.clone();
        use_effect_with(turn, move |_| {
            if let Some(field) = node.cast::<web_sys::HtmlElement>().filter(|_| !choosing()) {
                let _ = field.focus();
            }
        });
    }
    node
}

/// Puts the focus into a field and selects a part of its text, given in Unicode scalar values.
pub fn select_part(field: &NodeRef, text: &str, from: usize, to: usize) {
    let Some(field) = field.cast::<web_sys::HtmlInputElement>() else { return };
    let unit = |place: usize| text.chars().take(place).map(|c| c.len_utf16() as u32).sum::<u32>();
    let _ = field.focus();
    let _ = field.set_selection_range(unit(from), unit(to));
}
