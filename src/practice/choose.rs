//! What comes next: weighted to what is due and to what this learner confuses.

use std::collections::HashMap;

use super::drill::Item;
use super::due::{Known, Memories};
use super::record::{Answer, Direction, Record};
use super::sums::past_pairs;
use super::{lookalike, units};
use crate::ueb::register;

/// What is open to the learner, and what they have done so far.
#[derive(Clone, Copy, Debug)]
pub struct Ground<'a> {
    /// How well each sign is known.
    pub memories: &'a Memories,
    /// The log.
    pub record: &'a Record,
    /// The last unit open, from 0.
    pub unit: usize,
    /// Contracted braille, or only what uncontracted braille has.
    pub contracted: bool,
    /// The time, in milliseconds since 1970.
    pub now: u64,
    /// The signs to practise, whatever their units; with none, all that are open.
    pub only: &'a [&'static str],
}

impl Ground<'_> {
    fn signs(&self) -> Vec<&'static str> {
        if self.only.is_empty() { open(self.unit, self.contracted).collect() } else { self.only.to_vec() }
    }
}

/// How often two signs were taken for each other.
pub fn confusions(record: &Record) -> HashMap<(String, String), u32> {
    let mut pairs = HashMap::new();
    let ordered =
        |sign: String, instead: String| if sign < instead { (sign, instead) } else { (instead, sign) };
    for (sign, instead, times) in past_pairs(record) {
        if register::by_key(&instead).is_some() {
            *pairs.entry(ordered(sign, instead)).or_insert(0) += times;
        }
    }
    for Answer { sign, instead, right, .. } in record.answers() {
        if !right && register::by_key(&instead).is_some() {
            *pairs.entry(ordered(sign, instead)).or_insert(0) += 1;
        }
    }
    pairs
}

/// The signs open to the learner: those of units up to `unit` (from 0), without the contractions when the braille is
/// uncontracted.
pub fn open(unit: usize, contracted: bool) -> impl Iterator<Item = &'static str> {
    let plain = |key: &&str| register::by_key(key).is_some_and(|sign| !sign.class.is_contraction());
    let signs = units::units().iter().take(unit + 1).flat_map(|unit| unit.signs.iter().copied());
    signs.filter(move |key| contracted || plain(key))
}

/// The first unit with a sign that is neither asked nor marked as learned; the last unit when there is none.
pub fn current_unit(memories: &Memories, record: &Record) -> usize {
    let marks = record.marks();
    let new = |key: &&str| memories.known(key) == Known::New && !marks.contains(*key);
    units::units()
        .iter()
        .position(|unit| unit.signs.iter().any(new))
        .unwrap_or(units::units().len().saturating_sub(1))
}

/// One of some things, by weight.
fn pick<'a, T>(choices: &'a [(T, f64)], chance: &mut fastrand::Rng) -> Option<&'a T> {
    let total: f64 = choices.iter().map(|(_, weight)| weight).sum();
    let mut at = chance.f64() * total;
    let found = choices.iter().find(|(_, weight)| {
        at -= weight;
        at <= 0.0
    });
    found.or(choices.last()).map(|(thing, _)| thing)
}

