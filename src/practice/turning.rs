//! Print that turns on a rule, to be taken apart or written: looked for among the words and sentences at hand.

use super::clauses::{self, Clause, How, of};
use super::line::Line;
use super::lines;
use super::rules::{self, Item};
use super::supply::{self, Choice, Supply, level_of_line};
use super::units;
use crate::ueb::{self, Sign, register};

/// A word of the units up to `unit` in which a contraction is passed over; failing that, one with a contraction.
/// With signs that are `wanted`, only words that turn on one of them. `None` when there is neither.
pub fn next(
    supply: &Supply,
    unit: usize,
    wanted: &[&str],
    last: Option<&str>,
    chance: &mut fastrand::Rng,
) -> Option<Item> {
    // Without a wish, one clause as likely as another: by words alone it would nearly always be the same.
    if wanted.is_empty() {
        let mut taught: Vec<&Clause> =
            clauses::all().iter().filter(|clause| clause.how == How::Apart && clause.unit <= unit).collect();
        chance.shuffle(&mut taught);
        let found = taught.into_iter().take(3).find_map(|one| item(supply, unit, one, last, chance));
        if found.is_some() {
            return found;
        }
    }
    let words = supply.words();
    let prints: Vec<&str> = wanted
        .iter()
        .filter_map(|key| register::by_key(key))
        .map(|sign| sign.print)
        .filter(|print| !print.is_empty())
        .collect();
    let likely: Vec<&String> = words
        .iter()
        .filter(|word| wanted.is_empty() || prints.iter().any(|print| word.contains(print)))
        .collect();
    // Now one that uses a contraction, now one that passes it over: both turn on the rule.
    let passed_over = wanted.is_empty() || chance.bool();
    let mut second = None;
    for _ in 0..600 {
        let word = likely.get(chance.usize(..likely.len().max(1)))?;
        if Some(word.as_str()) == last || level_of_line(word, true) > unit {
            continue;
        }
        let item = rules::item(word);
        let turns = |sign: &'static str| wanted.is_empty() || wanted.contains(&sign);
        let used = item.used.iter().any(|(_, sign, _)| turns(sign));
        let passed = item.passed.iter().any(|passed| turns(passed.sign));
        if if passed_over { passed } else { used } {
            return Some(item);
        }
        if used || passed {
            second = Some(item);
        }
    }
    second
}

/// Whether a word turns on a clause: a contraction is used or passed over by it.
fn turns(item: &Item, section: &str) -> (bool, bool) {
    let by = |one: &str| of(one).is_some_and(|clause| clause.section == section);
    (item.used.iter().any(|(_, _, section)| by(section)), item.passed.iter().any(|passed| by(passed.section)))
}

/// The signs that a clause is about.
fn signs_of(clause: &Clause) -> impl Iterator<Item = &'static Sign> {
    let section = clause.section;
    let signs = units::units()[clause.unit].signs.iter().filter_map(|key| register::by_key(key));
    signs.filter(move |sign| of(sign.section).is_some_and(|of| of.section == section))
}

/// So many words, and so many sentences, are looked at for one that turns on a clause.
const LOOKED_AT: (usize, usize) = (250, 16);

