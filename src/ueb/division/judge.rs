//! Whether 10.13 lets a word be divided at a place, for those who mark what others have divided.

use std::ops::Range;

use super::{Division, Whole, is_dash, is_hyphen, syllables};
use crate::ueb::{Explanation, PassedOver};

/// Whether a word may be divided at a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Allowed {
    /// A rule lets it.
    Yes,
    /// Dictionaries differ, or none is at hand: the transcriber's call.
    YourCall,
    /// A rule bars it.
    No,
}

/// What 10.13 and 6.10 say of dividing a word or number at one place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judgement {
    /// Whether it may be divided there.
    pub allowed: Allowed,
    /// The section that decides.
    pub section: &'static str,
    /// The reason in a few plain words.
    pub why: &'static str,
    /// How both parts are written if it is divided there all the same; `None` where no form is right.
    pub parts: Option<Division>,
    /// Contractions that are not used in its parts, in order of print.
    pub passed_over: Vec<PassedOver>,
}

/// Whether a word or number may be divided before this character (from 0), and how both parts are then written.
///
/// The print is one symbols-sequence, as for [`super::divisions`].
pub fn judge(print: &str, at: usize) -> Judgement {
    judged(&Whole::new(print), at)
}

/// The same for a sequence that is written so where it stands: within a passage it has not the indicators that it would
/// have by itself.
pub fn judge_as(print: &[char], said: Explanation, contracted: bool, at: usize) -> Judgement {
    judged(&Whole { said, print: print.to_vec(), contracted }, at)
}

fn judged(whole: &Whole, at: usize) -> Judgement {
    let of =
        |allowed, section, why, parts| Judgement { allowed, section, why, parts, passed_over: Vec::new() };
    let no = |section, why, parts| of(Allowed::No, section, why, parts);
    if at == 0 || at >= whole.print.len() {
        return no("10.13.1", "nothing stands on one side of the break", None);
    }
    if let Some(parts) = whole.numbers().into_iter().find(|one| one.at == at) {
        let why = if parts.section == "6.10.4" {
            "at a numeric space"
        } else {
            "after a comma, or in a long number"
        };
        return of(Allowed::Yes, parts.section, why, Some(parts));
    }
    let (before, after) = (whole.print[at - 1], whole.print[at]);
    if before.is_ascii_digit() && (after.is_ascii_digit() || matches!(after, ',' | '.')) {
        return no("6.10.2", "not between two digits where print separates them elsewhere", None);
    }
    if let Some(parts) = whole.joints().into_iter().find(|one| one.at == at) {
        let why = if parts.section == "10.13.2" { "at a hyphen of print" } else { "beside a dash" };
        return of(Allowed::Yes, parts.section, why, Some(parts));
    }
    let Some(run) = whole.words().into_iter().find(|run| run.start < at && at < run.end) else {
        if is_hyphen(after) || is_dash(before) && is_dash(after) || !after.is_alphanumeric() {
            return no("10.13.1", "only between syllables", None);
        }
        if !before.is_alphabetic() || !after.is_alphabetic() {
            return no("10.13.1", "only between syllables", None);
        }
        return of(Allowed::YourCall, "10.13.1", "no dictionary shows a place here", None);
    };
    in_word(whole, &run, at)
}

/// Within a run of letters.
fn in_word(whole: &Whole, run: &Range<usize>, at: usize) -> Judgement {
    let place = at - run.start;
    let within = |form: &Range<usize>| form.start < place && place < form.end;
    if whole.shortforms(run).iter().any(within) {
        let why = "a shortform is not divided";
        let (allowed, section) = (Allowed::No, "10.13.12");
        return Judgement { allowed, section, why, parts: None, passed_over: Vec::new() };
    }
    let parts = whole.divided(run, &[place]).into_iter().next();
    let section = parts.as_ref().map_or("10.13.1", |parts| parts.section);
    let passed_over = whole.passed_over(run, place);
    if whole.between_syllables(run.clone()).iter().any(|one| one.at == at) {
        return Judgement { allowed: Allowed::Yes, section, why: "between syllables", parts, passed_over };
    }
    let lower: Vec<u8> = whole.print[run.clone()].iter().map(|c| c.to_ascii_lowercase() as u8).collect();
    let (allowed, why) = match syllables::barred(&lower, place) {
        Some(why) => (Allowed::No, why),
        None => (Allowed::YourCall, "dictionaries differ on the syllables here"),
    };
    Judgement { allowed, section: "10.13.1", why, parts, passed_over }
}
