//! Nodes of the page made by hand, for what changes with every key. Text is put in as text, never as HTML.

use web_sys::{Element, Text};

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

/// A text that changes: its node stays, and what is the same at the beginning is not touched, so a browser lays out only what
/// differs.
pub struct Said {
    node: Text,
    text: String,
}

impl Said {
    /// A text at the end of an element.
    pub fn new(within: &Element, text: String) -> Said {
        let node = gloo::utils::document().create_text_node(&text);
        let _ = within.append_child(&node);
        Said { node, text }
    }

    /// Brings it to another text.
    pub fn say(&mut self, text: String) {
        let same: usize = self
            .text
            .chars()
            .zip(text.chars())
            .take_while(|(one, two)| one == two)
            .map(|(c, _)| c.len_utf8())
            .sum();
        let units = |text: &str| text.encode_utf16().count() as u32;
        let (gone, new) = (units(&self.text[same..]), &text[same..]);
        if gone > 0 || !new.is_empty() {
            let _ = self.node.replace_data(units(&text[..same]), gone, new);
        }
        self.text = text;
    }
}

/// Sets an attribute.
pub fn put(element: &Element, name: &str, value: &str) {
    let _ = element.set_attribute(name, value);
}
