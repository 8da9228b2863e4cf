//! Beside a paper book: cells copied from it one by one, doubtful dots left doubtful. A state and the actions that change it.

use crate::cell::Cell;
use crate::practice::clues::Doubtful;

/// Cells that there are at first.
pub const FIRST: usize = 7;
/// Cells that can be entered: a full line.
pub const MOST: usize = 40;
/// The most clues that a cell has.
const CLUES: usize = 6;

/// The cells, and what was asked of them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct State {
    /// The cells, with room for one more behind the last that has a dot.
    pub cells: Vec<Doubtful>,
    /// The cell that the keys are for, from 0.
    pub at: usize,
    /// How many clues are shown for it.
    pub clues: usize,
    /// Whether what the cells say is shown though no dot is doubtful.
    pub told: bool,
    /// Whether the book has signs that UEB dropped.
    pub older: bool,
}

impl Default for State {
    /// Blank cells; the first one is entered first.
    fn default() -> State {
        State { cells: vec![Doubtful::default(); FIRST], at: 0, clues: 0, told: false, older: false }
    }
}

/// What somebody does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// Turns a dot, 1 to 6, of a cell: from none to raised to doubtful and back.
    Turn(usize, u8),
    /// Goes to a cell.
    Go(usize),
    /// Makes the cell blank.
    Erase,
    /// Asks for one clue more.
    Clue,
    /// Asks what it says.
    Tell,
    /// Says whether the book is an older one.
    Older(bool),
    /// Begins anew.
    Clear,
}

fn turned(cell: Doubtful, dot: u8) -> Doubtful {
    let bit = 1 << (dot - 1);
    let flip = |cell: Cell| Cell::from_bits(cell.bits() ^ bit).unwrap_or(cell);
    if cell.sure.has_dot(dot) {
        Doubtful { sure: flip(cell.sure), perhaps: flip(cell.perhaps) }
    } else if cell.perhaps.has_dot(dot) {
        Doubtful { perhaps: flip(cell.perhaps), ..cell }
    } else {
        Doubtful { sure: flip(cell.sure), ..cell }
    }
}

fn is_filled(cell: &Doubtful) -> bool {
    !cell.sure.is_blank() || !cell.perhaps.is_blank()
}

impl State {
    /// What a key does: 1 to 6 turn a dot, the arrows and the space bar go from cell to cell.
    pub fn key(&self, key: &str) -> Option<Action> {
        Some(match (key.parse::<u8>(), key) {
            (Ok(dot @ 1..=6), _) => Action::Turn(self.at, dot),
            (_, "ArrowLeft") => Action::Go(self.at.saturating_sub(1)),
            (_, "ArrowRight" | " ") => Action::Go(self.at + 1),
            (_, "Home") => Action::Go(0),
            (_, "End") => Action::Go(self.entered().map_or(0, |(first, cells)| first + cells.len() - 1)),
            (_, "Backspace" | "Delete") => Action::Erase,
            _ => return None,
        })
    }

    /// What comes of an action.
    pub fn after(&self, action: Action) -> State {
        let mut new = self.clone();
        match action {
            Action::Turn(place, dot) if (1..=6).contains(&dot) && place < new.cells.len() => {
                new.cells[place] = turned(new.cells[place], dot);
                (new.at, new.clues, new.told) = (place, 0, false);
            }
            Action::Turn(..) => {}
            Action::Go(place) => {
                new.at = place.min(MOST - 1);
                new.clues = if new.at == self.at { self.clues } else { 0 };
            }
            Action::Erase => {
                // A blank cell is gone back from, as on a writing line.
                if !is_filled(&new.cells[new.at]) {
                    new.at = new.at.saturating_sub(1);
                }
                new.cells[new.at] = Doubtful::default();
                (new.clues, new.told) = (0, false);
            }
            Action::Clue => new.clues = (new.clues + 1).min(CLUES),
            Action::Tell => new.told = true,
            Action::Older(older) => new.older = older,
            Action::Clear => new = State { older: self.older, ..State::default() },
        }
        let filled = new.cells.iter().rposition(is_filled).map_or(0, |last| last + 2);
        new.cells.resize(filled.max(new.at + 1).clamp(FIRST, MOST), Doubtful::default());
        new
    }

