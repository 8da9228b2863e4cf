//! The two ways through the course, and what must hold on the way.

use std::collections::{HashMap, HashSet};

use cellwright::marking::Kind;
use cellwright::practice::due::Memories;
use cellwright::practice::lines::{Judged, Slip};
use cellwright::practice::record::{Answer, Direction, Event, Id, Record};
use cellwright::practice::session::{Item, Rules, Session, Wishes};
use cellwright::practice::supply::{self, Supply};
use cellwright::practice::told_line::Told;
use cellwright::practice::{drill, passages, ready, rules, units};
use cellwright::ueb::{self, Options};

use crate::person::{Parameters, Person};

const START: u64 = 1_800_000_000_000 / DAY * DAY + 18 * 3_600_000;
const DAY: u64 = 86_400_000;
/// Nobody is followed longer.
const DAYS: u64 = 365;

/// What is the same for all learners.
pub struct Course {
    supply: Supply,
    signs: Vec<&'static str>,
    /// The signs of contracted lines of about 40 cells, each once a line.
    lines: Vec<Vec<&'static str>>,
}

impl Course {
    pub fn shipped() -> Course {
        let file = |name: &str| {
            let path = format!("{}/www/data/{name}", env!("CARGO_MANIFEST_DIR"));
            std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"))
        };
        let [texts, frames, words] = ["passages.txt", "frames.txt", "words.txt"].map(file);
        let supply = Supply::parse(&texts, &frames, &words, &ready::write(&texts, &frames, &words));
        let signs: Vec<&'static str> =
            units::units().iter().flat_map(|unit| unit.signs.iter().copied()).collect();
        let mut lines = Vec::new();
        for passage in supply.passages.iter().filter(|passage| passage.contracted) {
            for piece in passages::pieces(&passage.text) {
                let cells =
                    ueb::transcribe(&piece, &Options { contracted: true, marks: true, ..Options::default() });
                for line in cells.chunks(40).filter(|line| line.len() == 40) {
                    // From blank to blank, so that no word is cut.
                    let blank = |cell: &cellwright::cell::Cell| cell.is_blank();
                    let (Some(first), Some(last)) =
                        (line.iter().position(blank), line.iter().rposition(blank))
                    else {
                        continue;
                    };
                    let Some(mut keys) = supply::signs_of(&line[first..last], true) else { continue };
                    keys.sort_unstable();
                    keys.dedup();
                    if keys.iter().all(|key| signs.contains(key)) {
                        lines.push(keys);
                    }
                }
            }
        }
        assert!(lines.len() > 100, "{} lines", lines.len());
        Course { supply, signs, lines }
    }

    /// One contracted line of 40 cells, drawn anew, is read without a miss.
    fn line_read(&self, person: &Person, at: u64, chance: &mut fastrand::Rng) -> bool {
        let line = &self.lines[chance.usize(..self.lines.len())];
        line.iter().all(|key| chance.f64() < person.recall(key, at))
    }

    /// 95% of all signs are recalled.
    fn signs_recalled(&self, person: &Person, at: u64, chance: &mut fastrand::Rng) -> bool {
        let recalled = self.signs.iter().filter(|key| chance.f64() < person.recall(key, at)).count();
        recalled * 20 >= self.signs.len() * 19
    }
}

/// How much it took until then.
pub struct Mark {
    pub answers: u64,
    pub minutes: u64,
    pub days: u64,
}

/// What became of one learner.
#[derive(Default)]
pub struct Walked {
    /// A contracted line of 40 cells is read without a miss.
    pub line: Option<Mark>,
    /// 95% of all signs are recalled.
    pub signs: Option<Mark>,
    /// What should have held and did not.
    pub broken: Vec<String>,
    answers: u64,
    /// Answers to signs alone, and to words and lines, until a line is read.
    pub alone: u64,
    pub lines: u64,
    ms: u64,
}

