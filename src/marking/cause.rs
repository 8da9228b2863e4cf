//! Eye, hand or rule: after a mistake one short question tells which of the three failed.

use super::shape::dots;
use super::{Finding, Kind};
use crate::cell::Cell;
use crate::ueb::SignId;
use crate::ueb::register::{self, Class, Sign};

/// What a mistake is booked to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Booked {
    /// The sign was not known: the eye.
    Recognition,
    /// The sign was known and the fingers slipped: the hand.
    Fingers,
    /// The sign was known and the rule was not.
    Rule,
}

impl Booked {
    /// All three.
    pub const ALL: [Booked; 3] = [Booked::Recognition, Booked::Fingers, Booked::Rule];

    /// Its name in stored data and on the page: "eye", "hand" or "rule".
    pub fn name(self) -> &'static str {
        match self {
            Booked::Recognition => "eye",
            Booked::Fingers => "hand",
            Booked::Rule => "rule",
        }
    }

    /// What it means for practice, in one sentence.
    pub fn advice(self) -> &'static str {
        match self {
            Booked::Recognition => "The sign itself is not safe yet: practise it alone, both ways.",
            Booked::Fingers => {
                "You know the sign and the rule; the fingers slipped: write it slowly a few times."
            }
            Booked::Rule => {
                "The sign is known, the rule is not: read it once more and practise words that turn on it."
            }
        }
    }
}

/// The one thing more that is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FollowUp {
    /// The sign alone, to read.
    Read(SignId),
    /// The sign alone, to write.
    Write(SignId),
    /// Which rule holds: the section asked for here.
    Rule(SignId, &'static str),
}

impl FollowUp {
    /// The sign it is about.
    pub fn sign(&self) -> &'static Sign {
        match *self {
            FollowUp::Read(sign) | FollowUp::Write(sign) | FollowUp::Rule(sign, _) => register::get(sign),
        }
    }
}

/// What to ask after a finding; nothing where it has no sign, or where nothing can be learnt by asking.
/// `read` says whether the mistake was made in reading.
pub fn follow_up(finding: &Finding, read: bool) -> Option<FollowUp> {
    let sign = finding.sign?;
    Some(match finding.kind {
        Kind::YourCall | Kind::LeftOut | Kind::Added | Kind::WordOrder | Kind::Spacing => return None,
        Kind::MissingIndicator
        | Kind::ExtraIndicator
        | Kind::WrongIndicator
        | Kind::MissedContraction
        | Kind::BarredContraction
        | Kind::WrongContraction
        | Kind::OlderSign => FollowUp::Rule(sign, finding.section),
        _ if read => FollowUp::Write(sign),
        _ => FollowUp::Read(sign),
    })
}

/// What the mistake is booked to, by the answer: who reads or writes the sign alone and got it wrong in the text slipped
/// with the fingers; so did who knows the rule and broke it.
pub fn book(asked: &FollowUp, right: bool) -> Booked {
    match (asked, right) {
        (_, true) => Booked::Fingers,
        (FollowUp::Rule(..), false) => Booked::Rule,
        (FollowUp::Read(_) | FollowUp::Write(_), false) => Booked::Recognition,
    }
}

/// A question with a few answers, one of them right.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// What it is about.
    pub about: FollowUp,
    /// What is asked.
    pub ask: String,
    /// The cells to look at; empty where there are none.
    pub cells: Vec<Cell>,
    /// The answers.
    pub answers: Vec<String>,
    /// The right one, by its place.
    pub right: usize,
}

/// The question that goes with a follow-up; `None` where no wrong answers can be found that are worth asking.
pub fn question(about: FollowUp) -> Option<Question> {
    let (ask, cells, right, others) = match about {
        FollowUp::Read(sign) => {
            let sign = register::get(sign);
            let others = alike(sign).into_iter().map(says).collect();
            ("What is this sign?".to_owned(), sign.cells.clone(), says(sign), others)
        }
        FollowUp::Write(sign) => {
            let sign = register::get(sign);
            let others = alike(sign).into_iter().map(|other| dots(&other.cells)).collect();
            (format!("How is this written: {}?", says(sign)), Vec::new(), dots(&sign.cells), others)
        }
        FollowUp::Rule(_, section) => {
            let right = rule(section)?;
            ("Which rule holds here?".to_owned(), Vec::new(), right.to_owned(), other_rules(section, right))
        }
    };
    let mut answers: Vec<String> = Vec::new();
    for other in others {
        if other != right && !answers.contains(&other) && answers.len() < 3 {
            answers.push(other);
        }
    }
    if answers.is_empty() {
        return None;
    }
    // The right answer has no place of its own.
    let place = right.bytes().map(usize::from).sum::<usize>() % (answers.len() + 1);
    answers.insert(place, right);
    Some(Question { about, ask, cells, answers, right: place })
}

