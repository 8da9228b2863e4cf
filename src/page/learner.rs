//! The learner's record in the browser: a journal per open page, read back as their union.

use std::cell::RefCell;
use std::rc::Rc;

use yew::prelude::*;

use super::store::{self, StoreError};
use super::work::Rehearsal;
use crate::practice::due::{Known, Memories};
use crate::practice::record::{self, Answer, Event, Id, Record, RecordError};

const PREFIX: &str = "cellwright.journal.";
/// What the key of a part that could not be read ends with.
const SET_ASIDE: &str = ".aside";
/// Events in one journal, after which the page begins a new one, so that keeping an answer stays cheap.
const LONGEST: u64 = 300;

/// Milliseconds since 1970.
pub fn now() -> u64 {
    web_sys::js_sys::Date::now().max(0.0) as u64
}

/// A seed for chance.
pub fn seed() -> u64 {
    (web_sys::js_sys::Math::random() * 9e15) as u64
}

/// Everything known of the learner, as it is now.
#[derive(Clone, Debug, Default)]
pub struct Learner {
    /// The log.
    pub record: Record,
    /// What it leaves in memory.
    pub memories: Memories,
    /// What could not be read or kept, in plain words.
    pub trouble: Option<&'static str>,
    tab: String,
    count: u64,
}

fn tab_name() -> String {
    format!("{:x}{:x}", now(), seed() & 0xffff)
}

const ASIDE: &str = "A part of your record could not be read. It was set aside, and the Record room can save it; the rest is here.";
const LATER: &str = "A part of your record was written by a later version of this page. It is left as it is; reload the page to see it.";

/// Reads all journals that this browser keeps. What cannot be read is set aside, once; the readable part stays.
fn load() -> Learner {
    let mut learner = Learner { tab: tab_name(), ..Learner::default() };
    if !store::works() {
        learner.trouble = Some(StoreError::Refused.words());
    }
    let journals = |key: &String| key.starts_with(PREFIX) && !key.ends_with(SET_ASIDE);
    for key in store::keys().into_iter().filter(journals) {
        let Some(text) = store::text(&key) else { continue };
        let readable = match Record::parse(&text) {
            Ok((record, damaged)) => {
                learner.record.merge(record.clone());
                if damaged.is_empty() {
                    continue;
                }
                record.to_text()
            }
            Err(RecordError::Later) => {
                learner.trouble = Some(LATER);
                continue;
            }
            Err(RecordError::NotARecord) => format!("{}\n", record::HEAD),
        };
        learner.trouble = Some(ASIDE);
        // Only when the copy is safe is the journal itself cleaned.
        if store::keep_text(&format!("{key}{SET_ASIDE}"), &text).is_ok() {
            let _ = store::keep_text(&key, &readable);
        }
    }
    learner.memories = Memories::of(&learner.record);
    learner
}

/// What was set aside because it could not be read, as one text; empty when nothing was.
pub fn set_aside() -> String {
    let aside = |key: &String| key.starts_with(PREFIX) && key.ends_with(SET_ASIDE);
    store::keys()
        .iter()
        .filter(|key| aside(key))
        .filter_map(|key| store::text(key))
        .collect::<Vec<_>>()
        .join("\n")
}

impl Learner {
    /// Whether what happens is forgotten with the page, because the browser keeps nothing for it.
    pub fn keeps_nothing(&self) -> bool {
        self.trouble == Some(StoreError::Refused.words())
    }

    /// Whether a sign is known: by the answers, or marked as learned elsewhere.
    pub fn knows(&self) -> impl Fn(&str) -> bool {
        let marks = self.record.marks();
        move |key| self.memories.known(key) >= Known::Known || marks.contains(key)
    }

    fn keep(&mut self, at: u64, events: &[Event]) {
        if self.count >= LONGEST {
            self.tab = tab_name();
            self.count = 0;
        }
        let key = format!("{PREFIX}{}", self.tab);
        let mut text = store::text(&key).unwrap_or_else(|| format!("{}\n", record::HEAD));
        for event in events {
            let id = Id { tab: self.tab.clone(), n: self.count };
            self.count += 1;
            text.push_str(&record::line(&id, at, event));
            text.push('\n');
            if let Event::Answer(answer) = event {
                self.memories.take(answer);
            }
            self.record.add(id, at, event.clone());
        }
        if let Err(error) = store::keep_text(&key, &text) {
            self.trouble = Some(error.words());
        }
    }
}

thread_local! {
    /// The one learner of this page. Rooms show it; whoever changes it starts from here, not from what a room showed.
    static HERE: RefCell<Option<Rc<Learner>>> = const { RefCell::new(None) };
}

fn here() -> Rc<Learner> {
    HERE.with_borrow_mut(|here| here.get_or_insert_with(|| Rc::new(load())).clone())
}

/// The learner, handed to every room.
#[derive(Clone)]
pub struct LearnerHandle {
    state: UseStateHandle<Rc<Learner>>,
    /// Nothing is recorded where an exercise is only shown.
    rehearsal: bool,
}

impl PartialEq for LearnerHandle {
    fn eq(&self, other: &LearnerHandle) -> bool {
        Rc::ptr_eq(&self.state, &other.state)
    }
}

impl std::ops::Deref for LearnerHandle {
    type Target = Learner;
    fn deref(&self) -> &Learner {
        &self.state
    }
}

impl LearnerHandle {
    fn change(&self, with: impl FnOnce(&mut Learner)) {
        if self.rehearsal {
            return;
        }
        let mut learner = (*here()).clone();
        with(&mut learner);
        let learner = Rc::new(learner);
        HERE.set(Some(learner.clone()));
        self.state.set(learner);
    }

    /// Records what happened, and keeps it at once.
    pub fn add(&self, event: Event) {
        self.add_all(&[event]);
    }

    /// Records several things that happened together, and keeps them at once.
    pub fn add_all(&self, events: &[Event]) {
        if !events.is_empty() {
            self.change(|learner| learner.keep(now(), events));
        }
    }

    /// Records an answer.
    pub fn answer(&self, answer: Answer) {
        self.add(Event::Answer(answer));
    }

    /// Takes in a saved record: what it has and this browser has not. What was here stays.
    pub fn merge(&self, other: Record) {
        self.change(|learner| {
            if let Err(error) = store::keep_text(&format!("{PREFIX}file{}", tab_name()), &other.to_text()) {
                learner.trouble = Some(error.words());
            }
            learner.record.merge(other);
            learner.memories = Memories::of(&learner.record);
        });
    }

    /// Puts a saved record in the place of the one here. What was here is gone from this browser.
    pub fn replace(&self, other: Record) {
        self.change(|learner| {
            // The new one first: when the browser has no room for it, nothing is lost.
            let key = format!("{PREFIX}file{}", tab_name());
            if let Err(error) = store::keep_text(&key, &other.to_text()) {
                learner.trouble = Some(error.words());
                return;
            }
            for old in store::keys().into_iter().filter(|old| old.starts_with(PREFIX) && *old != key) {
                store::forget_text(&old);
            }
            *learner = Learner {
                tab: tab_name(),
                memories: Memories::of(&other),
                record: other,
                ..Learner::default()
            };
        });
    }
}

/// Tells that something is not kept, with the way to save the record.
pub fn told(trouble: &str) -> Html {
    html! {
        <p class="alert" role="alert">{ trouble }{ " " }<a href="#/record">{ "To the room Record" }</a></p>
    }
}

/// The learner, in a room.
#[hook]
pub fn use_learner() -> LearnerHandle {
    LearnerHandle { state: use_state(here), rehearsal: use_context::<Rehearsal>().is_some() }
}
