//! The text of a drawn sheet: a text box that only reads, over the drawing, with a line of Unicode braille (or of dot
//! numbers) for every line. A screen reader goes through it, a braille display pans over it, and its routing keys put
//! the cursor; what stands under the cursor is said as the learner has set it.

use std::rc::Rc;

use gloo::events::EventListener;
use wasm_bindgen::JsCast;
use web_sys::{HtmlTextAreaElement, KeyboardEvent};
use yew::prelude::*;

use crate::cell::Cell;
use crate::page::browser::speech;
use crate::page::learner::settings::{Settings, use_settings};
use crate::page::widgets::cells_line;

/// Line and cell, from 0.
type Place = (usize, usize);

/// A sheet's lines as text, and where each cell begins in it.
#[derive(Default, PartialEq)]
pub struct SheetLines {
    text: String,
    /// For every line where its cells begin, and its end, in UTF-16 units: all in a row.
    starts: Vec<u32>,
    /// Where each line's begin among them.
    firsts: Vec<usize>,
}

impl SheetLines {
    /// The lines as Unicode braille, or as dot numbers.
    pub fn of<'a>(lines: impl Iterator<Item = &'a [Cell]>, numbers: bool) -> SheetLines {
        let mut sheet = SheetLines::default();
        let mut units = 0;
        for line in lines {
            if !sheet.firsts.is_empty() {
                sheet.text.push('\n');
                units += 1;
            }
            sheet.firsts.push(sheet.starts.len());
            for (place, cell) in line.iter().enumerate() {
                if numbers && place > 0 {
                    sheet.text.push(' ');
                    units += 1;
                }
                sheet.starts.push(units);
                if numbers {
                    let words = cell.dot_numbers();
                    units += words.len() as u32;
                    sheet.text.push_str(&words);
                } else {
                    sheet.text.push(cell.to_unicode());
                    units += 1;
                }
            }
            sheet.starts.push(units);
        }
        sheet
    }

    fn unit(&self, (line, cell): Place) -> u32 {
        let first = self.firsts.get(line).copied().unwrap_or(0);
        let next = self.firsts.get(line + 1).copied().unwrap_or(self.starts.len());
        self.starts.get((first + cell).min(next.saturating_sub(1))).copied().unwrap_or(0)
    }

    fn place(&self, unit: u32) -> Place {
        let at = self.starts.partition_point(|start| *start <= unit).saturating_sub(1);
        let line = self.firsts.partition_point(|first| *first <= at).saturating_sub(1);
        (line, at - self.firsts.get(line).copied().unwrap_or(0))
    }
}

/// What is said of the cell under a cursor, as the learner has set it: its dot numbers, what it means, both or nothing.
/// Beyond the last cell there is none.
pub fn said_of(cell: Option<Cell>, meaning: Option<&str>, settings: &Settings) -> String {
    let Some(cell) = cell else {
        return if settings.say_dots || settings.say_meaning {
            "end of line".to_owned()
        } else {
            String::new()
        };
    };
    let mut said = match cell.dots().count() {
        _ if !settings.say_dots => String::new(),
        0 => "blank".to_owned(),
        1 => format!("dot {}", cell.dot_numbers()),
        _ => format!("dots {}", cell.dot_numbers().replace('-', " ")),
    };
    if let Some(meaning) = meaning.filter(|_| settings.say_meaning && !cell.is_blank()) {
        if !said.is_empty() {
            said.push_str(", ");
        }
        said.push_str(&cells_line::without_glyphs(meaning));
    }
    said
}

/// The text of a sheet.
#[derive(Properties, PartialEq)]
pub struct SheetTextProps {
    /// Its accessible name.
    pub label: AttrValue,
    /// What can be done with its keys, in words.
    pub help: AttrValue,
    /// The lines.
    pub lines: Rc<SheetLines>,
    /// Where the cursor is.
    pub at: Place,
    /// What stands under the cursor.
    pub cell: Option<Cell>,
    /// What it means, where that is not what is being learned here.
    #[prop_or_default]
    pub meaning: Option<AttrValue>,
    /// What is said after it: where it is.
    pub place: AttrValue,
    /// Called when the cursor was put elsewhere by the box itself: a display's routing keys.
    pub on_move: Callback<Place>,
    /// Called for every key.
    pub on_key: Callback<KeyboardEvent>,
}

