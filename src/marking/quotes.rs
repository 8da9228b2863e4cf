//! Which form quotation marks have is the writer's to choose where print alone doesn't say (7.6), but once for the whole
//! text.

use super::expected::Unit;
use super::found::Cause;
use super::shape::dots;
use super::{Expected, Kind};

/// Makes mistakes of quotation marks that are written otherwise than others of the same text.
pub(super) fn kept(expected: &Expected, causes: &mut [Cause]) {
    for double in [true, false] {
        let of_kind = |unit: &Unit| {
            let print = expected.print.get(unit.print.clone()).unwrap_or_default();
            match print {
                ['“' | '”' | '"'] => double,
                ['‘'] => !double,
                // An apostrophe is none.
                ['’'] => !double && expected.cells.get(unit.cells.start).is_some_and(|c| !c.dots().eq([3])),
                _ => false,
            }
        };
        let call = |cause: &&mut Cause| {
            cause.finding.kind == Kind::YourCall
                && cause.finding.section == "7.6"
                && expected.units.get(cause.units.clone()).is_some_and(|units| units.iter().any(of_kind))
        };
        let otherwise = causes.iter_mut().filter(call).count();
        if otherwise == 0 || expected.units.iter().filter(|unit| of_kind(unit)).count() == otherwise {
            continue;
        }
        for cause in causes.iter_mut().filter(call) {
            cause.finding.kind = Kind::WrongSign;
            cause.finding.say = format!(
                "Elsewhere in this text the quotation marks have another form: write {} here too.",
                dots(&cause.finding.expected)
            );
        }
    }
}
