//! One memory per sign and direction, and when it is due.
//!
//! The scheduling itself is in [`super::scheduler`]. Memories are never stored: they are worked out anew from the learner's log, so that merging two logs is enough.

use rs_fsrs::{Card, Rating, State};

use super::kept::AllKept;
use super::record::{Answer, Direction, Record};
pub use super::scheduler::{AT_SIGHT, DAY, PAUSE, SLOW};
use super::scheduler::{card_of_text, card_to_text, milliseconds, moment, recall_of, scheduled};

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
        // A clock that was set back: the scheduler knows no answer before the last one.
        let at = moment(answer.at).max(self.card.last_review);
        self.card = scheduled(&self.card, at, grade(answer));
        self.answers += 1;
        self.right += u32::from(answer.right && answer.clues == 0);
    }

    /// When it is due, in milliseconds since 1970.
    pub fn due(&self) -> u64 {
        milliseconds(self.card.due)
    }

    /// The chance, 0 to 1, that it is recalled at this time.
    pub fn recall(&self, now: u64) -> f64 {
        recall_of(&self.card, milliseconds(self.card.last_review), now)
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
    /// What is kept of each sign, whichever way it was asked.
    pub kept: AllKept,
}

impl Memories {
    /// The memories that a log leaves.
    pub fn of(record: &Record) -> Memories {
        let mut memories = Memories::of_past(record);
        for answer in record.answers() {
            memories.take(&answer);
        }
        memories
    }

    /// The memories that the answers long past have left, before those that the log still holds one by one.
    pub fn of_past(record: &Record) -> Memories {
        let mut memories = Memories::default();
        for fields in record.past.of_kind("memory") {
            memories.take_line(&fields);
        }
        for fields in record.past.of_kind("kept") {
            memories.kept.take_line(&fields);
        }
        memories
    }

    /// The memories as lines of a past.
    pub(super) fn to_lines(&self) -> Vec<String> {
        let memory = |((sign, direction), memory): &(Key, Memory)| {
            let Memory { card, answers, right } = memory;
            format!("memory\t{sign}\t{}\t{}\t{answers}\t{right}", direction.name(), card_to_text(card))
        };
        let mut lines: Vec<String> = self.all.iter().map(memory).collect();
        lines.extend(self.kept.to_lines());
        lines
    }

    /// What cannot be read is a sign that was never asked.
    fn take_line(&mut self, fields: &[&str]) -> Option<()> {
        let [sign, direction, card, answers, right] = fields else { return None };
        let direction = Direction::of(direction)?;
        let (answers, right) = (answers.parse().ok()?, right.parse().ok()?);
        let memory = Memory { card: card_of_text(card)?, answers, right };
        let at = self.find(sign, direction).err()?;
        self.all.insert(at, (((*sign).to_owned(), direction), memory));
        Some(())
    }

    /// Takes in one more answer.
    pub fn take(&mut self, answer: &Answer) {
        let at = self.find(&answer.sign, answer.direction).unwrap_or_else(|at| {
            self.all.insert(at, ((answer.sign.clone(), answer.direction), Memory::new()));
            at
        });
        self.all[at].1.take(answer);
        self.kept.take(answer);
    }

    /// How many memories there are.
    pub fn len(&self) -> usize {
        self.all.len()
    }

    /// Whether nothing was asked yet.
    pub fn is_empty(&self) -> bool {
        self.all.is_empty()
    }

    /// Whether any sign was ever asked in this direction.
    pub fn were_asked(&self, direction: Direction) -> bool {
        self.all.iter().any(|((_, way), _)| *way == direction)
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
                memories.take(&Answer::read(sign, now, right, if right { 1_000 } else { 7_000 }));
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
    fn a_clock_set_back_loses_no_memory() {
        let mut memories = Memories::default();
        let (late, early) = (1_800_000_000_000, 1_700_000_000_000);
        for at in [late, late + DAY, early, early + DAY, early - DAY] {
            memories.take(&Answer::read("letter a", at, true, 1_000));
            let memory = memories.get("letter a", Direction::Read).unwrap();
            assert!(memory.card.stability.is_finite() && memory.due() > late);
            assert!((0.0..=1.0).contains(&memory.recall(early)));
        }
    }

    #[test]
    fn a_long_pause_is_not_slow_and_clues_are_not_known() {
        assert_eq!(grade(&Answer::read("letter a", 0, true, 400_000)), Rating::Good);
        assert_eq!(grade(&Answer::read("letter a", 0, true, 9_000)), Rating::Hard);
        let mut clued = Answer::read("letter a", 0, true, 900);
        clued.clues = 1;
        assert_eq!(grade(&clued), Rating::Again);
    }
}
