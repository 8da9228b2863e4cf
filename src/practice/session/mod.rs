//! A session: what is shown, asked and applied, one item after the other, in the time the learner has.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`item`] | what is asked, and how long it usually takes |
//! | [`wishes`] | how the learner wants it, and what there is to make lines of |
//! | [`place`] | where in the course the learner is |
//! | [`plan`] | what a session will hold, in a sentence |
//! | [`apply`] | words, lines to read, lines to write, rules: what is known, made use of |
//! | `choosing` | which item comes next |
//! | `by_rule` | how rules are asked: on words and lines that turn on a clause |
//! | [`summary`] | what came of it, and what comes next |
//! | [`saved`] | a session as text, so that a reload comes back to the same item |
//! | [`moment`] | for how long a sign is shown, of those that are to be told at sight |
//!
//! A session has three parts. In the first, new signs are shown and asked, and what is due is asked among them; then what is
//! known is applied; at the end what is not settled yet is asked once more. [`Session::next`] gives the next item,
//! an `answer_…` takes what became of it and says what the record is to keep.

pub mod apply;
mod by_rule;
mod choosing;
pub mod item;
pub mod moment;
pub mod place;
pub mod plan;
pub mod saved;
pub mod summary;
pub mod wishes;

use std::collections::HashSet;

use super::clauses;
use super::drill;
use super::due::Memories;
use super::kept::Kept;
use super::lines;
use super::lookalike;
use super::record::{Answer, Direction, Event, Record};
use super::supply::Supply;
use crate::ueb::register;
use apply::Use;
pub use item::{Item, thinking_time, usual_time};
use place::Place;
pub use wishes::{Rules, Wishes};

/// A sign that was asked alone in this session.
#[derive(Clone, Debug)]
struct Touched {
    key: &'static str,
    /// It was shown in this session.
    new: bool,
    asked: u32,
    /// Right answers; a wrong one takes one away.
    row: u32,
    slipped: bool,
    /// How often a word was asked for it that nothing but speed called for.
    more: u32,
    /// The step from which on it is to be asked again.
    again: Option<u32>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Part {
    Signs,
    Applying,
    Closing,
    Over,
}

/// How many items lie between two askings of a sign: after one right answer, and after two.
const BETWEEN: [u32; 2] = [4, 8];
/// How many items lie between a slip and the next asking.
const AFTER_A_SLIP: u32 = 3;
/// So often at most is one sign asked alone in a session.
const MOST_ASKED: u32 = 6;
/// A pause longer than this is not counted as practice, in milliseconds.
const LONGEST_COUNTED: u64 = 60_000;

/// A session under way.
#[derive(Clone, Debug)]
pub struct Session {
    wishes: Wishes,
    memories: Memories,
    place: Place,
    chance: fastrand::Rng,
    part: Part,
    /// The latest time it has been told of, and the time practised, in milliseconds.
    clock: u64,
    practised: u64,
    /// Time for what was asked so far: as it was, and as it usually is.
    took: u64,
    usually: u64,
    step: u32,
    /// Words and sentences among the signs.
    words: u32,
    new_left: usize,
    touched: Vec<Touched>,
    /// A sign that was shown and not asked yet.
    shown: Option<&'static str>,
    last: Option<&'static str>,
    uses: Vec<Use>,
    /// The signs that may stand in a line.
    met: HashSet<&'static str>,
    /// The clause that the item turns on, and the one that was asked last, by their sections.
    clause: Option<&'static str>,
    last_clause: Option<&'static str>,
    item: Option<Item>,
    score: summary::Score,
}

impl Session {
    /// A session on this record; `now` in milliseconds since 1970. The record is to keep [`Event::Session`] with it.
    pub fn begin(record: &Record, memories: &Memories, wishes: Wishes, now: u64, seed: u64) -> Session {
        let place = Place::of(memories, record, wishes.start);
        let score = summary::Score { unit_before: place.open, ..summary::Score::default() };
        let uses = apply::uses(&wishes, &place, memories, now);
        let all = super::units::units().iter().flat_map(|unit| unit.signs.iter().copied());
        let met = all.filter(|key| place.met(memories, key)).collect();
        Session {
            wishes,
            memories: memories.clone(),
            place,
            chance: fastrand::Rng::with_seed(seed),
            part: Part::Signs,
            clock: now,
            practised: 0,
            took: 0,
            usually: 0,
            step: 0,
            words: 0,
            new_left: plan::new_signs(wishes.minutes),
            touched: Vec::new(),
            shown: None,
            last: None,
            uses,
            met,
            clause: None,
            last_clause: None,
            item: None,
            score,
        }
    }

