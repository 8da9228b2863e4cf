//! The desk of Transcribe in the browser: where it is kept, and what the course learns from marked work.

use std::rc::Rc;

use yew::prelude::*;

use crate::exercise::Exercise;
use crate::manuscript::Sheet;
use crate::manuscript::work::MarkedWork;
use crate::marking::Kind;
use crate::page::browser::clock::now;
use crate::page::browser::store;
use crate::page::learner::journal::LearnerHandle;
use crate::page::rooms::transcribe::own_slips::{self, UNTIMED};
use crate::page::states::desk::{Action, Desk, Kept, NOTICE, held_against};
use crate::page::surface::live::{Live, use_row};
use crate::page::surface::work;
use crate::practice::clauses;
use crate::practice::record::{Answer, Direction, Event as Happened};
use crate::ueb::register;

const VERSION: u32 = 1;

impl Reducible for Desk {
    type Action = Action;

    fn reduce(self: Rc<Self>, action: Action) -> Rc<Self> {
        Rc::new((*self).clone().after(action))
    }
}

/// The name under which the work is kept: the learner's own desk and each exercise keep theirs apart.
pub fn name_of(set: Option<&Exercise>) -> String {
    set.map_or_else(|| "work.transcribe.own".to_owned(), |set| work::name_of("transcribe", &set.identity()))
}

/// What was kept under a name when the desk was opened.
#[hook]
pub fn use_kept_desk(name: &str, set: &Option<Rc<Exercise>>) -> Rc<Kept> {
    use_memo((), |()| {
        let kept = if name.is_empty() { None } else { store::load_any(&format!("{name}.desk"), VERSION) };
        kept.unwrap_or_else(|| Kept {
            print: set.as_ref().map_or_else(|| NOTICE.to_owned(), |set| set.text.clone()),
            ..Kept::default()
        })
    })
}

/// The desk as it was left, and the way to what comes after. `handed_in`: an exercise that was handed in before the page
/// was left is marked as it was then, on the sheet that `sheet_of` gives for a size.
#[hook]
pub fn use_desk(
    name: &str,
    kept: &Kept,
    set: &Option<Rc<Exercise>>,
    handed_in: bool,
    sheet_of: impl FnOnce((usize, usize)) -> Sheet,
) -> (UseReducerHandle<Desk>, Callback<Action>) {
    let desk = use_reducer_eq(|| {
        let lines = work::load(name);
        let sheet = sheet_of((kept.cells, kept.rows));
        let marked = handed_in.then(|| held_against(&kept.print, &lines, sheet, set.as_deref(), now()).1);
        Desk::of(kept, lines, marked)
    });
    let dispatcher = desk.dispatcher();
    let act = use_callback((), move |action: Action, ()| dispatcher.dispatch(action));
    (desk, act)
}

/// Keeps the desk under its name whenever something of it has changed, and whenever the caret comes to another line; the
/// copy that was turned by hand turns back there.
#[hook]
pub fn use_keeping(name: &str, desk: &Desk, live: &Rc<Live>, act: &Callback<Action>) {
    let row = use_row(live);
    let name = name.to_owned();
    use_effect_with((desk.kept(), row), move |(kept, _)| {
        if !name.is_empty() {
            // What the browser does not take is held, and the page says so.
            let _ = store::save_any(&format!("{name}.desk"), VERSION, kept);
        }
    });
    let act = act.clone();
    use_effect_with(row, move |_| act.emit(Action::NewRow));
}

/// The sign memories of the course learn from marked work: every sign that went wrong, and at the first marking every
/// sign that came out right wherever it was asked for.
pub fn remember(learner: &LearnerHandle, work: &MarkedWork, first: bool, at: u64) {
    let mut events = Vec::new();
    let mut answer = |sign: &str, right: bool, instead: &str, cause: &str| {
        events.push(Happened::Answer(Answer {
            at,
            sign: sign.to_owned(),
            direction: Direction::Write,
            right,
            ms: UNTIMED,
            clues: 0,
            instead: instead.to_owned(),
            cause: cause.to_owned(),
        }));
    };
    let mut wrong = std::collections::HashSet::new();
    for finding in &work.marked.findings {
        let Some(sign) = finding.sign.filter(|_| finding.kind != Kind::YourCall) else {
            continue;
        };
        let key = register::get(sign).key;
        wrong.insert(key);
        let instead = register::by_cells(&finding.cells).next().map_or("", |sign| sign.key);
        answer(key, false, instead, &clauses::cause(own_slips::cause(finding.kind), finding.section));
    }
    if first {
        // What was left out, however much, was not written right.
        let mut off = vec![false; work.expected.cells.len()];
        for at in work.marked.findings.iter().flat_map(|finding| finding.asked.clone()) {
            if let Some(off) = off.get_mut(at) {
                *off = true;
            }
        }
        let mut right = std::collections::BTreeSet::new();
        for unit in &work.expected.units {
            let Some(sign) = unit.sign.map(register::get) else { continue };
            let whole = off.get(unit.cells.clone()).is_some_and(|off| !off.contains(&true));
            if whole && sign.class != register::Class::Space && !wrong.contains(sign.key) {
                right.insert(sign.key);
            }
        }
        for key in right {
            answer(key, true, "", "");
        }
    }
    learner.add_all(&events);
}
