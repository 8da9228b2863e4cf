//! A round: items one by one, signs or lines, each answered once. All of it that has to last, so that a page that is closed
//! in the middle goes on at the same item with the same answer half typed.

use serde::{Deserialize, Serialize};

use super::{Exercise, Item, Task, draw};
use crate::cell::{self, Cell};
use crate::marking::{self, Finding, Marked};
use crate::practice::drill::{self, Judged};
use crate::practice::record::Direction;
use crate::ueb::{self, Options, register};

/// How one item was answered.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Answered {
    /// The line, or the sign's key.
    pub asked: String,
    /// What was answered: print, or dot numbers with a space between cells.
    pub answer: String,
    /// Whether it was right.
    pub right: bool,
    /// Whether a clue was looked at first.
    pub clue: bool,
}

impl Answered {
    /// Whether it counts: right, and without a clue.
    pub fn counts(&self) -> bool {
        self.right && !self.clue
    }
}

/// A round as far as it has gone.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Round {
    /// What the order of its items comes from, where they are shuffled.
    seed: u64,
    /// The items that are answered.
    pub done: Vec<Answered>,
    /// What was said of the last answer, as long as it is looked at.
    pub said: Option<String>,
    /// The answer that is being given: print, or dot numbers with a space between cells.
    pub typed: String,
    /// Clues that were looked at for it.
    pub clues: usize,
    /// Whether it is handed in.
    pub ended: bool,
}

/// What happens in a round.
pub enum Act {
    /// The answer is being given.
    Type(String),
    /// A clue is looked at.
    Clue,
    /// The answer is given, and judged.
    Answer(Judged),
    /// On to the next item, or to the end.
    Next,
    /// Handed in as it is.
    End,
    /// Begun anew, its items in an order that comes from this number.
    Again(u64),
}

impl Round {
    /// A round whose order of items comes from a number.
    pub fn begin(seed: u64) -> Round {
        Round { seed, ..Round::default() }
    }

    /// The items in the order of this round.
    pub fn list(&self, set: &Exercise) -> Vec<Item> {
        let mut list = set.list();
        if set.shuffled {
            draw::shuffle(&mut fastrand::Rng::with_seed(self.seed), &mut list);
        }
        list
    }

    /// The number of the item that is asked, from 0.
    pub fn at(&self) -> usize {
        self.done.len() - usize::from(self.said.is_some() && !self.done.is_empty())
    }

    /// Whether a clue was looked at anywhere.
    pub fn helped(&self) -> bool {
        self.clues > 0 || self.done.iter().any(|one| one.clue)
    }

    /// The round after something has happened in it.
    pub fn act(&self, set: &Exercise, act: Act) -> Round {
        let mut new = self.clone();
        let list = self.list(set);
        match act {
            Act::Again(seed) => return Round::begin(seed),
            _ if self.ended => {}
            Act::Type(text) if self.said.is_none() => new.typed = text,
            Act::Clue if self.said.is_none() => new.clues += 1,
            Act::Answer(judged) if self.said.is_none() => {
                if let Some(item) = list.get(self.at()) {
                    new.done.push(Answered {
                        asked: item.asked(),
                        answer: one_space(&self.typed),
                        right: judged.right,
                        clue: self.clues > 0,
                    });
                    new.said = Some(judged.says);
                }
            }
            Act::Next if self.said.is_some() => {
                (new.said, new.typed, new.clues) = (None, String::new(), 0);
                new.ended = new.done.len() >= list.len();
            }
            Act::End => (new.said, new.typed, new.clues, new.ended) = (None, String::new(), 0, true),
            Act::Type(_) | Act::Clue | Act::Answer(_) | Act::Next => {}
        }
        new
    }

    /// The answers as a slip holds them.
    pub fn work(&self) -> String {
        to_text(&self.done)
    }
}

impl Item {
    /// What is asked, as it stands in the answers: the line with one space between words, or the sign's key.
    pub fn asked(&self) -> String {
        match self {
            Item::Line(line) => one_space(line),
            Item::Sign(key) => key.clone(),
        }
    }
}