impl Walked {
    /// Notes what is reached at the end of a day; whether there is nothing left to reach.
    fn reach(&mut self, course: &Course, person: &Person, day: u64, at: u64) -> bool {
        let mut chance = fastrand::Rng::with_seed(at ^ self.answers);
        let mark = || Mark { answers: self.answers, minutes: self.ms / 60_000, days: day + 1 };
        if self.line.is_none() && course.line_read(person, at, &mut chance) {
            self.line = Some(mark());
        }
        if self.signs.is_none() && course.signs_recalled(person, at, &mut chance) {
            self.signs = Some(mark());
        }
        self.line.is_some() && self.signs.is_some()
    }
}

/// A judged sign.
fn judged(right: bool, instead: Option<&str>) -> drill::Judged {
    let instead = instead.unwrap_or_default().to_owned();
    drill::Judged { right, cause: if instead.is_empty() { "" } else { "eye" }, instead, says: String::new() }
}

pub fn by_sessions(course: &Course, parameters: &Parameters, seed: u64) -> Walked {
    let mut person = Person::new(parameters, seed);
    let minutes = parameters.get("minutes").max(5.0) as u32;
    let (mut record, mut memories, mut walked) = (Record::default(), Memories::default(), Walked::default());
    let mut n = 0;
    let mut keep = |record: &mut Record, memories: &mut Memories, at: u64, events: Vec<Event>| {
        for event in events {
            if let Event::Answer(answer) = &event {
                memories.take(answer);
            }
            record.add(Id { tab: "t".to_owned(), n }, at, event);
            n += 1;
        }
    };
    let mut shown: HashSet<&'static str> = HashSet::new();
    let mut whole_since = None;
    for day in 0..DAYS {
        if person.misses_today() {
            continue;
        }
        let mut at = START + day * DAY;
        let wishes = Wishes { minutes, slate: false, start: None, rules: Rules::ASKED };
        let mut session = Session::begin(&record, &memories, wishes, at, seed ^ day);
        keep(&mut record, &mut memories, at, vec![session.event()]);
        let began = at;
        let mut alone: HashMap<&'static str, (u32, bool)> = HashMap::new();
        let mut last = 0;
        while let Some(item) = session.next(at, Some(&course.supply)).cloned() {
            let before = at;
            let events = match item {
                Item::Show(key) => {
                    at += person.sees(key, at);
                    shown.insert(key);
                    session.seen(at);
                    Vec::new()
                }
                Item::Ask(asked) => {
                    if !shown.contains(asked.sign) {
                        walked.broken.push(format!("{} was asked before it was shown", asked.sign));
                    }
                    let writes = matches!(asked.direction, Direction::Write | Direction::SayNumbers);
                    let told = person.answers(asked.sign, writes, at);
                    at += told.ms + 1_000;
                    walked.answers += 1;
                    walked.alone += u64::from(walked.line.is_none());
                    let of = alone.entry(asked.sign).or_insert((0, true));
                    *of = (of.0 + 1, of.1 && told.right);
                    session.answer_sign(&judged(told.right, told.instead), told.ms, 0, at)
                }
                Item::Read(ref line) | Item::Write(ref line) => {
                    let writes = matches!(item, Item::Write(_));
                    let keys = supply::signs_of(&line.cells, line.contracted).unwrap_or_default();
                    for key in &keys {
                        if !shown.contains(key) {
                            walked.broken.push(format!("{key} stands in {} and was never shown", line.print));
                        }
                    }
                    let (told, ms) = person.line(&keys, writes, at);
                    at += ms + 1_500;
                    walked.answers += 1;
                    walked.lines += u64::from(walked.line.is_none());
                    let slip = |(key, told): &(&'static str, crate::person::Told)| {
                        (!told.right).then(|| Slip {
                            sign: key,
                            kind: Kind::WrongSign,
                            instead: told.instead.unwrap_or_default().to_owned(),
                            say: String::new(),
                            ask: None,
                        })
                    };
                    let slips: Vec<Slip> = told.iter().filter_map(slip).collect();
                    let signs = told.iter().map(|(key, _)| *key).collect();
                    for slip in &slips {
                        alone.entry(slip.sign).or_insert((0, true)).1 = false;
                    }
                    session.answer_line(
                        &Judged { right: slips.is_empty(), slips, signs, told: Told::default() },
                        ms,
                        0,
                        at,
                    )
                }
                Item::Rule(key, of) => {
                    assert!(rules::judge(&of, &used(&of)));
                    let told = person.answers(key, false, at);
                    at += 12_000;
                    walked.answers += 1;
                    session.answer_rule(told.right, 12_000, at)
                }
            };
            keep(&mut record, &mut memories, at, events);
            last = at - before;
        }
        let over = (at - began).saturating_sub(u64::from(minutes) * 60_000);
        if over > last {
            walked.broken.push(format!("a session was {over} ms too long"));
        }
        if let Some((key, (times, _))) = alone.iter().find(|(_, (times, right))| *right && *times > 3) {
            walked.broken.push(format!("{key} was asked {times} times while always right"));
        }
        let summary = session.summary();
        // What was to be asked is settled, unless time was up or a sign would not stick today.
        let given_up = alone.values().filter(|(times, _)| *times >= 6).count();
        if session.left() > 30_000 && summary.due > given_up {
            walked.broken.push(format!(
                "{} still due on day {day} with {} ms left",
                summary.due,
                session.left()
            ));
        }
        if summary.whole && whole_since.is_none() {
            whole_since = Some(day);
        }
        walked.ms += at - began;
        if walked.reach(course, &person, day, at) && whole_since.is_some() {
            break;
        }
    }
    if whole_since.is_none() {
        walked.broken.push(format!("not every unit opened in {DAYS} days"));
    }
    walked
}

