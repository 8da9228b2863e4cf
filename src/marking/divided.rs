//! Words and numbers divided at a line's end (10.13, 6.10): which of those asked for it is, and where it is divided. Whether
//! that is right, `halves` says.

use std::collections::HashSet;
use std::ops::Range;

use super::{Expected, Place, spelling};
use crate::cell::Cell;
use crate::ueb::division::{self, Allowed, Judgement};
use crate::ueb::register::Class;
use crate::ueb::{self, Explanation, ReadOptions, SignUse};

/// Words that are tried for two parts, at most.
const MOST_WORDS: usize = 50;

/// What is added to the distance of a part whose letters are not those of print.
const OTHER_LETTERS: usize = 2;

/// A divided word, as it was written and as it is judged.
#[derive(Clone, Debug)]
pub(super) struct Break {
    /// Its print.
    pub print: Vec<char>,
    /// Where that stands in the print asked for, at one place at least.
    pub asked: Range<usize>,
    /// How many characters stand before the break.
    pub at: usize,
    /// Whether it may be divided there.
    pub judged: Judgement,
    /// Both parts as written, each with its place.
    pub parts: [(Vec<Cell>, Place); 2],
    /// The first cell of the whole word among the running cells.
    pub flat: usize,
}

/// A word asked for.
struct Word {
    /// Its place in print.
    asked: Range<usize>,
    print: Vec<char>,
    /// The same in lower case.
    lower: Vec<char>,
    /// How it is written there; nothing where no sign is known for some of it.
    said: Option<Explanation>,
    contracted: bool,
}

/// The words asked for, to tell those that are divided.
pub(super) struct Words(Vec<Word>);

/// A divided word that was found: what is written for the whole of it.
pub(super) struct Found {
    pub cells: Vec<Cell>,
    broken: Break,
}

impl Found {
    /// The same, with the places of both parts and of the whole word among the running cells.
    pub fn placed(mut self, head: Place, tail: Place, flat: usize) -> Break {
        self.broken.parts[0].1 = head;
        self.broken.parts[1].1 = tail;
        self.broken.flat = flat;
        self.broken
    }
}

impl Words {
    pub fn new(expected: &Expected) -> Words {
        let mut words = Vec::new();
        let mut seen: HashSet<(&[char], &[Cell])> = HashSet::new();
        for units in expected.units.split(|unit| unit.is_space()) {
            let (Some(first), Some(last)) = (units.first(), units.last()) else { continue };
            let asked = first.print.start..units.iter().map(|unit| unit.print.end).max().unwrap_or(0);
            let cells = &expected.cells[first.cells.start..last.cells.end];
            let Some(print) = expected.print.get(asked.clone()) else { continue };
            if print.len() < 2 || !seen.insert((print, cells)) {
                continue;
            }
            let signs: Option<Vec<SignUse>> = units
                .iter()
                .map(|unit| {
                    Some(SignUse {
                        print: unit.print.start.checked_sub(asked.start)?
                            ..unit.print.end.checked_sub(asked.start)?,
                        cells: unit.cells.start - first.cells.start..unit.cells.end - first.cells.start,
                        sign: unit.sign?,
                        section: unit.section,
                        choice: None,
                    })
                })
                .collect();
            let contracted = units.iter().any(|unit| unit.class().is_some_and(Class::is_contraction))
                || ueb::transcribe(&print.iter().collect::<String>(), &ueb::Options::default()) == cells;
            let said =
                signs.map(|signs| Explanation { cells: cells.to_vec(), signs, ..Explanation::default() });
            let lower = print.iter().map(|c| spelling::plain(*c)).collect();
            words.push(Word { asked, print: print.to_vec(), lower, said, contracted });
        }
        Words(words)
    }

    /// The word whose two parts these are, with the break where their letters or their cells show it; `None` where that
    /// is in doubt.
    pub fn divided(&self, head: &[Cell], tail: &[Cell]) -> Option<Found> {
        let read = |cells: &[Cell]| -> Vec<char> {
            let print = ueb::read_print(cells, &ReadOptions::default());
            print.chars().map(spelling::plain).collect()
        };
        let (first, second) = (read(&head[..head.len() - 1]), read(tail));
        // Beside the break signs may read as others: then the cells of the whole tell the word.
        let joined = [&head[..head.len() - 1], tail].concat();
        let fits = |word: &&Word| {
            let long = |part: &[char]| word.print.len() > part.len();
            long(&first) && word.lower.starts_with(&first)
                || long(&second) && word.lower.ends_with(&second)
                || word.said.as_ref().is_some_and(|said| said.cells == joined)
        };
        let near = self.0.iter().filter(fits).take(MOST_WORDS);
        let whole = |word: &&&Word| [&first[..], &second].concat() == word.lower;
        let exact: Vec<&Word> = near.clone().filter(|word| whole(&word)).collect();
        let tried: Vec<&Word> = if exact.is_empty() { near.collect() } else { exact };
        let best = tried
            .into_iter()
            .flat_map(|word| (1..word.print.len()).map(move |at| (word, at)))
            .filter_map(|(word, at)| word.at(at, head, tail))
            .min_by_key(|(distance, ..)| *distance)?;
        let (_, word, at, judged) = best;
        let cells = word.said.as_ref()?.cells.clone();
        let parts = [(head.to_vec(), Place::default()), (tail.to_vec(), Place::default())];
        let broken =
            Break { print: word.print.clone(), asked: word.asked.clone(), at, judged, parts, flat: 0 };
        Some(Found { cells, broken })
    }
}

impl Word {
    /// How far two parts are from those that the word has if it is divided before this character; `None` where neither
    /// has the letters of print, or where nothing is known of its parts.
    fn at(&self, at: usize, head: &[Cell], tail: &[Cell]) -> Option<(usize, &Word, usize, Judgement)> {
        let inner = &head[..head.len() - 1];
        let spelt = |cells: &[Cell], print: &[char]| spelling::parse(cells, print).is_some();
        let (begins, ends) = (&self.lower[..at], &self.lower[at..]);
        let right = (
            spelt(inner, begins)
                || begins.last().is_some_and(|c| division::is_joint(*c)) && spelt(head, begins),
            spelt(tail, ends),
        );
        if !right.0 && !right.1 {
            return None;
        }
        let judged = division::judge_as(&self.print, self.said.clone()?, self.contracted, at);
        let Some(parts) = &judged.parts else {
            // Divided where no form is right: only where both parts have their letters.
            let sure = judged.allowed == Allowed::No && right == (true, true);
            return sure.then_some((OTHER_LETTERS, self, at, judged));
        };
        let distance = distance(&parts.first, head) + distance(&parts.second, tail);
        let other = if right == (true, true) { 0 } else { OTHER_LETTERS };
        let most = if right == (true, true) { usize::MAX } else { 1 + (head.len() + tail.len()) / 4 };
        (distance <= most).then_some((distance + other, self, at, judged))
    }
}

/// How many cells differ.
fn distance(a: &[Cell], b: &[Cell]) -> usize {
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, one) in a.iter().enumerate() {
        let mut before = i;
        row[0] = i + 1;
        for (j, other) in b.iter().enumerate() {
            let least = (before + usize::from(one != other)).min(row[j] + 1).min(row[j + 1] + 1);
            before = row[j + 1];
            row[j + 1] = least;
        }
    }
    row[b.len()]
}
