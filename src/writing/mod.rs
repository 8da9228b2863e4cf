//! Braille as it is being written: lines of cells with a caret, a selection, undo and redo, and what they say, live.
//!
//! | file | what it holds |
//! | --- | --- |
//! | `editor` | [`Editor`]: what can be done to a text |
//! | `lines` | [`Line`], [`Word`], [`Chunk`]: the text and its reading, as a page draws it |
//! | `clipboard` | pasted text to cells, cells to text to copy |
//!
//! ```
//! use cellwright::{cell::from_ascii, ueb::ReadOptions, writing::Editor};
//! let mut editor = Editor::new(&[], ReadOptions::default());
//! editor.insert(&[from_ascii(",! f]ry").unwrap()]);
//! assert_eq!(editor.lines()[0].print, "The ferry");
//! editor.undo();
//! assert!(editor.lines()[0].cells.is_empty());
//! ```

mod clipboard;
mod editor;
mod lines;

pub use clipboard::{Copied, lines_of, text_of};
pub use editor::{Editor, whole_lines};
pub use lines::{CHUNK, Chunk, Line, Place, Word};
