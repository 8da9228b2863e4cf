//! The register of signs: every sign of the code with its cells, print, class and section, read from `signs.tsv`.

use std::collections::HashMap;
use std::sync::OnceLock;

use crate::cell::{self, Cell};

/// A sign's place in the register; stable only within one build (keep [`Sign::key`] in stored data).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct SignId(u16);

impl SignId {
    /// Its place in the register, from 0.
    pub fn place(self) -> usize {
        usize::from(self.0)
    }
}

/// What kind of sign it is (section 2.1's terms).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Class {
    /// The blank cell.
    Space,
    /// A letter, eng, schwa and the early English letters among them.
    Letter,
    /// A digit, or a numeric space with its digit.
    Digit,
    /// A Greek letter.
    Greek,
    /// An accent or other mark on the following letter.
    Modifier,
    /// A punctuation mark.
    Punctuation,
    /// Any other print symbol.
    Symbol,
    /// An indicator.
    Indicator,
    /// A terminator.
    Terminator,
    /// A letter that stands for a word (10.1).
    AlphabeticWordsign,
    /// A strong wordsign (10.2).
    StrongWordsign,
    /// and, for, of, the, with (10.3).
    StrongContraction,
    /// A strong groupsign (10.4).
    StrongGroupsign,
    /// A lower wordsign (10.5).
    LowerWordsign,
    /// A lower groupsign (10.6).
    LowerGroupsign,
    /// An initial-letter contraction (10.7).
    InitialLetterContraction,
    /// A final-letter groupsign (10.8).
    FinalLetterGroupsign,
    /// A shortform (10.9).
    Shortform,
    /// Arrows, shapes, line mode and other technical signs.
    Technical,
}

impl Class {
    fn of(name: &str) -> Option<Class> {
        Some(match name {
            "space" => Class::Space,
            "letter" => Class::Letter,
            "digit" => Class::Digit,
            "greek" => Class::Greek,
            "modifier" => Class::Modifier,
            "punctuation" => Class::Punctuation,
            "symbol" => Class::Symbol,
            "indicator" => Class::Indicator,
            "terminator" => Class::Terminator,
            "alphabetic-wordsign" => Class::AlphabeticWordsign,
            "strong-wordsign" => Class::StrongWordsign,
            "strong-contraction" => Class::StrongContraction,
            "strong-groupsign" => Class::StrongGroupsign,
            "lower-wordsign" => Class::LowerWordsign,
            "lower-groupsign" => Class::LowerGroupsign,
            "initial-letter-contraction" => Class::InitialLetterContraction,
            "final-letter-groupsign" => Class::FinalLetterGroupsign,
            "shortform" => Class::Shortform,
            "technical" => Class::Technical,
            _ => return None,
        })
    }

    /// The class in plain words, "strong groupsign".
    pub fn name(self) -> &'static str {
        match self {
            Class::Space => "space",
            Class::Letter => "letter",
            Class::Digit => "digit",
            Class::Greek => "Greek letter",
            Class::Modifier => "modifier",
            Class::Punctuation => "punctuation",
            Class::Symbol => "symbol",
            Class::Indicator => "indicator",
            Class::Terminator => "terminator",
            Class::AlphabeticWordsign => "alphabetic wordsign",
            Class::StrongWordsign => "strong wordsign",
            Class::StrongContraction => "strong contraction",
            Class::StrongGroupsign => "strong groupsign",
            Class::LowerWordsign => "lower wordsign",
            Class::LowerGroupsign => "lower groupsign",
            Class::InitialLetterContraction => "initial-letter contraction",
            Class::FinalLetterGroupsign => "final-letter groupsign",
            Class::Shortform => "shortform",
            Class::Technical => "technical sign",
        }
    }

    /// Whether it is a contraction: a sign for a word or a group of letters (section 2.1).
    pub fn is_contraction(self) -> bool {
        matches!(
            self,
            Class::AlphabeticWordsign
                | Class::StrongWordsign
                | Class::StrongContraction
                | Class::StrongGroupsign
                | Class::LowerWordsign
                | Class::LowerGroupsign
                | Class::InitialLetterContraction
                | Class::FinalLetterGroupsign
                | Class::Shortform
        )
    }
}

