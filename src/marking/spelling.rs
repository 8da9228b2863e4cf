//! Whether cells spell given letters, by any signs at all, allowed here or not.

use std::ops::Range;
use std::sync::OnceLock;

use crate::cell::{self, Cell};
use crate::ueb::register::{self, Class, Sign, SignId};

/// Signs of earlier codes that UEB dropped (section 1.3): cells in braille ASCII, print, where it may stand, section.
const OLDER: [(&str, &str, Stand, &str); 30] = [
    (",y", "ally", Stand::Anywhere, "1.3.2"),
    (",n", "ation", Stand::Anywhere, "1.3.2"),
    ("#", "ble", Stand::Anywhere, "1.3.2"),
    ("-", "com", Stand::Begin, "1.3.2"),
    ("4", "dd", Stand::Anywhere, "1.3.2"),
    ("o'c", "o'clock", Stand::Whole, "1.3.2"),
    ("o'c", "o’clock", Stand::Whole, "1.3.2"),
    ("0", "by ", Stand::Begin, "1.3.2"),
    ("96", "into ", Stand::Begin, "1.3.2"),
    ("6", "to ", Stand::Begin, "1.3.2"),
    ("0", "by", Stand::Whole, "1.3.2"),
    ("96", "into", Stand::Whole, "1.3.2"),
    ("6", "to", Stand::Whole, "1.3.2"),
    ("7", "(", Stand::Anywhere, "1.3.3"),
    ("7", ")", Stand::Anywhere, "1.3.3"),
    (",7", "[", Stand::Anywhere, "1.3.3"),
    ("7'", "]", Stand::Anywhere, "1.3.3"),
    ("0'", "’", Stand::Anywhere, "1.3.3"),
    ("'''", "...", Stand::Anywhere, "1.3.3"),
    ("'''", "…", Stand::Anywhere, "1.3.3"),
    ("--", "–", Stand::Anywhere, "1.3.3"),
    ("--", "—", Stand::Anywhere, "1.3.3"),
    ("----", "—", Stand::Anywhere, "1.3.3"),
    ("----", "–", Stand::Anywhere, "1.3.3"),
    ("----", "——", Stand::Anywhere, "1.3.3"),
    ("99", "*", Stand::Anywhere, "1.3.5"),
    ("l", "£", Stand::Anywhere, "1.3.5"),
    ("4", "$", Stand::Anywhere, "1.3.5"),
    ("p>", "¶", Stand::Anywhere, "1.3.5"),
    ("s'", "§", Stand::Anywhere, "1.3.5"),
];

/// Where in a word a sign may stand to be read at all.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stand {
    /// At any place.
    Anywhere,
    /// Where no letter comes before.
    Begin,
    /// Where no letter comes before or after.
    Whole,
}

/// One way to write some print.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Its cells, one at least.
    pub cells: Vec<Cell>,
    /// Its print in lower case, one character at least; white space is a plain space.
    pub print: Vec<char>,
    /// The sign; `None` for an older one.
    pub sign: Option<SignId>,
    /// Its section.
    pub section: &'static str,
    /// Where it may stand.
    pub stand: Stand,
}

struct Table {
    entries: Vec<Entry>,
    by_cell: Vec<Vec<u16>>,
    marks: Vec<Vec<&'static Sign>>,
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| {
        let mut entries = Vec::new();
        let mut marks = vec![Vec::new(); 64];
        for sign in register::signs() {
            let Some(first) = sign.cells.first() else { continue };
            if is_mark(sign.class) {
                if sign.print.is_empty() && of_running_text(sign) {
                    marks[usize::from(first.bits())].push(sign);
                }
                continue;
            }
            let print: Vec<char> = match sign.class {
                Class::Technical | Class::Modifier => continue,
                Class::Space => vec![' '],
                _ => sign.print.to_lowercase().chars().collect(),
            };
            let stand = match sign.class {
                Class::AlphabeticWordsign | Class::StrongWordsign | Class::LowerWordsign => Stand::Whole,
                _ => Stand::Anywhere,
            };
            if !print.is_empty() {
                let (cells, sign, section) = (sign.cells.clone(), Some(sign.id), sign.section);
                entries.push(Entry { cells, print, sign, section, stand });
            }
        }
        // Shortforms with their own groupsigns spelled out: "fst" for first.
        for sign in register::signs().iter().filter(|sign| sign.class == Class::Shortform) {
            let cells = spelled_out(&sign.cells);
            if cells != sign.cells {
                let (print, letter) =
                    (sign.print.chars().collect(), sign.print.chars().next().unwrap_or(' '));
                let (sign, section, stand) = (Some(register::letter(letter)), sign.section, Stand::Anywhere);
                entries.push(Entry { cells, print, sign, section, stand });
            }
        }
        for (cells, print, stand, section) in OLDER {
            let cells = cell::from_ascii(cells).unwrap_or_default();
            entries.push(Entry { cells, print: print.chars().collect(), sign: None, section, stand });
        }
        let mut by_cell = vec![Vec::new(); 64];
        for (at, entry) in entries.iter().enumerate() {
            by_cell[usize::from(entry.cells[0].bits())].push(at as u16);
        }
        Table { entries, by_cell, marks }
    })
}

