//! The lexicon of seams: where a word's parts meet, and no contraction may bridge them (10.11), and words on whose
//! pronunciation a contraction hangs (10.6 to 10.8).
//!
//! `lexicon.txt` holds every word that was decided, one a line: the word with its marks, a tab, and a reason code. `|`
//! says that no contraction reaches across this point, `~` that one does. Only the words on which the rules alone would
//! be wrong are compiled in: `exceptions.txt`, made from the lexicon. A test holds the two together.

use std::sync::OnceLock;

use super::table::Table;
use crate::ueb::register::Class;

/// What the lexicon says of a word; nothing of most words.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Seams {
    /// Bit `n`: no contraction across the point before letter `n`.
    barred: u64,
    /// Bit `n`: the contraction across the point before letter `n` is permitted.
    permitted: u64,
    reason: Reason,
}

/// Why a word stands in the lexicon.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Reason {
    /// Words make up a compound (10.11.1, 10.11.6, 10.11.8).
    #[default]
    Compound,
    /// Whether the h is sounded (10.11.2).
    Aspirated,
    /// A prefix or combining form meets the rest of the word (10.11.4, 10.11.5, 10.6.7).
    Prefix,
    /// A suffix (10.11.7, 10.8.3, 10.8.4).
    Suffix,
    /// How the word is said (10.6.1, 10.7.3 to 10.7.9).
    Said,
    /// Whether the meaning of the word is kept (10.7.2).
    Meaning,
    /// The letters look like two parts and are none (10.11.1).
    Whole,
    /// Which sign suits the form and sound of the word (10.10.8, 10.10.9).
    Form,
}

impl Reason {
    /// The reason with this code.
    pub fn of(code: &str) -> Option<Reason> {
        Some(match code {
            "compound" => Reason::Compound,
            "aspirated" => Reason::Aspirated,
            "prefix" => Reason::Prefix,
            "suffix" => Reason::Suffix,
            "said" => Reason::Said,
            "meaning" => Reason::Meaning,
            "whole" => Reason::Whole,
            "form" => Reason::Form,
            _ => return None,
        })
    }
}

fn across(at: usize, len: usize) -> u64 {
    if at >= 63 {
        return 0;
    }
    // The points at+1 to at+len-1.
    ((1u64 << (len - 1).min(63)) - 1) << (at + 1)
}

impl Seams {
    /// Whether a seam lies within these letters.
    pub fn bars(&self, at: usize, len: usize) -> bool {
        self.barred & across(at, len) != 0
    }

    /// Whether the lexicon permits a contraction over these letters.
    pub fn permits(&self, at: usize, len: usize) -> bool {
        self.permitted & across(at, len) != 0
    }

    /// The section and the reason for a contraction barred by a seam.
    pub fn section(&self, class: Class, letters: &[u8]) -> (&'static str, &'static str) {
        match self.reason {
            Reason::Compound | Reason::Whole => ("10.11.1", "would bridge the words of a compound"),
            Reason::Aspirated => ("10.11.2", "the h is sounded"),
            Reason::Prefix if letters == b"ea" => {
                ("10.11.4", "would bridge a prefix and the rest of the word")
            }
            Reason::Prefix => ("10.11.5", "would bridge the prefix and hinder recognition of the word"),
            Reason::Suffix => ("10.11.7", "would bridge the suffix and hinder recognition of the word"),
            Reason::Meaning => ("10.7.2", "does not keep the meaning of the word"),
            Reason::Form => ("10.10.9", "would distort the word"),
            Reason::Said => match (class, letters) {
                (Class::LowerGroupsign, _) => ("10.6.1", "not the first syllable of the word"),
                (_, b"had") => ("10.7.3", "the a is not short"),
                (_, b"ever") => ("10.7.4", "the stress is not on the first e"),
                (_, b"here" | b"name") => ("10.7.5", "is not said as one syllable"),
                (_, b"one") => ("10.7.6", "is not said as one syllable"),
                (_, b"some") => ("10.7.7", "is not a syllable of the basic word"),
                (_, b"time") => ("10.7.8", "is not said like the word time"),
                (_, b"under") => ("10.7.9", "un is a prefix here"),
                _ => ("10.10.9", "would distort the word"),
            },
        }
    }

    /// Whether parts of the word meet before letter `at`.
    pub fn parts_meet(&self, at: usize) -> bool {
        at < 64
            && self.barred >> at & 1 == 1
            && matches!(self.reason, Reason::Compound | Reason::Aspirated | Reason::Prefix)
    }

    /// Up to this letter only.
    fn until(self, letters: usize) -> Seams {
        let kept = (1u64 << letters.min(63)) - 1;
        Seams { barred: self.barred & kept, permitted: self.permitted & kept, reason: self.reason }
    }

    fn is_empty(&self) -> bool {
        self.barred | self.permitted == 0
    }
}

