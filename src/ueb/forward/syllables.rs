//! Words shown in syllables (10.1.4, 10.12.17): parts joined by hyphens that make a word of the language, and are not words
//! that make a compound of their own.

use std::collections::HashMap;
use std::ops::Range;
use std::sync::OnceLock;

use super::plan::{Run, Sequence};
use super::symbols::Kind;

/// What parts joined by hyphens are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Joined {
    /// A compound, or no hyphens.
    Compound,
    /// A word in syllables.
    Syllables,
    /// A compound that may also be a word in syllables.
    Either,
}

/// More parts than a word has syllables.
const MOST: usize = 12;

/// Pieces that are syllables and never words by themselves: they show syllables where the word is not known.
const PIECES: &str = " al ance ber ble cal cer cher cial cian cious cle cy der ding dle dor dy ed ence eous er ers \
    est ev fle ful fy ger gious gle gy ible ic ify ing ings ious ise ish ism ist ity ize ker ket kle ler ling ly \
    ment mer ming nal ner ness ning non ny ous ple py ral ry ser sher sian sion sions sor sy tain tal ter ters ther tial \
    tian tic ting tion tions tious tive tle ton tor ture ty uous vas ver ving zle ";

/// What an ending may have been added to.
const ENDINGS: [&str; 10] = ["s", "es", "ed", "d", "ing", "ly", "ness", "er", "ers", "ings"];

/// The words in which an alphabetic wordsign's word is a syllable, each with the place of the hyphen that makes a compound
/// of it, or 0.
fn words() -> &'static HashMap<String, usize> {
    static WORDS: OnceLock<HashMap<String, usize>> = OnceLock::new();
    WORDS.get_or_init(|| {
        let lines = include_str!("syllables.txt").lines().filter(|line| !line.starts_with('#'));
        lines
            .map(|line| {
                (line.replace('+', ""), line.rfind('+').map_or(0, |at| at - line[..at].matches('+').count()))
            })
            .collect()
    })
}

/// What the parts around this letters-sequence, joined to it by hyphens, are together.
pub(crate) fn around(sequence: &Sequence, run: &Range<usize>, runs: &[Run]) -> Joined {
    let symbols = sequence.symbols;
    if runs.len() < 2 || runs.len() > MOST || sequence.begun.is_some() || sequence.goes_on {
        return Joined::Compound;
    }
    let joined = |a: &Range<usize>, b: &Range<usize>| {
        b.start == a.end + 1 && (symbols[a.end].kind == Kind::Hyphen || symbols[a.end].ch == '–')
    };
    let runs: Vec<&Range<usize>> = runs.iter().map(|run| &run.range).collect();
    let Some(k) = runs.iter().position(|range| *range == run) else { return Joined::Compound };
    let (mut first, mut last) = (k, k);
    while first > 0 && joined(runs[first - 1], runs[first]) {
        first -= 1;
    }
    while last + 1 < runs.len() && joined(runs[last], runs[last + 1]) {
        last += 1;
    }
    if first == last {
        return Joined::Compound;
    }
    let parts: Vec<String> = runs[first..=last]
        .iter()
        .map(|range| symbols[(*range).clone()].iter().map(|s| s.ch).collect())
        .collect();
    of(&parts)
}

/// What parts in lower case are together.
fn of(parts: &[String]) -> Joined {
    let word = parts.concat();
    let place = words().get(word.as_str()).or_else(|| {
        ENDINGS
            .iter()
            .find_map(|ending| words().get(word.strip_suffix(ending).filter(|stem| stem.len() > 3)?))
    });
    match place {
        Some(0) => Joined::Syllables,
        Some(&place) if parts.len() > 2 || parts[0].len() != place => Joined::Syllables,
        Some(_) => Joined::Either,
        None if parts[1..].iter().any(|part| PIECES.split(' ').any(|piece| piece == part)) => {
            Joined::Syllables
        }
        None => Joined::Compound,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn parts(print: &str) -> Joined {
        of(&print.split('-').map(str::to_owned).collect::<Vec<_>>())
    }

    // 10.1.4 and 10.12.17; the words are our own.
    #[test]
    fn syllables_and_compounds() {
        for word in
            ["can-yon", "do-nors", "just-ice", "al-be-it", "for-ev-er-more", "un-like-ly", "can-tor-ing"]
        {
            assert_eq!(parts(word), Joined::Syllables, "{word}");
        }
        for word in ["go-be-tween", "can-do", "so-so", "you-know-who", "cat-like"] {
            assert_eq!(parts(word), Joined::Compound, "{word}");
        }
        for word in ["un-do", "will-power", "more-over"] {
            assert_eq!(parts(word), Joined::Either, "{word}");
        }
    }

    #[test]
    fn the_list_is_sorted_and_in_small_letters() {
        let words: Vec<String> = include_str!("syllables.txt")
            .lines()
            .filter(|l| !l.starts_with('#'))
            .map(|l| l.replace('+', ""))
            .collect();
        assert!(words.is_sorted_by(|a, b| a < b) && words.len() > 3000);
        assert!(words.iter().all(|word| word.bytes().all(|b| b.is_ascii_lowercase())));
    }
}
