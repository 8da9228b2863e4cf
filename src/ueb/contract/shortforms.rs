//! Shortforms (10.9): as words, and in longer words.

use std::collections::HashMap;
use std::sync::OnceLock;

use crate::ueb::register::{self, SignId};

/// A shortform in a word: where it begins, how many letters it stands for, the sign and the section.
pub type Place = (usize, usize, SignId, &'static str);

struct Shortforms {
    /// The 75 words.
    signs: HashMap<&'static str, SignId>,
    /// Longer words of Appendix 1, with the shortforms they hold.
    longer: HashMap<&'static str, Vec<&'static str>>,
}

fn shortforms() -> &'static Shortforms {
    static SHORTFORMS: OnceLock<Shortforms> = OnceLock::new();
    SHORTFORMS.get_or_init(|| {
        let mut signs = HashMap::new();
        let mut longer: HashMap<&str, Vec<&str>> = HashMap::new();
        for line in include_str!("shortforms.txt").lines().filter(|line| !line.starts_with('#')) {
            let (word, words) = line.split_once('\t').unwrap_or((line, ""));
            let Some(sign) = register::by_key(&format!("shortform {word}")) else { continue };
            signs.insert(word, sign.id);
            for long in words.split_whitespace() {
                longer.entry(long).or_default().push(word);
                // The letters before an apostrophe come here alone: "mustn" of "mustn't".
                if let Some((stem, _)) =
                    long.split_once('\'').filter(|(stem, _)| *stem != word && stem.contains(word))
                {
                    let forms = longer.entry(stem).or_default();
                    if !forms.contains(&word) {
                        forms.push(word);
                    }
                }
            }
        }
        Shortforms { signs, longer }
    })
}

/// Words to which an added "s" gives no shortform (Appendix 1, from memory; "hims" stands in 10.9.2's examples).
const NO_PLURAL: [&str; 3] = ["about", "almost", "him"];

/// The shortforms of a word in lower case that stands alone, in order; none when it has none.
pub fn places(word: &str) -> Vec<Place> {
    let table = shortforms();
    if let Some(&sign) = table.signs.get(word) {
        return vec![(0, word.len(), sign, "10.9.1")];
    }
    if let Some(places) = listed(word) {
        return places;
    }
    if let Some(stem) = word.strip_suffix('s') {
        if let Some(&sign) = table.signs.get(stem) {
            if NO_PLURAL.contains(&stem) {
                return Vec::new();
            } else {
                return vec![(0, stem.len(), sign, "10.9.2")];
            }
        }
        if let Some(places) = listed(stem) {
            return places;
        }
    }
    unlisted(word)
}

fn listed(word: &str) -> Option<Vec<Place>> {
    let table = shortforms();
    let holds = table.longer.get(word)?;
    let mut places: Vec<Place> = Vec::new();
    // The longest first: "afternoon" holds "after" too.
    let mut holds: Vec<&str> = holds.clone();
    holds.sort_by_key(|short| std::cmp::Reverse(short.len()));
    for short in holds {
        if let (Some(at), Some(&sign)) = (word.find(short), table.signs.get(short))
            && places.iter().all(|&(from, len, ..)| at + short.len() <= from || from + len <= at)
        {
            places.push((at, short.len(), sign, "10.9.2"));
        }
    }
    places.sort_by_key(|place| place.0);
    Some(places)
}

/// The ten shortforms that may be used in words that are not listed (10.9.3).
fn unlisted(word: &str) -> Vec<Place> {
    let table = shortforms();
    let mut places = Vec::new();
    let vowel_after = |end: usize| word[end..].starts_with(['a', 'e', 'i', 'o', 'u', 'y']);
    let mut add = |at: usize, short: &str| {
        if let Some(&sign) = table.signs.get(short) {
            places.push((at, short.len(), sign, "10.9.3"));
        }
    };
    for short in ["braille", "great"] {
        for (at, _) in word.match_indices(short) {
            add(at, short);
        }
    }
    for (at, short) in word.match_indices("children") {
        if !vowel_after(at + short.len()) {
            add(at, short);
        }
    }
    for short in ["blind", "first", "friend", "good", "letter", "little", "quick"] {
        if word.starts_with(short) && !vowel_after(short.len()) {
            add(0, short);
        }
    }
    places.sort_by_key(|place| place.0);
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(word: &str) -> String {
        let mut out = String::new();
        let mut at = 0;
        for (from, len, sign, _) in places(word) {
            out.push_str(&word[at..from]);
            out.push_str(&crate::cell::to_ascii(&register::get(sign).cells));
            at = from + len;
        }
        out + &word[at..]
    }

    // The Rules of UEB 2013, 10.9.1 to 10.9.3.
    #[test]
    fn the_books_examples() {
        for (word, braille) in [
            ("about", "ab"),
            ("boyfriends", "boyfrs"),
            ("hims", "hims"),
            ("suchlike", "s*like"),
            ("firstbank", "f/bank"),
            ("firstamerica", "firstamerica"),
            ("goodacre", "goodacre"),
            ("greatorex", "grtorex"),
            ("quicksburg", "qksburg"),
            ("linkletter", "linkletter"),
            ("afterimage", "afterimage"),
            ("immediately", "immly"),
            ("goodafternoon", "gdafn"),
            ("declared", "dcld"),
            ("tomorrows", "tms"),
        ] {
            assert_eq!(written(word), braille, "{word}");
        }
    }

    #[test]
    fn all_seventy_five() {
        assert_eq!(shortforms().signs.len(), 75);
        for word in shortforms().longer.keys() {
            assert!(!places(word).is_empty(), "{word}");
        }
    }
}
