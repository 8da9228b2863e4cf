//! Wordsigns and shortforms (10.1, 10.2, 10.5, 10.9).

use super::word::{Before, Word};
use crate::ueb::contract::shortforms;
use crate::ueb::{SignId, register};

/// No word with shortforms has more cells than this, which keeps reading linear.
const LONGEST: usize = 30;
/// Nor more shortforms.
const MOST_SHORTFORMS: usize = 3;

impl<'a> Word<'a> {
    /// A word that stands alone, or a shortform (10.1, 10.2, 10.5, 10.9).
    pub(super) fn word(&mut self) -> bool {
        let i = self.i;
        if let Some((print, sign)) = self.t.words[usize::from(self.cells[i].bits())] {
            let end = i + 1;
            let free = match print {
                "be" | "were" | "his" | "was" => self.clear && self.free_after(end) && !self.lower_after(end),
                "enough" => self.free_after(end) || self.has(end, "'s") && self.free_after(end + 2),
                "in" => self.free_after(end) || self.at(end) == b'\'',
                _ => self.free_after(end) || self.free_after_apostrophe(end),
            };
            if free {
                self.graphic(1, print, Some(sign), Before::Letter);
                return true;
            }
        }
        self.shortforms()
    }

    /// A letters-sequence with shortforms in it, when it is one that is written with just those (10.9.2, 10.9.3).
    fn shortforms(&mut self) -> bool {
        let Some(end) = self.letters_with_shortforms() else { return false };
        let mut spelling =
            Spelling { word: self, end, parts: Vec::new(), print: String::new(), shortforms: 0 };
        if !spelling.go_on(self.i) {
            return false;
        }
        for part in spelling.parts {
            match part.print.chars().next() {
                Some(letter) if part.len == 1 && part.print.len() == 1 => {
                    self.letter(letter, Some(part.sign))
                }
                _ => self.graphic(part.len, part.print, Some(part.sign), Before::Letter),
            }
        }
        true
    }

    /// Where the letters-sequence that begins here ends, if the cells of a shortform stand in it and it stands alone.
    fn letters_with_shortforms(&self) -> Option<usize> {
        let start = self.i;
        let mut end = start;
        let mut any = false;
        while end < self.cells.len() && end - start <= LONGEST {
            any |= self.find(&self.t.short, end).is_some();
            end += if let Some(entry) = self.find(&self.t.initial, end) {
                entry.cells.len()
            } else if self.plain_letters_at(end) {
                1
            } else if end > start && self.find(&self.t.last, end).is_some() {
                2
            } else if matches!(self.at(end), b'1' | b'2' | b'3' | b'4' | b'6' | b'7')
                && self.letters_at(end + 1)
                && (end > start || matches!(self.at(end), b'2' | b'3' | b'4'))
            {
                1
            } else {
                break;
            };
        }
        let whole = end > start && end - start <= LONGEST && (self.free_after(end) || self.at(end) == b'\'');
        (any && whole).then_some(end)
    }
}

/// One sign of a word that is being spelt out.
struct Part {
    len: usize,
    print: &'static str,
    sign: SignId,
    /// A shortform, and not the letters of its cells.
    short: bool,
}

/// The search for the signs of a word with shortforms.
struct Spelling<'s, 'a> {
    word: &'s Word<'a>,
    end: usize,
    parts: Vec<Part>,
    print: String,
    shortforms: usize,
}

impl Spelling<'_, '_> {
    /// Reads the cells from `at` on; with the most shortforms first.
    fn go_on(&mut self, at: usize) -> bool {
        if at == self.end {
            return self.shortforms > 0 && self.is_word();
        }
        if self.shortforms < MOST_SHORTFORMS {
            let tables = self.word.t;
            for entry in &tables.short[usize::from(self.word.cells[at].bits())] {
                if self.word.matches(at, &entry.cells) && at + entry.cells.len() <= self.end {
                    let (len, print) = (entry.cells.len(), entry.print);
                    if self.with(at, Part { len, print, sign: entry.sign, short: true }) {
                        return true;
                    }
                }
            }
        }
        match self.sign(at).filter(|&(len, ..)| at + len <= self.end) {
            Some((len, print, sign)) => self.with(at, Part { len, print, sign, short: false }),
            None => false,
        }
    }

    /// Goes on with this sign; takes it back when that leads to no word.
    fn with(&mut self, at: usize, part: Part) -> bool {
        let (next, print) = (at + part.len, self.print.len());
        self.print.push_str(part.print);
        self.shortforms += usize::from(part.short);
        self.parts.push(part);
        if self.go_on(next) {
            return true;
        }
        self.print.truncate(print);
        self.shortforms -= usize::from(self.parts.pop().is_some_and(|part| part.short));
        false
    }

    /// The sign that stands at `at` where it is no shortform: its length, print and sign.
    fn sign(&self, at: usize) -> Option<(usize, &'static str, SignId)> {
        let (word, first) = (self.word, at == self.word.i);
        let bits = usize::from(word.cells[at].bits());
        let keys = &word.t.keys;
        let lower = match word.at(at) {
            b'1' => keys.ea,
            b'2' if first => keys.be,
            b'3' if first => keys.con,
            b'4' if first => keys.dis,
            b'2' => keys.bb,
            b'3' => keys.cc,
            b'6' => keys.ff,
            b'7' => keys.gg,
            _ => None,
        };
        let last = || word.find(&word.t.last, at).filter(|_| !first);
        if let Some(entry) = word.find(&word.t.initial, at).or_else(last) {
            Some((entry.cells.len(), entry.print, entry.sign))
        } else if let Some(sign) = lower {
            Some((1, register::get(sign).print, sign))
        } else if let Some((print, sign)) = word.t.groups[bits] {
            Some((1, print, sign))
        } else {
            word.t.letters[bits].map(|(_, sign)| (1, register::get(sign).print, sign))
        }
    }

    /// Whether the word has just these shortforms (10.9.2, 10.9.3).
    fn is_word(&self) -> bool {
        // "be", "con" and "dis" begin a word as groupsigns (10.6.1): spelt out, the letters are no such word.
        let spelt: String = self
            .parts
            .iter()
            .take_while(|part| part.len == 1 && part.print.len() == 1)
            .map(|part| part.print)
            .collect();
        if ["be", "con", "dis"].iter().any(|prefix| spelt.starts_with(prefix)) {
            return false;
        }
        let mut at = 0;
        let mut used = Vec::new();
        for part in &self.parts {
            if part.short {
                used.push((at, part.sign));
            }
            at += part.print.len();
        }
        let places = shortforms::places(self.print.as_bytes());
        places.iter().map(|place| (place.at, place.sign)).eq(used)
    }
}
