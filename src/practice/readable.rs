//! How much of what there is to read can be read in full at a place of the course.

use std::sync::OnceLock;

/// How many texts and books each unit adds, by its place from 0.
fn by_unit() -> &'static [usize] {
    static COUNTS: OnceLock<Vec<usize>> = OnceLock::new();
    COUNTS.get_or_init(|| {
        let lines = include_str!("readable.tsv").lines().filter(|line| !line.starts_with('#'));
        lines.filter_map(|line| line.split_once('\t')?.1.parse().ok()).collect()
    })
}

/// The number of texts and books that need no sign beyond the first `units` units.
pub fn texts_after(units: usize) -> usize {
    by_unit().iter().take(units).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::supply::level_of_line;
    use crate::practice::{passages, shelf, units};
    use std::path::Path;

    #[test]
    fn every_text_is_counted_at_the_unit_after_which_it_can_be_read() {
        let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("www/data");
        let mut counted = vec![0; units::units().len()];
        let texts = std::fs::read_to_string(data.join("passages.txt")).unwrap();
        for passage in passages::parse(&texts) {
            counted[passages::level(&passage.text, passage.contracted)] += 1;
        }
        for file in std::fs::read_dir(data.join("shelf")).unwrap() {
            let book = shelf::parse(&std::fs::read_to_string(file.unwrap().path()).unwrap()).unwrap();
            let pieces = book.pieces().map(|piece| level_of_line(piece.print, book.head.contracted));
            counted[pieces.max().unwrap()] += 1;
        }
        let ids: Vec<&str> = include_str!("readable.tsv")
            .lines()
            .filter(|line| !line.starts_with('#'))
            .filter_map(|line| Some(line.split_once('\t')?.0))
            .collect();
        assert_eq!(ids, units::units().iter().map(|unit| unit.id).collect::<Vec<_>>());
        assert_eq!(by_unit(), counted);
        assert_eq!(texts_after(ids.len()), counted.iter().sum::<usize>());
        assert_eq!(texts_after(0), 0);
    }
}
