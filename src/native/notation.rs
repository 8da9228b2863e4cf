//! Cells as text at a terminal: braille ASCII, Unicode braille patterns or dot numbers.

use cellwright::cell::{self, Cell};

/// How cells are written as text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notation {
    /// North American braille ASCII, lower case.
    Ascii,
    /// Unicode braille patterns.
    Unicode,
    /// Dot numbers, cells apart by spaces.
    Dots,
}

impl Notation {
    /// The notation of that name.
    pub fn named(name: &str) -> Option<Notation> {
        match name {
            "ascii" => Some(Notation::Ascii),
            "unicode" => Some(Notation::Unicode),
            "dots" => Some(Notation::Dots),
            _ => None,
        }
    }

    /// The notation a line is written in, told by its characters.
    pub fn of(line: &str) -> Notation {
        let words = || line.split_whitespace();
        if line.chars().any(|c| Cell::from_unicode(c).is_some()) {
            Notation::Unicode
        } else if words().next().is_some()
            && words().all(|word| Cell::from_dot_numbers(word).is_some())
            && words().any(|word| word.contains('-'))
        {
            Notation::Dots
        } else {
            Notation::Ascii
        }
    }

    /// Cells as text.
    pub fn write(self, cells: &[Cell]) -> String {
        match self {
            Notation::Ascii => cell::to_ascii(cells),
            Notation::Unicode => cell::to_unicode(cells),
            Notation::Dots => cells.iter().map(|cell| cell.dot_numbers()).collect::<Vec<_>>().join(" "),
        }
    }

    /// The cells of a line; each character or word that is no cell is given to `refuse` with its place from 1 and
    /// left out.
    pub fn read(self, line: &str, mut refuse: impl FnMut(usize, &str)) -> Vec<Cell> {
        let mut cells = Vec::new();
        if self == Notation::Dots {
            for (at, word) in line.split_whitespace().enumerate() {
                match Cell::from_dot_numbers(word) {
                    Some(cell) => cells.push(cell),
                    None => refuse(at + 1, word),
                }
            }
            return cells;
        }
        for (at, c) in line.chars().enumerate() {
            let cell = match self {
                Notation::Unicode if c == ' ' => Some(Cell::BLANK),
                Notation::Unicode => Cell::from_unicode(c),
                _ => Cell::from_ascii(c),
            };
            match cell {
                Some(cell) => cells.push(cell),
                None => refuse(at + 1, c.encode_utf8(&mut [0; 4])),
            }
        }
        cells
    }
}
