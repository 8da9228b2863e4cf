//! A session as it is seen: what stands on the screen, what the learner does, and what follows from it. No clock and no
//! browser: the page hands in the time and draws [`Sitting`]; [`Sitting::act`] says what the record is to keep.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`words`] | what is said: what is asked, what it was, what was told right or wrong |
//! | [`greeting`] | what is told before a session begins, for every day that it may begin on |
//! | [`saved`] | a sitting as text, for a reload |

pub mod greeting;
pub mod saved;
pub mod words;

use crate::cell::Cell;
use crate::marking::cause::FollowUp;
use crate::practice::due::Memories;
use crate::practice::line::Line;
use crate::practice::misread::misread;
use crate::practice::record::{Direction, Event, Record};
use crate::practice::session::place::sessions;
use crate::practice::session::{Item, Session, Wishes, thinking_time};
use crate::practice::supply::Supply;
use crate::practice::{drill, lines, rules, units};
use crate::ueb::register::{self, Sign};

/// What stands on the screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Scene {
    /// Before the first chord of a learner's first session: the six keys, to be tried.
    Keys,
    /// An item of the session.
    Item(Item),
    /// It is over: what came of it.
    Over,
}

/// What the learner does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Action {
    /// The new sign was looked at, or the keys were tried.
    Seen,
    /// Something was typed.
    Typed {
        /// What was typed.
        text: String,
        /// How long it took, in milliseconds.
        took: Took,
    },
    /// Cells were written, line by line.
    Wrote {
        /// The lines.
        lines: Vec<Vec<Cell>>,
        /// How long it took.
        took: Took,
    },
    /// Cells were punched on a slate, as the reader of the paper has them.
    Punched {
        /// The cells.
        cells: Vec<Cell>,
        /// How long it took.
        took: Took,
    },
    /// A reason was chosen, by its place.
    Chose {
        /// Its place among the reasons.
        reason: usize,
        /// How long it took.
        took: Took,
    },
    /// A clue is wanted.
    Clue,
    /// What was wrong was looked at: on to the next.
    GoOn,
    /// Enough for now.
    Leave,
}

/// How long an answer took, in milliseconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Took {
    /// To the first key.
    pub first: u64,
    /// To the answer.
    pub whole: u64,
}

/// What is said of an answer that was wrong. It stands until the learner goes on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Told {
    /// What it was, a sentence a slip.
    pub says: Vec<String>,
    /// The cells that were wrong, by their place in the line.
    pub at: Vec<usize>,
    /// How it is written; empty where its cells are what was asked.
    pub cells: Vec<Cell>,
    /// What may be asked first, to tell whether eye, hand or rule failed, and the time of the answer it is about.
    pub ask: Option<(FollowUp, u64)>,
}

/// What became of the item before the one on the screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Before {
    /// Its cells; none for a line.
    pub cells: Vec<Cell>,
    /// What it was, in a few words.
    pub says: String,
    /// Whether it was told at sight.
    pub at_sight: bool,
}

/// The two questions about a rule.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Why {
    /// Whether the letters were told right.
    letters: bool,
    reasons: Vec<&'static str>,
    /// How long the letters took, in milliseconds.
    ms: u64,
}

/// How lines are judged: with marking, or beside their own braille where there is none.
#[derive(Clone, Copy)]
pub struct Judges {
    /// Print that was typed as what a line says: the print, its cells, contracted or not, what was typed.
    pub read: fn(&str, &[Cell], bool, &str) -> lines::Judged,
    /// Lines that were written for a line.
    pub write: fn(&Line, &[Vec<Cell>]) -> lines::Judged,
}

/// So quick is at sight: the aim, in milliseconds.
pub const AIM: u64 = 1_000;

/// A session and what stands of it on the screen.
#[derive(Clone, Debug)]
pub struct Sitting {
    session: Session,
    /// It is the learner's first.
    first: bool,
    keys_tried: bool,
    scene: Scene,
    told: Option<Told>,
    before: Option<Before>,
    why: Option<Why>,
    /// What was wrong with the form of an answer, which is no lapse.
    hint: Option<&'static str>,
    /// How often the line on the screen was answered.
    tries: u32,
    clues: u8,
    news: Option<usize>,
    /// Times of signs told right by reading, in milliseconds.
    sights: Vec<u64>,
    turn: u32,
}

