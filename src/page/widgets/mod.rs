//! The pieces that rooms are put together from: cells, keys, sheets, paper, switches, fields.
//! What shows or takes something and could stand in any room belongs here; it knows of no exercise and no marking.
//! It may use `learner` and below.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`cells_line`] | `<CellsLine cells=..>`: cells drawn as shapes, or their dot numbers |
//! | [`cells_font`] | the cells as a font, for what is drawn anew with every key |
//! | [`six_keys`] | `<SixKeys lights=.. on_touch=..>`: the keys on the screen |
//! | [`keys_panel`], [`keyboard_check`] | which key is which; which of them arrive together |
//! | [`by_number`], [`number_entry`] | cells entered dot by dot, for dot numbers only; cells written by their numbers, in print |
//! | [`sheet`], [`sheet_text`] | a sheet with a cell cursor; its text for screen readers and braille displays |
//! | [`paper`] | the sheet drawn as paper |
//! | [`road`] | `<Road learner=..>`: the course as one picture, where the learner is, and what is kept |
//! | [`why`] | `<Why print=.. contracted=..>`: the signs of a text, and the reason for each |
//! | [`switch`], [`fields`] | a checkbox and its way to a setting; what stands in a field, and the focus on it |
//! | [`passage_choice`], [`open_work`] | the list of the course's texts; a link or an exercise file opened by hand |
//! | [`one_piece`], [`store_notice`] | work that is open in one tab at a time; what is not stored, or was set aside |
//! | [`take_home`] | `<TakeHome />`: everything that a person has here, as one file |
//! | [`bring_back`] | the word of what was set aside just now, and its way back |
//! | [`later`], [`elsewhere`] | what unfolds inside rooms; what stands in its place until the whole page is here |

pub mod bring_back;
pub mod by_number;
pub mod cells_font;
pub mod cells_line;
pub mod elsewhere;
pub mod fields;
pub mod keyboard_check;
pub mod keys_panel;
pub mod later;
pub mod number_entry;
pub mod one_piece;
pub mod open_work;
pub mod paper;
pub mod passage_choice;
pub mod road;
pub mod sheet;
pub mod sheet_text;
pub mod six_keys;
pub mod store_notice;
pub mod switch;
pub mod take_home;
pub mod why;
