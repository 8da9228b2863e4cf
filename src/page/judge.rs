//! What was written against what a prompt asks for, word by word. The one place where the Write room judges.

use std::ops::Range;

use crate::cell::Cell;
use crate::ueb::{self, Options};

/// How one word of the prompt came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Cell for cell as asked.
    Right,
    /// Written otherwise.
    Wrong,
    /// Not written.
    Missing,
    /// Written and not asked for.
    Extra,
}

/// One word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WordMark {
    /// The word in print; empty for an extra word.
    pub print: String,
    /// The cells asked for, in the cells of the whole prompt.
    pub asked: Range<usize>,
    /// The cells written, in what was written.
    pub written: Range<usize>,
    /// How it came out.
    pub verdict: Verdict,
}

/// Runs of cells without a blank.
fn words(cells: &[Cell]) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut from = None;
    for (at, cell) in cells.iter().enumerate() {
        match (cell.is_blank(), from) {
            (false, None) => from = Some(at),
            (true, Some(start)) => {
                found.push(start..at);
                from = None;
            }
            _ => {}
        }
    }
    if let Some(start) = from {
        found.push(start..cells.len());
    }
    found
}

/// Judges `cells` against `print`, word by word: words that differ least are set against each other.
pub fn judge(print: &str, cells: &[Cell], options: &Options) -> Vec<WordMark> {
    let asked = ueb::explain(print, options);
    let characters: Vec<char> = print.chars().collect();
    let asked_words = words(&asked.cells);
    let written_words = words(cells);
    let print_of = |word: &Range<usize>| -> String {
        let signs =
            asked.signs.iter().filter(|sign| word.contains(&sign.cells.start) && !sign.print.is_empty());
        let (from, to) = signs
            .fold((usize::MAX, 0), |(from, to), sign| (from.min(sign.print.start), to.max(sign.print.end)));
        characters.get(from..to).map(|letters| letters.iter().collect()).unwrap_or_default()
    };
    let (rows, columns) = (asked_words.len() + 1, written_words.len() + 1);
    // Cost of setting the first words of one side against the first words of the other: 2 for a word that stands
    // alone, 3 for two words that differ (so two that differ beat one missing and one extra).
    let mut cost = vec![0usize; rows * columns];
    for row in 0..rows {
        for column in 0..columns {
            let at = row * columns + column;
            cost[at] = match (row, column) {
                (0, _) => column * 2,
                (_, 0) => row * 2,
                _ => {
                    let same =
                        asked.cells[asked_words[row - 1].clone()] == cells[written_words[column - 1].clone()];
                    let both = cost[at - columns - 1] + if same { 0 } else { 3 };
                    both.min(cost[at - columns] + 2).min(cost[at - 1] + 2)
                }
            };
        }
    }
    let mut marks = Vec::new();
    let (mut row, mut column) = (rows - 1, columns - 1);
    while row > 0 || column > 0 {
        let at = row * columns + column;
        if row > 0 && column > 0 {
            let same = asked.cells[asked_words[row - 1].clone()] == cells[written_words[column - 1].clone()];
            if cost[at] == cost[at - columns - 1] + if same { 0 } else { 3 } {
                marks.push(WordMark {
                    print: print_of(&asked_words[row - 1]),
                    asked: asked_words[row - 1].clone(),
                    written: written_words[column - 1].clone(),
                    verdict: if same { Verdict::Right } else { Verdict::Wrong },
                });
                row -= 1;
                column -= 1;
                continue;
            }
        }
        if row > 0 && cost[at] == cost[at - columns] + 2 {
            let place = column.checked_sub(1).map_or(0, |before| written_words[before].end);
            marks.push(WordMark {
                print: print_of(&asked_words[row - 1]),
                asked: asked_words[row - 1].clone(),
                written: place..place,
                verdict: Verdict::Missing,
            });
            row -= 1;
        } else {
            let place = row.checked_sub(1).map_or(0, |before| asked_words[before].end);
            marks.push(WordMark {
                print: String::new(),
                asked: place..place,
                written: written_words[column - 1].clone(),
                verdict: Verdict::Extra,
            });
            column -= 1;
        }
    }
    marks.reverse();
    marks
}
