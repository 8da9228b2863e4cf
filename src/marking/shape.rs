//! One cell in another's place, seen by its dots alone.

use super::Kind;
use crate::cell::Cell;

/// The shape kinds that fit one cell in another's place, the closest cause first.
pub fn shapes(asked: Cell, written: Cell) -> Vec<Kind> {
    let mut kinds = Vec::new();
    if asked != written && asked.mirror() == written {
        kinds.push(Kind::Mirrored);
    }
    if [-2, -1, 1, 2].into_iter().any(|rows| asked.shifted(rows) == Some(written) && asked != written) {
        kinds.push(Kind::Shifted);
    }
    if (asked.bits() ^ written.bits()).count_ones() == 1 {
        kinds.push(Kind::DotSlip);
    }
    kinds
}

/// Cells in words, "dots 1-2-4, 1"; a long run is cut.
pub fn dots(cells: &[Cell]) -> String {
    let shown: Vec<String> = cells.iter().take(12).map(|cell| cell.dot_numbers()).collect();
    let more = if cells.len() > 12 { " …" } else { "" };
    match cells {
        [] => "nothing".to_owned(),
        [cell] if cell.is_blank() => "a blank cell".to_owned(),
        [cell] if cell.dots().count() == 1 => format!("dot {}", cell.dot_numbers()),
        _ => format!("dots {}{more}", shown.join(", ")),
    }
}

/// The dots that one cell has and the other has not, in words: "dot 6 is missing".
pub fn off_by(asked: Cell, written: Cell) -> String {
    let list = |from: Cell, than: Cell| {
        let dots: Vec<String> =
            from.dots().filter(|&dot| !than.has_dot(dot)).map(|dot| dot.to_string()).collect();
        match dots.as_slice() {
            [] => None,
            [one] => Some(format!("dot {one}")),
            many => Some(format!("dots {}", many.join("-"))),
        }
    };
    match (list(asked, written), list(written, asked)) {
        (Some(missing), None) => format!("{missing} is missing"),
        (None, Some(extra)) => format!("{extra} is too many"),
        (Some(missing), Some(extra)) => format!("{missing} is missing and {extra} is too many"),
        (None, None) => "the cell is right".to_owned(),
    }
}
