//! What is kept of an exercise beside the work itself: its tries, the time, the help, the name on its slip.

use std::cell::RefCell;
use std::rc::Rc;

use gloo::events::EventListener;
use yew::prelude::*;

use crate::exercise::proofread::Proof;
use crate::exercise::watch::Watch;
use crate::exercise::{Exercise, Try};
use crate::page::browser::clock::{ticks, today};
use crate::page::browser::held::{Held, use_held};
use crate::page::browser::store;
use crate::page::learner::rehearsal::Rehearsal;
use crate::page::surface::work;

const VERSION: u32 = 1;
/// The time is kept whenever so much has been added, in milliseconds.
const KEEP: u64 = 2_000;

/// The tries of an exercise, and whether it is done with for now.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(default)]
pub struct Kept {
    /// The tries, the first first.
    pub tries: Vec<Try>,
    /// Whether the work is handed in and only looked at.
    pub finished: bool,
    /// Whether help was used since the last try.
    helped: bool,
}

/// Where the tries of an exercise are kept.
pub fn name_of(set: &Exercise) -> String {
    work::name_of("tries", &set.identity())
}

/// What this browser keeps of an exercise.
pub fn kept_of(set: &Exercise) -> Kept {
    store::load_any(&name_of(set), VERSION).unwrap_or_default()
}

/// Around the exercises of a set (a context): called when one is handed in or begun anew. They have one slip together.
#[derive(Clone, PartialEq)]
pub struct InSet(pub Callback<()>);

/// How an exercise stands.
#[derive(Clone)]
pub struct Progress {
    set: Rc<Exercise>,
    name: Rc<str>,
    kept: Held<Kept>,
    /// As the last event left it: a page that is being closed draws nothing any more.
    now: Rc<RefCell<Kept>>,
    watch: Rc<RefCell<Watch>>,
    in_set: Option<InSet>,
}

impl std::ops::Deref for Progress {
    type Target = Kept;
    fn deref(&self) -> &Kept {
        &self.kept
    }
}

impl Progress {
    /// Whether help was used since the last try.
    pub fn helped(&self) -> bool {
        self.kept.helped
    }

    /// Whether it is one of a set, whose slip is for all.
    pub fn in_set(&self) -> bool {
        self.in_set.is_some()
    }

    /// Where it is kept; empty for nowhere.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How many tries are left; nothing: as many as one likes.
    pub fn left(&self) -> Option<usize> {
        self.set.may_try().map(|may| may.saturating_sub(self.kept.tries.len()))
    }

    /// Whether no try is left.
    pub fn used_up(&self) -> bool {
        self.left() == Some(0)
    }

    fn change(&self, with: impl FnOnce(&mut Kept)) {
        let mut now = self.now.borrow_mut();
        with(&mut now);
        if !self.name.is_empty() {
            // What the browser does not take is held, and the page says so.
            let _ = store::save_any(&self.name, VERSION, &*now);
        }
        self.kept.set(now.clone());
    }

    /// Help was used.
    pub fn help(&self) {
        self.change(|kept| kept.helped = true);
    }

    /// Hands the work in: a try more, and the clock begins anew. `finished`: it is only looked at from now on.
    pub fn hand_in(&self, proof: Option<&Proof>, work: String, helped: bool, finished: bool) {
        self.watch.borrow_mut().rest(ticks());
        let seconds = self.watch.borrow().seconds();
        self.hand_in_of(proof, work, seconds, helped, finished);
    }

    /// The same for work of a known time.
    pub fn hand_in_of(
        &self,
        proof: Option<&Proof>,
        work: String,
        seconds: u32,
        helped: bool,
        finished: bool,
    ) {
        let new = Try {
            day: today(),
            ..Try::of(&self.set, proof, work, seconds, helped || self.now.borrow().helped)
        };
        self.reset();
        self.change(|kept| {
            kept.tries.push(new);
            (kept.finished, kept.helped) = (finished, false);
        });
        self.tell();
    }

