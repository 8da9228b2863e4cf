//! The writing surface, and what follows it key by key.
//! What is drawn anew with every key, or must not be, belongs here: speed rules (see `SPEED.md`).
//! It may use `widgets` and below.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`braille_input`] | `<BrailleInput on_change=..>`: the writing surface, over `crate::writing` and `crate::keys` |
//! | [`drawn_lines`], [`drawn_word`], [`looks`] | its lines and words as they are drawn; how, and their measures |
//! | [`text_box`], [`typing`] | the text box over the lines; what its keys do |
//! | [`written`] | what is written on it, as the rooms give and take it |
//! | [`live`] | what is being written, for the parts of a room that follow it |
//! | [`reads_as`] | `<ReadsAs live=..>`: the live reading as text |
//! | [`work`] | work in progress, kept text by text |
//! | [`writing_settings`] | what is seldom set for writing |

pub mod braille_input;
pub mod drawn_lines;
pub mod drawn_word;
pub mod live;
pub mod looks;
pub mod reads_as;
pub mod text_box;
pub mod typing;
pub mod work;
pub mod writing_settings;
pub mod written;
