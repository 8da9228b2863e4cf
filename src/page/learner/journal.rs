//! The learner's record in the browser: a journal per open page, read back as their union.

use std::cell::RefCell;
use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::{local_day, now, seed};
use crate::page::browser::store::{self, StoreError};
use crate::page::learner::rehearsal::Rehearsal;
use crate::practice::compact;
use crate::practice::due::{Known, Memories};
use crate::practice::record::{self, Answer, Event, Id, Record, RecordError};

const PREFIX: &str = "cellwright.journal.";
/// Events in one journal, after which the page begins a new one, so that keeping an answer stays cheap.
const LONGEST: u64 = 300;

/// Everything known of the learner, as it is now.
#[derive(Clone, Debug, Default)]
pub struct Learner {
    /// The log.
    pub record: Record,
    /// What it leaves in memory.
    pub memories: Memories,
    /// What could not be read, in plain words; what is not stored or was set aside is told for the whole page.
    pub trouble: Option<&'static str>,
    tab: String,
    count: u64,
}

fn tab_name() -> String {
    format!("{:x}{:x}", now(), seed() & 0xffff)
}

const LATER: &str = "A part of your record was written by a later version of this page. It is left as it is; reload the page to see it.";

/// Reads all journals that this browser keeps. What cannot be read is set aside, once; the readable part stays.
fn load() -> Learner {
    let mut learner = Learner { tab: tab_name(), ..Learner::default() };
    let _ = store::works();
    let journals = |key: &String| key.starts_with(PREFIX) && !store::is_aside(key);
    for key in store::keys().into_iter().filter(journals) {
        let Some(text) = store::text(&key) else { continue };
        let readable = match Record::parse(&text) {
            Ok((mut record, damaged)) => {
                let late = record.until(now());
                learner.record.merge(record.clone());
                if damaged.is_empty() {
                    if late {
                        // Once and for all: at the next visit it would be now again.
                        let _ = store::keep_text(&key, &record.to_text());
                    }
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
        // Only when the copy is safe is the journal itself cleaned.
        if store::set_aside(&key, &text).is_ok() {
            let _ = store::keep_text(&key, &readable);
        }
    }
    learner.memories = Memories::of(&learner.record);
    learner
}

/// Makes a record that has grown long short in the browser's store, for the next visit: first what is new is stored, then what it
/// stands for goes. What another tab may be writing stays as it is; what is there twice is taken once.
pub fn shorten() {
    const DAY: u64 = 86_400_000;
    let journals = |key: &String| key.starts_with(PREFIX) && !store::is_aside(key);
    let with_text = |key: String| store::text(&key).map(|text| (key, text));
    let old: Vec<(String, String)> =
        store::keys().into_iter().filter(journals).filter_map(with_text).collect();
    let mut record = load().record;
    if !compact::compact(&mut record, compact::KEPT, local_day()) {
        return;
    }
    let key = format!("{PREFIX}file{}", tab_name());
    if store::keep_text_or_not(&key, &record.to_text()).is_err() {
        return;
    }
    for (key, text) in old {
        let Ok((part, damaged)) = Record::parse(&text) else { continue };
        // A file is written once; a tab may go on.
        let written_once = key.starts_with(&format!("{PREFIX}file"));
        let late =
            !written_once && part.in_time().last().is_some_and(|(at, _)| at.saturating_add(DAY) > now());
        if damaged.is_empty() && !late && store::text(&key).as_ref() == Some(&text) {
            store::forget_text(&key);
        }
    }
}

impl Learner {
    /// Whether what happens is forgotten with the page, because the browser keeps nothing for it.
    pub fn keeps_nothing(&self) -> bool {
        store::lacks() == Some(StoreError::Refused)
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
        // What is not taken is held, and the page says so.
        let _ = store::keep_text(&key, &text);
    }
}

thread_local! {
    /// The one learner of this page. Rooms show it; whoever changes it starts from here, not from what a room showed.
    static HERE: RefCell<Option<Rc<Learner>>> = const { RefCell::new(None) };
}

fn here() -> Rc<Learner> {
    HERE.with_borrow_mut(|here| here.get_or_insert_with(|| Rc::new(load())).clone())
}

/// The record as it is now, whatever a room shows of it.
pub fn record_now() -> Record {
    here().record.clone()
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

    /// Takes in a saved record: what it has and this browser has not. What was here stays. Gives the number of entries that
    /// are new, and why they last no longer than the page is open where the browser could not store them.
    pub fn merge(&self, mut other: Record) -> (usize, Option<StoreError>) {
        other.until(now());
        let news = other.without(&here().record);
        let count = news.len();
        if count == 0 {
            return (0, None);
        }
        let trouble = store::keep_text(&format!("{PREFIX}file{}", tab_name()), &news.to_text()).err();
        self.change(|learner| {
            learner.record.merge(news);
            learner.memories = Memories::of(&learner.record);
        });
        (count, trouble)
    }

    /// Puts a saved record in the place of the one here. What was here is gone from this browser.
    ///
    /// # Errors
    /// When it could not be stored: then the record is as it was.
    pub fn replace(&self, mut other: Record) -> Result<(), StoreError> {
        other.until(now());
        // The new one first: when the browser has no room for it, nothing is lost.
        let key = format!("{PREFIX}file{}", tab_name());
        store::keep_text_or_not(&key, &other.to_text())?;
        self.change(|learner| {
            let old = |old: &String| old.starts_with(PREFIX) && *old != key && !store::is_aside(old);
            for old in store::keys().into_iter().filter(old) {
                store::forget_text(&old);
            }
            *learner = Learner {
                tab: tab_name(),
                memories: Memories::of(&other),
                record: other,
                ..Learner::default()
            };
        });
        Ok(())
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
