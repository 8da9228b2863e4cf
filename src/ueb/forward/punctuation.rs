//! Punctuation that could be read as a contraction (7.1.3, 7.5).

use std::sync::OnceLock;

use super::super::register::{self, Class, Sign};
use super::faces::marked_at;
use super::plan::Sequence;
use super::symbols::{Kind, Symbol, after_ok, before_ok, edge};

/// The section that asks for a grade 1 indicator before the stop at `i`, if one does. Without contractions only the question
/// mark can be misread (5.11.1).
pub(crate) fn guard(sequence: &Sequence, i: usize) -> Option<&'static str> {
    let Sequence { symbols, faces, contracted, to, .. } = *sequence;
    let ch = symbols[i].ch;
    let (before, after) = sequence.around(i);
    // Whether nothing but what 2.6.2 allows stands between it and the space, hyphen or dash before it.
    let begins = || before.iter().rev().take_while(|s| !edge(s)).all(before_ok);
    if ch == '?' {
        // Right after an opening bracket or quotation mark it would be read as one more of these (7.5.2).
        let opened = before.last().is_some_and(|s| matches!(s.kind, Kind::Open | Kind::OpenQuote));
        return if begins() { Some("7.5.4") } else { opened.then_some("7.5.2") };
    }
    // Of a row the first sign is guarded: behind a punctuation mark no groupsign is read.
    if !contracted || before.last().is_some_and(|s| s.ch == ch || medial(s) && medial(&symbols[i])) {
        return None;
    }
    let row = after.iter().take_while(|s| medial(s)).count();
    let next = i + 1 + row;
    // A contraction does not stand next to an indicator (10.6.3, 10.6.6).
    let inner = symbols[i..next.min(to)].iter().any(|s| s.capital_end)
        || (i + 1..=next).any(|place| marked_at(faces, place));
    let letter_after =
        next < to && symbols[next].kind == Kind::Letter && symbols[next].capital == 0 && !inner;
    let letter_before =
        before.last().is_some_and(|s| s.kind == Kind::Letter && !s.capital_end) && !marked_at(faces, i);
    let between = letter_before && letter_after && medial(&symbols[i]);
    let first = letter_after && matches!(ch, ';' | ':' | '∶' | '.') && begins();
    // The wordsign for be touches no lower sign (10.5.1).
    let be = ch == ';'
        && before.last().is_none_or(|s| s.kind == Kind::Open)
        && after.first().is_none_or(|s| s.kind == Kind::Close)
        && begins()
        && after.iter().take_while(|s| !edge(s)).all(after_ok);
    (between || first || be).then_some("7.1.3")
}

/// Whether a punctuation mark has the cell of a groupsign that stands between letters: ea, bb, cc or ff (10.6.5).
fn medial(s: &Symbol) -> bool {
    s.kind == Kind::Stop && matches!(s.ch, ',' | ';' | ':' | '∶' | '!')
}

/// Signs that are written like a word's contraction, perhaps one with a capital: each with whether that is a lower
/// wordsign, which touches no lower sign (10.5.1). In the order of the register.
fn word_likes() -> &'static [Option<bool>] {
    static LIKES: OnceLock<Vec<Option<bool>>> = OnceLock::new();
    LIKES.get_or_init(|| {
        let word = |sign: &&Sign| {
            matches!(
                sign.class,
                Class::AlphabeticWordsign
                    | Class::StrongWordsign
                    | Class::StrongContraction
                    | Class::LowerWordsign
                    | Class::InitialLetterContraction
                    | Class::Shortform
            )
        };
        let words: Vec<&Sign> = register::signs().iter().filter(word).collect();
        let capital =
            register::by_key("capital letter indicator").and_then(|sign| sign.cells.first().copied());
        register::signs()
            .iter()
            .map(|sign| {
                let cells = match &sign.cells[..] {
                    [first, rest @ ..] if Some(*first) == capital => rest,
                    all => all,
                };
                words.iter().find(|word| word.cells == cells).map(|word| word.class == Class::LowerWordsign)
            })
            .collect()
    })
}

/// Whether the sign at `i` stands alone and would be read as a word there (5.1.1, 7.1.3).
pub(crate) fn word_like(sequence: &Sequence, i: usize) -> bool {
    let sign = sequence.symbols[i].sign;
    let Some(lower) = word_likes().get(sign.place()).copied().flatten() else { return false };
    let (before, after) = sequence.around(i);
    let touching = before.last().is_some_and(|s| s.kind != Kind::Open)
        || after.first().is_some_and(|s| s.kind != Kind::Close);
    !(lower && touching)
        && before.iter().rev().take_while(|s| !edge(s)).all(before_ok)
        && after.iter().take_while(|s| !edge(s)).all(after_ok)
}
