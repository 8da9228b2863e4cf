//! Rule drills: given a word, which of its letters are contracted, and why the others are not.

use crate::ueb::register::{self, Class};
use crate::ueb::{self, Options, PassedOver};

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
    /// The place of the first of them in the word, from 0.
    pub at: usize,
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
    let explained = ueb::explain(word, &Options { contracted: true, marks: false, ..Options::default() });
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
            at: print.start,
            sign: register::get(*sign).key,
            section,
            why,
        })
        .collect();
    Item { word: word.to_owned(), used, passed }
}

/// Whether an answer names the contractions of the word, in order: "th er" for another's letters, "none" for none.
pub fn judge(item: &Item, answer: &str) -> bool {
    let answer = answer.trim().to_lowercase();
    let named: Vec<&str> =
        answer.split([' ', ',']).filter(|part| !part.is_empty() && *part != "none").collect();
    let none = answer == "none" || answer == "0" || answer == "-";
    (none || !named.is_empty())
        && named
            .iter()
            .map(|part| (*part).to_owned())
            .eq(item.used.iter().map(|(letters, _, _)| letters.to_lowercase()))
}

/// A reason that the code gives for passing a contraction over, and when it plainly does not hold.
type Reason = (&'static str, fn(&Look) -> bool);

/// What is looked at to tell that a reason does not hold.
struct Look<'a> {
    letters: &'a str,
    before: Option<char>,
    after: Option<char>,
    class: Class,
}

impl Look<'_> {
    fn inside(&self) -> bool {
        let letter = |c: Option<char>| c.is_some_and(char::is_alphabetic);
        letter(self.before) && letter(self.after)
    }
}

/// The reasons of the code, each with what plainly rules it out: so a word has one true answer among those offered. What only
/// the ear or the sense can tell is offered where the letters cannot have it.
const REASONS: &[Reason] = &[
    ("the h is sounded", |look| !look.letters.contains('h')),
    ("only between letters", |look| look.inside()),
    ("only at the beginning of a word", |look| look.before.is_none()),
    ("not at the beginning of a word", |look| look.before.is_some()),
    ("only after a letter", |look| look.before.is_some_and(char::is_alphabetic)),
    ("would be read as enough", |look| look.letters != "en"),
    ("would be read as a word", |look| look.inside()),
    ("the a is not short", |look| !look.letters.contains('a')),
    ("follows e or i", |look| look.letters != "ever"),
    ("follows o", |look| look.before != Some('o')),
    ("follows a or o", |look| !matches!(look.before, Some('a' | 'o'))),
    ("un is a prefix here", |look| look.letters != "under"),
    ("the stress is not on the first e", |look| look.letters != "ever"),
    ("is not said like the word time", |look| look.letters != "time"),
    ("is not a syllable of the basic word", |look| look.letters != "some"),
    ("the ending is ess", |look| look.letters != "ness"),
    ("the y is a suffix", |look| look.letters != "ity"),
    ("a vowel or y follows", |look| !matches!(look.after, Some('a' | 'e' | 'i' | 'o' | 'u' | 'y'))),
    ("the word is not on the Shortforms List", |look| look.class != Class::Shortform),
    ("an indicator stands within the letters", |look| look.letters.chars().all(char::is_lowercase)),
];

/// The reasons to choose from for a contraction that is passed over in a word: the true one and up to three that plainly do not
/// hold there, drawn alike.
pub fn reasons(word: &str, passed: &Passed, chance: &mut fastrand::Rng) -> Vec<&'static str> {
    let characters: Vec<char> = word.to_lowercase().chars().collect();
    let look = Look {
        letters: &passed.letters,
        before: passed.at.checked_sub(1).and_then(|at| characters.get(at).copied()),
        after: characters.get(passed.at + passed.letters.chars().count()).copied(),
        class: register::by_key(passed.sign).map_or(Class::Letter, |sign| sign.class),
    };
    let mut offers: Vec<&'static str> = REASONS
        .iter()
        .filter(|(why, ruled_out)| *why != passed.why && ruled_out(&look))
        .map(|(why, _)| *why)
        .collect();
    chance.shuffle(&mut offers);
    offers.truncate(3);
    offers.push(passed.why);
    chance.shuffle(&mut offers);
    offers
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
            reasons("another", &another.passed[0], &mut fastrand::Rng::with_seed(2))
                .contains(&another.passed[0].why)
        );
        assert!(judge(&item("motherhood"), "mother"));
    }

    /// Each reason is one that the code gives for some word, and no offer holds of a word that the code gives it for.
    #[test]
    fn one_true_answer_among_the_reasons() {
        let supply = super::super::supply::tests::shipped();
        let mut chance = fastrand::Rng::with_seed(3);
        let print = super::super::clauses::all().iter().flat_map(|clause| clause.examples.iter().copied());
        let words = supply.words().iter().step_by(3).map(String::as_str).chain(print);
        let mut offered = std::collections::HashMap::new();
        let mut asked = 0;
        for word in words {
            let item = item(word);
            for passed in &item.passed {
                let reasons = reasons(word, passed, &mut chance);
                assert_eq!(reasons.len(), 4, "{word}: {reasons:?}");
                asked += 1;
                for why in reasons {
                    // No other contraction of the same letters at the same place is passed over for it.
                    let holds =
                        |one: &Passed| one.at == passed.at && one.letters == passed.letters && one.why == why;
                    assert!(why == passed.why || !item.passed.iter().any(holds), "{word}: {why}");
                    *offered.entry(why).or_insert(0) += u32::from(why != passed.why);
                }
            }
        }
        // All alike: none is offered in more than every fourth question.
        assert!(
            asked > 300 && REASONS.iter().all(|(why, _)| offered.get(why).copied().unwrap_or(0) > 0),
            "{offered:?}"
        );
        assert!(offered.values().all(|times| *times * 3 < asked), "{asked}: {offered:?}");
    }
}
