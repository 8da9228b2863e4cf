//! Signs that look like a sign: one cell of theirs is mirrored, shifted or one dot apart.

use crate::cell::Cell;
use crate::ueb::register::{self, Sign};

/// How two shapes are alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Likeness {
    /// Left and right change places.
    Mirrored,
    /// The same shape higher or lower.
    Shifted,
    /// The same shape in the other column.
    OtherColumn,
    /// One dot more or less.
    OneDot,
}

impl Likeness {
    /// In plain words.
    pub fn name(self) -> &'static str {
        match self {
            Likeness::Mirrored => "its mirror image",
            Likeness::Shifted => "the same shape, higher or lower",
            Likeness::OtherColumn => "the same shape in the other column",
            Likeness::OneDot => "one dot more or less",
        }
    }
}

/// How two cells are alike; `None` when they are the same or not alike.
pub fn likeness(one: Cell, two: Cell) -> Option<Likeness> {
    if one == two || one.is_blank() || two.is_blank() {
        return None;
    }
    if one.mirror() == two {
        let column = one.bits() & 7 == 0 || one.bits() & 0o70 == 0;
        return Some(if column { Likeness::OtherColumn } else { Likeness::Mirrored });
    }
    if [-2, -1, 1, 2].iter().any(|rows| one.shifted(*rows) == Some(two)) {
        return Some(Likeness::Shifted);
    }
    ((one.bits() ^ two.bits()).count_ones() == 1).then_some(Likeness::OneDot)
}

/// The signs of the course that look like this one, and how; the most alike first.
pub fn of(sign: &Sign) -> Vec<(&'static Sign, Likeness)> {
    let mut found: Vec<(&'static Sign, Likeness)> = register::signs()
        .iter()
        .filter(|other| super::units::unit_of(other.key).is_some() && other.cells.len() == sign.cells.len())
        .filter_map(|other| {
            let mut differ = other.cells.iter().zip(&sign.cells).filter(|(a, b)| a != b);
            let (a, b) = differ.next()?;
            if differ.next().is_some() {
                return None;
            }
            Some((other, likeness(*a, *b)?))
        })
        .collect();
    found.sort_by_key(|(_, likeness)| *likeness as u8);
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn e_and_i_are_mirrored_and_dots_3_and_6_change_columns() {
        let cell = |text| Cell::from_dot_numbers(text).unwrap();
        assert_eq!(likeness(cell("15"), cell("24")), Some(Likeness::Mirrored));
        assert_eq!(likeness(cell("3"), cell("6")), Some(Likeness::OtherColumn));
        assert_eq!(likeness(cell("1"), cell("2")), Some(Likeness::Shifted));
        assert_eq!(likeness(cell("1"), cell("14")), Some(Likeness::OneDot));
        let e = register::by_key("letter e").unwrap();
        assert!(of(e).iter().any(|(other, how)| other.key == "letter i" && *how == Likeness::Mirrored));
    }
}
