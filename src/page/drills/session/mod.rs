//! A session on the screen: one thing at a time, the cell the largest of all, the answer under it, what it was under that.
//!
//! What stands there and what follows from an answer is decided in [`crate::practice::sitting`]; here it is drawn, timed and
//! handed on.
//!
//! | file | what it draws |
//! | --- | --- |
//! | [`frame`] | the whole: how far one is, what stands there, leaving |
//! | [`scene`] | what stands on the screen, thing by thing |
//! | [`large`] | the cells, as large as there is room for, for a moment or as long as one likes |
//! | [`show`] | a new sign |
//! | [`keys`] | the six keys, to be tried |
//! | [`typed`] | an answer that is typed |
//! | [`chord`] | an answer that is written with the six keys |
//! | [`punch`] | an answer that is punched on the slate |
//! | [`read`], [`write`] | a line to read, a line to write |
//! | [`rule`] | a word and its rules |
//! | [`told`] | what was wrong |
//! | [`summary`] | what came of it |

pub mod chord;
pub mod frame;
pub mod keys;
pub mod large;
pub mod punch;
pub mod read;
pub mod rule;
pub mod scene;
pub mod show;
pub mod summary;
pub mod told;
pub mod typed;
pub mod write;

use std::cell::Cell as Slot;
use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::ticks;
use crate::page::browser::store;
use crate::practice::sitting::{Action, Took};

/// Under which whole key the session is kept, and what is being answered.
const SESSION: &str = "cellwright.session";
const DRAFT: &str = "cellwright.session.draft";

/// The session that was left open, as [`crate::practice::sitting::Sitting::to_text`] has written it.
pub fn left_open() -> Option<String> {
    store::text(SESSION)
}

/// Keeps the session; with nothing, there is none any more.
pub fn keep(text: Option<&str>) {
    match text {
        Some(text) => drop(store::keep_text(SESSION, text)),
        None => {
            store::forget_text(SESSION);
            store::forget_text(DRAFT);
        }
    }
}

/// The way from an answer to the session: what was on the screen when it was given, and what was done.
#[derive(Clone, PartialEq)]
pub struct Way {
    /// The number of what stands on the screen.
    pub turn: u32,
    /// The step of the session, which a reload does not change.
    pub step: u32,
    /// Takes it.
    pub act: Callback<(u32, Action)>,
}

impl Way {
    /// Hands on what was done.
    pub fn act(&self, action: Action) {
        self.act.emit((self.turn, action));
    }

    /// A way for a click.
    pub fn on_click(&self, action: Action) -> Callback<MouseEvent> {
        let way = self.clone();
        Callback::from(move |_: MouseEvent| way.act(action.clone()))
    }

    /// Keeps what is being answered, with every key.
    pub fn keep_draft(&self, text: &str) {
        let _ = store::keep_text(DRAFT, &format!("{}\n{text}", self.step));
    }

    /// What was being answered when the page was closed; empty for another step.
    pub fn draft(&self) -> String {
        let kept = store::text(DRAFT).unwrap_or_default();
        let of_step = kept.split_once('\n').filter(|(step, _)| step.parse() == Ok(self.step));
        of_step.map(|(_, text)| text.to_owned()).unwrap_or_default()
    }
}

/// How long an answer takes: from when it was asked to its first key, and to its end.
#[derive(Clone)]
pub struct Watch {
    since: Rc<Slot<u64>>,
    first: Rc<Slot<Option<u64>>>,
}

impl Watch {
    /// A key came; the first one counts.
    pub fn key(&self) {
        if self.first.get().is_none() {
            self.first.set(Some(ticks().saturating_sub(self.since.get())));
        }
    }

    /// How long it took, now.
    pub fn took(&self) -> Took {
        let whole = ticks().saturating_sub(self.since.get());
        Took { first: self.first.get().unwrap_or(whole), whole }
    }
}

/// A watch that begins when the item stands on the screen.
#[hook]
pub fn use_watch(turn: u32) -> Watch {
    let watch = use_memo(turn, |_| Watch { since: Rc::new(Slot::new(ticks())), first: Rc::default() });
    (*watch).clone()
}
