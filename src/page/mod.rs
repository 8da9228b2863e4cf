//! The site (Yew), in the browser only: one file per room the learner sees, and its shared parts.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`shell`] | the frame of every room: names of the rooms, theme, caution |
//! | [`route`] | the addresses after `#` |
//! | [`settings`] | what the learner has set, for every room (a context) |
//! | [`store`], [`stored`] | what this browser keeps: versioned JSON that may be missing, damaged or refused; its form |
//! | [`cells_line`] | `<CellsLine cells=..>`: cells drawn as shapes, or their dot numbers |
//! | [`cells_font`] | the cells as a font, for what is drawn anew with every key |
//! | [`braille_input`] | `<BrailleInput on_change=..>`: the writing surface, over `crate::writing` and `crate::keys` |
//! | [`drawn_lines`], [`drawn_word`], [`text_box`], [`typing`] | of the writing surface: its lines and words as they are drawn; the text box over them; what its keys do |
//! | [`written`] | what is written on it, as the rooms take it |
//! | [`nodes`], [`resized`], [`quiet`] | nodes made by hand, for what changes with every key; the size of one, told; what waits for a quiet moment |
//! | [`six_keys`] | `<SixKeys lights=.. on_touch=..>`: the keys on the screen |
//! | [`reads_as`] | `<ReadsAs live=..>`: the live reading as text |
//! | [`live`] | what is being written, for the parts of a room that follow it key by key |
//! | [`why`] | `<Why print=.. contracted=..>`: the signs of a text, and the reason for each |
//! | [`writing_settings`], [`keys_panel`], [`keyboard_check`] | what is seldom set for writing; the keys; which of them arrive together |
//! | [`speech`] | the browser's voice |
//! | [`findings`], [`follow_up`] | `<Findings marked=..>`: what marking found, open to the reason, and the marks on the cells; eye, hand or rule |
//! | [`shared`] | a shared exercise: making its link, opening one |
//! | [`data`] | the data files beside the page: texts, frames, words |
//! | [`held`] | state of a component, in one piece of code for every type |
//! | [`halves`] | the half that loads first, and how the whole page takes its place |
//! | [`from_file`] | the page opened as a file: where its links lead; a link or exercise file opened by hand |
//! | [`work`] | work in progress, kept text by text |
//! | [`set_details`] | what a teacher sets for one task: signs, planted mistakes, a trial |
//! | [`set_rooms`] | what an exercise opens: the room of its task |
//! | [`copyholder`], [`check_panel`], [`own_slips`], [`desk_files`], [`trial_result`] | the parts of the Transcribe room |
//! | [`scored`], [`passage_choice`] | a proofread sheet with its score; the list of the course's texts |
//! | [`sheet`], [`sheet_text`], [`reading_desk`] | a sheet with a cell cursor; its text for screen readers and braille displays; a file of one's own on it |
//! | [`round`] | signs or lines of an exercise, one by one, for the score |
//! | [`hand_in`], [`open_file`], [`saving`] | result slips; files in and out, printing |
//! | [`learner`] | the learner's record, kept in this browser |
//! | [`practise`], [`drills`] | the practice and its drills |
//! | [`reader`], [`reader_view`], [`print_side`] | of the Read room: a text on its sheet; how it stands there; the print beside it |
//! | [`by_number`], [`number_entry`] | cells entered dot by dot, for dot numbers only; cells written by their numbers, in print |
//! | [`paper`], [`beside`], [`teach`] | the sheet drawn; a paper book; unknown signs first |
//! | [`print_sheets`] | of the Signs room: reference sheets and flash cards |
//! | [`course`], [`read_line`] | the units of the course; one line to read |
//! | [`first`], [`read`], [`write`], [`transcribe`], [`proofread`], [`signs`], [`record`], [`set_work`], [`slip`] | the rooms |
//!
//! A room is one file with a component `Room` without properties; the shell only calls it. No rule of braille and no
//! scheduling live here.

use std::cell::RefCell;

use gloo::timers::callback::Timeout;
use wasm_bindgen::prelude::wasm_bindgen;

pub mod beside;
pub mod braille_input;
pub mod by_number;
pub mod cells_font;
pub mod cells_line;
pub mod check_panel;
pub mod copyholder;
pub mod course;
pub mod data;
pub mod desk_files;
pub mod drawn_lines;
pub mod drawn_word;
pub mod drills;
pub mod findings;
pub mod first;
pub mod follow_up;
pub mod from_file;
pub mod halves;
pub mod hand_in;
pub mod held;
pub mod keyboard_check;
pub mod keys_panel;
pub mod learner;
pub mod live;
pub mod long_work;
pub mod nodes;
pub mod number_entry;
pub mod open_file;
pub mod own_slips;
pub mod paper;
pub mod passage_choice;
pub mod practise;
pub mod print_sheets;
pub mod print_side;
pub mod proofread;
pub mod quiet;
pub mod read;
pub mod read_line;
pub mod reader;
pub mod reader_view;
pub mod reading_desk;
pub mod reads_as;
pub mod record;
pub mod resized;
pub mod round;
pub mod route;
pub mod saving;
pub mod scored;
pub mod set_details;
pub mod set_rooms;
pub mod set_work;
pub mod settings;
pub mod shared;
pub mod sheet;
pub mod sheet_text;
pub mod shell;
pub mod signs;
pub mod six_keys;
pub mod slip;
pub mod speech;
pub mod store;
pub mod stored;
pub mod teach;
pub mod text_box;
pub mod transcribe;
pub mod trial_result;
pub mod try_cell;
pub mod typing;
pub mod why;
pub mod work;
pub mod write;
pub mod writing_settings;
pub mod written;

thread_local! {
    static APP: RefCell<Option<yew::AppHandle<shell::App>>> = const { RefCell::new(None) };
}

/// Called by the browser once the module is loaded: puts the page into `#app`.
#[wasm_bindgen(start)]
pub fn start() {
    std::panic::set_hook(Box::new(show_trouble));
    halves::TOOK_OVER.set(store::take_over());
    // The first key finds the font there.
    Timeout::new(halves::AFTER_THE_FIRST_FRAME, cells_font::begin).forget();
    let document = gloo::utils::document();
    if let Some(root) = document.get_element_by_id("app") {
        root.set_text_content(None);
        APP.set(Some(yew::Renderer::<shell::App>::with_root(root).render()));
    }
}

/// Takes the page down, its work kept, so that the whole page can take its place.
#[wasm_bindgen]
pub fn stop() {
    halves::leave_focus();
    halves::STOPS.set(true);
    if let Some(app) = APP.take() {
        app.destroy();
    }
    store::hand_over();
}

/// After a panic nothing of the page can be trusted to run: show the plain page that index.html holds ready.
fn show_trouble(info: &std::panic::PanicHookInfo<'_>) {
    let document = gloo::utils::document();
    if let Some(app) = document.get_element_by_id("app") {
        let _ = app.set_attribute("hidden", "");
    }
    if let Some(trouble) = document.get_element_by_id("trouble") {
        let _ = trouble.remove_attribute("hidden");
    }
    web_sys::console::error_1(&info.to_string().into());
}
