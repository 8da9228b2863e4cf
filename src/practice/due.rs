//! One memory per sign and direction, and when it is due.
//!
//! The scheduling itself is in [`super::schedule`]. Memories are never stored: they are worked out anew from the
//! learner's log, so that merging two logs is enough.

use super::record::{Answer, Direction, Record};
use super::schedule::{self, Card, Rating, State};

/// One day, in milliseconds.
pub const DAY: u64 = 86_400_000;

/// An answer that took longer than this says nothing about speed: the learner had walked away.
pub const PAUSE: u64 = 30_000;

/// An answer at sight, for one sign.
pub const AT_SIGHT: u64 = 1_500;

/// An answer that had to be worked out, for one sign.
pub const SLOW: u64 = 6_000;

/// Which memory: a sign's key and a direction.
pub type Key = (String, Direction);

/// How well one sign is known in one direction.
#[derive(Clone, Debug)]
pub struct Memory {
    card: Card,
    /// How many answers it has had.
    pub answers: u32,
    /// How many of them were right without a clue.
    pub right: u32,
}

/// In plain words, how well a sign is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// Never asked.
    New,
    /// Asked, and not yet kept for a day.
    Fresh,
    /// Kept for days.
    Known,
    /// Kept for three weeks or more.
    Firm,
}

impl Known {
    /// The word on the page.
    pub fn name(self) -> &'static str {
        match self {
            Known::New => "not met yet",
            Known::Fresh => "just met",
            Known::Known => "known",
            Known::Firm => "firm",
        }
    }
}

fn grade(answer: &Answer) -> Rating {
    if !answer.right || answer.clues > 0 {
        return Rating::Again;
    }
    match answer.ms {
        ms if ms <= AT_SIGHT => Rating::Easy,
        ms if ms > SLOW && ms <= PAUSE => Rating::Hard,
        _ => Rating::Good,
    }
}

impl Memory {
    /// The first memory of a sign, from its first answer.
    fn new() -> Self {
        Memory { card: Card::default(), answers: 0, right: 0 }
    }

    fn take(&mut self, answer: &Answer) {
        self.card.take(answer.at, grade(answer));
        self.answers += 1;
        self.right += u32::from(answer.right && answer.clues == 0);
    }

    /// When it is due, in milliseconds since 1970.
    pub fn due(&self) -> u64 {
        self.card.due
    }

    /// The chance, 0 to 1, that it is recalled at this time.
    pub fn recall(&self, now: u64) -> f64 {
        let days = now.saturating_sub(self.card.last) as f64 / DAY as f64;
        schedule::recalled(days, self.card.stability.max(0.01))
    }

    /// How well it is known.
    pub fn known(&self) -> Known {
        match self.card.state {
            State::New => Known::New,
            State::Learning | State::Relearning => Known::Fresh,
            State::Review if self.card.stability >= 21.0 => Known::Firm,
            State::Review => Known::Known,
        }
    }
}

/// All memories of a learner.
#[derive(Clone, Debug, Default)]
pub struct Memories {
    /// In order of the keys.
    all: Vec<(Key, Memory)>,
}

impl Memories {
    /// The memories that a log leaves.
    pub fn of(record: &Record) -> Memories {
        let mut memories = Memories::default();
        for answer in record.answers() {
            memories.take(&answer);
        }
        memories
    }

    /// Takes in one more answer.
    pub fn take(&mut self, answer: &Answer) {
        let at = self.find(&answer.sign, answer.direction).unwrap_or_else(|at| {
            self.all.insert(at, ((answer.sign.clone(), answer.direction), Memory::new()));
            at
        });
        self.all[at].1.take(answer);
    }

    /// The memory of a sign in one direction; `None` when it was never asked.
    pub fn get(&self, sign: &str, direction: Direction) -> Option<&Memory> {
        self.find(sign, direction).ok().map(|at| &self.all[at].1)
    }

