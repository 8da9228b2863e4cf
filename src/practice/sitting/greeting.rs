//! What is told before a session begins: what it will hold, and what is special about today. Each has its next step.

use crate::practice::due::{DAY, Memories};
use crate::practice::record::Record;
use crate::practice::session::Wishes;
use crate::practice::session::place::{Place, sessions};
use crate::practice::session::plan::{self, Plan};
use crate::practice::units;

/// A clock that stands so far behind the last answer was set back, in milliseconds.
const SET_BACK: u64 = 5 * 60_000;

/// What is told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Greeting {
    /// Nothing was ever practised in a session here, and nothing is recorded.
    pub newcomer: bool,
    /// What the session will hold.
    pub plan: Plan,
    /// The open unit, from 0.
    pub unit: usize,
    /// What is special about today, a sentence or two each.
    pub says: Vec<String>,
}

/// What is told to this learner now, in milliseconds since 1970.
pub fn of(record: &Record, memories: &Memories, wishes: &Wishes, now: u64) -> Greeting {
    let place = Place::of(memories, record, wishes.start);
    let plan = plan::of(record, memories, wishes, now);
    let events = record.in_time();
    let sessions = sessions(record) > 0;
    let answered = !memories.is_empty();
    let mut says = Vec::new();
    if events.last().is_some_and(|(at, _)| at.saturating_sub(now) > SET_BACK) {
        says.push(
            "The clock of this computer stands before your last answers. Nothing is lost, and you can begin: time is \
             counted on from those answers."
                .to_owned(),
        );
    }
    if answered && !sessions {
        let title = units::units().get(place.open).map_or("", |unit| unit.title);
        says.push(format!(
            "Your record of before is here and goes on in unit {}: {title}. Begin, and what is not safe yet will be asked.",
            place.open + 1
        ));
    } else if place.whole {
        says.push(
            "You keep every sign of the course: sessions hold what is due, and lines to read.".to_owned(),
        );
    } else if sessions && plan.due == 0 && plan.new == 0 {
        says.push(nothing_due(memories, now));
    }
    Greeting { newcomer: !sessions && !answered, plan, unit: place.open, says }
}

fn nothing_due(memories: &Memories, now: u64) -> String {
    let when = match memories.kept.next_due().map(|at| at.saturating_sub(now)) {
        Some(wait) if wait < DAY / 2 => "later today",
        Some(wait) if wait < DAY * 3 / 2 => "tomorrow",
        _ => "in a few days",
    };
    format!(
        "Nothing is due now; the next sign is due {when}. Until then a session makes what you know quicker: words and lines to read."
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::record::{Answer, Direction, Event, Id};
    use crate::practice::session::Rules;

    const NOW: u64 = 1_790_000_000_000;
    const WISHES: Wishes = Wishes { minutes: 10, slate: false, start: None, rules: Rules::ASKED };

    fn record(events: Vec<(u64, Event)>) -> (Record, Memories) {
        let mut record = Record::default();
        for (n, (at, event)) in (0..).zip(events) {
            record.add(Id { tab: "t".to_owned(), n }, at, event);
        }
        let memories = Memories::of(&record);
        (record, memories)
    }

    fn answer(at: u64, sign: &str) -> (u64, Event) {
        let (sign, instead, cause) = (sign.to_owned(), String::new(), String::new());
        let direction = Direction::Read;
        (at, Event::Answer(Answer { at, sign, direction, right: true, ms: 900, clues: 0, instead, cause }))
    }

    #[test]
    fn each_day_has_its_sentence() {
        let (empty, memories) = record(Vec::new());
        let newcomer = of(&empty, &memories, &WISHES, NOW);
        assert!(newcomer.newcomer && newcomer.says.is_empty() && newcomer.plan.new > 0);
        // A record of before there were sessions.
        let (before, memories) = record(vec![answer(NOW - DAY, "letter a")]);
        let greeting = of(&before, &memories, &WISHES, NOW);
        assert!(!greeting.newcomer && greeting.says[0].contains("record of before"), "{greeting:?}");
        // The clock was set back.
        let session = (NOW - DAY, Event::Session { minutes: 5 });
        let (ahead, memories) = record(vec![session.clone(), answer(NOW + 3_600_000, "letter a")]);
        assert!(of(&ahead, &memories, &WISHES, NOW).says[0].contains("clock"));
        // The whole course is kept.
        let marks = units::units()
            .iter()
            .flat_map(|unit| &unit.signs)
            .map(|key| (NOW - DAY, Event::Mark { sign: (*key).to_owned(), on: true }));
        let (whole, memories) = record(std::iter::once(session.clone()).chain(marks).collect());
        assert!(of(&whole, &memories, &WISHES, NOW).says[0].contains("every sign"));
        // Nothing is due, and nothing new can be met before what was met is kept.
        let met = units::units()[0].signs.iter().map(|key| answer(NOW - 1_000, key));
        let (met, memories) = record(std::iter::once(session).chain(met).collect());
        let greeting = of(&met, &memories, &WISHES, NOW);
        assert!(greeting.plan.due > 0 || greeting.says[0].contains("Nothing is due"), "{greeting:?}");
    }
}
