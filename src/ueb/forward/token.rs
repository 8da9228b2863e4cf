//! Tokens: what stands between two blanks of a line, and how far each depends on its neighbours.

use super::acronyms;
use super::capitals::is_abbreviation;
use super::memory::Packed;
use super::runs::LONGEST;
use super::symbols;

/// What stands between two blanks, as far as its neighbours matter.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Token {
    /// A word of small letters, perhaps with a capital in front and stops behind: where its letters end.
    Word(Packed, usize),
    /// Depends on nothing around it.
    Free,
    /// No letters: goes with the capitals around it.
    Neutral,
    /// Capitals, which may belong to a passage.
    Capitals,
    /// Quotation marks, dashes and whatever else looks around.
    Bound,
}

/// Whether it is one of `,;:.!?`.
pub(crate) fn stop(byte: u8) -> bool {
    matches!(byte, b',' | b';' | b':' | b'.' | b'!' | b'?')
}

/// How many characters a text has.
pub(crate) fn count(text: &str) -> usize {
    text.bytes().filter(|byte| byte & 0xc0 != 0x80).count()
}

/// Whether a sentence ends with this token; the same as for symbols (see `capitals`).
fn ends_sentence(token: &str) -> bool {
    let text = token.trim_end_matches([')', ']', '}']);
    if !text.ends_with(['.', '!', '?']) {
        return false;
    }
    let abbreviation = token.strip_suffix('.').is_some_and(|word| {
        let letter = |c: char| if c.is_alphabetic() { c.to_ascii_lowercase() } else { ' ' };
        word.contains(|c: char| c.is_ascii_uppercase()) && is_abbreviation(word.chars().map(letter), false)
    });
    if abbreviation {
        return false;
    }
    let letters = text.chars().filter(|c| c.is_alphabetic()).take(2).count();
    let inner =
        text.as_bytes().windows(2).any(|w| w[0] == b'.' && (w[1].is_ascii_alphabetic() || w[1] >= 0x80));
    letters > 0 && (letters > 1 || text.len() < token.len()) && !inner
}

/// Whether a sentence may begin after this token: a sentence or a heading with a colon ends with it.
pub(crate) fn begins_after(token: &str) -> bool {
    token.ends_with(':') || ends_sentence(token)
}

const CONTROL: u8 = 1;
const OPERATION: u8 = 2;
const QUOTE: u8 = 4;
const WIDE: u8 = 8;

/// What a byte may be a reason for to look around.
const TELLING: [u8; 256] = {
    let mut telling = [0; 256];
    let mut b = 0;
    while b < 256 {
        telling[b] = match b as u8 {
            ..b' ' => CONTROL,
            b'=' | b'+' | b'<' | b'>' => OPERATION,
            b'\'' => QUOTE,
            0x80.. => WIDE,
            _ => 0,
        };
        b += 1;
    }
    telling
};

/// Whether the line must be worked out together: a straight single quotation mark may open on it, it holds tabs,
/// other blanks or unseen characters, or so many signs of operation that a grade 1 passage may go over its words.
pub(crate) fn looks_around(line: &str) -> bool {
    let bytes = line.as_bytes();
    // One pass: is there anything to look at more closely?
    let seen = bytes.iter().fold(0, |seen, &b| seen | TELLING[usize::from(b)]);
    if seen == 0 {
        return false;
    }
    let single = || {
        bytes.iter().enumerate().any(|(i, &b)| {
            b == b'\''
                && (i == 0 || !bytes[i - 1].is_ascii_alphanumeric())
                && bytes.get(i + 1).is_some_and(|&n| n > b' ')
        })
    };
    seen & CONTROL != 0
        || seen & (OPERATION | WIDE) != 0 && signs_of_operation(line) >= 3
        || seen & QUOTE != 0 && single()
        || seen & WIDE != 0
            && line
                .chars()
                .any(|c| symbols::unseen(c) || matches!(c, '‘' | '‚') || !c.is_ascii() && c.is_whitespace())
}

/// At least as many as `grade1::passages` counts.
fn signs_of_operation(line: &str) -> usize {
    let ascii = line.bytes().filter(|byte| matches!(byte, b'=' | b'+' | b'<' | b'>')).count();
    let others = |c: &char| {
        !c.is_ascii() && !c.is_alphabetic() && !matches!(c, '‘' | '’' | '“' | '”' | '–' | '—' | '…')
    };
    if line.is_ascii() { ascii } else { ascii + line.chars().filter(others).count() }
}

/// A place from `from` on where a text may be cut: a small letter after a blank, with a small letter in the sequence
/// before.
pub(crate) fn clear_place(bytes: &[u8], from: usize) -> Option<usize> {
    let mut at = from;
    while at < bytes.len() {
        let blank = at + bytes[at..].iter().position(|&b| b == b' ')?;
        let next = blank + bytes[blank..].iter().position(|&b| b != b' ')?;
        let before = bytes[..blank].rsplit(|&b| b == b' ').next().unwrap_or_default();
        if bytes[next].is_ascii_lowercase() && before.iter().any(u8::is_ascii_lowercase) {
            return Some(next);
        }
        at = next;
    }
    None
}

/// A place where a text without an end is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Cut {
    pub at: usize,
    /// Within a symbols-sequence, and not after a blank.
    pub inside: bool,
}

/// Quotation marks look no further ahead than this, in characters.
const REACH: usize = 600;

/// How far a token is looked at for what looks around.
const NEAR: usize = 64;

