//! Where each sign that is asked for stands in written braille, right or wrong.

use super::{Expected, Place, align, lines::Flat};
use crate::cell::Cell;

/// For each sign of [`Expected::units`] the written cells in its place, cut at the end of their first line. Where a sign was
/// left out, the place is empty and lies behind what was written last.
pub fn places<L: AsRef<[Cell]>>(expected: &Expected, written: &[L]) -> Vec<Place> {
    let flat = Flat::new(written, expected);
    // For each expected cell: the written one in its place, or behind which it is missing.
    let mut at: Vec<(usize, bool)> = vec![(0, false); expected.cells.len()];
    let mut behind = 0;
    for step in align::align(&expected.cells, &flat.cells) {
        if let Some(slot) = step.expected.and_then(|asked| at.get_mut(asked)) {
            *slot = step.written.map_or((behind, false), |at| (at, true));
        }
        behind = step.written.map_or(behind, |at| at + 1);
    }
    let place = |unit: &super::expected::Unit| {
        let cells = at.get(unit.cells.clone()).unwrap_or_default();
        let written = || cells.iter().filter(|(_, there)| *there);
        match (written().next(), written().next_back()) {
            (Some((first, _)), Some((last, _))) => flat.place(*first, last + 1),
            _ => {
                let behind = cells.first().map_or(0, |(behind, _)| *behind);
                let place = flat.place(behind, behind);
                Place { to: place.from, ..place }
            }
        }
    };
    expected.units.iter().map(place).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    // Braille of the words: sections 10.3 and 10.7 of the standard: "! "m met ! cat".
    #[test]
    fn each_sign_has_its_place() {
        let ascii = |text: &str| cell::from_ascii(text).unwrap();
        let expected = Expected::from_known("the mother met", &ascii("! \"m met"));
        let at = |written: &[&str]| -> Vec<(usize, usize, usize)> {
            let written: Vec<_> = written.iter().map(|line| ascii(line)).collect();
            places(&expected, &written).iter().map(|place| (place.line, place.from, place.to)).collect()
        };
        // The last blank is the line's end, and no cell.
        assert_eq!(
            at(&["! \"m", "  met"]),
            [(0, 0, 1), (0, 1, 2), (0, 2, 4), (0, 4, 4), (1, 2, 3), (1, 3, 4), (1, 4, 5)]
        );
        // The e is left out: its place is empty, before the t.
        let left_out = at(&["! \"m mt"]);
        assert_eq!(left_out[left_out.len() - 2..], [(0, 6, 6), (0, 6, 7)]);
    }
}
