//! Saving a text as a file, and printing a part of the page.

use wasm_bindgen::JsCast;

/// Hands the browser a file to save.
pub fn save(name: &str, text: &str) {
    let blob = gloo::file::Blob::new_with_options(text, Some("text/plain;charset=utf-8"));
    let address = gloo::file::ObjectUrl::from(blob);
    let document = gloo::utils::document();
    let Ok(link) = document.create_element("a") else { return };
    let _ = link.set_attribute("href", &address);
    let _ = link.set_attribute("download", name);
    if let Ok(link) = link.dyn_into::<web_sys::HtmlElement>() {
        link.click();
    }
    // The browser takes the file after this turn; its address has to live until then.
    gloo::timers::callback::Timeout::new(10_000, move || drop(address)).forget();
}

/// Prints one part of the page: the element of class `printable` with this `data-sheet`.
pub fn print_sheet(name: &str) {
    let Some(root) = gloo::utils::document().document_element() else { return };
    let _ = root.set_attribute("data-print", name);
    let _ = gloo::utils::window().print();
    let _ = root.remove_attribute("data-print");
}

/// A text as the address of a file to save.
pub fn href(text: &str) -> String {
    format!("data:text/plain;charset=utf-8,{}", String::from(web_sys::js_sys::encode_uri_component(text)))
}