    /// What is handed in is left as it is.
    pub fn finish(&self) {
        self.change(|kept| kept.finished = true);
        self.tell();
    }

    /// Begun anew: the tries stay.
    pub fn again(&self) {
        self.reset();
        self.change(|kept| (kept.finished, kept.helped) = (false, false));
        self.tell();
    }

    fn reset(&self) {
        *self.watch.borrow_mut() = Watch::default();
        self.keep_time();
    }

    fn tell(&self) {
        if let Some(InSet(told)) = &self.in_set {
            told.emit(());
        }
    }

    fn keep_time(&self) {
        keep_time(&self.name, &self.watch.borrow());
    }
}

fn keep_time(name: &str, watch: &Watch) {
    if !name.is_empty() {
        // A browser that keeps nothing has said so beside the work.
        let _ = store::save_any(&format!("{name}.time"), VERSION, &watch.ms());
    }
}

/// How an exercise stands; its clock goes while somebody works and it is not handed in.
#[hook]
pub fn use_progress(set: &Rc<Exercise>) -> Progress {
    let set = Some(set.clone());
    use_progress_of(&set)
}

/// The same where there may be no exercise: then nothing is kept.
#[hook]
pub fn use_progress_of(set: &Option<Rc<Exercise>>) -> Progress {
    let rehearsal = use_context::<Rehearsal>().is_some() || set.is_none();
    let set = &set.clone().unwrap_or_default();
    let in_set = use_context::<InSet>();
    let name = use_memo(set.clone(), |set| if rehearsal { String::new() } else { name_of(set) });
    let name: Rc<str> = Rc::from(name.as_str());
    let kept = {
        let set = set.clone();
        use_held(|| if name.is_empty() { Kept::default() } else { kept_of(&set) })
    };
    let now = use_mut_ref(|| (*kept).clone());
    let watch = use_mut_ref(|| {
        let ms =
            if name.is_empty() { None } else { store::load_any::<u64>(&format!("{name}.time"), VERSION) };
        Watch::from(ms.unwrap_or_default())
    });
    {
        let watch = watch.clone();
        use_effect_with((name.clone(), kept.finished), move |(name, finished)| {
            let listeners = if *finished { Vec::new() } else { follow(name.clone(), &watch) };
            let name = name.clone();
            move || {
                drop(listeners);
                watch.borrow_mut().rest(ticks());
                keep_time(&name, &watch.borrow());
            }
        });
    }
    Progress { set: set.clone(), name, kept, now, watch, in_set }
}

/// Keeps the clock going at every sign of work, and at rest while the page is out of sight.
fn follow(name: Rc<str>, watch: &Rc<RefCell<Watch>>) -> Vec<EventListener> {
    let (document, window) = (gloo::utils::document(), gloo::utils::window());
    watch.borrow_mut().work(ticks());
    let kept = Rc::new(RefCell::new(watch.borrow().ms()));
    let mut listeners = Vec::new();
    for sign in ["keydown", "pointerdown", "input", "scroll"] {
        let (name, watch, kept) = (name.clone(), watch.clone(), kept.clone());
        listeners.push(EventListener::new(&document, sign, move |_| {
            watch.borrow_mut().work(ticks());
            let ms = watch.borrow().ms();
            if ms.saturating_sub(*kept.borrow()) >= KEEP {
                *kept.borrow_mut() = ms;
                keep_time(&name, &watch.borrow());
            }
        }));
    }
    let rest = {
        let (name, watch, document) = (name, watch.clone(), document.clone());
        Rc::new(move |leaves: bool| {
            if leaves || document.hidden() {
                watch.borrow_mut().rest(ticks());
                keep_time(&name, &watch.borrow());
            } else {
                watch.borrow_mut().work(ticks());
            }
        })
    };
    let leave = rest.clone();
    listeners.push(EventListener::new(&document, "visibilitychange", move |_| rest(false)));
    listeners.push(EventListener::new(&window, "pagehide", move |_| leave(true)));
    listeners
}
