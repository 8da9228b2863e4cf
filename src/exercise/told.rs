//! What a slip says, in words, and what can't be checked of it. Every sentence is to be true for work that is forged, empty,
//! faultless, tried twice or half done.

use super::trial::{Attempt, Change, compare};
use super::{Anew, Asks, Exercise, Slip, Task, Try};
use crate::marking::Kind;

/// What can't be checked on another computer.
pub const WORD: &str = "Who did the work, how long it took and whether help was used is what the learner’s own computer reported: that can’t be checked here.";

/// A row of a slip: what it is of, and what it says.
pub type Row = (String, String);

const NUMBERS: [&str; 5] = ["First", "Second", "Third", "Fourth", "Fifth"];

fn ordinal(at: usize) -> String {
    let number = at + 1;
    let end = match (number % 10, number % 100) {
        (_, 11..=13) => "th",
        (1, _) => "st",
        (2, _) => "nd",
        (3, _) => "rd",
        _ => "th",
    };
    NUMBERS.get(at).map_or_else(|| format!("{number}{end}"), |word| (*word).to_owned())
}

/// What is counted in a task: "words", "items", "planted mistakes".
fn unit(slip: &Slip) -> &'static str {
    match &slip.set {
        Some(set) if set.is_a_round() => "items",
        _ => match slip.task {
            Task::Proofread => "planted mistakes",
            Task::Read | Task::DotNumbers => "items",
            _ => "words",
        },
    }
}

/// A score: "2 of 3 words right".
pub fn score(slip: &Slip, right: u32, asked: u32) -> String {
    let came = if slip.task == Task::Proofread { "found" } else { "right" };
    format!("{right} of {asked} {} {came}", unit(slip))
}

/// What one of a slip's tries is called: "Second try".
pub fn try_name(slip: &Slip, at: usize) -> String {
    let number = if at == 0 { 0 } else { at + slip.dropped as usize };
    format!("{} try", ordinal(number))
}

/// How help stands in a try.
fn help(set: Option<&Exercise>, one: &Try) -> &'static str {
    match set {
        _ if one.helped => "with help",
        Some(set) if !set.help || matches!(set.task, Task::Write | Task::Slate) && !set.is_a_round() => {
            "no help was to be had"
        }
        _ => "without help",
    }
}

/// What one try says of itself, and what the marking here says of it.
pub fn of_try(slip: &Slip, one: &Try, anew: Option<&Anew>) -> String {
    let time = one.time().map_or("time unknown".to_owned(), |_| one.time_in_words());
    let day = if one.day.is_empty() { String::new() } else { format!(", on {}", one.day) };
    let mut says =
        format!("{}, {time}, {}{day}.", score(slip, one.right, one.asked), help(slip.set.as_ref(), one));
    if one.work.trim().is_empty() && slip.task != Task::Proofread {
        says.push_str(" Nothing is written in it.");
    } else if one.work.trim().is_empty() {
        says.push_str(" Nothing was called in it.");
    }
    let Some(anew) = anew else {
        says.push_str(" It could not be marked here: the score is the learner’s computer’s word.");
        return says;
    };
    if anew.differs(one) {
        says.push_str(&format!(
            " Marked on this computer it is {}: the slip says otherwise.",
            score(slip, anew.right, anew.asked)
        ));
    } else {
        says.push_str(" Marked on this computer it comes to the same.");
    }
    let (left, unit) = (anew.left, unit(slip));
    let one_unit = unit.trim_end_matches('s');
    match (left, unit) {
        (0, _) => {}
        (1, "items") => says.push_str(&format!(" 1 {one_unit} was not answered.")),
        (left, "items") => says.push_str(&format!(" {left} {unit} were not answered.")),
        (1, _) => says.push_str(&format!(" 1 {one_unit} is not written.")),
        (left, _) => says.push_str(&format!(" {left} {unit} are not written.")),
    }
    if anew.faultless() && anew.asked > 0 {
        says.push_str(" There is no mistake in it.");
    }
    says
}

/// Mistakes a page, from tenths: "2", "1.5".
pub fn tenths(count: usize) -> String {
    if count.is_multiple_of(10) { (count / 10).to_string() } else { format!("{}.{}", count / 10, count % 10) }
}

/// The same with what is counted: "1 mistake a page".
fn a_page(count: usize) -> String {
    format!("{} {} a page", tenths(count), if count == 10 { "mistake" } else { "mistakes" })
}

