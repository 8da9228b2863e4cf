//! A learner's own causes, which are planted first.

use super::Kind;
use super::offers::{self, Offer};
use crate::marking::Expected;
use crate::ueb::SignId;
use crate::ueb::register;

/// Kinds of mistakes and signs at which a learner slips.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Own {
    kinds: Vec<Kind>,
    signs: Vec<SignId>,
}

/// The chance of a mistake at a cell: where one of the learner's own causes can strike, and anywhere else.
pub(super) struct Shares {
    pub own: f64,
    pub other: f64,
}

/// So much of all that is planted is of the learner's own causes, where the text has places for it.
const SHARE: f64 = 0.75;
/// No more of the places of a cause are used, so that right ones stand beside the wrong ones.
const MOST: f64 = 0.4;

impl Own {
    /// The causes of these names: of kinds, and keys of signs.
    pub fn named(names: &[String]) -> Own {
        Own {
            kinds: names.iter().filter_map(|name| Kind::named(name)).collect(),
            signs: names.iter().filter_map(|key| register::by_key(key)).map(|sign| sign.id).collect(),
        }
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.kinds.is_empty() && self.signs.is_empty()
    }

    pub(super) fn is_own(&self, asked: &Expected, unit: usize, offer: &Offer) -> bool {
        self.kinds.contains(&offer.kind)
            || asked.units[unit].sign.is_some_and(|sign| self.signs.contains(&sign))
    }

    /// Whether one of them can strike at a cell.
    pub(super) fn meets(&self, asked: &Expected, at: usize, kinds: &[Kind]) -> bool {
        let Some(unit) = asked.unit_at(at) else { return false };
        let fits = |offer: &Offer| {
            (kinds.is_empty() || kinds.contains(&offer.kind)) && self.is_own(asked, unit, offer)
        };
        offers::offers(asked, unit).iter().any(fits)
    }

    /// The chances that come to `rate` in all.
    pub(super) fn shares(&self, asked: &Expected, kinds: &[Kind], rate: f64) -> Shares {
        let count = asked.cells.len().max(1);
        let places = match self.is_empty() {
            true => 0,
            false => (0..asked.cells.len()).filter(|at| self.meets(asked, *at, kinds)).count(),
        };
        if places == 0 {
            return Shares { own: 0.0, other: rate };
        }
        let part = places as f64 / count as f64;
        let own = (SHARE * rate / part).min(MOST);
        Shares { own, other: (rate - own * part).max(rate * (1.0 - SHARE)) }
    }
}
