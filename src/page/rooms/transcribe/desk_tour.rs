//! The tour of the learner's slips through the work on the desk.

use std::rc::Rc;

use yew::prelude::*;

use crate::manuscript::tour::{self, Habit, Stop};
use crate::manuscript::{Sheet, work};
use crate::page::browser::held::use_held;
use crate::page::learner::journal::LearnerHandle;
use crate::page::rooms::transcribe::own_slips;
use crate::page::surface::live::{Live, on_writing};

/// Where a tour stops, and for which habits.
pub type Stops = (Rc<Vec<Stop>>, Rc<Vec<Habit>>);

/// The tour, and the ways into it and out of it.
pub struct SlipTour {
    /// Its stops; none while there is no tour.
    pub stops: Option<Stops>,
    /// Begins it.
    pub begin: Callback<()>,
    /// Ends it.
    pub end: Callback<()>,
}

/// The tour through what is written.
#[hook]
pub fn use_tour(live: &Rc<Live>, print: &Rc<str>, sheet: Sheet, learner: &LearnerHandle) -> SlipTour {
    let touring = use_held(Option::<Stops>::default);
    let begin = {
        let (live, print, touring, learner) = (live.clone(), print.clone(), touring.clone(), learner.clone());
        Callback::from(move |()| {
            let habits = own_slips::habits(&learner);
            let pages = work::pages(&live.now().cells(), sheet);
            let stops = tour::stops_of_book(&print, &pages, sheet, &habits);
            touring.set(Some((Rc::new(stops), Rc::new(habits))));
        })
    };
    let end = {
        let touring = touring.clone();
        Callback::from(move |()| touring.set(None))
    };
    SlipTour { stops: (*touring).clone(), begin: on_writing(live, begin), end }
}
