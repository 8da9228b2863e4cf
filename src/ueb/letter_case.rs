//! Capital and small letters.
//!
//! The table is made by the build script from the standard library's, which is the Unicode standard's. The library's own
//! is many times as long, and would be the largest in the page.

include!(concat!(env!("OUT_DIR"), "/letter_case.rs"));

fn other(c: char, runs: &[[u16; 4]]) -> Option<char> {
    let c = u16::try_from(u32::from(c)).ok()?;
    let run = runs.get(runs.partition_point(|run| run[1] < c))?;
    let inside = run[0] <= c && (c - run[0]).is_multiple_of(run[3]);
    char::from_u32(u32::from(c.wrapping_add(run[2]))).filter(|_| inside)
}

/// The small letter of a capital one; itself for everything else, and for the few that are no single letter then.
pub fn small(c: char) -> char {
    if c.is_ascii() { c.to_ascii_lowercase() } else { other(c, &LOWER).unwrap_or(c) }
}

/// The capital letter of a small one; itself for everything else, and for the few that are no single letter then.
pub fn capital(c: char) -> char {
    if c.is_ascii() { c.to_ascii_uppercase() } else { other(c, &UPPER).unwrap_or(c) }
}

/// A text in small letters.
pub fn in_small(text: &str) -> String {
    text.chars().map(small).collect()
}

/// A text in capital letters.
pub fn in_capitals(text: &str) -> String {
    text.chars().map(capital).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ueb::register;

    /// Against the standard library's tables, which are those of the Unicode standard.
    #[test]
    fn letters_change_their_case_as_unicode_has_it() {
        for c in '\0'..='\u{ffff}' {
            let (mut low, mut high) = (c.to_lowercase(), c.to_uppercase());
            let low = low.next().filter(|_| c.is_uppercase() && low.next().is_none());
            let high = high.next().filter(|_| c.is_lowercase() && high.next().is_none());
            assert_eq!((small(c), capital(c)), (low.unwrap_or(c), high.unwrap_or(c)), "{c}");
        }
    }

    #[test]
    fn what_the_signs_stand_for_changes_its_case_whole() {
        for sign in register::signs() {
            assert_eq!(in_capitals(sign.print), sign.print.to_uppercase(), "{}", sign.key);
            assert_eq!(in_small(sign.print), sign.print.to_lowercase(), "{}", sign.key);
        }
    }
}
