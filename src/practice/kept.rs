//! What a learner keeps of each sign and of each rule, whichever way it was asked.
//!
//! The course, what is due and the sessions go by this: one memory for a sign, not one for each direction, so that what was
//! read today is not asked once more in another direction tomorrow. The memories by direction ([`super::due`]) say how well
//! each direction goes, and which of them comes next.

use std::collections::BTreeMap;

use rs_fsrs::{Card, Rating, State};

use super::record::{Answer, Direction};
use super::scheduler::{
    AT_SIGHT, DAY, PAUSE, SLOW, card_of_text, card_to_text, milliseconds, moment, recall_of, scheduled,
};
use super::{clauses, units};

/// A right answer as quick as this counts towards keeping a sign, in milliseconds.
pub const QUICK: u64 = 3_000;

/// The chance of recalling it tomorrow from which on a sign can be kept.
pub const RECALL: f64 = 0.9;

/// Answers to one sign that lie further apart than this belong to different sittings, in milliseconds.
const SITTING: u64 = 30 * 60_000;

/// Right on so many days, a sign lets the next unit open however slow the answers are: a slow hand bars nobody's way.
const PATIENT_DAYS: u32 = 4;

/// What is kept of one sign, or of one rule.
#[derive(Clone, Debug, Default)]
pub struct Kept {
    card: Card,
    /// Days on which it was right, and those on which it was right and quick; the last of each.
    right_days: u32,
    quick_days: u32,
    last_right: Option<u64>,
    last_quick: Option<u64>,
    /// Right answers on end in this sitting.
    in_a_row: u32,
    last_at: u64,
    kept: bool,
    opens: bool,
    /// How long it took of late to tell it, read, in milliseconds.
    pace: Option<u64>,
    /// How many answers it has had.
    pub answers: u32,
    /// The direction of the last answer, and whether it was right.
    pub last: Option<(Direction, bool)>,
}

impl Kept {
    fn grade(&self, answer: &Answer) -> Rating {
        let first = self.card.state == State::New;
        match answer.ms {
            _ if !answer.right || answer.clues > 0 => Rating::Again,
            // What was shown a moment ago may be told at sight and is not known for a fortnight.
            ms if ms <= AT_SIGHT && !first => Rating::Easy,
            // A slow answer is asked again sooner in days, not again in minutes.
            ms if ms > SLOW && ms <= PAUSE && self.card.state == State::Review => Rating::Hard,
            _ => Rating::Good,
        }
    }

    pub(super) fn take(&mut self, answer: &Answer) {
        let at = answer.at.max(self.last_at);
        // By the calendar: what was answered yesterday evening is a day old this morning, and what is due today is due from
        // the day's beginning on.
        self.card = scheduled(&self.card, moment(at / DAY * DAY), self.grade(answer));
        self.answers += 1;
        let right = answer.right && answer.clues == 0;
        self.last = Some((answer.direction, right));
        if answer.direction == Direction::Read && answer.ms <= PAUSE {
            self.pace = match self.pace {
                None => right.then_some(answer.ms),
                Some(before) if right => Some((2 * before + answer.ms) / 3),
                // After a slip it is looked at for longer.
                Some(before) => Some((before * 3 / 2).min(PAUSE)),
            };
        }
        let day = at / DAY;
        if at - self.last_at > SITTING {
            self.in_a_row = 0;
        }
        self.last_at = at;
        self.in_a_row = if right { self.in_a_row + 1 } else { 0 };
        if right && self.last_right != Some(day) {
            self.last_right = Some(day);
            self.right_days += 1;
        }
        if right && answer.ms < QUICK && self.last_quick != Some(day) {
            self.last_quick = Some(day);
            self.quick_days += 1;
        }
        let sure = self.recall(at + DAY) >= RECALL;
        let fluent = self.quick_days >= 2 || (right && self.in_a_row >= 3 && answer.ms <= AT_SIGHT);
        self.kept = sure && (fluent || (self.kept && right));
        self.opens |= self.kept || (sure && self.right_days >= PATIENT_DAYS);
    }

    /// Fields of a line.
    fn to_fields(&self) -> String {
        let Kept {
            card,
            right_days,
            quick_days,
            last_right,
            last_quick,
            in_a_row,
            last_at,
            kept,
            opens,
            pace,
            answers,
            last,
        } = self;
        let number = |number: &Option<u64>| number.map_or(String::new(), |number| number.to_string());
        let (last_right, last_quick) = (number(last_right), number(last_quick));
        let (direction, right) = last.map_or(("", false), |(direction, right)| (direction.name(), right));
        format!(
            "{}\t{right_days}\t{quick_days}\t{last_right}\t{last_quick}\t{in_a_row}\t{last_at}\t{}\t{}\t{answers}\t{direction}\t{}\t{}",
            card_to_text(card),
            u8::from(*kept),
            u8::from(*opens),
            u8::from(right),
            number(pace)
        )
    }