fn one_space(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Answers as text, a line an item: what was asked, what was answered, how it was judged.
fn to_text(answers: &[Answered]) -> String {
    let line = |one: &Answered| {
        let judged = match (one.right, one.clue) {
            (true, false) => "right",
            (true, true) => "right with a clue",
            (false, false) => "wrong",
            (false, true) => "wrong with a clue",
        };
        format!("{}\t{}\t{judged}", one.asked, one.answer)
    };
    answers.iter().map(line).collect::<Vec<_>>().join("\n")
}

/// The answers of such a text; lines that are none are left out.
pub fn answers_of(work: &str) -> Vec<Answered> {
    work.lines()
        .filter_map(|line| {
            let mut fields = line.split('\t');
            let (asked, answer, judged) = (fields.next()?, fields.next()?, fields.next()?);
            Some(Answered {
                asked: asked.to_owned(),
                answer: answer.to_owned(),
                right: judged.starts_with("right"),
                clue: judged.ends_with("with a clue"),
            })
        })
        .collect()
}

/// From what to what a sign is asked in a task.
pub fn direction(task: Task) -> Direction {
    match task {
        Task::Read | Task::Proofread => Direction::Read,
        Task::Write | Task::Transcribe => Direction::Write,
        Task::Slate => Direction::Slate,
        Task::DotNumbers => Direction::SayNumbers,
    }
}

/// The cells of dot numbers with a space between cells; what is none is left out.
pub fn cells_of(numbers: &str) -> Vec<Cell> {
    numbers.split_whitespace().filter_map(Cell::from_dot_numbers).collect()
}

/// Judges an answer to an item.
pub fn judge(set: &Exercise, item: &Item, answer: &str) -> Judged {
    let judged = |right: bool, says: String| Judged { right, instead: String::new(), cause: "", says };
    match item {
        Item::Sign(key) => match (register::by_key(key), set.task) {
            (None, _) => judged(false, "This page does not know the sign.".to_owned()),
            (Some(sign), Task::Write | Task::Slate | Task::Transcribe) => {
                drill::judge_cells(sign, direction(set.task), &cells_of(answer))
            }
            (Some(sign), Task::DotNumbers) => drill::judge_numbers(sign, answer),
            (Some(sign), Task::Read | Task::Proofread) => drill::judge_meaning(sign, answer),
        },
        Item::Line(line) if set.task == Task::DotNumbers => {
            let asked: Vec<Cell> =
                ueb::transcribe(line, &set.options()).into_iter().filter(|cell| !cell.is_blank()).collect();
            let named: Option<Vec<Cell>> = answer
                .split_whitespace()
                .filter(|word| *word != "blank")
                .map(Cell::from_dot_numbers)
                .collect();
            let right = named.as_ref() == Some(&asked);
            judged(right, if right { "Right.".to_owned() } else { format!("It is {}.", drill::dots(&asked)) })
        }
        Item::Line(line) => {
            let (asked, said) = (plain(line), plain(answer));
            if asked == said || cells(set, &asked) == cells(set, &said) {
                return judged(true, "Right.".to_owned());
            }
            let differs =
                asked.split(' ').zip(said.split(' ').chain(std::iter::repeat(""))).position(|(a, b)| a != b);
            judged(
                false,
                match differs {
                    Some(at) => format!("Word {} is another. It says: {line}", at + 1),
                    None => format!("There is more in your answer than in the line. It says: {line}"),
                },
            )
        }
    }
}

/// Print as it is compared: small letters, one space, straight quotation marks, no marks for typeforms.
fn plain(text: &str) -> String {
    let mut text = text.to_lowercase().replace(['’', '‘'], "'").replace(['“', '”'], "\"").replace('*', "");
    for mark in ["<u>", "</u>", "**"] {
        text = text.replace(mark, "");
    }
    one_space(&text)
}

fn cells(set: &Exercise, plain: &str) -> Vec<Cell> {
    ueb::transcribe(plain, &set.options())
}

/// What a line was taken for, as findings: the cells of what was read held against those that stood there.
pub fn misread(set: &Exercise, line: &str, answer: &str) -> Vec<Finding> {
    let options = Options { marks: false, ..set.options() };
    let Marked { findings, .. } = marking::mark_print(&plain(line), &[cells(set, &plain(answer))], &options);
    findings
}

/// Cells as an answer holds them.
pub fn numbers(cells: &[Cell]) -> String {
    cells.iter().map(|cell: &cell::Cell| cell.dot_numbers()).collect::<Vec<_>>().join(" ")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(task: Task, text: &str) -> Exercise {
        Exercise { task, text: text.into(), ..Exercise::default() }
    }

    fn answer(round: &Round, set: &Exercise, text: &str) -> Round {
        let typed = round.act(set, Act::Type(text.to_owned()));
        let item = &typed.list(set)[typed.at()];
        let judged = judge(set, item, &typed.typed);
        typed.act(set, Act::Answer(judged))
    }

    /// Whatever a page keeps of it, at every step, goes on as if nothing had happened.
    fn kept(round: &Round) -> Round {
        let again: Round = serde_json::from_str(&serde_json::to_string(round).unwrap()).unwrap();
        assert_eq!(&again, round);
        again
    }

    #[test]
    fn a_round_goes_on_at_the_same_item_after_every_step() {
        let set = set(Task::Read, "The ferry leaves.\nNo dogs.");
        let mut round = kept(&Round::begin(7));
        assert_eq!(round.at(), 0);
        round = kept(&round.act(&set, Act::Type("the fer".into())));
        assert_eq!((round.at(), round.typed.as_str()), (0, "the fer"));
        round = kept(&answer(&round, &set, "the ferry leaves."));
        // The verdict is still looked at: the item is the same, and no second answer is taken.
        assert_eq!((round.at(), round.said.as_deref()), (0, Some("Right.")));
        assert_eq!(round.act(&set, Act::Type("other".into())), round);
        round = kept(&round.act(&set, Act::Next));
        assert_eq!((round.at(), round.typed.as_str(), round.ended), (1, "", false));
        round = kept(&round.act(&set, Act::Clue));
        round = kept(&answer(&round, &set, "no  dogs."));
        round = kept(&round.act(&set, Act::Next));
        assert!(round.ended && round.helped());
        assert_eq!(
            round.work(),
            "The ferry leaves.\tthe ferry leaves.\tright\nNo dogs.\tno dogs.\tright with a clue"
        );
        assert_eq!(answers_of(&round.work()), round.done);
        let counted: Vec<bool> = round.done.iter().map(Answered::counts).collect();
        assert_eq!(counted, [true, false]);
        // Handed in, it stays as it is until it is begun anew.
        assert_eq!(round.act(&set, Act::Type("x".into())), round);
        assert_eq!(round.act(&set, Act::Again(9)), Round::begin(9));
    }

    #[test]
    fn half_a_round_can_be_handed_in() {
        let set = set(Task::Read, "One.\nTwo.\nThree.");
        let round = answer(&Round::begin(1), &set, "one.").act(&set, Act::Next).act(&set, Act::End);
        assert!(round.ended);
        assert_eq!(round.done.len(), 1);
    }

    #[test]
    fn a_reading_is_judged_by_its_cells() {
        let set = set(Task::Read, "“No dogs,” it said – *not* one.");
        let item = &set.list()[0];
        for right in ["\"no dogs,\" it said – not one.", "“No dogs,” it said – NOT one."] {
            assert!(judge(&set, item, right).right, "{right}");
        }
        // Print is other where the cells are.
        let wrong = judge(&set, item, "\"no cats,\" it said – not one.");
        assert_eq!((wrong.right, wrong.says.starts_with("Word 2 is another.")), (false, true));
        assert!(!misread(&set, "no dogs", "no cats").is_empty());
        assert!(misread(&set, "No dogs", "no dogs").is_empty());
    }

    #[test]
    fn shuffled_items_are_the_same_ones_in_an_order_that_stays() {
        let text: Vec<String> = (0..20).map(|n| format!("line {n}")).collect();
        let set = Exercise { shuffled: true, ..set(Task::Read, &text.join("\n")) };
        let (one, again, other) =
            (Round::begin(3).list(&set), Round::begin(3).list(&set), Round::begin(4).list(&set));
        assert_eq!(one, again);
        assert_ne!(one, other);
        let sorted = |mut list: Vec<Item>| {
            list.sort_by_key(Item::asked);
            list
        };
        assert_eq!(sorted(one.clone()), sorted(set.list()));
        assert_ne!(one, set.list());
    }

    #[test]
    fn signs_are_judged_by_what_is_asked_of_them() {
        let signs = vec!["groupsign st".to_owned()];
        let of = |task| Exercise { task, signs: signs.clone(), ..Exercise::default() };
        // Dots 3-4: section 10.4 of the standard.
        for (task, right, wrong) in [
            (Task::Read, "st", "ch"),
            (Task::DotNumbers, "3-4", "1-6"),
            (Task::Write, "3-4", "1-6"),
            // On a slate the mirrored cell is right.
            (Task::Slate, "1-6", "3-4"),
        ] {
            let set = of(task);
            let item = &set.list()[0];
            assert!(judge(&set, item, right).right && !judge(&set, item, wrong).right, "{task:?}");
        }
    }
}
