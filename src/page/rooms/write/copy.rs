//! What is copied in the room Write: the built-in prompts or a set text, and which of them lies on the desk.

use std::rc::Rc;

use wasm_bindgen::JsValue;
use yew::prelude::*;

use crate::cell::Cell;
use crate::page::browser::held::{Held, use_held};
use crate::page::browser::store;
use crate::page::browser::stored::{Stored, fill, object};
use crate::page::learner::rehearsal::Rehearsal;
use crate::page::learner::settings::Settings;
use crate::page::surface::work;
use crate::page::widgets::cells_line::shown;

/// Where the learner's writing is kept.
const KEY: &str = "write";
const VERSION: u32 = 1;

/// The built-in prompts, with what they are from.
fn prompts() -> impl Iterator<Item = (&'static str, &'static str)> + Clone {
    include_str!("prompts.tsv").lines().filter_map(|line| line.split_once('\t'))
}

/// What is kept between visits: the prompt, and whether the learner writes without one. The writing itself is kept text
/// by text, in [`work`].
#[derive(Default)]
struct Kept {
    prompt: usize,
    free: bool,
}

impl Stored for Kept {
    fn take(value: &JsValue) -> Option<Self> {
        let mut kept = Kept::default();
        fill(value, "prompt", &mut kept.prompt)?;
        fill(value, "free", &mut kept.free)?;
        Some(kept)
    }
    fn give(&self) -> JsValue {
        object(&[("prompt", self.prompt.give()), ("free", self.free.give())])
    }
}

/// The name under which the writing of a set text is kept: apart from the learner's own work on the same print.
pub fn name_of_set(slate: bool, text: &str) -> String {
    work::name_of(if slate { "set.slate" } else { "set.write" }, text)
}

/// The texts, and the one on the desk.
#[derive(Clone)]
pub struct Copy {
    texts: Rc<Vec<(String, String)>>,
    place: Held<usize>,
    free: Held<bool>,
    /// The texts are the built-in prompts, and none is set.
    own: bool,
    slate: bool,
    rehearsal: bool,
}

/// The texts for the desk: the one that is `set`, or the built-in prompts with the one that was there last.
#[hook]
pub fn use_copy(set: &Option<AttrValue>, slate: bool) -> Copy {
    let kept = use_memo((), |()| store::load::<Kept>(KEY, VERSION).unwrap_or_default());
    let own = set.is_none();
    let texts: Rc<Vec<(String, String)>> = use_memo(set.clone(), |set| match set {
        Some(text) => vec![(String::new(), text.to_string())],
        None => prompts().map(|(from, text)| (from.to_owned(), text.to_owned())).collect(),
    });
    let place = use_held(|| if own { kept.prompt.min(texts.len().saturating_sub(1)) } else { 0 });
    let free = use_held(|| own && kept.free);
    let rehearsal = use_context::<Rehearsal>().is_some();
    Copy { texts, place, free, own, slate, rehearsal }
}

impl Copy {
    /// Whether the learner writes without a prompt.
    pub fn is_free(&self) -> bool {
        *self.free
    }

    /// What the text is from, and the text.
    pub fn text(&self) -> (String, String) {
        self.texts.get(*self.place).cloned().unwrap_or_default()
    }

    /// The name under which the writing is kept; empty for nowhere.
    pub fn name(&self) -> String {
        self.name_of(*self.place, *self.free)
    }

    fn name_of(&self, place: usize, free: bool) -> String {
        if self.rehearsal {
            return String::new();
        }
        let task = if self.slate { "slate" } else { "write" };
        if free {
            return format!("work.{task}.free");
        }
        let text = self.texts.get(place).map_or("", |(_, text)| text.as_str());
        if self.own { work::name_of(task, text) } else { name_of_set(self.slate, text) }
    }

    /// Turns to a text, or to writing without one: `begin` is given what was written for it before.
    pub fn turn(&self, begin: &Callback<Vec<Vec<Cell>>>) -> Callback<(usize, bool)> {
        let (this, begin) = (self.clone(), begin.clone());
        Callback::from(move |(to, without): (usize, bool)| {
            this.place.set(to);
            this.free.set(without);
            if this.own {
                // A browser that keeps nothing only forgets which prompt it was.
                let _ = store::save(KEY, VERSION, &Kept { prompt: to, free: without });
            }
            begin.emit(work::load(&this.name_of(to, without)));
        })
    }

    /// Writes without a prompt from now on, or with the same one again.
    pub fn without(&self, turn: &Callback<(usize, bool)>) -> Callback<bool> {
        let place = *self.place;
        turn.reform(move |on| (place, on))
    }

    /// The copyholder.
    pub fn view(&self, turn: &Callback<(usize, bool)>, settings: &Settings) -> Html {
        let (count, (from, prompt)) = (self.texts.len(), self.text());
        let go = |step: isize| {
            let to = (*self.place as isize + step).rem_euclid(count.max(1) as isize) as usize;
            turn.reform(move |_: MouseEvent| (to, false))
        };
        html! {
            <div class="copyholder" data-copy="" aria-live="polite">
                if *self.free {
                    <p class="print soft" id="copy-line">{ "Write what you like." }</p>
                } else {
                    <p class="print" id="copy-line">
                        if !from.is_empty() { <span class="from">{ &from }</span> }
                        { shown(&prompt, settings) }
                    </p>
                }
                <div class="controls">
                    if !*self.free && count > 1 {
                        <span class="where">{ format!("{} of {count}", *self.place + 1) }</span>
                        <button type="button" onclick={go(-1)}>{ "Previous" }</button>
                        <button type="button" onclick={go(1)}>{ "Next" }</button>
                    }
                </div>
            </div>
        }
    }
}
