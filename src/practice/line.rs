//! A line to read or to write.

use crate::cell::Cell;

/// A line of braille and the print that it stands for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// The print.
    pub print: String,
    /// Its braille.
    pub cells: Vec<Cell>,
    /// Contracted braille, or uncontracted.
    pub contracted: bool,
}
