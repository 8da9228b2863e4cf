//! Arrows and shapes: signs made of an indicator and parts (3.2, 3.22, 11.6, 11.7).

use std::sync::OnceLock;

use super::super::register::SignId;
use super::known::id;

/// An arrow or a shape.
pub(crate) struct Figure {
    /// The indicator first.
    pub signs: Vec<SignId>,
    /// A shape, which is ended by a terminator before what is not blank (11.7.1).
    pub shape: bool,
}

const EAST: &str = "right pointing arrow";
const WEST: &str = "left pointing arrow";
const NORTH: &str = "up pointing arrow";
const SOUTH: &str = "down pointing arrow";
const HEAD: &str = "regular barb, full, in line of direction";
const TAIL: &str = "regular barb, full, counter to line of direction";
const DOUBLE: &str = "medium double line shaft";
const LONG: &str = "long single straight line shaft";
const RIGHT_TURN: &str = "shaft with sharp turn to the right (in line of direction)";
const LEFT_TURN: &str = "shaft with sharp turn to the left (in line of direction)";
const FILLED: &str = "filled";
const SHADED: &str = "shaded shape indicator";

/// Arrows: tail, shaft, head and direction, each only where it is not the simple arrow's (11.6.1 to 11.6.3). One
/// with a turn has the direction in which it sets out.
const ARROWS: &[(char, &[&str])] = &[
    ('→', &[EAST]),
    ('←', &[WEST]),
    ('↑', &[NORTH]),
    ('↓', &[SOUTH]),
    ('↗', &["up and right pointing arrow"]),
    ('↘', &["down and right pointing arrow"]),
    ('↖', &["up and left pointing arrow"]),
    ('↙', &["down and left pointing arrow"]),
    ('⟶', &[LONG, EAST]),
    ('⟵', &[LONG, WEST]),
    ('↔', &[TAIL, HEAD, EAST]),
    ('↕', &[TAIL, HEAD, NORTH]),
    ('⇒', &[DOUBLE, EAST]),
    ('⇐', &[DOUBLE, WEST]),
    ('⇑', &[DOUBLE, NORTH]),
    ('⇓', &[DOUBLE, SOUTH]),
    ('⇔', &[TAIL, DOUBLE, HEAD, EAST]),
    ('↵', &[RIGHT_TURN, SOUTH]),
    ('⏎', &[RIGHT_TURN, SOUTH]),
    ('↲', &[RIGHT_TURN, SOUTH]),
    ('↳', &[LEFT_TURN, SOUTH]),
    ('↱', &[RIGHT_TURN, NORTH]),
    ('↰', &[LEFT_TURN, NORTH]),
    ('↴', &[RIGHT_TURN, EAST]),
    ('↦', &["straight barb, full (directionless)", HEAD, EAST]),
    ('⇀', &["regular barb, upper half, in line", EAST]),
    ('⇁', &["regular barb, lower half, in line", EAST]),
    ('⇢', &["medium dotted line shaft", EAST]),
    ('⇠', &["medium dotted line shaft", WEST]),
];

/// Shapes: the indicator, and the shape.
const SHAPES: &[(char, &str, &str)] = &[
    ('○', "shape indicator", "circle"),
    ('◯', "shape indicator", "circle"),
    ('◦', "shape indicator", "circle"),
    ('△', "shape indicator", "regular (equilateral) triangle"),
    ('□', "shape indicator", "square"),
    ('☐', "shape indicator", "square"),
    ('▫', "shape indicator", "square"),
    ('⬜', "shape indicator", "square"),
    ('⬠', "shape indicator", "regular pentagon"),
    ('⬡', "shape indicator", "regular hexagon"),
    ('▱', "shape indicator", "parallelogram"),
    ('●', FILLED, "circle"),
    ('⬤', FILLED, "circle"),
    ('▲', FILLED, "regular (equilateral) triangle"),
    ('■', FILLED, "square"),
    ('▪', FILLED, "square"),
    ('⬛', FILLED, "square"),
    ('⬟', FILLED, "regular pentagon"),
    ('⬢', FILLED, "regular hexagon"),
    ('▰', FILLED, "parallelogram"),
    ('▧', SHADED, "square"),
    ('▨', SHADED, "square"),
    ('▦', SHADED, "square"),
];

/// The arrow or shape that a character is.
pub(crate) fn figure(c: char) -> Option<&'static Figure> {
    static FIGURES: OnceLock<Vec<(char, Figure)>> = OnceLock::new();
    let figures = FIGURES.get_or_init(|| {
        let arrows = ARROWS.iter().map(|&(c, parts)| {
            let signs = std::iter::once("arrow indicator").chain(parts.iter().copied()).map(id).collect();
            (c, Figure { signs, shape: false })
        });
        let shapes = SHAPES
            .iter()
            .map(|&(c, indicator, shape)| (c, Figure { signs: vec![id(indicator), id(shape)], shape: true }));
        let mut figures: Vec<(char, Figure)> = arrows.chain(shapes).collect();
        crate::order::sort_by_key(&mut figures, |figure| figure.0);
        figures
    });
    let at = figures.binary_search_by_key(&c, |figure| figure.0).ok()?;
    Some(&figures[at].1)
}

#[cfg(test)]
mod tests {
    use super::super::super::register;
    use super::*;

    #[test]
    fn every_part_is_registered() {
        let keys = ARROWS.iter().flat_map(|arrow| arrow.1.iter().copied());
        for key in keys.chain(SHAPES.iter().flat_map(|shape| [shape.1, shape.2])) {
            assert!(register::by_key(key).is_some(), "{key}");
        }
    }
}