    fn find(&self, sign: &str, direction: Direction) -> Result<usize, usize> {
        self.all.binary_search_by(|((known, way), _)| (known.as_str(), *way).cmp(&(sign, direction)))
    }

    /// What is due at this time, the least likely to be recalled first.
    pub fn due(&self, now: u64) -> Vec<&Key> {
        let mut due: Vec<(&Key, f64)> =
            self.all.iter().filter(|(_, m)| m.due() <= now).map(|(key, m)| (key, m.recall(now))).collect();
        crate::order::sort_by(&mut due, |a, b| a.1.total_cmp(&b.1));
        due.into_iter().map(|(key, _)| key).collect()
    }

    /// How well a sign is known in the direction it is known worst of those asked; new when never asked.
    pub fn known(&self, sign: &str) -> Known {
        Direction::SIGNS
            .iter()
            .filter_map(|direction| self.get(sign, *direction))
            .map(Memory::known)
            .min()
            .unwrap_or(Known::New)
    }

    /// Whether new signs may enter: at most eight signs are still fresh, and at most thirty are due.
    pub fn keeps_pace(&self, now: u64) -> bool {
        self.all.iter().filter(|(_, m)| m.known() == Known::Fresh).count() <= 8 && self.due(now).len() <= 30
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    fn answer(sign: &str, at: u64, right: bool, ms: u64) -> Answer {
        Answer {
            at,
            sign: sign.to_owned(),
            direction: Direction::Read,
            right,
            ms,
            clues: 0,
            instead: String::new(),
            cause: String::new(),
        }
    }

    /// A virtual learner with a known forgetting curve (exponential, a half-life per sign, from memory): what is due
    /// is what it was forgetting.
    #[test]
    fn what_is_due_is_what_is_being_forgotten() {
        let mut memories = Memories::default();
        let mut half_life: BTreeMap<String, f64> = BTreeMap::new();
        let mut last: BTreeMap<String, u64> = BTreeMap::new();
        let mut chance = fastrand::Rng::with_seed(7);
        let start = 1_700_000_000_000;
        for n in 0..40 {
            let sign = format!("sign {n}");
            half_life.insert(sign.clone(), if n < 20 { 0.7 } else { 25.0 });
        }
        for day in 0..30u64 {
            let now = start + day * DAY;
            for (sign, half) in &mut half_life {
                let due = memories.get(sign, Direction::Read).is_none_or(|m| m.due() <= now);
                if !due {
                    continue;
                }
                let days = last.get(sign).map_or(0.0, |at| (now - at) as f64 / DAY as f64);
                let right = days == 0.0 || chance.f64() < 0.5f64.powf(days / *half);
                memories.take(&answer(sign, now, right, if right { 1_000 } else { 7_000 }));
                last.insert(sign.clone(), now);
            }
        }
        let now = start + 30 * DAY;
        let recall = |sign: &str| 0.5f64.powf((now - last[sign]) as f64 / DAY as f64 / half_life[sign]);
        let due: Vec<String> = memories.due(now).into_iter().map(|(sign, _)| sign.clone()).collect();
        let mean =
            |signs: &[String]| signs.iter().map(|s| recall(s)).sum::<f64>() / signs.len().max(1) as f64;
        let rest: Vec<String> = half_life.keys().filter(|sign| !due.contains(sign)).cloned().collect();
        assert!(!due.is_empty() && !rest.is_empty());
        assert!(mean(&due) < mean(&rest), "due {} rest {}", mean(&due), mean(&rest));
    }

    #[test]
    fn a_long_pause_is_not_slow_and_clues_are_not_known() {
        assert_eq!(grade(&answer("letter a", 0, true, 400_000)), Rating::Good);
        assert_eq!(grade(&answer("letter a", 0, true, 9_000)), Rating::Hard);
        let mut clued = answer("letter a", 0, true, 900);
        clued.clues = 1;
        assert_eq!(grade(&clued), Rating::Again);
    }
}
