//! What is being written, for the parts of a room that follow it key by key, so that nothing else is drawn again.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::held::use_held;
use crate::page::browser::long_work;
use crate::page::surface::written::Written;

/// What is written now, and who follows it.
#[derive(Default)]
pub struct Live {
    now: RefCell<Written>,
    followers: RefCell<Vec<(u32, Callback<Written>)>>,
    count: Cell<u32>,
}

impl PartialEq for Live {
    fn eq(&self, other: &Live) -> bool {
        std::ptr::eq(self, other)
    }
}

impl Live {
    /// What is written now.
    pub fn now(&self) -> Written {
        self.now.borrow().clone()
    }

    /// Tells those who follow. Gives whether the text is another, and not the caret alone.
    pub fn tell(&self, new: &Written) -> bool {
        let old = self.now.replace(new.clone());
        for (_, follower) in self.followers.borrow().iter() {
            follower.emit(new.clone());
        }
        old.chunks.iter().map(Rc::as_ptr).ne(new.chunks.iter().map(Rc::as_ptr))
    }

    /// Tells a follower what is written, now and from now on; gives its number, to leave by.
    pub fn follow(&self, follower: Callback<Written>) -> u32 {
        let number = self.count.replace(self.count.get() + 1);
        follower.emit(self.now());
        self.followers.borrow_mut().push((number, follower));
        number
    }

    /// Tells a follower no more.
    pub fn leave(&self, number: u32) {
        self.followers.borrow_mut().retain(|(one, _)| *one != number);
    }
}

/// What is written, as it changes.
#[hook]
pub fn use_live(live: &Rc<Live>) -> Written {
    let written = use_held(|| live.now());
    {
        let written = written.clone();
        use_effect_with(live.clone(), move |live| {
            let (live, number) = (live.clone(), live.follow(Callback::from(move |new| written.set(new))));
            move || live.leave(number)
        });
    }
    (*written).clone()
}

/// The line that is being written, from 0: what asks for it is drawn again only when it becomes another.
#[hook]
pub fn use_row(live: &Rc<Live>) -> usize {
    let row = use_held(|| live.now().caret.line);
    {
        let row = row.clone();
        use_effect_with(live.clone(), move |live| {
            let (live, number) =
                (live.clone(), live.follow(Callback::from(move |new: Written| row.set(new.caret.line))));
            move || live.leave(number)
        });
    }
    *row
}

/// Work on all that is being written.
pub fn on_writing(live: &Rc<Live>, work: Callback<()>) -> Callback<()> {
    let live = live.clone();
    Callback::from(move |()| {
        let (cells, work) = (live.now().lines().map(|line| line.cells.len()).sum(), work.clone());
        long_work::on(cells, move || work.emit(()));
    })
}
