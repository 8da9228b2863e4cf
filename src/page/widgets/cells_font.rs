//! The font of the cells, [`crate::cell::FONT`], given to the browser. With it a word of the writing surface is a line of
//! text, which a browser lays out and paints sooner than shapes.
//!
//! Some people let no page choose its fonts. Then words are drawn as shapes, as those with findings always are.

use std::cell::{Cell, OnceCell};

use web_sys::js_sys::Uint8Array;
use web_sys::{Element, FontFace, FontFaceLoadStatus};

use crate::page::widgets::cells_line::CELL_WIDTH;

/// The font's name in `www/style.css`.
const NAME: &str = "Cells";

thread_local! {
    static FACE: OnceCell<Option<FontFace>> = const { OnceCell::new() };
    /// Whether the browser draws with it, once it was looked at.
    static DRAWS: Cell<Option<bool>> = const { Cell::new(None) };
}

fn face() -> Option<FontFace> {
    FACE.with(|face| face.get_or_init(load).clone())
}

fn load() -> Option<FontFace> {
    let face = FontFace::new_with_array_buffer_view(NAME, &Uint8Array::from(crate::cell::FONT)).ok()?;
    gloo::utils::document().fonts().add(&face).ok()?;
    Some(face)
}

/// Gives the browser the font, if it was not needed before.
pub fn begin() {
    face();
}

/// Whether the browser was given the font. A word without cells need not be the first to ask for it.
pub fn has_begun() -> bool {
    FACE.with(|face| face.get().is_some())
}

/// Whether words may be drawn with the font, as far as is known.
pub fn may_draw() -> bool {
    DRAWS.get().unwrap_or(true) && face().is_some_and(|face| face.status() != FontFaceLoadStatus::Error)
}

/// Looks once, at a word drawn with the font, whether the browser took the font for it: whether it is as wide as that many
/// cells, with that many CSS pixels between two dots. Gives `false` when it is not.
pub fn drew(word: &Element, cells: usize, dot: f64) -> bool {
    if DRAWS.get().is_none() && face().is_some_and(|face| face.status() == FontFaceLoadStatus::Loaded) {
        let (width, cell) = (word.get_bounding_client_rect().width(), dot * CELL_WIDTH);
        // The caret at the end is part of the word, two pixels of it.
        DRAWS.set(Some((width - cell * cells as f64).abs() < 3.0));
    }
    DRAWS.get().unwrap_or(true)
}
