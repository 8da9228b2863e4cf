//! The trial manuscript, from print to parcel: what is done of it day by day, round by round, and what came back.

use serde::{Deserialize, Serialize};

use crate::manuscript::check::{Item, Outcome};
use crate::manuscript::layout::Manuscript;
use crate::manuscript::volumes::Book;

/// What is kept of it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct TrialManuscript {
    /// How many braille pages the course asks for.
    pub asked: usize,
    /// The day on which it was begun; empty when none is.
    pub begun: String,
    /// Its print, by its check sum.
    pub print: u32,
    /// How many pages had been written at the end of each day on which some were.
    pub days: Vec<Day>,
    /// The rounds of proofreading.
    pub rounds: Vec<Round>,
    /// The work as the round that is open began with it, in braille ASCII.
    pub open: Option<String>,
    /// What the check before hand-in said last.
    pub checked: Option<Checked>,
    /// When it was sent.
    pub sent: Vec<Sent>,
    /// What the grader answered.
    pub answers: Vec<Answered>,
}

/// The pages of a day.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Day {
    /// The day.
    pub day: String,
    /// Pages written by then.
    pub pages: usize,
}

/// A round of proofreading.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Round {
    /// The day it ended.
    pub day: String,
    /// Lines that were changed in it.
    pub changed: usize,
    /// What it found, in the learner's words.
    pub note: String,
}

/// What a check said.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Checked {
    /// The day.
    pub day: String,
    /// How much was to fix.
    pub fix: usize,
    /// How much was the transcriber's call.
    pub calls: usize,
    /// The work that was checked, by its check sum.
    pub of: u32,
}

/// A hand-in file that was made.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Sent {
    /// The day.
    pub day: String,
    /// Pages in it.
    pub pages: usize,
}

/// The grader's answer.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Answered {
    /// The day.
    pub day: String,
    /// Whether it was accepted.
    pub accepted: bool,
}

/// What the learner does, each on a day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Action {
    /// The course asks for so many pages.
    Asks(usize),
    /// One is begun, or goes on, with this print, by its check sum.
    Begin(u32),
    /// So many pages are written.
    Wrote(usize),
    /// A round of proofreading begins with this work.
    BeginRound(String),
    /// It ends with this work, and what it found.
    EndRound(String, String),
    /// It is given up.
    LeaveRound,
    /// The check was done.
    Checked(Checked),
    /// The hand-in file was made.
    Sent(usize),
    /// The grader has answered.
    Answered(bool),
    /// Another manuscript.
    Anew,
}

/// Pages of a trial manuscript: common practice, from memory; each course says its own.
pub const PAGES: usize = 35;
/// No course asks for more.
const MOST: usize = 1000;
/// Characters of a note that are kept.
const NOTE: usize = 500;

impl Default for TrialManuscript {
    fn default() -> Self {
        TrialManuscript {
            asked: PAGES,
            begun: String::new(),
            print: 0,
            days: Vec::new(),
            rounds: Vec::new(),
            open: None,
            checked: None,
            sent: Vec::new(),
            answers: Vec::new(),
        }
    }
}

/// Lines of the one that are not in the other, of both whichever has more: what a round changed.
fn changed(before: &str, after: &str) -> usize {
    let lines = |text: &str| -> Vec<String> {
        text.split(['\n', '\u{c}']).map(|line| line.trim_end().to_owned()).collect()
    };
    let lack = |one: &[String], other: &[String]| {
        let mut left: std::collections::HashMap<&str, usize> = std::collections::HashMap::new();
        for line in other {
            *left.entry(line).or_default() += 1;
        }
        let mut lack = 0;
        for line in one {
            match left.get_mut(line.as_str()).filter(|count| **count > 0) {
                Some(count) => *count -= 1,
                None => lack += 1,
            }
        }
        lack
    };
    let (before, after) = (lines(before), lines(after));
    lack(&after, &before).max(lack(&before, &after))
}

impl TrialManuscript {
    /// What it is after an action on this day.
    #[must_use]
    pub fn after(&self, action: Action, day: &str) -> TrialManuscript {
        let mut next = self.clone();
        let day = day.to_owned();
        match action {
            Action::Asks(pages) => next.asked = pages.clamp(1, MOST),
            Action::Begin(print) => {
                next.print = print;
                // One that is begun goes on with print that was mended.
                if next.begun.is_empty() {
                    next.begun = day;
                }
            }
            // Other work that lies on the desk is none of it.
            _ if self.begun.is_empty() => {}
            Action::Wrote(pages) => next.wrote(pages, day),
            Action::BeginRound(work) => next.open = Some(work),
            Action::EndRound(work, note) => {
                if let Some(before) = next.open.take() {
                    let note = note.trim().chars().take(NOTE).collect();
                    next.rounds.push(Round { day, changed: changed(&before, &work), note });
                }
            }
            Action::LeaveRound => next.open = None,
            Action::Checked(checked) => next.checked = Some(Checked { day, ..checked }),
            Action::Sent(pages) => next.sent.push(Sent { day, pages }),
            Action::Answered(accepted) => next.answers.push(Answered { day, accepted }),
            Action::Anew => next = TrialManuscript { asked: self.asked, ..TrialManuscript::default() },
        }
        next
    }