impl Sitting {
    /// A session begins. The record is to keep the events beside it.
    pub fn begin(
        record: &Record,
        memories: &Memories,
        wishes: Wishes,
        supply: Option<&Supply>,
        now: u64,
        seed: u64,
    ) -> (Sitting, Vec<Event>) {
        let session = Session::begin(record, memories, wishes, now, seed);
        let events = vec![session.event()];
        let first = sessions(record) == 0;
        let keys_tried = memories.were_asked(Direction::Write);
        let mut sitting = Sitting::of(session, first, keys_tried, Scene::Over, Vec::new());
        sitting.next(now, supply);
        (sitting, events)
    }

    /// A session with nothing on the screen yet.
    fn of(session: Session, first: bool, keys_tried: bool, scene: Scene, sights: Vec<u64>) -> Sitting {
        Sitting {
            session,
            first,
            keys_tried,
            scene,
            told: None,
            before: None,
            why: None,
            hint: None,
            tries: 0,
            clues: 0,
            news: None,
            sights,
            turn: 0,
        }
    }

    /// What stands on the screen.
    pub fn scene(&self) -> &Scene {
        &self.scene
    }

    /// What is said of a wrong answer.
    pub fn told(&self) -> Option<&Told> {
        self.told.as_ref()
    }

    /// What became of the item before.
    pub fn before(&self) -> Option<&Before> {
        self.before.as_ref()
    }

