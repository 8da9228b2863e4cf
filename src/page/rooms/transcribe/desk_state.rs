//! What the desk keeps, how its work is held against the print, and what the course learns from that.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::exercise::trial::Attempt;
use crate::exercise::{Exercise, counted};
use crate::manuscript::Sheet;
use crate::manuscript::work::{self, MarkedWork};
use crate::marking::{Kind, Marked};
use crate::page::browser::clock::now;
use crate::page::learner::journal::LearnerHandle;
use crate::page::rooms::transcribe::own_slips::{self, UNTIMED};
use crate::practice::clauses;
use crate::practice::record::{Answer, Direction, Event as Happened};
use crate::ueb::register;

/// The notice that lies on the desk at first; written for this project.
pub const NOTICE: &str = "# The winter timetable\n\nFrom Monday the boats of the Skerry Line keep these hours. Be on the quay ten minutes before.\n\n- 7:15 Hallam Quay to Orrin\n- 10:30 Hallam Quay to Little Fenn\n- 16:45 Orrin to Hallam Quay\n\nThe galley is open on every crossing.\n";

/// Written lines held against the print, and what is shown of it.
pub fn held_against(
    print: &str,
    cells: &[Vec<Cell>],
    sheet: Sheet,
    set: Option<&Rc<Exercise>>,
) -> (MarkedWork, Came) {
    let mut work = work::mark_book(print, &work::pages(cells, sheet), sheet);
    if let Some(set) = set {
        work.marked = counted(set, work.marked, &work.expected);
    }
    let came = Came {
        marked: Rc::new(work.on_lines(sheet)),
        lines: Rc::new(cells.to_vec()),
        print: work.expected.print.iter().collect::<String>().into(),
        at: now(),
    };
    (work, came)
}

/// What is kept between visits beside the braille itself: the print, the sheet, the bell, the time taken.
#[derive(Clone, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(default)]
pub struct Kept {
    /// The print.
    pub print: String,
    /// Cells in a line and lines on a page.
    pub cells: usize,
    /// Lines on a page.
    pub rows: usize,
    /// The same of the sheet that the work was written for, where it is another.
    pub written_for: Option<(usize, usize)>,
    /// The bell rings before the margin.
    pub bell: bool,
    /// The time taken.
    pub seconds: u32,
    /// The work is a whole volume.
    pub volume: bool,
    /// Of an exercise: whether help was used; how often it was handed in before tries were kept with their work.
    pub helped: bool,
    /// Tries of an exercise, kept without their work.
    pub tries: Vec<Attempt>,
}

impl Default for Kept {
    fn default() -> Self {
        let sheet = Sheet::default();
        Kept {
            print: NOTICE.to_owned(),
            cells: sheet.cells,
            rows: sheet.lines,
            written_for: None,
            bell: false,
            seconds: 0,
            volume: false,
            helped: false,
            tries: Vec::new(),
        }
    }
}

/// Marked work: the findings on the surface's lines, those lines, and the print they were held against.
#[derive(Clone, PartialEq)]
pub struct Came {
    /// The findings on the surface's lines.
    pub marked: Rc<Marked>,
    /// Those lines.
    pub lines: Rc<Vec<Vec<Cell>>>,
    /// The print they were held against.
    pub print: AttrValue,
    /// When the mistakes were recorded.
    pub at: u64,
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