/// What an exercise was set with, in one line.
pub fn settings(set: &Exercise) -> String {
    let mut all = vec![
        if set.contracted { "contracted" } else { "uncontracted" }.to_owned(),
        format!("edition of {}", set.edition.year()),
    ];
    if set.task == Task::Transcribe {
        let sheet = set.sheet();
        all.push(format!("{} cells in a line, {} lines on a page", sheet.cells, sheet.lines));
        all.push(if set.divide { "words divided at a line’s end" } else { "words left whole" }.to_owned());
    }
    if set.dot_numbers_only {
        all.push("shown as dot numbers only".to_owned());
    }
    if matches!(set.task, Task::Write | Task::Slate) && !set.is_a_round() {
        let hidden = if set.hide_reading { "hidden until marked" } else { "shown while writing" };
        all.push(format!("what it reads as was {hidden}"));
    } else {
        all.push(if set.help { "help could be asked for" } else { "without help" }.to_owned());
    }
    if set.answers {
        all.push("answers could be looked at".to_owned());
    }
    if let Some(plants) = &set.plants {
        let look = plants.look.name();
        all.push(format!("{look}, {} the print beside it", if plants.beside { "with" } else { "without" }));
    }
    let uncounted: Vec<&str> =
        set.uncounted.iter().filter_map(|name| Kind::named(name)).map(Kind::words).collect();
    if !uncounted.is_empty() {
        all.push(format!("not counted: {}", uncounted.join(", ")));
    }
    if set.shuffled && set.is_a_round() {
        all.push("items in an order of their own".to_owned());
    }
    all.push(match set.may_try() {
        None => "as many tries as one likes".to_owned(),
        Some(1) => "one try".to_owned(),
        Some(tries) => format!("at most {tries} tries"),
    });
    all.join("; ")
}

/// What a slip says of itself and what the marking here says, row by row.
pub fn rows(slip: &Slip, anew: &[Option<Anew>]) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    let mut row = |name: &str, says: String| rows.push((name.to_owned(), says));
    let number = slip.set.as_ref().is_some_and(|set| set.asks == Asks::Number);
    if !slip.by.is_empty() {
        row(if number { "Number" } else { "By" }, slip.by.clone());
    }
    if !slip.day.is_empty() {
        row("Day", slip.day.clone());
    }
    row("Task", slip.task.words().to_owned());
    if let Some(set) = &slip.set {
        row("Set with", settings(set));
    }
    let tries = slip.tries();
    if tries.is_empty() {
        row("Result", "Nothing was handed in.".to_owned());
    }
    let marked = |at: usize| anew.get(at).and_then(Option::as_ref);
    let dropped = slip.dropped as usize;
    for (at, one) in tries.iter().enumerate() {
        let name = match tries.len() {
            1 if dropped == 0 => "Result".to_owned(),
            _ => try_name(slip, at),
        };
        row(&name, of_try(slip, one, marked(at)));
    }
    if dropped > 0 {
        let tries = if dropped == 1 { "1 try".to_owned() } else { format!("{dropped} tries") };
        row("Left out", format!("{tries} between the first and the last found no room on this slip."));
    }
    if tries.len() > 1 {
        let share = |at: usize| {
            let one = &tries[at];
            let (right, asked) = marked(at).map_or((one.right, one.asked), |anew| (anew.right, anew.asked));
            (Try { right, asked, ..Try::default() }.share(), right, asked)
        };
        // Of equal ones the earliest.
        let best = (0..tries.len()).rev().max_by_key(|at| share(*at).0).unwrap_or(0);
        let (_, right, asked) = share(best);
        let number = if best == 0 { 0 } else { best + dropped };
        row("Best", format!("The {} try: {}.", ordinal(number).to_lowercase(), score(slip, right, asked)));
        let seconds: Option<u32> = slip.time();
        if let Some(seconds) = seconds {
            row("Time in all", super::tries::time_in_words(Some(seconds)));
        }
    }
    rows.extend(of_trial(slip, anew));
    rows
}

