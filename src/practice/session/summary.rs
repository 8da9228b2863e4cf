//! What came of a session, and what comes next.

use super::place::Place;
use crate::practice::due::{DAY, Memories};
use crate::practice::units;

/// What is counted while a session goes on.
#[derive(Clone, Debug, Default)]
pub(super) struct Score {
    pub unit_before: usize,
    pub met: Vec<&'static str>,
    pub kept: Vec<&'static str>,
    pub slipped: Vec<&'static str>,
    pub answers: u32,
    pub wrong: u32,
}

impl Score {
    pub fn count(&mut self, key: &'static str, right: bool) {
        self.line(right);
        if !right {
            self.slip(key);
        }
    }

    pub fn line(&mut self, right: bool) {
        self.answers += 1;
        self.wrong += u32::from(!right);
    }

    pub fn slip(&mut self, key: &'static str) {
        if !self.slipped.contains(&key) {
            self.slipped.push(key);
        }
    }

    pub fn kept(&mut self, key: &'static str, is: bool) {
        self.kept.retain(|one| *one != key);
        if is {
            self.kept.push(key);
        }
    }
}

/// What came of a session.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Summary {
    /// Signs that were shown for the first time, by key.
    pub met: Vec<&'static str>,
    /// Signs that became kept.
    pub kept: Vec<&'static str>,
    /// Signs that slipped at least once.
    pub slipped: Vec<&'static str>,
    /// Answers, and how many of them were right.
    pub answers: u32,
    /// How many of them were right.
    pub right: u32,
    /// Time practised, in milliseconds.
    pub practised: u64,
    /// The open unit, from 0, if it opened in this session.
    pub opened: Option<usize>,
    /// Signs still due.
    pub due: usize,
    /// When the next sign is due, in milliseconds since 1970.
    pub next_due: Option<u64>,
    /// Kept signs of the course in all.
    pub kept_in_all: usize,
    /// Whether the whole course is kept.
    pub whole: bool,
    /// New signs that are left in the open units.
    pub new_left: usize,
    /// When it ended.
    now: u64,
}

pub(super) fn of(score: &Score, place: &Place, memories: &Memories, practised: u64, now: u64) -> Summary {
    Summary {
        met: score.met.clone(),
        kept: score.kept.clone(),
        slipped: score.slipped.clone(),
        answers: score.answers,
        right: score.answers - score.wrong,
        practised,
        opened: (place.open > score.unit_before).then_some(place.open),
        due: memories.kept.due(now).len(),
        next_due: memories.kept.next_due(),
        kept_in_all: memories.kept.count(),
        whole: place.whole,
        new_left: place.new_signs(memories).count(),
        now,
    }
}

fn signs(count: usize) -> String {
    if count == 1 { "1 sign".to_owned() } else { format!("{count} signs") }
}

impl Summary {
    /// What comes next, in a sentence or two.
    pub fn next_step(&self) -> String {
        if self.answers == 0 {
            return "Nothing was asked yet. Begin again whenever you like.".to_owned();
        }
        if self.due > 0 {
            let are = if self.due == 1 { "is" } else { "are" };
            return format!("{} {are} still due: another five minutes will settle them.", signs(self.due));
        }
        if let Some(unit) = self.opened.and_then(|n| units::units().get(n)) {
            return format!("A new unit is open: {}. Its signs come next.", unit.title);
        }
        if self.new_left > 0 {
            return format!("Nothing is due now. {} of this unit still to meet.", signs(self.new_left));
        }
        let when = match self.next_due.map(|at| at.saturating_sub(self.now)) {
            Some(wait) if wait < DAY / 2 => "later today",
            Some(wait) if wait < DAY * 3 / 2 => "tomorrow",
            Some(_) => "in a few days",
            None => return "Nothing is due now.".to_owned(),
        };
        let whole = if self.whole { "You keep every sign of the course. " } else { "" };
        format!("{whole}Nothing is due now; the next sign is due {when}. Until then, read.")
    }
}
