use super::*;
use crate::practice::due::DAY;
use crate::practice::record::Id;
use crate::practice::session::Rules;
use crate::practice::supply::tests::shipped;
use crate::practice::units::units;
use crate::ueb::{self, Options, ReadOptions};

const NOW: u64 = 1_790_000_000_000;
const JUDGES: Judges = Judges { read: lines::judge_read, write: lines::judge_written_line };
const WISHES: Wishes = Wishes { minutes: 10, slate: false, start: None, rules: Rules::ASKED };

/// A learner at the page.
#[derive(Default)]
struct Learner {
    record: Record,
    memories: Memories,
    n: u64,
}

impl Learner {
    fn keep(&mut self, now: u64, events: Vec<Event>) {
        for event in events {
            if let Event::Answer(answer) = &event {
                self.memories.take(answer);
            }
            self.record.add(Id { tab: "t".to_owned(), n: self.n }, now, event);
            self.n += 1;
        }
    }

    fn begin(&mut self, wishes: Wishes, supply: Option<&Supply>, now: u64) -> Sitting {
        let (sitting, events) = Sitting::begin(&self.record, &self.memories, wishes, supply, now, 5);
        self.keep(now, events);
        sitting
    }
}

fn typed(text: &str) -> Action {
    Action::Typed { text: text.to_owned(), took: Took { first: 700, whole: 900 } }
}

fn wrote(cells: &[Cell]) -> Action {
    Action::Wrote { lines: vec![cells.to_vec()], took: Took { first: 700, whole: 900 } }
}

/// The right answer to what stands on the screen.
fn right(sitting: &Sitting) -> Action {
    match sitting.scene().clone() {
        Scene::Keys | Scene::Item(Item::Show(_)) => Action::Seen,
        Scene::Item(Item::Ask(asked)) => {
            let sign = asked.sign().unwrap();
            match asked.direction {
                Direction::Write | Direction::NumbersCell => wrote(&sign.cells),
                Direction::SayNumbers | Direction::CellNumbers => typed(&drill::dots(&sign.cells)),
                Direction::Slate => Action::Punched { cells: sign.cells.clone(), took: Took::default() },
                _ => typed(if sign.print.is_empty() { sign.name } else { sign.print }),
            }
        }
        Scene::Item(Item::Read(line)) => typed(&line.print),
        Scene::Item(Item::Write(line)) => wrote(&line.cells),
        Scene::Item(Item::Rule(_, item)) => match sitting.reasons() {
            None => {
                let letters: Vec<&str> = item.used.iter().map(|(letters, _, _)| letters.as_str()).collect();
                typed(if letters.is_empty() { "none".to_owned() } else { letters.join(" ") }.as_str())
            }
            Some(reasons) => {
                let reason = reasons.iter().position(|why| *why == item.passed[0].why).unwrap();
                Action::Chose { reason, took: Took::default() }
            }
        },
        Scene::Over => panic!("it is over"),
    }
}

#[test]
fn a_newcomer_sees_a_sign_is_asked_it_and_has_answered_it() {
    let mut learner = Learner::default();
    let mut sitting = learner.begin(WISHES, None, NOW);
    assert!(sitting.is_first());
    assert_eq!(sitting.scene(), &Scene::Item(Item::Show("letter a")));
    sitting.act(Action::Seen, NOW + 5_000, None, &JUDGES);
    // Enter alone is no answer.
    assert!(sitting.act(typed("  "), NOW + 6_000, None, &JUDGES).is_empty());
    let turn = sitting.turn();
    let events = sitting.act(typed("a"), NOW + 7_000, None, &JUDGES);
    assert_eq!(events.len(), 1);
    assert!(sitting.turn() > turn && sitting.before().unwrap().says.starts_with("Right: a"));
}

#[test]
fn the_six_keys_are_tried_before_the_first_chord_of_the_first_session_alone() {
    let (mut learner, mut now) = (Learner::default(), NOW);
    for session in 0..2 {
        let mut sitting = learner.begin(WISHES, None, now);
        let mut keys = Vec::new();
        let mut wrote_before = false;
        while sitting.scene() != &Scene::Over {
            if sitting.scene() == &Scene::Keys {
                keys.push(wrote_before);
            }
            if let Scene::Item(item) = sitting.scene() {
                wrote_before |= words::by_keys(item);
            }
            now += 3_000;
            let action = right(&sitting);
            let events = sitting.act(action, now, None, &JUDGES);
            learner.keep(now, events);
        }
        assert_eq!(keys, if session == 0 { vec![false] } else { vec![] });
        now += DAY;
    }
}