    fn wrote(&mut self, pages: usize, day: String) {
        match self.days.last_mut() {
            Some(last) if last.pages == pages => {}
            Some(last) if last.day == day => last.pages = pages,
            None if pages == 0 => {}
            _ => self.days.push(Day { day, pages }),
        }
    }

    /// How many pages each day brought; a day on which pages were taken out brought none.
    pub fn by_day(&self) -> Vec<(&str, usize)> {
        let mut before = 0;
        let mut out = Vec::new();
        for day in &self.days {
            out.push((day.day.as_str(), day.pages.saturating_sub(before)));
            before = day.pages;
        }
        out
    }

    /// What stands in the way of sending it, in sentences. `counted` is how many pages are written and the check sum of the
    /// work, where they have been counted; `print` is the check sum of the print on the holder.
    pub fn still_to_do(&self, counted: Option<(usize, u32)>, made: usize, print: u32) -> Vec<String> {
        let mut out = Vec::new();
        if print != self.print {
            out.push(
                "The print on the holder is not the one that this manuscript was begun with.".to_owned(),
            );
        }
        if made < self.asked {
            out.push(format!("The print makes {}; your course asks for {}.", pages(made), pages(self.asked)));
        }
        match counted {
            None => out.push("The pages written are being counted.".to_owned()),
            Some((written, _)) if written < made => {
                out.push(format!("Pages written: {written} of {made}."));
            }
            Some(_) => {}
        }
        if self.open.is_some() {
            out.push("A round of proofreading is open.".to_owned());
        } else if self.rounds.is_empty() {
            out.push("It has not been proofread yet.".to_owned());
        } else if self.rounds.last().is_some_and(|round| round.changed > 0) {
            out.push(
                "The last round still changed something. Go on until a round finds nothing to mend."
                    .to_owned(),
            );
        }
        match &self.checked {
            None => out.push("The whole volume has not been checked yet.".to_owned()),
            Some(checked) if counted.is_some_and(|(_, of)| of != checked.of) => {
                out.push("It has changed since it was checked.".to_owned());
            }
            Some(checked) if checked.fix > 0 => {
                out.push(format!("The check found {} to fix.", checked.fix));
            }
            Some(_) => {}
        }
        out
    }
}

/// How much is written, in words: nothing is said of it before it is counted.
pub fn written_of(written: Option<usize>, made: usize) -> String {
    match written {
        Some(written) => format!("pages written: {written} of {made}"),
        None => "pages written: being counted".to_owned(),
    }
}

/// So many pages, in words.
pub fn pages(count: usize) -> String {
    if count == 1 { "1 page".to_owned() } else { format!("{count} pages") }
}

/// What a check said, for [`Action::Checked`]; `of` is the check sum of the work.
pub fn checked(items: &[Item], of: u32) -> Checked {
    let count = |result: Outcome| items.iter().filter(|item| item.result == result).count();
    Checked { day: String::new(), fix: count(Outcome::ToFix), calls: count(Outcome::YourCall), of }
}

/// A part of a volume, in the order it is bound.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is.
    pub name: String,
    /// How many braille pages it takes.
    pub pages: usize,
    /// The number of its first page, as braille page numbers are written in print.
    pub from: String,
    /// That of its last.
    pub to: String,
}

impl Part {
    /// Its pages in words.
    pub fn words(&self) -> String {
        match self.pages {
            1 => format!("{}: page {}", self.name, self.from),
            count => format!("{}: {count} pages, {} to {}", self.name, self.from, self.to),
        }
    }
}

/// The parts of a book, volume by volume.
pub fn parts(book: &Book) -> Vec<Vec<Part>> {
    book.volumes().iter().map(parts_of).collect()
}

