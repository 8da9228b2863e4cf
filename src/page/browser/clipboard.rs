//! The clipboard and the browser's own share sheet, and what is said of what was put there.

use wasm_bindgen::{JsCast, JsValue};
use web_sys::js_sys::{Function, Object, Promise, Reflect};

fn sheet() -> Option<Function> {
    Reflect::get(&gloo::utils::window().navigator(), &"share".into()).ok()?.dyn_into().ok()
}

/// Whether this browser has a share sheet.
pub fn may_share() -> bool {
    sheet().is_some()
}

/// Hands a link to the browser's share sheet and says what became of it.
pub async fn share(link: &str) -> String {
    let asked = || -> Option<Promise> {
        let what = Object::new();
        Reflect::set(&what, &"url".into(), &JsValue::from_str(link)).ok()?;
        sheet()?.call1(&gloo::utils::window().navigator(), &what).ok()?.dyn_into().ok()
    };
    let Some(asked) = asked() else { return copy_link(link).await };
    match wasm_bindgen_futures::JsFuture::from(asked).await {
        Ok(_) => "It was handed over.".to_owned(),
        // Who closes the sheet has changed their mind.
        Err(_) => "Nothing was sent.".to_owned(),
    }
}

/// Puts a text on the clipboard and says what became of it.
pub async fn copy_text(text: &str) -> String {
    let clipboard = gloo::utils::window().navigator().clipboard();
    match wasm_bindgen_futures::JsFuture::from(clipboard.write_text(text)).await {
        Ok(_) => "It is on the clipboard.".to_owned(),
        Err(_) => "This browser does not let the page copy. Select the text and copy it yourself.".to_owned(),
    }
}

/// Puts a link on the clipboard and says what became of it.
pub async fn copy_link(link: &str) -> String {
    let clipboard = gloo::utils::window().navigator().clipboard();
    match wasm_bindgen_futures::JsFuture::from(clipboard.write_text(link)).await {
        Ok(_) => "The link is on the clipboard.".to_owned(),
        Err(_) => format!("This browser does not let the page copy. The link: {link}"),
    }
}