    /// What the record keeps of a beginning.
    pub fn event(&self) -> Event {
        Event::Session { minutes: self.wishes.minutes }
    }

    fn whole_time(&self) -> u64 {
        u64::from(self.wishes.minutes) * 60_000
    }

    /// How much of it is over, 0 to 1, by time.
    pub fn done(&self) -> f64 {
        if self.part == Part::Over { 1.0 } else { self.practised as f64 / self.whole_time().max(1) as f64 }
    }

    /// Time left, in milliseconds.
    pub fn left(&self) -> u64 {
        self.whole_time().saturating_sub(self.practised)
    }

    /// Items answered so far.
    pub fn answered(&self) -> u32 {
        self.score.answers
    }

    /// The unit, from 0, that the learner chose to begin at.
    pub fn start(&self) -> Option<usize> {
        self.wishes.start
    }

    /// The number of the item, from 1; a session that is read again goes on counting.
    pub fn step(&self) -> u32 {
        self.step
    }

    /// The open unit, from 0.
    pub fn unit(&self) -> usize {
        self.place.open
    }

    /// The item that is asked; `None` before the first, and when it is over.
    pub fn item(&self) -> Option<&Item> {
        self.item.as_ref()
    }

    /// Signs of the open units that look like the one asked, for the lesson of a new sign: those that were met before it come
    /// first.
    pub fn looks_like(&self, key: &str) -> Vec<&'static str> {
        let Some(sign) = register::by_key(key) else { return Vec::new() };
        let all: Vec<&'static str> = lookalike::of(sign)
            .into_iter()
            .map(|(other, _)| other.key)
            .filter(|key| super::units::unit_of(key).is_some_and(|unit| unit <= self.place.open))
            .collect();
        let (met, other): (Vec<_>, Vec<_>) =
            all.into_iter().partition(|key| self.place.met(&self.memories, key));
        met.into_iter().chain(other).collect()
    }

    /// A clock that was set back stands still; a long pause is no practice.
    fn tick(&mut self, now: u64) {
        self.practised += now.saturating_sub(self.clock).min(LONGEST_COUNTED);
        self.clock = self.clock.max(now);
    }

    /// How much slower (above 1) or quicker than usual this learner is.
    fn pace(&self) -> f64 {
        if self.usually < 20_000 { 1.0 } else { (self.took as f64 / self.usually as f64).clamp(0.2, 4.0) }
    }

    fn takes(&self, item: &Item) -> u64 {
        (usual_time(item) as f64 * self.pace()) as u64
    }

    /// The next item; `None` when the session is over. Words and lines come from the supply, when it is here.
    pub fn next(&mut self, now: u64, supply: Option<&Supply>) -> Option<&Item> {
        self.tick(now);
        if self.left() == 0 {
            self.part = Part::Over;
        }
        self.clause = None;
        self.item = self.choose(supply);
        if self.item.is_some() {
            self.step += 1;
        }
        self.item.as_ref()
    }

    fn touch(&mut self, key: &'static str) -> &mut Touched {
        let at = self.touched.iter().position(|one| one.key == key).unwrap_or_else(|| {
            self.touched.push(Touched {
                key,
                new: false,
                asked: 0,
                row: 0,
                slipped: false,
                more: 0,
                again: None,
            });
            self.touched.len() - 1
        });
        &mut self.touched[at]
    }

    /// The new sign on the screen was looked at; it is asked at once.
    pub fn seen(&mut self, now: u64) {
        self.tick(now);
        if let Some(Item::Show(key)) = self.item.take() {
            self.new_left = self.new_left.saturating_sub(1);
            self.touch(key).new = true;
            self.shown = Some(key);
            self.met.insert(key);
            self.score.met.push(key);
        }
    }

    /// Takes what was answered to a sign; `ms` is [`thinking_time`], in milliseconds. Says what the record is to keep.
    pub fn answer_sign(&mut self, judged: &drill::Judged, ms: u64, clues: u8, now: u64) -> Vec<Event> {
        let Some(Item::Ask(asked)) = self.item.clone() else { return Vec::new() };
        self.timed(now);
        let answer = Answer {
            at: self.clock,
            sign: asked.sign.to_owned(),
            direction: asked.direction,
            right: judged.right,
            ms,
            clues,
            instead: judged.instead.clone(),
            cause: judged.cause.to_owned(),
        };
        self.take(answer.clone());
        let right = judged.right && clues == 0;
        self.score.count(asked.sign, right);
        self.settle(asked.sign, right, true);
        self.last = Some(asked.sign);
        vec![Event::Answer(answer)]
    }

