//! Where in the course the learner has chosen to begin, and how they want their sessions, as this browser keeps it.

use crate::page::browser::store;
use crate::page::learner::journal::Learner;
use crate::page::learner::settings::Settings;
use crate::practice::session::place::Place;
use crate::practice::session::{Rules, Wishes};
use crate::practice::units;

/// Under which name the chosen unit is kept; older versions of the page have kept it so too.
const CHOSEN: &str = "unit";

/// The unit that the learner has chosen to begin at, from 0.
pub fn chosen_unit() -> Option<usize> {
    store::load::<usize>(CHOSEN, 1).map(|unit| unit.min(units::units().len().saturating_sub(1)))
}

/// Keeps that the learner begins at this unit, from 0, from now on; it holds for this visit in any case.
pub fn choose_unit(unit: usize) {
    let _ = store::save(CHOSEN, 1, &unit);
}

/// How the learner wants a session; whether rules can be asked is the page’s own.
pub fn wishes(settings: &Settings, rules: Rules) -> Wishes {
    Wishes { minutes: settings.minutes, slate: settings.slate, start: chosen_unit(), rules }
}

/// Where in the course the learner is.
pub fn place_of(learner: &Learner) -> Place {
    Place::of(&learner.memories, &learner.record, chosen_unit())
}
