//! The sheet of the learner's own that lies there, as the browser keeps it.

use crate::exercise::Plants;
use crate::page::browser::store;

const KEY: &str = "proofread.own";
const VERSION: u32 = 1;

/// The sheet that lies there, kept between visits.
#[derive(serde::Serialize, serde::Deserialize)]
pub struct Kept {
    /// The text.
    pub text: String,
    /// What is planted in it, and how it looks.
    pub plants: Plants,
}

/// Keeps it.
pub fn keep(text: &str, plants: &Plants) {
    // A browser that keeps nothing plants another sheet the next time.
    let _ = store::save_any(KEY, VERSION, &Kept { text: text.to_owned(), plants: plants.clone() });
}

/// What was kept.
pub fn load() -> Option<Kept> {
    store::load_any::<Kept>(KEY, VERSION)
}
