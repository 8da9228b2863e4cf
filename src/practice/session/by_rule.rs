//! Rules as a session asks them: on words and lines that turn on a clause.

use super::item::Item;
use super::place::Place;
use super::wishes::{Ground, MakeRules, Rules};
use crate::practice::clauses::{self, Clause, How};
use crate::practice::due::Memories;
use crate::practice::supply::Supply;
use crate::practice::{rules, turning};

/// The unit, from 0, from which on rules are practised on words of their own.
const RULES_FROM: usize = 10;

impl Rules {
    /// Rules are asked.
    pub const ASKED: Rules = Rules(Some(MakeRules {
        next: rule,
        new: new_rules,
        clause: |section| clauses::of(section).map(|clause| clause.section).filter(|known| *known == section),
        again: rules::item,
    }));
}

/// The clauses of the open units that were never asked, those of the latest unit first.
fn new_clauses<'a>(place: &Place, memories: &'a Memories) -> impl Iterator<Item = &'static Clause> + use<'a> {
    let open = place.open;
    let taught = clauses::all().iter().filter(move |clause| (RULES_FROM..=open).contains(&clause.unit));
    let mut taught: Vec<&'static Clause> = taught.collect();
    taught.sort_by_key(|clause| std::cmp::Reverse(clause.unit));
    taught.into_iter().filter(|clause| memories.kept.rule(clause.section).is_none())
}

/// How many clauses of the open units were never asked.
fn new_rules(place: &Place, memories: &Memories) -> usize {
    new_clauses(place, memories).count()
}

/// What turns on a clause that is due; while none is, on one that was never asked.
fn rule(ground: &mut Ground, supply: &Supply) -> Option<Item> {
    let open = ground.place.open;
    let due = ground.memories.kept.due_rules(ground.now);
    let due = due.into_iter().filter(|section| Some(*section) != ground.last_clause).filter_map(clauses::of);
    let clauses: Vec<&Clause> = due.chain(new_clauses(ground.place, ground.memories)).take(4).collect();
    clauses.into_iter().find_map(|clause| {
        let unit = open.max(clause.unit);
        let item = match clause.how {
            How::Apart => turning::item(supply, unit, clause, None, ground.chance)
                .map(|item| Item::Rule(clause.section, item)),
            How::Written => {
                // What was missed in other work, before the course came to it, is known from there.
                let met = |key: &str| clause.unit > open || ground.met.contains(key);
                turning::line(supply, unit, clause, &met, None, ground.chance).map(Item::Write)
            }
        };
        item.inspect(|_| ground.clause = Some(clause.section))
    })
}
