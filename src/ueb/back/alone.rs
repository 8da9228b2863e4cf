//! Wordsigns and shortforms (10.1, 10.2, 10.5, 10.9).

use std::ops::Range;

use super::sink::Sink;
use super::tables::tables;
use super::word::{Before, Mode, Word};
use crate::cell::Cell;
use crate::ueb::contract::shortforms::{BEGIN, LONGEST, LONGEST_LISTED, MOST_LISTED};
use crate::ueb::contract::{self, Context, Letter, shortforms};
use crate::ueb::{Edition, ReadOptions, SignId, register};

/// The shortforms that are read in a letters-sequence of these cells where it stands alone: their cells and signs.
pub(crate) fn shortforms_in(cells: &[Cell]) -> Vec<(Range<usize>, SignId)> {
    let (options, mut out) = (ReadOptions::default(), Sink::new(false));
    let word = Word::new(tables(), cells, &options, &mut out, Mode::default(), &[Cell::BLANK]);
    let mut at = 0;
    let mut found = Vec::new();
    for part in word.spelling().unwrap_or_default() {
        if part.short {
            found.push((at..at + part.len, part.sign));
        }
        at += part.len;
    }
    found
}

impl<'a> Word<'a> {
    /// A word that stands alone, or a shortform (10.1, 10.2, 10.5, 10.9).
    pub(super) fn word(&mut self) -> bool {
        let i = self.i;
        if let Some((print, sign)) = self.t.words[usize::from(self.cells[i].bits())] {
            let end = i + 1;
            let free = match print {
                "be" | "were" | "his" | "was" => self.clear && self.free_after(end) && !self.lower_after(end),
                "enough" => self.free_after(end) || self.has(end, "'s") && self.free_after(end + 2),
                "in" => self.free_after_affixes(end),
                _ => self.free_after(end) || self.free_after_apostrophe(end),
            };
            if free {
                self.graphic(1, print, Some(sign), Before::Letter);
                return true;
            }
        }
        self.shortforms()
    }

    /// A part of a word with a capital in front, which takes its shortforms in the third edition.
    pub(super) fn part(&mut self) -> bool {
        self.options.edition == Edition::Third && self.capital_next && self.shortforms()
    }

    /// Whether another part with a capital in front follows, and the word stands alone (third edition).
    fn part_after(&self, end: usize) -> bool {
        let capital = |i: usize| self.at(i) == b',' && !matches!(self.at(i + 1), b',' | b'\'' | b'-');
        if self.options.edition != Edition::Third || !self.capital_next || !capital(end) {
            return false;
        }
        let mut i = end;
        while i - end <= LONGEST {
            match self.letters_sign_at(i, false) {
                Some(len) => i += len,
                None if capital(i) => i += 1,
                None => break,
            }
        }
        self.free_after_affixes(i)
    }

    /// A letters-sequence with shortforms in it, when it is one that is written with just those (10.9.2, 10.9.3).
    fn shortforms(&mut self) -> bool {
        let Some(parts) = self.spelling() else { return false };
        for part in parts {
            match part.print.chars().next() {
                Some(letter) if part.len == 1 && part.print.len() == 1 => {
                    self.letter(letter, Some(part.sign))
                }
                _ => self.graphic(part.len, part.print, Some(part.sign), Before::Letter),
            }
        }
        true
    }

    /// The signs of such a letters-sequence that begins here.
    fn spelling(&self) -> Option<Vec<Part>> {
        let end = self.letters_with_shortforms()?;
        let mut spelling =
            Spelling { word: self, end, parts: Vec::new(), print: String::new(), shortforms: 0 };
        // The ten shortforms of 10.9.3 leave nothing to try; with others it is a word of the list.
        let found = spelling.with_the_ten() || end - self.i <= LONGEST_LISTED && spelling.go_on(self.i);
        found.then_some(spelling.parts)
    }

    /// Where the letters-sequence that begins here ends, if the cells of a shortform stand in it and it stands alone.
    fn letters_with_shortforms(&self) -> Option<usize> {
        let start = self.i;
        let mut end = start;
        let mut any = false;
        while end - start <= LONGEST
            && let Some(len) = self.letters_sign_at(end, end == start)
        {
            any |= self.find(&self.t.short, end).is_some();
            end += len;
        }
        let whole =
            end > start && end - start <= LONGEST && (self.free_after_affixes(end) || self.part_after(end));
        (any && whole).then_some(end)
    }

