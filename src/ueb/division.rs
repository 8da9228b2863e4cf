//! Where a word or a number may be divided at the end of a braille line, and how each half is then written (10.13,
//! 6.10). Only places that are clear from the letters are offered; a doubtful syllable is left undivided.

use super::contract::{self, Context, Letter};
use super::{Options, explain, register};
use crate::cell::{self, Cell};

/// One place where a word may be divided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Division {
    /// How many Unicode scalar values of print stand before the break.
    pub at: usize,
    /// The cells at the end of the line, with the hyphen or the line continuation indicator.
    pub first: Vec<Cell>,
    /// The cells that begin the next line.
    pub second: Vec<Cell>,
    /// The section that allows it.
    pub section: &'static str,
}

const ENDINGS: [&str; 9] = ["tion", "tions", "sion", "sions", "ment", "ments", "ness", "less", "fully"];

fn vowel(c: char) -> bool {
    "aeiouy".contains(c)
}

/// Every place where this word or number may be divided, in order; empty where none is clear.
///
/// Words of letters `a` to `z` with at most a first capital, and numbers with separating commas, can be divided.
pub fn divisions(print: &str) -> Vec<Division> {
    if print.chars().next().is_some_and(|c| c.is_ascii_digit()) { number(print) } else { word(print) }
}

/// After a separating comma (6.10.2, 6.10.3); numeric mode goes on in the next line (6.10.5).
fn number(print: &str) -> Vec<Division> {
    if !print.chars().all(|c| c.is_ascii_digit() || c == ',') {
        return Vec::new();
    }
    let whole = explain(print, &Options::default());
    let chars: Vec<char> = print.chars().collect();
    let continued = cell::from_ascii("\"").unwrap_or_default();
    (1..chars.len())
        .filter(|&at| chars[at - 1] == ',' && chars[at].is_ascii_digit())
        .filter_map(|at| {
            let cut = whole.signs.iter().find(|s| s.print.start == at)?.cells.start;
            let mut first = whole.cells[..cut].to_vec();
            first.extend_from_slice(&continued);
            Some(Division { at, first, second: whole.cells[cut..].to_vec(), section: "6.10.3" })
        })
        .collect()
}

fn word(print: &str) -> Vec<Division> {
    let capital = print.starts_with(|c: char| c.is_ascii_uppercase());
    let letters: Vec<char> = print.chars().map(|c| c.to_ascii_lowercase()).collect();
    let plain = print.chars().skip(usize::from(capital)).all(|c| c.is_ascii_lowercase());
    if !plain || letters.len() < 5 || letters.len() > 60 {
        return Vec::new();
    }
    // 10.13.12: the form of a word with a shortform is kept; such a word is left whole here.
    let whole = explain(print, &Options::default());
    if whole.signs.iter().any(|s| register::get(s.sign).class == register::Class::Shortform) {
        return Vec::new();
    }
    let text: String = letters.iter().collect();
    let mut places: Vec<usize> = (2..letters.len() - 2)
        .filter(|&at| {
            let (a, b) = (letters[at - 1], letters[at]);
            let tail: String = letters[at..].iter().collect();
            let stem = ["ing", "ings", "ed", "er", "ers", "est", "y", "ies", "ish", "able", "age"]
                .iter()
                .any(|e| tail[1..] == **e);
            a == b && !vowel(a) && vowel(letters[at - 2]) && vowel(letters[at + 1]) && !stem
        })
        .collect();
    places.extend(ENDINGS.iter().filter_map(|e| {
        let at = text.strip_suffix(e)?.len();
        (at > 2
            && letters[..at].iter().any(|&c| vowel(c))
            && letters[at] != letters[at - 1]
            && !(*e == "ness" && matches!(letters[at - 1], 'o' | 'r')))
        .then_some(at)
    }));
    places.sort_unstable();
    places.dedup();
    places
        .into_iter()
        .map(|at| {
            let mut first = Vec::new();
            if capital {
                first.extend(cell::from_ascii(",").unwrap_or_default());
            }
            first.extend(half(&letters[..at], true));
            first.extend(cell::from_ascii("-").unwrap_or_default());
            Division { at, first, second: half(&letters[at..], false), section: "10.13.1" }
        })
        .collect()
}

/// One half: no wordsign and no shortform (10.13.3), no "be", "con", "dis" or "ing" at the beginning of the new line
/// (10.13.4, 10.13.9), and no lower sign next to the break that needs a letter there (10.13.10).
fn half(letters: &[char], begins: bool) -> Vec<Cell> {
    let ing = !begins && letters.starts_with(&['i', 'n', 'g']);
    let letters: Vec<Letter> = letters
        .iter()
        .enumerate()
        .map(|(i, &ch)| Letter { ch, plain: true, mark_before: false, alone: ing && i == 2 })
        .collect();
    let context = Context { word_start: begins, word_end: !begins, standing_alone: false, needs_upper: true };
    let mut parts = Vec::new();
    contract::choose(&letters, &context, &mut parts, None);
    parts.iter().flat_map(|p| register::get(p.sign).cells.iter().copied()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(print: &str, at: usize) -> Option<String> {
        divisions(print)
            .into_iter()
            .find(|d| d.at == at)
            .map(|d| format!("{} {}", cell::to_ascii(&d.first), cell::to_ascii(&d.second)).to_lowercase())
    }

    // Source: The Rules of UEB 2013, the examples of 10.13.1, 10.13.11 and 6.10.
    #[test]
    fn the_published_divisions() {
        assert_eq!(at("rotations", 4).as_deref(), Some("rota- tions"));
        assert_eq!(at("confusion", 5).as_deref(), Some("3fu- sion"));
        assert_eq!(at("100,000", 4).as_deref(), Some("#ajj1\" jjj"));
        assert_eq!(divisions("friendliness"), []);
        assert_eq!(divisions("through"), []);
    }
}
