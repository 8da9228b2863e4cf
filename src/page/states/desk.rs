//! The desk of the room Transcribe: the copy, the sheet, what is laid on it, and how marking came out.

use std::rc::Rc;

use serde::{Deserialize, Serialize};

use crate::cell::Cell;
use crate::exercise::trial::Attempt;
use crate::exercise::{Exercise, counted};
use crate::manuscript::Sheet;
use crate::manuscript::work::{self, MarkedWork};
use crate::marking::Marked;
use crate::marking::cause::Booked;
use crate::writing::Place;

/// The notice that lies on the desk at first; written for this project.
pub const NOTICE: &str = "# The winter timetable\n\nFrom Monday the boats of the Skerry Line keep these hours. Be on the quay ten minutes before.\n\n- 7:15 Hallam Quay to Orrin\n- 10:30 Hallam Quay to Little Fenn\n- 16:45 Orrin to Hallam Quay\n\nThe galley is open on every crossing.\n";

/// What is kept between visits beside the braille itself: the print, the sheet, the bell, the time taken.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
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
#[derive(Clone, Debug, PartialEq)]
pub struct MarkedLines {
    /// The findings on the surface's lines.
    pub marked: Rc<Marked>,
    /// Those lines.
    pub lines: Rc<Vec<Vec<Cell>>>,
    /// The print they were held against.
    pub print: Rc<str>,
    /// When the mistakes were recorded, in milliseconds since 1970.
    pub at: u64,
}

/// Written lines held against the print, and what is shown of it.
pub fn held_against(
    print: &str,
    cells: &[Vec<Cell>],
    sheet: Sheet,
    set: Option<&Exercise>,
    at: u64,
) -> (MarkedWork, MarkedLines) {
    let mut work = work::mark_book(print, &work::pages(cells, sheet), sheet);
    if let Some(set) = set {
        work.marked = counted(set, work.marked, &work.expected);
    }
    let shown = MarkedLines {
        marked: Rc::new(work.on_lines(sheet)),
        lines: Rc::new(cells.to_vec()),
        print: work.expected.print.iter().collect::<String>().into(),
        at,
    };
    (work, shown)
}

/// Lines that are laid on the desk; a new version replaces what is written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Laid {
    /// Changes when the text is to be replaced.
    pub version: u32,
    /// The lines.
    pub lines: Rc<Vec<Vec<Cell>>>,
    /// They take the place of what was written, which can be brought back.
    pub over: bool,
}

/// A place that the caret is sent to, each time with a new version.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Goal {
    /// Changes when the caret is to go.
    pub version: u32,
    /// Where to.
    pub place: Place,
    /// Whether the focus goes there as well.
    pub focus: bool,
}

/// The desk.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Desk {
    /// The print on the copyholder.
    pub print: Rc<str>,
    /// The copy that this one was put in the place of just now.
    pub print_before: Option<Rc<str>>,
    /// The lines by which the copy was turned by hand.
    pub turned: isize,
    /// Cells in a line and lines on a page.
    pub size: (usize, usize),
    /// The same of the sheet that the work was written for.
    pub written_for: (usize, usize),
    /// The same of what was set aside, the last on top.
    sizes_aside: Vec<(usize, usize)>,
    /// The braille that was laid on the desk last.
    pub laid: Laid,
    /// Nothing is written.
    pub empty: bool,
    /// Where the caret is sent to.
    pub goal: Goal,
    /// How marking came out.
    pub marked: Option<MarkedLines>,
    /// Something was written since.
    pub stale: bool,
    /// The finding that is open.
    pub open: Option<usize>,
    /// Why a file was refused.
    pub refused: Option<String>,
    /// The bell rings before the margin.
    pub bell: bool,
    /// The work is a whole volume.
    pub volume: bool,
    /// The learner has said that the print copy of the title page lies in front.
    pub print_copy: bool,
    /// What the work reads as is shown.
    pub reading: bool,
    /// The answer to the line is shown.
    pub answer: bool,
    /// Help was used.
    pub helped: bool,
}

/// What happens at the desk.
#[derive(Clone, Debug)]
pub enum Action {
    /// The text was changed; whether nothing is written now.
    Wrote {
        /// Nothing is written now.
        empty: bool,
    },
    /// The caret came to another line.
    NewRow,
    /// The copy is turned by so many lines.
    Turn(isize),
    /// The print is changed as it is typed.
    TypePrint(Rc<str>),
    /// Another copy is put in the place of this one.
    LayPrint(Rc<str>),
    /// The copy before is put back.
    BringPrintBack,
    /// Other braille is laid on the desk.
    Lay(Vec<Vec<Cell>>),
    /// What was set aside has come back.
    BroughtBack,
    /// The exercise is begun anew.
    Anew,
    /// The work was marked.
    Marked(MarkedLines),
    /// A mistake is booked to eye, hand or rule.
    Book(Booked),
    /// A finding is opened, or closed.
    Open(Option<usize>),
    /// The caret is sent to a place.
    Go(Place, bool),
    /// A file is refused.
    Refuse(String),
    /// Another sheet: cells in a line and lines on a page.
    Size((usize, usize)),
    /// The bell is to ring, or not.
    Bell(bool),
    /// The work is a whole volume, or not.
    Volume(bool),
    /// The print copy lies in front, or not.
    PrintCopy(bool),
    /// What the work reads as is to be shown, or not.
    Reading(bool),
    /// The answer to the line is shown, or hidden again.
    Answer,
}

