//! What a session will hold, told before it begins.

use super::apply::{self, Use};
use super::place::Place;
use super::wishes::Wishes;
use crate::practice::due::Memories;
use crate::practice::record::Record;
use crate::practice::units;

/// The lengths of a session to choose from, in minutes.
pub const LENGTHS: [u32; 3] = [5, 10, 20];

/// How many new signs a session of so many minutes is meant to hold.
pub fn new_signs(minutes: u32) -> usize {
    match minutes {
        0..=5 => 6,
        6..=10 => 12,
        _ => 20,
    }
}

/// What a session will hold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Plan {
    /// New signs.
    pub new: usize,
    /// Signs that are due.
    pub due: usize,
    /// Lines to read.
    pub read: usize,
    /// Lines to write.
    pub write: usize,
    /// About how long it will take, in minutes.
    pub minutes: u32,
    /// Whether the whole course is kept.
    pub whole: bool,
}

/// What a session of this learner would hold now, in milliseconds since 1970.
pub fn of(record: &Record, memories: &Memories, wishes: &Wishes, now: u64) -> Plan {
    let place = Place::of(memories, record, wishes.start);
    let uses = apply::uses(wishes, &place, memories, now);
    let write = uses.iter().filter(|one| matches!(one, Use::WriteLine)).count();
    let rules = uses.iter().filter(|one| matches!(one, Use::Rule)).count();
    let new = place.new_signs(memories).take(new_signs(wishes.minutes)).count();
    let due = memories.kept.due(now).len();
    // A new sign is shown, asked at once, and asked twice more among others.
    let time = 15_000 * new as u64 + 5_000 * due as u64 + uses.iter().map(Use::usual_time).sum::<u64>();
    // Where signs are new the next unit opens as soon as they are known, and fills the time that was chosen.
    let fills_its_time = new > 0 && place.open + 1 < units::units().len();
    Plan {
        new,
        due,
        read: uses.len() - write - rules,
        write,
        minutes: if fills_its_time {
            wishes.minutes
        } else {
            (time.div_ceil(60_000) as u32).clamp(1, wishes.minutes)
        },
        whole: place.whole,
    }
}

fn many(count: usize, one: &str, more: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {more}") }
}

impl Plan {
    /// "3 new signs, 12 due, 2 lines to read, 1 to write: about 10 minutes".
    pub fn words(&self) -> String {
        let mut parts = Vec::new();
        if self.new > 0 {
            parts.push(many(self.new, "new sign", "new signs"));
        }
        if self.due > 0 {
            parts.push(if self.new > 0 {
                format!("{} due", self.due)
            } else {
                many(self.due, "sign due", "signs due")
            });
        }
        if self.read > 0 {
            parts.push(format!("{} to read", many(self.read, "line", "lines")));
        }
        if self.write > 0 {
            parts.push(format!("{} to write", self.write));
        }
        format!("{}: about {}", parts.join(", "), many(self.minutes as usize, "minute", "minutes"))
    }
}
