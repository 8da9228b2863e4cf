//! What the log says: accuracy, speed, confusions, progress.

use std::collections::BTreeMap;

use super::due::{DAY, PAUSE};
use super::record::{Answer, Direction, Event, Record};

/// The figures of a record.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figures {
    /// Answers in all.
    pub answers: u32,
    /// Right at first sight, without a clue, of all answers, 0 to 1.
    pub accuracy: f64,
    /// Median time of a right answer, in milliseconds; 0 with none.
    pub median_ms: u64,
    /// Time practised, in milliseconds; a pause counts as nought.
    pub practised_ms: u64,
    /// Confusions, the most frequent first: sign asked, what was answered, how often.
    pub confusions: Vec<(String, String, u32)>,
    /// Wrong answers by cause: eye, hand, rule.
    pub causes: [u32; 3],
    /// Per day (days since 1970): answers, and the share that was right.
    pub days: Vec<(u64, u32, f64)>,
    /// Words and cells read of texts, and their time in milliseconds.
    pub read: (u32, u32, u64),
    /// Six-key runs in order of time: cells a minute, and the share written right.
    pub runs: Vec<(f64, f64)>,
}

/// A day (days since 1970) as a date, "2026-11-25".
pub fn date(day: u64) -> String {
    let seconds = i64::try_from(day).unwrap_or(0).saturating_mul(86_400);
    chrono::DateTime::from_timestamp(seconds, 0).map_or_else(String::new, |at| at.date_naive().to_string())
}

/// The accuracy and median time of each sign: answers, share right, milliseconds.
pub fn per_sign(record: &Record) -> BTreeMap<String, (u32, f64, u64)> {
    let mut all: BTreeMap<String, Vec<Answer>> = BTreeMap::new();
    for answer in record.answers() {
        all.entry(answer.sign.clone()).or_default().push(answer);
    }
    all.into_iter()
        .map(|(sign, answers)| (sign, (answers.len() as u32, share(&answers), median(&answers))))
        .collect()
}

fn good(answer: &Answer) -> bool {
    answer.right && answer.clues == 0
}

fn share(answers: &[Answer]) -> f64 {
    answers.iter().filter(|answer| good(answer)).count() as f64 / answers.len().max(1) as f64
}

fn median(answers: &[Answer]) -> u64 {
    let mut times: Vec<u64> = answers.iter().filter(|a| a.right && a.ms <= PAUSE).map(|a| a.ms).collect();
    times.sort_unstable();
    times.get(times.len() / 2).copied().unwrap_or(0)
}

/// Works out the figures.
pub fn of(record: &Record) -> Figures {
    let answers = record.answers();
    let mut figures = Figures {
        answers: answers.len() as u32,
        accuracy: share(&answers),
        median_ms: median(&answers),
        ..Figures::default()
    };
    let mut pairs: BTreeMap<(String, String), u32> = BTreeMap::new();
    let mut days: BTreeMap<u64, (u32, u32)> = BTreeMap::new();
    for answer in &answers {
        let practised = if answer.ms <= PAUSE { answer.ms } else { 0 };
        figures.practised_ms = figures.practised_ms.saturating_add(practised);
        let day = days.entry(answer.at / DAY).or_default();
        day.0 += 1;
        day.1 += u32::from(good(answer));
        if !answer.right {
            if !answer.instead.is_empty() {
                *pairs.entry((answer.sign.clone(), answer.instead.clone())).or_default() += 1;
            }
            if let Some(n) = ["eye", "hand", "rule"].iter().position(|cause| *cause == answer.cause) {
                figures.causes[n] += 1;
            }
        }
    }
    for (_, event) in record.in_time() {
        match event {
            Event::Text { words, cells, ms, .. } => {
                // A record comes from anywhere: it may claim more than can be counted.
                figures.read.0 = figures.read.0.saturating_add(*words);
                figures.read.1 = figures.read.1.saturating_add(*cells);
                figures.read.2 = figures.read.2.saturating_add(*ms);
                // One line was read sign by sign; its time is in the answers already.
                let apart = if *words > 12 { *ms } else { 0 };
                figures.practised_ms = figures.practised_ms.saturating_add(apart);
            }
            Event::Run { cells, right, ms, .. } if *ms > 0 => {
                figures.practised_ms = figures.practised_ms.saturating_add(*ms);
                let a_minute = f64::from(*cells) * 60_000.0 / *ms as f64;
                figures.runs.push((a_minute, f64::from(*right) / f64::from((*cells).max(1))));
            }
            _ => {}
        }
    }
    figures.confusions = pairs.into_iter().map(|((sign, instead), n)| (sign, instead, n)).collect();
    figures.confusions.sort_by(|a, b| b.2.cmp(&a.2).then(a.0.cmp(&b.0)));
    figures.days = days
        .into_iter()
        .map(|(day, (all, right))| (day, all, f64::from(right) / f64::from(all.max(1))))
        .collect();
    figures
}

