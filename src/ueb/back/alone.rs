//! Wordsigns and shortforms (10.1, 10.2, 10.5, 10.9).

use super::word::{Before, Word};
use crate::ueb::SignId;

/// Words of Appendix 1 that are no nouns or verbs, so that no "s" may be added to them.
pub(super) const NEVER_PLURAL: [&str; 19] = [
    "about",
    "above",
    "according",
    "across",
    "again",
    "against",
    "almost",
    "already",
    "also",
    "although",
    "altogether",
    "because",
    "between",
    "beneath",
    "could",
    "him",
    "should",
    "such",
    "necessary",
];

impl<'a> Word<'a> {
    /// A word that stands alone, or a shortform (10.1, 10.2, 10.5, 10.9).
    pub(super) fn word(&mut self) -> bool {
        let i = self.i;
        let bits = usize::from(self.cells[i].bits());
        if let Some((print, sign)) = self.t.words[bits] {
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

    /// A letters-sequence with shortforms in it, when it is one that may have them (10.9.2, 10.9.3).
    pub(super) fn shortforms(&mut self) -> bool {
        let start = self.i;
        // Where the letters-sequence ends.
        let mut end = start;
        let mut any = false;
        while end < self.cells.len() && end - start <= 30 {
            if let Some(e) = self.find(&self.t.short, end) {
                any = true;
                let _ = e;
            }
            let step = if let Some(e) = self.find(&self.t.initial, end) {
                e.cells.len()
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
            end += step;
        }
        if !any || end == start || end - start > 30 || !(self.free_after(end) || self.at(end) == b'\'') {
            return false;
        }
        let mut parts: Vec<(usize, &'static str, SignId)> = Vec::new();
        let mut word = String::new();
        if !self.compose_word(start, start, end, &mut parts, &mut word, 0, false) {
            return false;
        }
        for (len, print, sign) in parts {
            if len == 1 && print.len() == 1 {
                let c = print.chars().next().unwrap_or(' ');
                self.letter(c, Some(sign));
            } else {
                self.graphic(len, print, Some(sign), Before::Letter);
            }
        }
        true
    }

    #[allow(clippy::too_many_arguments)]
    pub(super) fn compose_word(
        &self,
        start: usize,
        at: usize,
        end: usize,
        parts: &mut Vec<(usize, &'static str, SignId)>,
        word: &mut String,
        tries: usize,
        used: bool,
    ) -> bool {
        if at == end {
            return used && self.may_have_shortforms(start, end, parts, word);
        }
        let keep = word.len();
        // The most shortforms first; bounded, for a run has at most thirty cells.
        if tries < 3 {
            let bits = usize::from(self.cells[at].bits());
            for e in &self.t.short[bits] {
                if self.matches(at, &e.cells) && at + e.cells.len() <= end {
                    parts.push((e.cells.len(), e.print, e.sign));
                    word.push_str(e.print);
                    if self.compose_word(start, at + e.cells.len(), end, parts, word, tries + 1, true) {
                        return true;
                    }
                    parts.pop();
                    word.truncate(keep);
                }
            }
        }
        let bits = usize::from(self.cells[at].bits());
        let keys = &self.t.keys;
        let lower = match self.at(at) {
            b'1' => keys.ea,
            b'2' if at == start => keys.be,
            b'3' if at == start => keys.con,
            b'4' if at == start => keys.dis,
            b'2' => keys.bb,
            b'3' => keys.cc,
            b'6' => keys.ff,
            b'7' => keys.gg,
            _ => None,
        };
        let part = if let Some(e) = self.find(&self.t.initial, at) {
            Some((e.cells.len(), e.print, e.sign))
        } else if let Some(e) = self.find(&self.t.last, at).filter(|_| at > start) {
            Some((e.cells.len(), e.print, e.sign))
        } else if let Some(sign) = lower {
            Some((1, crate::ueb::register::get(sign).print, sign))
        } else if let Some((print, sign)) = self.t.groups[bits] {
            Some((1, print, sign))
        } else {
            self.t.letters[bits].map(|(_, sign)| (1, crate::ueb::register::get(sign).print, sign))
        };
        let Some(part) = part.filter(|p| at + p.0 <= end) else { return false };
        parts.push(part);
        word.push_str(part.1);
        if self.compose_word(start, at + part.0, end, parts, word, tries, used) {
            return true;
        }
        parts.pop();
        word.truncate(keep);
        false
    }

    pub(super) fn may_have_shortforms(
        &self,
        start: usize,
        end: usize,
        parts: &[(usize, &'static str, SignId)],
        word: &str,
    ) -> bool {
        // "be", "con" and "dis" begin a word as groupsigns (10.6.1): spelt out, the letters are no such word.
        let spelt = parts.iter().take_while(|p| p.0 == 1 && p.1.len() == 1).map(|p| p.1).collect::<String>();
        if ["be", "con", "dis"].iter().any(|p| spelt.starts_with(p)) {
            return false;
        }
        let listed = |w: &str| self.t.listed.contains(w);
        if listed(word) || word.strip_suffix('s').is_some_and(|w| listed(w) && !NEVER_PLURAL.contains(&w)) {
            return true;
        }
        let before = start.checked_sub(1).map_or(0, |before| self.at(before));
        if self.at(end) == b'\'' || before == b'\'' {
            let tail: String = (end..self.cells.len())
                .map(|k| char::from(self.at(k)))
                .take_while(|c| c.is_ascii_lowercase() || *c == '\'')
                .collect();
            if listed(&format!("{word}{tail}")) || before == b'\'' && listed(&format!("'{word}{tail}")) {
                return true;
            }
        }
        // do-it-yourselfer
        if before == b'-'
            && self.t.listed.iter().any(|w| w.strip_suffix(word).is_some_and(|w| w.ends_with('-')))
        {
            return true;
        }
        // 10.9.3
        let mut text = 0;
        parts.iter().enumerate().all(|(k, (len, print, sign))| {
            let from = text;
            text += print.len();
            let short = *len > 1 && crate::ueb::register::get(*sign).class == crate::ueb::Class::Shortform;
            let vowel = word[from + print.len()..].starts_with(['a', 'e', 'i', 'o', 'u', 'y']);
            !short
                || match *print {
                    "braille" | "great" => true,
                    "children" => !vowel,
                    "blind" | "first" | "friend" | "good" | "letter" | "little" | "quick" => k == 0 && !vowel,
                    _ => false,
                }
        })
    }
}
