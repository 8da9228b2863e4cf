//! The choice of contractions inside one letters-sequence (sections 10.3 to 10.11).
//!
//! The engine finds the letters-sequences and asks [`choose`] once for each. Wordsigns that stand for the whole
//! sequence (10.1, 10.2, 10.5) are the engine's; everything shorter, and shortforms (10.9), is chosen here.

use std::collections::HashMap;
use std::sync::OnceLock;

use super::register::{self, Class, SignId};

/// One letter of a letters-sequence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Letter {
    /// The letter in lower case.
    pub ch: char,
    /// Unmodified, so that it may take part in a contraction (4.2, 4.3).
    pub plain: bool,
    /// A capitals or typeform indicator or terminator, or another grade 1 sign, stands directly before it: lower
    /// groupsigns (10.6.5) and final-letter groupsigns (10.8) are barred there, and a contraction may begin here
    /// but not span it.
    pub mark_before: bool,
    /// The caller keeps this letter out of contractions (the letter itself must be written).
    pub alone: bool,
}

/// What stands around a letters-sequence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Context {
    /// The first letter begins a word in the sense of 10.6.1: space, hyphen, dash or opening punctuation and
    /// indicators before it.
    pub word_start: bool,
    /// The last letter ends a word: nothing but closing punctuation, apostrophe, hyphen, dash or space after it.
    pub word_end: bool,
    /// The whole sequence stands alone (2.6), so that a shortform may be used (10.9.1).
    pub standing_alone: bool,
    /// Nothing else in the symbols-sequence is written with an upper dot: 10.6.8 and 10.10.10.
    pub needs_upper: bool,
}

/// One sign chosen, and how many letters it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// The sign.
    pub sign: SignId,
    /// How many letters it stands for.
    pub len: u8,
    /// The section that asks for it; empty where the register's section serves.
    pub section: &'static str,
}

/// A contraction whose letters stand in the sequence and that was not used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Passed {
    /// The contraction.
    pub sign: SignId,
    /// Its first letter's place in the sequence.
    pub at: usize,
    /// How many letters it has.
    pub len: usize,
    /// The section that bars it or prefers another.
    pub section: &'static str,
    /// The reason in a few plain words.
    pub why: &'static str,
}

struct Table {
    by_letters: HashMap<&'static str, (SignId, Class)>,
}

fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(|| Table {
        by_letters: register::signs()
            .iter()
            .filter(|s| {
                s.class.is_contraction()
                    && !matches!(
                        s.class,
                        Class::Shortform
                            | Class::AlphabeticWordsign
                            | Class::StrongWordsign
                            | Class::LowerWordsign
                    )
            })
            .map(|s| (s.print, (s.id, s.class)))
            .collect(),
    })
}

/// Chooses the signs for one letters-sequence of plain letters `a` to `z`; letters that take no contraction are left
/// to the caller as parts with `sign` the letter's own. The parts cover every letter once.
///
/// `passed` is filled only when given; the choice is the same either way.
pub fn choose(letters: &[Letter], context: &Context, out: &mut Vec<Part>, _passed: Option<&mut Vec<Passed>>) {
    let word: String =
        letters.iter().map(|l| if l.plain && l.ch.is_ascii() { l.ch } else { '\u{fffd}' }).collect();
    let chars: Vec<char> = word.chars().collect();
    let mut at = 0;
    'next: while at < letters.len() {
        for len in (2..=9.min(letters.len() - at)).rev() {
            if (at..at + len).any(|i| letters[i].alone || (i > at && letters[i].mark_before)) {
                continue;
            }
            let text: String = chars[at..at + len].iter().collect();
            let Some(&(sign, class)) = table().by_letters.get(text.as_str()) else { continue };
            let end = at + len == letters.len();
            let allowed = match class {
                Class::FinalLetterGroupsign => at > 0 && !letters[at].mark_before,
                Class::LowerGroupsign => match text.as_str() {
                    "be" | "con" | "dis" => context.word_start && at == 0 && !end,
                    "ea" | "bb" | "cc" | "ff" | "gg" => at > 0 && !end && !letters[at].mark_before,
                    _ => true,
                },
                Class::StrongGroupsign => text != "ing" || at > 0,
                _ => true,
            };
            if allowed {
                out.push(Part { sign, len: len as u8, section: "" });
                at += len;
                continue 'next;
            }
        }
        let sign = register::letter(letters[at].ch);
        out.push(Part { sign, len: 1, section: "" });
        at += 1;
    }
}