fn used(of: &rules::Item) -> String {
    let letters: Vec<&str> = of.used.iter().map(|(letters, _, _)| letters.as_str()).collect();
    if letters.is_empty() { "none".to_owned() } else { letters.join(" ") }
}

pub fn by_deck(course: &Course, parameters: &Parameters, seed: u64) -> Walked {
    let mut person = Person::new(parameters, seed);
    let minutes = parameters.get("minutes").max(5.0) as u64;
    let (mut memories, mut walked) = (Memories::default(), Walked::default());
    let mut new = course.signs.iter().copied();
    for day in 0..DAYS {
        if person.misses_today() {
            continue;
        }
        let began = START + day * DAY;
        let mut at = began;
        let mut new_left = parameters.get("new_a_day") as u64;
        let mut last = None;
        while at < began + minutes * 60_000 {
            // What is due, the fresh ones when their minutes are over; then a new one; then the fresh ones early.
            let due = memories.kept.due(at);
            let next = due.iter().find(|key| Some(**key) != last).copied();
            let next = next.or_else(|| {
                let fresh = if new_left > 0 { new.next() } else { None };
                fresh.inspect(|key| {
                    new_left -= 1;
                    at += person.sees(key, at);
                })
            });
            let fresh = || {
                let kept = |key: &&'static str| memories.kept.sign(key).filter(|kept| kept.unsettled());
                let fresh = course.signs.iter().filter_map(|key| Some((kept(key)?.due(), *key)));
                fresh.min_by_key(|(due, key)| (Some(*key) == last, *due)).map(|(_, key)| key)
            };
            let Some(key) = next.or_else(fresh) else { break };
            let told = person.answers(key, false, at);
            at += told.ms + 1_000;
            walked.answers += 1;
            memories.take(&Answer {
                at,
                sign: key.to_owned(),
                direction: Direction::Read,
                right: told.right,
                ms: told.ms,
                clues: 0,
                instead: told.instead.unwrap_or_default().to_owned(),
                cause: String::new(),
            });
            last = Some(key);
        }
        walked.ms += at - began;
        if walked.reach(course, &person, day, at) {
            break;
        }
    }
    walked
}
