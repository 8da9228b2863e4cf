//! What was done to a text, one change after another. Cells typed one after another are held as a run, a byte a cell, so that a
//! long sitting needs little memory; each is still a change of its own.

use crate::cell::Cell;

#[derive(Clone, Debug)]
pub(super) struct Edit {
    /// Where, in cells and line ends from the beginning.
    pub at: usize,
    pub removed: Vec<Vec<Cell>>,
    pub inserted: Vec<Vec<Cell>>,
    /// Where the caret was before.
    pub before: usize,
}

/// A change, or cells that were typed one after another.
#[derive(Debug)]
enum Held {
    One(Edit),
    Typed { at: usize, before: usize, cells: Vec<Cell> },
}

impl Held {
    /// The changes, the first first.
    fn edits(&self) -> Vec<Edit> {
        match self {
            Held::One(edit) => vec![edit.clone()],
            Held::Typed { at, before, cells } => {
                (0..cells.len()).map(|number| typed(at + number, before + number, cells[number])).collect()
            }
        }
    }
}

fn typed(at: usize, before: usize, cell: Cell) -> Edit {
    Edit { at, before, removed: vec![Vec::new()], inserted: vec![vec![cell]] }
}

/// Changes, the last on top.
#[derive(Debug, Default)]
pub(super) struct Changes(Vec<Held>);

impl Changes {
    pub fn push(&mut self, edit: Edit) {
        let one = match (edit.removed.as_slice(), edit.inserted.as_slice()) {
            ([none], [line]) if none.is_empty() && line.len() == 1 => line[0],
            _ => return self.0.push(Held::One(edit)),
        };
        match self.0.last_mut() {
            Some(Held::Typed { at, before, cells })
                if edit.at == *at + cells.len() && edit.before == *before + cells.len() =>
            {
                cells.push(one);
            }
            _ => self.0.push(Held::Typed { at: edit.at, before: edit.before, cells: vec![one] }),
        }
    }

    pub fn pop(&mut self) -> Option<Edit> {
        match self.0.pop()? {
            Held::One(edit) => Some(edit),
            Held::Typed { at, before, mut cells } => {
                let cell = cells.pop()?;
                let edit = typed(at + cells.len(), before + cells.len(), cell);
                if !cells.is_empty() {
                    self.0.push(Held::Typed { at, before, cells });
                }
                Some(edit)
            }
        }
    }

    pub fn clear(&mut self) {
        self.0.clear();
    }

    /// The changes, the first first.
    pub fn edits(&self) -> impl Iterator<Item = Edit> {
        self.0.iter().flat_map(Held::edits)
    }

    /// How many places of the store are taken: typed cells take one together.
    #[cfg(test)]
    pub fn held(&self) -> usize {
        self.0.len()
    }
}