impl Desk {
    /// The desk as it was left, with the braille that was on it. `marked`: an exercise that was handed in before is marked
    /// as it was then.
    pub fn of(kept: &Kept, lines: Vec<Vec<Cell>>, marked: Option<MarkedLines>) -> Desk {
        let size = (kept.cells, kept.rows);
        Desk {
            print: kept.print.as_str().into(),
            size,
            written_for: kept.written_for.unwrap_or(size),
            laid: Laid { lines: Rc::new(lines), ..Laid::default() },
            empty: true,
            marked,
            bell: kept.bell,
            volume: kept.volume,
            helped: kept.helped,
            ..Desk::default()
        }
    }

    /// What is kept of it.
    pub fn kept(&self) -> Kept {
        Kept {
            print: self.print.to_string(),
            cells: self.size.0,
            rows: self.size.1,
            written_for: Some(self.written_for).filter(|size| *size != self.size),
            bell: self.bell,
            seconds: 0,
            volume: self.volume,
            helped: self.helped,
            tries: Vec::new(),
        }
    }

    /// The desk after something has happened.
    #[must_use]
    pub fn after(mut self, action: Action) -> Desk {
        match action {
            Action::Wrote { empty } => {
                // The copy before can be brought back until something is changed.
                self.print_before = None;
                (self.stale, self.empty) = (true, empty);
            }
            Action::NewRow => self.turned = 0,
            Action::Turn(by) => self.turned += by,
            Action::TypePrint(print) => self.replace_print(print, None),
            Action::LayPrint(print) => {
                let before = self.print.clone();
                self.replace_print(print, Some(before));
            }
            Action::BringPrintBack => {
                if let Some(print) = self.print_before.take() {
                    self.replace_print(print, None);
                }
            }
            Action::Lay(lines) => self.lay(lines),
            Action::BroughtBack => {
                if let Some(size) = self.sizes_aside.pop() {
                    self.written_for = size;
                }
            }
            Action::Anew => {
                self.lay(Vec::new());
                self.helped = false;
            }
            Action::Marked(marked) => {
                self.marked = Some(marked);
                (self.open, self.stale) = (None, false);
            }
            Action::Book(booked) => {
                if let Some(lines) = &mut self.marked {
                    Rc::make_mut(&mut lines.marked).summary.book(booked);
                }
            }
            Action::Open(at) => self.open_finding(at),
            Action::Go(place, focus) => self.send(place, focus),
            Action::Refuse(why) => self.refused = Some(why),
            Action::Size(size) => {
                self.size = size;
                if self.empty {
                    self.written_for = size;
                }
            }
            Action::Bell(on) => self.bell = on,
            Action::Volume(on) => self.volume = on,
            Action::PrintCopy(on) => self.print_copy = on,
            Action::Reading(on) => (self.reading, self.helped) = (on, true),
            Action::Answer => (self.answer, self.helped) = (!self.answer, true),
        }
        self
    }

    fn replace_print(&mut self, print: Rc<str>, before: Option<Rc<str>>) {
        self.marked = None;
        self.print = print;
        self.print_before = before;
    }

    fn lay(&mut self, lines: Vec<Vec<Cell>>) {
        // An empty sheet is not set aside.
        if !self.empty {
            self.sizes_aside.push(self.written_for);
        }
        self.written_for = self.size;
        (self.marked, self.refused) = (None, None);
        self.laid = Laid { version: self.laid.version + 1, lines: Rc::new(lines), over: true };
    }

    /// An opened finding sends the caret to its place.
    fn open_finding(&mut self, at: Option<usize>) {
        self.open = at;
        let findings = self.marked.as_ref().map(|lines| &lines.marked.findings);
        if let Some(finding) = at.and_then(|at| findings?.get(at)) {
            let place = Place { line: finding.written.line, cell: finding.written.from };
            self.send(place, false);
        }
    }