/// Cells with the letters of each groupsign among them.
fn spelled_out(cells: &[Cell]) -> Vec<Cell> {
    let groupsign = |cell: &Cell| {
        register::signs().iter().find(|sign| {
            matches!(sign.class, Class::StrongGroupsign | Class::LowerGroupsign)
                && sign.cells == std::slice::from_ref(cell)
        })
    };
    let letters = |cell: &Cell| -> Vec<Cell> {
        let print = groupsign(cell).map(|sign| sign.print);
        print.and_then(cell::from_ascii).unwrap_or_else(|| vec![*cell])
    };
    cells.iter().flat_map(letters).collect()
}

/// The entry of that number.
pub fn entry(number: u16) -> &'static Entry {
    &table().entries[usize::from(number)]
}

/// The numbers of all entries that begin with this cell.
pub fn beginning(cell: Cell) -> &'static [u16] {
    &table().by_cell[usize::from(cell.bits())]
}

/// The entries of signs that UEB dropped.
pub fn older() -> impl Iterator<Item = &'static Entry> {
    table().entries.iter().filter(|entry| entry.sign.is_none())
}

/// The indicators and terminators of running text that begin with this cell.
pub fn marks(cell: Cell) -> &'static [&'static Sign] {
    &table().marks[usize::from(cell.bits())]
}

/// Whether the class is an indicator or a terminator.
pub fn is_mark(class: Class) -> bool {
    matches!(class, Class::Indicator | Class::Terminator)
}

/// Whether an indicator is one of ordinary running text: grade 1, numeric, capitals, typeforms.
fn of_running_text(sign: &Sign) -> bool {
    // Spaced numbers and the ends of lines (6.8, 6.10) have their own signs, which nobody forgets in running text.
    if sign.section.starts_with("6.8") || sign.section.starts_with("6.10") {
        return false;
    }
    ["5", "6", "8", "9"].iter().any(|start| {
        sign.section.strip_prefix(start).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    })
}

/// A character of print as the entries have it: lower case, all white space alike.
pub fn plain(c: char) -> char {
    match c {
        c if c.is_whitespace() => ' ',
        c => c.to_lowercase().next().unwrap_or(c),
    }
}

/// One sign found in a spelling.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spelled {
    /// Its cells, half-open.
    pub cells: Range<usize>,
    /// Its letters, half-open.
    pub print: Range<usize>,
    /// The sign.
    pub sign: SignId,
    /// Its section.
    pub section: &'static str,
}

/// The signs by which `cells` give `print`, with as few signs and indicators as can be; `None` when they do not, or
/// when the two are too long to try.
pub fn parse(cells: &[Cell], print: &[char]) -> Option<Vec<Spelled>> {
    let (rows, columns) = (cells.len() + 1, print.len() + 1);
    if rows.saturating_mul(columns) > 12_000 {
        return None;
    }
    let lower: Vec<char> = print.iter().map(|c| plain(*c)).collect();
    type Way = (u32, usize, SignId, &'static str);
    let mut best: Vec<Option<Way>> = vec![None; rows * columns];
    for i in 0..cells.len() {
        for j in 0..columns {
            let at = i * columns + j;
            let cost = match best[at] {
                _ if at == 0 => 0,
                Some(found) => found.0,
                None => continue,
            };
            let mut reach = |cells: usize, letters: usize, more: u32, sign: SignId, section| {
                let next = (i + cells) * columns + j + letters;
                if best[next].is_none_or(|known| cost + more < known.0) {
                    best[next] = Some((cost + more, at, sign, section));
                }
            };
            for mark in marks(cells[i]).iter().filter(|mark| cells[i..].starts_with(&mark.cells)) {
                reach(mark.cells.len(), 0, 3, mark.id, mark.section);
            }
            for entry in beginning(cells[i]).iter().map(|&number| entry(number)) {
                let Some(sign) = entry.sign else { continue };
                if cells[i..].starts_with(&entry.cells) && lower[j..].starts_with(&entry.print) {
                    reach(entry.cells.len(), entry.print.len(), 1, sign, entry.section);
                }
            }
        }
    }
    let mut at = rows * columns - 1;
    let mut out = Vec::new();
    while at > 0 {
        let (_, from, sign, section) = best[at]?;
        let (cells, print) = (from / columns..at / columns, from % columns..at % columns);
        out.push(Spelled { cells, print, sign, section });
        at = from;
    }
    out.reverse();
    Some(out)
}
