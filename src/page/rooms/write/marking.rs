//! How the writing on the desk is marked, and how long the marks stand there.

use std::cell::RefCell;
use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::marking::Marked;
use crate::marking::cause::Booked;
use crate::page::browser::halves::take_piece;
use crate::page::browser::held::{Held, use_held};
use crate::page::marked::findings::on_surface;
use crate::page::states::hand_over::Piece;
use crate::page::surface::live::Live;
use crate::page::surface::written::Written;
use crate::page::widgets::cells_line::LineMark;
use crate::page::widgets::later::Later;
use crate::ueb::Options;

/// How set work is marked.
pub type MarkBy = Callback<Vec<Vec<Cell>>, Rc<Marked>>;

/// The marks.
pub struct Marking {
    /// What marking found.
    pub marks: Held<Option<Rc<Marked>>>,
    /// The finding that is open.
    pub open: Held<Option<usize>>,
    /// The marking is asked for, and comes with the whole page.
    pub awaited: Held<bool>,
    /// Nothing is written.
    pub empty: Held<bool>,
    /// The work that the marks are of.
    marks_of: Rc<RefCell<Option<Vec<Vec<Cell>>>>>,
}

/// The marks of a desk that opens with these lines.
#[hook]
pub fn use_marking(first: &Option<Rc<Marked>>, lines: &[Vec<Cell>]) -> Marking {
    Marking {
        empty: use_held(|| true),
        marks: use_held(|| first.clone()),
        marks_of: use_mut_ref(|| first.is_some().then(|| lines.to_vec())),
        open: use_held(Option::<usize>::default),
        awaited: use_held(bool::default),
    }
}

impl Marking {
    /// Takes the marks away: other work lies there.
    pub fn clear(&self) -> Callback<()> {
        let (marks, open) = (self.marks.clone(), self.open.clone());
        Callback::from(move |()| {
            marks.set(None);
            open.set(None);
        })
    }

    /// Opens a finding, or closes it.
    pub fn on_open(&self) -> Callback<Option<usize>> {
        let open = self.open.clone();
        Callback::from(move |at: Option<usize>| open.set(at))
    }

    /// Books a mistake to eye, hand or rule.
    pub fn on_book(&self) -> Callback<Booked> {
        let marks = self.marks.clone();
        Callback::from(move |booked: Booked| {
            let Some(now) = marks.as_ref() else { return };
            let mut marked = (**now).clone();
            marked.summary.book(booked);
            marks.set(Some(Rc::new(marked)));
        })
    }

    /// Marks what is written, where this page can; otherwise that is awaited.
    fn mark(
        &self,
        later: Later,
        mark_by: &Option<MarkBy>,
        live: &Rc<Live>,
        asked: (String, Options),
    ) -> Callback<()> {
        let (live, marks, open, (prompt, options)) =
            (live.clone(), self.marks.clone(), self.open.clone(), asked);
        let (awaited, marks_of, mark_by) = (self.awaited.clone(), self.marks_of.clone(), mark_by.clone());
        Callback::from(move |()| {
            let Some(mark) = later.mark else {
                awaited.set(true);
                return;
            };
            open.set(None);
            let lines = live.now().cells();
            *marks_of.borrow_mut() = Some(lines.clone());
            marks.set(Some(match &mark_by {
                Some(mark_by) => mark_by.emit(lines),
                None => Rc::new(mark(&prompt, &lines, &options)),
            }));
        })
    }
}

/// Follows what is written: tells `live` of it. Findings stay while the caret moves among them; a change of the text takes
/// them away.
#[hook]
pub fn use_on_change(marking: &Marking, live: &Rc<Live>) -> Callback<Written> {
    let (live, marks, empty, marks_of) =
        (live.clone(), marking.marks.clone(), marking.empty.clone(), marking.marks_of.clone());
    use_callback((), move |new: Written, ()| {
        if live.tell(&new) {
            if marks_of.borrow().as_ref().is_none_or(|lines| *lines != new.cells()) {
                marks_of.take();
                marks.set(None);
            }
            empty.set(new.is_empty());
        }
    })
}

/// The way to have the work marked against print. Where the first download has left the marking to the whole page, that
/// marks it as soon as it is there.
#[hook]
pub fn use_mark(
    marking: &Marking,
    later: Later,
    mark_by: &Option<MarkBy>,
    live: &Rc<Live>,
    asked: (String, Options),
) -> Callback<()> {
    let mark = marking.mark(later, mark_by, live, asked);
    let (now, due) = (mark.clone(), use_mut_ref(|| take_piece(Piece::Marks)));
    use_effect_with(*marking.empty, move |nothing| {
        if !nothing && due.replace(false) {
            now.emit(());
        }
    });
    mark
}

/// The marks as they stand on the surface.
#[hook]
pub fn use_line_marks(marking: &Marking, live: &Rc<Live>) -> Rc<Vec<LineMark>> {
    let live = live.clone();
    use_memo((*marking.marks).clone(), move |marks| {
        marks.as_ref().map(|marks| on_surface(&live.now(), marks)).unwrap_or_default()
    })
}
