//! A mode lost, or kept too long, and all that follows from it, is one finding.

use super::found::Cause;
use super::shape::dots;
use super::{Expected, Kind};
use crate::ueb::register;

/// What an indicator is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Family {
    Numeric,
    Capitals,
    Grade1,
    Typeform,
}

fn family(cause: &Cause) -> Option<Family> {
    let sign = register::get(cause.finding.sign?);
    match sign.section.split('.').next()? {
        "5" => Some(Family::Grade1),
        "6" => Some(Family::Numeric),
        "8" => Some(Family::Capitals),
        "9" => Some(Family::Typeform),
        _ => None,
    }
}

fn indicator(kind: Kind) -> bool {
    matches!(kind, Kind::MissingIndicator | Kind::ExtraIndicator | Kind::WrongIndicator)
}

/// A typeform over the whole of a line may be left out (9.1.3); but where its terminator or its indicator stands all the
/// same, the other one is missing.
fn whole_typeform(causes: &mut Vec<Cause>) {
    let call = |cause: &Cause| cause.finding.kind == Kind::YourCall && cause.finding.section == "9.1.3";
    let name = |cause: &Cause| cause.finding.sign.map_or("", |sign| register::get(sign).name);
    let end = |cause: &Cause| {
        cause.finding.kind == Kind::MissingIndicator
            && ends_mode(cause)
            && family(cause) == Some(Family::Typeform)
    };
    if !causes.iter().any(call) {
        return;
    }
    let word = causes.iter().any(|cause| call(cause) && name(cause).contains("word"));
    if word || causes.iter().filter(|cause| call(cause) || end(cause)).count() > 1 {
        let mut first = true;
        causes.retain(|cause| !(call(cause) || end(cause)) || std::mem::take(&mut first));
        return;
    }
    for cause in causes.iter_mut().filter(|cause| call(cause)) {
        let name = cause.finding.sign.map_or("indicator", |sign| register::get(sign).name);
        cause.finding.kind = Kind::MissingIndicator;
        cause.finding.section = cause.finding.sign.map_or("9", |sign| register::get(sign).section);
        cause.finding.say = format!("The {name} ({}) is missing.", dots(&cause.finding.expected));
    }
}

/// The causes, with those that only follow from an earlier one taken into it.
pub(super) fn joined(expected: &Expected, mut causes: Vec<Cause>) -> Vec<Cause> {
    whole_typeform(&mut causes);
    let mut out: Vec<Cause> = Vec::with_capacity(causes.len());
    // The passage that an earlier finding is about, by its place in `out`, its family, and how far it reaches.
    let mut passage: Option<(usize, Family, usize)> = None;
    for cause in causes {
        let follows =
            out.last().is_some_and(|last| same_word(expected, last, &cause) && follows(last, &cause));
        if follows {
            continue;
        }
        let own = family(&cause).filter(|_| indicator(cause.finding.kind));
        if let (Some((_, of, to)), Some(own)) = (passage, own)
            && own == of
            && cause.units.start <= to
        {
            continue;
        }
        if let Some((own, to)) = own.and_then(|own| Some((own, reach(expected, &cause, own)?))) {
            passage = Some((out.len(), own, to));
        } else if mirrored_run(&out, &cause) {
            if let Some(last) = out.last_mut() {
                last.finding.cells.extend(&cause.finding.cells);
                last.finding.expected.extend(&cause.finding.expected);
                last.finding.asked.end = cause.finding.asked.end;
                last.finding.print.end = cause.finding.print.end.max(last.finding.print.end);
                last.finding.written.to = cause.finding.written.to;
                last.units.end = cause.units.end;
                last.written.end = cause.written.end;
            }
            continue;
        }
        out.push(cause);
    }
    out
}

/// Three cells and more in a row that are all mirrored are one mistake: a word written from the wrong side.
fn mirrored_run(out: &[Cause], cause: &Cause) -> bool {
    out.last().is_some_and(|last| {
        last.finding.kind == Kind::Mirrored
            && cause.finding.kind == Kind::Mirrored
            && last.written.end == cause.written.start
            && last.finding.written.line == cause.finding.written.line
            && last.finding.written.to == cause.finding.written.from
    })
}

/// Whether no blank is asked for between the two.
fn same_word(expected: &Expected, first: &Cause, then: &Cause) -> bool {
    let between = expected.units.get(first.units.start..then.units.start).unwrap_or_default();
    !between.iter().any(|unit| unit.is_space())
}

/// Whether the second of two findings of one word follows from the first: without the mode there is no need of what
/// ends it or guards against it, and contractions come back; with a mode too many they are lost.
fn follows(first: &Cause, then: &Cause) -> bool {
    let Some(mode) = family(first).filter(|_| indicator(first.finding.kind)) else { return false };
    let next = family(then).filter(|_| indicator(then.finding.kind));
    match (first.finding.kind, then.finding.kind) {
        (Kind::MissingIndicator, Kind::MissingIndicator) => {
            (mode == Family::Numeric && next == Some(Family::Grade1))
                || (next == Some(mode) && ends_mode(then))
        }
        (Kind::MissingIndicator, Kind::BarredContraction) => matches!(mode, Family::Numeric | Family::Grade1),
        (Kind::ExtraIndicator, Kind::ExtraIndicator) => next == Some(mode) && ends_mode(then),
        (Kind::ExtraIndicator, Kind::MissedContraction) => matches!(mode, Family::Numeric | Family::Grade1),
        (Kind::WrongIndicator, Kind::MissingIndicator | Kind::ExtraIndicator) => {
            next == Some(mode) && ends_mode(then)
        }
        _ => false,
    }
}

fn ends_mode(cause: &Cause) -> bool {
    cause.finding.sign.is_some_and(|sign| register::get(sign).class == register::Class::Terminator)
}

/// How far a passage reaches whose indicator is missing, or another than asked for: to its terminator.
fn reach(expected: &Expected, cause: &Cause, own: Family) -> Option<usize> {
    let sign = register::get(cause.finding.sign?);
    if !sign.name.contains("passage") || sign.class != register::Class::Indicator {
        return None;
    }
    if cause.finding.kind == Kind::ExtraIndicator {
        return Some(usize::MAX);
    }
    let rest = expected.units.get(cause.units.end..)?;
    let terminator = |unit: &super::expected::Unit| {
        unit.sign.map(register::get).is_some_and(|sign| {
            sign.class == register::Class::Terminator
                && match own {
                    Family::Numeric => sign.section.starts_with('6'),
                    Family::Capitals => sign.section.starts_with('8'),
                    Family::Grade1 => sign.section.starts_with('5'),
                    Family::Typeform => sign.section.starts_with('9'),
                }
        })
    };
    Some(rest.iter().position(terminator).map_or(expected.units.len(), |at| cause.units.end + at))
}
