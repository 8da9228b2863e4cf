//! Every sentence on a slip, for every kind of exercise and every state of the work: forged, empty, faultless, tried twice, half done.
//! What is true is worked out here from what was put into the work, not from the marking that the sentences are made of.

use cellwright::cell::{self, Cell};
use cellwright::exercise::proofread::{self, Plants, Proof};
use cellwright::exercise::round::{Act, Round, judge};
use cellwright::exercise::{Asks, Exercise, Slip, Task, Trial, Try, told};
use cellwright::manuscript::file::BrailleFile;
use cellwright::ueb;

const KINDS: [&str; 7] =
    ["read", "dot numbers", "signs written", "write", "slate", "transcribe", "proofread"];

/// How much of the work is done, and how.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Done {
    Nothing,
    Half,
    OneWrong,
    Faultless,
}

fn exercise(kind: &str) -> Exercise {
    let of = |task: Task, text: &str| Exercise {
        title: "Notice 2".into(),
        task,
        text: text.into(),
        ..Exercise::default()
    };
    let signs = |task: Task| Exercise {
        signs: vec!["letter c".into(), "groupsign st".into(), "groupsign ound".into(), "letter k".into()],
        ..of(task, "")
    };
    match kind {
        "read" => of(Task::Read, "The ferry leaves.\nNo dogs.\nNo cats.\nBoots off."),
        "dot numbers" => signs(Task::DotNumbers),
        "signs written" => signs(Task::Write),
        "write" => of(Task::Write, "boats go at ten"),
        "slate" => of(Task::Slate, "boats go at ten"),
        "transcribe" => {
            Exercise { help: false, trial: Some(Trial::default()), ..of(Task::Transcribe, "boats go at ten") }
        }
        _ => Exercise {
            plants: Some(Plants { rate: 120, ..Plants::default() }),
            ..of(
                Task::Proofread,
                "The ferry leaves from the quay at ten in the morning and comes back in the afternoon.",
            )
        },
    }
}

fn proof_of(set: &Exercise) -> Option<Proof> {
    let plants = set.plants.as_ref()?;
    Some(proofread::proof(&set.text, set.contracted, plants))
}

/// The work, how much is asked and how much of it is right.
fn work(set: &Exercise, done: Done) -> (String, u32, u32) {
    if set.is_a_round() {
        return round(set, done);
    }
    if let Some(proof) = proof_of(set) {
        let all = proof.planted.len();
        assert!(all >= 4, "{all} are planted");
        let called = match done {
            Done::Nothing => 0,
            Done::Half => all / 2,
            Done::OneWrong => all - 1,
            Done::Faultless => all,
        };
        let calls: Vec<proofread::Call> = proof.planted[..called]
            .iter()
            .map(|one| proofread::Call { line: one.line, cell: one.cells.start, kind: Some(one.kind) })
            .collect();
        return (proofread::calls_to_text(&calls), all as u32, called as u32);
    }
    let mut cells = ueb::transcribe("boats go at ten", &set.options());
    let words: Vec<&[Cell]> = cells.split(|cell| cell.is_blank()).collect();
    assert_eq!(words.len(), 4);
    let two = words[0].len() + 1 + words[1].len();
    let right = match done {
        Done::Nothing => {
            cells.clear();
            0
        }
        Done::Half => {
            cells.truncate(two);
            2
        }
        Done::OneWrong => {
            // The last cell, "en" of "ten" (section 10.6 of the standard), as from the back.
            let at = cells.len() - 1;
            assert_ne!(cells[at], cells[at].mirror());
            cells[at] = cells[at].mirror();
            3
        }
        Done::Faultless => 4,
    };
    let indent = if set.task == Task::Transcribe && done != Done::Nothing { "  " } else { "" };
    (format!("{indent}{}", cell::to_ascii(&cells)), 4, right)
}

