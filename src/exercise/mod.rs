//! What a teacher sets: contents, links, result slips.
//!
//! | file | what it holds |
//! | --- | --- |
//! | this | an [`Exercise`] and its link |
//! | [`set`] | several of them in one link |
//! | [`own`] | a teacher's own exercises, kept |
//! | [`envelope`] | what a payload looks like, and every damage it can have |
//! | [`proofread`], [`trial`] | a sheet with planted mistakes; a hand-in against its pass line |
//! | [`round`], [`watch`] | items one by one; for how long somebody works |
//! | [`tries`], [`Slip`] | work handed in; what goes back to the teacher |
//! | [`Anew`], [`told`] | work marked; what a slip says, in words |
//! | [`class`] | many slips |
//!
//! An [`Exercise`] travels whole in the fragment of an address, `#/x/<payload>`, a [`Slip`] in `#/r/<payload>`; no
//! server keeps either.
//!
//! ```
//! use cellwright::exercise::Exercise;
//! let set = Exercise { title: "Notice 2".into(), text: "The ferry leaves at ten.".into(), ..Exercise::default() };
//! let payload = set.to_payload().unwrap();
//! assert_eq!(Exercise::from_payload(&payload), Ok(set));
//! assert!(Exercise::from_payload(&payload[1..]).is_err());
//! ```

use serde::{Deserialize, Serialize};

use crate::manuscript::Sheet;
use crate::marking;
use crate::ueb::{Edition, Options};

mod anew;
pub mod class;
pub mod draw;
pub mod envelope;
mod limits;
pub mod own;
pub mod proofread;
pub mod round;
pub mod set;
mod slip;
pub mod told;
pub mod trial;
pub mod tries;
pub mod watch;

pub use anew::{Anew, counted, mark_lines};
pub use class::ClassSheet;
pub use envelope::{Kind, LinkError};
pub use limits::over_limits;
pub use proofread::Plants;
pub use set::Work;
pub use slip::Slip;
pub use trial::Trial;
pub use tries::{Count, Try};

/// The longest title, in characters.
pub const TITLE: usize = 200;
/// The longest text, in characters.
pub const TEXT: usize = 20_000;
/// The most items an exercise can ask for.
pub const ITEMS: u16 = 1000;
/// The most signs an exercise can name.
pub const SIGNS: usize = 600;
/// The most tries that can be allowed.
pub const TRIES: u8 = 20;

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

/// What a teacher wants on a slip to know whose it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Asks {
    /// The learner's name.
    #[default]
    Name,
    /// A number that the teacher gave.
    Number,
    /// Neither.
    Nothing,
}

impl Asks {
    /// All of them.
    pub const ALL: [Asks; 3] = [Asks::Name, Asks::Number, Asks::Nothing];

    /// What is asked for, in words.
    pub const fn words(self) -> &'static str {
        match self {
            Asks::Name => "A name",
            Asks::Number => "A number that you gave",
            Asks::Nothing => "Nothing",
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
    /// The edition of the rules that is asked for.
    #[serde(skip_serializing_if = "is_default")]
    pub edition: Edition,
    /// Whether the answers may be looked at before an attempt.
    #[serde(skip_serializing_if = "is_default")]
    pub answers: bool,
    /// For proofreading: how mistakes are planted and how the sheet looks.
    #[serde(skip_serializing_if = "is_default")]
    pub plants: Option<Plants>,
    /// For transcribing: a trial hand-in against a pass line.
    #[serde(skip_serializing_if = "is_default")]
    pub trial: Option<Trial>,
    /// The book of the built-in shelf that the text is, by the name of its file; a link then leaves the text out.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub book: String,
    /// For transcribing: cells in a line, 12 to 60; 40 where nothing is said.
    #[serde(skip_serializing_if = "is_default")]
    pub cells: Option<u8>,
    /// For transcribing: lines on a page, 5 to 40; 25 where nothing is said.
    #[serde(skip_serializing_if = "is_default")]
    pub lines: Option<u8>,
    /// For transcribing: whether words are divided at a line's end.
    #[serde(skip_serializing_if = "is_default")]
    pub divide: bool,
    /// Kinds of mistakes that are left out of the count, by name.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub uncounted: Vec<String>,
    /// How often the work may be handed in, at most [`TRIES`]; as often as one likes where nothing is said.
    #[serde(skip_serializing_if = "is_default")]
    pub tries: Option<u8>,
    /// Whether the items come in another order each time.
    #[serde(skip_serializing_if = "is_default")]
    pub shuffled: bool,
    /// What the learner is to put on the slip.
    #[serde(skip_serializing_if = "is_default")]
    pub asks: Asks,
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
            edition: Edition::default(),
            answers: false,
            plants: None,
            trial: None,
            book: String::new(),
            cells: None,
            lines: None,
            divide: false,
            uncounted: Vec::new(),
            tries: None,
            shuffled: false,
            asks: Asks::Name,
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
        envelope::seal(Kind::Exercise, &self.for_link()?)
    }

