//! Nodes of the page made by hand, for what changes with every key. Text is put in as text, never as HTML.

use web_sys::Element;

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

/// Sets an attribute.
pub fn put(element: &Element, name: &str, value: &str) {
    let _ = element.set_attribute(name, value);
}