    /// When the sign is asked again in this session; `alone` when it was asked on its own.
    fn settle(&mut self, key: &'static str, right: bool, alone: bool) {
        let step = self.step;
        let touched = self.touch(key);
        touched.asked += u32::from(alone);
        touched.slipped |= !right;
        touched.row = if right { touched.row + 1 } else { touched.row.saturating_sub(1) };
        let goal = match (touched.new, touched.slipped) {
            (true, false) => 3,
            (true, true) => 2,
            (false, _) => 1,
        };
        touched.again = match touched.row {
            _ if touched.asked >= MOST_ASKED => None,
            _ if !right => Some(step + AFTER_A_SLIP),
            row if row < goal => Some(step + BETWEEN[(row as usize - 1).min(1)]),
            _ => None,
        };
    }

    /// Takes what became of a word or a line. Says what the record is to keep.
    pub fn answer_line(&mut self, judged: &lines::Judged, ms: u64, clues: u8, now: u64) -> Vec<Event> {
        let (line, direction) = match self.item.clone() {
            Some(Item::Read(line)) => (line, Direction::Read),
            Some(Item::Write(line)) => (line, Direction::Write),
            _ => return Vec::new(),
        };
        self.timed(now);
        let mut events: Vec<Event> = Vec::new();
        for answer in lines::answers(judged, direction, self.clock, ms, clues) {
            let key = register::by_key(&answer.sign).map(|sign| sign.key);
            self.take(answer.clone());
            // What slipped in a line is asked alone before the end; what was right there need not be.
            let waits = |key| self.touched.iter().any(|one| one.key == key && one.again.is_some());
            if let Some(key) =
                key.filter(|key| (!answer.right && !answer.cause.starts_with("rule")) || waits(*key))
            {
                self.settle(key, answer.right && clues == 0, false);
                if !answer.right {
                    self.score.slip(key);
                }
            }
            events.push(Event::Answer(answer));
        }
        if direction == Direction::Read {
            let words = line.print.split(' ').count() as u32;
            events.push(Event::Text {
                title: String::new(),
                words,
                cells: line.cells.len() as u32,
                ms,
                missed: (judged.slips.len() as u32).min(words),
            });
        }
        if let Some(section) = self.clause.take() {
            let broken = judged.slips.iter().any(|slip| lines::cause(slip.kind, false) == "rule");
            events.push(self.answer_clause(section, !broken, ms / line.cells.len().max(1) as u64));
        }
        self.score.line(judged.right && clues == 0);
        events
    }

    /// A clause, by its section, was kept or broken.
    fn answer_clause(&mut self, section: &'static str, right: bool, ms: u64) -> Event {
        let answer = Answer {
            at: self.clock,
            sign: clauses::key(section),
            direction: Direction::Rule,
            right,
            ms,
            clues: 0,
            instead: String::new(),
            cause: if right { String::new() } else { "rule".to_owned() },
        };
        self.last_clause = Some(section);
        self.take(answer.clone());
        Event::Answer(answer)
    }

    /// Takes whether the rules of a word were told right. Says what the record is to keep.
    pub fn answer_rule(&mut self, right: bool, ms: u64, now: u64) -> Vec<Event> {
        let Some(Item::Rule(section, _)) = self.item.clone() else { return Vec::new() };
        self.timed(now);
        self.clause = None;
        self.score.line(right);
        vec![self.answer_clause(section, right, ms)]
    }

    /// The item is over: how long it took, beside how long it usually takes.
    fn timed(&mut self, now: u64) {
        let before = self.practised;
        self.tick(now);
        if let Some(item) = self.item.take() {
            self.took += self.practised - before;
            self.usually += usual_time(&item);
        }
    }

    fn take(&mut self, answer: Answer) {
        let opened = |kept: Option<&Kept>| kept.is_some_and(Kept::kept);
        let before = opened(self.memories.kept.sign(&answer.sign));
        self.memories.take(&answer);
        let after = opened(self.memories.kept.sign(&answer.sign));
        if let Some(key) = register::by_key(&answer.sign).map(|sign| sign.key).filter(|_| before != after) {
            self.score.kept(key, after);
        }
        self.place.move_on(&self.memories);
    }

    /// Ends it, whatever is left.
    pub fn leave(&mut self, now: u64) {
        self.tick(now);
        self.item = None;
        self.part = Part::Over;
    }

    /// Whether it is over.
    pub fn is_over(&self) -> bool {
        self.part == Part::Over
    }

    /// What came of it.
    pub fn summary(&self) -> summary::Summary {
        summary::of(&self.score, &self.place, &self.memories, self.practised, self.clock)
    }
}

#[cfg(test)]
mod tests;