    fn of_fields(fields: &[&str]) -> Option<Kept> {
        let [
            card,
            right_days,
            quick_days,
            last_right,
            last_quick,
            in_a_row,
            last_at,
            kept,
            opens,
            answers,
            direction,
            right,
            pace @ ..,
        ] = fields
        else {
            return None;
        };
        Some(Kept {
            card: card_of_text(card)?,
            right_days: right_days.parse().ok()?,
            quick_days: quick_days.parse().ok()?,
            last_right: last_right.parse().ok(),
            last_quick: last_quick.parse().ok(),
            in_a_row: in_a_row.parse().ok()?,
            last_at: last_at.parse().ok()?,
            kept: *kept == "1",
            opens: *opens == "1",
            pace: pace.first().and_then(|ms| ms.parse().ok()),
            answers: answers.parse().ok()?,
            last: Direction::of(direction).map(|direction| (direction, *right == "1")),
        })
    }

    /// When it is due, in milliseconds since 1970: by the calendar, but what is to be asked again within minutes, so many
    /// minutes after the last answer.
    pub fn due(&self) -> u64 {
        let due = milliseconds(self.card.due);
        if self.unsettled() {
            self.last_at + due.saturating_sub(milliseconds(self.card.last_review))
        } else {
            due
        }
    }

    /// The chance, 0 to 1, that it is recalled at this time.
    pub fn recall(&self, now: u64) -> f64 {
        recall_of(&self.card, self.last_at, now)
    }

    /// Whether it is kept: likely to be recalled tomorrow, and right and quick on two days (or three times on end in one
    /// sitting, the last at sight).
    pub fn kept(&self) -> bool {
        self.kept
    }

    /// How long it took of late to tell it, read, in milliseconds; `None` when it never was.
    pub fn pace(&self) -> Option<u64> {
        self.pace
    }

    /// Whether it was ever kept, so that the unit after its own may open.
    pub fn opens(&self) -> bool {
        self.opens
    }

    /// Whether it is asked again within minutes: it is new, or was just lost.
    pub fn unsettled(&self) -> bool {
        matches!(self.card.state, State::Learning | State::Relearning)
    }
}

/// What is kept of all signs and rules.
#[derive(Clone, Debug, Default)]
pub struct AllKept {
    signs: BTreeMap<String, Kept>,
    /// By the section of the clause.
    rules: BTreeMap<String, Kept>,
}

fn take(of: &mut BTreeMap<String, Kept>, key: &str, answer: &Answer) {
    match of.get_mut(key) {
        Some(kept) => kept.take(answer),
        None => {
            let mut kept = Kept::default();
            kept.take(answer);
            of.insert(key.to_owned(), kept);
        }
    }
}

/// What is due of these, the least likely to be recalled first.
fn due<'a>(of: impl Iterator<Item = (&'static str, &'a Kept)>, now: u64) -> Vec<&'static str> {
    let mut due: Vec<(&'static str, f64)> =
        of.filter(|(_, kept)| kept.due() <= now).map(|(key, kept)| (key, kept.recall(now))).collect();
    due.sort_by(|one, two| one.1.total_cmp(&two.1));
    due.into_iter().map(|(key, _)| key).collect()
}

/// The key as the register has it, of a sign that a unit teaches.
fn taught(key: &str) -> Option<&'static str> {
    units::unit_of(key)?;
    Some(crate::ueb::register::by_key(key)?.key)
}

