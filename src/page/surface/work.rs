//! Work in progress: what is written for a text is kept for that text, so that a reload, another text or another link
//! loses nothing.

use std::rc::Rc;

use crc::{CRC_32_ISO_HDLC, Crc, NoTable};
use gloo::events::EventListener;
use wasm_bindgen::JsValue;
use yew::prelude::*;

use crate::cell::{self, Cell};
use crate::page::browser::quiet::Quiet;
use crate::page::browser::store;
use crate::page::browser::stored::{Stored, object, part};
use crate::page::surface::live::Live;
use crate::page::surface::written::{Given, Written};

const VERSION: u32 = 1;
/// The work is kept this long after the last key, not at every key, and not later than so long after the first, in
/// milliseconds: a browser that crashes takes less than a second of typing along.
const SOON: u64 = 300;
const LATEST: u64 = 800;

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
    let lines = store::load::<Kept>(name, VERSION).map(|kept| kept.lines).unwrap_or_default();
    let mut whole = true;
    let cells = |line: &String| {
        cell::from_ascii(line).unwrap_or_else(|| {
            whole = false;
            // A damaged line keeps its place, and what can be read of it.
            line.chars().filter_map(Cell::from_ascii).collect()
        })
    };
    let cells = lines.iter().map(cells).collect();
    if !whole {
        store::read_in_part(name);
    }
    cells
}

/// What the browser does not take is held, and the page says so.
fn save(name: &str, written: &Written) {
    if name.is_empty() {
        return;
    }
    if written.is_empty() {
        store::forget(name);
        return;
    }
    let lines = written.cells().iter().map(|line| cell::to_ascii(line)).collect();
    let _ = store::save(name, VERSION, &Kept { lines });
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
/// sight.
#[hook]
pub fn use_kept(name: String, version: u32, live: &Rc<Live>) {
    let keeping = use_mut_ref(Keeping::default);
    let keep = {
        let keeping = keeping.clone();
        use_callback((), move |(), ()| {
            let mut keeping = keeping.borrow_mut();
            if let Some(written) = keeping.due.take() {
                save(&keeping.name, &written);
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
}

/// Lines as the writing surface takes them.
pub fn given(version: u32, lines: Vec<Vec<Cell>>) -> Given {
    Given { version, lines: Rc::new(lines), over: false }
}

/// Whose writing is kept, and where.
#[derive(Properties, PartialEq)]
pub struct KeptWorkProps {
    /// The writing.
    pub live: Rc<Live>,
    /// The name that it is kept under.
    pub name: String,
    /// The version of the text that this name is of.
    pub version: u32,
}

/// Keeps what is being written.
#[component]
pub fn KeptWork(props: &KeptWorkProps) -> Html {
    use_kept(props.name.clone(), props.version, &props.live);
    html! {}
}