#[test]
fn a_wrong_reading_is_told_in_readings_words_and_stands_until_one_goes_on() {
    let mut learner = Learner::default();
    let mut sitting = learner.begin(WISHES, None, NOW);
    let mut now = NOW;
    while sitting.sign().is_none_or(|sign| sign.key != "letter e")
        || !matches!(sitting.scene(), Scene::Item(Item::Ask(asked)) if asked.direction == Direction::Read)
    {
        now += 1_000;
        let action = right(&sitting);
        sitting.act(action, now, None, &JUDGES);
    }
    let turn = sitting.turn();
    let events = sitting.act(typed("i"), now + 900, None, &JUDGES);
    assert!(matches!(&events[0], Event::Answer(answer) if !answer.right && answer.cause == "eye"));
    let says = sitting.told().unwrap().says[0].clone();
    assert!(says.starts_with("You read “i”, it is “e”.") && says.contains("mirror"), "{says}");
    // Neither typing nor a clue changes it; going on does.
    assert!(sitting.act(typed("e"), now + 1_000, None, &JUDGES).is_empty());
    assert!(sitting.told().is_some() && sitting.turn() == turn + 1);
    sitting.act(Action::GoOn, now + 2_000, None, &JUDGES);
    assert!(sitting.told().is_none());
}

#[test]
fn a_slip_of_form_is_asked_again_and_not_recorded() {
    let mut learner = Learner::default();
    let mut sitting = learner.begin(WISHES, None, NOW);
    sitting.act(Action::Seen, NOW + 1, None, &JUDGES);
    assert!(sitting.act(typed("dot 1"), NOW + 2, None, &JUDGES).is_empty());
    assert!(sitting.hint().is_some() && sitting.told().is_none());
    assert_eq!(sitting.act(typed("a"), NOW + 3, None, &JUDGES).len(), 1);
    assert!(sitting.hint().is_none());
}

#[test]
fn a_line_read_wrong_is_asked_again_and_counts_once() {
    let supply = shipped();
    let (mut learner, mut now) = (Learner::default(), NOW);
    let mut sitting = learner.begin(WISHES, Some(&supply), NOW);
    let line = loop {
        if let Scene::Item(Item::Read(line)) = sitting.scene() {
            break line.clone();
        }
        now += 1_500;
        let action = right(&sitting);
        sitting.act(action, now, Some(&supply), &JUDGES);
    };
    let wrong = format!("{}x", line.print);
    assert!(!sitting.act(typed(&wrong), now, Some(&supply), &JUDGES).is_empty());
    assert!(sitting.told().unwrap().says[0].contains("Cell "), "{:?}", sitting.told());
    assert!(sitting.act(typed(&wrong), now, Some(&supply), &JUDGES).is_empty());
    assert!(sitting.act(typed(&line.print), now, Some(&supply), &JUDGES).is_empty());
    assert!(sitting.told().is_none() && sitting.before().unwrap().says.contains(&line.print));
}

/// A hundred lines with one wrong letter: what is said is reading's, at the cell whose sign has that letter, and the line is
/// asked again.
#[test]
fn a_hundred_readings_with_one_wrong_letter() {
    let supply = shipped();
    let mut chance = fastrand::Rng::with_seed(77);
    let mut learner = Learner::default();
    let mut sitting = learner.begin(WISHES, Some(&supply), NOW);
    let mut made = 0;
    while made < 100 {
        let contracted = made % 2 == 1;
        let Some(print) = supply.sentence(chance.usize(5..24), contracted, &[], &mut chance) else {
            continue;
        };
        let mut wrong: Vec<char> = print.chars().collect();
        let at = chance.usize(..wrong.len());
        let letter = chance.char('a'..='z');
        if !wrong[at].is_ascii_lowercase() || wrong[at] == letter {
            continue;
        }
        wrong[at] = letter;
        let cells = ueb::transcribe(&print, &Options { contracted, marks: false, ..Options::default() });
        let pieces = ueb::read(&cells, &ReadOptions { contracted, ..ReadOptions::default() }).pieces;
        let cell = pieces.iter().find(|piece| piece.print.contains(&at)).unwrap().cells.start;
        sitting.scene = Scene::Item(Item::Read(Line { print, cells, contracted }));
        sitting.told = None;
        sitting.act(typed(&wrong.into_iter().collect::<String>()), NOW, Some(&supply), &JUDGES);
        let told = sitting.told().expect("it is told");
        assert_eq!(told.at, [cell], "{:?}", sitting.scene());
        assert!(told.says[0].starts_with(&format!("Cell {}: you read “", cell + 1)), "{:?}", told.says);
        assert!(
            !told.says.iter().any(|say| say.contains("dots") || say.contains("write")),
            "{:?}",
            told.says
        );
        made += 1;
    }
}