fn round(set: &Exercise, done: Done) -> (String, u32, u32) {
    let mut round = Round::begin(3);
    let list = round.list(set);
    let (answered, right) = match done {
        Done::Nothing => (0, 0),
        Done::Half => (2, 2),
        Done::OneWrong => (4, 3),
        Done::Faultless => (4, 4),
    };
    for (at, item) in list.iter().enumerate().take(answered) {
        let answer =
            if at < right { answer_to(set, &item.asked()) } else { "1-2-3-4-5-6 nonsense".to_owned() };
        round = round.act(set, Act::Type(answer.clone()));
        let judged = judge(set, item, &answer);
        assert_eq!(judged.right, at < right, "{answer:?} to {:?}", item.asked());
        round = round.act(set, Act::Answer(judged)).act(set, Act::Next);
    }
    if answered < list.len() {
        round = round.act(set, Act::End);
    }
    (round.work(), list.len() as u32, right as u32)
}

/// The right answer: print for a line; for a sign its dot numbers (sections 4.1, 10.4 and 10.8 of the standard).
fn answer_to(set: &Exercise, asked: &str) -> String {
    if set.task == Task::Read {
        return asked.to_owned();
    }
    let numbers =
        [("letter c", "1-4"), ("groupsign st", "3-4"), ("groupsign ound", "4-6 1-4-5"), ("letter k", "1-3")];
    numbers
        .iter()
        .find(|(key, _)| asked == *key)
        .map_or_else(|| panic!("{asked:?}"), |(_, numbers)| (*numbers).to_owned())
}

fn tried(set: &Exercise, done: Done) -> (Try, u32, u32) {
    let (work, asked, right) = work(set, done);
    let proof = proof_of(set);
    let one = Try { day: "2026-11-25".into(), ..Try::of(set, proof.as_ref(), work, 95, false) };
    (one, asked, right)
}

/// The slip as its teacher gets it.
fn rows(slip: &Slip) -> Vec<(String, String)> {
    let slip = Slip::from_payload(&slip.to_payload().unwrap()).unwrap();
    told::rows(&slip, &slip.all_marked_anew())
}

fn of<'a>(rows: &'a [(String, String)], name: &str) -> &'a str {
    rows.iter().find(|(named, _)| named == name).map_or("", |(_, says)| says)
}

/// What the exercise counts, and what came of it.
fn unit(kind: &str) -> (&'static str, &'static str) {
    match kind {
        "proofread" => ("planted mistakes", "found"),
        "read" | "dot numbers" | "signs written" => ("items", "right"),
        _ => ("words", "right"),
    }
}

fn sentences(says: &str) -> Vec<String> {
    says.split_inclusive(". ").map(|one| one.trim().to_owned()).collect()
}

const SAME: &str = "Marked on this computer it comes to the same.";
const FAULTLESS: &str = "There is no mistake in it.";
const NOTHING: [&str; 2] = ["Nothing is written in it.", "Nothing was called in it."];

#[test]
fn honest_work_of_every_kind_and_state() {
    for kind in KINDS {
        let set = exercise(kind);
        for done in [Done::Nothing, Done::Half, Done::OneWrong, Done::Faultless] {
            let (one, asked, right) = tried(&set, done);
            let rows = rows(&Slip::of(&set, &[one], proof_of(&set).as_ref()));
            let says = of(&rows, "Result");
            let (unit, came) = unit(kind);
            let context = format!("{kind}, {done:?}: {says}");
            assert!(
                says.starts_with(&format!("{right} of {asked} {unit} {came}, 1 min 35 s, ")),
                "{context}"
            );
            let all = sentences(says);
            assert!(all.iter().any(|one| one == SAME), "{context}");
            assert!(!says.contains("otherwise") && !says.contains("could not be marked"), "{context}");
            assert_eq!(all.iter().any(|one| one == FAULTLESS), done == Done::Faultless, "{context}");
            // Nothing in it is told once, in the words of the task.
            let nothing = NOTHING[usize::from(kind == "proofread")];
            assert_eq!(all.iter().any(|one| one == nothing), done == Done::Nothing, "{context}");
            assert!(!all.iter().any(|one| one == NOTHING[usize::from(kind != "proofread")]), "{context}");
            // What is left: of a sheet to proofread nothing is ever called left.
            let left = match done {
                _ if kind == "proofread" => 0,
                Done::Nothing => asked,
                Done::Half => asked / 2,
                _ => 0,
            };
            let left = match (left, unit) {
                (0, _) => None,
                (left, "items") => Some(format!("{left} items were not answered.")),
                (left, _) => Some(format!("{left} {unit} are not written.")),
            };
            let told = all.iter().find(|one| one.contains("not answered") || one.contains("not written"));
            assert_eq!(told, left.as_ref(), "{context}");
            // One try has neither a best nor a sum.
            assert_eq!(
                (of(&rows, "Best"), of(&rows, "Time in all"), of(&rows, "Left out")),
                ("", "", ""),
                "{context}"
            );
            let help = match kind {
                "write" | "slate" | "transcribe" => "no help was to be had",
                _ => "without help",
            };
            assert!(says.contains(help), "{context}");
        }
    }
}