    fn send(&mut self, place: Place, focus: bool) {
        self.goal = Goal { version: self.goal.version + 1, place, focus };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    fn lines(text: &str) -> Vec<Vec<Cell>> {
        text.lines().map(|line| cell::from_ascii(line).expect("braille ASCII")).collect()
    }

    /// A desk with a notice of one word, and something written on it.
    fn written() -> Desk {
        let kept = Kept { print: "boat".to_owned(), ..Kept::default() };
        Desk::of(&kept, Vec::new(), None).after(Action::Wrote { empty: false })
    }

    fn marked(desk: &Desk, text: &str) -> MarkedLines {
        held_against(&desk.print, &lines(text), Sheet::default(), None, 7).1
    }

    #[test]
    fn what_is_kept_comes_back() {
        let kept = Kept { written_for: Some((30, 20)), bell: true, volume: true, ..Kept::default() };
        let desk = Desk::of(&kept, lines("A"), None);
        assert_eq!(desk.kept(), kept);
        assert_eq!(*desk.laid.lines, lines("A"));
        // The sheet that it was written for is named only where it is another.
        assert_eq!(desk.after(Action::Size((30, 20))).kept().written_for, None);
    }

    #[test]
    fn another_copy_can_be_taken_back_until_something_is_changed() {
        let laid = written().after(Action::LayPrint("quay".into()));
        assert_eq!(&*laid.print, "quay");
        let back = laid.clone().after(Action::BringPrintBack);
        assert_eq!((&*back.print, &back.print_before), ("boat", &None));
        for change in [Action::Wrote { empty: false }, Action::TypePrint("quays".into())] {
            let changed = laid.clone().after(change);
            assert_eq!(changed.print_before, None);
            assert_eq!(changed.clone().after(Action::BringPrintBack), changed);
        }
    }

    #[test]
    fn other_print_and_other_braille_take_the_marks_away() {
        let desk = written();
        let came = marked(&desk, ",BOAT");
        let desk = desk.after(Action::Marked(came));
        assert!(desk.marked.is_some());
        assert_eq!(desk.clone().after(Action::TypePrint("a".into())).marked, None);
        assert_eq!(desk.clone().after(Action::LayPrint("a".into())).marked, None);
        let laid = desk.after(Action::Refuse("no".to_owned())).after(Action::Lay(lines("A")));
        assert_eq!((laid.marked, laid.refused), (None, None));
        assert_eq!((laid.laid.version, laid.laid.over), (1, true));
    }

    #[test]
    fn marks_are_stale_once_something_is_written_on() {
        let desk = written();
        let came = marked(&desk, "BOAT");
        let desk = desk.after(Action::Open(Some(0))).after(Action::Marked(came));
        assert_eq!((desk.stale, desk.open), (false, None));
        assert!(desk.after(Action::Wrote { empty: false }).stale);
    }

    #[test]
    fn an_opened_finding_sends_the_caret_to_its_place() {
        let desk = written();
        let came = marked(&desk, "  BOOT");
        let place = came.marked.findings.first().expect("a mistake").written;
        let desk = desk.after(Action::Marked(came)).after(Action::Open(Some(0)));
        assert_eq!(desk.goal.place, Place { line: place.line, cell: place.from });
        assert_eq!((desk.goal.version, desk.goal.focus), (1, false));
        // Closing it, or one that is not there, sends it nowhere.
        assert_eq!(desk.clone().after(Action::Open(None)).goal, desk.goal);
        assert_eq!(desk.clone().after(Action::Open(Some(99))).goal, desk.goal);
        // The same place once more is another errand.
        let again = desk.after(Action::Go(Place::default(), true)).after(Action::Go(Place::default(), true));
        assert_eq!((again.goal.version, again.goal.focus), (3, true));
    }

    #[test]
    fn what_is_set_aside_keeps_the_sheet_that_it_was_written_for() {
        let desk = written().after(Action::Size((30, 20)));
        assert_eq!(desk.written_for, (40, 25));
        let other = desk.after(Action::Lay(lines("A")));
        assert_eq!(other.written_for, (30, 20));
        let back = other.after(Action::BroughtBack);
        assert_eq!(back.written_for, (40, 25));
        // There is nothing more to bring back.
        assert_eq!(back.after(Action::BroughtBack).written_for, (40, 25));
        // An empty sheet is not set aside, and is written for the size it has now.
        let empty = Desk::of(&Kept::default(), Vec::new(), None).after(Action::Size((20, 10)));
        assert_eq!(empty.written_for, (20, 10));
        let filled = empty.after(Action::Lay(lines("A"))).after(Action::BroughtBack);
        assert_eq!(filled.written_for, (20, 10));
    }

    #[test]
    fn help_is_remembered_until_the_work_is_begun_anew() {
        let read = written().after(Action::Reading(true)).after(Action::Reading(false));
        assert!(read.helped && !read.reading);
        let answered = written().after(Action::Answer);
        assert!(answered.helped && answered.answer);
        let anew = answered.after(Action::Anew);
        assert!(!anew.helped && anew.answer);
        assert_eq!((anew.laid.version, anew.laid.lines.len()), (1, 0));
    }

    #[test]
    fn a_turned_copy_turns_back_at_the_next_row() {
        let desk = written().after(Action::Turn(1)).after(Action::Turn(1));
        assert_eq!(desk.turned, 2);
        assert_eq!(desk.after(Action::NewRow).turned, 0);
    }
}
