//! Where syllables meet (10.13.1). TeX's hyphenation patterns give the places; the parts of compounds and some endings
//! add their own; a place that splits the letters of one sound, or lies too near a seam, is doubtful and left out.

use crate::ueb::contract;

/// Endings that are a syllable of their own.
const ENDINGS: [&[u8]; 12] = [
    b"tion", b"tions", b"sion", b"sions", b"ment", b"ments", b"ness", b"less", b"ful", b"fully", b"ship",
    b"ships",
];

/// Words that keep their outline at the beginning or at the end of longer ones: Good-all, herein-after (10.13.12).
const OUTLINES: [&[u8]; 20] = [
    b"about",
    b"above",
    b"after",
    b"against",
    b"before",
    b"behind",
    b"below",
    b"beneath",
    b"between",
    b"beyond",
    b"blind",
    b"children",
    b"first",
    b"friend",
    b"good",
    b"great",
    b"letter",
    b"little",
    b"quick",
    b"together",
];

fn vowel(c: u8) -> bool {
    matches!(c, b'a' | b'e' | b'i' | b'o' | b'u' | b'y')
}

/// Two letters that are written for one sound, as a rule.
fn one_sound(a: u8, b: u8) -> bool {
    let pair = [a, b];
    matches!(
        &pair,
        b"ch"
            | b"sh"
            | b"th"
            | b"ph"
            | b"wh"
            | b"gh"
            | b"ck"
            | b"qu"
            | b"ea"
            | b"ee"
            | b"ei"
            | b"ie"
            | b"oa"
            | b"oo"
            | b"ou"
            | b"oi"
            | b"ai"
            | b"au"
            | b"ay"
            | b"ey"
            | b"oy"
            | b"aw"
            | b"ew"
            | b"ow"
            | b"ue"
            | b"ui"
            | b"eu"
            | b"oe"
            | b"ae"
    )
}

#[cfg(feature = "syllables")]
fn syllables(word: &str) -> impl Iterator<Item = &str> {
    hypher::hyphenate_bounded(word, hypher::Lang::English, 2, 2)
}

/// Without the patterns every word is one syllable.
#[cfg(not(feature = "syllables"))]
fn syllables(word: &str) -> impl Iterator<Item = &str> {
    std::iter::once(word)
}

/// The places of a word in lower case, in order; each half has two letters or more, and a vowel.
pub(super) fn places(word: &[u8]) -> Vec<usize> {
    let Ok(text) = std::str::from_utf8(word) else { return Vec::new() };
    let n = word.len();
    let mut found: Vec<usize> = Vec::new();
    let mut at = 0;
    for syllable in syllables(text) {
        // A syllable without a vowel is none: both its ends are in doubt.
        let said = syllable.bytes().any(vowel);
        if !said {
            found.pop();
        }
        at += syllable.len();
        if said {
            found.push(at);
        }
    }
    let seam = |at: usize| contract::parts_meet(word, at);
    found.extend((2..n.saturating_sub(1)).filter(|&at| seam(at)));
    found.extend(ENDINGS.iter().filter_map(|ending| {
        let stem = word.strip_suffix(*ending)?;
        // mass-ion is no mas-sion; har-ness has no stem.
        (stem.len() > 2
            && stem.last() != ending.first()
            && !stem.ends_with(b"har")
            && !stem.ends_with(b"wit"))
        .then_some(stem.len())
    }));
    found.extend(OUTLINES.iter().filter(|outline| word.starts_with(outline)).map(|outline| outline.len()));
    found.extend(OUTLINES.iter().filter_map(|outline| Some(word.strip_suffix(*outline)?.len())));
    let clear = |half: &[u8]| half.len() >= 2 && half.iter().any(|&c| vowel(c));
    let doubtful =
        |at: usize| !seam(at) && (one_sound(word[at - 1], word[at]) || seam(at - 1) || seam(at + 1));
    found.retain(|&at| at > 0 && at < n && clear(&word[..at]) && clear(&word[at..]) && !doubtful(at));
    found.sort_unstable();
    found.dedup();
    found
}