/// A sign in words: its print, or its name where it has none, and what it is where the print alone could be several.
fn says(sign: &Sign) -> String {
    match sign.class {
        Class::Indicator | Class::Terminator | Class::Punctuation | Class::Symbol => sign.name.to_owned(),
        _ if sign.print.is_empty() => sign.name.to_owned(),
        class => format!("{}, {}", sign.print, class.name()),
    }
}

/// Signs of running text that look like this one: mirrored first, then shifted, then one dot apart.
fn alike(sign: &Sign) -> Vec<&'static Sign> {
    let common = |other: &&Sign| {
        other.cells.len() == sign.cells.len()
            && !matches!(other.class, Class::Technical | Class::Modifier | Class::Greek | Class::Space)
            && (other.class.is_contraction() || other.print.chars().count() <= 1)
    };
    let mut found: Vec<(usize, &'static Sign)> = register::signs()
        .iter()
        .filter(common)
        .filter_map(|other| {
            let mut differ = sign.cells.iter().zip(&other.cells).filter(|(a, b)| a != b);
            let (&a, &b) = differ.next()?;
            if differ.next().is_some() {
                return None;
            }
            let near = match super::shape::shapes(a, b).first() {
                Some(Kind::Mirrored) => 0,
                Some(Kind::Shifted) => 1,
                Some(_) => 2,
                None => 3,
            };
            // Of the same class rather than of another.
            Some((near * 2 + usize::from(other.class != sign.class), other))
        })
        .collect();
    found.sort_by_key(|(near, _)| *near);
    // One sign for each shape: two meanings of the same cells can't be told apart by looking.
    let mut shapes: Vec<&[Cell]> = vec![&sign.cells];
    found.retain(|(_, other)| {
        let new = !shapes.contains(&other.cells.as_slice());
        shapes.push(&other.cells);
        new
    });
    found.into_iter().map(|(_, other)| other).collect()
}

fn rules() -> impl Iterator<Item = (&'static str, &'static str)> {
    include_str!("rules.tsv")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| line.split_once('\t'))
}

/// What holds at a section, in one sentence.
pub fn rule(section: &str) -> Option<&'static str> {
    let within =
        |rule: &str| section.strip_prefix(rule).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'));
    rules().filter(|(rule, _)| within(rule)).max_by_key(|(rule, _)| rule.len()).map(|(_, say)| say)
}

/// Other rules, those of the same chapter first.
fn other_rules(section: &str, right: &str) -> Vec<String> {
    let chapter = |section: &str| section.split('.').next().unwrap_or_default().to_owned();
    let own = chapter(section);
    let all: Vec<_> = rules().filter(|(_, say)| *say != right).collect();
    let start = right.len() % all.len().max(1);
    let turned = || all[start..].iter().chain(&all[..start]);
    let near = turned().filter(|(rule, _)| chapter(rule) == own);
    let far = turned().filter(|(rule, _)| chapter(rule) != own);
    near.chain(far).map(|(_, say)| (*say).to_owned()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;
    use crate::marking::mark_print;
    use crate::ueb::Options;

    fn asked(print: &str, braille: &str) -> Option<FollowUp> {
        let lines = [cell::from_ascii(braille).unwrap()];
        let marked = mark_print(print, &lines, &Options::default());
        follow_up(marked.findings.first()?, false)
    }

    #[test]
    fn shapes_ask_for_the_sign_and_contractions_for_the_rule() {
        // e written as i (mirrored); st spelled out (10.4); a blank left out.
        assert!(
            matches!(asked("met", "mit"), Some(FollowUp::Read(sign)) if register::get(sign).key == "letter e")
        );
        assert!(
            matches!(asked("stop", "stop"), Some(FollowUp::Rule(_, section)) if section.starts_with("10.4"))
        );
        assert_eq!(asked("we go up", "wego up"), None);
        let about = asked("met", "mit").unwrap();
        assert_eq!((book(&about, true), book(&about, false)), (Booked::Fingers, Booked::Recognition));
        let about = asked("stop", "stop").unwrap();
        assert_eq!((book(&about, true), book(&about, false)), (Booked::Fingers, Booked::Rule));
    }

    #[test]
    fn every_question_has_one_right_answer_among_others() {
        for sign in register::signs().iter().filter(|sign| sign.class.is_contraction()) {
            for about in
                [FollowUp::Read(sign.id), FollowUp::Write(sign.id), FollowUp::Rule(sign.id, sign.section)]
            {
                let Some(question) = question(about) else { continue };
                assert!((2..=4).contains(&question.answers.len()), "{question:?}");
                let right = &question.answers[question.right];
                assert_eq!(question.answers.iter().filter(|answer| *answer == right).count(), 1);
            }
            assert!(question(FollowUp::Rule(sign.id, sign.section)).is_some(), "{}", sign.section);
        }
        let e = register::by_key("letter e").unwrap();
        let asked = question(FollowUp::Read(e.id)).unwrap();
        assert_eq!(asked.answers[asked.right], "e, letter");
        assert!(asked.answers.contains(&"i, letter".to_owned()), "{asked:?}");
    }
}