/// How much help with the place of low shapes this learner still needs, 1 to 0: from their last fifty answers about the
/// dots of a cell. Full help until there are ten such answers; none from nineteen right in twenty.
pub fn low_shape_help(record: &Record) -> f64 {
    let answers = record.answers();
    let last: Vec<bool> = answers
        .iter()
        .rev()
        .filter(|answer| answer.direction == Direction::CellNumbers)
        .take(50)
        .map(good)
        .collect();
    if last.len() < 10 {
        return 1.0;
    }
    let right = last.iter().filter(|right| **right).count() as f64 / last.len() as f64;
    crate::order::within((0.95 - right) / 0.45, 0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::record::Id;

    #[test]
    fn figures_count_what_happened() {
        let mut record = Record::default();
        for n in 0..10u64 {
            let answer = Answer {
                at: n * DAY / 5,
                sign: "letter e".to_owned(),
                direction: Direction::Read,
                right: n % 5 != 0,
                ms: if n == 9 { 900_000 } else { 1_000 + n },
                clues: 0,
                instead: if n % 5 == 0 { "letter i".to_owned() } else { String::new() },
                cause: if n % 5 == 0 { "eye".to_owned() } else { String::new() },
            };
            record.add(Id { tab: "t".to_owned(), n }, n * DAY / 5, Event::Answer(answer));
        }
        let figures = of(&record);
        assert_eq!(figures.answers, 10);
        assert!((figures.accuracy - 0.8).abs() < 1e-9);
        assert_eq!(figures.confusions, [("letter e".to_owned(), "letter i".to_owned(), 2)]);
        assert_eq!(figures.causes, [2, 0, 0]);
        assert_eq!(figures.days.len(), 2);
        assert_eq!(date(0), "1970-01-01");
        assert_eq!(date(20_782), "2026-11-25");
        assert!(figures.practised_ms < 10_000 && figures.median_ms < 2_000);
    }

    #[test]
    fn guides_fade_as_low_shapes_are_told_apart() {
        let of_answers = |rights: &[bool]| {
            let mut record = Record::default();
            for (n, right) in rights.iter().enumerate() {
                let answer = Answer {
                    at: n as u64,
                    sign: "comma".to_owned(),
                    direction: Direction::CellNumbers,
                    right: *right,
                    ms: 900,
                    clues: 0,
                    instead: String::new(),
                    cause: String::new(),
                };
                record.add(Id { tab: "t".to_owned(), n: n as u64 }, n as u64, Event::Answer(answer));
            }
            low_shape_help(&record)
        };
        assert_eq!(of_answers(&[true; 5]), 1.0);
        assert_eq!(of_answers(&[false; 20]), 1.0);
        let half: Vec<bool> = (0..40).map(|n| n % 4 != 0).collect();
        assert!((0.1..0.9).contains(&of_answers(&half)));
        assert_eq!(of_answers(&[true; 60]), 0.0);
    }
}