    /// As a link carries it: tidied, within its limits, without the text of a book.
    fn for_link(&self) -> Result<Exercise, LinkError> {
        let mut tidy = self.clone().tidied();
        if !tidy.fits() {
            return Err(LinkError::TooMuch);
        }
        if !tidy.book.is_empty() {
            tidy.text.clear();
        }
        Ok(tidy)
    }

    /// A text that is the same for the same exercise, whoever opens it and by whichever link: work on it is kept under a name
    /// made of this.
    pub fn identity(&self) -> String {
        let whole = self.for_link().unwrap_or_else(|_| self.clone());
        envelope::seal_as_before(Kind::Exercise, &whole).unwrap_or_else(|_| whole.title.clone() + &whole.text)
    }

    /// Whether it is within the limits of title and text.
    fn fits(&self) -> bool {
        self.title.chars().count() <= TITLE && self.text.chars().count() <= TEXT
    }

    /// Whether nothing is in it.
    pub fn is_empty(&self) -> bool {
        self.text.trim().is_empty() && self.signs.is_empty() && self.book.is_empty()
    }

    /// How its print is written.
    pub fn options(&self) -> Options {
        Options { contracted: self.contracted, edition: self.edition, ..Options::default() }
    }

    /// The sheet that it is written on.
    pub fn sheet(&self) -> Sheet {
        let (given, whole) = (Sheet::default(), |number: Option<u8>, or| number.map_or(or, usize::from));
        Sheet {
            contracted: self.contracted,
            edition: self.edition,
            cells: whole(self.cells, given.cells),
            lines: whole(self.lines, given.lines),
            divide: self.divide,
            ..given
        }
        .bounded()
    }

    /// How often it may be handed in; nothing: as often as one likes.
    pub fn may_try(&self) -> Option<usize> {
        self.trial.map(|trial| trial.tries).or(self.tries).map(|tries| usize::from(tries.max(1)))
    }

    /// Whether a mistake of this kind counts.
    pub fn counts(&self, kind: marking::Kind) -> bool {
        kind != marking::Kind::YourCall && !self.uncounted.iter().any(|name| name == kind.name())
    }

