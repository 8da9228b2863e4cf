//! Which item comes next, and in which direction a sign is asked.

use super::apply::{self, Use};
use super::item::Item;
use super::wishes::Ground;
use super::{Part, Session, Touched};
use crate::practice::kept::Kept;
use crate::practice::record::Direction;
use crate::practice::supply::Supply;
use crate::practice::{drill, lookalike, units};
use crate::ueb::register;

/// So often at most, words are asked for a sign of the open unit that is settled and not kept yet: when few such signs bar
/// the next unit, and when many do.
const MORE: (u32, u32) = (2, 1);
/// So many signs, about, stand in a word that is asked for them.
const IN_A_WORD: usize = 2;
/// So many new signs at most are in hand at a time.
const IN_HAND: usize = 4;
/// More signs due than these are much.
const MUCH: usize = 8;

impl Session {
    /// The next item, and the part of the session that it belongs to.
    pub(super) fn choose(&mut self, supply: Option<&Supply>) -> Option<Item> {
        if self.part == Part::Signs {
            if let Some(item) = self.sign_item(supply) {
                return Some(item);
            }
            self.part = Part::Applying;
        }
        if self.part == Part::Applying {
            while let Some(of) = self.uses.pop() {
                let mut ground = self.ground();
                let item = apply::item(of, &mut ground, supply);
                let clause = ground.clause;
                if let Some(item) = item.filter(|item| self.takes(item) <= self.left()) {
                    self.clause = clause;
                    return Some(item);
                }
            }
            self.part = Part::Closing;
        }
        if self.part == Part::Closing {
            if let Some(item) = self.closing_item() {
                return Some(item);
            }
            // A unit that opened while there is time goes on at once.
            let more = self.left() * 10 > self.whole_time() * 3
                && (self.new_sign().is_some() || self.due().is_some());
            if more && let Some(item) = self.sign_item(supply) {
                self.part = Part::Signs;
                return Some(item);
            }
            self.part = Part::Over;
        }
        None
    }

