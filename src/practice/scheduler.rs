//! When what was answered is due again: the library `rs-fsrs`, the free spaced repetition scheduler, version 5, with its
//! published weights; and the times by which an answer is graded.

use std::sync::LazyLock;

use chrono::{DateTime, Utc};
use rs_fsrs::{Card, FSRS, Parameters, Rating, State};

/// One day, in milliseconds.
pub const DAY: u64 = 86_400_000;

/// An answer that took longer than this says nothing about speed: the learner had walked away.
pub const PAUSE: u64 = 30_000;

/// An answer at sight, for one sign.
pub const AT_SIGHT: u64 = 1_500;

/// An answer that had to be worked out, for one sign.
pub const SLOW: u64 = 6_000;

/// The scheduler.
static SCHEDULER: LazyLock<FSRS> = LazyLock::new(FSRS::default);

/// Milliseconds since 1970 as the scheduler has them.
pub(super) fn moment(at: u64) -> DateTime<Utc> {
    i64::try_from(at).ok().and_then(DateTime::from_timestamp_millis).unwrap_or_default()
}

pub(super) fn milliseconds(at: DateTime<Utc>) -> u64 {
    u64::try_from(at.timestamp_millis()).unwrap_or_default()
}

const STATES: [State; 4] = [State::New, State::Learning, State::Review, State::Relearning];

/// A card as nine fields of a line, parted by spaces; its two shares as the bits of a number, which come back the same.
pub(super) fn card_to_text(card: &Card) -> String {
    let state = STATES.iter().position(|state| *state == card.state).unwrap_or_default();
    let (stability, difficulty) = (card.stability.to_bits(), card.difficulty.to_bits());
    let (due, last) = (milliseconds(card.due), milliseconds(card.last_review));
    let Card { elapsed_days, scheduled_days, reps, lapses, .. } = card;
    format!(
        "{due} {stability:x} {difficulty:x} {elapsed_days} {scheduled_days} {reps} {lapses} {state} {last}"
    )
}

/// The card of such fields.
pub(super) fn card_of_text(text: &str) -> Option<Card> {
    let fields: Vec<&str> = text.split(' ').collect();
    let [due, stability, difficulty, elapsed, planned, reps, lapses, state, last] = fields[..] else {
        return None;
    };
    let share =
        |text: &str| u64::from_str_radix(text, 16).ok().map(f64::from_bits).filter(|share| share.is_finite());
    let state: usize = state.parse().ok()?;
    Some(Card {
        due: moment(due.parse().ok()?),
        stability: share(stability)?,
        difficulty: share(difficulty)?,
        elapsed_days: elapsed.parse().ok()?,
        scheduled_days: planned.parse().ok()?,
        reps: reps.parse().ok()?,
        lapses: lapses.parse().ok()?,
        state: *STATES.get(state)?,
        last_review: moment(last.parse().ok()?),
    })
}

/// A card after one more answer; a card's answers come in order of time.
pub(super) fn scheduled(card: &Card, at: DateTime<Utc>, rating: Rating) -> Card {
    SCHEDULER.next(card.clone(), at, rating).card
}

/// The chance, 0 to 1, that a card last answered then is recalled now, both in milliseconds since 1970.
pub(super) fn recall_of(card: &Card, last: u64, now: u64) -> f64 {
    let days = now.saturating_sub(last) as f64 / DAY as f64;
    Parameters::forgetting_curve(days, card.stability.max(0.01))
}
