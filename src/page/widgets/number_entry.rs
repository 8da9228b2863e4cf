//! Cells written by their dot numbers, in print: for braille displays whose keys send translated text and no cells.

use web_sys::{HtmlInputElement, KeyboardEvent};
use yew::prelude::*;

use crate::cell::Cell;
use crate::page::browser::held::use_held;

/// What was asked for in the field.
pub enum Entered {
    /// Cells to write.
    Cells(Vec<Cell>),
    /// A new line: Enter in the empty field.
    NewLine,
    /// The cell before is erased: Backspace in the empty field.
    Erase,
}

/// The field.
#[derive(Properties, PartialEq)]
pub struct NumberEntryProps {
    /// Called with what was asked for.
    pub on_entered: Callback<Entered>,
}

/// A field for dot numbers; it stands with a writing surface.
#[component]
pub fn NumberEntry(props: &NumberEntryProps) -> Html {
    let said = use_held(String::new);
    let onkeydown = {
        let (said, on_entered) = (said.clone(), props.on_entered.clone());
        Callback::from(move |event: KeyboardEvent| {
            let field: HtmlInputElement = event.target_unchecked_into();
            let typed = field.value();
            let empty = typed.trim().is_empty();
            match event.key().as_str() {
                "Backspace" if typed.is_empty() => on_entered.emit(Entered::Erase),
                "Enter" if empty => on_entered.emit(Entered::NewLine),
                "Enter" => {
                    let cells: Result<Vec<Cell>, &str> = typed
                        .split_whitespace()
                        .map(|word| Cell::from_dot_numbers(&word.to_ascii_lowercase()).ok_or(word))
                        .collect();
                    match cells {
                        Ok(cells) => {
                            field.set_value("");
                            said.set(String::new());
                            on_entered.emit(Entered::Cells(cells));
                        }
                        // What was typed stays, to be mended.
                        Err(word) => said.set(format!(
                            "{word} is no cell: write its dots from 1 to 6 in rising order, or the word blank, with a space between cells."
                        )),
                    }
                }
                _ => return,
            }
            event.prevent_default();
            // A drill around it takes Enter for its answer.
            event.stop_propagation();
        })
    };
    html! {
        <div class="number-entry">
            <label>{ "Cells by dot numbers" }
                <input type="text" autocomplete="off" autocapitalize="off" spellcheck="false" aria-describedby="number-entry" {onkeydown} />
            </label>
            <p id="number-entry" class="note">{ "For example 124 15 blank 2345, then Enter. Enter alone begins a new line, Backspace alone erases." }</p>
            <p role="status" aria-label="Dot numbers">{ (*said).clone() }</p>
        </div>
    }
}
