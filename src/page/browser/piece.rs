//! A piece of work is open in one tab at a time: the tab that opens it last has it, and both say so.
//!
//! The tabs speak by what they store, of which the browser tells each other tab: that holds wherever work is kept at all, also
//! for a page that came without https or from a disk, where the browser lends no locks. A tab that is asked for its piece keeps what
//! is typed, and only then hands it over.

use web_sys::Event;
use web_sys::js_sys::Reflect;

use crate::page::browser::clock::{now, seed};
use crate::page::browser::store::{self, storage};

/// Under which the tab that has a piece is named.
const OPEN: &str = "open.";
/// Under which a tab says that it has handed a piece over: to which tab.
const GIVEN: &str = "given.";
/// A tab that has a piece by its name, and may be gone, is waited for so long, in milliseconds.
pub const PATIENCE: u32 = 700;

thread_local! {
    static TAB: String = format!("{:x}.{:x}", now(), seed());
}

/// What another tab has said of a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Said {
    /// It has the piece now.
    Taken,
    /// It has kept everything, and the piece is this tab's.
    Given,
}

fn whole(kind: &str, piece: &str) -> String {
    store::place(&format!("cellwright.{kind}{piece}"))
}

fn read(kind: &str, piece: &str) -> Option<String> {
    storage()?.get_item(&whole(kind, piece)).ok()?
}

fn is_this_tab(tab: &str) -> bool {
    TAB.with(|this| this == tab)
}

/// Takes a piece. Gives whether another tab has it by name: it hands it over, or is gone.
pub fn take(piece: &str) -> bool {
    let before = read(OPEN, piece).filter(|tab| !is_this_tab(tab));
    if let Some(storage) = storage() {
        // Where there is no room for a name, there is none for work that another tab could lose.
        let _ = TAB.with(|tab| storage.set_item(&whole(OPEN, piece), tab));
    }
    before.is_some()
}

/// Whether another tab has the piece.
pub fn lost(piece: &str) -> bool {
    read(OPEN, piece).is_some_and(|tab| !is_this_tab(&tab))
}

/// Lets a piece go that nobody has asked for.
pub fn leave(piece: &str) {
    if let Some(storage) = storage()
        && !lost(piece)
    {
        let _ = storage.remove_item(&whole(OPEN, piece));
    }
}

/// Hands a piece over to the tab that has taken it, once everything is kept.
pub fn give(piece: &str) {
    let (Some(storage), Some(to)) = (storage(), read(OPEN, piece)) else { return };
    let key = whole(GIVEN, piece);
    let _ = storage.set_item(&key, &to);
    let _ = storage.remove_item(&key);
}

/// What the browser's `storage` event says of a piece.
pub fn said(event: &Event, piece: &str) -> Option<Said> {
    let key = store::changed(event)?;
    let tab = Reflect::get(event, &"newValue".into()).ok()?.as_string()?;
    match (key.strip_suffix(piece)?, is_this_tab(&tab)) {
        (OPEN, false) => Some(Said::Taken),
        (GIVEN, true) => Some(Said::Given),
        _ => None,
    }
}
