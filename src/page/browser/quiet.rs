//! What is done when nothing has happened for a moment: one timer, however often it happens. A browser takes long to set one
//! and to put it off, too long for every key.

use std::cell::{Cell, RefCell};
use std::rc::{Rc, Weak};

use gloo::timers::callback::Timeout;
use yew::Callback;

use crate::page::browser::clock::ticks;

/// What was written has settled when no key came for so many milliseconds, or so long after the first.
const SETTLED: u64 = 120;
const LATEST: u64 = 1000;

/// Something that waits for a quiet moment.
pub struct Quiet(Rc<Waiting>);

struct Waiting {
    quiet: u64,
    latest: u64,
    act: Callback<()>,
    first: Cell<u64>,
    last: Cell<u64>,
    timer: RefCell<Option<Timeout>>,
}

impl Quiet {
    /// Acts when [`Quiet::again`] was not called for `quiet` milliseconds, or `latest` after the first call.
    pub fn new(quiet: u64, latest: u64, act: Callback<()>) -> Quiet {
        let (first, last, timer) = Default::default();
        Quiet(Rc::new(Waiting { quiet, latest, act, first, last, timer }))
    }

    /// Acts when what was written has settled.
    pub fn settled(act: Callback<()>) -> Quiet {
        Quiet::new(SETTLED, LATEST, act)
    }

    /// It happened: the wait begins.
    pub fn again(&self) {
        let now = ticks();
        self.0.last.set(now);
        if self.0.timer.borrow().is_none() {
            self.0.first.set(now);
            wait(&self.0, self.0.quiet);
        }
    }

    /// What was waited for is done, or is no more to be done.
    pub fn done(&self) {
        self.0.timer.take();
    }
}

fn wait(waiting: &Rc<Waiting>, time: u64) {
    let weak = Rc::downgrade(waiting);
    waiting.timer.replace(Some(Timeout::new(time as u32 + 1, move || look(&weak))));
}

/// The time has come, unless it has happened again since.
fn look(waiting: &Weak<Waiting>) {
    let Some(waiting) = waiting.upgrade() else { return };
    let now = ticks();
    let quiet = now.saturating_sub(waiting.last.get());
    if quiet < waiting.quiet && now.saturating_sub(waiting.first.get()) < waiting.latest {
        wait(&waiting, waiting.quiet - quiet);
    } else {
        waiting.timer.take();
        waiting.act.emit(());
    }
}
