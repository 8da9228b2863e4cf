//! What a teacher sets: contents, links, result slips.
//!
//! An [`Exercise`] travels whole in the fragment of an address, `#/x/<payload>`, a [`Slip`] in `#/r/<payload>`; no
//! server keeps either. [`envelope`] says what a payload looks like and notices every damage; [`proofread`] makes and
//! scores a sheet with planted mistakes, [`trial`] holds a hand-in against its pass line.
//!
//! ```
//! use cellwright::exercise::Exercise;
//! let set = Exercise { title: "Notice 2".into(), text: "The ferry leaves at ten.".into(), ..Exercise::default() };
//! let payload = set.to_payload().unwrap();
//! assert_eq!(Exercise::from_payload(&payload), Ok(set));
//! assert!(Exercise::from_payload(&payload[1..]).is_err());
//! ```

use serde::{Deserialize, Serialize};

pub mod envelope;
pub mod proofread;
mod slip;
pub mod trial;

pub use envelope::{Kind, LinkError};
pub use proofread::Plants;
pub use slip::{Count, Slip};
pub use trial::Trial;

/// The longest title, in characters.
pub const TITLE: usize = 200;
/// The longest text, in characters.
pub const TEXT: usize = 20_000;
/// The most items an exercise can ask for.
pub const ITEMS: u16 = 1000;
/// The most signs an exercise can name.
pub const SIGNS: usize = 600;

/// What the learner is asked to do.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Task {
    /// Say what the braille says.
    Read,
    /// Write print with six keys.
    #[default]
    Write,
    /// Write print as on a slate: right to left, each cell mirrored.
    Slate,
    /// Name the dot numbers of signs.
    DotNumbers,
    /// Transcribe print line by line, to be marked by cause and rule.
    Transcribe,
    /// Find the errors planted in braille.
    Proofread,
}

impl Task {
    /// All of them, in the order of the rooms.
    pub const ALL: [Task; 6] =
        [Task::Read, Task::Write, Task::Slate, Task::DotNumbers, Task::Transcribe, Task::Proofread];

    /// What to do, in a few plain words.
    pub const fn words(self) -> &'static str {
        match self {
            Task::Read => "Read the braille",
            Task::Write => "Write the print in braille",
            Task::Slate => "Write the print as on a slate",
            Task::DotNumbers => "Name the dot numbers",
            Task::Transcribe => "Transcribe the print",
            Task::Proofread => "Find the errors in the braille",
        }
    }
}

/// An exercise, whole. Fields that a link does not name have their default, so that later versions can add some.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Exercise {
    /// Its title, at most [`TITLE`] characters on one line; may be empty.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub title: String,
    /// The print, at most [`TEXT`] characters, lines ended by `\n`.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub text: String,
    /// What to do.
    #[serde(skip_serializing_if = "is_default")]
    pub task: Task,
    /// Contracted braille, or uncontracted.
    #[serde(skip_serializing_if = "is_true")]
    pub contracted: bool,
    /// Whether braille is shown as dot numbers only.
    #[serde(skip_serializing_if = "is_default")]
    pub dot_numbers_only: bool,
    /// Whether what the braille reads as is hidden until the work is handed in.
    #[serde(skip_serializing_if = "is_default")]
    pub hide_reading: bool,
    /// Whether clues and the chart may be asked for.
    #[serde(skip_serializing_if = "is_true")]
    pub help: bool,
    /// How many items to ask, at most [`ITEMS`]; `None` for the whole text.
    #[serde(skip_serializing_if = "is_default")]
    pub items: Option<u16>,
    /// Signs to practise in place of a text, by their keys, at most [`SIGNS`].
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub signs: Vec<String>,
    /// Whether the answers may be looked at before an attempt.
    #[serde(skip_serializing_if = "is_default")]
    pub answers: bool,
    /// For proofreading: how mistakes are planted and how the sheet looks.
    #[serde(skip_serializing_if = "is_default")]
    pub plants: Option<Plants>,
    /// For transcribing: a trial hand-in against a pass line.
    #[serde(skip_serializing_if = "is_default")]
    pub trial: Option<Trial>,
}

/// One item of an exercise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    /// A line of print.
    Line(String),
    /// A sign, by its key.
    Sign(String),
}

impl Default for Exercise {
    /// Nothing to write yet: contracted, shown as dots, read live, help allowed.
    fn default() -> Self {
        Exercise {
            title: String::new(),
            text: String::new(),
            task: Task::default(),
            contracted: true,
            dot_numbers_only: false,
            hide_reading: false,
            help: true,
            items: None,
            signs: Vec::new(),
            answers: false,
            plants: None,
            trial: None,
        }
    }
}

fn is_true(value: &bool) -> bool {
    *value
}

fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

impl Exercise {
    /// All that follows `#/x/` in the exercise's link.
    ///
    /// # Errors
    /// [`LinkError::TooMuch`] when title or text are too long for a link.
    pub fn to_payload(&self) -> Result<String, LinkError> {
        let tidy = self.clone().tidied();
        if tidy.title.chars().count() > TITLE || tidy.text.chars().count() > TEXT {
            return Err(LinkError::TooMuch);
        }
        envelope::seal(Kind::Exercise, &tidy)
    }

    /// The exercise of a payload.
    ///
    /// # Errors
    /// Any [`LinkError`] of [`envelope::open`]; [`LinkError::TooLong`] for contents no page would have made.
    pub fn from_payload(payload: &str) -> Result<Exercise, LinkError> {
        let exercise: Exercise = envelope::open(Kind::Exercise, payload)?;
        if exercise.title.chars().count() > TITLE || exercise.text.chars().count() > TEXT {
            return Err(LinkError::TooLong);
        }
        Ok(exercise.tidied())
    }

