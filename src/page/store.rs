//! What this browser keeps: versioned JSON in localStorage. It may be missing, damaged, full or refused; nothing here
//! fails loudly, and a record that cannot be read is set aside, never overwritten in silence.

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

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
pub fn load<T: DeserializeOwned>(key: &str, version: u32) -> Option<T> {
    let storage = storage()?;
    let key = full_key(key);
    let text = storage.get_item(&key).ok().flatten()?;
    match serde_json::from_str::<Kept<T>>(&text) {
        Ok(kept) if kept.version == version => Some(kept.value),
        _ => {
            let _ = storage.set_item(&format!("{key}.aside"), &text);
            None
        }
    }
}

/// Keeps a value under `key`.
///
/// # Errors
/// When the browser refuses or has no room left; the value kept before stays.
pub fn save<T: Serialize>(key: &str, version: u32, value: &T) -> Result<(), StoreError> {
    let storage = storage().ok_or(StoreError::Refused)?;
    let text = serde_json::to_string(&Kept { version, value }).map_err(|_| StoreError::Form)?;
    storage.set_item(&full_key(key), &text).map_err(|_| StoreError::Full)
}

/// Forgets the value under `key`.
pub fn forget(key: &str) {
    if let Some(storage) = storage() {
        let _ = storage.remove_item(&full_key(key));
    }
}