    /// The exercise of a payload.
    ///
    /// # Errors
    /// Any [`LinkError`] of [`envelope::open`]; [`LinkError::TooLong`] for contents no page would have made.
    pub fn from_payload(payload: &str) -> Result<Exercise, LinkError> {
        let exercise: Exercise = envelope::open(Kind::Exercise, payload)?;
        exercise.for_link().map_err(|_| LinkError::TooLong)
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
        self.title = one_line(&self.title);
        self.text = plain(&self.text).trim_end().to_owned();
        self.items = self.items.map(|items| items.clamp(1, ITEMS));
        self.signs.retain(|key| crate::ueb::register::by_key(key).is_some());
        self.signs.truncate(SIGNS);
        if let Some(plants) = &mut self.plants {
            plants.rate = plants.rate.clamp(1, 200);
            plants.kinds.retain(|name| marking::Kind::named(name).is_some());
            plants.kinds.truncate(marking::Kind::ALL.len());
        }
        self.book.retain(|c| c.is_ascii_alphanumeric() || c == '-');
        self.book.truncate(60);
        self.cells = self.cells.map(|cells| cells.clamp(12, 60));
        self.lines = self.lines.map(|lines| lines.clamp(5, 40));
        self.uncounted.retain(|name| marking::Kind::named(name).is_some());
        self.uncounted.truncate(marking::Kind::ALL.len());
        self.tries = self.tries.map(|tries| tries.clamp(1, TRIES));
        self
    }
}

fn plain(text: &str) -> String {
    let text = text.replace("\r\n", "\n").replace('\r', "\n");
    text.chars().filter(|c| !c.is_control() || matches!(c, '\n' | '\t')).collect()
}

/// A name or a title: one line, without characters that turn the direction of writing and so hide what stands there
/// (Unicode, UAX 9).
pub fn one_line(text: &str) -> String {
    let turns = |c: char| matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let text: String = plain(text).chars().filter(|c| !turns(*c)).collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
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
                let edition = if answers { Edition::Third } else { Edition::Second };
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
                    edition,
                    answers,
                    plants,
                    trial,
                    shuffled: answers,
                    tries: items.map(|items| (items % 9) as u8 + 1),
                    uncounted: if contracted { vec!["spacing".to_owned()] } else { Vec::new() },
                    ..Exercise::default()
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
    fn names_and_titles_are_what_they_show() {
        let evil = "Ann\u{202e}\u{7}\u{2066} Lee\u{200f}\n\u{9b}".to_owned();
        let payload = Exercise { title: evil.clone(), text: "a".to_owned(), ..Exercise::default() };
        let set = Exercise::from_payload(&payload.to_payload().unwrap()).unwrap();
        assert_eq!(set.title, "Ann Lee");
        let count = Count { name: evil.clone(), times: 1 };
        let slip = Slip {
            by: evil.clone(),
            title: evil.clone(),
            day: evil,
            findings: vec![count],
            ..Slip::default()
        };
        let slip = Slip::from_payload(&slip.to_payload().unwrap()).unwrap();
        for shown in [&slip.by, &slip.title, &slip.day, &slip.findings[0].name] {
            assert_eq!(shown, "Ann Lee");
        }
    }

    #[test]
    fn a_book_travels_by_its_name() {
        let whole = Exercise { book: "board-01".into(), text: "ferry ".repeat(500), ..Exercise::default() };
        let payload = whole.to_payload().unwrap();
        assert!(payload.len() < 60, "{payload}");
        let opened = Exercise::from_payload(&payload).unwrap();
        assert_eq!((opened.book.as_str(), opened.text.as_str()), ("board-01", ""));
        // Before the book is here and after, the work is kept under one name.
        assert_eq!(opened.identity(), whole.identity());
    }

    /// Work that was kept under the name of a version 1 payload is found again.
    #[test]
    fn the_name_of_work_is_that_of_before() {
        let links = include_str!("../../tests/data/links-1.tsv");
        let payload =
            |name: &str| links.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix('\t')).unwrap();
        // The line "signs" was compressed by another version of the library, into other bytes of the same contents.
        for name in ["ferry", "menu", "edition"] {
            assert_eq!(Exercise::from_payload(payload(name)).unwrap().identity(), payload(name), "{name}");
        }
    }

    #[test]
    fn a_slip_is_no_exercise() {
        let payload = Slip::default().to_payload().unwrap();
        assert_eq!(Exercise::from_payload(&payload), Err(LinkError::Other(Kind::Slip)));
        assert_eq!(Slip::from_payload(&payload), Ok(Slip::default()));
    }
}
