//! Why a contraction that no rule bars was not chosen (10.10), and why a shortform was not (10.9), by how the choice was
//! made: the word is weighed once more with that contraction in it.

use super::rules::{Bar, vowel};
use super::shortforms;
use super::{CELL, Candidate, Context, Part, Passed, Step, candidates};
use crate::ueb::register::{self, Class};

/// Ways of writing one sign that were allowed: its first letter's place, its letters and its cost.
pub(super) type Ways = Vec<(usize, usize, u32)>;

/// Contractions that no rule bars and that gave way to others. `best` holds what the letters from each place on cost;
/// those `refused` come in order of their places.
pub(super) fn unchosen(
    word: &[u8],
    parts: &[Part],
    best: &[Step],
    ways: &Ways,
    refused: &[Passed],
) -> Vec<Passed> {
    let until = costs_until(word.len(), ways);
    let placed = placed(parts);
    let mut out = Vec::new();
    let (mut before, mut overlapping) = (0, 0);
    for at in 0..word.len() {
        before += refused[before..].iter().take_while(|passed| passed.at < at).count();
        while overlapping < placed.len()
            && placed[overlapping].0 + usize::from(placed[overlapping].1.len) <= at
        {
            overlapping += 1;
        }
        for candidate in candidates().at(word, at) {
            let len = candidate.letters.len();
            let here = |(from, part): &(usize, Part)| *from == at && part.sign == candidate.sign;
            let mut barred = refused[before..].iter().take_while(|passed| passed.at == at);
            if placed[overlapping..].first().is_some_and(here)
                || barred.any(|passed| passed.sign == candidate.sign)
            {
                continue;
            }
            let own = candidate.cells * CELL + candidate.preference(&word[at + len..]);
            let with = until[at].saturating_add(own).saturating_add(best[at + len].cost);
            let instead: Vec<(usize, Part)> =
                placed[overlapping..].iter().take_while(|(from, _)| *from < at + len).copied().collect();
            let (section, why) = weighed(candidate, word, with, best[0].cost, &instead);
            out.push(Passed { sign: candidate.sign, at, len, section, why });
        }
    }
    out
}

/// What the letters up to each place cost at least; without bound where no way leads.
fn costs_until(letters: usize, ways: &Ways) -> Vec<u32> {
    let mut until = vec![u32::MAX; letters + 1];
    until[0] = 0;
    // They were found from the end.
    for &(at, len, cost) in ways.iter().rev() {
        until[at + len] = until[at + len].min(until[at].saturating_add(cost));
    }
    until
}

/// Each part with its first letter's place.
fn placed(parts: &[Part]) -> Vec<(usize, Part)> {
    let mut at = 0;
    let place = |part: &Part| {
        let from = at;
        at += usize::from(part.len);
        (from, *part)
    };
    parts.iter().map(place).collect()
}

/// Which clause of 10.10 prefers the signs that were chosen `instead` of a contraction, with which the word would cost
/// so much.
fn weighed(candidate: &Candidate, word: &[u8], with: u32, cost: u32, instead: &[(usize, Part)]) -> Bar {
    if with / CELL > cost / CELL {
        return ("10.10.2", "the word takes fewer cells without it");
    }
    if instead.iter().any(|(_, part)| part.section == "10.10.10") {
        return ("10.10.10", "the sequence would have no sign with an upper dot");
    }
    let any = |test: &dyn Fn(usize, &Part, Class, &str) -> bool| {
        instead.iter().any(|(at, part)| {
            let sign = register::get(part.sign);
            part.len > 1 && test(*at, part, sign.class, sign.print)
        })
    };
    if any(&|at, _, class, print| {
        at == 0 && class == Class::LowerGroupsign && matches!(print, "be" | "con" | "dis")
    }) {
        return ("10.10.4", "be, con or dis comes first where it is the first syllable");
    }
    if any(&|at, part, _, print| {
        print == "ence" && matches!(word.get(at + usize::from(part.len)), Some(b'a' | b'd' | b'r'))
    }) {
        return ("10.10.6", "ence comes first before a, d or r");
    }
    if candidate.class != Class::StrongContraction && any(&|_, _, class, _| class == Class::StrongContraction)
    {
        return ("10.10.3", "a strong contraction comes first where it takes no more cells");
    }
    match candidate.class {
        Class::LowerGroupsign if any(&|_, _, class, _| class == Class::StrongGroupsign) => {
            ("10.10.5", "a strong groupsign comes before a lower one")
        }
        Class::InitialLetterContraction | Class::FinalLetterGroupsign
            if any(&|_, _, class, _| matches!(class, Class::StrongGroupsign | Class::LowerGroupsign)) =>
        {
            ("10.10.7", "strong and lower groupsigns come first where they take no more cells")
        }
        _ => ("10.10.8", "another sign comes nearer to how the word is said"),
    }
}

/// The shortforms whose letters stand in the word, at its beginning or (braille, children, great) anywhere in it, and
/// that are not used (10.9.1 to 10.9.3).
pub(super) fn shortforms_passed(word: &[u8], context: &Context, used: &[shortforms::Place]) -> Vec<Passed> {
    let mut out = Vec::new();
    for (short, sign) in shortforms::all() {
        let anywhere = matches!(short, b"braille" | b"children" | b"great");
        let last = if anywhere { word.len().saturating_sub(short.len()) } else { 0 };
        for at in (0..=last).filter(|&at| word[at..].starts_with(short)) {
            let end = at + short.len();
            if used.iter().any(|place| place.at < end && at < place.at + place.len) {
                continue;
            }
            let (section, why) = shortform_barred(short, at, word, context);
            out.push(Passed { sign, at, len: short.len(), section, why });
        }
    }
    out
}

/// By which clause a shortform is not used here.
fn shortform_barred(short: &[u8], at: usize, word: &[u8], context: &Context) -> Bar {
    let whole = short.len() == word.len();
    if !context.standing_alone {
        return (if whole { "10.9.1" } else { "10.9.2" }, "the word does not stand alone");
    }
    if !context.shortforms {
        return ("10.9.6", "no shortform is used beside letters that could be read as one");
    }
    let begins = at == 0 && shortforms::BEGIN.contains(&short);
    if (begins || short == b"children") && word.get(at + short.len()).is_some_and(|&c| vowel(c)) {
        return ("10.9.3", "a vowel or y follows");
    }
    ("10.9.2", "the word is not on the Shortforms List")
}

#[cfg(test)]
mod tests;