/// Print of the units up to `unit` to take apart, that turns on a clause; never the `last` one.
pub fn item(
    supply: &Supply,
    unit: usize,
    clause: &Clause,
    last: Option<&str>,
    chance: &mut fastrand::Rng,
) -> Option<Item> {
    let fits = |print: &str| Some(print) != last && level_of_line(print, true) <= unit;
    let words = supply.words();
    // Now what uses a contraction by it, now what passes one over.
    let wants_passed = chance.bool();
    let mut second: Option<Item> = None;
    let mut look = |print: &str| -> Option<Item> {
        let item = rules::item(print);
        let (used, passed) = turns(&item, clause.section);
        if if wants_passed { passed } else { used } {
            return Some(item).filter(|_| fits(print));
        }
        if (used || passed) && second.is_none() && fits(print) {
            second = Some(item);
        }
        None
    };
    // What was made for it comes among what is found, and in its place where nothing is.
    let mut own: Vec<&'static str> = clause.examples.clone();
    chance.shuffle(&mut own);
    let (first, rest) = own.split_at(own.len().min(usize::from(chance.u8(..3) == 0)));
    for print in first {
        if let Some(item) = look(print) {
            return Some(item);
        }
    }
    // Words with the letters of a sign that the clause is about; any, where it is about none.
    let prints: Vec<&str> = signs_of(clause).map(|sign| sign.print).collect();
    let with = |word: &&String| prints.is_empty() || prints.iter().any(|print| word.contains(print));
    let likely: Vec<&String> = words.iter().filter(with).collect();
    for _ in 0..LOOKED_AT.0.min(likely.len()) {
        let word = likely[chance.usize(..likely.len())];
        if let Some(item) = look(word) {
            return Some(item);
        }
    }
    let allowed = |key: &str| units::unit_of(key).is_some_and(|of| of <= unit);
    let choice = Choice { contracted: true, allowed: &allowed, wanted: &[] };
    for _ in 0..LOOKED_AT.1 {
        let sentence = supply.sentence_of(&choice, chance);
        if let Some(item) = sentence.and_then(|(print, _)| look(&print)) {
            return Some(item);
        }
    }
    for print in rest {
        if let Some(item) = look(print) {
            return Some(item);
        }
    }
    second
}

