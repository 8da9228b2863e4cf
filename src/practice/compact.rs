//! A long record made short: its oldest answers go into its past.

use super::due::Memories;
use super::past::Past;
use super::record::{Event, Id, Record};
use super::scheduler::DAY;
use super::sums::Sums;

/// So many answers stay one by one, and up to twice as many before the oldest go: some weeks of a keen learner.
pub const KEPT: usize = 4_000;
/// So many of the latest runs stay as they are: their hard changes are still asked for.
const LATE_RUNS: usize = 12;

/// Puts the oldest answers into the past when there are more than twice `keep`; `keep` of them stay, and those of the same
/// day. What is due and what the figures say is as before, times of answers to a tenth of a second; `day_of` gives the day of the
/// learner's own calendar on which a moment falls. Gives whether there was anything to do.
pub fn compact(record: &mut Record, keep: usize, day_of: impl FnMut(u64) -> u64) -> bool {
    let mut times: Vec<u64> = Vec::new();
    let mut runs: Vec<(u64, Id)> = Vec::new();
    for (id, (at, event)) in &record.events {
        match event {
            Event::Answer(_) => times.push(*at),
            Event::Run { .. } => runs.push((*at, id.clone())),
            _ => {}
        }
    }
    if times.len() <= 2 * keep {
        return false;
    }
    times.sort_unstable();
    runs.sort_unstable();
    // Whole days: no cause of a mistake is parted from it.
    let before = times[times.len() - keep] / DAY * DAY;
    let late_runs: Vec<&Id> = runs.iter().rev().take(LATE_RUNS).map(|(_, id)| id).collect();
    let (mut gone, mut rest) =
        (Record { past: std::mem::take(&mut record.past), ..Record::default() }, Vec::new());
    let mut tabs: Vec<(String, u64)> = Vec::new();
    let mut open = None;
    for (id, (at, event)) in std::mem::take(&mut record.events) {
        if event.stays() || late_runs.contains(&&id) {
            rest.push((id, (at, event)));
            continue;
        }
        // Of each tab the events up to the first that is not old: a number says which they are.
        if at >= before || open.as_ref() == Some(&id.tab) {
            open = Some(id.tab.clone());
            rest.push((id, (at, event)));
            continue;
        }
        match tabs.last_mut() {
            Some((tab, below)) if *tab == id.tab => *below = id.n + 1,
            _ => tabs.push((id.tab.clone(), id.n + 1)),
        }
        gone.events.push((id, (at, event)));
    }
    let mut lines = Memories::of(&gone).to_lines();
    lines.extend(Sums::of(&gone, day_of).to_lines());
    let answers = gone.answers().len();
    record.past = Past::with(gone.past, answers, &tabs, lines);
    record.events = rest;
    !tabs.is_empty()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::choose;
    use crate::practice::figures::{self, Figures};
    use crate::practice::record::{Answer, Direction};
    use crate::practice::units;

    const START: u64 = 1_600_000_000_000;

    fn day_of(at: u64) -> u64 {
        (at + 7_200_000) / DAY
    }

    /// A learner who answers so many times a day, for so many days: an invented one, the same every time.
    fn learner(days: u64, a_day: u64) -> Record {
        let mut chance = fastrand::Rng::with_seed(11);
        let signs: Vec<&str> = units::units().iter().flat_map(|unit| unit.signs.iter().copied()).collect();
        let mut events = Vec::new();
        for day in 0..days {
            let tab = format!("{:x}{:x}", START + day * DAY, chance.u16(..));
            let mut n = 0;
            let mut push = |at: u64, event: Event| {
                events.push((Id { tab: tab.clone(), n }, (at, event)));
                n += 1;
            };
            let begin = START + day * DAY + chance.u64(..20) * 3_600_000;
            push(begin, Event::Session { minutes: 10 });
            for turn in 0..a_day {
                let at = begin + turn * 6_000;
                let sign = signs[chance.usize(..signs.len().min(20 + day as usize))];
                let right = chance.f64() > 0.12;
                // Most are taken for one of a few that look like them.
                let few = if chance.f64() < 0.8 { 6 } else { signs.len() };
                let other = (sign.len() * 7 + chance.usize(..few)) % signs.len();
                let instead = if right { String::new() } else { signs[other].to_owned() };
                let ms = 500 + (chance.f64().powi(3) * 9_000.0) as u64;
                let direction = Direction::ALL[chance.usize(..4)];
                let cause = if right { "" } else { ["eye", "hand", "rule"][chance.usize(..3)] };
                let answer = Answer {
                    at,
                    sign: sign.to_owned(),
                    direction,
                    right,
                    ms,
                    clues: 0,
                    instead,
                    cause: cause.to_owned(),
                };
                push(at, Event::Answer(answer));
                if !right && chance.bool() {
                    push(
                        at + 3_000,
                        Event::Cause { of: at, sign: sign.to_owned(), cause: "hand".to_owned() },
                    );
                }
            }
            push(
                begin + a_day * 6_000,
                Event::Run { cells: 90, right: 85, ms: 60_000, hard: "ab".to_owned() },
            );
            if day % 40 == 0 {
                let sign = signs[chance.usize(..signs.len())].to_owned();
                push(begin + DAY / 20, Event::Mark { sign, on: true });
            }
        }
        events.sort_by(|one: &(Id, _), next| one.0.cmp(&next.0));
        Record { events, past: Past::default() }
    }

    /// Compacted now and then, as a browser does it.
    fn compacted(whole: &Record, keep: usize) -> Record {
        let mut short = Record::default();
        let mut events = whole.events.clone();
        events.sort_by_key(|(_, (at, _))| *at);
        for part in events.chunks(keep) {
            let mut more = Record { events: part.to_vec(), past: Past::default() };
            more.events.sort_by(|one, next| one.0.cmp(&next.0));
            short.merge(more);
            compact(&mut short, keep, day_of);
        }
        short
    }

    /// The figures with times as the page shows them.
    fn shown(record: &Record) -> Figures {
        let figures = figures::of(record, day_of);
        Figures { median_ms: (figures.median_ms + 50) / 100, ..figures }
    }

    fn same(one: &Record, other: &Record) {
        let (one_has, other_has) = (Memories::of(one), Memories::of(other));
        assert_eq!(one_has.to_lines(), other_has.to_lines());
        assert_eq!(shown(one), shown(other));
        assert_eq!(choose::confusions(one), choose::confusions(other));
        assert_eq!(one.marks().iter().collect::<Vec<_>>(), other.marks().iter().collect::<Vec<_>>());
        assert_eq!(one.hard_changes(), other.hard_changes());
        assert_eq!(figures::low_shape_help(one), figures::low_shape_help(other));
        let times = |record: &Record| -> Vec<(String, (u32, f64, u64))> {
            let signs = figures::per_sign(record).into_iter();
            signs.map(|(sign, (all, share, ms))| (sign, (all, share, (ms + 50) / 100))).collect()
        };
        assert_eq!(times(one), times(other));
    }

    #[test]
    fn what_is_due_and_what_the_figures_say_is_as_before() {
        let whole = learner(400, 30);
        let short = compacted(&whole, 1_000);
        same(&whole, &short);
        assert!(
            short.events.len() < whole.events.len() / 4,
            "{} of {}",
            short.events.len(),
            whole.events.len()
        );
        // As a file, and back.
        let (back, damaged) = Record::parse(&short.to_text()).unwrap();
        assert!(damaged.is_empty());
        assert_eq!(back, short);
    }

    #[test]
    fn nothing_is_counted_twice_when_records_come_together() {
        let whole = learner(300, 30);
        let short = compacted(&whole, 1_000);
        // A file from before, one from in between, and the same again.
        for other in [&whole, &compacted(&whole, 3_000), &short] {
            let (mut one, mut two) = (short.clone(), other.clone());
            assert!(other.clone().without(&short).len() <= other.past.answers() + 12, "hardly any news");
            one.merge(other.clone());
            two.merge(short.clone());
            same(&one, &whole);
            same(&two, &whole);
        }
        // What another computer has beside it comes in.
        let mut news = Record::default();
        let last = whole.in_time().last().unwrap().0;
        let mark = Event::Mark { sign: "letter a".to_owned(), on: true };
        news.add(Id { tab: "elsewhere".to_owned(), n: 0 }, last + 1, mark);
        let mut one = short.clone();
        one.merge(news.clone().without(&short));
        assert_eq!(one.len(), short.len() + 1);
    }

    /// Ten years at 200 answers a day.
    #[test]
    fn ten_years_stay_small() {
        let short = compacted(&learner(3_650, 200), KEPT);
        let size = short.to_text().len();
        let mut kinds = std::collections::BTreeMap::new();
        for line in short.to_text().lines() {
            let kind =
                line.strip_prefix("past\t").and_then(|line| line.split('\t').next()).unwrap_or("one by one");
            *kinds.entry(kind.to_owned()).or_insert(0) += line.len() + 1;
        }
        assert!(
            short.len() > 730_000 && size < 1_500_000,
            "{} answers in {size} letters: {kinds:?}",
            short.len()
        );
        println!("{} answers in {size} letters: {kinds:?}", short.len());
    }
}
