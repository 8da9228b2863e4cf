//! What somebody says a line says, beside what it says: by its cells and its words, not by its letters.
//!
//! An answer is right when it reads the same: the same words whatever the case, the form of quotation marks, the width of a
//! dash or the dots of an ellipsis, or other print that is written with the same cells. Otherwise it is right word by word,
//! and the first wrong word has its place in the line and in the answer, so that it can be tried again.

use std::ops::Range;

use crate::cell::Cell;
use crate::ueb::letter_case::in_small;
use crate::ueb::{self, Options};

/// The cells of a piece of print, contracted or not.
pub type Written = fn(&str, bool) -> Vec<Cell>;

/// The first word that is wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WrongWord {
    /// Its place among the words of the line's print, from 0; the number of words where more was said than stands there.
    pub word: usize,
    /// What was said for it, in the answer, in Unicode scalar values; empty where it was left out.
    pub said: Range<usize>,
}

/// How an answer came out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Told {
    /// Of each word of the line's print, whether it was read right.
    pub words: Vec<bool>,
    /// The first wrong word; `None` when all is right.
    pub wrong: Option<WrongWord>,
    /// What print shows and the answer does not, though it is right: capitals, a full stop.
    pub notes: Vec<String>,
}

impl Told {
    /// Whether nothing is wrong.
    pub fn is_right(&self) -> bool {
        self.wrong.is_none()
    }

    /// How many words were read right, and how many there are.
    pub fn count(&self) -> (usize, usize) {
        (self.words.iter().filter(|right| **right).count(), self.words.len())
    }
}

/// A word or a dash of a text.
#[derive(Debug)]
struct Token {
    /// Its marks in one form, its letters as they stand.
    text: String,
    /// The word of the text that it belongs to, from 0.
    word: usize,
    /// Where it stands, in Unicode scalar values.
    at: Range<usize>,
}

fn is_dash(c: char) -> bool {
    matches!(c, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}')
}

/// One form for marks that read the same.
fn one_form(c: char) -> char {
    match c {
        '’' | '‘' | '‚' | '′' | '`' | '´' => '\'',
        '“' | '”' | '„' | '«' | '»' | '″' => '"',
        other => other,
    }
}

/// The words of a text and the dashes between them; quotation marks are double ones at a word's edges, an ellipsis is three
/// stops however it is written.
fn tokens(text: &str) -> Vec<Token> {
    let chars: Vec<char> = text.chars().collect();
    let mut found: Vec<Token> = Vec::new();
    let (mut at, mut word) = (0, 0);
    while at < chars.len() {
        if chars[at].is_whitespace() {
            at += 1;
            continue;
        }
        let end = chars[at..].iter().position(|c| c.is_whitespace()).map_or(chars.len(), |n| at + n);
        let mut from = at;
        while from < end {
            let dash = is_dash(chars[from]);
            let to = (from..end).find(|n| is_dash(chars[*n]) != dash).unwrap_or(end);
            let text = if dash { "-".to_owned() } else { in_one_form(&chars[from..to]) };
            // A stop that stands alone goes on with the ellipsis before it: ". . ." is "...".
            match found.last_mut() {
                Some(before) if text == "." && before.text.ends_with('.') => {
                    before.text.push('.');
                    before.at.end = to;
                }
                _ => found.push(Token { text, word, at: from..to }),
            }
            from = to;
        }
        word += 1;
        at = end;
    }
    found
}

fn in_one_form(chars: &[char]) -> String {
    let mut text: Vec<char> = Vec::with_capacity(chars.len());
    for c in chars {
        match c {
            '…' => text.extend("...".chars()),
            c => text.push(one_form(*c)),
        }
    }
    // Quotation marks, single or double, stand at the edges of a word; an apostrophe there reads as they do.
    let inner = |c: &char| c.is_alphanumeric() || ('\u{2800}'..='\u{28ff}').contains(c);
    let first = text.iter().position(inner).unwrap_or(text.len());
    let last = text.iter().rposition(inner).map_or(0, |n| n + 1);
    let mut out = String::with_capacity(text.len());
    for (n, c) in text.iter().enumerate() {
        let edge = n < first || n >= last;
        match c {
            '\'' | '"' if edge && out.ends_with('"') => {}
            '\'' if edge => out.push('"'),
            c => out.push(*c),
        }
    }
    out
}

