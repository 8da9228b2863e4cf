//! Simulated learners walk the course by sessions, and beside it a plain deck of the same signs in the course's order, with
//! the same scheduler. `person.rs` is the learner, `parameters.tsv` what it is made of, `walk.rs` the two ways.
//!
//! `cargo test --test learners` walks a few. The thousand, with every parameter at half and at one and a half of itself:
//! `tests/learners/run`, which prints the table.

mod person;
mod walk;

use person::Parameters;
use walk::{Course, Walked};

/// Sessions are to need at most this share of the plain deck's answers until a contracted line of 40 cells is read.
const AIM: f64 = 0.7;

/// The middle of some numbers; `None` counts as more than any.
fn middle(mut numbers: Vec<Option<u64>>) -> Option<u64> {
    numbers.sort_by_key(|number| number.unwrap_or(u64::MAX));
    numbers[numbers.len() / 2]
}

fn told(number: Option<u64>) -> String {
    number.map_or_else(|| "not within a year".to_owned(), |number| number.to_string())
}

/// The medians of many learners, session beside deck.
struct Row {
    name: String,
    pairs: Vec<(Walked, Walked)>,
}

impl Row {
    fn walk(name: &str, course: &Course, parameters: &Parameters, count: u64) -> Row {
        let both =
            |seed| (walk::by_sessions(course, parameters, seed), walk::by_deck(course, parameters, seed));
        let pairs = (0..count).map(both).collect();
        Row { name: name.to_owned(), pairs }
    }

    fn of(&self, what: impl Fn(&Walked) -> Option<u64>) -> [Option<u64>; 2] {
        let sessions = self.pairs.iter().map(|(sessions, _)| what(sessions)).collect();
        [middle(sessions), middle(self.pairs.iter().map(|(_, deck)| what(deck)).collect())]
    }

    fn print(&self) {
        let mark = |what: fn(&Walked) -> Option<&walk::Mark>| {
            let [answers, minutes, days] = [
                self.of(|walked| what(walked).map(|mark| mark.answers)),
                self.of(|walked| what(walked).map(|mark| mark.minutes)),
                self.of(|walked| what(walked).map(|mark| mark.days)),
            ];
            let pair = |[sessions, deck]: [Option<u64>; 2]| format!("{} / {}", told(sessions), told(deck));
            let share = match answers {
                [Some(sessions), Some(deck)] => format!("{:.0}%", 100.0 * sessions as f64 / deck as f64),
                _ => "-".to_owned(),
            };
            format!("{} | {share} | {} | {}", pair(answers), pair(minutes), pair(days))
        };
        println!("| {} | {} | {} |", self.name, mark(|w| w.line.as_ref()), mark(|w| w.signs.as_ref()));
    }
}

fn held(row: &Row) {
    for (sessions, _) in &row.pairs {
        assert!(
            sessions.broken.is_empty(),
            "{}: {:?}",
            row.name,
            &sessions.broken[..sessions.broken.len().min(5)]
        );
    }
}

#[test]
fn a_few_learners_walk_the_course() {
    let course = Course::shipped();
    let row = Row::walk("as they are", &course, &Parameters::read(), 2);
    row.print();
    for (sessions, _) in &row.pairs {
        println!("{} signs alone, {} words and lines until a line is read", sessions.alone, sessions.lines);
    }
    held(&row);
    assert!(row.pairs.iter().all(|(sessions, deck)| sessions.line.is_some() && deck.line.is_some()));
}

/// The table; it fails after its last row while the aim is not reached.
#[test]
#[ignore = "a thousand learners take minutes: tests/learners/run"]
fn a_thousand_learners_walk_the_course() {
    let course = Course::shipped();
    let count = std::env::var("LEARNERS").ok().and_then(|count| count.parse().ok()).unwrap_or(1_000);
    println!(
        "| learners, sessions / deck | answers to a line of 40 cells | share | minutes | days | answers to 95% of the signs | share | minutes | days |"
    );
    println!("| --- | --- | --- | --- | --- | --- | --- | --- | --- |");
    let as_they_are = Parameters::read();
    let row = Row::walk(&format!("{count} as they are"), &course, &as_they_are, count);
    row.print();
    held(&row);
    let answers = row.of(|walked| walked.line.as_ref().map(|mark| mark.answers));
    for name in as_they_are.names() {
        for (times, word) in [(0.5, "half"), (1.5, "one and a half")] {
            let few = (count / 25).max(2);
            let name_of = format!("{few}, {name} at {word}");
            let row = Row::walk(&name_of, &course, &as_they_are.with(&name, times), few);
            row.print();
            held(&row);
        }
    }
    let (sessions, deck) = (answers[0].expect("a line is read"), answers[1].expect("a line is read"));
    assert!(sessions as f64 <= AIM * deck as f64, "{sessions} answers by sessions, {deck} by the deck");
}
