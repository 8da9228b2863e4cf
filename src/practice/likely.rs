//! How likely print is, by how often its words stand in running English: a list of words, the most frequent first
//! (`www/data/often.txt`, whose head names its source).

use std::collections::HashMap;

use crate::ueb::letter_case::in_small;

/// Words by how often they stand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Likely {
    /// The words, the most frequent first.
    words: Vec<String>,
    places: HashMap<String, u32>,
}

/// What a word weighs that no list has, and that no word of the list contains; a word of rank n weighs the logarithm of n,
/// in hundredths.
const UNHEARD: u32 = 1_600;
/// What part of a word weighs more than the whole.
const PART: u32 = 250;
/// What a mark in a place weighs where it seldom stands, as a bracket that closes before a word.
const ODD: u32 = 700;
/// A mark in a usual place, a number.
const MARK: u32 = 120;
const NUMBER: u32 = 700;

fn weight_of(place: u32) -> u32 {
    (f64::from(place + 1).ln() * 100.0) as u32
}

impl Likely {
    /// Reads the list; lines that begin with `#` are remarks.
    pub fn parse(list: &str) -> Likely {
        let words: Vec<String> = list
            .lines()
            .filter(|line| !line.starts_with('#') && !line.is_empty())
            .map(str::to_owned)
            .collect();
        let places = words.iter().cloned().zip(0..).collect();
        Likely { words, places }
    }

    /// Weighs one print after another; what it has found of parts of words it keeps for the next.
    pub fn scale(&self) -> Scale<'_> {
        Scale { likely: self, parts: HashMap::new() }
    }
}

/// Where a part of a word stands in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
enum Part {
    Start,
    End,
    Middle,
}

/// Weighs print.
pub struct Scale<'a> {
    likely: &'a Likely,
    parts: HashMap<(String, Part), u32>,
}

impl Scale<'_> {
    /// How unlikely a print is, the smaller the likelier; 0 where there is no list. What stands at its beginning and at its
    /// end may be a part of a word.
    pub fn weight(&mut self, print: &str) -> u32 {
        if self.likely.words.is_empty() {
            return 0;
        }
        let words: Vec<&str> = print.split_whitespace().collect();
        let last = words.len().saturating_sub(1);
        words
            .iter()
            .enumerate()
            .map(|(n, word)| {
                let part = match (n == 0, n == last) {
                    (true, true) => Some(Part::Middle),
                    (true, false) => Some(Part::End),
                    (false, true) => Some(Part::Start),
                    (false, false) => None,
                };
                self.word(word, part)
            })
            .sum()
    }

    fn word(&mut self, word: &str, part: Option<Part>) -> u32 {
        let opens = |c: char| "“‘\"'([{*£$€#@—–-".contains(c);
        let closes = |c: char| "”’\"')]}.,;:!?…%*—–-".contains(c);
        let inner = word.trim_start_matches(opens);
        let bare = inner.trim_end_matches(closes);
        let marks = word.chars().count() - bare.chars().count();
        let mut weight = MARK * u32::try_from(marks).unwrap_or(u32::MAX / ODD).min(20);
        if bare.is_empty() {
            return weight + ODD;
        }
        if bare.chars().all(|c| c.is_ascii_digit() || c == ',' || c == '.') {
            return weight + NUMBER;
        }
        // A capital elsewhere than at the beginning, where small letters stand too; digits among letters; marks inside.
        let small = bare.chars().any(char::is_lowercase);
        let odd = bare.char_indices().filter(|(at, c)| {
            *at > 0 && c.is_uppercase() && small || !c.is_alphabetic() && !matches!(c, '\'' | '’' | '-')
        });
        weight += ODD * u32::try_from(odd.count().min(8)).unwrap_or(8);
        let text = in_small(bare).replace('’', "'");
        let pieces: Vec<&str> = text.split('-').filter(|piece| !piece.is_empty()).collect();
        let (first, last) = (0, pieces.len().saturating_sub(1));
        for (n, piece) in pieces.iter().enumerate() {
            let free = if n == first || n == last { part } else { None };
            weight += self.piece(piece, free);
        }
        weight
    }

    fn piece(&mut self, piece: &str, part: Option<Part>) -> u32 {
        // A letter standing alone is seldom a word.
        if let Some(place) = self.likely.places.get(piece) {
            return weight_of(*place);
        }
        // With an ending that the list leaves out.
        for ending in ["'s", "s", "ed", "ing", "ly", "er", "d", "r"] {
            if let Some(place) = piece.strip_suffix(ending).and_then(|stem| self.likely.places.get(stem)) {
                return weight_of(*place) + PART / 2;
            }
        }
        let Some(part) = part else { return UNHEARD };
        if let Some(known) = self.parts.get(&(piece.to_owned(), part)) {
            return *known;
        }
        let holds = |word: &String| match part {
            Part::Start => word.starts_with(piece),
            Part::End => word.ends_with(piece),
            Part::Middle => word.contains(piece),
        };
        // All words that it may be part of, each by how often it stands.
        let share: f64 = (0u32..)
            .zip(&self.likely.words)
            .filter(|(_, word)| holds(word))
            .map(|(place, _)| 1.0 / f64::from(place + 2))
            .sum();
        let weight = if share > 0.0 { ((1.0 / share).ln().max(0.0) * 100.0) as u32 + PART } else { UNHEARD };
        self.parts.insert((piece.to_owned(), part), weight.min(UNHEARD));
        weight.min(UNHEARD)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lighter(one: &str, two: &str) -> bool {
        let list =
            std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/www/data/often.txt")).unwrap();
        let likely = Likely::parse(&list);
        let mut scale = likely.scale();
        scale.weight(one) < scale.weight(two)
    }

    #[test]
    fn what_stands_more_often_is_lighter() {
        for (one, two) in [
            ("the", "tho"),
            ("sea", "sja"),
            ("the boat", "the boqt"),
            ("“Yes", ")Yes"),
            ("Ada’s boat", "Ada’s bo4t"),
            ("oat", "oqt"),
            ("well-made", "wqll-made"),
            ("the ferr", "the fqrr"),
        ] {
            assert!(lighter(one, two), "{one} / {two}");
        }
        assert_eq!(Likely::default().scale().weight("any"), 0);
    }
}