    /// What was wrong with the form of what was typed.
    pub fn hint(&self) -> Option<&'static str> {
        self.hint
    }

    /// The reasons to choose from, why letters of the word on the screen are not contracted.
    pub fn reasons(&self) -> Option<&[&'static str]> {
        self.why.as_ref().map(|why| why.reasons.as_slice())
    }

    /// How many clues were asked for.
    pub fn clues(&self) -> usize {
        usize::from(self.clues)
    }

    /// A number for what stands on the screen: another one is another thing to look at.
    pub fn turn(&self) -> u32 {
        self.turn
    }

    /// The unit, from 0, that has just opened.
    pub fn news(&self) -> Option<usize> {
        self.news
    }

    /// Whether it is the learner's first session.
    pub fn is_first(&self) -> bool {
        self.first
    }

    /// The session itself: its time, its unit, what came of it.
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// For how long the cells are shown, in milliseconds; `None` for as long as one likes. What was told wrong stands.
    pub fn moment(&self) -> Option<u64> {
        if self.told.is_some() { None } else { self.session.moment() }
    }

    /// The middle of the times in which signs were told right by reading, in milliseconds; `None` for fewer than three.
    pub fn sight(&self) -> Option<u64> {
        let mut sights = self.sights.clone();
        sights.sort_unstable();
        (sights.len() > 2).then(|| sights[sights.len() / 2])
    }

    /// Does what the learner does; `now` in milliseconds since 1970. Says what the record is to keep.
    pub fn act(&mut self, action: Action, now: u64, supply: Option<&Supply>, judges: &Judges) -> Vec<Event> {
        let unit = self.session.unit();
        let events = match action {
            Action::Leave => {
                self.session.leave(now);
                self.scene = Scene::Over;
                self.changed();
                return Vec::new();
            }
            Action::Clue => {
                if self.told.is_none() {
                    self.clues = self.clues.saturating_add(1).min(5);
                }
                return Vec::new();
            }
            Action::GoOn if self.told.is_some() => {
                self.next(now, supply);
                return Vec::new();
            }
            Action::GoOn => return Vec::new(),
            action => self.answer(action, now, supply, judges),
        };
        if self.session.unit() > unit {
            self.news = Some(self.session.unit());
        } else if !events.is_empty() {
            self.news = None;
        }
        events
    }

    fn answer(&mut self, action: Action, now: u64, supply: Option<&Supply>, judges: &Judges) -> Vec<Event> {
        match (self.scene.clone(), action) {
            (Scene::Keys, Action::Seen) => {
                self.keys_tried = true;
                self.next(now, supply);
                Vec::new()
            }
            (Scene::Item(Item::Show(_)), Action::Seen) => {
                self.session.seen(now);
                self.next(now, supply);
                Vec::new()
            }
            (Scene::Item(Item::Ask(asked)), action) if self.told.is_none() => {
                let Some(sign) = asked.sign() else { return Vec::new() };
                let Some((judged, ms)) = self.judge(sign, asked.direction, action) else { return Vec::new() };
                self.judged(sign, asked.direction, judged, ms, now, supply)
            }
            (Scene::Item(Item::Read(line)), Action::Typed { text, took }) => {
                if text.trim().is_empty() {
                    return Vec::new();
                }
                let judged = (judges.read)(&line.print, &line.cells, line.contracted, &text);
                let at = misread(&line.cells, line.contracted, &text).iter().map(|one| one.cell).collect();
                self.line_judged(&line, judged, at, took, now, supply)
            }
            (Scene::Item(Item::Write(line)), Action::Wrote { lines, took }) if self.told.is_none() => {
                let written: Vec<Vec<Cell>> = lines.into_iter().filter(|line| !line.is_empty()).collect();
                if written.iter().flatten().all(|cell| cell.is_blank()) {
                    return Vec::new();
                }
                let judged = (judges.write)(&line, &written);
                self.line_judged(&line, judged, Vec::new(), took, now, supply)
            }
            (Scene::Item(Item::Rule(_, item)), action) if self.told.is_none() => {
                self.rule(&item, action, now, supply)
            }
            _ => Vec::new(),
        }
    }

    /// How an answer to a sign came out, and how long it took; `None` where there is no answer yet.
    fn judge(&mut self, sign: &Sign, direction: Direction, action: Action) -> Option<(drill::Judged, u64)> {
        match action {
            Action::Typed { text, took } => {
                if text.trim().is_empty() {
                    return None;
                }
                self.hint = drill::slip_of_form(sign, direction, &text);
                if self.hint.is_some() {
                    return None;
                }
                let judged = match direction {
                    Direction::SayNumbers | Direction::CellNumbers => drill::judge_numbers(sign, &text),
                    _ => drill::judge_meaning(sign, &text),
                };
                Some((judged, thinking_time(took.first, took.whole, text.chars().count())))
            }
            Action::Wrote { lines, took } => {
                let cells: Vec<Cell> = lines.into_iter().flatten().filter(|cell| !cell.is_blank()).collect();
                // As many cells as the sign has: that is the answer.
                let whole = cells.len() >= sign.cells.len();
                whole.then(|| {
                    (
                        drill::judge_cells(sign, direction, &cells),
                        took.first.max(took.whole / cells.len() as u64),
                    )
                })
            }
            Action::Punched { cells, took } if direction == Direction::Slate => {
                if cells.iter().all(|cell| cell.is_blank()) {
                    return None;
                }
                let mirrored: Vec<Cell> = cells.iter().rev().map(|cell| cell.mirror()).collect();
                Some((drill::judge_cells(sign, direction, &mirrored), took.whole))
            }
            _ => None,
        }
    }

    fn judged(
        &mut self,
        sign: &'static Sign,
        direction: Direction,
        judged: drill::Judged,
        ms: u64,
        now: u64,
        supply: Option<&Supply>,
    ) -> Vec<Event> {
        let events = self.session.answer_sign(&judged, ms, self.clues, now);
        if judged.right {
            if direction == Direction::Read && self.clues == 0 {
                self.sights.push(ms);
            }
            self.before = Some(Before {
                cells: sign.cells.clone(),
                says: words::right(sign),
                at_sight: direction == Direction::Read && self.clues == 0 && ms <= AIM,
            });
            self.next(now, supply);
        } else {
            self.before = None;
            self.told = Some(Told {
                says: vec![words::wrong(sign, direction, &judged)],
                at: Vec::new(),
                cells: sign.cells.clone(),
                ask: None,
            });
            self.changed();
        }
        events
    }

    fn line_judged(
        &mut self,
        line: &Line,
        judged: lines::Judged,
        at: Vec<usize>,
        took: Took,
        now: u64,
        supply: Option<&Supply>,
    ) -> Vec<Event> {
        let reads = matches!(self.scene, Scene::Item(Item::Read(_)));
        // The first answer counts; what is read again after a slip does not.
        let events = if self.tries == 0 {
            self.session.answer_line(&judged, took.whole, self.clues, now)
        } else {
            Vec::new()
        };
        self.tries += 1;
        if judged.right {
            self.before =
                Some(Before { cells: Vec::new(), says: format!("Right: {}", line.print), at_sight: false });
            self.next(now, supply);
            return events;
        }
        let answered_at = events.iter().find_map(|event| match event {
            Event::Answer(answer) => Some(answer.at),
            _ => None,
        });
        let ask = judged.slips.iter().find_map(|slip| slip.ask);
        self.before = None;
        self.told = Some(Told {
            says: judged.slips.iter().take(3).map(|slip| slip.say.clone()).collect(),
            at,
            cells: if reads { Vec::new() } else { line.cells.clone() },
            ask: if reads { None } else { ask.zip(answered_at) },
        });
        self.changed();
        events
    }

    /// A word and its rules: first which letters, then why not the others; only then what it is.
    fn rule(&mut self, item: &rules::Item, action: Action, now: u64, supply: Option<&Supply>) -> Vec<Event> {
        let (letters, why, ms) = match (self.why.clone(), action) {
            (None, Action::Typed { text, took }) if !text.trim().is_empty() => {
                let letters = rules::judge(item, &text);
                match item.passed.first() {
                    Some(passed) => {
                        let mut chance = fastrand::Rng::with_seed(now);
                        let reasons = rules::reasons(&item.word, passed, &mut chance);
                        self.why = Some(Why { letters, reasons, ms: took.whole });
                        self.changed();
                        return Vec::new();
                    }
                    None => (letters, true, took.whole),
                }
            }
            (Some(why), Action::Chose { reason, took }) => {
                let Some(chosen) = why.reasons.get(reason) else { return Vec::new() };
                let right = item.passed.first().is_some_and(|passed| passed.why == *chosen);
                (why.letters, right, why.ms + took.whole)
            }
            _ => return Vec::new(),
        };
        self.why = None;
        let events = self.session.answer_rule(letters && why, ms, now);
        if letters && why {
            let says = format!("Right: {}", rules::taken_apart(item));
            self.before = Some(Before { cells: Vec::new(), says, at_sight: false });
            self.next(now, supply);
        } else {
            self.before = None;
            let says = words::rule(item, letters, why);
            self.told = Some(Told { says, at: Vec::new(), cells: Vec::new(), ask: None });
            self.changed();
        }
        events
    }

    fn next(&mut self, now: u64, supply: Option<&Supply>) {
        self.told = None;
        self.why = None;
        self.tries = 0;
        self.clues = 0;
        // What was to be asked before the keys were tried is asked now.
        let waiting = self.scene == Scene::Keys;
        let item = if waiting { self.session.item() } else { self.session.next(now, supply) }.cloned();
        self.scene = match item {
            None => Scene::Over,
            Some(item) if !self.keys_tried && words::by_keys(&item) => Scene::Keys,
            Some(item) => Scene::Item(item),
        };
        self.changed();
    }

    fn changed(&mut self) {
        self.hint = None;
        self.turn += 1;
    }

    /// Whether this is the last item: the time is up.
    pub fn time_is_up(&self) -> bool {
        self.session.left() == 0 && self.scene != Scene::Over
    }

    /// The sign on the screen, if a sign stands there.
    pub fn sign(&self) -> Option<&'static Sign> {
        match &self.scene {
            Scene::Item(Item::Show(key)) => register::by_key(key),
            Scene::Item(Item::Ask(asked)) => asked.sign(),
            _ => None,
        }
    }

    /// The title of the unit that has just opened.
    pub fn opened(&self) -> Option<&'static str> {
        self.news.and_then(|unit| units::units().get(unit)).map(|unit| unit.title)
    }
}

#[cfg(test)]
mod tests;