/// What [`judge`] compares cells by, where the build has the way from print to braille.
pub fn written(text: &str, contracted: bool) -> Vec<Cell> {
    ueb::transcribe(text, &Options { contracted, marks: false, ..Options::default() })
}

/// How two words compare.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Same {
    Yes,
    /// But for a full stop that was left out.
    Stop,
    No,
}

fn compare(ours: &str, theirs: &str, contracted: bool, written: Option<Written>) -> Same {
    if in_small(ours) == in_small(theirs) {
        return Same::Yes;
    }
    // "boat." and "boat", "boat.”" and "boat”" or "boat"; an ellipsis is no full stop.
    let bare = ours.trim_end_matches('"');
    if let Some(stopped) = bare.strip_suffix('.').filter(|word| !word.is_empty() && !word.ends_with('.')) {
        let closed = format!("{stopped}{}", &ours[bare.len()..]);
        if [stopped, &closed].iter().any(|word| in_small(word) == in_small(theirs)) {
            return Same::Stop;
        }
    }
    let cells = |text: &str| written.map(|written| written(&in_small(text), contracted));
    if written.is_some() && cells(ours) == cells(theirs) {
        return Same::Yes;
    }
    Same::No
}

/// How the words of an answer lie along those of the line: of each of ours which of theirs, if any; and those of theirs that
/// have none of ours. The fewest words are changed, left out or added.
fn along(
    ours: &[Token],
    theirs: &[Token],
    contracted: bool,
    written: Option<Written>,
) -> Vec<(Option<usize>, Option<usize>)> {
    let wide = theirs.len() + 1;
    let mut cost = vec![0usize; (ours.len() + 1) * wide];
    let mut same = vec![false; (ours.len() + 1) * wide];
    for i in 0..=ours.len() {
        for j in 0..wide {
            let place = i * wide + j;
            cost[place] = match (i, j) {
                (0, n) | (n, 0) => n,
                _ => {
                    same[place] =
                        compare(&ours[i - 1].text, &theirs[j - 1].text, contracted, written) != Same::No;
                    let changed = cost[place - wide - 1] + usize::from(!same[place]);
                    changed.min(cost[place - wide] + 1).min(cost[place - 1] + 1)
                }
            };
        }
    }
    let (mut i, mut j) = (ours.len(), theirs.len());
    let mut pairs = Vec::new();
    while i > 0 || j > 0 {
        let place = i * wide + j;
        if i > 0 && j > 0 && cost[place] == cost[place - wide - 1] + usize::from(!same[place]) {
            (i, j) = (i - 1, j - 1);
            pairs.push((Some(i), Some(j)));
        } else if i > 0 && cost[place] == cost[place - wide] + 1 {
            i -= 1;
            pairs.push((Some(i), None));
        } else {
            j -= 1;
            pairs.push((None, Some(j)));
        }
    }
    pairs.reverse();
    pairs
}

