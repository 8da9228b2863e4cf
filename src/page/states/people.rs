//! The people who share a browser, each under a name. What was here before there were several belongs to the first, who has
//! no name until one is given.
//!
//! The browser keeps the list as JSON, and apart from it the number and the name of the person at work, `2 Ida`, which is all
//! that the first download asks for.

use serde::{Deserialize, Serialize};

use crate::exercise::one_line;

/// The most characters of a name.
pub const NAME: usize = 40;

/// One of them.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Person {
    /// Their number, which their keys begin with; it never changes and is given once.
    pub number: u32,
    /// Their name; the first may have none.
    pub name: String,
}

impl Person {
    /// How they are called on the page.
    pub fn called(&self) -> String {
        match (self.name.as_str(), self.number) {
            ("", 1) => "the first person".to_owned(),
            ("", number) => format!("Person {number}"),
            (name, _) => name.to_owned(),
        }
    }
}

/// Why a name is not taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NameError {
    /// There is nothing left of it.
    Empty,
    /// Somebody here is called so.
    Taken,
    /// It has too many characters.
    Long,
}

impl NameError {
    /// What to do, in plain words.
    pub fn words(self) -> &'static str {
        match self {
            NameError::Empty => "Type a name first.",
            NameError::Taken => "Somebody in this browser has this name already. Choose another.",
            NameError::Long => "A name has at most 40 characters here. Shorten it.",
        }
    }
}

/// All of them, and who is at work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct People {
    /// By their numbers; the first is always there.
    pub all: Vec<Person>,
    /// The number of the one at work.
    pub here: u32,
}

/// The list as it is kept.
#[derive(Serialize, Deserialize)]
struct Kept {
    version: u32,
    value: Vec<Person>,
}

impl People {
    /// From what the browser keeps: the line about who is at work, the list, and the numbers by which keys begin. Whoever has
    /// work here is there, even where the list is damaged or lacks them.
    pub fn of(line: Option<&str>, list: Option<&str>, numbers: impl IntoIterator<Item = u32>) -> People {
        let kept =
            list.and_then(|list| serde_json::from_str::<Kept>(list).ok()).filter(|kept| kept.version == 1);
        let mut all: Vec<Person> = Vec::new();
        let mut add = |number: u32, name: &str| {
            if number > 0 && !all.iter().any(|known| known.number == number) {
                all.push(Person { number, name: one_line(name).chars().take(NAME).collect() });
            }
        };
        for person in kept.map(|kept| kept.value).unwrap_or_default() {
            add(person.number, &person.name);
        }
        let here = line.and_then(|line| line.split_once(' '));
        let here = here.and_then(|(number, name)| Some((number.parse().ok()?, name)));
        if let Some((number, name)) = here {
            add(number, name);
        }
        numbers.into_iter().for_each(|number| add(number, ""));
        add(1, "");
        all.sort_by_key(|person| person.number);
        let here = here.map_or(1, |(number, _)| number).max(1);
        People { all, here }
    }

    /// The one at work.
    pub fn person_here(&self) -> &Person {
        self.all.iter().find(|person| person.number == self.here).unwrap_or(&self.all[0])
    }

    /// Whether there is more than one.
    pub fn several(&self) -> bool {
        self.all.len() > 1
    }

    /// A name as it may stand here: one line, without characters that turn the direction of writing.
    fn name(&self, typed: &str, of: Option<u32>) -> Result<String, NameError> {
        let name = one_line(typed);
        let same = |person: &Person| {
            Some(person.number) != of && person.called().to_lowercase() == name.to_lowercase()
        };
        match () {
            () if name.is_empty() => Err(NameError::Empty),
            () if name.chars().count() > NAME => Err(NameError::Long),
            () if self.all.iter().any(same) => Err(NameError::Taken),
            () => Ok(name),
        }
    }

    /// Adds somebody and gives their number.
    ///
    /// # Errors
    /// When the name cannot be theirs.
    pub fn add(&mut self, typed: &str) -> Result<u32, NameError> {
        let name = self.name(typed, None)?;
        // A number is given once: what another may have left under it is theirs.
        let number = self.all.iter().map(|person| person.number).max().unwrap_or(1) + 1;
        self.all.push(Person { number, name });
        Ok(number)
    }

