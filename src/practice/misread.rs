//! What was read instead: the cell, what was read there, and what it says. A reader is told in reading's words.

use crate::cell::Cell;
use crate::ueb::letter_case::in_small;
use crate::ueb::{self, Piece, ReadOptions};

/// One place that was read as something else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misread {
    /// The first of its cells, from 0.
    pub cell: usize,
    /// What was read there; empty when it was left out.
    pub read: String,
    /// What it says; empty where more was read than stands there.
    pub says: String,
}

impl Misread {
    /// "Cell 3: you read “z”, it is “d”."
    pub fn words(&self) -> String {
        let Misread { cell, read, says } = self;
        let cell = cell + 1;
        if read.is_empty() {
            format!("Cell {cell}: you left out “{says}”.")
        } else if says.is_empty() {
            format!("Cell {cell}: you read “{read}” before it, and nothing stands there.")
        } else {
            format!("Cell {cell}: you read “{read}”, it is “{says}”.")
        }
    }
}

/// Letters in one case, marks in one form.
fn plain(text: &str) -> Vec<char> {
    let same = |c| match c {
        '’' | '‘' => '\'',
        '“' | '”' => '"',
        '—' | '–' => '-',
        other => other,
    };
    in_small(text).chars().map(same).collect()
}

/// The first cells that were read as something else, one a word, in order. Where words are left out or added, the first place
/// alone is told.
pub fn misread(cells: &[Cell], contracted: bool, typed: &str) -> Vec<Misread> {
    let reading = ueb::read(cells, &ReadOptions { contracted, ..ReadOptions::default() });
    let print = plain(&reading.print);
    let typed = plain(&typed.split_whitespace().collect::<Vec<_>>().join(" "));
    let theirs: Vec<&[char]> = typed.split(|c| *c == ' ').collect();
    let ours: Vec<&[char]> = print.split(|c| *c == ' ').collect();
    let mut found = Vec::new();
    let mut start = 0;
    for (n, word) in ours.iter().enumerate() {
        let other = theirs.get(n).copied().unwrap_or_default();
        if *word != other {
            found.extend(in_word(&reading.pieces, &print, start..start + word.len(), other));
            if ours.len() != theirs.len() {
                break;
            }
        }
        start += word.len() + 1;
    }
    found
}

fn in_word(
    pieces: &[Piece],
    print: &[char],
    word: std::ops::Range<usize>,
    typed: &[char],
) -> Option<Misread> {
    let ours = &print[word.clone()];
    let before = ours.iter().zip(typed).take_while(|(a, b)| a == b).count();
    let most = ours.len().min(typed.len()) - before;
    let after = ours.iter().rev().zip(typed.iter().rev()).take(most).take_while(|(a, b)| a == b).count();
    // What differs, widened to whole signs.
    let (from, to) = (word.start + before, word.end - after);
    let touches = |piece: &&Piece| {
        !piece.print.is_empty()
            && if from < to {
                piece.print.start < to && piece.print.end > from
            } else {
                piece.print.start >= from
            }
    };
    let first = pieces.iter().find(touches).or(pieces.last())?;
    if from >= to {
        let read = typed[before..typed.len() - after].iter().collect();
        return Some(Misread { cell: first.cells.start, read, says: String::new() });
    }
    let last = pieces.iter().rev().find(touches).unwrap_or(first);
    let (wide_from, wide_to) =
        (first.print.start.clamp(word.start, from), last.print.end.clamp(to, word.end));
    let read = &typed[wide_from - word.start..typed.len() - (word.end - wide_to)];
    let says = &print[wide_from..wide_to];
    Some(Misread { cell: first.cells.start, read: read.iter().collect(), says: says.iter().collect() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::lines;
    use crate::practice::supply::tests::shipped;
    use crate::ueb::Options;

    fn told(print: &str, contracted: bool, typed: &str) -> Vec<String> {
        let cells = ueb::transcribe(print, &Options { contracted, marks: false, ..Options::default() });
        misread(&cells, contracted, typed).iter().map(Misread::words).collect()
    }

    #[test]
    fn it_is_told_at_the_cell_in_readings_words() {
        assert_eq!(told("a dog", false, "a zog"), ["Cell 3: you read “z”, it is “d”."]);
        // The whole sign is told: "st" is one cell.
        assert_eq!(told("rest", true, "rect"), ["Cell 3: you read “ct”, it is “st”."]);
        assert_eq!(told("a dog", false, "a do"), ["Cell 5: you left out “g”."]);
        assert_eq!(told("a dog", false, "a doog").len(), 1);
        assert_eq!(told("a big dog", false, "a dog"), told("a big dog", false, "a dog"));
        assert!(told("a dog", false, "A Dog").is_empty());
    }

    /// A hundred readings with one wrong letter: each is told at a cell whose sign has that letter.
    #[test]
    fn a_hundred_readings_with_one_wrong_letter_are_told_at_the_right_cell() {
        let supply = shipped();
        let mut chance = fastrand::Rng::with_seed(31);
        let mut made = 0;
        while made < 100 {
            let contracted = made % 2 == 0;
            let Some(print) = supply.sentence(chance.usize(5..24), contracted, &[], &mut chance) else {
                continue;
            };
            let mut typed: Vec<char> = print.chars().collect();
            let at = chance.usize(..typed.len());
            let letter = chance.char('a'..='z');
            if !typed[at].is_ascii_lowercase() || typed[at] == letter {
                continue;
            }
            typed[at] = letter;
            let typed: String = typed.into_iter().collect();
            let cells = ueb::transcribe(&print, &Options { contracted, marks: false, ..Options::default() });
            let reading = ueb::read(&cells, &ReadOptions { contracted, ..ReadOptions::default() });
            let piece = reading.pieces.iter().find(|piece| piece.print.contains(&at)).expect("a sign");
            let found = misread(&cells, contracted, &typed);
            assert_eq!(found.len(), 1, "{print} / {typed}");
            assert_eq!(found[0].cell, piece.cells.start, "{print} / {typed}");
            assert!(found[0].read.contains(letter), "{print} / {typed}: {:?}", found[0]);
            // What a drill says of it.
            let judged = lines::judge_read(&print, &cells, contracted, &typed);
            let say = &judged.slips[0].say;
            assert!(!judged.right && say.contains("you read “") && say.contains("it is “"), "{say}");
            assert!(judged.slips.iter().all(|slip| !slip.say.contains("dots")), "{:?}", judged.slips);
            made += 1;
        }
    }
}