/// Judges an answer to a line that says `print` with these cells.
///
/// Without `written` only print is compared with print.
pub fn judge(print: &str, line: &[Cell], contracted: bool, answer: &str, written: Option<Written>) -> Told {
    let (ours, theirs) = (tokens(print), tokens(answer));
    let count = print.split_whitespace().count();
    let pairs = along(&ours, &theirs, contracted, written);
    let mut told = Told { words: vec![true; count], ..Told::default() };
    let (mut capitals, mut stops): (Vec<&str>, Vec<&str>) = (Vec::new(), Vec::new());
    let mut reached = 0;
    for (our, their) in &pairs {
        let (our, their) = (our.map(|n| &ours[n]), their.map(|n| &theirs[n]));
        let same = match (our, their) {
            (Some(our), Some(their)) => compare(&our.text, &their.text, contracted, written),
            _ => Same::No,
        };
        match (our, their) {
            (Some(our), Some(their)) if same != Same::No => {
                if same == Same::Stop {
                    stops.push(&our.text);
                }
                let bare = |text: &str| text.replace(['.', '"'], "");
                if bare(&our.text) != bare(&their.text)
                    && in_small(&bare(&our.text)) == in_small(&bare(&their.text))
                {
                    capitals.push(&our.text);
                }
            }
            _ => {
                let word = our.map_or(reached, |our| our.word);
                if let (Some(our), Some(right)) = (our, told.words.get_mut(word)) {
                    let _ = our;
                    *right = false;
                }
                if told.wrong.is_none() {
                    let said = match their {
                        Some(their) => their.at.clone(),
                        None => {
                            // Where it would stand: after what was said before it.
                            let after = pairs
                                .iter()
                                .take_while(|pair| {
                                    pair.0.map(|n| ours[n].at.start) != our.map(|our| our.at.start)
                                })
                                .filter_map(|pair| pair.1)
                                .last()
                                .map_or(0, |n| theirs[n].at.end);
                            after..after
                        }
                    };
                    told.wrong = Some(WrongWord { word, said });
                }
            }
        }
        if let Some(our) = our {
            reached = our.word + 1;
        }
    }
    if let (true, Some(written)) = (told.wrong.is_some(), written) {
        // Other print with the same cells reads the same.
        let plain: Vec<Cell> = line.iter().skip_while(|cell| cell.is_blank()).copied().collect();
        let theirs: Vec<&str> = answer.split_whitespace().collect();
        if !answer.trim().is_empty() && written(&theirs.join(" "), contracted) == plain {
            return Told { words: vec![true; count], ..Told::default() };
        }
    }
    if told.is_right() {
        let list = |words: &[&str]| {
            let bare = words.iter().map(|word| word.trim_matches(|c: char| !c.is_alphanumeric()));
            bare.collect::<Vec<_>>().join(", ")
        };
        if !capitals.is_empty() {
            told.notes.push(format!("Capitals: {}.", list(&capitals)));
        }
        if !stops.is_empty() {
            told.notes.push(format!("A full stop after {}.", list(&stops)));
        }
    }
    told
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 200 answers, each with what it is: right, right by its cells, with a word or a letter wrong (and which word that is,
    /// from 1), in another case, without a full stop. The lines are sentences of the shelf; how each answer came to differ
    /// stands in its row.
    #[test]
    fn two_hundred_answers_are_judged_by_cells_and_words() {
        let rows = include_str!("../../tests/data/answers.tsv").lines().filter(|row| !row.starts_with("# "));
        let (mut counts, mut amiss) = (std::collections::BTreeMap::new(), Vec::new());
        for (n, row) in rows.enumerate() {
            let fields: Vec<&str> = row.split('\t').collect();
            let [kind, braille, wrong, print, answer] = fields[..] else { panic!("row {}: {row}", n + 1) };
            let contracted = braille == "contracted";
            let told = judge(print, &written(print, contracted), contracted, answer, Some(written));
            let words = print.split_whitespace().count();
            *counts.entry(kind).or_insert(0) += 1;
            let notes = told.notes.join(" ");
            let as_said = match wrong.parse::<usize>() {
                Ok(word) => {
                    told.wrong.as_ref().map(|wrong| wrong.word + 1) == Some(word)
                        && told.count().0 + 1 >= words.saturating_sub(1)
                        && notes.is_empty()
                }
                Err(_) => told.is_right() && told.count() == (words, words),
            };
            let noted = notes.contains("Capitals") == (kind == "case")
                && notes.contains("full stop") == (kind == "stop");
            if !as_said || !noted {
                amiss.push(format!("{row}: {told:?}"));
            }
        }
        assert!(amiss.is_empty(), "{amiss:#?}");
        assert_eq!(counts.values().sum::<usize>(), 200, "{counts:?}");
        assert!(counts.len() == 6 && counts.values().all(|count| *count >= 25), "{counts:?}");
    }

    #[test]
    fn the_wrong_word_has_its_place_in_the_answer() {
        let place = |print: &str, answer: &str| {
            let wrong =
                judge(print, &written(print, true), true, answer, Some(written)).wrong.expect("a wrong word");
            let said: String = answer.chars().skip(wrong.said.start).take(wrong.said.len()).collect();
            (wrong.word, wrong.said.start, said)
        };
        assert_eq!(place("the cat sat", "the cot sat"), (1, 4, "cot".to_owned()));
        assert_eq!(place("the cat sat", "the sat"), (1, 3, String::new()));
        assert_eq!(place("the cat sat", "the cat sat down"), (3, 12, "down".to_owned()));
        assert_eq!(place("a well-made boat", "a well-mode boat"), (1, 7, "mode".to_owned()));
        assert_eq!(place("the cat", ""), (0, 0, String::new()));
        // The parts that are right count.
        let told = judge("one two three four", &[], true, "one too three for", None);
        assert_eq!((told.count(), told.words), ((2, 4), vec![true, false, true, false]));
    }
}
