//! How the learner wants a session, and what there is to make its lines of.

use std::collections::HashSet;

use super::item::Item;
use super::place::Place;
use crate::practice::due::Memories;
use crate::practice::rules;
use crate::practice::supply::Supply;

/// How the learner wants it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wishes {
    /// How long it is to be, in minutes.
    pub minutes: u32,
    /// Whether signs are asked for the slate too: punched from the back, and read from the back of a sheet.
    pub slate: bool,
    /// The unit that the learner has chosen to begin at, from 0.
    pub start: Option<usize>,
    /// Whether rules can be asked, and how they are made.
    pub rules: Rules,
}

/// How words that turn on a rule are made: by the way from print to braille, which the first download of the page has not.
#[derive(Clone, Copy)]
pub struct Rules(pub(super) Option<MakeRules>);

/// A word for a rule that is due, how many rules were never asked, a clause by its section, and a word taken apart again.
#[derive(Clone, Copy)]
pub(super) struct MakeRules {
    pub next: fn(&mut Ground, &Supply) -> Option<Item>,
    pub new: fn(&Place, &Memories) -> usize,
    pub clause: fn(&str) -> Option<&'static str>,
    pub again: fn(&str) -> rules::Item,
}

impl Rules {
    /// No rules are asked.
    pub const NONE: Rules = Rules(None);
    /// Whether rules are asked.
    pub fn are_asked(self) -> bool {
        self.0.is_some()
    }
}

impl PartialEq for Rules {
    fn eq(&self, other: &Rules) -> bool {
        self.are_asked() == other.are_asked()
    }
}

impl Eq for Rules {}

impl std::fmt::Debug for Rules {
    fn fmt(&self, out: &mut std::fmt::Formatter) -> std::fmt::Result {
        out.write_str(if self.are_asked() { "rules" } else { "no rules" })
    }
}

/// What there is to make lines of.
pub(super) struct Ground<'a> {
    pub place: &'a Place,
    pub memories: &'a Memories,
    /// The signs that may stand in a line.
    pub met: &'a HashSet<&'static str>,
    /// The signs that a line should have: those that wait to be asked again, what is due, then the rest of this session.
    pub wanted: Vec<&'static str>,
    /// Milliseconds since 1970.
    pub now: u64,
    pub rules: Rules,
    /// The clause that was asked last in this session, by its section.
    pub last_clause: Option<&'static str>,
    /// The clause that the line found here turns on.
    pub clause: Option<&'static str>,
    pub chance: &'a mut fastrand::Rng,
}
