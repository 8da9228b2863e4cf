//! How the lines of the writing surface are drawn, and their measures.

use crate::page::widgets::cells_line::{CELL_WIDTH, LINE_HEIGHT, decimal};

/// How all lines are drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Looks {
    /// Dot numbers instead of dots.
    pub numbers: bool,
    /// Faint frames for absent dots.
    pub frames: bool,
    /// What each word says stands under it.
    pub reads: bool,
    /// Drawn as punched on a slate.
    pub slate: bool,
    /// Distance between two dots in CSS pixels.
    pub dot: f64,
}

impl Looks {
    /// The height of a row in CSS pixels, for lines that are not drawn as long as none is; the style sheet gives no line less.
    pub fn row(&self) -> f64 {
        self.dot * LINE_HEIGHT + 32.0
    }
}

/// Where a caret or what is chosen begins, as a style's value.
pub fn across(cells: usize) -> String {
    format!("calc(var(--dot)*{})", decimal(cells as f64 * CELL_WIDTH))
}
