//! Lines in, lines out: what the terminal commands share.

use std::io::{BufRead, BufWriter, Read, Write};

use cellwright::cell::{self, Cell};

use super::Failure;

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
    pub fn named(name: &str) -> Result<Notation, Failure> {
        match name {
            "ascii" => Ok(Notation::Ascii),
            "unicode" => Ok(Notation::Unicode),
            "dots" => Ok(Notation::Dots),
            other => Err(Failure::Usage(format!("there is no notation '{other}': ascii, unicode or dots"))),
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

/// Writes a text to standard output.
pub fn print(text: &str) -> Result<(), Failure> {
    std::io::stdout().write_all(text.as_bytes())?;
    Ok(())
}

/// Gives every line of standard input, without its end and numbered from 1, to `work`, and writes what comes back as
/// a line.
pub fn each_line(mut work: impl FnMut(usize, &str) -> String) -> Result<(), Failure> {
    let mut out = BufWriter::new(std::io::stdout().lock());
    let mut input = std::io::stdin().lock();
    let mut bytes = Vec::new();
    let mut number = 0;
    loop {
        bytes.clear();
        if input.read_until(b'\n', &mut bytes)? == 0 {
            break;
        }
        number += 1;
        let text = utf8(&bytes, number)?;
        let line = text.strip_suffix('\n').unwrap_or(text);
        let line = line.strip_suffix('\r').unwrap_or(line);
        writeln!(out, "{}", work(number, line))?;
        out.flush()?;
    }
    Ok(())
}

/// All of standard input as one text, line ends as `\n`.
pub fn whole() -> Result<String, Failure> {
    let mut bytes = Vec::new();
    std::io::stdin().lock().read_to_end(&mut bytes)?;
    Ok(utf8(&bytes, 1)?.replace("\r\n", "\n"))
}

fn utf8(bytes: &[u8], line: usize) -> Result<&str, Failure> {
    std::str::from_utf8(bytes).map_err(|error| {
        Failure::Outside(format!(
            "line {line}: byte {} is not UTF-8; save the text as UTF-8 and try again",
            error.valid_up_to() + 1
        ))
    })
}