/// The text box and what is said of the cursor. It stands first in an element of the class `read-sheet`, which scrolls.
#[component]
pub fn SheetText(props: &SheetTextProps) -> Html {
    let settings = use_settings();
    let node = use_node_ref();
    let put = use_mut_ref(|| 0u32);
    {
        let (node, put) = (node.clone(), put.clone());
        use_effect_with((props.lines.clone(), props.at), move |(lines, at)| {
            let Some(field) = node.cast::<HtmlTextAreaElement>() else { return };
            let unit = lines.unit(*at);
            put.replace(unit);
            // The text and the cursor's place in it at once: a text that is put there by itself takes the cursor to its end, and that
            // would be told as a move.
            if field.value() != lines.text {
                field.set_value(&lines.text);
            }
            if let Ok(Some(sheet)) = field.closest(".read-sheet") {
                let _ = field.set_attribute("style", &format!("height:{}px", sheet.client_height()));
            }
            if field.selection_start() != Ok(Some(unit)) || field.selection_end() != Ok(Some(unit)) {
                let _ = field.set_selection_range(unit, unit);
            }
            if gloo::utils::document().active_element().as_ref() == Some(field.as_ref()) {
                bring_into_view(&field);
            }
        });
    }
    {
        let (field, put) = (node.clone(), put.clone());
        use_effect_with((props.lines.clone(), props.on_move.clone()), move |(lines, on_move)| {
            let (lines, on_move) = (lines.clone(), on_move.clone());
            let listener = field.cast::<HtmlTextAreaElement>().map(|field| {
                let of = field.clone();
                EventListener::new(&of, "selectionchange", move |_| {
                    let (Ok(Some(from)), Ok(Some(to))) = (field.selection_start(), field.selection_end())
                    else {
                        return;
                    };
                    if from == to && put.replace(from) != from {
                        on_move.emit(lines.place(from));
                    }
                })
            });
            move || drop(listener)
        });
    }
    // A browser looks no further than the box's own caret, which lies at its top.
    let onfocus = {
        let field = node.clone();
        use_callback((), move |_: FocusEvent, ()| {
            if let Some(field) = field.cast() {
                bring_into_view(&field);
            }
        })
    };
    let mut said = said_of(props.cell, props.meaning.as_deref(), &settings);
    if !said.is_empty() {
        said = format!("{said}, {}", props.place);
    }
    {
        let (said, aloud) = (said.clone(), settings.speech);
        let moved = use_mut_ref(bool::default);
        use_effect_with(props.at, move |_| {
            if moved.replace(true) && aloud {
                speech::say(&said);
            }
        });
    }
    html! {
        <>
            <div class="sheet-over"><textarea ref={node} class="sheet-text" readonly=true rows="1" wrap="off" inputmode="none" spellcheck="false" autocomplete="off"
                aria-label={props.label.clone()} aria-describedby="sheet-help" onkeydown={props.on_key.clone()} {onfocus} /></div>
            <p id="sheet-help" class="sr">{ &props.help }</p>
            <p class="sr" aria-live="polite">{ said }</p>
        </>
    }
}

/// Scrolls what is drawn so far that the cursor is seen. Where the sheet does not scroll by itself the text box goes to the
/// cursor too, so that what has the focus is in sight.
fn bring_into_view(field: &HtmlTextAreaElement) {
    let Ok(Some(sheet)) = field.closest(".read-sheet") else { return };
    let Ok(Some(cursor)) = sheet.query_selector(".chosen, .here, .sheet-line.now") else { return };
    let how = web_sys::ScrollIntoViewOptions::new();
    how.set_block(web_sys::ScrollLogicalPosition::Nearest);
    how.set_inline(web_sys::ScrollLogicalPosition::Nearest);
    cursor.scroll_into_view_with_scroll_into_view_options(&how);
    if sheet.scroll_height() <= sheet.client_height() {
        let (own, all) = (field.get_bounding_client_rect(), sheet.get_bounding_client_rect());
        let here = cursor.get_bounding_client_rect();
        let middle = here.top() + here.height() / 2.0 - all.top();
        let top = (middle - own.height() / 2.0).max(0.0) as i32;
        let _ = field.set_attribute("style", &format!("height:{}px;top:{top}px", sheet.client_height()));
    }
}

/// Puts the focus into the text box of the sheet in this room.
pub fn focus_sheet() {
    let field = gloo::utils::document().query_selector("main .sheet-text").ok().flatten();
    if let Some(field) = field.and_then(|field| field.dyn_into::<web_sys::HtmlElement>().ok()) {
        let _ = field.focus();
    }
}

/// Puts the focus into the text box of the sheet that was pointed at.
pub fn focus_text(event: &MouseEvent) {
    let target = event.target().and_then(|target| target.dyn_into::<web_sys::Element>().ok());
    let sheet = target.and_then(|target| target.closest(".read-sheet").ok().flatten());
    let field = sheet.and_then(|sheet| sheet.query_selector(".sheet-text").ok().flatten());
    if let Some(field) = field.and_then(|field| field.dyn_into::<web_sys::HtmlElement>().ok()) {
        let _ = field.focus();
    }
}
