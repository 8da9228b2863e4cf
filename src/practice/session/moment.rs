//! For how long a sign is shown that is to be told at sight: the quicker it was told so far, the shorter, from two seconds to
//! three tenths of one. What is not kept yet is shown as long as one likes.

use super::{Item, Session};
use crate::practice::kept::Kept;
use crate::practice::record::Direction;
use crate::practice::supply;

/// The longest and the shortest moment, in milliseconds.
pub const LONGEST: u64 = 2_000;
/// The shortest, in milliseconds.
pub const SHORTEST: u64 = 300;
/// Who takes this long for a sign sees it for the longest moment, in milliseconds (our choice).
const SLOW: u64 = 3_000;
/// Who takes no longer than this sees it for the shortest, in milliseconds (our choice).
const FAST: u64 = 800;
/// Each further cell of a word is shown so much longer, in milliseconds (our choice).
const A_CELL_MORE: u64 = 150;
/// More words than this are a line to read at leisure.
const WORDS: usize = 3;

/// The moment for a sign that was told in `pace` milliseconds of late.
pub fn of_pace(pace: u64) -> u64 {
    let share = pace.clamp(FAST, SLOW) - FAST;
    SHORTEST + share * (LONGEST - SHORTEST) / (SLOW - FAST)
}

impl Session {
    /// For how long the cells of the item are shown, in milliseconds; `None` for as long as one likes.
    pub fn moment(&self) -> Option<u64> {
        let of = |key: &str| self.memories.kept.sign(key).filter(|kept| kept.kept()).and_then(Kept::pace);
        match self.item.as_ref()? {
            Item::Ask(asked) if asked.direction == Direction::Read => of(asked.sign).map(of_pace),
            Item::Read(line) => {
                let words = line.cells.split(|cell| cell.is_blank()).count();
                let signs = supply::signs_of(&line.cells, line.contracted).filter(|_| words <= WORDS)?;
                let paces: Option<Vec<u64>> = signs.iter().map(|key| of(key)).collect();
                let slowest = paces?.into_iter().max()?;
                Some(of_pace(slowest) + A_CELL_MORE * (line.cells.len() as u64).saturating_sub(1))
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{Learner, NOW, right, wishes};
    use super::*;
    use crate::practice::due::DAY;
    use crate::practice::lines;
    use crate::practice::supply::tests::shipped;

    #[test]
    fn the_moment_shortens_from_two_seconds_to_three_tenths() {
        assert_eq!(of_pace(60_000), LONGEST);
        assert_eq!(of_pace(SLOW), LONGEST);
        assert_eq!(of_pace(FAST), SHORTEST);
        assert_eq!(of_pace(0), SHORTEST);
        assert!((SHORTEST..=FAST).all(|pace| of_pace(pace) == SHORTEST));
        assert!((FAST..SLOW).all(|pace| of_pace(pace) <= of_pace(pace + 1)));
    }

    #[test]
    fn a_new_sign_is_shown_at_leisure_and_a_kept_word_for_a_moment() {
        let supply = shipped();
        let (mut learner, mut now) = (Learner::default(), NOW);
        let mut moments: Vec<u64> = Vec::new();
        for _ in 0..12 {
            let mut session = learner.begin(wishes(10), now);
            while let Some(item) = session.next(now, Some(&supply)).cloned() {
                now += 1_200;
                moments.extend(session.moment());
                let events = match item {
                    Item::Show(_) => {
                        assert_eq!(session.moment(), None);
                        session.seen(now);
                        Vec::new()
                    }
                    Item::Ask(_) => session.answer_sign(&right(), 900, 0, now),
                    Item::Read(line) | Item::Write(line) => {
                        let signs = supply::signs_of(&line.cells, line.contracted).unwrap_or_default();
                        let judged =
                            lines::Judged { right: true, slips: Vec::new(), signs, told: Default::default() };
                        session.answer_line(&judged, 1_200, 0, now)
                    }
                    Item::Rule(..) => session.answer_rule(true, 1_200, now),
                };
                learner.keep(now, events);
            }
            now += DAY;
        }
        assert!(moments.iter().min().is_some_and(|least| (SHORTEST..1_500).contains(least)), "{moments:?}");
    }
}
