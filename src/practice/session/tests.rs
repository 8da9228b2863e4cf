use std::collections::{HashMap, HashSet};

use super::plan::{self, Plan};
use super::*;
use crate::practice::due::DAY;
use crate::practice::line::Line;
use crate::practice::record::Id;
use crate::practice::record::Record;
use crate::practice::supply::tests::shipped;
use crate::practice::units::units;

pub(super) const NOW: u64 = 1_790_000_000_000;

pub(super) fn wishes(minutes: u32) -> Wishes {
    Wishes { minutes, slate: false, start: None, rules: Rules::ASKED }
}

pub(super) fn right() -> drill::Judged {
    drill::Judged { right: true, instead: String::new(), cause: "", says: String::new() }
}

fn wrong() -> drill::Judged {
    drill::Judged { right: false, ..right() }
}

/// A learner with a record, who sits down to sessions.
#[derive(Default)]
pub(super) struct Learner {
    pub record: Record,
    pub memories: Memories,
    n: u64,
}

/// What was asked, in order: shown, or asked and how.
#[derive(Default)]
struct Sat {
    shown: Vec<&'static str>,
    asked: Vec<(&'static str, Direction)>,
    lines: Vec<Line>,
    rules: u32,
    /// Each item in a word.
    order: Vec<String>,
}

impl Learner {
    pub fn keep(&mut self, at: u64, events: Vec<Event>) {
        for event in events {
            if let Event::Answer(answer) = &event {
                self.memories.take(answer);
            }
            self.record.add(Id { tab: "t".to_owned(), n: self.n }, at, event);
            self.n += 1;
        }
    }

    pub fn begin(&mut self, wishes: Wishes, now: u64) -> Session {
        let session = Session::begin(&self.record, &self.memories, wishes, now, 7);
        self.keep(now, vec![session.event()]);
        session
    }

