//! The course: units in order, read from `units.txt`.

use std::sync::OnceLock;

/// One unit of the course.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unit {
    /// A name that stays the same from build to build.
    pub id: &'static str,
    /// Its title.
    pub title: &'static str,
    /// The units it builds on, by id.
    pub builds_on: Vec<&'static str>,
    /// The sections of the standard it is about.
    pub sections: Vec<&'static str>,
    /// The keys of its signs; empty for a unit of rules alone.
    pub signs: Vec<&'static str>,
    /// A short explanation.
    pub about: &'static str,
    /// Print to try it on.
    pub examples: Vec<&'static str>,
    /// The examples in braille ASCII, where that is not the print itself.
    braille: Vec<&'static str>,
}

impl Unit {
    /// An example, by its place, and its braille ASCII.
    pub fn example(&self, place: usize) -> Option<(&'static str, &'static str)> {
        let print = *self.examples.get(place)?;
        Some((print, self.braille.get(place).copied().unwrap_or(print)))
    }
}

/// The course.
const TEXT: &str = include_str!("units.txt");

/// The units, in the order of the course.
pub fn units() -> &'static [Unit] {
    static COURSE: OnceLock<Vec<Unit>> = OnceLock::new();
    COURSE.get_or_init(|| {
        let mut units: Vec<Unit> = Vec::new();
        for line in TEXT.lines() {
            let Some((head, text)) = line.split_once(": ").or_else(|| line.split_once(':')) else { continue };
            let list =
                || text.split(" | ").map(str::trim).filter(|item| !item.is_empty()).collect::<Vec<_>>();
            if head == "unit" {
                units.push(Unit {
                    id: text,
                    title: "",
                    builds_on: Vec::new(),
                    sections: Vec::new(),
                    signs: Vec::new(),
                    about: "",
                    examples: Vec::new(),
                    braille: Vec::new(),
                });
            }
            let Some(unit) = units.last_mut() else { continue };
            match head {
                "title" => unit.title = text,
                "builds on" => unit.builds_on = list(),
                "sections" => unit.sections = list(),
                "signs" => unit.signs = list(),
                "about" => unit.about = text,
                "examples" => unit.examples = list(),
                "braille" => unit.braille = list(),
                _ => {}
            }
        }
        units
    })
}

/// The place in the course of the unit that teaches this sign, from 0; `None` when none does.
pub fn unit_of(key: &str) -> Option<usize> {
    static PLACES: OnceLock<std::collections::HashMap<&'static str, usize>> = OnceLock::new();
    let places = PLACES.get_or_init(|| {
        units().iter().enumerate().flat_map(|(n, unit)| unit.signs.iter().map(move |key| (*key, n))).collect()
    });
    places.get(key).copied()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;
    use crate::ueb::{self, register};
    use std::collections::{HashMap, HashSet};

    /// How often each sign stands in running English (about 430,000 words; count_signs.py says how it was counted).
    fn occurrences() -> HashMap<&'static str, u32> {
        include_str!("counts.tsv")
            .lines()
            .filter_map(|line| line.split_once('\t'))
            .map(|(key, count)| (key, count.parse().expect("a count")))
            .collect()
    }

    /// The signs of sections 4 to 10 that no unit teaches, with the reason.
    fn left_out() -> Vec<(&'static str, &'static str)> {
        include_str!("left_out.tsv").lines().filter_map(|line| line.split_once('\t')).collect()
    }

    #[test]
    fn every_sign_of_sections_4_to_10_is_taught_once_or_left_out_with_a_reason() {
        let mut seen = HashSet::new();
        let taught = units().iter().flat_map(|unit| unit.signs.iter().copied());
        for key in taught.chain(left_out().iter().map(|(key, _)| *key)) {
            assert!(register::by_key(key).is_some(), "{key} is not in the register");
            assert!(seen.insert(key), "{key} stands twice");
        }
        for sign in register::signs() {
            let section: u32 = sign.section.split('.').next().and_then(|s| s.parse().ok()).unwrap_or(0);
            assert!(!(4..=10).contains(&section) || seen.contains(sign.key), "{} is nowhere", sign.key);
        }
        assert!(left_out().iter().all(|(_, why)| !why.is_empty()));
    }

    #[test]
    fn the_order_is_the_stated_one() {
        let counts = occurrences();
        let rate = |unit: &Unit| {
            let sum: u32 = unit.signs.iter().filter_map(|key| counts.get(key)).sum();
            f64::from(sum) / unit.signs.len().max(1) as f64
        };
        for (n, unit) in units().iter().enumerate() {
            let before: HashSet<&str> = units()[..n].iter().map(|unit| unit.id).collect();
            let ready = |unit: &Unit| unit.builds_on.iter().all(|id| before.contains(id));
            assert!(ready(unit), "{} comes before what it builds on", unit.id);
            for other in units()[n + 1..].iter().filter(|other| ready(other)) {
                assert!(rate(unit) >= rate(other), "{} should come before {}", other.id, unit.id);
            }
            assert!(!unit.title.is_empty() && !unit.about.is_empty() && !unit.sections.is_empty());
            assert!(!unit.examples.is_empty());
        }
    }

    /// The braille of the examples is what the engine writes (`cargo test --lib examples -- --nocapture` shows what is
    /// to stand there), with a sign of the unit and none of a later one.
    #[test]
    fn the_examples_have_their_braille_and_no_sign_of_a_later_unit() {
        let mut wrong = Vec::new();
        for (n, unit) in units().iter().enumerate() {
            let options = crate::practice::lesson::options(n);
            let mut own = 0;
            for print in &unit.examples {
                let signs = ueb::explain(print, &options).signs;
                let keys: Vec<&str> = signs.iter().map(|used| register::get(used.sign).key).collect();
                own += usize::from(keys.iter().any(|key| unit.signs.contains(key)));
                if keys.iter().any(|key| *key != "space" && unit_of(key).is_none_or(|of| of > n)) {
                    println!("{}: {print}: {keys:?}", unit.id);
                    wrong.push(unit.id);
                }
            }
            assert!(own >= 2 || unit.signs.is_empty(), "{}", unit.id);
            let asked: Vec<String> =
                unit.examples.iter().map(|print| cell::to_ascii(&ueb::transcribe(print, &options))).collect();
            let ready: Vec<&str> =
                (0..unit.examples.len()).filter_map(|n| Some(unit.example(n)?.1)).collect();
            if asked != ready {
                println!("{}\nbraille: {}", unit.id, asked.join(" | "));
                wrong.push(unit.id);
            }
        }
        assert!(wrong.is_empty(), "{wrong:?}");
    }
}
