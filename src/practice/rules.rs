//! Rule drills: given a word, which of its letters are contracted, and why the others are not.

use super::supply::{Supply, level_of_line};
use crate::ueb::{self, Options, PassedOver, register};

/// A word to take apart.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// The word.
    pub word: String,
    /// The contractions in it, in order: the letters, the sign's key and the section.
    pub used: Vec<(String, &'static str, &'static str)>,
    /// The contractions whose letters stand in it and that are not used.
    pub passed: Vec<Passed>,
}

/// A contraction that is not used, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Passed {
    /// Its letters.
    pub letters: String,
    /// The sign's key.
    pub sign: &'static str,
    /// The section.
    pub section: &'static str,
    /// The reason in a few words.
    pub why: &'static str,
}

fn letters(word: &[char], range: &std::ops::Range<usize>) -> String {
    word.get(range.clone()).map(|letters| letters.iter().collect()).unwrap_or_default()
}

/// A word taken apart by the rules.
pub fn item(word: &str) -> Item {
    let explained = ueb::explain(word, &Options { contracted: true, marks: false });
    let characters: Vec<char> = word.chars().collect();
    let used = explained
        .signs
        .iter()
        .map(|used| (used, register::get(used.sign)))
        .filter(|(_, sign)| sign.class.is_contraction())
        .map(|(used, sign)| (letters(&characters, &used.print), sign.key, used.section))
        .collect();
    let passed = explained
        .passed_over
        .iter()
        .map(|PassedOver { sign, print, section, why }| Passed {
            letters: letters(&characters, print),
            sign: register::get(*sign).key,
            section,
            why,
        })
        .collect();
    Item { word: word.to_owned(), used, passed }
}

/// A word of the units up to `unit` in which a contraction is passed over; failing that, one with a contraction.
/// With signs that are `wanted`, only words that turn on one of them. `None` when there is neither.
pub fn next(
    supply: &Supply,
    unit: usize,
    wanted: &[&str],
    last: Option<&str>,
    chance: &mut fastrand::Rng,
) -> Option<Item> {
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
        let item = item(word);
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

/// Whether an answer names the contractions of the word, in order: "th er" for another's letters, "none" for none.
pub fn judge(item: &Item, answer: &str) -> bool {
    let answer = answer.trim().to_lowercase();
    let named: Vec<&str> =
        answer.split([' ', ',']).filter(|part| !part.is_empty() && *part != "none").collect();
    let none = answer == "none" || answer == "0" || answer == "-";
    (none || !named.is_empty())
        && named.iter().copied().eq(item.used.iter().map(|(letters, _, _)| letters.as_str()))
}

/// The reasons to choose from for a contraction that is passed over: the true one and up to three that hold elsewhere.
pub fn reasons(passed: &Passed, chance: &mut fastrand::Rng) -> Vec<&'static str> {
    // Reasons that stand in the rules for some word; one that means the same as the true one would be unfair.
    const OTHERS: [&str; 8] = [
        "another sign takes fewer cells",
        "would bridge the parts of a compound word",
        "would bridge a prefix and the rest of the word",
        "the h is sounded",
        "only between letters",
        "not the first syllable of the word",
        "stands for a whole word only",
        "is not said as one syllable",
    ];
    let bridges = |why: &str| why.contains("bridge") || why.contains("syllable");
    let mut others: Vec<&'static str> = OTHERS
        .into_iter()
        .filter(|why| *why != passed.why && !(bridges(why) && bridges(passed.why)))
        .collect();
    chance.shuffle(&mut others);
    others.truncate(3);
    others.push(passed.why);
    chance.shuffle(&mut others);
    others
}

/// The parts of a word as the rules write it, "m-i-s-h-a-p" with contracted letters together: "an-o-the-r".
pub fn taken_apart(item: &Item) -> String {
    let mut out = Vec::new();
    let mut rest = item.word.as_str();
    for (letters, _, _) in &item.used {
        let Some(at) = rest.find(letters.as_str()) else { break };
        out.extend(rest[..at].chars().map(String::from));
        out.push(format!("[{letters}]"));
        rest = &rest[at + letters.len()..];
    }
    out.extend(rest.chars().map(String::from));
    out.join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    // 10.11.2 (h sounded), 10.10.2 (fewest cells), 10.8.3 (y a suffix).
    #[test]
    fn words_are_taken_apart_as_the_standard_does() {
        let mishap = item("mishap");
        assert!(judge(&mishap, "none") && !judge(&mishap, "sh") && !judge(&mishap, ""));
        assert_eq!(mishap.passed[0].letters, "sh");
        assert_eq!(mishap.passed[0].section, "10.11.2");
        let another = item("another");
        assert!(judge(&another, "the") && judge(&another, " THE ") && !judge(&another, "th er"));
        assert_eq!(taken_apart(&another), "a n o [the] r");
        assert!(
            reasons(&another.passed[0], &mut fastrand::Rng::with_seed(2)).contains(&another.passed[0].why)
        );
        assert!(judge(&item("motherhood"), "mother"));
    }

    #[test]
    fn there_is_a_word_for_every_unit_with_contractions() {
        let supply = super::super::supply::tests::shipped();
        let mut chance = fastrand::Rng::with_seed(9);
        let first = super::super::units::units().iter().position(|unit| unit.id == "strong-r").unwrap();
        for unit in first..super::super::units::units().len() {
            let item = next(&supply, unit, &[], None, &mut chance).expect("a word");
            assert!(level_of_line(&item.word, true) <= unit);
            let own: Vec<String> = item.used.iter().map(|(letters, _, _)| letters.clone()).collect();
            assert!(judge(&item, if own.is_empty() { "none".to_owned() } else { own.join(" ") }.as_str()));
            for passed in &item.passed {
                let reasons = reasons(passed, &mut chance);
                assert_eq!(reasons.iter().filter(|why| **why == passed.why).count(), 1);
                assert!(reasons.len() >= 3);
            }
        }
    }

    #[test]
    fn words_for_a_cause_turn_on_its_signs() {
        let supply = super::super::supply::tests::shipped();
        let mut chance = fastrand::Rng::with_seed(12);
        let last = super::super::units::units().len() - 1;
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