/// The next item in one direction; new signs enter, in the order of the course, as the learner keeps pace. Never the
/// same sign twice running while there is another. `None` when no sign is open.
pub fn next(
    ground: &Ground,
    direction: Direction,
    last: Option<&str>,
    chance: &mut fastrand::Rng,
) -> Option<Item> {
    let Ground { memories, record, now, only, .. } = *ground;
    let signs = ground.signs();
    let marks = record.marks();
    let mut slips: HashMap<String, u32> = HashMap::new();
    for ((one, two), count) in confusions(record) {
        *slips.entry(one).or_default() += count;
        *slips.entry(two).or_default() += count;
    }
    let mut new_left = if memories.keeps_pace(now) { 4 } else { 0 };
    let mut choices: Vec<(&'static str, f64)> = Vec::new();
    for &key in &signs {
        let weight = match memories.get(key, direction) {
            _ if !only.is_empty() => 1.0,
            None if marks.contains(key) => 0.2,
            None if new_left > 0 => {
                new_left -= 1;
                1.5
            }
            None => continue,
            Some(memory) if memory.due() <= now => 3.0 + 4.0 * (1.0 - memory.recall(now)),
            Some(memory) if memory.known() == Known::Fresh => 1.0,
            Some(_) => 0.2,
        };
        let slips = slips.get(key).copied().unwrap_or(0).min(6);
        if Some(key) != last {
            choices.push((key, weight + 1.5 * f64::from(slips)));
        }
    }
    if choices.is_empty() {
        // A lone sign is asked again and again.
        choices = signs
            .iter()
            .filter(|key| Some(**key) != last || signs.len() == 1)
            .map(|&key| (key, 1.0))
            .collect();
    }
    pick(&choices, chance).map(|sign| Item { sign, direction })
}

/// The next item of all directions: one of the dozen due items that are least likely to be recalled; when nothing is
/// due, a sign to read. Of chosen signs any, to read and to write in turn.
pub fn next_due(ground: &Ground, last: Option<&str>, chance: &mut fastrand::Rng) -> Option<Item> {
    if !ground.only.is_empty() {
        let direction = if chance.bool() { Direction::Read } else { Direction::Write };
        return next(ground, direction, last, chance);
    }
    let open: Vec<&'static str> = open(ground.unit, ground.contracted).collect();
    let due = ground.memories.due(ground.now);
    let few: Vec<(Item, f64)> = due
        .into_iter()
        .filter(|(sign, direction)| Direction::SIGNS.contains(direction) && Some(sign.as_str()) != last)
        .filter_map(|(sign, direction)| {
            let sign = open.iter().copied().find(|key| key == sign)?;
            Some((Item { sign, direction: *direction }, 1.0))
        })
        .take(12)
        .collect();
    // Among what is due, new signs still come in now and then, so that the course moves on.
    if few.is_empty() || (ground.memories.keeps_pace(ground.now) && chance.f64() < 0.25) {
        return next(ground, Direction::Read, last, chance);
    }
    pick(&few, chance).cloned()
}

/// A sign to tell from another that looks like it or that this learner takes for it: the sign, and the other's key.
/// `None` when no two open signs are alike.
pub fn alike(
    ground: &Ground,
    last: Option<&str>,
    chance: &mut fastrand::Rng,
) -> Option<(&'static str, &'static str)> {
    let open = ground.signs();
    let confused = confusions(ground.record);
    let mut choices: Vec<((&'static str, &'static str), f64)> = Vec::new();
    for (n, one) in open.iter().enumerate() {
        let Some(sign) = register::by_key(one) else { continue };
        let looks: Vec<&str> = lookalike::of(sign).into_iter().map(|(other, _)| other.key).collect();
        for two in &open[n + 1..] {
            let pair = if one < two { (*one, *two) } else { (*two, *one) };
            let slips = confused.get(&(pair.0.to_owned(), pair.1.to_owned())).copied().unwrap_or(0);
            // Two signs of one shape cannot be told apart by looking.
            let same = register::by_key(two).is_some_and(|other| other.cells == sign.cells);
            if !same && (slips > 0 || looks.contains(two)) && ![Some(*one), Some(*two)].contains(&last) {
                choices.push(((*one, *two), 1.0 + 6.0 * f64::from(slips.min(6))));
            }
        }
    }
    let (one, two) = *pick(&choices, chance)?;
    Some(if chance.bool() { (one, two) } else { (two, one) })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::record::{Event, Id};

    fn ground<'a>(memories: &'a Memories, record: &'a Record, unit: usize, now: u64) -> Ground<'a> {
        Ground { memories, record, unit, contracted: true, now, only: &[] }
    }

    fn answer(sign: &str, wrong: Option<&str>, at: u64) -> Answer {
        Answer {
            at,
            sign: sign.to_owned(),
            direction: Direction::Read,
            right: wrong.is_none(),
            ms: 1_000,
            clues: 0,
            instead: wrong.unwrap_or_default().to_owned(),
            cause: String::new(),
        }
    }

    /// A virtual learner that takes e for i and d for f (confusions from memory): the pairs come up more often than
    /// chance, among single signs and among look-alikes.
    #[test]
    fn confused_pairs_come_up_more_often_than_chance() {
        let (mut record, mut memories) = (Record::default(), Memories::default());
        let mut chance = fastrand::Rng::with_seed(11);
        let pairs = [("letter e", "letter i"), ("letter d", "letter f")];
        let (mut asked, mut hits, mut last) = (0u32, 0u32, None);
        for n in 0..600u64 {
            let now = 1_700_000_000_000 + n * 4_000;
            let item = next(&ground(&memories, &record, 1, now), Direction::Read, last, &mut chance).unwrap();
            let other = pairs.iter().find_map(|(a, b)| match item.sign {
                s if s == *a => Some(*b),
                s if s == *b => Some(*a),
                _ => None,
            });
            let answer = answer(item.sign, other.filter(|_| chance.f64() < 0.4), now);
            memories.take(&answer);
            record.add(Id { tab: "t".to_owned(), n }, now, Event::Answer(answer));
            if n >= 200 {
                asked += 1;
                hits += u32::from(other.is_some());
            }
            last = Some(item.sign);
        }
        let share = f64::from(hits) / f64::from(asked);
        assert!(share > 2.0 * 4.0 / 20.0, "the confused pairs came up in {share}");
        let ground = ground(&memories, &record, 1, 1_700_010_000_000);
        let of_pairs = (0..400)
            .filter_map(|_| alike(&ground, None, &mut chance))
            .filter(|(a, b)| pairs.contains(&(*a, *b)) || pairs.contains(&(*b, *a)))
            .count();
        // Two pairs of the 19 or more that look alike among 20 letters.
        assert!(of_pairs > 2 * 400 * 2 / 19, "{of_pairs} of 400 were the confused pairs");
    }

    #[test]
    fn chosen_signs_alone_are_asked_both_ways_whatever_their_unit() {
        let (record, memories) = (Record::default(), Memories::default());
        let mut chance = fastrand::Rng::with_seed(4);
        for only in [&["groupsign st", "numeric indicator"][..], &["letter e"]] {
            let ground = Ground { only, ..ground(&memories, &record, 0, 1_000) };
            let mut found = std::collections::BTreeSet::new();
            let mut last = None;
            for _ in 0..60 {
                let item = next_due(&ground, last, &mut chance).unwrap();
                found.insert((item.sign, item.direction));
                assert!(only.len() == 1 || Some(item.sign) != last);
                last = Some(item.sign);
            }
            assert_eq!(found.len(), 2 * only.len(), "{found:?}");
        }
    }

    #[test]
    fn what_is_due_comes_in_its_own_direction_and_uncontracted_has_no_contraction() {
        let (record, mut memories) = (Record::default(), Memories::default());
        let mut slip = answer("letter k", Some("letter l"), 1_000);
        slip.direction = Direction::Slate;
        memories.take(&slip);
        let mut chance = fastrand::Rng::with_seed(3);
        let later = 1_000 + 40 * super::super::due::DAY;
        let items: Vec<Item> = (0..60)
            .filter_map(|_| next_due(&ground(&memories, &record, 4, later), None, &mut chance))
            .collect();
        assert!(items.contains(&Item { sign: "letter k", direction: Direction::Slate }));
        assert!(items.iter().any(|item| item.direction == Direction::Read));
        for key in open(units::units().len(), false) {
            assert!(!register::by_key(key).unwrap().class.is_contraction(), "{key}");
        }
    }
}
