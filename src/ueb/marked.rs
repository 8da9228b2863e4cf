//! Letters that Unicode has as one character and braille as a letter and its modifiers (4.2).
//!
//! The table is made by the build script from the canonical decompositions of the Unicode standard: the character, what it
//! is without its last mark, and that mark, each in a list, in order of the character.

include!(concat!(env!("OUT_DIR"), "/marked.rs"));

/// The character without its last mark, and that mark; `None` when it has none.
pub fn parts(c: char) -> Option<(char, char)> {
    let c = u16::try_from(u32::from(c)).ok()?;
    let at = WHOLE.binary_search(&c).ok()?;
    Some((one(LETTERS[at])?, one(LAST[at])?))
}

/// The character that a letter and a mark are, if Unicode has one.
pub fn joined(letter: char, mark: char) -> Option<char> {
    let at = (0..WHOLE.len()).find(|&at| one(LETTERS[at]) == Some(letter) && one(LAST[at]) == Some(mark))?;
    one(WHOLE[at])
}

fn one(c: u16) -> Option<char> {
    char::from_u32(u32::from(c))
}

#[cfg(test)]
mod tests {
    use super::*;
    use unicode_normalization::char::{compose, decompose_canonical};

    /// Against the library's own tables, which are those of the Unicode standard.
    #[test]
    fn letters_fall_into_the_parts_that_unicode_gives() {
        for c in ('\0'..=char::MAX).filter(|&c| parts(c).is_some()) {
            let (mut letter, mut marks) = (c, Vec::new());
            while let Some((rest, mark)) = parts(letter) {
                marks.insert(0, mark);
                letter = rest;
            }
            marks.insert(0, letter);
            let mut library = Vec::new();
            decompose_canonical(c, |part| library.push(part));
            assert_eq!(marks, library, "{c}");
        }
        for (letter, mark, whole) in [('e', '\u{301}', 'é'), ('æ', '\u{301}', 'ǽ'), ('ö', '\u{304}', 'ȫ')]
        {
            assert_eq!(parts(whole), Some((letter, mark)));
        }
        assert_eq!(parts('a'), None);
        assert_eq!(parts('й'), None);
    }

    #[test]
    fn letters_and_marks_are_joined_as_unicode_joins_them() {
        for letter in '\0'..'\u{2000}' {
            for mark in '\u{300}'..'\u{370}' {
                if letter.is_alphabetic() && !('\u{400}'..='\u{1dff}').contains(&letter) {
                    assert_eq!(joined(letter, mark), compose(letter, mark), "{letter} {mark}");
                }
            }
        }
    }
}
