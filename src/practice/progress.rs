//! How far a learner is towards a goal of their own, and when it will be reached at this pace.

use std::collections::BTreeMap;

use super::due::{Memories, PAUSE};
use super::record::{Event, Record};
use super::session::place::Place;
use super::units;

/// What a learner wants to reach.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Goal {
    /// Every sign up to this unit, by its place from 0, is kept.
    Unit(usize),
    /// Every sign of a book of the shelf, by its title, is kept.
    Book(String),
    /// So many words a minute are read.
    Speed(u32),
}

impl Goal {
    /// As a browser keeps it: "unit strong-h", "book The red boat", "speed 40".
    pub fn to_text(&self) -> String {
        match self {
            Goal::Unit(unit) => format!("unit {}", units::units().get(*unit).map_or("", |unit| unit.id)),
            Goal::Book(title) => format!("book {title}"),
            Goal::Speed(words) => format!("speed {words}"),
        }
    }

    /// What was kept; `None` where it is no goal.
    pub fn from_text(text: &str) -> Option<Goal> {
        let (kind, what) = text.split_once(' ')?;
        match kind {
            "unit" => units::units().iter().position(|unit| unit.id == what).map(Goal::Unit),
            "book" if !what.is_empty() => Some(Goal::Book(what.to_owned())),
            "speed" => what.parse().ok().filter(|words| (1..=400).contains(words)).map(Goal::Speed),
            _ => None,
        }
    }
}

/// One day of practice.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Day {
    /// The day, in days since 1970.
    pub day: u64,
    /// Cells a minute that were read; `None` when nothing was read against the clock.
    pub cells: Option<u32>,
    /// Words a minute that were read.
    pub words: Option<u32>,
    /// Signs of the course that were kept at its end.
    pub kept: usize,
}

/// What the record says of the way so far.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// The days on which something was practised, in order.
    pub days: Vec<Day>,
    /// Minutes of practice a week, in order: the first day of each of the last weeks, and the minutes.
    pub weeks: Vec<(u64, u32)>,
    /// Signs that are kept, and signs that the course teaches.
    pub kept: (usize, usize),
}

/// So many weeks are told.
const WEEKS: u64 = 8;

/// What was read in less than this says nothing about speed, in milliseconds.
const LEAST: u64 = 2_000;

fn a_minute(count: u64, ms: u64) -> Option<u32> {
    (ms >= LEAST && count > 0).then(|| u32::try_from(count * 60_000 / ms).unwrap_or(u32::MAX))
}

/// Works out the way so far; `day_of` gives the day of the learner's own calendar on which a moment falls, in days since 1970,
/// and `today` is the present one.
pub fn of(record: &Record, today: u64, mut day_of: impl FnMut(u64) -> u64) -> Progress {
    // Words, cells and milliseconds read, and milliseconds practised.
    let mut by_day: BTreeMap<u64, [u64; 4]> = BTreeMap::new();
    let mut kept_on: BTreeMap<u64, usize> = BTreeMap::new();
    let mut memories = Memories::of_past(record);
    let mut last = None;
    for answer in record.answers() {
        let day = day_of(answer.at);
        if last.is_some_and(|last| last != day) {
            kept_on.insert(last.unwrap_or_default(), memories.kept.count());
        }
        last = Some(day);
        memories.take(&answer);
        by_day.entry(day).or_default()[3] += if answer.ms <= PAUSE { answer.ms } else { 0 };
    }
    if let Some(last) = last {
        kept_on.insert(last, memories.kept.count());
    }
    for (at, event) in record.in_time() {
        let Event::Text { words, cells, ms, .. } = event else { continue };
        let read = by_day.entry(day_of(at)).or_default();
        // Longer than half a minute a cell is no reading.
        if *ms > 0 && *ms < PAUSE.saturating_mul(u64::from(*cells).max(1)) {
            read[0] += u64::from(*words);
            read[1] += u64::from(*cells);
            read[2] += *ms;
            // One line was read sign by sign; its time is in the answers already.
            read[3] += if *words > 12 { *ms } else { 0 };
        }
    }
    let mut kept = 0;
    let mut days = Vec::with_capacity(by_day.len());
    let mut weeks: BTreeMap<u64, u64> = BTreeMap::new();
    for (day, [words, cells, ms, practised]) in by_day {
        kept = kept_on.get(&day).copied().unwrap_or(kept);
        days.push(Day { day, cells: a_minute(cells, ms), words: a_minute(words, ms), kept });
        let back = today.saturating_sub(day) / 7;
        if back < WEEKS {
            *weeks.entry(today.saturating_sub(back * 7 + 6)).or_default() += practised;
        }
    }
    let all = units::units().iter().map(|unit| unit.signs.len()).sum();
    Progress {
        days,
        weeks: weeks
            .into_iter()
            .map(|(day, ms)| (day, u32::try_from(ms / 60_000).unwrap_or(u32::MAX)))
            .collect(),
        kept: (memories.kept.count(), all),
    }
}

