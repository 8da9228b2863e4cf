//! The punching guide for slate and stylus: each line mirrored, from right to left, line for line. The sheet is
//! punched from behind, so that what is punched from the right reads from the left once it is turned (common practice).

use crate::cell::Cell;

/// The guide of a page, each line as wide as the sheet.
pub fn guide(lines: &[Vec<Cell>], width: usize) -> Vec<Vec<Cell>> {
    lines
        .iter()
        .map(|line| {
            let mut out: Vec<Cell> = line.iter().map(|cell| cell.mirror()).collect();
            out.resize(out.len().max(width), Cell::BLANK);
            out.reverse();
            out
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    #[test]
    fn turned_over_it_reads_as_written() {
        let line = cell::from_ascii("ferry").unwrap();
        let guide_ = guide(std::slice::from_ref(&line), 8);
        assert!(guide_[0][..3].iter().all(|cell| cell.is_blank()));
        // Common practice: f punched on a slate looks like d.
        assert_eq!(guide_[0][7].to_ascii(), 'd');
        assert_eq!(guide(&guide_, 8)[0][..5], line[..]);
    }
}