/// Reads one line of the lexicon: the word with its marks, a tab, the code. `None` for a line of another form.
pub fn parse(line: &str) -> Option<(Vec<u8>, Seams)> {
    let (marked, code) = line.split_once('\t')?;
    let mut seams = Seams { reason: Reason::of(code)?, ..Seams::default() };
    let mut word = Vec::new();
    for c in marked.bytes() {
        match c {
            b'|' if word.len() < 64 => seams.barred |= 1 << word.len(),
            b'~' if word.len() < 64 => seams.permitted |= 1 << word.len(),
            b'a'..=b'z' => word.push(c),
            _ => return None,
        }
    }
    Some((word, seams))
}

/// A table of lines in the lexicon's form.
pub fn table(text: &str) -> Table<Seams> {
    Table::new(text.lines().filter_map(parse).map(|(word, seams)| (word.into_boxed_slice(), seams)))
}

fn exceptions() -> &'static Table<Seams> {
    static EXCEPTIONS: OnceLock<Table<Seams>> = OnceLock::new();
    EXCEPTIONS.get_or_init(|| table(include_str!("exceptions.txt")))
}

/// What the lexicon says of a word in lower case, or of the word that it is an inflected form of.
pub fn of(word: &[u8]) -> Seams {
    #[cfg(test)]
    if let Some(seams) = tests::instead(word) {
        return seams;
    }
    look_up(exceptions(), word, |_| false)
}

/// Looks a word up in a table; an inflected form follows its stem (the stem's seams lie in its letters too). Words
/// that are `hidden` are as if not listed.
fn look_up(table: &Table<Seams>, word: &[u8], hidden: impl Fn(&[u8]) -> bool) -> Seams {
    if word.len() < 3 || word.len() > 40 || !table.may_begin(word) {
        return Seams::default();
    }
    let find = |stem: &[u8]| table.get(stem).filter(|_| !hidden(stem)).copied();
    if let Some(seams) = find(word) {
        return seams;
    }
    let mut buffer = [0; 48];
    for &(ending, gone) in ENDINGS {
        let Some(stem) = word.strip_suffix(ending.as_bytes()).filter(|stem| stem.len() >= 4) else {
            continue;
        };
        let n = stem.len();
        let seams = if gone.is_empty() {
            find(stem)
        } else {
            buffer[..n].copy_from_slice(stem);
            buffer[n] = gone.as_bytes()[0];
            find(&buffer[..=n])
        };
        if let Some(seams) = seams.map(|seams| seams.until(n)).filter(|seams| !seams.is_empty()) {
            return seams;
        }
    }
    Seams::default()
}

/// Endings of inflection, and the letter of the stem that gives way to them.
const ENDINGS: &[(&str, &str)] = &[
    ("s", ""),
    ("es", ""),
    ("ies", "y"),
    ("ed", ""),
    ("d", ""),
    ("ied", "y"),
    ("ing", ""),
    ("ing", "e"),
    ("ings", ""),
    ("er", ""),
    ("r", ""),
    ("ers", ""),
    ("rs", ""),
    ("ly", ""),
    ("ness", ""),
];

#[cfg(test)]
pub(in crate::ueb) mod tests {
    use std::cell::RefCell;
    use std::collections::HashSet;

    use super::*;

    /// What a test puts in the place of the compiled exceptions, in its own thread.
    pub(in crate::ueb) enum Instead {
        /// A table of its own, all rules' own when empty.
        Table(Table<Seams>),
        /// The exceptions without these words.
        Without(HashSet<Vec<u8>>),
    }

    thread_local! {
        static INSTEAD: RefCell<Option<Instead>> = const { RefCell::new(None) };
    }

    /// Until the next call, `of` asks this (`None`: the compiled exceptions).
    pub(in crate::ueb) fn put_instead(instead: Option<Instead>) {
        INSTEAD.with(|cell| *cell.borrow_mut() = instead);
    }

    pub(in crate::ueb) fn instead(word: &[u8]) -> Option<Seams> {
        INSTEAD.with(|cell| match &*cell.borrow() {
            None => None,
            Some(Instead::Table(table)) => Some(look_up(table, word, |_| false)),
            Some(Instead::Without(words)) => Some(look_up(exceptions(), word, |stem| words.contains(stem))),
        })
    }

    #[test]
    fn the_lexicon_is_sorted_and_every_line_is_read() {
        let mut last = Vec::new();
        for line in include_str!("lexicon.txt").lines().filter(|line| !line.starts_with('#')) {
            let (word, seams) = parse(line).unwrap_or_else(|| panic!("{line}"));
            assert!(word > last, "{line} after {}", String::from_utf8_lossy(&last));
            assert!(!seams.is_empty() && seams.barred & seams.permitted == 0 && word.len() <= 40, "{line}");
            last = word;
        }
        assert!(!last.is_empty());
    }

    #[test]
    fn inflected_words_follow_their_stem() {
        let table = table("abalo|ne\tsaid\nfog|horn\tcompound\nnose|dive\tcompound\n");
        for (word, at) in
            [("abalones", 5), ("foghorned", 3), ("nosediving", 4), ("nosedives", 4), ("nosediver", 4)]
        {
            assert!(look_up(&table, word.as_bytes(), |_| false).bars(at - 1, 2), "{word}");
        }
        assert!(look_up(&table, b"fogbank", |_| false).is_empty());
        assert!(look_up(&table, b"foghorns", |word| word == b"foghorn").is_empty());
    }
}
