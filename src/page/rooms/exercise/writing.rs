//! Print that a teacher set to be written, with six keys or as on a slate: the desk of the room "Write", each marking a try.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::{Exercise, Slip, Task, mark_lines};
use crate::manuscript::file::BrailleFile;
use crate::marking::Marked;
use crate::page::learner::rehearsal::use_name;
use crate::page::marked::hand_in::HandIn;
use crate::page::marked::progress::use_progress;
use crate::page::rooms::write::Desk;
use crate::page::rooms::write::copy::name_of_set;
use crate::page::surface::work;

/// The exercise.
#[derive(Properties, PartialEq)]
pub struct WritingProps {
    /// The exercise: print to write.
    pub exercise: Rc<Exercise>,
}

fn to_text(lines: &[Vec<Cell>]) -> String {
    BrailleFile::from_pages(&[lines.to_vec()]).to_text()
}

/// The desk with the exercise on it, and the slip.
#[component]
pub fn Writing(props: &WritingProps) -> Html {
    let set = &props.exercise;
    let progress = use_progress(set);
    let slate = set.task == Task::Slate;
    let name = use_name(|| name_of_set(slate, &set.prompt()));
    // What lies there as it was marked last is marked still.
    let first = use_memo((), |()| {
        let lines = work::load(&name);
        let last = progress.tries.last().filter(|last| last.work == to_text(&lines))?;
        (!last.work.is_empty()).then(|| Rc::new(mark_lines(set, &lines).0))
    });
    let mark_by = {
        let (set, progress) = (set.clone(), progress.clone());
        Callback::from(move |lines: Vec<Vec<Cell>>| -> Rc<Marked> {
            let marked = Rc::new(mark_lines(&set, &lines).0);
            let work = to_text(&lines);
            // The same work marked again is no other try.
            if progress.tries.last().is_none_or(|last| last.work != work) && !progress.used_up() {
                progress.hand_in(None, work, false, false);
            }
            marked
        })
    };
    let slip = (!progress.tries.is_empty()).then(|| Slip::of(set, &progress.tries, None));
    html! {
        <>
            <Desk set={AttrValue::from(set.prompt())} contracted={set.contracted} {slate} hide={set.hide_reading}
                first={(*first).clone()} {mark_by} read_only={progress.used_up()} />
            if progress.used_up() { <p class="note">{ "That was the last try that your teacher allows." }</p> }
            if let Some(slip) = slip.filter(|_| !progress.in_set()) { <HandIn {slip} name={progress.name().to_owned()} /> }
        </>
    }
}
