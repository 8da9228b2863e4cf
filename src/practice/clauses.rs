//! The clauses of the rules that are practised: each has a memory of its own, and comes back on new words until it is kept.
//!
//! The record holds an answer about a clause under the key "rule 10.6.5"; a mistake whose cause is "rule 10.6.5", or "rule" at a
//! sign, makes its clause due.

use std::sync::OnceLock;

use super::units;
use crate::ueb::register;

/// How a clause is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Print is taken apart: which letters are contracted, and why not the others.
    Apart,
    /// A line is written.
    Written,
}

/// A clause that is practised.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clause {
    /// Its section, "10.6.5".
    pub section: &'static str,
    /// The unit that teaches it, by its place from 0.
    pub unit: usize,
    /// How it is asked.
    pub how: How,
    /// Print that turns on it, beside the words and sentences at hand.
    pub examples: Vec<&'static str>,
}

/// The clauses, in the order in which the course teaches them.
pub fn all() -> &'static [Clause] {
    static CLAUSES: OnceLock<Vec<Clause>> = OnceLock::new();
    CLAUSES.get_or_init(|| {
        let lines = include_str!("clauses.tsv").lines().filter(|line| !line.starts_with('#'));
        let clause = |line: &'static str| {
            let mut fields = line.split('\t');
            let (section, unit, how) = (fields.next()?, fields.next()?, fields.next()?);
            let examples = fields.next().into_iter().flat_map(|list| list.split(" | "));
            Some(Clause {
                section,
                unit: units::units().iter().position(|one| one.id == unit)?,
                how: if how == "apart" { How::Apart } else { How::Written },
                examples: examples.filter(|print| !print.is_empty()).collect(),
            })
        };
        lines.filter_map(clause).collect()
    })
}

/// The clause of a section: itself, the nearest one that it is part of, or the first that is part of it.
pub fn of(section: &str) -> Option<&'static Clause> {
    let within = |part: &str, whole: &str| {
        part.strip_prefix(whole).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'))
    };
    let above = all().iter().filter(|clause| within(section, clause.section));
    let above = above.max_by_key(|clause| clause.section.len());
    above.or_else(|| all().iter().find(|clause| within(clause.section, section)))
}

/// The key under which the record holds a clause.
pub fn key(section: &str) -> String {
    format!("rule {section}")
}

/// The cause of a mistake as the record has it, "eye", "hand" or "rule": a rule's with its clause, where that is known.
pub fn cause(cause: &str, section: &str) -> String {
    if cause == "rule" && of(section).is_some() { key(section) } else { cause.to_owned() }
}

/// The clause that an answer is about, by the sign's key or the cause of the mistake; `None` where it is about none.
pub fn about(sign: &str, cause: &str) -> Option<&'static Clause> {
    let told = sign.strip_prefix("rule ").or_else(|| cause.strip_prefix("rule ")).and_then(of);
    told.or_else(|| of(register::by_key(sign)?.section))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::HashSet;

    #[test]
    fn every_clause_has_its_place_and_the_nearest_is_found() {
        let mut seen = HashSet::new();
        for clause in all() {
            assert!(seen.insert(clause.section), "{} stands twice", clause.section);
        }
        assert!(all().is_sorted_by_key(|clause| clause.unit), "in the order of the course");
        let section = |of: Option<&Clause>| of.map(|clause| clause.section).unwrap_or_default().to_owned();
        assert_eq!(section(of("10.6.5")), "10.6.5");
        assert_eq!(section(of("8.4.2")), "8.4");
        assert!(section(of("10.6")).starts_with("10.6."));
        assert_eq!(of("99"), None);
        assert_eq!(section(about("groupsign ea", "rule")), "10.6.5");
        assert_eq!(section(about("groupsign ea", "rule 10.11.4")), "10.11.4");
        assert_eq!(section(about("rule 10.4.3", "")), "10.4.3");
        // Every contraction and the everyday indicators have a clause.
        for key in units::units().iter().flat_map(|unit| &unit.signs) {
            let sign = register::by_key(key).unwrap();
            let wants = sign.class.is_contraction()
                || ["5.2", "5.3", "5.6", "6.1", "8.3", "8.4", "8.5", "9.2", "9.3", "9.4"]
                    .contains(&sign.section);
            assert!(!wants || about(key, "rule").is_some(), "{key}: {}", sign.section);
        }
    }

    /// The rules that the lessons of unit 11 on tell are all practised, but for those that no line of plain print turns on: a
    /// grade 1 passage, a numeric space, whether a change of type means something, and the division of words.
    #[test]
    fn the_rules_of_the_lessons_are_practised() {
        let mut missing = Vec::new();
        for lesson in &crate::practice::lesson::lessons()[10..] {
            for (section, says) in &lesson.rules {
                if of(section).is_none() && !["5.4.1", "6.6.1", "9.1.2", "10.13.1"].contains(section) {
                    missing.push(format!("{}: {section} {says}", lesson.unit));
                }
            }
        }
        assert!(missing.is_empty(), "{}", missing.join("\n"));
    }
}