    /// Gives the one at work another name.
    ///
    /// # Errors
    /// When the name cannot be theirs.
    pub fn call(&mut self, typed: &str) -> Result<(), NameError> {
        let here = self.here;
        let name = self.name(typed, Some(here))?;
        for person in self.all.iter_mut().filter(|person| person.number == here) {
            person.name.clone_from(&name);
        }
        Ok(())
    }

    /// Takes the one at work off the list, whose work is gone; the first stays, without a name. Who is at work then is the
    /// first.
    pub fn leave(&mut self) {
        let here = self.here;
        self.all.retain(|person| person.number == 1 || person.number != here);
        if here == 1 {
            self.all[0].name.clear();
        }
        self.here = 1;
    }

    /// The list to keep.
    pub fn to_text(&self) -> String {
        serde_json::to_string(&Kept { version: 1, value: self.all.clone() }).unwrap_or_default()
    }

    /// The line about who is at work.
    pub fn line(&self) -> String {
        format!("{} {}", self.here, self.person_here().name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn nobody() -> People {
        People::of(None, None, [])
    }

    #[test]
    fn what_was_here_before_is_the_firsts() {
        let mut people = nobody();
        assert_eq!((people.here, people.all.len(), people.several()), (1, 1, false));
        assert_eq!(people.person_here().called(), "the first person");
        assert_eq!(people.add("Ida"), Ok(2));
        people.here = 2;
        assert_eq!((people.line().as_str(), people.several()), ("2 Ida", true));
        assert_eq!(People::of(Some(&people.line()), Some(&people.to_text()), []), people);
    }

    #[test]
    fn names_are_one_line_told_apart_and_not_turned() {
        let mut people = nobody();
        // Characters that turn the direction of writing: Unicode, UAX 9.
        assert_eq!(people.add("I\u{202e}d\u{2067}a\n \u{7} Orrin"), Ok(2));
        assert_eq!(people.all[1].name, "Ida Orrin");
        assert_eq!(people.add(" ida  ORRIN "), Err(NameError::Taken));
        assert_eq!(people.add("The first person"), Err(NameError::Taken));
        assert_eq!(people.add("\u{202e}\n"), Err(NameError::Empty));
        assert_eq!(people.add(&"x".repeat(NAME + 1)), Err(NameError::Long));
        assert!(people.add(&"é".repeat(NAME)).is_ok());
        people.here = 2;
        assert_eq!(people.call("Ida Orrin"), Ok(()));
        assert_eq!(people.call("Tam"), Ok(()));
        assert_eq!(people.person_here().name, "Tam");
    }

    #[test]
    fn a_damaged_list_loses_nobody() {
        for list in [None, Some(""), Some("{"), Some("[]"), Some("{\"version\":9,\"value\":[]}")] {
            let people = People::of(Some("3 Tam"), list, [2, 2]);
            let all: Vec<(u32, String)> = people.all.iter().map(|one| (one.number, one.called())).collect();
            let told =
                [(1, "the first person"), (2, "Person 2"), (3, "Tam")].map(|(n, name)| (n, name.to_owned()));
            assert_eq!((all.as_slice(), people.here), (told.as_slice(), 3), "{list:?}");
        }
        for line in ["", "2", "x Ida", "0 Ida", "-1 "] {
            assert_eq!(People::of(Some(line), None, []).here, 1, "{line:?}");
        }
    }

    #[test]
    fn who_leaves_is_gone_and_the_first_stays() {
        let mut people = nobody();
        people.add("Ida").unwrap();
        people.add("Tam").unwrap();
        people.here = 2;
        people.leave();
        assert_eq!((people.here, people.all.len()), (1, 2));
        // Their number is not given again while a later one is there.
        assert_eq!(people.add("Ida"), Ok(4));
        people.call("Orrin").unwrap();
        people.leave();
        assert_eq!((people.person_here().called(), people.all.len()), ("the first person".to_owned(), 3));
    }
}
