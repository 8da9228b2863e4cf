//! A room or a page that is left: nothing typed is lost.

use wasm_bindgen::JsCast;

/// Many fields tell of what was typed into them when the focus leaves. A page that is closed, or a room left by the browser's
/// own ways, takes no focus away: so it is taken here, and nothing typed is lost.
/// What such a field tells is to be kept at once, not when the room is next drawn: it may never be.
pub fn finish_typing() {
    let active = gloo::utils::document().active_element();
    if let Some(field) = active.and_then(|active| active.dyn_into::<web_sys::HtmlElement>().ok())
        && matches!(field.tag_name().as_str(), "INPUT" | "TEXTAREA")
    {
        let _ = field.blur();
    }
}
