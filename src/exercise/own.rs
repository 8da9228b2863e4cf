//! A teacher's own exercises, kept in this browser and saved as a file: a text with a link a line, so that opening one file
//! among others adds what is new and doubles nothing.

use super::envelope::Kind;
use super::{Exercise, LinkError, Work};

/// The shelf.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Own {
    exercises: Vec<Exercise>,
}

/// What came of opening a text.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Opened {
    /// Exercises that are new on the shelf.
    pub new: usize,
    /// Exercises that stand there already.
    pub doubled: usize,
    /// Links that could not be opened, and why.
    pub refused: Vec<LinkError>,
}

impl Own {
    /// The exercises, in the order in which they were kept.
    pub fn exercises(&self) -> &[Exercise] {
        &self.exercises
    }

    /// Puts an exercise on the shelf, unless it stands there. Gives whether it is new.
    pub fn keep(&mut self, set: &Exercise) -> bool {
        let new = !self.exercises.iter().any(|own| own.for_link() == set.for_link());
        if new {
            self.exercises.push(set.clone());
        }
        new
    }

    /// Takes one off.
    pub fn drop(&mut self, at: usize) {
        if at < self.exercises.len() {
            self.exercises.remove(at);
        }
    }

    /// Takes in every exercise that stands in a text, those of sets too.
    pub fn take(&mut self, text: &str) -> Opened {
        let mut opened = Opened::default();
        for behind in text.split(Kind::Exercise.address()).skip(1) {
            let end = behind.find(|c: char| !(c.is_ascii_alphanumeric() || c == '-' || c == '_'));
            match Work::from_payload(&behind[..end.unwrap_or(behind.len())]) {
                Ok(Work::One(one)) => self.count(&one, &mut opened),
                Ok(Work::Many(set)) => set.exercises.iter().for_each(|one| self.count(one, &mut opened)),
                Err(error) => opened.refused.push(error),
            }
        }
        opened
    }

    /// The lines of a text that hold no exercise, or one that cannot be opened: they stay where they were pasted.
    pub fn not_taken(text: &str) -> String {
        let taken = |line: &&str| {
            let opened = Own::default().take(line);
            opened.new > 0 && opened.refused.is_empty()
        };
        let left: Vec<&str> =
            text.lines().filter(|line| !line.trim().is_empty()).filter(|line| !taken(line)).collect();
        left.join("\n")
    }

    fn count(&mut self, set: &Exercise, opened: &mut Opened) {
        match self.keep(set) {
            true => opened.new += 1,
            false => opened.doubled += 1,
        }
    }

    /// The shelf as a text to save, an exercise's fragment a line.
    pub fn to_text(&self) -> String {
        let line = |set: &Exercise| {
            let payload = set.to_payload().ok()?;
            Some(format!("{}{payload}\n", Kind::Exercise.address()))
        };
        self.exercises.iter().filter_map(line).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::set::Set;

    #[test]
    fn a_saved_shelf_is_taken_in_once() {
        let one =
            |title: &str| Exercise { title: title.into(), text: "The ferry.".into(), ..Exercise::default() };
        let mut own = Own::default();
        assert!(own.keep(&one("a")) && own.keep(&one("b")) && !own.keep(&one("a")));
        let mut again = Own::default();
        assert_eq!(again.take(&own.to_text()).new, 2);
        assert_eq!(again.take(&own.to_text()).doubled, 2);
        assert_eq!(again, own);
        // A set's exercises are taken in one by one.
        let set = Set { exercises: vec![one("b"), one("c")], ..Set::default() };
        let link = format!("https://a.example/#/x/{} and #/x/2-cut", set.to_payload().unwrap());
        let opened = again.take(&link);
        assert_eq!((opened.new, opened.doubled, opened.refused.len()), (1, 1, 1));
        assert_eq!(Own::not_taken(&own.to_text()), "");
        assert_eq!(Own::not_taken(&format!("{}\nhello", own.to_text())), "hello");
        again.drop(0);
        assert_eq!(again.exercises().len(), 2);
    }
}