/// A trial: how each try stands to the pass line, and what became of each cause.
fn of_trial(slip: &Slip, anew: &[Option<Anew>]) -> Vec<Row> {
    let Some(trial) = slip.set.as_ref().and_then(|set| set.trial) else { return Vec::new() };
    let attempts: Vec<&Attempt> = anew.iter().filter_map(|anew| anew.as_ref()?.attempt.as_ref()).collect();
    let mut rows = vec![("Pass line".to_owned(), format!("At most {}.", a_page(trial.tenths.into())))];
    for (at, attempt) in attempts.iter().enumerate() {
        let name =
            if attempts.len() == 1 { "Against it".to_owned() } else { format!("{} against it", ordinal(at)) };
        let passed = if attempt.passes(&trial) { "Passed" } else { "Not passed" };
        rows.push((name, format!("{passed}: {}.", a_page(attempt.tenths()))));
    }
    if let [first, .., last] = attempts[..] {
        for (what, change) in
            [("Cured", Change::Cured), ("Came back", Change::CameBack), ("New", Change::New)]
        {
            let causes: Vec<String> = compare(first, last)
                .iter()
                .filter(|(.., became)| *became == change)
                .map(|(cause, before, after, _)| {
                    let kind = Kind::named(&cause.kind).map_or("", Kind::words);
                    let sign =
                        if cause.sign.is_empty() { String::new() } else { format!(" ({})", cause.sign) };
                    format!("{kind}{sign}, {before} then {after}")
                })
                .collect();
            if !causes.is_empty() {
                rows.push((what.to_owned(), format!("{}.", causes.join("; "))));
            }
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::Trial;
    use crate::exercise::proofread::{self, Plants};
    use crate::exercise::round::{Act, Round, judge};

    // Braille of the words: sections 10.3 and 10.7 of the standard: "! "m met".
    const RIGHT: &str = "! \"m met";
    const WRONG: &str = "! mother mit";

    fn set() -> Exercise {
        Exercise { title: "Notice 2".into(), text: "the mother met".into(), ..Exercise::default() }
    }

    fn tried(set: &Exercise, work: &str) -> Try {
        Try { day: "2026-11-25".into(), ..Try::of(set, None, work.into(), 95, false) }
    }

    /// The slip as the teacher gets it, over its link.
    fn says(slip: &Slip) -> Vec<Row> {
        let slip = Slip::from_payload(&slip.to_payload().unwrap()).unwrap();
        rows(&slip, &slip.all_marked_anew())
    }

    fn of<'a>(rows: &'a [Row], name: &str) -> &'a str {
        rows.iter().find(|(named, _)| named == name).map_or("", |(_, says)| says)
    }

    #[test]
    fn faultless_work() {
        let rows = says(&Slip::of(&set(), &[tried(&set(), RIGHT)], None));
        assert_eq!(
            of(&rows, "Result"),
            "3 of 3 words right, 1 min 35 s, no help was to be had, on 2026-11-25. Marked on this computer it comes to the same. There is no mistake in it."
        );
        assert_eq!(of(&rows, "Best"), "");
        assert_eq!(
            of(&rows, "Set with"),
            "contracted; edition of 2013; what it reads as was shown while writing; as many tries as one likes"
        );
    }

    #[test]
    fn forged_work() {
        let told = Slip { right: 3, findings: Vec::new(), ..Slip::of(&set(), &[tried(&set(), WRONG)], None) };
        let rows = says(&told);
        assert_eq!(
            of(&rows, "Result"),
            "3 of 3 words right, 1 min 35 s, no help was to be had, on 2026-11-25. Marked on this computer it is 1 of 3 words right: the slip says otherwise."
        );
        // Without the exercise nothing can be held against it.
        let rows = says(&Slip { set: None, ..told });
        assert!(of(&rows, "Result").ends_with("the score is the learner’s computer’s word."));
        // Answers that were never asked, or are called right and are not, count for nothing.
        let read = Exercise { task: Task::Read, text: "No dogs.\nNo cats.".into(), ..Exercise::default() };
        let work =
            "No dogs.\tno dogs.\tright\nNo dogs.\tno dogs.\tright\nNo cats.\tno rats.\tright".to_owned();
        let forged = Try { right: 2, asked: 2, work, ..Try::default() };
        let rows = says(&Slip::of(&read, &[forged], None));
        assert!(of(&rows, "Result").contains("Marked on this computer it is 1 of 2 items right"), "{rows:?}");
    }

    #[test]
    fn empty_work() {
        let rows = says(&Slip::of(&set(), &[tried(&set(), "")], None));
        assert_eq!(
            of(&rows, "Result"),
            "0 of 3 words right, 1 min 35 s, no help was to be had, on 2026-11-25. Nothing is written in it. Marked on this computer it comes to the same. 3 words are not written."
        );
        let rows = says(&Slip::of(&set(), &[], None));
        assert_eq!(of(&rows, "Result"), "Nothing was handed in.");
        // A slip of nothing at all.
        assert_eq!(of(&says(&Slip::default()), "Result"), "Nothing was handed in.");
        let sheet = Exercise {
            task: Task::Proofread,
            plants: Some(Plants { rate: 100, ..Plants::default() }),
            text: "The ferry leaves from the quay at ten in the morning.".into(),
            ..Exercise::default()
        };
        let proof = proofread::proof(&sheet.text, true, sheet.plants.as_ref().unwrap());
        let rows =
            says(&Slip::of(&sheet, &[Try::of(&sheet, Some(&proof), String::new(), 9, false)], Some(&proof)));
        let count = proof.planted.len();
        assert_eq!(
            of(&rows, "Result"),
            format!(
                "0 of {count} planted mistakes found, 0 min 09 s, without help. Nothing was called in it. Marked on this computer it comes to the same."
            )
        );
    }

    #[test]
    fn half_done_work() {
        let rows = says(&Slip::of(&set(), &[tried(&set(), "!")], None));
        assert!(of(&rows, "Result").starts_with("1 of 3 words right, "), "{rows:?}");
        assert!(of(&rows, "Result").ends_with(" 2 words are not written."), "{rows:?}");
        let read =
            Exercise { task: Task::Read, text: "No dogs.\nNo cats.\nNo rats.".into(), ..Exercise::default() };
        let mut round = Round::begin(1).act(&read, Act::Clue).act(&read, Act::Type("no dogs.".into()));
        let judged = judge(&read, &round.list(&read)[0], &round.typed);
        round = round.act(&read, Act::Answer(judged)).act(&read, Act::End);
        let rows = says(&Slip::of(&read, &[Try::of(&read, None, round.work(), 20, round.helped())], None));
        assert_eq!(
            of(&rows, "Result"),
            "0 of 3 items right, 0 min 20 s, with help. Marked on this computer it comes to the same. 2 items were not answered."
        );
    }

    #[test]
    fn twice_tried_work() {
        let tries = [tried(&set(), WRONG), tried(&set(), RIGHT), tried(&set(), RIGHT)];
        let rows = says(&Slip::of(&set(), &tries, None));
        assert!(of(&rows, "First try").starts_with("1 of 3 words right, "), "{rows:?}");
        assert!(of(&rows, "Second try").starts_with("3 of 3 words right, "), "{rows:?}");
        assert_eq!(of(&rows, "Best"), "The second try: 3 of 3 words right.");
        assert_eq!(of(&rows, "Time in all"), "4 min 45 s");
        assert_eq!(of(&rows, "Result"), "");
        // The best by the marking here, whatever the slip says.
        let mut forged = Slip::of(&set(), &tries, None);
        forged.before[1].work = WRONG.to_owned();
        assert_eq!(of(&says(&forged), "Best"), "The third try: 3 of 3 words right.");
    }

    #[test]
    fn a_trial_tells_both_tries_and_what_was_cured() {
        let set = Exercise {
            task: Task::Transcribe,
            help: false,
            trial: Some(Trial::default()),
            text: "the mother met the cat".into(),
            ..Exercise::default()
        };
        let tries = [tried(&set, "  ! mother mit ! cat"), tried(&set, "  ! \"m mit ! cat")];
        let rows = says(&Slip::of(&set, &tries, None));
        assert_eq!(of(&rows, "Pass line"), "At most 2 mistakes a page.");
        assert!(
            rows.contains(&("First against it".to_owned(), "Passed: 2 mistakes a page.".to_owned())),
            "{rows:?}"
        );
        assert!(
            rows.contains(&("Second against it".to_owned(), "Passed: 1 mistake a page.".to_owned())),
            "{rows:?}"
        );
        assert!(of(&rows, "Cured").starts_with("contraction missed"), "{rows:?}");
        assert!(of(&rows, "Came back").starts_with("mirrored"), "{rows:?}");
        // A faultless first try is one try, and nothing is cured.
        let rows = says(&Slip::of(&set, &[tried(&set, "  ! \"m met ! cat")], None));
        assert_eq!(of(&rows, "Against it"), "Passed: 0 mistakes a page.");
        assert_eq!(of(&rows, "Cured"), "");
    }

    #[test]
    fn what_does_not_count_is_told_and_not_counted() {
        let set = Exercise { uncounted: vec!["mirrored".into()], tries: Some(1), ..set() };
        let rows = says(&Slip::of(&set, &[tried(&set, "! \"m mit")], None));
        assert!(of(&rows, "Result").starts_with("3 of 3 words right"), "{rows:?}");
        assert!(of(&rows, "Set with").ends_with("not counted: mirrored; one try"), "{rows:?}");
    }

    #[test]
    fn tries_without_room_are_told() {
        let tries: Vec<Try> = (0..30).map(|_| tried(&set(), WRONG)).collect();
        let slip = Slip::of(&set(), &tries, None);
        let rows = says(&slip);
        assert_eq!(
            of(&rows, "Left out"),
            "10 tries between the first and the last found no room on this slip."
        );
        assert!(rows.iter().any(|(name, _)| name == "30th try"), "{rows:?}");
    }
}
