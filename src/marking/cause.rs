//! Eye, hand or rule: after a mistake one short question tells which of the three failed.

use super::{Finding, Kind};
use crate::ueb::SignId;

/// What a mistake is booked to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Booked {
    /// The sign was not known.
    Recognition,
    /// The sign was known and the fingers slipped.
    Fingers,
    /// The sign was known and the rule was not.
    Rule,
}

/// The one thing more that is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FollowUp {
    /// The sign alone, to read.
    Read(SignId),
    /// The sign alone, to write.
    Write(SignId),
    /// Which rule holds: the section asked for here.
    Rule {
        /// The sign at fault.
        sign: SignId,
        /// The section that holds.
        section: &'static str,
    },
}

/// What to ask after a finding; nothing where it has no sign, or where nothing can be learnt by asking.
/// `read` says whether the mistake was made in reading.
pub fn follow_up(finding: &Finding, read: bool) -> Option<FollowUp> {
    let sign = finding.sign?;
    Some(match finding.kind {
        Kind::YourCall | Kind::LeftOut | Kind::Added | Kind::Spacing => return None,
        Kind::MissingIndicator
        | Kind::ExtraIndicator
        | Kind::WrongIndicator
        | Kind::MissedContraction
        | Kind::BarredContraction
        | Kind::WrongContraction => FollowUp::Rule { sign, section: finding.section },
        _ if read => FollowUp::Write(sign),
        _ => FollowUp::Read(sign),
    })
}

/// What the mistake is booked to, by the answer: someone who reads the sign but wrote it wrong slipped with the
/// fingers; who knows the rule and broke it slipped too.
pub fn book(asked: &FollowUp, right: bool) -> Booked {
    match (asked, right) {
        (FollowUp::Rule { .. }, false) => Booked::Rule,
        (FollowUp::Read(_), true) | (FollowUp::Rule { .. }, true) => Booked::Fingers,
        (FollowUp::Read(_), false) | (FollowUp::Write(_), _) => Booked::Recognition,
    }
}
