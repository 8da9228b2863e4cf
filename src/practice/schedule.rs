//! When what was answered is due again: the free spaced repetition scheduler, version 5, with its published weights.
//!
//! The tests hold it beside a kept library of the scheduler, answer by answer. The library itself would be a twentieth of
//! what the page loads first.

use super::due::DAY;

/// How an answer went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rating {
    /// It was not known.
    Again = 1,
    /// It was known, slowly.
    Hard = 2,
    /// It was known.
    Good = 3,
    /// It was known at sight.
    Easy = 4,
}

/// Where a memory is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum State {
    /// Nothing was answered yet.
    #[default]
    New,
    /// Asked again within minutes.
    Learning,
    /// Asked again after days.
    Review,
    /// It was lost, and is asked again within minutes.
    Relearning,
}

/// One memory.
#[derive(Clone, Debug, Default)]
pub struct Card {
    /// Where it is.
    pub state: State,
    /// When it is due, in milliseconds since 1970.
    pub due: u64,
    /// When it was last answered, in the same.
    pub last: u64,
    /// After so many days it is recalled nine times in ten.
    pub stability: f64,
    /// From 1, easy, to 10.
    pub difficulty: f64,
}

const MINUTE: u64 = 60_000;
/// The scheduler's published weights.
const WEIGHTS: [f64; 19] = [
    0.4072, 1.1829, 3.1262, 15.4722, 7.2102, 0.5316, 1.0651, 0.0234, 1.616, 0.1544, 1.0824, 1.9813, 0.0953,
    0.2975, 2.2042, 0.2407, 2.9466, 0.5034, 0.6567,
];
/// The longest time between two answers, in days.
const LONGEST: f64 = 36_500.0;

fn power(base: f64, exponent: f64) -> f64 {
    (exponent * base.ln()).exp()
}

/// The chance, 0 to 1, that something of this stability is recalled after so many days.
pub fn recalled(days: f64, stability: f64) -> f64 {
    1.0 / (1.0 + 19.0 / 81.0 * days / stability).sqrt()
}

fn difficulty(first: Rating) -> f64 {
    bounded(WEIGHTS[4] - (WEIGHTS[5] * (f64::from(first as u8) - 1.0)).exp() + 1.0)
}

fn bounded(difficulty: f64) -> f64 {
    crate::order::within(difficulty, 1.0, 10.0)
}

fn next_difficulty(now: f64, rating: Rating) -> f64 {
    let next = now - WEIGHTS[6] * (f64::from(rating as u8) - 3.0);
    bounded(WEIGHTS[7] * difficulty(Rating::Easy) + (1.0 - WEIGHTS[7]) * next)
}

/// The stability after another answer on the same day.
fn within_a_day(stability: f64, rating: Rating) -> f64 {
    stability * (WEIGHTS[17] * (f64::from(rating as u8) - 3.0 + WEIGHTS[18])).exp()
}

fn after_recall(card: &Card, recalled: f64, rating: Rating) -> f64 {
    let more = match rating {
        Rating::Hard => WEIGHTS[15],
        Rating::Easy => WEIGHTS[16],
        _ => 1.0,
    };
    let growth = WEIGHTS[8].exp()
        * (11.0 - card.difficulty)
        * power(card.stability, -WEIGHTS[9])
        * (((1.0 - recalled) * WEIGHTS[10]).exp() - 1.0);
    card.stability * (growth * more + 1.0)
}

fn after_loss(card: &Card, recalled: f64) -> f64 {
    WEIGHTS[11]
        * power(card.difficulty, -WEIGHTS[12])
        * (power(card.stability + 1.0, WEIGHTS[13]) - 1.0)
        * ((1.0 - recalled) * WEIGHTS[14]).exp()
}

/// Days until it is recalled nine times in ten.
fn days(stability: f64) -> f64 {
    crate::order::within(stability.round(), 1.0, LONGEST)
}

