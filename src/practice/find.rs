//! Find my place: a few signs of the whole course tell after which unit a learner begins.
//!
//! Whoever knows the course up to some unit names its signs and not the later ones. Each answer makes some places likelier and
//! others less so; asked is what halves the doubt.

use super::drill::{self, Item};
use super::record::{Answer, Direction, Event};
use super::units;

/// So many items are asked at most.
pub const MOST: usize = 40;

/// The chance that a sign of a known unit is missed all the same, and that one of a later unit is known (our choice).
const MISSED: f64 = 0.07;
const KNOWN_EARLY: f64 = 0.05;

/// From this chance on the place counts as found.
const SURE: f64 = 0.93;

/// A check under way.
#[derive(Clone, Debug, PartialEq)]
pub struct Find {
    /// The chance of each place: that so many units are known.
    places: Vec<f64>,
    asked: Vec<(Item, usize, Answer)>,
    item: Option<(Item, usize)>,
    chance: fastrand::Rng,
}

impl Find {
    /// A check from its first item on.
    pub fn begin(seed: u64) -> Find {
        let count = units::units().iter().filter(|unit| !unit.signs.is_empty()).count();
        let mut find = Find {
            places: vec![1.0 / (count + 1) as f64; count + 1],
            asked: Vec::new(),
            item: None,
            chance: fastrand::Rng::with_seed(seed),
        };
        find.item = find.choose();
        find
    }

    /// What is asked; `None` when the place is found.
    pub fn item(&self) -> Option<&Item> {
        self.item.as_ref().map(|(item, _)| item)
    }

    /// How many items were answered.
    pub fn answered(&self) -> usize {
        self.asked.len()
    }

    /// The unit to begin at, from 0: those before it are known.
    pub fn start(&self) -> usize {
        let mut sum = 0.0;
        let place = self.places.iter().position(|chance| {
            sum += chance;
            sum >= 0.5
        });
        place.unwrap_or_default().min(units::units().len() - 1)
    }

    /// Takes an answer, given at `at`, in milliseconds since 1970, after `ms` milliseconds. One that is not known is a wrong one.
    pub fn answer(&mut self, judged: &drill::Judged, ms: u64, at: u64) {
        let Some((item, unit)) = self.item.take() else { return };
        for (known, chance) in self.places.iter_mut().enumerate() {
            let right = if unit < known { 1.0 - MISSED } else { KNOWN_EARLY };
            *chance *= if judged.right { right } else { 1.0 - right };
        }
        let all: f64 = self.places.iter().sum();
        self.places.iter_mut().for_each(|chance| *chance /= all);
        let answer = Answer {
            at,
            sign: item.sign.to_owned(),
            direction: item.direction,
            right: judged.right,
            ms,
            clues: 0,
            instead: judged.instead.clone(),
            cause: judged.cause.to_owned(),
        };
        self.asked.push((item, unit, answer));
        self.item = self.choose();
    }

    /// A sign of the unit about which there is most doubt, or of the one nearest to it that has a sign left.
    fn choose(&mut self) -> Option<(Item, usize)> {
        let likeliest = self.places.iter().copied().fold(0.0, f64::max);
        if self.asked.len() >= MOST || likeliest >= SURE {
            return None;
        }
        let mut known = 1.0;
        let mut doubts: Vec<(usize, f64)> = Vec::new();
        for (unit, place) in self.places.iter().take(self.places.len() - 1).enumerate() {
            known -= place;
            doubts.push((unit, (known - 0.5).abs()));
        }
        doubts.sort_by(|one, two| one.1.total_cmp(&two.1));
        doubts.into_iter().find_map(|(unit, _)| {
            let fresh = |key: &&&'static str| !self.asked.iter().any(|(item, _, _)| item.sign == **key);
            let signs: Vec<&'static str> = units::units()[unit].signs.iter().filter(fresh).copied().collect();
            let sign = *signs.get(self.chance.usize(..signs.len().max(1)))?;
            Some((Item { sign, direction: Direction::Read }, unit))
        })
    }

