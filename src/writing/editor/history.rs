//! What can be undone, as text: so that another editor goes on with a text as if it had been written there.

use super::changes::{Changes, Edit};
use super::{Editor, whole_lines};
use crate::cell::{self, Cell};

/// Between edits, between the parts of an edit, between lines: nothing that braille ASCII holds.
const NEXT_EDIT: char = '\n';
const NEXT_PART: char = '\t';
const NEXT_LINE: char = '\r';

impl Editor {
    /// The text, the caret, and what can be undone and done again, for [`Editor::go_on`].
    pub fn history(&self) -> String {
        let mut history = text_of(&whole_lines(&self.lines));
        history.push(NEXT_PART);
        history += &self.offset(self.caret).to_string();
        for (way, edits) in [('u', &self.done), ('r', &self.undone)] {
            for edit in edits.edits() {
                history.push(NEXT_EDIT);
                history.push(way);
                for part in [
                    edit.at.to_string(),
                    edit.before.to_string(),
                    text_of(&edit.removed),
                    text_of(&edit.inserted),
                ] {
                    history.push(NEXT_PART);
                    history += &part;
                }
            }
        }
        history
    }

    /// Goes on from the [history](Editor::history) of an editor that held the same text: the caret goes where it was, and what
    /// could be undone can be undone here. `false`, and nothing is changed, when it is of another text or no history.
    pub fn go_on(&mut self, history: &str) -> bool {
        let mut edits = history.split(NEXT_EDIT);
        let Some((text, caret)) = edits.next().and_then(|first| first.split_once(NEXT_PART)) else {
            return false;
        };
        let (Ok(caret), true) = (caret.parse(), text == text_of(&whole_lines(&self.lines))) else {
            return false;
        };
        let (mut done, mut undone) = (Changes::default(), Changes::default());
        for edit in edits {
            match edit_of(edit) {
                Some(('u', edit)) => done.push(edit),
                Some(('r', edit)) => undone.push(edit),
                _ => return false,
            }
        }
        (self.done, self.undone) = (done, undone);
        self.go(self.place(caret), false);
        true
    }
}

fn edit_of(text: &str) -> Option<(char, Edit)> {
    let parts: Vec<&str> = text.split(NEXT_PART).collect();
    let [way, at, before, removed, inserted] = parts.as_slice() else { return None };
    let edit = Edit {
        at: at.parse().ok()?,
        before: before.parse().ok()?,
        removed: lines_of(removed)?,
        inserted: lines_of(inserted)?,
    };
    Some((way.chars().next()?, edit))
}

fn text_of(lines: &[Vec<Cell>]) -> String {
    let lines: Vec<String> = lines.iter().map(|line| cell::to_ascii(line)).collect();
    lines.join(&NEXT_LINE.to_string())
}

fn lines_of(text: &str) -> Option<Vec<Vec<Cell>>> {
    text.split(NEXT_LINE).map(cell::from_ascii).collect()
}
