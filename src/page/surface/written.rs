//! What is written on the surface, as the rooms take it.

use std::rc::Rc;

use crate::cell::Cell;
use crate::ueb::ReadOptions;
use crate::ueb::back::Waiting;
use crate::writing::{self, CHUNK, Chunk, Editor, Line, Place};

/// What the surface begins with; a higher `version` replaces what is written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Given {
    /// Changes when the text is to be replaced.
    pub version: u32,
    /// The lines.
    pub lines: Rc<Vec<Vec<Cell>>>,
    /// They take the place of what was written for the same text, which can be brought back.
    pub over: bool,
}

/// A place that the caret is to go to; a new `version` sends it there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Go {
    /// Changes when the caret is to go.
    pub version: u32,
    /// Where to.
    pub place: Place,
    /// Whether the focus goes there as well.
    pub focus: bool,
}

/// The text as it stands, cheap to pass around.
#[derive(Clone, Debug)]
pub struct Written {
    /// Of which text given to the surface: see [`Given::version`].
    pub version: u32,
    /// The lines, chunk by chunk; a chunk that did not change is the same `Rc` as before.
    pub chunks: Vec<Rc<Chunk>>,
    /// Where the next cell is written.
    pub caret: Place,
    /// A prefix before the caret that still waits for its root, and what it could become.
    pub waiting: Option<(Vec<Cell>, Waiting)>,
}

impl Default for Written {
    fn default() -> Self {
        Written::of(0, &Editor::new(&[], ReadOptions::default()))
    }
}

impl PartialEq for Written {
    fn eq(&self, other: &Written) -> bool {
        self.caret == other.caret && self.same_text(other)
    }
}

impl Written {
    /// What an editor holds that began with this version of a text.
    pub fn of(version: u32, editor: &Editor) -> Written {
        Written {
            version,
            chunks: editor.chunks().to_vec(),
            caret: editor.caret(),
            waiting: editor.waiting(),
        }
    }

    /// Whether the text is the same, and at most the caret elsewhere.
    pub fn same_text(&self, other: &Written) -> bool {
        self.chunks.len() == other.chunks.len()
            && self.chunks.iter().zip(&other.chunks).all(|(one, two)| Rc::ptr_eq(one, two))
    }

    /// The lines with their readings.
    pub fn lines(&self) -> impl Iterator<Item = &Rc<Line>> {
        self.chunks.iter().flat_map(|chunk| &chunk.lines)
    }

    /// The cells, line by line.
    pub fn cells(&self) -> Vec<Vec<Cell>> {
        writing::whole_lines(self.lines())
    }

    /// Whether not one cell is written.
    pub fn is_empty(&self) -> bool {
        self.lines().all(|line| line.cells.is_empty())
    }

    /// The line with the caret.
    pub fn line(&self) -> Option<&Rc<Line>> {
        self.chunks.get(self.caret.line / CHUNK)?.lines.get(self.caret.line % CHUNK)
    }
}
