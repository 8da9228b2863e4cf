//! What this browser keeps: versioned JSON in localStorage. It may be missing, damaged, full or refused; nothing here
//! fails loudly, and a record that cannot be read is set aside, never overwritten in silence.

use std::cell::RefCell;

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use wasm_bindgen::JsValue;
use web_sys::js_sys::{JSON, Reflect};

use super::stored::{self, Stored};

/// Why something could not be kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StoreError {
    /// The browser keeps nothing for this page (private window, file page, or switched off).
    Refused,
    /// The browser's room for this page is used up.
    Full,
    /// The value has no form in JSON.
    Form,
}

impl StoreError {
    /// What it means and what to do, in plain words.
    pub fn words(self) -> &'static str {
        match self {
            StoreError::Refused => {
                "This browser keeps nothing for this page. Save your record as a file before you close it."
            }
            StoreError::Full => "This browser has no room left for this page. Save your record as a file.",
            StoreError::Form => "This could not be stored.",
        }
    }
}

#[derive(Serialize, Deserialize)]
struct Kept<T> {
    version: u32,
    value: T,
}

fn storage() -> Option<web_sys::Storage> {
    gloo::utils::window().local_storage().ok().flatten()
}

thread_local! {
    /// What the browser did not take, for as long as the page is open.
    static HELD: RefCell<Vec<(String, String)>> = const { RefCell::new(Vec::new()) };
}

/// The text under a whole key: what the browser keeps, or what it did not take and the page holds.
pub fn text(key: &str) -> Option<String> {
    HELD.with_borrow(|held| held.iter().find(|(known, _)| known == key).map(|(_, text)| text.clone()))
        .or_else(|| storage()?.get_item(key).ok().flatten())
}

/// Keeps a text under a whole key. What the browser does not take is held as long as the page is open.
///
/// # Errors
/// When the browser refuses or has no room left.
pub fn keep_text(key: &str, text: &str) -> Result<(), StoreError> {
    let kept = match storage() {
        None => Err(StoreError::Refused),
        // A browser that keeps nothing at all says the same as one that is full.
        Some(storage) => storage.set_item(key, text).map_err(|_| {
            if storage.length().is_ok_and(|length| length > 0) {
                StoreError::Full
            } else {
                StoreError::Refused
            }
        }),
    };
    HELD.with_borrow_mut(|held| {
        held.retain(|(known, _)| known != key);
        if kept.is_err() {
            held.push((key.to_owned(), text.to_owned()));
        }
    });
    kept
}

/// Every whole key there is, of this page or not.
pub fn keys() -> Vec<String> {
    let mut keys: Vec<String> = HELD.with_borrow(|held| held.iter().map(|(key, _)| key.clone()).collect());
    if let Some(storage) = storage() {
        let stored = (0..storage.length().unwrap_or(0)).filter_map(|n| storage.key(n).ok().flatten());
        keys.extend(stored);
    }
    crate::order::sort(&mut keys);
    keys.dedup();
    keys
}

fn full_key(key: &str) -> String {
    format!("cellwright.{key}")
}

/// Whether this browser keeps anything at all for this page.
pub fn works() -> bool {
    storage().is_some_and(|storage| {
        storage.set_item("cellwright.try", "1").is_ok() && storage.remove_item("cellwright.try").is_ok()
    })
}

/// The value under `key` if it was kept with this `version`. A damaged value or one of another version is set aside
/// under `key.aside` and counts as missing.
pub fn load<T: Stored>(key: &str, version: u32) -> Option<T> {
    load_by(key, |text| {
        let kept = JSON::parse(text).ok()?;
        (stored::part(&kept, "version") == Some(version)).then(|| stored::part(&kept, "value"))?
    })
}

/// [`load`] for what only the whole page keeps, of any type that serde knows.
pub fn load_any<T: DeserializeOwned>(key: &str, version: u32) -> Option<T> {
    load_by(key, |text| {
        serde_json::from_str::<Kept<T>>(text)
            .ok()
            .filter(|kept| kept.version == version)
            .map(|kept| kept.value)
    })
}

fn load_by<T>(key: &str, read: impl FnOnce(&str) -> Option<T>) -> Option<T> {
    let key = full_key(key);
    let text = text(&key)?;
    let value = read(&text);
    if value.is_none() {
        let _ = keep_text(&format!("{key}.aside"), &text);
    }
    value
}

/// Keeps a value under `key`.
///
/// # Errors
/// When the browser refuses or has no room left; the value kept before stays there, and the new one is held as long
/// as the page is open.
pub fn save<T: Stored>(key: &str, version: u32, value: &T) -> Result<(), StoreError> {
    let kept = stored::object(&[("version", version.give()), ("value", value.give())]);
    let text = JSON::stringify(&kept).map_err(|_| StoreError::Form)?;
    keep_text(&full_key(key), &String::from(text))
}

/// [`save`] for what only the whole page keeps, of any type that serde knows.
///
/// # Errors
/// As for [`save`].
pub fn save_any<T: Serialize>(key: &str, version: u32, value: &T) -> Result<(), StoreError> {
    let text = serde_json::to_string(&Kept { version, value }).map_err(|_| StoreError::Form)?;
    keep_text(&full_key(key), &text)
}

/// Forgets the value under `key`.
pub fn forget(key: &str) {
    forget_text(&full_key(key));
}

/// Forgets the text under a whole key.
pub fn forget_text(key: &str) {
    HELD.with_borrow_mut(|held| held.retain(|(known, _)| known != key));
    if let Some(storage) = storage() {
        let _ = storage.remove_item(key);
    }
}

/// Where one half of the page leaves for the other what the browser did not take.
const HELD_KEY: &str = "cellwrightHeld";

/// Leaves what the browser did not take for the whole page that takes this one's place.
pub fn hand_over() {
    let held = HELD.with_borrow(Stored::give);
    let _ = Reflect::set(&gloo::utils::window(), &HELD_KEY.into(), &held);
}

/// Takes what the half before has left. Gives whether there was one.
pub fn take_over() -> bool {
    let left = Reflect::get(&gloo::utils::window(), &HELD_KEY.into()).unwrap_or(JsValue::UNDEFINED);
    if let Some(held) = Stored::take(&left) {
        HELD.set(held);
        return true;
    }
    false
}