    /// What was entered, and the place of its first cell: blank cells at the ends are where nothing was.
    pub fn entered(&self) -> Option<(usize, &[Doubtful])> {
        let (first, last) = (self.cells.iter().position(is_filled)?, self.cells.iter().rposition(is_filled)?);
        Some((first, &self.cells[first..=last]))
    }

    /// How many dots are doubtful.
    pub fn doubts(&self) -> usize {
        self.cells.iter().map(|cell| (cell.perhaps.bits() & !cell.sure.bits()).count_ones() as usize).sum()
    }
}

/// What a dot of a cell is, in words.
pub fn dot_words(cell: Doubtful, dot: u8) -> &'static str {
    if cell.sure.has_dot(dot) {
        "raised"
    } else if cell.perhaps.has_dot(dot) {
        "doubtful"
    } else {
        "not there"
    }
}

/// A cell as its dot numbers, the doubtful ones apart.
pub fn cell_words(cell: Doubtful) -> String {
    let perhaps = Cell::from_bits(cell.perhaps.bits() & !cell.sure.bits()).unwrap_or(Cell::BLANK);
    match (cell.sure.is_blank(), perhaps.is_blank()) {
        (_, true) => cell.sure.dot_numbers(),
        (true, false) => format!("perhaps {}", perhaps.dot_numbers()),
        (false, false) => format!("{}, perhaps {}", cell.sure.dot_numbers(), perhaps.dot_numbers()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(keys: &str) -> State {
        keys.chars().fold(State::default(), |state, key| match state.key(&key.to_string()) {
            Some(action) => state.after(action),
            None => state,
        })
    }

    #[test]
    fn a_word_is_entered_cell_by_cell() {
        // c a t: dots 1 4, 1, 2 3 4 5 (section 4.1).
        let state = typed("14 1 2345");
        let (first, cells) = state.entered().unwrap();
        let sure: Vec<String> = cells.iter().map(|cell| cell.sure.dot_numbers()).collect();
        assert_eq!((first, sure), (0, vec!["1-4".to_owned(), "1".into(), "2-3-4-5".into()]));
        assert_eq!((state.at, state.cells.len(), state.doubts()), (2, FIRST, 0));
        // Letters are no keys here.
        assert!(('a'..='z').all(|letter| state.key(&letter.to_string()).is_none()));
    }

    #[test]
    fn there_is_always_room_for_one_cell_more_up_to_a_line() {
        let state = typed(&"1 ".repeat(9));
        assert_eq!((state.cells.len(), state.at), (10, 9));
        let state = typed(&"1 ".repeat(60));
        assert_eq!((state.cells.len(), state.at), (MOST, MOST - 1));
        // A blank between is a space between words.
        assert_eq!(typed("1  1").entered().unwrap().1.len(), 3);
        assert!(typed("").entered().is_none() && typed("1 1").after(Action::Clear).entered().is_none());
    }

    #[test]
    fn a_dot_is_raised_then_doubtful_then_not_there() {
        let states: Vec<&str> = ["2", "22", "222"].map(|keys| dot_words(typed(keys).cells[0], 2)).to_vec();
        assert_eq!(states, ["raised", "doubtful", "not there"]);
        assert_eq!(cell_words(typed("1244").cells[0]), "1-2, perhaps 4");
        assert_eq!(typed("1244").doubts(), 1);
        // Erased: the cell, and, where it is blank, the one before.
        let state = typed("1 1 ").after(Action::Erase);
        assert_eq!((state.at, state.entered().unwrap().1.len()), (1, 1));
    }

    #[test]
    fn clues_are_for_a_cell() {
        let state = typed("1 1").after(Action::Clue).after(Action::Clue);
        assert_eq!((state.clues, state.after(Action::Go(0)).clues), (2, 0));
        assert!(state.after(Action::Tell).told && !state.after(Action::Tell).after(Action::Turn(0, 3)).told);
    }
}