    /// Answers all that is asked; `knows` says whether a sign is told right, `ms` how long each answer takes.
    fn sit(
        &mut self,
        session: &mut Session,
        supply: Option<&Supply>,
        now: &mut u64,
        ms: u64,
        knows: &dyn Fn(&str, u32) -> bool,
    ) -> Sat {
        let mut sat = Sat::default();
        let mut times: HashMap<&'static str, u32> = HashMap::new();
        while let Some(item) = session.next(*now, supply).cloned() {
            *now += ms;
            let mut judged = right();
            match item {
                Item::Show(key) => {
                    sat.shown.push(key);
                    sat.order.push(format!("show {key}"));
                }
                Item::Ask(asked) => {
                    sat.asked.push((asked.sign, asked.direction));
                    sat.order.push(format!("ask {}", asked.sign));
                    let time = times.entry(asked.sign).or_default();
                    *time += 1;
                    if !knows(asked.sign, *time) {
                        judged = wrong();
                    }
                }
                Item::Read(line) | Item::Write(line) => {
                    sat.order.push(format!("line {}", line.print));
                    sat.lines.push(line);
                }
                Item::Rule(..) => sat.rules += 1,
            }
            self.keep(*now, answer(session, &judged, ms, *now));
        }
        sat
    }
}

/// What is asked is answered: a line and a rule right, a sign as it is judged here.
pub(super) fn answer(session: &mut Session, judged: &drill::Judged, ms: u64, now: u64) -> Vec<Event> {
    match session.item().cloned().expect("an item") {
        Item::Show(_) => {
            session.seen(now);
            Vec::new()
        }
        Item::Ask(_) => session.answer_sign(judged, ms, 0, now),
        Item::Read(line) | Item::Write(line) => {
            let signs = crate::practice::supply::signs_of(&line.cells, line.contracted).unwrap();
            let judged = lines::Judged { right: true, slips: Vec::new(), signs, told: Default::default() };
            session.answer_line(&judged, ms, 0, now)
        }
        Item::Rule(..) => session.answer_rule(true, ms, now),
    }
}

fn always(_: &str, _: u32) -> bool {
    true
}

#[test]
fn a_newcomer_is_shown_a_sign_then_asked_it() {
    let mut learner = Learner::default();
    let mut session = learner.begin(wishes(10), NOW);
    let first = session.next(NOW, None).cloned();
    assert_eq!(first, Some(Item::Show("letter a")));
    session.seen(NOW + 4_000);
    let asked = drill::Item { sign: "letter a", direction: Direction::Read };
    assert_eq!(session.next(NOW + 4_000, None), Some(&Item::Ask(asked)));
}

#[test]
fn nothing_is_asked_before_it_was_shown_and_each_new_sign_comes_again() {
    let supply = shipped();
    for supply in [None, Some(&supply)] {
        let (mut learner, mut now) = (Learner::default(), NOW);
        let mut session = learner.begin(wishes(10), now);
        let sat = learner.sit(&mut session, supply, &mut now, 2_500, &always);
        let mut shown: HashSet<&str> = HashSet::new();
        let mut met: HashMap<&str, u32> = HashMap::new();
        let mut lines = sat.lines.iter();
        for (n, entry) in sat.order.iter().enumerate() {
            if let Some(key) = entry.strip_prefix("show ") {
                shown.insert(key);
                assert_eq!(sat.order.get(n + 1), Some(&format!("ask {key}")), "asked at once");
            } else if let Some(key) = entry.strip_prefix("ask ") {
                assert!(shown.contains(key), "{key}");
                *met.entry(key).or_default() += 1;
            } else if entry.starts_with("line ") {
                let line = lines.next().unwrap();
                for key in crate::practice::supply::signs_of(&line.cells, line.contracted).unwrap() {
                    assert!(shown.contains(key), "{key} in {}", line.print);
                    *met.entry(key).or_default() += 1;
                }
            }
        }
        assert!(shown.len() >= 10, "{shown:?}");
        for key in &shown {
            assert!(met[key] >= 3, "{key} came {} times", met[key]);
        }
    }
}

#[test]
fn unit_1_is_left_within_one_session_when_all_is_right() {
    let supply = shipped();
    for minutes in plan::LENGTHS {
        for supply in [None, Some(&supply)] {
            let (mut learner, mut now) = (Learner::default(), NOW);
            let mut session = learner.begin(wishes(minutes), now);
            learner.sit(&mut session, supply, &mut now, 900, &always);
            assert!(session.unit() >= 1, "{minutes} minutes");
            assert!(session.summary().opened.is_some());
        }
    }
}

#[test]
fn who_begins_at_unit_11_is_shown_and_asked_its_eight_signs_first() {
    let supply = shipped();
    let (mut learner, mut now) = (Learner::default(), NOW);
    let mut session = learner.begin(Wishes { start: Some(10), ..wishes(10) }, now);
    let sat = learner.sit(&mut session, Some(&supply), &mut now, 1_200, &always);
    let unit = &units()[10];
    assert_eq!(unit.signs.len(), 8);
    assert_eq!(&sat.shown[..8], &unit.signs[..]);
    let eight: HashSet<&str> = sat.asked.iter().map(|(key, _)| *key).take(8).collect();
    assert!(eight.iter().all(|key| unit.signs.contains(key)), "{eight:?}");
}

#[test]
fn what_is_due_reaches_nought_when_all_is_answered() {
    let supply = shipped();
    for supply in [None, Some(&supply)] {
        let (mut learner, mut now) = (Learner::default(), NOW);
        for _ in 0..6 {
            let mut session = learner.begin(wishes(20), now);
            learner.sit(&mut session, supply, &mut now, 1_000, &always);
            now += DAY;
        }
        now += 200 * DAY;
        let due = learner.memories.kept.due(now).len();
        assert!(due > 40, "{due}");
        let mut session = learner.begin(wishes(20), now);
        let sat = learner.sit(&mut session, supply, &mut now, 1_500, &always);
        assert_eq!(learner.memories.kept.due(now).len(), 0);
        assert_eq!(session.summary().due, 0);
        let mut directions: Vec<Direction> = sat.asked.iter().map(|(_, direction)| *direction).collect();
        directions.sort_unstable();
        directions.dedup();
        assert!(directions.len() >= 2, "{directions:?}");
    }
}

#[test]
fn a_sign_always_right_is_asked_alone_three_times_at_most() {
    let supply = shipped();
    for ms in [600, 2_000, 5_000, 12_000] {
        for supply in [None, Some(&supply)] {
            let (mut learner, mut now) = (Learner::default(), NOW);
            for _ in 0..5 {
                let mut session = learner.begin(wishes(10), now);
                let sat = learner.sit(&mut session, supply, &mut now, ms, &always);
                for key in &sat.shown {
                    assert!(sat.asked.iter().filter(|(asked, _)| asked == key).count() <= 3, "{key} at {ms}");
                }
                now += DAY;
            }
        }
    }
}

#[test]
fn a_slip_comes_again_and_is_told_in_the_summary() {
    let (mut learner, mut now) = (Learner::default(), NOW);
    let mut session = learner.begin(wishes(5), now);
    let sat = learner.sit(&mut session, None, &mut now, 2_000, &|key, time| key != "letter b" || time > 2);
    let times = sat.asked.iter().filter(|(key, _)| *key == "letter b").count();
    assert!((4..=6).contains(&times), "{times}");
    assert!(session.summary().slipped.contains(&"letter b"));
    // Never twice running while there is another.
    assert!(sat.order.windows(2).filter(|two| two[0] == "ask letter b" && two[0] == two[1]).count() <= 1);
}

#[test]
fn it_ends_in_its_time_and_with_a_summary() {
    let supply = shipped();
    for (minutes, ms) in [(5, 3_000), (10, 9_000), (20, 30_000), (5, 59_000)] {
        let (mut learner, mut now) = (Learner::default(), NOW);
        let mut session = learner.begin(wishes(minutes), now);
        learner.sit(&mut session, Some(&supply), &mut now, ms, &always);
        assert!(session.is_over() && session.item().is_none());
        assert!(now - NOW <= u64::from(minutes) * 60_000 + ms, "{minutes} {ms}");
        let summary = session.summary();
        assert!(summary.answers > 0 && !summary.next_step().is_empty());
    }
}

/// Time up in the middle of an item: the answer still counts, then it is over. A pause is no practice; a clock set back
/// neither lengthens nor breaks anything.
#[test]
fn time_up_a_pause_and_a_clock_set_back() {
    let mut learner = Learner::default();
    let mut session = learner.begin(wishes(5), NOW);
    session.next(NOW, None);
    session.seen(NOW + 3_000);
    session.next(NOW + 3_000, None);
    // Away for two hours.
    let events = session.answer_sign(&right(), 7_200_000, 0, NOW + 7_203_000);
    assert_eq!(events.len(), 1);
    assert!(session.left() > 3 * 60_000, "{}", session.left());
    // The clock is set back by a day.
    assert!(session.next(NOW - DAY, None).is_some());
    session.seen(NOW - DAY + 5_000);
    let left = session.left();
    session.next(NOW - DAY + 10_000, None);
    assert!(session.left() <= left);
    let mut at = NOW + 7_203_000;
    while session.left() > 0 {
        at += 30_000;
        match session.item() {
            Some(Item::Show(_)) => session.seen(at),
            Some(_) => drop(session.answer_sign(&right(), 1_000, 0, at)),
            None => break,
        }
        if session.left() > 0 {
            session.next(at, None);
        }
    }
    assert!(session.next(at, None).is_none() && session.is_over());
    assert_eq!(session.summary().answers, session.answered());
}

#[test]
fn leaving_ends_in_a_summary_too() {
    let mut learner = Learner::default();
    let mut session = learner.begin(wishes(5), NOW);
    session.next(NOW, None);
    session.leave(NOW + 1_000);
    assert!(session.next(NOW + 1_000, None).is_none());
    assert!(session.summary().next_step().contains("Nothing was asked"));
}

#[test]
fn the_last_part_applies_with_a_line_to_read_and_a_line_to_write() {
    let supply = shipped();
    let (mut learner, mut now) = (Learner::default(), NOW);
    let mut session = learner.begin(wishes(10), now);
    let (mut read, mut written) = (0, 0);
    while let Some(item) = session.next(now, Some(&supply)).cloned() {
        now += 2_000;
        match item {
            Item::Show(_) => session.seen(now),
            Item::Ask(_) => drop(session.answer_sign(&right(), 2_000, 0, now)),
            Item::Read(ref line) | Item::Write(ref line) => {
                let long = u32::from(line.print.contains(' '));
                if matches!(item, Item::Read(_)) {
                    read += long
                } else {
                    written += long
                }
                let signs = crate::practice::supply::signs_of(&line.cells, line.contracted).unwrap();
                let judged =
                    lines::Judged { right: true, slips: Vec::new(), signs, told: Default::default() };
                drop(session.answer_line(&judged, 2_000, 0, now));
            }
            Item::Rule(..) => drop(session.answer_rule(true, 2_000, now)),
        }
    }
    assert!(read >= 1 && written >= 1, "{read} read, {written} written");
    drop(learner.record);
}

#[test]
fn a_record_of_before_keeps_its_place() {
    let mut learner = Learner::default();
    let mut now = NOW;
    let asked = |learner: &mut Learner, now: &mut u64, units: std::ops::Range<usize>| {
        for key in crate::practice::units::units()[units].iter().flat_map(|unit| unit.signs.clone()) {
            *now += 3_000;
            let answer = Answer {
                at: *now,
                sign: key.to_owned(),
                direction: Direction::Read,
                right: true,
                ms: 4_000,
                clues: 0,
                instead: String::new(),
                cause: String::new(),
            };
            learner.keep(*now, vec![Event::Answer(answer)]);
        }
    };
    asked(&mut learner, &mut now, 0..4);
    // Four units were asked: the fifth is open, whatever is kept.
    assert_eq!(Place::of(&learner.memories, &learner.record, None).open, 4);
    let mut session = learner.begin(wishes(5), now);
    assert_eq!(session.unit(), 4);
    let sat = learner.sit(&mut session, None, &mut now, 4_000, &always);
    assert_eq!(sat.shown.first(), Some(&units()[4].signs[0]));
    // From the first session on, asking is not enough.
    asked(&mut learner, &mut now, 4..5);
    assert_eq!(Place::of(&learner.memories, &learner.record, None).open, 4);
}

#[test]
fn the_whole_course_kept_leaves_lines_to_read() {
    let supply = shipped();
    let mut learner = Learner::default();
    let marks: Vec<Event> = units()
        .iter()
        .flat_map(|unit| unit.signs.iter())
        .map(|key| Event::Mark { sign: (*key).to_owned(), on: true })
        .collect();
    learner.keep(NOW, marks);
    let mut now = NOW + 1_000;
    let mut session = learner.begin(wishes(5), now);
    assert_eq!(session.unit(), units().len() - 1);
    let sat = learner.sit(&mut session, Some(&supply), &mut now, 8_000, &always);
    assert!(sat.lines.len() >= 3 && sat.shown.is_empty(), "{} lines", sat.lines.len());
    assert!(session.summary().whole);
}

#[test]
fn a_missed_rule_comes_back_on_a_new_word() {
    let supply = shipped();
    let mut learner = Learner::default();
    let slip = Answer {
        at: NOW,
        sign: "groupsign ea".to_owned(),
        direction: Direction::Write,
        right: false,
        ms: 1_000,
        clues: 0,
        instead: String::new(),
        cause: "rule".to_owned(),
    };
    learner.keep(NOW, vec![Event::Answer(slip)]);
    let mut now = NOW + DAY;
    let mut session = learner.begin(Wishes { start: Some(12), ..wishes(5) }, now);
    let mut found = None;
    while let Some(item) = session.next(now, Some(&supply)).cloned() {
        now += 1_000;
        if let Item::Rule(key, item) = item {
            found = Some((key, item.word));
        }
        learner.keep(now, answer(&mut session, &right(), 900, now));
    }
    let (key, word) = found.expect("the rule is asked");
    assert_eq!(key, "10.6.5");
    let turns = |letters: &str| ["ea", "bb", "cc", "ff", "gg"].iter().any(|one| letters.contains(one));
    assert!(turns(&word), "{word}");
}

#[test]
fn the_slate_is_asked_only_of_who_wants_it() {
    for slate in [false, true] {
        let (mut learner, mut now) = (Learner::default(), NOW);
        let mut directions = HashSet::new();
        for _ in 0..12 {
            let mut session = learner.begin(Wishes { slate, ..wishes(5) }, now);
            let sat = learner.sit(&mut session, None, &mut now, 2_000, &always);
            directions.extend(sat.asked.into_iter().map(|(_, direction)| direction));
            now += 20 * DAY;
        }
        assert_eq!(directions.contains(&Direction::Slate), slate);
        assert_eq!(directions.contains(&Direction::Back), slate);
    }
}

#[test]
fn the_plan_is_told_in_a_sentence() {
    let plan = Plan { new: 3, due: 12, read: 2, write: 1, minutes: 10, whole: false };
    assert_eq!(plan.words(), "3 new signs, 12 due, 2 lines to read, 1 to write: about 10 minutes");
    let plan = Plan { new: 0, due: 1, read: 1, write: 0, minutes: 1, whole: false };
    assert_eq!(plan.words(), "1 sign due, 1 line to read: about 1 minute");
    let learner = Learner::default();
    let plan = plan::of(&learner.record, &learner.memories, &wishes(10), NOW);
    assert_eq!((plan.new, plan.due), (10, 0));
    assert!(plan.minutes <= 10);
}

#[test]
fn typing_a_long_name_is_no_slowness() {
    assert_eq!(thinking_time(700, 900, 1), 700);
    assert_eq!(thinking_time(800, 3_500, 9), 800);
    assert_eq!(thinking_time(300, 9_000, 2), 8_400);
    assert_eq!(thinking_time(5_000, 400, 0), 400);
}

#[test]
fn sixty_right_answers_leave_nothing_due() {
    let supply = shipped();
    let four: Vec<&'static str> = units().iter().take(4).flat_map(|unit| &unit.signs).copied().collect();
    for seed in 0..10 {
        for supply in [None, Some(&supply)] {
            let mut learner = Learner::default();
            for (key, days) in four.iter().flat_map(|key| [(key, 303), (key, 301)]) {
                let at = NOW - days * DAY;
                learner.keep(at, vec![Event::Answer(Answer::read(key, at, true, 900))]);
            }
            assert!(learner.memories.kept.due(NOW).len() >= 30);
            let mut session = Session::begin(&learner.record, &learner.memories, wishes(20), NOW, seed);
            let (mut now, mut answers) = (NOW, 0);
            while answers < 60
                && let Some(item) = session.next(now, supply).cloned()
            {
                now += 1_500;
                answers += u32::from(!matches!(item, Item::Show(_)));
                let events = answer(&mut session, &right(), 1_500, now);
                learner.keep(now, events);
            }
            // New signs were met meanwhile, and are not due while they are in hand.
            assert!(!session.score.met.is_empty());
            assert_eq!(learner.memories.kept.due(now), [""; 0]);
        }
    }
}