impl AllKept {
    /// All of it as lines of a past.
    pub(super) fn to_lines(&self) -> Vec<String> {
        let lines = |what: &'static str, of: &BTreeMap<String, Kept>| -> Vec<String> {
            of.iter().map(|(sign, kept)| format!("kept\t{what}\t{sign}\t{}", kept.to_fields())).collect()
        };
        [lines("sign", &self.signs), lines("rule", &self.rules)].concat()
    }

    /// What cannot be read is a sign that was never asked.
    pub(super) fn take_line(&mut self, fields: &[&str]) -> Option<()> {
        let [what, sign, fields @ ..] = fields else { return None };
        let (of, key) = match *what {
            "rule" => (&mut self.rules, clauses::of(sign).map_or(*sign, |clause| clause.section)),
            _ => (&mut self.signs, *sign),
        };
        of.insert(key.to_owned(), Kept::of_fields(fields)?);
        Some(())
    }

    /// Takes in one more answer.
    pub fn take(&mut self, answer: &Answer) {
        // A rule that was broken says nothing about the sign's shape, and the other way round.
        if answer.direction == Direction::Rule || (!answer.right && answer.cause.starts_with("rule")) {
            if let Some(clause) = clauses::about(&answer.sign, &answer.cause) {
                take(&mut self.rules, clause.section, answer);
            }
        } else {
            take(&mut self.signs, &answer.sign, answer);
        }
    }

    /// What is kept of a sign; `None` when it was never asked.
    pub fn sign(&self, key: &str) -> Option<&Kept> {
        self.signs.get(key)
    }

    /// What is kept of a clause of the rules, by its section; `None` when it was never asked and never broken.
    pub fn rule(&self, section: &str) -> Option<&Kept> {
        self.rules.get(section)
    }

    /// The signs that are due at this time, the least likely to be recalled first.
    pub fn due(&self, now: u64) -> Vec<&'static str> {
        // What no unit teaches is asked nowhere: it is not due either.
        due(self.signs.iter().filter_map(|(key, kept)| Some((taught(key)?, kept))), now)
    }

    /// The sections of the clauses that are due at this time, in the same order.
    pub fn due_rules(&self, now: u64) -> Vec<&'static str> {
        due(self.rules.iter().filter_map(|(section, kept)| Some((clauses::of(section)?.section, kept))), now)
    }

    /// When the next sign will be due, in milliseconds since 1970; `None` when none was ever asked.
    pub fn next_due(&self) -> Option<u64> {
        self.signs.iter().filter(|(key, _)| taught(key).is_some()).map(|(_, kept)| kept.due()).min()
    }

    /// How many of the signs that the course teaches are kept.
    pub fn count(&self) -> usize {
        self.signs.iter().filter(|(key, kept)| kept.kept() && taught(key).is_some()).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const START: u64 = 1_760_000_000_000;

    fn answer(at: u64, right: bool, ms: u64) -> Answer {
        Answer::read("letter a", at, right, ms)
    }

    fn after(answers: &[(u64, bool, u64)]) -> Kept {
        let mut kept = Kept::default();
        for (at, right, ms) in answers {
            kept.take(&answer(START + at, *right, *ms));
        }
        kept
    }

    const MINUTE: u64 = 60_000;

    #[test]
    fn kept_is_quick_on_two_days_or_three_times_with_the_last_at_sight() {
        assert!(!after(&[(0, true, 900)]).kept());
        assert!(!after(&[(0, true, 900), (MINUTE, true, 900)]).kept());
        assert!(after(&[(0, true, 2_000), (MINUTE, true, 2_000), (2 * MINUTE, true, 900)]).kept());
        assert!(!after(&[(0, true, 900), (MINUTE, true, 900), (2 * MINUTE, true, 2_000)]).kept());
        assert!(after(&[(0, true, 2_900), (2 * DAY, true, 2_900)]).kept());
        assert!(!after(&[(0, true, 3_100), (2 * DAY, true, 3_100)]).kept());
        // Two sittings are not one.
        assert!(!after(&[(0, true, 900), (MINUTE, true, 900), (40 * MINUTE, true, 900)]).kept());
    }

    #[test]
    fn a_slip_takes_a_fresh_sign_back_and_the_unit_stays_open() {
        let mut kept = after(&[(0, true, 900), (MINUTE, true, 900), (2 * MINUTE, true, 900)]);
        assert!(kept.kept() && kept.opens());
        for n in 3..9 {
            kept.take(&answer(START + n * MINUTE, false, 900));
        }
        assert!(!kept.kept() && kept.opens() && kept.unsettled());
    }

    #[test]
    fn a_slow_hand_bars_nobodys_way() {
        let days: Vec<(u64, bool, u64)> = (0..4).map(|n| (n * 4 * DAY, true, 9_000)).collect();
        assert!(!after(&days[..3]).opens());
        assert!(after(&days).opens() && !after(&days).kept());
    }

    #[test]
    fn a_slip_of_rule_makes_the_rule_due_and_not_the_sign() {
        let mut all = AllKept::default();
        let ea = |at, right| Answer { sign: "groupsign ea".to_owned(), ..answer(at, right, 900) };
        all.take(&Answer { cause: "rule".to_owned(), ..ea(START, false) });
        assert!(all.sign("groupsign ea").is_none());
        assert_eq!(all.due_rules(START + 5 * MINUTE), ["10.6.5"]);
        // Another clause of the same sign is another matter.
        all.take(&Answer { cause: "rule 10.11.4".to_owned(), ..ea(START, false) });
        assert_eq!(all.due_rules(START + 5 * MINUTE), ["10.11.4", "10.6.5"]);
        assert!(all.due(START + DAY).is_empty());
        // Once right, it is asked again a few minutes on; right again, after days.
        for n in [5, 15] {
            let at = START + n * MINUTE;
            all.take(&Answer { direction: Direction::Rule, ..ea(at, true) });
            all.take(&Answer { sign: clauses::key("10.11.4"), direction: Direction::Rule, ..ea(at, true) });
        }
        assert!(all.due_rules(START + 30 * MINUTE).is_empty());
    }

    #[test]
    fn what_no_unit_teaches_is_never_due() {
        let mut all = AllKept::default();
        all.take(&Answer { sign: "no such sign".to_owned(), ..answer(START, false, 900) });
        assert!(all.due(START + DAY).is_empty() && all.next_due().is_none());
    }
}