/// A line of the units up to `unit` to write, that turns on a clause, of signs that may stand in it; never the `last` one.
pub fn line(
    supply: &Supply,
    unit: usize,
    clause: &Clause,
    may_stand: &dyn Fn(&str) -> bool,
    last: Option<&str>,
    chance: &mut fastrand::Rng,
) -> Option<Line> {
    let made = |print: &str, turns: bool| {
        let explained = ueb::explain(print, &lines::options(print, true));
        let by = |section: &str| of(section).is_some_and(|of| of.section == clause.section);
        let turns = turns || explained.signs.iter().any(|used| by(used.section));
        let stands = || {
            supply::signs_of(&explained.cells, true)
                .is_some_and(|signs| signs.iter().all(|key| may_stand(key)))
        };
        (turns && Some(print) != last && stands()).then(|| Line {
            print: print.to_owned(),
            cells: explained.cells,
            contracted: true,
        })
    };
    let allowed = |key: &str| units::unit_of(key).is_some_and(|of| of <= unit) && may_stand(key);
    let wanted: Vec<&'static str> = signs_of(clause).map(|sign| sign.key).collect();
    let choice = Choice { contracted: true, allowed: &allowed, wanted: &wanted };
    let mut own = clause.examples.clone();
    chance.shuffle(&mut own);
    let fits = |print: &str| level_of_line(print, true) <= unit;
    let mut own = own.into_iter().filter(|print| fits(print)).filter_map(|print| made(print, true));
    if chance.bool()
        && let Some(line) = own.next()
    {
        return Some(line);
    }
    for _ in 0..12 {
        let sentence = supply.sentence_of(&choice, chance);
        if let Some(line) = sentence.and_then(|(print, _)| made(&print, false)) {
            return Some(line);
        }
    }
    own.next()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::supply::tests::shipped;
    use std::collections::{BTreeMap, HashSet};

    #[test]
    #[ignore = "what there is to make a table of: cargo test --lib what_turns_on -- --ignored --nocapture"]
    fn what_turns_on_which_clause() {
        let supply = shipped();
        let mut count: BTreeMap<&str, (u32, u32, String)> = BTreeMap::new();
        let mut note = |item: &Item| {
            for (_, _, section) in &item.used {
                count.entry(section).or_default().0 += 1;
            }
            for passed in &item.passed {
                let at = count.entry(passed.section).or_default();
                at.1 += 1;
                at.2 = format!("{}: {}", item.word, passed.why);
            }
        };
        for word in supply.words() {
            note(&rules::item(word));
        }
        println!("words: {count:#?}");
        let mut chance = fastrand::Rng::with_seed(1);
        let mut signs: BTreeMap<&str, u32> = BTreeMap::new();
        for _ in 0..6_000 {
            if let Some(line) = supply.sentence(29, true, &[], &mut chance) {
                for used in ueb::explain(&line, &lines::options(&line, true)).signs {
                    *signs.entry(used.section).or_default() += 1;
                }
            }
        }
        println!("sentences: {signs:?}");
    }

    /// Every rule of unit 11 on, and those of unit 30, can be asked, each time on something else.
    #[test]
    fn every_clause_is_asked_on_new_words() {
        let supply = shipped();
        let mut chance = fastrand::Rng::with_seed(8);
        let last = units::units().len() - 1;
        let mut wrong = Vec::new();
        for clause in clauses::all() {
            let mut prints = HashSet::new();
            let mut before: Option<String> = None;
            for _ in 0..6 {
                let print = match clause.how {
                    How::Apart => item(&supply, last, clause, before.as_deref(), &mut chance).map(|item| {
                        let (used, passed) = turns(&item, clause.section);
                        assert!(used || passed, "{}: {}", clause.section, item.word);
                        item.word
                    }),
                    How::Written => line(&supply, last, clause, &|_| true, before.as_deref(), &mut chance)
                        .map(|line| line.print),
                };
                let Some(print) = print else { break };
                assert_ne!(Some(&print), before.as_ref());
                before = Some(print.clone());
                prints.insert(print);
            }
            if prints.len() < 2 {
                wrong.push(format!("{}: {prints:?}", clause.section));
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }

    /// What may not stand in a line, since it was never shown, does not, and what turns on a clause without it still comes.
    #[test]
    fn a_line_has_only_signs_that_may_stand_in_it() {
        let supply = shipped();
        let mut chance = fastrand::Rng::with_seed(10);
        let last = units::units().len() - 1;
        let clause = clauses::all().iter().find(|clause| clause.section == "9.2").unwrap();
        let mut draw = |barred: &str| -> Vec<bool> {
            let lines =
                (0..40).filter_map(|_| line(&supply, last, clause, &|key| key != barred, None, &mut chance));
            let signs = lines.map(|line| supply::signs_of(&line.cells, true).unwrap());
            signs.map(|signs| signs.contains(&"italic symbol indicator")).collect()
        };
        assert!(draw("").contains(&true));
        let without = draw("italic symbol indicator");
        assert!(!without.is_empty() && !without.contains(&true), "{without:?}");
    }

    #[test]
    fn there_is_a_word_for_every_unit_with_contractions() {
        let supply = shipped();
        let mut chance = fastrand::Rng::with_seed(9);
        let first = units::units().iter().position(|unit| unit.id == "strong-r").unwrap();
        for unit in first..units::units().len() {
            let item = next(&supply, unit, &[], None, &mut chance).expect("a word");
            assert!(level_of_line(&item.word, true) <= unit);
            let own: Vec<String> = item.used.iter().map(|(letters, _, _)| letters.clone()).collect();
            let own = if own.is_empty() { "none".to_owned() } else { own.join(" ") };
            assert!(rules::judge(&item, &own), "{item:?}");
            for passed in &item.passed {
                let reasons = rules::reasons(&item.word, passed, &mut chance);
                assert_eq!(reasons.iter().filter(|why| **why == passed.why).count(), 1);
                assert!(reasons.len() >= 3);
            }
        }
    }

    #[test]
    fn words_for_a_cause_turn_on_its_signs() {
        let supply = shipped();
        let mut chance = fastrand::Rng::with_seed(12);
        let last = units::units().len() - 1;
        for wanted in ["groupsign st", "groupsign ea", "groupsign con", "wordsign but"] {
            let turns = |item: &Item| {
                item.used.iter().any(|(_, sign, _)| *sign == wanted)
                    || item.passed.iter().any(|passed| passed.sign == wanted)
            };
            for _ in 0..6 {
                let item = next(&supply, last, &[wanted], None, &mut chance);
                assert!(item.as_ref().is_some_and(turns), "{wanted}: {item:?}");
            }
        }
    }
}