/// One sign of the code.
#[derive(Clone, Debug)]
pub struct Sign {
    /// Its place in the register.
    pub id: SignId,
    /// A key that stays the same from build to build: "groupsign st", "letter a", "capitalised word indicator".
    pub key: &'static str,
    /// Its cells.
    pub cells: Vec<Cell>,
    /// The print it stands for (a letter, "st", "?"); empty for an indicator.
    pub print: &'static str,
    /// Its class.
    pub class: Class,
    /// The section of the standard; "technical" for signs of the technical guidelines.
    pub section: &'static str,
    /// Its name in the trade's words.
    pub name: &'static str,
}

struct Register {
    signs: Vec<Sign>,
    by_key: HashMap<&'static str, usize>,
}

fn register() -> &'static Register {
    static REGISTER: OnceLock<Register> = OnceLock::new();
    REGISTER.get_or_init(|| {
        let mut signs = Vec::new();
        let mut by_key = HashMap::new();
        // The build script has made the table short: a name that is the print, and a section as in the line before, are
        // left out, and so is the name at the end of a key.
        let mut last = "";
        for line in include_str!(concat!(env!("OUT_DIR"), "/signs.tsv")).lines() {
            let fields: Vec<&'static str> = line.split('\t').collect();
            let [kind, cells, print, class, section, name] = fields[..] else { continue };
            let name = if name.is_empty() { print } else { name };
            let section = if section.is_empty() { last } else { section };
            last = section;
            let key: &'static str = match kind {
                "" => name,
                kind => kind.strip_suffix('=').unwrap_or_else(|| format!("{kind}{name}").leak()),
            };
            let (Some(cells), Some(class)) = (cell::from_ascii(cells), Class::of(class)) else { continue };
            let id = SignId(signs.len() as u16);
            by_key.insert(key, signs.len());
            signs.push(Sign { id, key, cells, print, class, section, name });
        }
        Register { signs, by_key }
    })
}

/// All signs, in braille order.
pub fn signs() -> &'static [Sign] {
    &register().signs
}

/// The sign with this key; `None` when there is none.
pub fn by_key(key: &str) -> Option<&'static Sign> {
    register().by_key.get(key).map(|&at| &register().signs[at])
}

/// The sign with this id.
pub fn get(id: SignId) -> &'static Sign {
    &register().signs[usize::from(id.0)]
}

/// The sign of a lower-case letter `a` to `z`; the sign "space" for any other character.
pub fn letter(c: char) -> SignId {
    static LETTERS: OnceLock<[SignId; 26]> = OnceLock::new();
    let letters = LETTERS.get_or_init(|| {
        std::array::from_fn(|i| {
            let key = format!("letter {}", char::from(b'a' + i as u8));
            by_key(&key).map_or(SignId(0), |sign| sign.id)
        })
    });
    match c {
        'a'..='z' => letters[c as usize - 'a' as usize],
        _ => SignId(0),
    }
}

/// The signs written with exactly these cells.
pub fn by_cells(cells: &[Cell]) -> impl Iterator<Item = &'static Sign> {
    signs().iter().filter(move |sign| sign.cells == cells)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_line_is_a_sign_and_keys_are_unique() {
        let lines: Vec<&str> =
            include_str!("signs.tsv").lines().filter(|line| !line.starts_with("# ")).collect();
        assert_eq!(signs().len(), lines.len());
        assert_eq!(register().by_key.len(), lines.len());
        for (sign, line) in signs().iter().zip(lines) {
            let fields: Vec<&str> = line.split('\t').collect();
            assert_eq!([sign.key, sign.print, sign.section, sign.name], [0, 2, 5, 6].map(|at| fields[at]));
        }
    }
}