#[test]
fn forged_work_of_every_kind() {
    for kind in KINDS {
        let set = exercise(kind);
        let (one, asked, right) = tried(&set, Done::Half);
        let (unit, came) = unit(kind);
        // A better score, a worse one, another count, no time at all.
        for (told_right, told_asked) in
            [(asked, asked), (right - 1, asked), (right, right), (right + 40, asked + 40)]
        {
            let forged = Try { right: told_right, asked: told_asked, ..one.clone() };
            let rows = rows(&Slip::of(&set, &[forged], proof_of(&set).as_ref()));
            let says = of(&rows, "Result");
            assert!(
                says.starts_with(&format!("{told_right} of {told_asked} {unit} {came}, ")),
                "{kind}: {says}"
            );
            let anew = format!(
                "Marked on this computer it is {right} of {asked} {unit} {came}: the slip says otherwise."
            );
            assert!(sentences(says).contains(&anew), "{kind}: {says}");
            assert!(!says.contains(SAME) && !says.contains(FAULTLESS), "{kind}: {says}");
        }
        // A time of more than a day is no time.
        let slow = Try { seconds: 90_000, ..one.clone() };
        let rows_slow = rows(&Slip::of(&set, &[slow], proof_of(&set).as_ref()));
        assert!(of(&rows_slow, "Result").contains(", time unknown, "), "{kind}: {rows_slow:?}");
        // Work that is no work of this exercise counts for nothing.
        let noise =
            Try { work: "%%%\tfoo\tright\u{2028}\n99 99 none".into(), right: asked, asked, ..one.clone() };
        let rows = rows(&Slip::of(&set, &[noise], proof_of(&set).as_ref()));
        assert!(of(&rows, "Result").contains(": the slip says otherwise."), "{kind}: {rows:?}");
        assert!(!of(&rows, "Result").contains(FAULTLESS), "{kind}: {rows:?}");
        // Without its exercise it can't be marked, and that is said.
        let bare = Slip { set: None, sheet: None, ..Slip::of(&set, std::slice::from_ref(&one), None) };
        let rows = self::rows(&bare);
        if kind != "proofread" {
            let says = of(&rows, "Result");
            assert!(
                says.ends_with("It could not be marked here: the score is the learner’s computer’s word."),
                "{kind}: {says}"
            );
            assert!(
                !says.contains(SAME) && !says.contains(FAULTLESS) && !says.contains("otherwise"),
                "{kind}: {says}"
            );
        }
    }
}

