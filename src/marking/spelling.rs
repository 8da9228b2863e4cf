//! Whether cells spell given letters, by any signs at all, allowed here or not.

use std::collections::HashMap;
use std::ops::Range;
use std::sync::OnceLock;

use crate::cell::{self, Cell};
use crate::ueb::register::{self, Class, SignId};

/// Signs of earlier codes that UEB dropped (section 1.3): cells in braille ASCII, and their print.
const RETIRED: [(&str, &str); 9] = [
    (",y", "ally"),
    (",n", "ation"),
    ("#", "ble"),
    ("0", "by"),
    ("-", "com"),
    ("4", "dd"),
    ("96", "into"),
    ("o'c", "o'clock"),
    ("6", "to"),
];

/// One sign found in a spelling.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Spelled {
    /// Its cells, half-open.
    pub cells: Range<usize>,
    /// Its letters, half-open.
    pub print: Range<usize>,
    /// The sign; `None` for a retired one.
    pub sign: Option<SignId>,
    /// Its section; 1.3 for a retired sign.
    pub section: &'static str,
}

struct Entry {
    cells: Vec<Cell>,
    print: Vec<char>,
    sign: Option<SignId>,
    section: &'static str,
    cost: u32,
}

fn entries() -> &'static HashMap<Cell, Vec<Entry>> {
    static TABLE: OnceLock<HashMap<Cell, Vec<Entry>>> = OnceLock::new();
    TABLE.get_or_init(|| {
        let mut table: HashMap<Cell, Vec<Entry>> = HashMap::new();
        for sign in register::signs() {
            let cost = match sign.class {
                Class::Technical | Class::Modifier => continue,
                Class::Indicator | Class::Terminator if !of_running_text(sign) => continue,
                Class::Indicator | Class::Terminator => 3,
                Class::Symbol => 2,
                _ => 1,
            };
            let print: Vec<char> = sign.print.to_lowercase().chars().collect();
            let indicator = matches!(sign.class, Class::Indicator | Class::Terminator);
            if (print.is_empty() && !indicator && sign.class != Class::Space) || sign.cells.is_empty() {
                continue;
            }
            let print = match sign.class {
                Class::Indicator | Class::Terminator => Vec::new(),
                Class::Space => vec![' '],
                _ => print,
            };
            table.entry(sign.cells[0]).or_default().push(Entry {
                cells: sign.cells.clone(),
                print,
                sign: Some(sign.id),
                section: sign.section,
                cost,
            });
        }
        for (cells, print) in RETIRED {
            let cells = cell::from_ascii(cells).unwrap_or_default();
            table.entry(cells[0]).or_default().push(Entry {
                cells,
                print: print.chars().collect(),
                sign: None,
                section: "1.3",
                cost: 20,
            });
        }
        table
    })
}

/// The signs by which `cells` give `print`, with as few indicators as can be; `None` when they do not, or when
/// the two are too long to try. With `older`, retired signs count.
pub fn parse(cells: &[Cell], print: &[char], older: bool) -> Option<Vec<Spelled>> {
    let (rows, columns) = (cells.len() + 1, print.len() + 1);
    if rows.saturating_mul(columns) > 12_000 {
        return None;
    }
    let lower: Vec<char> = print.iter().map(|c| plain(*c)).collect();
    let mut best: Vec<Option<(u32, usize, &Entry)>> = vec![None; rows * columns];
    let reached = |best: &[Option<(u32, usize, &Entry)>], at: usize| match at {
        0 => Some(0),
        _ => best[at].map(|found| found.0),
    };
    for i in 0..cells.len() {
        for j in 0..columns {
            let at = i * columns + j;
            let Some(cost) = reached(&best, at) else { continue };
            for entry in entries().get(&cells[i]).into_iter().flatten() {
                if (entry.sign.is_none() && !older)
                    || !cells[i..].starts_with(&entry.cells)
                    || !lower[j..].starts_with(&entry.print)
                {
                    continue;
                }
                let next = (i + entry.cells.len()) * columns + j + entry.print.len();
                let total = cost + entry.cost;
                if best[next].is_none_or(|known| total < known.0) {
                    best[next] = Some((total, at, entry));
                }
            }
        }
    }
    let mut at = rows * columns - 1;
    let mut out = Vec::new();
    while at > 0 {
        let (_, from, entry) = best[at]?;
        out.push(Spelled {
            cells: from / columns..at / columns,
            print: from % columns..at % columns,
            sign: entry.sign,
            section: entry.section,
        });
        at = from;
    }
    out.reverse();
    Some(out)
}

/// Whether an indicator is one of ordinary running text: grade 1, numeric, capitals, typeforms.
pub fn of_running_text(sign: &register::Sign) -> bool {
    ["3.24", "5", "6", "8", "9"].iter().any(|start| {
        sign.section.strip_prefix(start).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    })
}

fn plain(c: char) -> char {
    match c {
        c if c.is_whitespace() => ' ',
        c => c.to_lowercase().next().unwrap_or(c),
    }
}

/// Whether a spelling uses a contraction.
pub fn contractions(signs: &[Spelled]) -> Vec<SignId> {
    signs
        .iter()
        .filter_map(|used| used.sign)
        .filter(|&sign| register::get(sign).class.is_contraction())
        .collect()
}