    /// What the record keeps: what was known, and what was missed though it lies before the place that was found. A later sign
    /// that was missed was never met, and is shown before it is asked again.
    pub fn events(&self) -> Vec<Event> {
        let start = self.start();
        let kept = self.asked.iter().filter(|(_, unit, answer)| answer.right || *unit < start);
        kept.map(|(_, _, answer)| Event::Answer(answer.clone())).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn judged(right: bool) -> drill::Judged {
        drill::Judged { right, instead: String::new(), cause: "", says: String::new() }
    }

    /// A learner who knows a unit's signs so often, by its place; gives the place that is found, and after how many items.
    fn found(seed: u64, knows: impl Fn(usize) -> f64) -> (usize, usize) {
        let mut find = Find::begin(seed);
        let mut chance = fastrand::Rng::with_seed(seed ^ 99);
        let mut seen = std::collections::HashSet::new();
        while let Some(item) = find.item().cloned() {
            assert!(seen.insert(item.sign), "{} is asked twice", item.sign);
            let unit = units::unit_of(item.sign).unwrap();
            find.answer(&judged(chance.f64() < knows(unit)), 2_000, 5);
            assert!(find.answered() <= MOST);
        }
        (find.start(), find.answered())
    }

    #[test]
    fn who_knows_so_many_units_begins_after_them() {
        for known in 0..units::units().len() {
            for seed in 0..20 {
                let (start, asked) = found(seed, |unit| if unit < known { 1.0 } else { 0.0 });
                assert!(start.abs_diff(known) <= 1 && asked <= 25, "{known}: {start} after {asked}");
            }
        }
    }

    /// Simulated learners who slip now and then, and know a sign of a later unit by luck: within one unit for each place, in all
    /// but very few draws.
    #[test]
    fn slips_and_luck_move_it_by_a_unit_at_most() {
        let (mut off, mut all, mut most) = (0, 0, 0);
        for known in 0..units::units().len() {
            for seed in 0..50 {
                let (start, asked) = found(seed, |unit| if unit < known { 0.95 } else { 0.03 });
                off += usize::from(start.abs_diff(known) > 1);
                all += 1;
                most = most.max(asked);
            }
        }
        println!("{off} of {all} are more than a unit off; at most {most} items");
        assert!(off * 50 <= all, "{off} of {all}");
    }

    /// Half of the unit that the learner is at, and a third of the one after.
    #[test]
    fn a_unit_that_is_half_known_is_begun_again() {
        for known in 1..28 {
            let knows = |unit: usize| match unit {
                unit if unit < known => 0.97,
                unit if unit == known => 0.5,
                unit if unit == known + 1 => 0.3,
                _ => 0.0,
            };
            let starts: Vec<usize> = (0..20).map(|seed| found(seed, knows).0).collect();
            let near =
                starts.iter().filter(|start| (known.saturating_sub(1)..=known + 2).contains(*start)).count();
            assert!(near >= 18, "{known}: {starts:?}");
        }
    }

    #[test]
    fn what_was_never_met_is_not_recorded_as_missed() {
        let mut find = Find::begin(3);
        while let Some(item) = find.item().cloned() {
            let unit = units::unit_of(item.sign).unwrap();
            find.answer(&judged(unit < 12), 2_000, 5);
        }
        let start = find.start();
        assert!(find.events().iter().all(|event| match event {
            Event::Answer(answer) => answer.right || units::unit_of(&answer.sign).unwrap() < start,
            _ => false,
        }));
        assert!(find.events().len() >= 3);
        // A newcomer begins at the beginning, with nothing recorded.
        let mut find = Find::begin(4);
        while find.item().is_some() {
            find.answer(&judged(false), 1_000, 5);
        }
        assert_eq!((find.start(), find.events().len()), (0, 0));
        assert!(find.answered() <= 12, "{} items for a newcomer", find.answered());
    }
}
