//! Lone dots and low shapes within a line: which dots are they, with only their neighbours to compare?

use crate::cell::Cell;

/// A short line with one cell that is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// The line.
    pub cells: Vec<Cell>,
    /// The place of the cell that is asked.
    pub at: usize,
}

impl Item {
    /// The cell that is asked.
    pub fn cell(&self) -> Cell {
        self.cells.get(self.at).copied().unwrap_or_default()
    }
}

/// The shapes that a reader by eye places wrongly: one dot alone, dots in one column only, and the lower signs.
pub fn shapes() -> Vec<Cell> {
    let hard = |cell: &Cell| {
        let one_column = cell.bits() & 7 == 0 || cell.bits() & 0o70 == 0;
        let one_row = cell.rows().iter().filter(|on| **on).count() == 1;
        cell.dots().count() == 1 || cell.is_lower() || (cell.dots().count() < 3 && (one_column || one_row))
    };
    Cell::all().filter(|cell| !cell.is_blank()).filter(hard).collect()
}

/// A line of six to nine cells: a hard shape among letters. The letters next to it have dots in the top row and in
/// both columns, so that the line itself tells where the shape lies, as on paper. Never the same shape twice running.
pub fn next(last: Option<Cell>, chance: &mut fastrand::Rng) -> Item {
    let shapes: Vec<Cell> = shapes().into_iter().filter(|cell| Some(*cell) != last).collect();
    let asked = shapes[chance.usize(..shapes.len())];
    let letters: Vec<Cell> = "abcdefghijklmnopqrstuvwxyz".chars().filter_map(Cell::from_ascii).collect();
    let full: Vec<Cell> =
        letters.iter().copied().filter(|c| c.bits() & 0o11 == 0o11 && c.bits() & 0o44 != 0).collect();
    let count = chance.usize(6..=9);
    let at = chance.usize(1..count - 1);
    let cells = (0..count)
        .map(|n| match n {
            n if n == at => asked,
            n if n + 1 == at || n == at + 1 => full[chance.usize(..full.len())],
            _ => letters[chance.usize(..letters.len())],
        })
        .collect();
    Item { cells, at }
}

/// What to say of an answer in dot numbers; whether it is right comes first.
pub fn judge(item: &Item, answer: &str) -> (bool, String) {
    let cell = item.cell();
    let given: String = answer.chars().filter(|c| c.is_ascii_digit()).collect();
    let Some(given) = Cell::from_dot_numbers(&given).filter(|given| !given.is_blank()) else {
        return (false, format!("Type dot numbers, 1 to 6. These are dots {}.", cell.dot_numbers()));
    };
    if given == cell {
        return (true, "Right.".to_owned());
    }
    let how = super::lookalike::likeness(given, cell).map_or("another shape", |how| how.name());
    (false, format!("Not {}: it is {} ({how}).", given.dot_numbers(), cell.dot_numbers()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lone_dots_and_low_shapes_all_come_up_between_full_neighbours() {
        let shapes = shapes();
        assert!((1..=6).all(|dot| shapes.contains(&Cell::from_dots(&[dot]).unwrap())));
        assert!(Cell::all().filter(|cell| cell.is_lower()).all(|cell| shapes.contains(&cell)));
        let mut chance = fastrand::Rng::with_seed(4);
        let mut seen = std::collections::HashSet::new();
        let mut last = None;
        for _ in 0..2_000 {
            let item = next(last, &mut chance);
            assert_ne!(Some(item.cell()), last);
            for side in [item.at - 1, item.at + 1] {
                assert!(item.cells[side].rows()[0] && item.cells[side].rows()[2]);
            }
            assert!(judge(&item, &item.cell().dot_numbers()).0);
            assert!(!judge(&item, "").0 && !judge(&item, "x").0);
            last = Some(item.cell());
            seen.insert(item.cell());
        }
        assert_eq!(seen.len(), shapes.len());
    }
}
