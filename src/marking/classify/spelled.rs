//! Letters spelled with other signs: contractions that were missed, that a rule bars, or that UEB dropped, and what print
//! leaves open.

use std::ops::Range;

use super::{Judge, capital};
use crate::marking::Kind;
use crate::marking::expected::Unit;
use crate::marking::found::Cause;
use crate::marking::search::{Move, Op};
use crate::marking::shape::dots;
use crate::marking::spelling::{self, Entry};
use crate::ueb;
use crate::ueb::register::{self, Class, Sign, SignId};

impl Judge<'_> {
    /// Other signs that give the same print.
    pub(super) fn spelled(&self, units: &Range<usize>, written: &Range<usize>, moves: &[Move]) -> Cause {
        let entries: Vec<_> = moves
            .iter()
            .filter_map(|one| match one.op {
                Op::Spelled(number) => Some(spelling::entry(number)),
                _ => None,
            })
            .collect();
        let unit = &self.expected.units[units.start];
        let letters = self.expected.words(units);
        let letters = letters.trim();
        let correct = dots(&self.expected.cells[self.expected.cells_of(units)]);
        if let Some(old) = entries.iter().find(|entry| entry.sign.is_none()) {
            return self.dropped(units, written, old);
        }
        let make = |kind, sign, section, say| self.make(kind, units, written, sign, section, say);
        let contraction = |sign: &SignId| register::get(*sign).class.is_contraction();
        let asked: Vec<SignId> = self.expected.units[units.clone()]
            .iter()
            .filter_map(|unit| unit.sign)
            .filter(contraction)
            .collect();
        let used: Vec<SignId> = entries.iter().filter_map(|entry| entry.sign).filter(contraction).collect();
        let wanted = asked.iter().copied().find(|sign| !used.contains(sign)).or(asked.first().copied());
        let unwanted = used.iter().copied().find(|sign| !asked.contains(sign)).or(used.first().copied());
        if let Some((section, why)) = self.doubtful(units, &asked, &used) {
            let say = format!("{why} (section {section}): your call.");
            return make(Kind::YourCall, wanted.or(unwanted), section, say);
        }
        if let Some(wordsign) = unwanted.map(register::get).filter(|sign| self.within(units, sign)) {
            let say = format!(
                "{} for “{}” stands for the whole word only: write {correct}.",
                capital(&article(wordsign)),
                wordsign.print
            );
            return make(Kind::BarredContraction, Some(wordsign.id), wordsign.section, say);
        }
        match (wanted, unwanted) {
            (Some(wanted), None) => {
                let sign = register::get(wanted);
                let say = format!(
                    "“{}” has a sign of its own here, {} ({}): don’t spell it out.",
                    sign.print,
                    article(sign),
                    dots(&sign.cells)
                );
                make(Kind::MissedContraction, Some(wanted), self.section_of(units, wanted), say)
            }
            (None, Some(unwanted)) => self.barred(units, written, unwanted),
            (Some(wanted), Some(unwanted)) => {
                let (right, wrong) = (register::get(wanted), register::get(unwanted));
                let say = format!(
                    "In “{letters}” the sign for “{}” is to be used and not the one for “{}”: write {correct}.",
                    right.print, wrong.print
                );
                make(Kind::WrongContraction, Some(wanted), self.section_of(units, wanted), say)
            }
            (None, None) => {
                let say = format!(
                    "“{letters}” is written {correct} here, and not {}.",
                    dots(&self.flat.cells[written.clone()])
                );
                make(Kind::WrongSign, unit.sign, unit.section, say)
            }
        }
    }

    /// A sign that UEB dropped.
    fn dropped(&self, units: &Range<usize>, written: &Range<usize>, old: &Entry) -> Cause {
        let asked = &self.expected.cells[self.expected.cells_of(units)];
        let print: String = old.print.iter().collect();
        let say = format!(
            "UEB dropped the sign {} for “{}” (section {}): write {}.",
            dots(&old.cells),
            print.trim(),
            old.section,
            dots(asked)
        );
        // What stands there now, where it is a sign of its own.
        let own = &self.expected.units[units.clone()];
        let now = own.iter().find(|unit| unit.class().is_some_and(Class::is_contraction));
        let now = now.or(own.first().filter(|_| own.len() == 1));
        let sign = now.and_then(|unit| unit.sign);
        let mut cause = self.make(Kind::OlderSign, units, written, sign, old.section, say);
        if asked.len() > 1 && asked[0].is_prefix() && asked[1..] == old.cells {
            cause.finding.also.push(Kind::LostPrefix);
        }
        cause
    }

    /// A contraction that a rule bars here.
    fn barred(&self, units: &Range<usize>, written: &Range<usize>, unwanted: SignId) -> Cause {
        let sign = register::get(unwanted);
        let print = self.expected.print_of(units);
        let passed = self.expected.passed_over.iter().find(|passed| {
            passed.sign == unwanted && passed.print.start < print.end && print.start < passed.print.end
        });
        let why = passed.map_or(String::new(), |passed| format!(" ({})", passed.why));
        let say = format!(
            "{} for “{}” may not be used here{why}: write {}.",
            capital(&article(sign)),
            sign.print,
            dots(&self.expected.cells[self.expected.cells_of(units)])
        );
        let section = passed.map_or(sign.section, |passed| passed.section);
        self.make(Kind::BarredContraction, units, written, Some(unwanted), section, say)
    }

    /// Whether a wordsign stands for letters of a longer word.
    fn within(&self, units: &Range<usize>, sign: &Sign) -> bool {
        let wordsign =
            matches!(sign.class, Class::AlphabeticWordsign | Class::StrongWordsign | Class::LowerWordsign);
        let letter = |at: Option<&char>| at.is_some_and(|c| c.is_alphabetic());
        let print = self.expected.print_of(units);
        let letters = self.expected.print.get(print.clone()).unwrap_or_default();
        let before = print.start.checked_sub(1).and_then(|at| self.expected.print.get(at));
        let all = letters.iter().filter(|c| c.is_alphabetic()).count() > sign.print.chars().count();
        wordsign && (all || letter(before) || letter(self.expected.print.get(print.end)))
    }

    fn section_of(&self, units: &Range<usize>, sign: SignId) -> &'static str {
        let own = self.expected.units[units.clone()].iter().find(|unit| unit.sign == Some(sign));
        own.map_or(register::get(sign).section, |unit| unit.section)
    }

    /// Words whose contractions print alone does not decide: acronyms (10.12.1) and abbreviations (10.6.4).
    fn doubtful(
        &self,
        units: &Range<usize>,
        asked: &[SignId],
        used: &[SignId],
    ) -> Option<(&'static str, &'static str)> {
        if self.expected.open.nothing {
            return None;
        }
        let space = |unit: &Unit| unit.is_space();
        let all = &self.expected.units;
        // Words that this is asked of are short; endless ones are not walked through for each finding.
        let near = units.start.saturating_sub(60);
        let from = near + all[near..units.start].iter().rposition(space).map_or(0, |at| at + 1);
        let rest = &all[units.end..all.len().min(units.end + 60)];
        let to = units.end + rest.iter().position(space).unwrap_or(rest.len());
        let print = &self.expected.print[self.expected.print_of(&(from..to))];
        let letters: Vec<char> = print.iter().copied().filter(|c| c.is_alphabetic()).collect();
        let lower = |sign: &SignId| {
            matches!(register::get(*sign).key, "groupsign be" | "groupsign con" | "groupsign dis")
        };
        let short: String = letters.iter().flat_map(|c| c.to_lowercase()).collect();
        let only = asked.iter().chain(used).all(lower) && !(asked.is_empty() && used.is_empty());
        if only && ueb::may_be_shortened(&short) {
            return Some(("10.6.4", "Whether this is an abbreviation, and of which word, print doesn’t say"));
        }
        // Lower wordsigns depend on what the quotation marks beside them are (10.5), and those on the text around.
        let wordsign = |sign: &SignId| register::get(*sign).class == Class::LowerWordsign;
        let quoted = print.iter().any(|c| matches!(c, '“' | '‘' | '"' | '\'' | '’' | '”'));
        if quoted && asked.iter().chain(used).any(wordsign) {
            return Some(("10.5", "Beside these quotation marks print alone doesn’t decide"));
        }
        // No vowel: letters said one by one, or a word of its own.
        let vowel = |c: &char| "aeiouyAEIOUY".contains(*c);
        let contraction =
            asked.iter().chain(used).map(|sign| register::get(*sign).print.len()).max().unwrap_or(0);
        let plain = print.iter().all(|c| c.is_alphabetic() || *c == '.');
        if plain && letters.len() <= 4 && letters.len() > contraction && !letters.iter().any(vowel) {
            return Some(("10.12.1", "Whether these letters are said one by one, print doesn’t say"));
        }
        // All in capitals among other letters, or alone, and spelled out.
        let capitals = |letters: &[char]| letters.iter().filter(|c| c.is_uppercase()).count();
        let few = (2..=5).contains(&letters.len()) && capitals(&letters) > 1;
        (few && (used.is_empty() || asked.is_empty()))
            .then_some(("10.12.1", "Whether this is an acronym said letter by letter, print doesn’t say"))
    }
}

/// "the strong groupsign".
fn article(sign: &Sign) -> String {
    format!("the {}", sign.class.name())
}
