//! A drill in one text box, for a braille display of a few cells: what is asked, the answer behind it, and under them how it
//! came out. Nothing stands elsewhere, so the display never has to look for it.

use web_sys::{HtmlTextAreaElement, KeyboardEvent};
use yew::prelude::*;

use crate::cell::Cell;
use crate::page::browser::held::use_held;

/// What is asked, and what becomes of the answer.
#[derive(Properties, PartialEq)]
pub struct OneBoxProps {
    /// What is asked now, in few cells.
    pub asked: AttrValue,
    /// Called with the answer; gives how it came out. A question mark asks for a clue.
    pub on_answer: Callback<String, String>,
}

/// Cells in an answer: braille as it comes from a display, or dot numbers with spaces between the cells.
pub fn cells_of(answer: &str) -> Vec<Cell> {
    let cell = |c: char| if c == ' ' { Some(Cell::BLANK) } else { Cell::from_unicode(c) };
    let braille: Option<Vec<Cell>> = answer.chars().map(cell).collect();
    braille.unwrap_or_else(|| {
        answer
            .split_whitespace()
            .filter_map(|word| Cell::from_dot_numbers(&word.to_ascii_lowercase()))
            .collect()
    })
}

/// The box.
#[component]
pub fn OneBox(props: &OneBoxProps) -> Html {
    let node = use_node_ref();
    // The answer that was given, and how it came out, until Enter goes on.
    let told = use_held(Option::<(String, String)>::default);
    let prefix = format!("{} ", props.asked);
    let text = match &*told {
        Some((line, verdict)) => format!("{line}\n{verdict}"),
        None => prefix.clone(),
    };
    {
        let (node, is_told) = (node.clone(), told.is_some());
        use_effect_with(text, move |text| {
            let Some(field) = node.cast::<HtmlTextAreaElement>() else { return };
            field.set_value(text);
            let units = |text: &str| text.encode_utf16().count() as u32;
            // On the first cell of the verdict, or behind what is asked.
            let line = text.split('\n').next().unwrap_or_default();
            let at = if is_told { units(line) + 1 } else { units(text) };
            let _ = field.set_selection_range(at, at);
            let _ = field.focus();
        });
    }
    let onkeydown = {
        let (told, prefix, on_answer) = (told.clone(), prefix.clone(), props.on_answer.clone());
        Callback::from(move |event: KeyboardEvent| {
            if event.key() != "Enter" || event.is_composing() {
                return;
            }
            event.prevent_default();
            if told.is_some() {
                told.set(None);
                return;
            }
            let line = event.target_unchecked_into::<HtmlTextAreaElement>().value();
            let answer = line.strip_prefix(&prefix).unwrap_or_default().trim().to_owned();
            // Enter on an empty box is no answer.
            if !answer.is_empty() {
                let verdict = on_answer.emit(answer);
                told.set(Some((line, verdict)));
            }
        })
    };
    // What is asked cannot be written over, and what is told is only read.
    let oninput = {
        let (prefix, told) = (prefix, told.clone());
        Callback::from(move |event: InputEvent| {
            let field: HtmlTextAreaElement = event.target_unchecked_into();
            if told.is_none() && !field.value().starts_with(&prefix) {
                field.set_value(&prefix);
            }
        })
    };
    html! {
        <>
            <textarea ref={node} class="one-box" rows="3" aria-label="Drill" aria-describedby="one-box-help" readonly={told.is_some()}
                autocomplete="off" autocapitalize="off" spellcheck="false" {onkeydown} {oninput} />
            <p id="one-box-help" class="note">{ "Write the answer behind what is asked, then Enter. The line under it tells how it came out; Enter goes on. A question mark as the answer gives a clue. Cells are written in braille or by their dot numbers." }</p>
        </>
    }
}
