//! Work in progress: what is written for a text is kept for that text, so that a reload, another text or another link
//! loses nothing.

use std::rc::Rc;

use crc::{CRC_32_ISO_HDLC, Crc, NoTable};
use gloo::events::EventListener;
use wasm_bindgen::JsValue;
use yew::prelude::*;

use super::held::use_held;
use super::live::Live;
use super::quiet::Quiet;
use super::store::{self, StoreError};
use super::stored::{Stored, object, part};
use super::written::Written;
use crate::cell::{self, Cell};

const VERSION: u32 = 1;
/// The work is kept this long after the last key, not at every key, and not later than so long after the first, in
/// milliseconds.
const SOON: u64 = 600;
const LATEST: u64 = 5000;

/// Around a room (a context): it only shows an exercise to the one who sets it. Nothing done in it is kept or recorded.
#[derive(Clone, Copy, PartialEq)]
pub struct Rehearsal;

/// The name under which work is kept; empty, for nowhere, in a [`Rehearsal`].
#[hook]
pub fn use_name(name: impl FnOnce() -> String) -> String {
    if use_context::<Rehearsal>().is_some() { String::new() } else { name() }
}

/// What is kept: the lines in braille ASCII.
struct Kept {
    lines: Vec<String>,
}

impl Stored for Kept {
    fn take(value: &JsValue) -> Option<Self> {
        Some(Kept { lines: part(value, "lines")? })
    }
    fn give(&self) -> JsValue {
        object(&[("lines", self.lines.give())])
    }
}

/// The name under which work on a text is kept: of the text, and of what is done with it.
pub fn name_of(task: &str, text: &str) -> String {
    let sum = Crc::<u32, NoTable>::new(&CRC_32_ISO_HDLC).checksum(text.as_bytes());
    format!("work.{task}.{sum:08x}.{}", text.len())
}

/// What was written for a text before.
pub fn load(name: &str) -> Vec<Vec<Cell>> {
    if name.is_empty() {
        return Vec::new();
    }
    let kept = store::load::<Kept>(name, VERSION);
    kept.map(|kept| kept.lines.iter().filter_map(|line| cell::from_ascii(line)).collect()).unwrap_or_default()
}

fn save(name: &str, written: &Written) -> Result<(), StoreError> {
    if name.is_empty() {
        return Ok(());
    }
    if written.is_empty() {
        store::forget(name);
        return Ok(());
    }
    let lines = written.cells().iter().map(|line| cell::to_ascii(line)).collect();
    store::save(name, VERSION, &Kept { lines })
}

/// What is being kept.
#[derive(Default)]
struct Keeping {
    name: String,
    version: u32,
    last: Option<Written>,
    /// What is not kept yet.
    due: Option<Written>,
}

/// Keeps what is written of a version of a text under a name, a moment after each change, and when the page is left or out of
/// sight. Gives why it could not.
#[hook]
pub fn use_kept(name: String, version: u32, live: &Rc<Live>) -> Option<&'static str> {
    let refused = use_held(Option::<&'static str>::default);
    let keeping = use_mut_ref(Keeping::default);
    let keep = {
        let (keeping, refused) = (keeping.clone(), refused.clone());
        use_callback((), move |(), ()| {
            let mut keeping = keeping.borrow_mut();
            if let Some(written) = keeping.due.take() {
                refused.set(save(&keeping.name, &written).err().map(StoreError::words));
            }
        })
    };
    {
        let keep = keep.clone();
        use_effect_with((), move |()| {
            // A telephone may end a page that is out of sight without another word.
            let (on_leave, out_of_sight) = (keep.clone(), keep.clone());
            let listeners = [
                EventListener::new(&gloo::utils::window(), "pagehide", move |_| on_leave.emit(())),
                EventListener::new(&gloo::utils::document(), "visibilitychange", move |_| {
                    out_of_sight.emit(())
                }),
            ];
            move || {
                drop(listeners);
                keep.emit(());
            }
        });
    }
    use_effect_with((name, version, live.clone()), move |(name, version, live)| {
        keep.emit(());
        {
            let mut keeping = keeping.borrow_mut();
            if keeping.name != *name {
                // What a text opens with is no change of it.
                *keeping = Keeping { name: name.clone(), ..Keeping::default() };
            }
            keeping.version = *version;
        }
        let soon = Quiet::new(SOON, LATEST, keep);
        let follower = Callback::from(move |written: Written| {
            let mut keeping = keeping.borrow_mut();
            // The surface may be at another text already, or not yet at this one.
            if written.version != keeping.version {
                return;
            }
            if keeping.last.replace(written.clone()).is_some_and(|last| !last.same_text(&written)) {
                keeping.due = Some(written);
                soon.again();
            }
        });
        let (live, number) = (live.clone(), live.follow(follower));
        move || live.leave(number)
    });
    *refused
}

/// Lines as the writing surface takes them.
pub fn given(version: u32, lines: Vec<Vec<Cell>>) -> super::braille_input::Given {
    super::braille_input::Given { version, lines: Rc::new(lines) }
}
