//! The learner's record in the browser: a journal per open page, read back as their union.

use std::rc::Rc;

use yew::prelude::*;

use super::store::{self, StoreError};
use crate::practice::due::Memories;
use crate::practice::record::{self, Answer, Event, Id, Record};

const PREFIX: &str = "cellwright.journal.";
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

/// Reads all journals that this browser keeps; what cannot be read is set aside.
pub fn load() -> Learner {
    let mut learner = Learner { tab: tab_name(), ..Learner::default() };
    if !store::works() {
        learner.trouble = Some(StoreError::Refused.words());
    }
    let journals = |key: &String| key.starts_with(PREFIX) && !key.ends_with(".aside");
    for key in store::keys().into_iter().filter(journals) {
        let Some(text) = store::text(&key) else { continue };
        let damaged = match Record::parse(&text) {
            Ok((record, damaged)) => {
                learner.record.merge(record);
                !damaged.is_empty()
            }
            Err(_) => true,
        };
        if damaged && store::keep_text(&format!("{key}.aside"), &text).is_ok() {
            learner.trouble =
                Some("A part of your record could not be read. It was set aside; the rest is here.");
        }
    }
    learner.memories = Memories::of(&learner.record);
    learner
}

impl Learner {
    fn keep(&mut self, at: u64, event: &Event) -> Id {
        if self.count >= LONGEST {
            self.tab = tab_name();
            self.count = 0;
        }
        let id = Id { tab: self.tab.clone(), n: self.count };
        self.count += 1;
        let key = format!("{PREFIX}{}", self.tab);
        let before = store::text(&key).unwrap_or_else(|| format!("{}\n", record::HEAD));
        if let Err(error) = store::keep_text(&key, &format!("{before}{}\n", record::line(&id, at, event))) {
            self.trouble = Some(error.words());
        }
        id
    }
}

/// The learner, handed to every room.
#[derive(Clone)]
pub struct LearnerHandle {
    state: UseStateHandle<Rc<Learner>>,
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
    /// Records what happened, and keeps it at once.
    pub fn add(&self, event: Event) {
        let mut learner = (**self.state).clone();
        let at = now();
        let id = learner.keep(at, &event);
        if let Event::Answer(answer) = &event {
            learner.memories.take(answer);
        }
        learner.record.add(id, at, event);
        self.state.set(Rc::new(learner));
    }

    /// Records an answer.
    pub fn answer(&self, answer: Answer) {
        self.add(Event::Answer(answer));
    }

    /// Takes in a saved record: what it has and this browser has not. What was here stays.
    pub fn merge(&self, other: Record) {
        let mut learner = (**self.state).clone();
        let key = format!("{PREFIX}file{}", now());
        if let Err(error) = store::keep_text(&key, &other.to_text()) {
            learner.trouble = Some(error.words());
        }
        learner.record.merge(other);
        learner.memories = Memories::of(&learner.record);
        self.state.set(Rc::new(learner));
    }
}

/// The learner, in a room.
#[hook]
pub fn use_learner() -> LearnerHandle {
    LearnerHandle { state: use_state(|| Rc::new(load())) }
}