/// When a goal is reached at this pace.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Forecast {
    /// It is reached.
    Reached,
    /// On this day, in days since 1970.
    On(u64),
    /// The last weeks brought nothing towards it, or too little is recorded to tell.
    Open,
}

/// How far a goal is reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Towards {
    /// Signs kept, or words a minute.
    pub done: usize,
    /// Of so many.
    pub of: usize,
    /// When it is reached.
    pub when: Forecast,
}

/// The pace is taken from so many days before today.
const PACE: u64 = 28;

/// How far a goal is reached. `book` gives the keys of the signs of a book, by its title; `place` says which signs count as kept.
pub fn towards(
    goal: &Goal,
    progress: &Progress,
    place: &Place,
    memories: &Memories,
    book: impl Fn(&str) -> Vec<&'static str>,
    today: u64,
) -> Towards {
    let kept = |signs: &[&'static str]| {
        let is =
            |key: &&&str| place.marked(key) || memories.kept.sign(key).is_some_and(super::kept::Kept::kept);
        signs.iter().filter(is).count()
    };
    match goal {
        Goal::Speed(words) => {
            let read: Vec<(u64, u32)> =
                progress.days.iter().filter_map(|day| Some((day.day, day.words?))).collect();
            let late: Vec<(u64, u32)> =
                read.iter().copied().filter(|(day, _)| today.saturating_sub(*day) < PACE).collect();
            let now = late.iter().rev().take(3).map(|(_, words)| *words as usize).max().unwrap_or(0);
            let of = *words as usize;
            let when = match (late.first(), late.last()) {
                _ if now >= of => Forecast::Reached,
                (Some(first), Some(last)) if last.0 > first.0 && last.1 > first.1 => {
                    let gained = u64::from(last.1 - first.1);
                    Forecast::On(today + ((of - now) as u64 * (last.0 - first.0)).div_ceil(gained))
                }
                _ => Forecast::Open,
            };
            Towards { done: now.min(of), of, when }
        }
        Goal::Unit(_) | Goal::Book(_) => {
            let signs: Vec<&'static str> = match goal {
                Goal::Unit(unit) => {
                    units::units().iter().take(unit + 1).flat_map(|unit| unit.signs.iter().copied()).collect()
                }
                Goal::Book(title) => book(title),
                Goal::Speed(_) => Vec::new(),
            };
            let done = kept(&signs);
            let left = signs.len() - done;
            let before = progress.days.iter().rev().find(|day| today.saturating_sub(day.day) >= PACE);
            let first = before.or(progress.days.first());
            let when = match first {
                _ if left == 0 && !signs.is_empty() => Forecast::Reached,
                // A first day counts as one.
                Some(first) if progress.kept.0 > before.map_or(0, |day| day.kept) => {
                    let gained = (progress.kept.0 - before.map_or(0, |day| day.kept)) as u64;
                    let days = (today.saturating_sub(first.day) + 1).min(PACE);
                    Forecast::On(today + (left as u64 * days).div_ceil(gained))
                }
                _ => Forecast::Open,
            };
            Towards { done, of: signs.len(), when }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::due::DAY;
    use crate::practice::record::{Answer, Direction, Id};

    /// A learner who keeps two signs of unit 1 a day, and reads a line a day, a little quicker each time.
    fn days(count: u64) -> (Record, Memories) {
        let mut record = Record::default();
        let mut n = 0;
        let mut add = |record: &mut Record, at: u64, event: Event| {
            record.add(Id { tab: "t".to_owned(), n }, at, event);
            n += 1;
        };
        for day in 0..count {
            let signs = units::units().iter().flat_map(|unit| unit.signs.iter());
            for key in signs.skip(2 * day as usize).take(2) {
                for time in 0..3 {
                    let at = day * DAY + time * 60_000;
                    let answer = Answer {
                        at,
                        sign: (*key).to_owned(),
                        direction: Direction::Read,
                        right: true,
                        ms: 1_000,
                        clues: 0,
                        instead: String::new(),
                        cause: String::new(),
                    };
                    add(&mut record, at, Event::Answer(answer));
                }
            }
            let ms = 60_000 / (10 + day);
            let text = Event::Text { title: String::new(), words: 1, cells: 5, ms, missed: 0 };
            add(&mut record, day * DAY + 300_000, text);
        }
        let memories = Memories::of(&record);
        (record, memories)
    }

    #[test]
    fn the_way_so_far_is_told_day_by_day() {
        let (record, memories) = days(10);
        let progress = of(&record, 9, |at| at / DAY);
        assert_eq!(progress.days.len(), 10);
        assert_eq!(progress.days[0], Day { day: 0, cells: Some(50), words: Some(10), kept: 2 });
        assert_eq!(progress.days[4].kept, 10);
        assert_eq!(progress.kept, (memories.kept.count(), 352));
        // Six seconds of answers and six of reading a day: the reading of one line is in its answers.
        assert_eq!(progress.weeks.len(), 2);
        assert!(progress.days.windows(2).all(|two| two[0].words < two[1].words));
    }

    #[test]
    fn a_goal_is_forecast_at_this_pace() {
        let (record, memories) = days(5);
        let progress = of(&record, 4, |at| at / DAY);
        let place = Place::of(&memories, &record, None);
        let far =
            |goal: &Goal| towards(goal, &progress, &place, &memories, |_| vec!["letter a", "letter z"], 4);
        assert_eq!(far(&Goal::Unit(0)), Towards { done: 10, of: 10, when: Forecast::Reached });
        // Two signs a day: ten more take five days.
        assert_eq!(far(&Goal::Unit(1)), Towards { done: 10, of: 20, when: Forecast::On(9) });
        assert_eq!(far(&Goal::Book("any".to_owned())).of, 2);
        // A word a minute more each day: from 14 to 20 in six days.
        let speed = far(&Goal::Speed(20));
        assert!(matches!(speed.when, Forecast::On(day) if (9..=12).contains(&day)), "{speed:?}");
        assert_eq!(far(&Goal::Speed(12)).when, Forecast::Reached);
        // Nothing recorded: nothing is promised.
        let none = Progress::default();
        let open = towards(&Goal::Unit(3), &none, &Place::default(), &Memories::default(), |_| Vec::new(), 4);
        assert_eq!(open.when, Forecast::Open);
    }

    #[test]
    fn goals_are_kept_as_text() {
        for goal in [Goal::Unit(7), Goal::Book("The red boat".to_owned()), Goal::Speed(40)] {
            assert_eq!(Goal::from_text(&goal.to_text()), Some(goal));
        }
        for text in ["", "unit", "unit nowhere", "speed fast", "speed 0", "speed 9999", "book ", "x y"] {
            assert_eq!(Goal::from_text(text), None, "{text}");
        }
    }
}
