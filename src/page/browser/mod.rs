//! What the browser lends: storage, data files, files, the clipboard, the clock, timers, speech, nodes made by hand.
//! What asks the browser for something and shows nothing of braille belongs here.
//! It may use `route`, `states` and what lies below the page, and no other floor.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`store`], [`stored`] | what this browser keeps: versioned JSON that may be missing, damaged or refused; its form |
//! | [`people`] | who shares this browser; taking away what they have here |
//! | [`piece`] | a piece of work is open in one tab at a time |
//! | [`data`] | the data files beside the page: texts, frames, words |
//! | [`open_file`], [`saving`] | files in and out, printing |
//! | [`site`] | where the links made in this page lead |
//! | [`clipboard`], [`clock`], [`speech`] | the clipboard; time, date and chance; the browser's voice |
//! | [`leaving`] | a room or a page that is left: nothing typed is lost |
//! | [`quiet`], [`long_work`] | what waits for a quiet moment; work that the page announces |
//! | [`nodes`], [`resized`] | nodes made by hand, for what changes with every key; the size of one, told |
//! | [`undo_key`] | Ctrl+Z for what was replaced just now, wherever the focus is |
//! | [`held`] | state of a component, in one piece of code for every type |
//! | [`halves`] | the two downloads: what the first leaves, what the whole page was left |

pub mod clipboard;
pub mod clock;
pub mod data;
pub mod halves;
pub mod held;
pub mod leaving;
pub mod long_work;
pub mod nodes;
pub mod open_file;
pub mod people;
pub mod piece;
pub mod quiet;
pub mod resized;
pub mod saving;
pub mod site;
pub mod speech;
pub mod store;
pub mod stored;
pub mod undo_key;
