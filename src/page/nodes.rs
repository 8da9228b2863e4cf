//! Nodes of the page made by hand, for what changes with every key. Text is put in as text, never as HTML.

use wasm_bindgen::JsCast;
use web_sys::{CharacterData, Element};

/// A new element of HTML with this class; none when it is empty.
pub fn element(name: &str, class: &str) -> Element {
    let element = gloo::utils::document().create_element(name).expect("a name of HTML");
    if !class.is_empty() {
        element.set_class_name(class);
    }
    element
}

/// A new element of SVG with this class.
pub fn svg(name: &str, class: &str) -> Element {
    let element = gloo::utils::document()
        .create_element_ns(Some("http://www.w3.org/2000/svg"), name)
        .expect("a name of SVG");
    put(&element, "class", class);
    element
}

/// Puts an element at the end of another, and gives it.
pub fn within(outer: &Element, inner: Element) -> Element {
    let _ = outer.append_child(&inner);
    inner
}

/// Changes an element's only text from what it was, when something was there. The text's own node stays, and what is the same
/// at the beginning is not touched: so a browser lays out only what differs.
pub fn say(element: &Element, was: &str, text: &str) {
    let node = element.first_child().and_then(|node| node.dyn_into::<CharacterData>().ok());
    let same: usize =
        was.chars().zip(text.chars()).take_while(|(one, two)| one == two).map(|(c, _)| c.len_utf8()).sum();
    let units = |text: &str| text.encode_utf16().count() as u32;
    let changed = node.is_some_and(|node| {
        node.replace_data(units(&was[..same]), units(&was[same..]), &text[same..]).is_ok()
    });
    if !changed {
        element.set_text_content(Some(text));
    }
}

/// Sets an attribute.
pub fn put(element: &Element, name: &str, value: &str) {
    let _ = element.set_attribute(name, value);
}