#[test]
fn work_of_every_kind_tried_twice() {
    for kind in KINDS {
        let set = exercise(kind);
        let (unit, came) = unit(kind);
        for (first, second) in
            [(Done::OneWrong, Done::Faultless), (Done::Faultless, Done::Half), (Done::Half, Done::Half)]
        {
            let ((one, asked, before), (two, _, after)) = (tried(&set, first), tried(&set, second));
            let rows = rows(&Slip::of(&set, &[one, two], proof_of(&set).as_ref()));
            let context = format!("{kind}, {first:?} then {second:?}: {rows:?}");
            assert_eq!(of(&rows, "Result"), "", "{context}");
            for (name, right, done) in [("First try", before, first), ("Second try", after, second)] {
                let says = of(&rows, name);
                assert!(says.starts_with(&format!("{right} of {asked} {unit} {came}, ")), "{context}");
                assert_eq!(says.contains(FAULTLESS), done == Done::Faultless, "{context}");
            }
            // Of equal ones the first.
            let best = if after > before { ("second", after) } else { ("first", before) };
            assert_eq!(
                of(&rows, "Best"),
                format!("The {} try: {} of {asked} {unit} {came}.", best.0, best.1),
                "{context}"
            );
            assert_eq!(of(&rows, "Time in all"), "3 min 10 s", "{context}");
            if kind == "transcribe" {
                // A trial: each try against the pass line, in mistakes a page.
                for (name, done) in [("First against it", first), ("Second against it", second)] {
                    let says = of(&rows, name);
                    match done {
                        Done::Faultless => assert_eq!(says, "Passed: 0 mistakes a page.", "{context}"),
                        Done::OneWrong => assert_eq!(says, "Passed: 1 mistake a page.", "{context}"),
                        _ => assert!(says.contains("assed: ") && !says.contains(": 0 "), "{context}"),
                    }
                }
                let cured = of(&rows, "Cured");
                assert_eq!(
                    !cured.is_empty(),
                    (first, second) == (Done::OneWrong, Done::Faultless),
                    "{context}"
                );
            }
        }
        // Of two tries one is forged: it alone is told to be.
        let ((one, ..), (two, ..)) = (tried(&set, Done::Half), tried(&set, Done::OneWrong));
        let asked = two.asked;
        let forged = Try { right: asked, ..one };
        let rows = rows(&Slip::of(&set, &[forged, two], proof_of(&set).as_ref()));
        assert!(
            of(&rows, "First try").contains("otherwise") && !of(&rows, "Second try").contains("otherwise"),
            "{rows:?}"
        );
        // The best is told by what the marking here says.
        assert!(of(&rows, "Best").starts_with("The second try: "), "{rows:?}");
    }
}

#[test]
fn help_and_names_as_they_are() {
    for kind in ["read", "dot numbers", "signs written", "proofread"] {
        let set = exercise(kind);
        let (one, ..) = tried(&set, Done::Half);
        let helped = Try { helped: true, ..one.clone() };
        let says = |slip: &Slip| of(&rows(slip), "Result").to_owned();
        assert!(
            says(&Slip::of(&set, &[helped], proof_of(&set).as_ref())).contains(", with help, "),
            "{kind}"
        );
        let none = Exercise { help: false, ..set.clone() };
        assert!(
            says(&Slip::of(&none, &[one], proof_of(&set).as_ref())).contains(", no help was to be had, "),
            "{kind}"
        );
    }
    let set = Exercise { asks: Asks::Number, ..exercise("write") };
    let (one, ..) = tried(&set, Done::Faultless);
    let slip = Slip { by: "17".into(), ..Slip::of(&set, &[one], None) };
    assert_eq!((of(&rows(&slip), "Number"), of(&rows(&slip), "By")), ("17", ""));
    // Of a word or an item that is left, the sentence is in the singular.
    let set = exercise("write");
    let cells = ueb::transcribe("boats go at", &set.options());
    let one = Try::of(&set, None, cell::to_ascii(&cells), 9, false);
    assert!(of(&rows(&Slip::of(&set, &[one], None)), "Result").ends_with(" 1 word is not written."));
    assert!(BrailleFile::from_text("").cells().iter().flatten().flatten().next().is_none());
}

/// A set of which some is not done: each part tells its own truth.
#[test]
fn a_set_that_is_half_done() {
    let (read, write) = (exercise("read"), exercise("write"));
    let done = Slip::of(&read, &[tried(&read, Done::Faultless).0], None);
    let slip = Slip::of_set("Week 3", vec![done, Slip::of(&write, &[], None)]);
    let slip = Slip::from_payload(&slip.to_payload().unwrap()).unwrap();
    let of_part = |at: usize| {
        let part = &slip.parts[at];
        told::rows(part, &part.all_marked_anew())
    };
    assert!(of(&of_part(0), "Result").ends_with(FAULTLESS));
    assert_eq!(of(&of_part(1), "Result"), "Nothing was handed in.");
}
