//! Signs of American books made before 2016 that UEB retired (section 1.3), read from `retired.tsv`. They are read
//! only when asked for, each is flagged, and none is ever produced.

use std::sync::OnceLock;

use super::tables;
use super::word::Word;
use crate::cell::Cell;

struct Old {
    cells: Vec<Cell>,
    print: &'static str,
    place: &'static str,
    section: &'static str,
}

fn signs() -> &'static [Old] {
    static SIGNS: OnceLock<Vec<Old>> = OnceLock::new();
    SIGNS.get_or_init(|| {
        include_str!("retired.tsv")
            .lines()
            .filter(|line| !line.starts_with('#') || line.starts_with("#\t"))
            .filter_map(|line| {
                let mut fields = line.split('\t');
                let (cells, print) = (fields.next()?, fields.next()?);
                let (place, section) = (fields.next()?, fields.next()?);
                Some(Old { cells: tables::cells(cells), print, place, section })
            })
            .collect()
    })
}

const WORDS: [(char, &str); 6] =
    [('&', "and"), ('=', "for"), ('(', "of"), ('!', "the"), (')', "with"), ('a', "a")];

/// Whether the cells are two or more of those words and nothing else.
fn unspaced(cells: &[Cell]) -> bool {
    let named = |c: &Cell| WORDS.iter().any(|w| w.0 == c.to_ascii());
    cells.len() > 1 && cells.iter().all(named) && cells.iter().filter(|c| c.to_ascii() == 'a').count() < 2
}

/// Reads a retired sign where one stands; false when there is none.
pub(super) fn read(word: &mut Word<'_>) -> bool {
    let (_, letter, lead, grade1) = word.state();
    if grade1 {
        return false;
    }
    let left = word.cells_left();
    // And, for, of, the, with and a, unspaced from one another (1.3.1).
    if lead && unspaced(left) {
        let last = left.len() - 1;
        for (k, cell) in left.iter().enumerate() {
            let name = WORDS.iter().find(|w| w.0 == cell.to_ascii()).map_or("", |w| w.1);
            let text = if k < last { format!("{name} ") } else { name.to_owned() };
            word.retired(1, &text, "1.3.1", true);
        }
        return true;
    }
    let found = signs().iter().find(|old| {
        let len = old.cells.len();
        if !left.starts_with(&old.cells) {
            return false;
        }
        let (end, letters) = (left.len() == len, word.more_letters(len));
        match old.place {
            "whole" => lead && end,
            "number" => lead && left.get(len).is_some_and(|c| c.to_ascii() == '#'),
            "start" | "open" => lead && letters,
            "inside" => letter && letters,
            "after" => letter,
            "close" => !lead && !letters,
            _ => true,
        }
    });
    match found {
        Some(old) => {
            let letters = matches!(old.place, "whole" | "inside" | "after") || old.print == "com";
            word.retired(old.cells.len(), old.print, old.section, letters);
            true
        }
        None => false,
    }
}