#[test]
fn the_question_of_a_rule_comes_before_the_correction() {
    let item = rules::item("another");
    assert!(!item.passed.is_empty());
    let mut learner = Learner::default();
    let mut sitting = learner.begin(WISHES, None, NOW);
    sitting.session.leave(NOW);
    sitting.scene = Scene::Item(Item::Rule("10.4.1", item.clone()));
    sitting.act(typed("th er"), NOW, None, &JUDGES);
    assert!(sitting.told().is_none() && sitting.before().is_none());
    let reasons = sitting.reasons().unwrap().to_vec();
    assert!(reasons.len() > 2);
    sitting.act(Action::Chose { reason: 0, took: Took::default() }, NOW, None, &JUDGES);
    let told = sitting.told().unwrap();
    assert!(told.says[0].contains("a n o [the] r"), "{told:?}");
    assert!(told.says.last().unwrap().contains("not used in another"), "{told:?}");
}

/// Sixty right answers leave nothing due, whatever was due before.
#[test]
fn sixty_right_answers_bring_what_is_due_to_nought() {
    let supply = shipped();
    let (mut learner, mut now) = (Learner::default(), NOW);
    let mut answers = 0;
    for _ in 0..2 {
        let mut sitting = learner.begin(Wishes { minutes: 20, ..WISHES }, Some(&supply), now);
        while sitting.scene() != &Scene::Over {
            now += 1_200;
            let action = right(&sitting);
            let events = sitting.act(action, now, Some(&supply), &JUDGES);
            answers += usize::from(!events.is_empty());
            learner.keep(now, events);
        }
        assert!(sitting.session().unit() >= 1 && sitting.session().summary().answers > 0);
        assert_eq!(learner.memories.kept.due(now).len(), 0);
        now += DAY;
    }
    assert!(answers > 60, "{answers}");
}

#[test]
fn a_reload_comes_back_to_the_same_item() {
    let supply = shipped();
    let (mut learner, mut now) = (Learner::default(), NOW);
    let mut sitting = learner.begin(Wishes { minutes: 5, ..WISHES }, Some(&supply), now);
    let mut items = 0;
    while sitting.scene() != &Scene::Over {
        let text = sitting.to_text().expect("it goes on");
        let again =
            Sitting::from_text(&text, &learner.record, &learner.memories, Rules::ASKED, Some(&supply), now);
        let again = again.unwrap_or_else(|| panic!("{text}"));
        assert_eq!(again.scene(), sitting.scene());
        assert_eq!(again.to_text(), sitting.to_text());
        sitting = again;
        now += 2_500;
        let action = right(&sitting);
        let events = sitting.act(action, now, Some(&supply), &JUDGES);
        learner.keep(now, events);
        items += 1;
    }
    assert!(items > 30 && sitting.to_text().is_none());
    assert!(sitting.sight().is_some());
}

/// The answers of every direction are told right and wrong without a stop, for every sign of the course.
#[test]
fn every_sign_is_told_in_every_direction() {
    for key in units().iter().flat_map(|unit| &unit.signs) {
        let sign = register::by_key(key).unwrap();
        assert!(words::right(sign).starts_with("Right: "), "{key}");
        assert!(!words::in_the_lines(sign).is_empty());
        for direction in [Direction::Read, Direction::Numbers, Direction::Back] {
            let judged = drill::judge_meaning(sign, "zzz");
            let says = words::wrong(sign, direction, &judged);
            assert!(says.starts_with("You read “zzz”") && !says.contains("write"), "{says}");
        }
    }
}
