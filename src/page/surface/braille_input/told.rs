//! What is told of what is written: each cell that is written or erased, by its dots or by what it reads as, as the learner
//! has set it. It is told in a quiet moment, so that no key waits for it.

use std::cell::{Cell as Held, RefCell};

use web_sys::Element;
use yew::prelude::*;

use super::Surface;
use crate::cell::Cell;
use crate::page::learner::settings::{SayWritten, Settings};
use crate::page::widgets::sheet_text::said_of;
use crate::writing::Place;

/// So many are told together at most: of more, who writes so fast hears the last.
const MOST: usize = 4;

/// What is still to be told, and where.
#[derive(Default)]
pub(super) struct Told {
    /// The live region, which stands there before anything is put into it.
    pub place: NodeRef,
    due: RefCell<Vec<String>>,
    /// The same words once more are told once more.
    again: Held<bool>,
}

impl Told {
    /// Tells this in a quiet moment.
    pub fn add(&self, words: String) {
        if !words.is_empty() {
            let mut due = self.due.borrow_mut();
            due.push(words);
            let over = due.len().saturating_sub(MOST);
            due.drain(..over);
        }
    }

    /// Tells what is due.
    pub fn tell(&self) {
        let due = self.due.take();
        if let (false, Some(place)) = (due.is_empty(), self.place.cast::<Element>()) {
            let again = !self.again.get();
            self.again.set(again);
            let end = if again { "" } else { "\u{a0}" };
            place.set_text_content(Some(&format!("{}{end}", due.join("; "))));
        }
    }
}

fn dots_of(cell: Cell, settings: &Settings) -> String {
    said_of(Some(cell), None, &Settings { say_dots: true, ..settings.clone() })
}

impl Surface {
    /// Tells the cell that was written just now.
    pub(super) fn tell_written(&self, ctx: &Context<Self>, cell: Cell) {
        let props = ctx.props();
        let words = match props.settings.say_written {
            SayWritten::Nothing => return,
            SayWritten::Meaning if props.props.reads && !cell.is_blank() => {
                self.editor.sign_before_caret().map(|sign| sign.name.to_owned())
            }
            _ => None,
        };
        self.told.add(words.unwrap_or_else(|| dots_of(cell, &props.settings)));
    }

    /// What is about to be erased, in words.
    pub(super) fn words_of_erasing(&self, forward: bool, settings: &Settings) -> String {
        if settings.say_written == SayWritten::Nothing {
            return String::new();
        }
        if self.editor.selection().is_some() {
            return "erased what was selected".to_owned();
        }
        let Place { line, cell } = self.editor.caret();
        let cells = &self.editor.lines()[line].cells;
        let gone =
            if forward { cells.get(cell) } else { cell.checked_sub(1).and_then(|cell| cells.get(cell)) };
        match gone {
            Some(gone) => format!("erased {}", dots_of(*gone, settings)),
            None if !forward && line > 0 => "erased the line end".to_owned(),
            None => String::new(),
        }
    }
}
