//! What the keys of the writing surface do, apart from chords: moving, editing, and braille that arrives as characters.

use web_sys::KeyboardEvent;

use crate::cell::Cell;
use crate::keys::{Entry, Key, KeyMap};
use crate::page::learner::settings::Settings;
use crate::page::widgets::sheet_text::said_of;
use crate::page::widgets::six_keys::key_name;
use crate::writing::{Editor, Place};

/// Keys that edit or move, whatever the learner's map says of others.
const COMMANDS: [&str; 12] = [
    "Enter",
    "NumpadEnter",
    "Backspace",
    "Delete",
    "ArrowLeft",
    "ArrowRight",
    "ArrowUp",
    "ArrowDown",
    "Home",
    "End",
    "PageUp",
    "PageDown",
];

/// Of these, how many change the text; the rest only move.
const EDITING: usize = 4;

/// Whether a modifier makes this key a command and no dot.
pub fn is_command(event: &KeyboardEvent) -> bool {
    event.ctrl_key() || event.alt_key() || event.meta_key()
}

/// Whether the key is on its way to an input method, whatever its position is.
fn is_composing(event: &KeyboardEvent) -> bool {
    event.is_composing() || event.key_code() == 229
}

/// Whether the key moves only.
pub fn is_move(code: &str) -> bool {
    COMMANDS[EDITING..].contains(&code)
}

/// A braille character that a braille keyboard typed as one key.
pub fn typed_cell(event: &KeyboardEvent) -> Option<Cell> {
    let key = event.key();
    let mut characters = key.chars();
    let cell = Cell::from_unicode(characters.next()?)?;
    characters.next().is_none().then_some(cell)
}

/// The cells of a text that an input method or a braille display put in; characters that are no cells are left out.
pub fn cells_of(text: &str) -> Vec<Cell> {
    text.chars().filter_map(|c| if c == ' ' { Some(Cell::BLANK) } else { Cell::from_unicode(c) }).collect()
}

/// Whether the surface uses this key itself; all others, Tab above all, keep their meaning.
pub fn takes(event: &KeyboardEvent, keys: &KeyMap) -> bool {
    if is_composing(event) {
        return false;
    }
    let code = event.code();
    if is_command(event) {
        let command = (event.ctrl_key() || event.meta_key()) && !event.alt_key();
        return command
            && matches!(
                code.as_str(),
                "KeyZ" | "KeyY" | "KeyA" | "ArrowLeft" | "ArrowRight" | "Home" | "End"
            );
    }
    keys.get(&code).is_some() || COMMANDS.contains(&code.as_str()) || typed_cell(event).is_some()
}

/// Whether the key takes back what was done last.
pub fn undoes(event: &KeyboardEvent) -> bool {
    event.code() == "KeyZ" && (event.ctrl_key() || event.meta_key()) && !event.shift_key()
}

/// A key that moves, selects, or takes back; whether anything changed. `page` is how many lines are in view.
pub fn command(editor: &mut Editor, event: &KeyboardEvent, page: usize) -> bool {
    let shift = event.shift_key();
    let control = event.ctrl_key() || event.meta_key();
    let caret = editor.caret();
    let width = |line: usize| editor.lines()[line].cells.len();
    let last = editor.lines().len() - 1;
    let to = match event.code().as_str() {
        "KeyZ" if control && shift => return editor.redo(),
        "KeyZ" if control => return editor.undo(),
        "KeyY" if control => return editor.redo(),
        "KeyA" if control => {
            editor.select_all();
            return true;
        }
        "ArrowLeft" if control => editor.word_from(caret, false),
        "ArrowRight" if control => editor.word_from(caret, true),
        "ArrowLeft" => editor.before(caret),
        "ArrowRight" => editor.after(caret),
        "ArrowUp" if caret.line > 0 => Place { line: caret.line - 1, cell: caret.cell },
        "ArrowDown" if caret.line < last => Place { line: caret.line + 1, cell: caret.cell },
        "ArrowUp" => Place { line: 0, cell: 0 },
        "ArrowDown" => Place { line: last, cell: width(last) },
        "PageUp" => Place { line: caret.line.saturating_sub(page), cell: caret.cell },
        "PageDown" => Place { line: (caret.line + page).min(last), cell: caret.cell },
        "Home" if control => Place::default(),
        "End" if control => editor.end(),
        "Home" => Place { cell: 0, ..caret },
        "End" => Place { cell: width(caret.line), ..caret },
        _ => return false,
    };
    editor.go(to, shift);
    true
}

/// The keys, in a sentence for who begins to write without seeing them, and the way out.
pub fn help(keys: &KeyMap, entry: Entry) -> String {
    let name = |key| keys.code_of(key).map_or_else(|| "no key".to_owned(), key_name);
    let dots: Vec<String> = (1..=6).map(|dot| name(Key::Dot(dot))).collect();
    let how = match entry {
        Entry::Chords => String::new(),
        Entry::OneKey => {
            format!("They are pressed one after the other, and {} writes the cell. ", name(Key::Commit))
        }
        Entry::OneHand => format!(
            "Two presses make a cell: its left half, then its right half with the same three keys; {} is an empty half. ",
            name(Key::Commit)
        ),
    };
    format!(
        "Dots 1 to 6 are the keys {}. {how}{} writes a blank cell, {} begins a new line, {} erases. Tab moves on, out of the writing.",
        dots.join(" "),
        name(Key::Blank),
        name(Key::NewLine),
        name(Key::Erase)
    )
}

/// How to begin, in a sentence or two on the empty sheet.
pub fn hint(keys: &KeyMap, entry: Entry) -> String {
    let name = |key| keys.code_of(key).map_or_else(|| "no key".to_owned(), key_name);
    let three = |from: u8| (from..from + 3).map(|dot| name(Key::Dot(dot))).collect::<Vec<_>>().join(" ");
    let dots = format!("{} are dots 1 2 3, {} are dots 4 5 6", three(1), three(4));
    match entry {
        Entry::Chords => {
            format!("Press all dots of a cell together: {dots}. {} leaves a blank.", name(Key::Blank))
        }
        Entry::OneKey => format!(
            "Press the dots of a cell one after the other: {dots}. {} writes the cell.",
            name(Key::Commit)
        ),
        Entry::OneHand => format!(
            "Two presses make a cell, its left half and then its right, both with {}. {} is an empty half.",
            three(1),
            name(Key::Commit)
        ),
    }
}

/// What is said of the cell at the caret, for who moves over it without seeing it; of its meaning only where `tells`.
pub fn cell_at_caret(editor: &Editor, settings: &Settings, tells: bool) -> String {
    let Place { line, cell } = editor.caret();
    let meaning = editor.sign_at_caret().filter(|_| tells && settings.say_meaning);
    said_of(editor.lines()[line].cells.get(cell).copied(), meaning.map(|sign| sign.name), settings)
}