fn parts_of(volume: &Manuscript) -> Vec<Part> {
    let mut out: Vec<Part> = Vec::new();
    let titled = volume.lines().len() > volume.pages().len();
    let title = titled.then_some("t1");
    for label in title.into_iter().chain(volume.pages().iter().map(|page| page.label.as_str())) {
        let name = match label.chars().next() {
            Some('t') if label == "t1" => "Title page",
            Some('t') => "Pages that you make (special symbols, notes)",
            Some('p') => "Front matter",
            _ => "Text",
        };
        match out.last_mut() {
            Some(last) if last.name == name => {
                last.pages += 1;
                last.to = label.to_owned();
            }
            _ => out.push(Part {
                name: name.to_owned(),
                pages: 1,
                from: label.to_owned(),
                to: label.to_owned(),
            }),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::manuscript::Sheet;

    fn begun() -> TrialManuscript {
        TrialManuscript::default().after(Action::Begin(5), "1 May")
    }

    #[test]
    fn other_work_is_none_of_it() {
        let none = TrialManuscript::default();
        for action in
            [Action::Wrote(3), Action::Sent(3), Action::BeginRound("a".into()), Action::Answered(true)]
        {
            assert_eq!(none.after(action, "1 May"), none);
        }
        assert_eq!(begun().begun, "1 May");
        assert_eq!(begun().after(Action::Begin(6), "2 May"), TrialManuscript { print: 6, ..begun() });
        assert!(
            begun().still_to_do(Some((0, 0)), 0, 6)[0].starts_with("The print on the holder is not the one")
        );
    }

    #[test]
    fn days_and_pages() {
        let mut trial = begun();
        for (pages, day) in
            [(0, "1 May"), (1, "1 May"), (3, "1 May"), (3, "2 May"), (5, "3 May"), (4, "4 May")]
        {
            trial = trial.after(Action::Wrote(pages), day);
        }
        assert_eq!(trial.by_day(), [("1 May", 3), ("3 May", 2), ("4 May", 0)]);
        let kept = serde_json::to_string(&trial).unwrap();
        assert_eq!(serde_json::from_str::<TrialManuscript>(&kept).unwrap(), trial);
        // What an earlier page kept still reads.
        assert_eq!(serde_json::from_str::<TrialManuscript>("{}").unwrap(), TrialManuscript::default());
    }

    #[test]
    fn a_round_tells_how_many_lines_it_changed() {
        let trial = begun();
        // No round is open: nothing ends.
        assert_eq!(trial.after(Action::EndRound("a".into(), String::new()), "1 May"), trial);
        let trial = trial.after(Action::BeginRound("a\r\nb\r\nc\r\n\u{c}d\r\n".into()), "1 May");
        let done = trial.after(
            Action::EndRound("a\r\nB\r\nc\r\n\u{c}d\r\ne\r\n".into(), " an indicator ".into()),
            "2 May",
        );
        assert_eq!(done.rounds, [Round { day: "2 May".into(), changed: 2, note: "an indicator".into() }]);
        assert!(done.open.is_none() && trial.after(Action::LeaveRound, "2 May").rounds.is_empty());
        // A line that moved to another page is no change.
        assert_eq!(changed("a\nb\n\u{c}c\n", "a\n\u{c}b\nc\n"), 0);
    }

    #[test]
    fn what_is_still_to_do() {
        let trial = begun().after(Action::Asks(2), "1 May");
        assert_eq!(trial.still_to_do(Some((1, 7)), 2, 5).len(), 3);
        let checked = Checked { of: 7, ..Checked::default() };
        let ready = trial
            .after(Action::BeginRound("a".into()), "1 May")
            .after(Action::EndRound("a".into(), String::new()), "1 May")
            .after(Action::Checked(checked), "1 May");
        assert_eq!(ready.still_to_do(Some((2, 7)), 2, 5), Vec::<String>::new());
        assert_eq!(ready.still_to_do(Some((2, 8)), 2, 5), ["It has changed since it was checked."]);
        // Nothing false is said of work that is not counted yet, and it is not said to be ready.
        assert_eq!(ready.still_to_do(None, 2, 5), ["The pages written are being counted."]);
        assert_eq!(written_of(None, 2), "pages written: being counted");
        assert_eq!(written_of(Some(0), 2), "pages written: 0 of 2");
        let sent = ready.after(Action::Sent(2), "2 May").after(Action::Answered(false), "9 May");
        assert_eq!((sent.sent[0].pages, sent.answers[0].accepted), (2, false));
        assert_eq!(
            sent.after(Action::Anew, "9 May"),
            TrialManuscript { asked: 2, ..TrialManuscript::default() }
        );
    }

    // The order of the parts: Braille Formats 2016, section 2, from memory.
    #[test]
    fn the_parts_of_a_volume_with_their_pages() {
        let text = "---\ntitle: boats\n---\n\u{c}t\n# special symbols\n\nboat\n\u{c}1\nboat\n";
        let names: Vec<String> =
            parts(&Book::from_print(text, Sheet::default())).concat().iter().map(Part::words).collect();
        assert_eq!(
            names,
            ["Title page: page t1", "Pages that you make (special symbols, notes): page t2", "Text: page 1"]
        );
        let notice = Book::from_print("# a\n\nboat\n", Sheet::default());
        assert_eq!(parts(&notice)[0][0].words(), "Text: page 1");
    }
}