    /// What there is to make lines of.
    fn ground(&mut self) -> Ground<'_> {
        let waiting = self.touched.iter().filter(|one| one.again.is_some()).map(|one| one.key);
        let rest = self.touched.iter().filter(|one| one.again.is_none()).map(|one| one.key);
        let due = self.memories.kept.due(self.clock);
        let mut wanted: Vec<&'static str> = Vec::new();
        for key in waiting.chain(due).chain(rest) {
            if !wanted.contains(&key) {
                wanted.push(key);
            }
        }
        wanted.truncate(40);
        Ground {
            place: &self.place,
            memories: &self.memories,
            met: &self.met,
            wanted,
            now: self.clock,
            rules: self.wishes.rules,
            last_clause: self.last_clause,
            clause: None,
            chance: &mut self.chance,
        }
    }

    /// Time to be kept for what comes after the first part.
    fn reserve(&self) -> u64 {
        let uses: u64 = self.uses.iter().map(Use::usual_time).sum();
        let open = self.touched.iter().filter(|one| one.again.is_some()).count() as u64;
        let usual = uses + 4_000 * open.min(6);
        ((usual as f64 * self.pace()) as u64).min(self.whole_time() * 45 / 100)
    }

    fn ask(&self, key: &'static str) -> Item {
        Item::Ask(drill::Item { sign: key, direction: self.direction(key) })
    }

    fn sign_item(&mut self, supply: Option<&Supply>) -> Option<Item> {
        if let Some(key) = self.shown.take() {
            return Some(self.ask(key));
        }
        if self.left() <= self.reserve() {
            return None;
        }
        let new = self.new_sign();
        // Two that are known or due, then a new one: what is met stands among what is known. Where much is due, new ones come
        // less often.
        let every = if self.much_is_due() { 9 } else { 3 };
        if let Some(key) = new.filter(|_| self.step % every == 2) {
            return Some(Item::Show(key));
        }
        if let Some(item) = supply.and_then(|supply| self.word_item(supply)) {
            return Some(item);
        }
        // By turns, so that what is new in this session does not keep what is due waiting.
        let (ripe, due) = (self.ripe(), self.due());
        if let Some(key) = if self.step.is_multiple_of(2) { due.or(ripe) } else { ripe.or(due) } {
            return Some(self.ask(key));
        }
        if let Some(key) = new {
            return Some(Item::Show(key));
        }
        // What is not kept yet is read and written, while there is time, until it goes at sight.
        let unkept = self.unkept();
        if let Some(item) =
            supply.filter(|_| !unkept.is_empty()).and_then(|supply| self.line_with(supply, &unkept))
        {
            for key in unkept.iter().take(IN_A_WORD) {
                self.touch(key).more += 1;
            }
            return Some(item);
        }
        let untouched =
            unkept.iter().find(|key| !self.touched.iter().any(|one| one.key == **key && one.asked > 0));
        untouched.copied().or_else(|| self.soonest()).map(|key| self.ask(key))
    }

    /// The signs of the open unit that were met and are not kept.
    fn unkept(&mut self) -> Vec<&'static str> {
        let signs = units::units().get(self.place.open).map(|unit| unit.signs.as_slice()).unwrap_or_default();
        let opens =
            |key: &str| self.place.marked(key) || self.memories.kept.sign(key).is_some_and(Kept::opens);
        let mut unkept: Vec<&'static str> =
            signs.iter().copied().filter(|key| self.met.contains(key) && !opens(key)).collect();
        let most = if unkept.len() <= 3 { MORE.0 } else { MORE.1 };
        unkept.retain(|key| !self.touched.iter().any(|one| one.key == *key && one.more >= most));
        self.chance.shuffle(&mut unkept);
        unkept
    }

    /// A word or a sentence with several of the signs that are to be asked now, read and written by turns. What slipped is
    /// asked alone.
    fn word_item(&mut self, supply: &Supply) -> Option<Item> {
        let waiting = |one: &&Touched| one.again.is_some() && one.row > 0;
        let ripe = |one: &&Touched| one.again.is_some_and(|at| at <= self.step);
        let mut wanted: Vec<&'static str> =
            self.touched.iter().filter(waiting).filter(ripe).map(|one| one.key).collect();
        let fresh = |key: &&'static str| !self.touched.iter().any(|one| one.key == *key);
        let due: Vec<_> = self.memories.kept.due(self.clock).into_iter().filter(fresh).take(20).collect();
        // Now and then one that is due is asked alone, in the direction that it is weakest in.
        if wanted.is_empty() && (due.is_empty() || self.step % 4 == 1) {
            return None;
        }
        wanted.extend(due);
        wanted.extend(self.touched.iter().filter(waiting).filter(|one| !ripe(one)).map(|one| one.key));
        if wanted.is_empty() { None } else { self.line_with(supply, &wanted) }
    }

    fn line_with(&mut self, supply: &Supply, wanted: &[&'static str]) -> Option<Item> {
        let line = apply::together(&mut self.ground(), supply, wanted)?;
        self.words += 1;
        let item = if self.words.is_multiple_of(3) { Item::Write(line) } else { Item::Read(line) };
        (self.takes(&item) <= self.left()).then_some(item)
    }

    /// A sign whose time to be asked again has come.
    fn ripe(&self) -> Option<&'static str> {
        let ripe = self.touched.iter().filter(|one| one.again.is_some_and(|at| at <= self.step));
        ripe.filter(|one| Some(one.key) != self.last).min_by_key(|one| one.again).map(|one| one.key)
    }

    /// The sign that is to be asked again soonest, though its time has not come: nothing else is left.
    fn soonest(&self) -> Option<&'static str> {
        let waiting = self.touched.iter().filter(|one| one.again.is_some());
        waiting.min_by_key(|one| (Some(one.key) == self.last, one.again)).map(|one| one.key)
    }

    /// A sign that is due and was not asked yet: the one least likely to be recalled, or one that looks like the sign before
    /// it, so that the two meet.
    fn due(&self) -> Option<&'static str> {
        let due = self.memories.kept.due(self.clock);
        let fresh = |key: &&&'static str| !self.touched.iter().any(|one| one.key == **key);
        // Who chose to begin at a unit is asked its signs first; what is due of the units before waits until all are shown.
        let first = self.wishes.start.filter(|_| {
            let mut new = self.place.new_signs(&self.memories);
            new.any(|key| !self.touched.iter().any(|one| one.key == key))
        });
        let begins = |key: &&&'static str| first.is_none_or(|unit| units::unit_of(key) >= Some(unit));
        let due: Vec<&'static str> = due.iter().filter(fresh).filter(begins).take(12).copied().collect();
        let before = self.last.and_then(register::by_key);
        let meets = before.and_then(|before| {
            due.iter().copied().find(|key| {
                register::by_key(key).is_some_and(|sign| {
                    sign.cells.len() == 1
                        && before.cells.len() == 1
                        && lookalike::likeness(sign.cells[0], before.cells[0]).is_some()
                })
            })
        });
        meets.or(due.first().copied())
    }

    /// The next new sign, if the learner can take one in.
    fn new_sign(&mut self) -> Option<&'static str> {
        let in_hand = self.touched.iter().filter(|one| one.new && one.row < 2 && one.again.is_some()).count();
        if in_hand >= IN_HAND {
            return None;
        }
        // Who is right has time for more.
        let right = self.practised * 2 < self.whole_time() && self.score.wrong * 8 <= self.score.answers;
        if self.new_left == 0 && !right {
            return None;
        }
        self.place.new_signs(&self.memories).find(|key| !self.touched.iter().any(|one| one.key == *key))
    }

    /// Whether much is due that was not asked in this session.
    fn much_is_due(&self) -> bool {
        let due = self.memories.kept.due(self.clock);
        due.iter().filter(|key| !self.touched.iter().any(|one| one.key == **key)).count() > MUCH
    }

    fn closing_item(&mut self) -> Option<Item> {
        if let Some(key) = self.shown.take() {
            return Some(self.ask(key));
        }
        let time = (4_000.0 * self.pace()) as u64;
        if self.left() < time {
            return None;
        }
        self.ripe().or_else(|| self.soonest()).map(|key| self.ask(key))
    }

    /// The directions that this learner practises.
    fn directions(&self) -> &'static [Direction] {
        const PAPER: [Direction; 4] =
            [Direction::Read, Direction::Write, Direction::Numbers, Direction::SayNumbers];
        const SLATE: [Direction; 6] = [
            Direction::Read,
            Direction::Write,
            Direction::Numbers,
            Direction::SayNumbers,
            Direction::Slate,
            Direction::Back,
        ];
        if self.wishes.slate { &SLATE } else { &PAPER }
    }

    /// The direction in which a sign is asked next: a new one is read, written and read again; after a slip the same once
    /// more; else the one that it is weakest in, another than the last time.
    fn direction(&self, key: &str) -> Direction {
        if let Some(touched) = self.touched.iter().find(|one| one.key == key && one.new && !one.slipped) {
            return if touched.row == 1 { Direction::Write } else { Direction::Read };
        }
        let last = self.memories.kept.sign(key).and_then(|kept| kept.last);
        if let Some((direction, false)) = last.filter(|(direction, _)| self.directions().contains(direction))
        {
            return direction;
        }
        let recall = |direction: Direction| match self.memories.get(key, direction) {
            Some(memory) => memory.recall(self.clock),
            // A direction that was never asked comes first: reading and writing, then the others by turns.
            None if matches!(direction, Direction::Read | Direction::Write) => -100.0,
            None => -f64::from((self.step + direction as u32 * 5) % 7) - 1.0,
        };
        let others =
            self.directions().iter().copied().filter(|one| last.is_none_or(|(before, _)| before != *one));
        others.min_by(|one, two| recall(*one).total_cmp(&recall(*two))).unwrap_or(Direction::Read)
    }
}
