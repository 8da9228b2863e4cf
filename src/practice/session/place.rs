//! Where in the course a learner is.

use std::collections::BTreeSet;

use crate::practice::due::Memories;
use crate::practice::kept::Kept;
use crate::practice::record::{Event, Record};
use crate::practice::units;

/// Where a learner is in the course, and what counts as met.
#[derive(Clone, Debug, Default)]
pub struct Place {
    /// The signs that are marked as learned elsewhere.
    marks: BTreeSet<String>,
    /// The unit that the learner began at, from 0; what lies before it counts as known.
    pub start: usize,
    /// The last unit that is open, from 0.
    pub open: usize,
    /// Whether every sign from the start on is kept.
    pub whole: bool,
}

/// The first unit, from 0, with a sign that was never asked before the learner's first session: so far the course went
/// when it moved on by signs asked. A record of that time keeps its place.
fn reached_before_sessions(record: &Record) -> usize {
    let events = record.in_time();
    let mut asked: BTreeSet<&str> = BTreeSet::new();
    let mut begun = false;
    for fields in record.past.of_kind("asked") {
        begun = fields.first() == Some(&"1");
        asked.extend(fields.iter().skip(1));
    }
    let first = events.iter().position(|(_, event)| begun || matches!(event, Event::Session { .. }));
    for (_, event) in &events[..first.unwrap_or(events.len())] {
        if let Event::Answer(answer) = event {
            asked.insert(&answer.sign);
        }
    }
    let all = units::units();
    let new = |unit: &units::Unit| unit.signs.iter().any(|key| !asked.contains(key));
    all.iter().position(new).unwrap_or(all.len().saturating_sub(1))
}

/// How many sessions were begun; those that are long past count as one.
pub fn sessions(record: &Record) -> usize {
    let past = record.past.of_kind("asked").any(|fields| fields.first() == Some(&"1"));
    let begun = |event: &&Event| matches!(event, Event::Session { .. });
    usize::from(past) + record.in_time().into_iter().map(|(_, event)| event).filter(begun).count()
}

impl Place {
    /// The place of a learner who has chosen to begin at `chosen`, a unit from 0, or has chosen nothing.
    pub fn of(memories: &Memories, record: &Record, chosen: Option<usize>) -> Place {
        let last = units::units().len().saturating_sub(1);
        let marks: BTreeSet<String> = record.marks().iter().cloned().collect();
        let start = chosen.unwrap_or(0).max(reached_before_sessions(record)).min(last);
        let mut place = Place { marks, start, open: start, whole: false };
        place.move_on(memories);
        place
    }

    /// Opens the units whose forerunners are kept; the last unit stays open.
    pub fn move_on(&mut self, memories: &Memories) {
        let all = units::units();
        while let Some(unit) = all.get(self.open) {
            if !unit.signs.iter().all(|key| self.opens(memories, key)) {
                return;
            }
            if self.open + 1 == all.len() {
                self.whole = true;
                return;
            }
            self.open += 1;
        }
    }

    fn opens(&self, memories: &Memories, key: &str) -> bool {
        self.marked(key) || memories.kept.sign(key).is_some_and(Kept::opens)
    }

    /// Whether a sign is marked as learned elsewhere.
    pub fn marked(&self, key: &str) -> bool {
        self.marks.contains(key)
    }

    /// Whether a sign may stand in a line: it was met, or lies before the learner's beginning.
    pub fn met(&self, memories: &Memories, key: &str) -> bool {
        self.marked(key)
            || memories.kept.sign(key).is_some()
            || units::unit_of(key).is_some_and(|unit| unit < self.start)
    }

    /// The signs of the open units that were never met, in the order of the course.
    pub fn new_signs<'a>(&'a self, memories: &'a Memories) -> impl Iterator<Item = &'static str> + 'a {
        let open = units::units().iter().take(self.open + 1).skip(self.start);
        open.flat_map(|unit| unit.signs.iter().copied()).filter(|key| !self.met(memories, key))
    }

    /// How many signs of a unit, by its place from 0, are kept or were marked.
    pub fn kept_of(&self, memories: &Memories, unit: usize) -> usize {
        let signs = units::units().get(unit).map(|unit| unit.signs.as_slice()).unwrap_or_default();
        let kept = |key: &&&str| self.marked(key) || memories.kept.sign(key).is_some_and(Kept::kept);
        signs.iter().filter(kept).count()
    }

    /// Whether the lines of the open unit are in contracted braille.
    pub fn contracted(&self) -> bool {
        self.open >= contracted_from()
    }
}

/// The unit, from 0, from which on there are contractions, and lines are contracted.
pub fn contracted_from() -> usize {
    units::units().iter().position(|unit| unit.id == "wordsigns-1").unwrap_or(0)
}
