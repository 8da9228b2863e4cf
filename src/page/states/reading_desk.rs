//! The reading desk of the room Proofread: a braille file of the learner's own, where its reader is, and the notes.

use std::rc::Rc;

use crate::manuscript::notes::{At, Notes};

/// A file with its notes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotedFile {
    /// Its name.
    pub name: String,
    /// Its text; empty when there is none.
    pub text: Rc<str>,
    /// The notes at its cells.
    pub notes: Notes,
}

impl Default for NotedFile {
    fn default() -> Self {
        NotedFile { name: String::new(), text: "".into(), notes: Notes::default() }
    }
}

/// The desk.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ReadingDesk {
    /// What lies on it.
    pub file: NotedFile,
    /// The file that this one took the place of just now.
    pub before: Option<NotedFile>,
    /// The page, from 0.
    pub page: usize,
    /// The line and the cell of the cursor, from 0.
    pub at: (usize, usize),
    /// Why a file was refused.
    pub refused: Option<String>,
}

/// What happens at the desk.
#[derive(Clone, Debug)]
pub enum Action {
    /// A file is opened: its name and its text.
    Open(String, Rc<str>),
    /// A file is refused.
    Refuse(String),
    /// The file before is put back.
    BringBack,
    /// Another page.
    Turn(usize),
    /// The cursor goes to a line and cell.
    Move((usize, usize)),
    /// A note is written at a cell.
    Note(At, String),
}

impl ReadingDesk {
    /// The desk after something has happened.
    #[must_use]
    pub fn after(mut self, action: Action) -> ReadingDesk {
        match action {
            Action::Open(name, text) => {
                let old =
                    std::mem::replace(&mut self.file, NotedFile { name, text, notes: Notes::default() });
                if !old.text.is_empty() {
                    self.before = Some(old);
                }
                (self.page, self.at, self.refused) = (0, (0, 0), None);
            }
            Action::Refuse(why) => self.refused = Some(why),
            Action::BringBack => {
                if let Some(file) = self.before.take() {
                    self.file = file;
                    (self.page, self.at) = (0, (0, 0));
                }
            }
            Action::Turn(page) => (self.page, self.at) = (page, (0, 0)),
            Action::Move(to) => self.at = to,
            Action::Note(at, text) => {
                self.file.notes.write(at, &text);
                // The file before can be brought back until something is changed.
                self.before = None;
            }
        }
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn open(desk: ReadingDesk, name: &str) -> ReadingDesk {
        desk.after(Action::Open(name.to_owned(), name.into()))
    }

    fn note(desk: ReadingDesk) -> ReadingDesk {
        desk.after(Action::Note(At::default(), "a dot too many".to_owned()))
    }

    #[test]
    fn a_file_that_another_takes_the_place_of_comes_back_with_its_notes() {
        let first = note(open(ReadingDesk::default(), "log"));
        assert_eq!(first.before, None);
        let second = open(first.clone().after(Action::Turn(3)), "menu");
        assert_eq!((&*second.file.text, second.file.notes.len(), second.page), ("menu", 0, 0));
        let back = second.after(Action::Move((1, 2))).after(Action::BringBack);
        assert_eq!((back.file.clone(), back.at), (first.file, (0, 0)));
        // There is nothing more to bring back.
        assert_eq!(back.clone().after(Action::BringBack), back);
    }

    #[test]
    fn once_a_note_is_written_the_file_before_is_let_go() {
        let desk = note(open(open(ReadingDesk::default(), "log"), "menu"));
        assert_eq!((desk.file.notes.len(), desk.before), (1, None));
    }

    #[test]
    fn another_page_begins_at_its_first_cell_and_another_file_takes_the_refusal_away() {
        let desk = open(ReadingDesk::default(), "log").after(Action::Move((4, 2))).after(Action::Turn(1));
        assert_eq!((desk.page, desk.at), (1, (0, 0)));
        let refused = desk.after(Action::Refuse("too large".to_owned()));
        assert_eq!(refused.refused.as_deref(), Some("too large"));
        assert_eq!(open(refused, "menu").refused, None);
    }
}