impl Card {
    /// Takes in an answer given at this time, in milliseconds since 1970.
    pub fn take(&mut self, at: u64, rating: Rating) {
        let minutes = |count: u64| at + count * MINUTE;
        let after = |days: f64| at + days as u64 * DAY;
        let known = match self.state {
            State::New => {
                self.difficulty = difficulty(rating);
                self.stability = WEIGHTS[rating as usize - 1].max(0.1);
                self.due = match rating {
                    Rating::Again => minutes(1),
                    Rating::Hard => minutes(5),
                    Rating::Good => minutes(10),
                    Rating::Easy => after(days(self.stability)),
                };
                rating == Rating::Easy
            }
            State::Learning | State::Relearning => {
                let good = days(within_a_day(self.stability, Rating::Good));
                self.difficulty = next_difficulty(self.difficulty, rating);
                self.stability = within_a_day(self.stability, rating);
                self.due = match rating {
                    Rating::Again => minutes(5),
                    Rating::Hard => minutes(10),
                    Rating::Good => after(good),
                    Rating::Easy => after(days(self.stability).max(good + 1.0)),
                };
                matches!(rating, Rating::Good | Rating::Easy)
            }
            State::Review => {
                // Whole days, as the scheduler counts them.
                let since = (at.saturating_sub(self.last) / DAY) as f64;
                let recalled = recalled(since, self.stability);
                let next = |rating| days(after_recall(self, recalled, rating));
                let hard = next(Rating::Hard).min(next(Rating::Good));
                let good = next(Rating::Good).max(hard + 1.0);
                let due = match rating {
                    Rating::Again => minutes(5),
                    Rating::Hard => after(hard),
                    Rating::Good => after(good),
                    Rating::Easy => after(next(Rating::Easy).max(good + 1.0)),
                };
                let lost = rating == Rating::Again;
                let stability =
                    if lost { after_loss(self, recalled) } else { after_recall(self, recalled, rating) };
                self.difficulty = next_difficulty(self.difficulty, rating);
                (self.stability, self.due) = (stability, due);
                if lost {
                    self.state = State::Relearning;
                }
                !lost
            }
        };
        self.last = at;
        if known {
            self.state = State::Review;
        } else if self.state == State::New {
            self.state = State::Learning;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use rs_fsrs::FSRS;

    const RATINGS: [(Rating, rs_fsrs::Rating); 4] = [
        (Rating::Again, rs_fsrs::Rating::Again),
        (Rating::Hard, rs_fsrs::Rating::Hard),
        (Rating::Good, rs_fsrs::Rating::Good),
        (Rating::Easy, rs_fsrs::Rating::Easy),
    ];

    #[test]
    fn the_weights_are_the_librarys() {
        assert_eq!(WEIGHTS, rs_fsrs::Parameters::default().w);
    }

    proptest! {
        /// Against the library rs-fsrs, after every answer.
        #[test]
        fn any_answers_leave_what_the_library_says(answers in prop::collection::vec((0usize..4, 0u64..400, 0u64..DAY), 1..40)) {
            let (scheduler, mut library) = (FSRS::default(), rs_fsrs::Card::default());
            let (mut card, mut at) = (Card::default(), 1_700_000_000_000);
            for (rating, days, more) in answers {
                at += if days < 200 { more / 24 } else { (days - 200) * DAY + more };
                let (ours, theirs) = RATINGS[rating];
                let now = chrono::DateTime::from_timestamp_millis(at as i64).unwrap();
                library = scheduler.next(library, now, theirs).card;
                card.take(at, ours);
                prop_assert_eq!(card.state as u8, library.state as u8);
                prop_assert_eq!(card.last as i64, library.last_review.timestamp_millis());
                let near = |ours: f64, theirs: f64| (ours - theirs).abs() <= 1e-9 * theirs.abs();
                prop_assert!(near(card.stability, library.stability), "{} {}", card.stability, library.stability);
                prop_assert!(near(card.difficulty, library.difficulty));
                // A stability just between two days may be rounded to either.
                let apart = (card.due as i64 - library.due.timestamp_millis()).unsigned_abs();
                let between = (card.stability.fract() - 0.5).abs() < 1e-6;
                prop_assert!(apart == 0 || between && apart == DAY, "{apart}");
                let since = more as f64 / 1e6;
                prop_assert!(near(
                    recalled(since, card.stability),
                    rs_fsrs::Parameters::forgetting_curve(since, library.stability)
                ));
            }
        }
    }
}