    /// How many cells the sign for letters at `i` has, if one stands there; `first` in the letters-sequence or not.
    fn letters_sign_at(&self, i: usize, first: bool) -> Option<usize> {
        let lower = |c| match c {
            b'2' | b'3' | b'4' => true,
            b'1' | b'6' | b'7' => !first,
            _ => false,
        };
        if let Some(entry) = self.find(&self.t.initial, i) {
            Some(entry.cells.len())
        } else if self.plain_letters_at(i) || lower(self.at(i)) && self.letters_at(i + 1) {
            Some(1)
        } else if !first && self.find(&self.t.last, i).is_some() {
            Some(2)
        } else {
            None
        }
    }

    /// The same as [`Word::free_after`], once affixes with their apostrophes are passed, of any letters (10.9.2).
    fn free_after_affixes(&self, mut i: usize) -> bool {
        while !self.free_after(i) {
            if self.at(i) != b'\'' {
                return false;
            }
            i += 1;
            let start = i;
            loop {
                if let Some(len) = self.letters_sign_at(i, false) {
                    i += len;
                } else if let Some(entry) = self.find(&self.t.modifiers, i) {
                    i += entry.cells.len();
                } else if self.at(i) == b',' && self.at(i + 1) != b'-' {
                    i += 1;
                } else {
                    break;
                }
            }
            if i == start {
                return false;
            }
        }
        true
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
    /// Reads the cells with the ten shortforms that any word may have wherever they stand; false when that is no word.
    fn with_the_ten(&mut self) -> bool {
        let mut at = self.word.i;
        while at < self.end {
            let Some(part) = self.ten(at).or_else(|| {
                let (len, print, sign) = self.sign(at)?;
                Some(Part { len, print, sign, short: false })
            }) else {
                break;
            };
            at += part.len;
            self.print.push_str(part.print);
            self.shortforms += usize::from(part.short);
            self.parts.push(part);
        }
        let found = at == self.end && self.shortforms > 0 && self.is_word();
        if !found {
            self.parts.clear();
            self.print.clear();
            self.shortforms = 0;
        }
        found
    }

    /// One of the ten at this place, where 10.9.3 lets it stand.
    fn ten(&self, at: usize) -> Option<Part> {
        let entries = &self.word.t.short[usize::from(self.word.cells[at].bits())];
        entries.iter().find_map(|entry| {
            let (len, print) = (entry.cells.len(), entry.print);
            if at + len > self.end || !self.word.matches(at, &entry.cells) {
                return None;
            }
            let vowel_follows = || {
                let next = at + len;
                next < self.end
                    && self
                        .sign(next)
                        .is_some_and(|(_, print, _)| print.starts_with(['a', 'e', 'i', 'o', 'u', 'y']))
            };
            let begins = at == self.word.i && BEGIN.contains(&print.as_bytes());
            let stands =
                matches!(print, "braille" | "great") || (print == "children" || begins) && !vowel_follows();
            stands.then_some(Part { len, print, sign: entry.sign, short: true })
        })
    }

    /// Reads the cells from `at` on; with the most shortforms first.
    fn go_on(&mut self, at: usize) -> bool {
        if at == self.end {
            return self.shortforms > 0 && self.is_word();
        }
        if self.shortforms < MOST_LISTED {
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
        if self.spells_lower_groupsign() {
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

    /// Whether it begins with the letters of "be", "con" or "dis" one by one, and the word with their groupsign
    /// (10.6.1): "bell" is not "belittle".
    fn spells_lower_groupsign(&self) -> bool {
        let spelt = self.parts.iter().take_while(|part| part.len == 1 && part.print.len() == 1).count();
        if !["be", "con", "dis"].iter().any(|sign| spelt >= sign.len() && self.print.starts_with(sign)) {
            return false;
        }
        let letter = |ch| Letter { ch, plain: true, mark_before: false, alone: None };
        let letters: Vec<Letter> = self.print.chars().map(letter).collect();
        let mut parts = Vec::new();
        contract::choose(&letters, &Context::WORD, &mut parts, None);
        parts.first().is_some_and(|part| part.len > 1)
    }
}