/// A place from `from` on where a text, of which all before `begin` is written, may be cut: nothing before it asks for
/// more than what stands right after it, and nothing after it for more than what a `Carry` tells.
pub(crate) fn cut(text: &str, begin: usize, from: usize) -> Option<Cut> {
    let bytes = text.as_bytes();
    let is = |at: usize, test: fn(&u8) -> bool| bytes.get(at).is_some_and(test);
    let letter = u8::is_ascii_alphabetic;
    // The letters-sequence around, and the last apostrophe.
    let mut run = bytes[begin..from].iter().rposition(|b| !letter(b)).map_or(begin, |k| begin + k + 1);
    let mark = |at: usize| {
        bytes[at] == b'\'' || bytes[at] == 0xe2 && matches!(bytes[at + 1..], [0x80, 0x98..=0x9a, ..])
    };
    let mut quote = (begin..from).rev().find(|&at| mark(at)).unwrap_or(begin);
    for at in from..bytes.len() {
        let (x, y) = (bytes[at - 1], bytes[at]);
        if !x.is_ascii_alphabetic() {
            run = at;
        }
        if mark(at - 1) {
            quote = at;
        }
        let small = y.is_ascii_lowercase();
        let inside = match x {
            b'0'..=b'9' => {
                y.is_ascii_alphanumeric()
                    || matches!(y, b',' | b'.') && is(at + 1, u8::is_ascii_digit)
                    // Fractions of one character.
                    || y == 0xc2 && is(at + 1, |b| matches!(b, 0xbc..=0xbe))
            }
            b'a'..=b'z' if y.is_ascii_digit() => true,
            // Letters are taken so many at a time anyway (`runs::LONGEST`). A single capital needs nothing after it;
            // within capitals their mode is on.
            _ if x.is_ascii_alphabetic() && y.is_ascii_alphabetic() && (at - run).is_multiple_of(LONGEST) => {
                x.is_ascii_lowercase()
                    || small && is(at - 2, u8::is_ascii_lowercase)
                    || bytes[at - 3..].iter().take(6).filter(|b| b.is_ascii_uppercase()).count() == 6
            }
            b'-' | b'*' | b'=' | b'+' | b'#' | b'~' if x == y => {
                bytes[at - 2] == x && is(at + 1, |_| true) && bytes[at + 1] == x
            }
            b'/' | b'+' | b'=' | b'*' | b'^' | b'%' | b'#' | b'@' | b'&' | b'~' | b'|' | b'\\' | b'<'
            | b'>' | b'(' | b')' | b'[' | b']' | b'{' | b'}' => y.is_ascii_alphanumeric(),
            // Raised and lowered digits.
            0x80.. => {
                small
                    && matches!(
                        bytes[..at],
                        [.., 0xc2, 0xb2 | 0xb3 | 0xb9]
                            | [.., 0xe2, 0x82, 0x80..=0x89]
                            | [.., 0xe2, 0x81, 0xb0..=0xb9]
                    )
            }
            _ => false,
        };
        if inside {
            return Some(Cut { at, inside });
        }
        // After a blank, where no capitals passage and no quotation with apostrophes may go on.
        let blank = |b: &&u8| **b != b' ';
        if x == b' ' && y != b' ' && at - quote > REACH {
            let quiet = |b: &u8| !b.is_ascii_uppercase() && *b != b'\'';
            let before =
                bytes[begin..at].iter().rev().skip_while(|b| **b == b' ').take_while(blank).take(NEAR);
            let mut after = bytes[at..].iter().take_while(blank).take(NEAR);
            if before.clone().next().is_some() && before.clone().all(quiet) && after.all(quiet) {
                return Some(Cut { at, inside });
            }
        }
    }
    None
}

/// Moves `i` over a token to the next blank.
#[inline]
pub(crate) fn token(bytes: &[u8], i: &mut usize) -> Token {
    let from = *i;
    let (packed, length) = Packed::word(bytes, from);
    let letters = from + length;
    let mut at = letters;
    while at < bytes.len() && stop(bytes[at]) {
        at += 1;
    }
    let small = length > usize::from(bytes[from].is_ascii_uppercase());
    if small && length <= 16 && (at == bytes.len() || bytes[at] == b' ') {
        *i = at;
        return Token::Word(packed, letters);
    }
    at = from;
    let (mut lower, mut upper, mut bound) = (false, false, false);
    while at < bytes.len() && bytes[at] != b' ' {
        match bytes[at] {
            b'a'..=b'z' => lower = true,
            b'A'..=b'Z' => upper = true,
            // An apostrophe between two letters is nothing else.
            b'\'' => {
                let letter = |k: usize| bytes.get(k).is_some_and(|b| b.is_ascii_alphanumeric());
                bound |= at == from || !letter(at - 1) || !letter(at + 1);
            }
            b'"' => bound = true,
            // ’ between two letters.
            0xe2 if bytes[at..].starts_with("’".as_bytes()) => {
                let letter = |k: usize| bytes.get(k).is_some_and(|b| b.is_ascii_alphanumeric());
                bound |= at == from || !letter(at - 1) || !letter(at + 3);
                at += 2;
            }
            // Latin letters with their accents.
            0xc3 => {
                lower |= bytes.get(at + 1).is_some_and(|&b| b >= 0x9f && b != 0xb7);
                upper |= bytes.get(at + 1).is_some_and(|&b| b < 0x9f);
                bound |= bytes.get(at + 1) == Some(&0x97);
                at += 1;
            }
            b if b >= 0x80 => bound = true,
            _ => {}
        }
        at += 1;
    }
    *i = at;
    match (bound, lower, upper) {
        (true, ..) => Token::Bound,
        (_, true, _) => Token::Free,
        // What stands beside it tells whether it is a word.
        (_, _, true) if acronyms::may_be_word(&bytes[from..at]) => Token::Bound,
        (_, _, true) => Token::Capitals,
        _ => Token::Neutral,
    }
}
