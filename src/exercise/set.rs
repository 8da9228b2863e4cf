//! A set: several exercises in one link, with one slip for all.

use serde::{Deserialize, Serialize};

use super::envelope::{self, Kind, LinkError};
use super::{Exercise, TITLE, one_line};

/// The most exercises of a set.
pub const EXERCISES: usize = 20;

/// A set of exercises. Fields that a link does not name have their default.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Set {
    /// Its title, at most [`TITLE`] characters on one line; may be empty.
    pub title: String,
    /// Its exercises, at most [`EXERCISES`].
    pub exercises: Vec<Exercise>,
    /// Whether they are done one after the other; else in any order.
    #[serde(skip_serializing_if = "super::is_default")]
    pub in_order: bool,
}

impl Set {
    /// All that follows `#/x/` in the set's link.
    ///
    /// # Errors
    /// [`LinkError::TooMuch`] when it has too many exercises, or one of them is too long.
    pub fn to_payload(&self) -> Result<String, LinkError> {
        let exercises: Result<Vec<Exercise>, LinkError> =
            self.exercises.iter().map(Exercise::for_link).collect();
        let set = Set { title: one_line(&self.title), exercises: exercises?, in_order: self.in_order };
        if !set.fits() {
            return Err(LinkError::TooMuch);
        }
        envelope::seal(Kind::Set, &set)
    }

    /// The set of a payload.
    ///
    /// # Errors
    /// Any [`LinkError`] of [`envelope::open`]; [`LinkError::TooLong`] for contents no page would have made.
    pub fn from_payload(payload: &str) -> Result<Set, LinkError> {
        let mut set: Set = envelope::open(Kind::Set, payload)?;
        set.title = one_line(&set.title);
        let exercises: Result<Vec<Exercise>, LinkError> =
            set.exercises.iter().map(Exercise::for_link).collect();
        set.exercises = exercises.map_err(|_| LinkError::TooLong)?;
        if set.fits() { Ok(set) } else { Err(LinkError::TooLong) }
    }

    fn fits(&self) -> bool {
        self.title.chars().count() <= TITLE
            && self.exercises.len() <= EXERCISES
            && self.exercises.iter().all(Exercise::fits)
    }

    /// Whether an exercise may be begun, by what of the set is handed in.
    pub fn open(&self, at: usize, handed_in: &[bool]) -> bool {
        !self.in_order || handed_in.iter().take(at).all(|done| *done)
    }

    /// The exercise to go on with: the first that may be begun and is not handed in.
    pub fn next(&self, handed_in: &[bool]) -> Option<usize> {
        (0..self.exercises.len()).find(|at| !handed_in.get(*at).is_some_and(|done| *done))
    }
}

/// What a link of work holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Work {
    /// An exercise.
    One(Box<Exercise>),
    /// A set of them.
    Many(Set),
}

impl Work {
    /// The exercise or set of a payload.
    ///
    /// # Errors
    /// Those of [`Exercise::from_payload`] and [`Set::from_payload`].
    pub fn from_payload(payload: &str) -> Result<Work, LinkError> {
        match Exercise::from_payload(payload) {
            Err(LinkError::Other(Kind::Set)) => Set::from_payload(payload).map(Work::Many),
            one => one.map(|one| Work::One(Box::new(one))),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::{Slip, Task, in_link};

    fn set(count: usize) -> Set {
        let exercise = |n: usize| Exercise {
            title: format!("Notice {n}"),
            text: format!("The ferry of {n} o’clock leaves from Hallam Quay."),
            task: Task::ALL[n % Task::ALL.len()],
            ..Exercise::default()
        };
        Set { title: "Week 3".into(), exercises: (1..=count).map(exercise).collect(), in_order: true }
    }

    #[test]
    fn a_set_travels_in_one_link() {
        for count in [1, 10, EXERCISES] {
            let set = set(count);
            let payload = set.to_payload().unwrap();
            assert!(payload.len() < 2000, "{count}: {}", payload.len());
            assert_eq!(Work::from_payload(&payload), Ok(Work::Many(set)));
            let link = format!("https://school.example/#/x/{payload}");
            assert_eq!(in_link(&link), Some((Kind::Exercise, payload.as_str())));
            assert_eq!(Slip::from_payload(&payload), Err(LinkError::Other(Kind::Set)));
        }
        assert_eq!(set(EXERCISES + 1).to_payload(), Err(LinkError::TooMuch));
        let one = set(1).exercises.remove(0);
        assert_eq!(Work::from_payload(&one.to_payload().unwrap()), Ok(Work::One(Box::new(one))));
    }

    #[test]
    fn a_set_too_long_for_a_link_travels_as_a_file() {
        let mut set = set(EXERCISES);
        let mut draw = fastrand::Rng::with_seed(1);
        for exercise in &mut set.exercises {
            exercise.text = (0..5000).map(|_| draw.alphabetic()).collect();
        }
        let payload = set.to_payload().unwrap();
        assert!(payload.len() > envelope::LINK, "{}", payload.len());
        assert_eq!(Set::from_payload(&payload), Ok(set));
    }

    #[test]
    fn in_order_the_next_opens_when_all_before_are_handed_in() {
        let set = set(3);
        assert_eq!([0, 1, 2].map(|at| set.open(at, &[true, false, false])), [true, true, false]);
        assert_eq!(set.next(&[true, false, false]), Some(1));
        assert_eq!(set.next(&[true, true, true]), None);
        let free = Set { in_order: false, ..set };
        assert!((0..3).all(|at| free.open(at, &[])));
    }
}