    /// The items in order: the lines of the text that say anything, or the signs, as often as [`Exercise::items`] asks;
    /// signs come round again when there are fewer of them.
    pub fn list(&self) -> Vec<Item> {
        let count = self.items.map(usize::from);
        if self.signs.is_empty() {
            let lines = self.text.lines().filter(|line| !line.trim().is_empty());
            return lines
                .take(count.unwrap_or(usize::MAX))
                .map(|line| Item::Line(line.trim().to_owned()))
                .collect();
        }
        let signs = self.signs.iter().cycle().take(count.unwrap_or(self.signs.len()));
        signs.cloned().map(Item::Sign).collect()
    }

    /// The print to write, a line an item.
    pub fn prompt(&self) -> String {
        let lines = self
            .list()
            .into_iter()
            .filter_map(|item| if let Item::Line(line) = item { Some(line) } else { None });
        lines.collect::<Vec<_>>().join("\n")
    }

    /// Line ends as `\n`, no other control characters but the tab, no trailing space, items within bounds.
    fn tidied(mut self) -> Exercise {
        self.title = plain(&self.title).split_whitespace().collect::<Vec<_>>().join(" ");
        self.text = plain(&self.text).trim_end().to_owned();
        self.items = self.items.map(|items| items.clamp(1, ITEMS));
        self.signs.retain(|key| crate::ueb::register::by_key(key).is_some());
        self.signs.truncate(SIGNS);
        if let Some(plants) = &mut self.plants {
            plants.rate = plants.rate.clamp(1, 200);
            plants.kinds.retain(|name| crate::marking::Kind::named(name).is_some());
            plants.kinds.truncate(crate::marking::Kind::ALL.len());
        }
        self
    }
}

fn plain(text: &str) -> String {
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    text.chars().filter(|c| !c.is_control() || matches!(c, '\n' | '\t')).collect()
}

/// What a pasted link holds: its kind and its payload. Takes a whole address, its fragment, or anything around it.
pub fn in_link(text: &str) -> Option<(Kind, &str)> {
    [Kind::Exercise, Kind::Slip].into_iter().find_map(|kind| {
        let (_, after) = text.split_once(kind.address())?;
        let end = after.find(|c: char| !(c.is_ascii_alphanumeric() || c == '-' || c == '_'));
        Some((kind, &after[..end.unwrap_or(after.len())]))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn exercises() -> impl Strategy<Value = Exercise> {
        let flags = (any::<bool>(), any::<bool>(), any::<bool>(), any::<bool>());
        (".{0,60}", "(.|\n){0,400}", 0..Task::ALL.len(), flags, prop::option::of(1..=ITEMS)).prop_map(
            |(title, text, task, (contracted, dot_numbers_only, hide_reading, help), items)| {
                let task = Task::ALL[task];
                let signs = if help { Vec::new() } else { vec!["groupsign st".to_owned()] };
                let plants = (task == Task::Proofread).then(Plants::default);
                let trial = (task == Task::Transcribe).then(Trial::default);
                let answers = !help;
                Exercise {
                    title,
                    text,
                    task,
                    contracted,
                    dot_numbers_only,
                    hide_reading,
                    help,
                    items,
                    signs,
                    answers,
                    plants,
                    trial,
                }
                .tidied()
            },
        )
    }

    proptest! {
        #[test]
        fn a_link_gives_back_what_was_set(set in exercises()) {
            let payload = set.to_payload().unwrap();
            prop_assert!(payload.chars().all(|c| c.is_ascii_alphanumeric() || c == '-' || c == '_'));
            let link = format!("https://a.example/sub/#/x/{payload}");
            prop_assert_eq!(in_link(&link), Some((Kind::Exercise, payload.as_str())));
            prop_assert_eq!(Exercise::from_payload(&payload), Ok(set));
        }
    }

    #[test]
    fn every_changed_or_missing_character_is_noticed() {
        let text = "The 10:30 ferry leaves from Hallam Quay.".to_owned();
        let payload =
            Exercise { title: "Notice 2".into(), text, ..Exercise::default() }.to_payload().unwrap();
        const ALPHABET: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_.~%é ";
        for at in 0..payload.len() {
            for c in ALPHABET.chars().filter(|&c| !payload[at..].starts_with(c)) {
                let changed = format!("{}{c}{}", &payload[..at], &payload[at + 1..]);
                if changed.trim() != payload {
                    assert!(Exercise::from_payload(&changed).is_err(), "{changed}");
                }
            }
            assert!(Exercise::from_payload(&payload[..at]).is_err());
            let without = format!("{}{}", &payload[..at], &payload[at + 1..]);
            assert!(Exercise::from_payload(&without).is_err());
        }
        assert!(Exercise::from_payload(&format!("{payload}A")).is_err());
    }

    #[test]
    fn what_is_too_long_is_said_when_the_link_is_made() {
        let set = Exercise { text: "x".repeat(TEXT + 1), ..Exercise::default() };
        assert_eq!(set.to_payload(), Err(LinkError::TooMuch));
        let set = Exercise { text: "ferry ".repeat(TEXT / 6), ..Exercise::default() };
        assert!(Exercise::from_payload(&set.to_payload().unwrap()).is_ok());
    }

    #[test]
    fn a_slip_is_no_exercise() {
        let payload = Slip::default().to_payload().unwrap();
        assert_eq!(Exercise::from_payload(&payload), Err(LinkError::Other(Kind::Slip)));
        assert_eq!(Slip::from_payload(&payload), Ok(Slip::default()));
    }
}
