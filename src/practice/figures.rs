//! What the log says: accuracy, speed, confusions, progress.

use std::collections::BTreeMap;

use super::lookalike;
use super::record::{Direction, Record};
use super::sums::{Sums, good};
use crate::ueb::register;

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
    /// Confusions of signs that can be taken for each other, the most frequent first: sign asked, what was answered, how often.
    pub confusions: Vec<(String, String, u32)>,
    /// Wrong answers that were no such sign: a slip of the keys, or a guess.
    pub junk: u32,
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
    let signs = Sums::of(record, |_| 0).signs.into_iter();
    signs
        .map(|(sign, (all, right, times))| {
            (sign, (all, share((all, right)), Sums::median(times.into_iter())))
        })
        .collect()
}

/// Whether two signs, by their keys, can be taken for each other: their shapes are alike or the same, or they stand for the same
/// print.
fn alike(one: &str, other: &str) -> bool {
    let (Some(sign), Some(instead)) = (register::by_key(one), register::by_key(other)) else { return false };
    sign.cells == instead.cells
        || (!sign.print.is_empty() && sign.print == instead.print)
        || lookalike::of(sign).into_iter().any(|(like, _)| like.cells == instead.cells)
}

fn share((all, right): (u32, u32)) -> f64 {
    f64::from(right) / f64::from(all.max(1))
}

/// Works out the figures; `day_of` gives the day of the learner's own calendar on which a moment falls, in days since 1970.
pub fn of(record: &Record, day_of: impl FnMut(u64) -> u64) -> Figures {
    let sums = Sums::of(record, day_of);
    let times = sums.signs.values().flat_map(|(_, _, times)| times.iter().map(|(ms, count)| (*ms, *count)));
    let median_ms = Sums::median(times);
    let run = |(cells, right, ms): (u32, u32, u64)| {
        (f64::from(cells) * 60_000.0 / ms as f64, f64::from(right) / f64::from(cells.max(1)))
    };
    let wrong = sums.pairs.into_iter().map(|((sign, instead), n)| (sign, instead, n));
    // What a grader noted, and what was told of a rule, names no sign that was seen.
    let (mut confusions, other): (Vec<_>, Vec<(String, String, u32)>) = wrong
        .filter(|(sign, instead, _)| register::by_key(sign).is_some() && !instead.starts_with("page "))
        .partition(|(sign, instead, _)| alike(sign, instead));
    confusions.sort_by(|a, b| b.2.cmp(&a.2).then(a.0.cmp(&b.0)));
    Figures {
        answers: sums.answers.0,
        accuracy: share(sums.answers),
        median_ms,
        practised_ms: sums.practised_ms,
        confusions,
        junk: other.iter().map(|(_, _, n)| n).sum(),
        causes: sums.causes,
        days: sums.days.into_iter().map(|(day, of)| (day, of.0, share(of))).collect(),
        read: sums.read,
        runs: sums.runs.into_iter().map(run).collect(),
    }
}

/// How much help with the place of low shapes this learner still needs, 1 to 0: from their last fifty answers about the
/// dots of a cell. Full help until there are ten such answers; none from nineteen right in twenty.
pub fn low_shape_help(record: &Record) -> f64 {
    let answers = record.answers();
    let mut last: Vec<bool> = answers
        .iter()
        .rev()
        .filter(|answer| answer.direction == Direction::CellNumbers)
        .take(50)
        .map(good)
        .collect();
    for fields in record.past.of_kind("low") {
        last.extend(fields.iter().flat_map(|field| field.chars().rev()).map(|good| good == '1'));
    }
    last.truncate(50);
    if last.len() < 10 {
        return 1.0;
    }
    let right = last.iter().filter(|right| **right).count() as f64 / last.len() as f64;
    crate::order::within((0.95 - right) / 0.45, 0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::due::DAY;
    use crate::practice::record::{Answer, Event, Id};

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
        let figures = of(&record, |at| at / DAY);
        assert_eq!(figures.answers, 10);
        assert!((figures.accuracy - 0.8).abs() < 1e-9);
        assert_eq!(figures.confusions, [("letter e".to_owned(), "letter i".to_owned(), 2)]);
        assert_eq!((figures.causes, figures.junk), ([2, 0, 0], 0));
        assert_eq!(figures.days.len(), 2);
        // An hour to the west the first answer falls on the day before; 4.8 hours lie between one and the next.
        let west = of(&record, |at| (at + DAY - 3_600_000) / DAY);
        assert_eq!(west.days.iter().map(|day| day.1).collect::<Vec<_>>(), [1, 5, 4]);
        assert_eq!(date(0), "1970-01-01");
        assert_eq!(date(20_782), "2026-11-25");
        assert!(figures.practised_ms < 10_000 && figures.median_ms < 2_000);
    }

    #[test]
    fn only_signs_that_can_be_taken_for_each_other_are_confused() {
        assert!(alike("letter h", "letter j") && alike("letter r", "letter w"));
        assert!(alike("wordsign his", "question mark") && alike("groupsign in", "wordsign in"));
        for junk in ["asdf", "page 2, line 3", "1-2-3-4-5-6", "letter m", ""] {
            assert!(!alike("letter e", junk), "{junk}");
        }
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
