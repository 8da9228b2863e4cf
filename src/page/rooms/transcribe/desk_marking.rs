//! How the work on the desk is marked and handed in.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::trial::Attempt;
use crate::exercise::{Anew, Exercise, Try};
use crate::manuscript::file::BrailleFile;
use crate::manuscript::{Sheet, work};
use crate::page::browser::clock::now;
use crate::page::learner::journal::LearnerHandle;
use crate::page::marked::progress::Progress;
use crate::page::rooms::transcribe::desk_state::remember;
use crate::page::states::desk::{Action, Desk, Kept, held_against};
use crate::page::surface::live::{Live, on_writing};

/// What marking needs of the desk.
#[derive(Clone)]
pub struct Marking {
    /// What is written.
    pub live: Rc<Live>,
    /// The sheet.
    pub sheet: Sheet,
    /// A set exercise.
    pub set: Option<Rc<Exercise>>,
    /// How it stands.
    pub progress: Progress,
    /// The way to what comes after.
    pub act: Callback<Action>,
}

impl Marking {
    /// Marks what is written; set work is handed in.
    pub fn mark(&self, desk: &Desk, learner: &LearnerHandle) -> Callback<()> {
        let (this, learner) = (self.clone(), learner.clone());
        let (print, first, helped) = (desk.print.clone(), desk.marked.is_none(), desk.helped);
        let mark = Callback::from(move |()| {
            let Marking { live, sheet, set, progress, act } = &this;
            let cells = live.now().cells();
            let (work, lines) = held_against(&print, &cells, *sheet, set.as_deref(), now());
            remember(&learner, &work, first, lines.at);
            if let Some(set) = set {
                // Without a mistake there is nothing to try again.
                let last = set.trial.is_none() || progress.left().is_some_and(|left| left <= 1);
                let finished = last || work.marked.summary.errors == 0;
                progress.hand_in(None, text_of(&cells, *sheet), helped, finished);
            }
            act.emit(Action::Marked(lines));
        });
        on_writing(&self.live, mark)
    }

    /// Leaves the work at what was handed in last, whatever was written since.
    pub fn leave(&self, desk: &Desk) -> Callback<()> {
        let (this, print) = (self.clone(), desk.print.clone());
        Callback::from(move |()| {
            let Marking { live, sheet, set, progress, act } = &this;
            let work = progress.tries.last().map(|last| BrailleFile::from_text(&last.work).cells());
            let lines =
                work.map_or_else(|| live.now().cells(), |pages| pages.into_iter().flatten().collect());
            act.emit(Action::Marked(held_against(&print, &lines, *sheet, set.as_deref(), now()).1));
            progress.finish();
        })
    }

    /// Begins the exercise anew; `laid` tells the desk.
    pub fn anew(&self, laid: &Callback<Action>) -> Callback<()> {
        let (laid, progress) = (laid.clone(), self.progress.clone());
        Callback::from(move |()| {
            laid.emit(Action::Anew);
            progress.again();
        })
    }
}

/// The work as braille ASCII.
fn text_of(lines: &[Vec<Cell>], sheet: Sheet) -> String {
    BrailleFile::from_pages(&work::pages(lines, sheet)).to_text()
}

/// The tries of a trial, each marked anew from its work.
#[hook]
pub fn use_attempts(set: &Option<Rc<Exercise>>, progress: &Progress) -> Rc<Vec<Attempt>> {
    let set = set.clone();
    use_memo(progress.tries.clone(), move |tries| {
        let attempt = |one: &Try| Anew::of(set.as_deref()?, None, &one.work, one.helped)?.attempt;
        tries.iter().filter_map(attempt).collect()
    })
}

/// An exercise that was handed in when tries were kept without their work is handed in as it lies on the desk.
#[hook]
pub fn use_old_tries(kept: &Rc<Kept>, desk: &Desk, sheet: Sheet, progress: &Progress) {
    let (progress, lines, kept) = (progress.clone(), desk.laid.lines.clone(), kept.clone());
    use_effect_with((), move |()| {
        if !kept.tries.is_empty() && progress.tries.is_empty() {
            progress.hand_in_of(None, text_of(&lines, sheet), kept.seconds, kept.helped, true);
        }
    });
}
