//! Somebody reading a text on its sheet: where they are, what they uncovered, what they said of a line. A state, the actions
//! that change it, and what each makes of it; nothing here knows of a browser.

use crate::order::Set;
use crate::practice::lines::Judged;
use crate::practice::reading::{Page, Word};

/// A word: its page and its place among the words of that page, from 0. It is the same word however lines are broken.
pub type WordAt = (usize, usize);

/// The most clues that a cell has.
const CLUES: usize = 6;

/// Where somebody is in a text, and what they did there.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct State {
    /// The page, from 0.
    pub page: usize,
    /// The line of that page, from 0, as it stands on the screen.
    pub line: usize,
    /// The cell of that line, from 0.
    pub cell: usize,
    /// Words that are uncovered.
    pub open: Set<WordAt>,
    /// Words that were uncovered before they were read, or read wrong.
    pub missed: Set<WordAt>,
    /// How many clues are shown for the cell.
    pub clues: usize,
    /// What stands in the field for the line.
    pub typed: String,
    /// What is said of it.
    pub said: String,
    /// The part of `typed` that is the first wrong word, in Unicode scalar values: from and to.
    pub wrong: Option<(usize, usize)>,
    /// How often an answer was judged: what follows an answer is done once for each.
    pub tries: u32,
}

/// What can be uncovered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Cover {
    /// The word that the cell stands in.
    Word,
    /// The line.
    Line,
    /// The page.
    Page,
}

/// What somebody does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Action {
    /// Goes to a line and a cell of it.
    To(usize, usize),
    /// Goes to a page and a line of it.
    Turn(usize, usize),
    /// Asks for one clue more.
    Clue,
    /// Uncovers.
    Uncover(Cover),
    /// Types into the field.
    Type(String),
    /// Says what the line says; how that came out.
    Said(Box<Judged>),
    /// Has read the page; what is said of it.
    Finished(String),
    /// Has the line read aloud. It changes nothing here.
    Aloud,
}

/// The print of words.
pub fn print_of(words: &[Word]) -> String {
    words.iter().map(|word| word.print.as_str()).collect::<Vec<_>>().join(" ")
}

impl State {
    /// At the beginning of a line.
    pub fn at(page: usize, line: usize) -> State {
        State { page, line, ..State::default() }
    }

    /// The same place on a page that has so many lines: a screen may have become wider or narrower.
    pub fn within(&self, page: &Page) -> (usize, usize) {
        let line = self.line.min(page.lines.len().saturating_sub(1));
        let cells = page.lines.get(line).map_or(0, |line| line.cells.len());
        (line, self.cell.min(cells.saturating_sub(1)))
    }

    /// The words of a line with their places.
    pub fn words_of<'a>(&self, page: &'a Page, line: usize) -> impl Iterator<Item = (WordAt, &'a Word)> {
        let (of, first) = (self.page, page.words.iter().take(line).map(Vec::len).sum::<usize>());
        page.words.get(line).into_iter().flatten().enumerate().map(move |(n, word)| ((of, first + n), word))
    }

    /// What can be done with this key: the keys that text boxes move by, and Enter and Space for a clue, a word, the
    /// line, the line aloud. No key is a letter.
    pub fn key(&self, page: &Page, pages: usize, key: &str, shift: bool) -> Option<Action> {
        let (line, cell) = self.within(page);
        let end = |line: usize| page.lines.get(line).map_or(0, |line| line.cells.len().saturating_sub(1));
        let last = page.lines.len().saturating_sub(1);
        Some(match key {
            "ArrowLeft" if cell > 0 => Action::To(line, cell - 1),
            "ArrowLeft" if line > 0 => Action::To(line - 1, end(line - 1)),
            "ArrowRight" if cell < end(line) => Action::To(line, cell + 1),
            "ArrowRight" if line < last => Action::To(line + 1, 0),
            "ArrowUp" if line > 0 => Action::To(line - 1, cell.min(end(line - 1))),
            "ArrowDown" if line < last => Action::To(line + 1, cell.min(end(line + 1))),
            "Home" => Action::To(line, 0),
            "End" => Action::To(line, end(line)),
            "PageUp" if self.page > 0 => Action::Turn(self.page - 1, 0),
            "PageDown" if self.page + 1 < pages => Action::Turn(self.page + 1, 0),
            "Enter" if shift => Action::Aloud,
            "Enter" => Action::Clue,
            " " if shift => Action::Uncover(Cover::Line),
            " " => Action::Uncover(Cover::Word),
            _ => return None,
        })
    }

    /// What comes of an action on this page.
    pub fn after(&self, page: &Page, action: Action) -> State {
        let mut new = self.clone();
        match action {
            Action::To(line, cell) => {
                let (was_line, was_cell) = self.within(page);
                if line != was_line {
                    // What was typed stays: it may have been meant for this line.
                    (new.said, new.wrong) = (String::new(), None);
                }
                if (line, cell) != (was_line, was_cell) {
                    new.clues = 0;
                }
                (new.line, new.cell) = (line, cell);
            }
            Action::Turn(to, line) => {
                new = State { open: new.open, missed: new.missed, tries: new.tries, ..State::at(to, line) };
            }
            Action::Clue => new.clues = (new.clues + 1).min(CLUES),
            Action::Uncover(what) => new.uncover(page, what),
            Action::Type(typed) => (new.typed, new.wrong) = (typed, None),
            Action::Said(judged) => new.say(page, &judged),
            Action::Finished(said) => new.said = said,
            Action::Aloud => {}
        }
        new
    }

    fn uncover(&mut self, page: &Page, what: Cover) {
        let (line, cell) = self.within(page);
        let lines = match what {
            Cover::Page => 0..page.lines.len(),
            _ => line..line + 1,
        };
        for line in lines {
            let words = self.words_of(page, line);
            let wanted = words.filter(|(_, word)| what != Cover::Word || word.cells.contains(&cell));
            for (at, _) in wanted.collect::<Vec<_>>() {
                if self.open.insert(at) {
                    self.missed.insert(at);
                }
            }
        }
    }

    fn say(&mut self, page: &Page, judged: &Judged) {
        let (line, _) = self.within(page);
        // A braille word may say several words of print.
        let words: Vec<(WordAt, &Word)> = self.words_of(page, line).collect();
        let mut print_words = judged.told.words.iter();
        for (at, word) in &words {
            let of_word = print_words.by_ref().take(word.print.split_whitespace().count());
            let right = of_word.filter(|right| !**right).count() == 0;
            if judged.right {
                self.open.insert(*at);
            } else if !right {
                self.missed.insert(*at);
            }
        }
        self.tries += 1;
        self.clues = 0;
        if judged.right {
            let print = words.iter().map(|(_, word)| word.print.as_str()).collect::<Vec<_>>().join(" ");
            self.said = [&format!("Right: {print}")]
                .into_iter()
                .chain(&judged.told.notes)
                .cloned()
                .collect::<Vec<_>>()
                .join(" ");
            (self.typed, self.wrong) = (String::new(), None);
            // On to the next line that has words.
            let next = (line + 1..page.words.len()).find(|next| !page.words[*next].is_empty());
            (self.line, self.cell) = (next.unwrap_or(line), 0);
            return;
        }
        let (right, all) = judged.told.count();
        let say = judged.slips.first().map(|slip| slip.say.as_str()).unwrap_or_default();
        self.said = format!("Not yet: {right} of {all} words. {say}");
        let Some(wrong) = &judged.told.wrong else { return };
        self.wrong = Some((wrong.said.start, wrong.said.end));
        // The sheet points at the word too.
        let mut passed = 0;
        for (_, word) in &words {
            passed += word.print.split_whitespace().count();
            if wrong.word < passed {
                self.cell = word.cells.start;
                break;
            }
        }
    }

    /// How many words of the page were uncovered or read wrong.
    pub fn missed_here(&self) -> usize {
        self.missed.iter().filter(|(page, _)| *page == self.page).count()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::lines;
    use crate::practice::reading::Reading;

    const TEXT: &str = "The cat sat.\n\nTo the boat went Ada and Ben and everybody else who was on the quay at noon that day.";

    fn page() -> Page {
        Reading::of_print("t", TEXT, true).on_screen(0, 24)
    }

    fn said(state: &State, page: &Page, typed: &str) -> State {
        let (line, _) = state.within(page);
        let print = print_of(&page.words[line]);
        let cells: Vec<_> =
            page.lines[line].cells.iter().copied().skip_while(|cell| cell.is_blank()).collect();
        let judged = lines::judge_read(&print, &cells, true, typed);
        state.after(page, Action::Type(typed.to_owned())).after(page, Action::Said(Box::new(judged)))
    }

    #[test]
    fn a_line_told_right_is_uncovered_and_the_next_one_is_asked() {
        let page = page();
        let state = said(&State::default(), &page, "the cat sat");
        assert_eq!(state.said, "Right: The cat sat. Capitals: The. A full stop after sat.");
        assert_eq!((state.line, state.typed.as_str(), state.wrong), (1, "", None));
        assert!((0..3).all(|word| state.open.contains(&(0, word))) && state.missed.is_empty());
    }

    #[test]
    fn the_first_wrong_word_is_pointed_at_and_the_answer_stays() {
        let page = page();
        let state = said(&State::default(), &page, "the cot sat");
        assert!(state.said.starts_with("Not yet: 2 of 3 words. "), "{}", state.said);
        assert_eq!((state.line, state.typed.as_str(), state.wrong), (0, "the cot sat", Some((4, 7))));
        let word = &page.words[0][1];
        assert_eq!(state.cell, word.cells.start);
        assert!(state.missed.contains(&(0, 1)) && state.missed.len() == 1);
        // The one word put right, the line is right; the miss stays.
        let state = said(&state, &page, "the cat sat");
        assert!(state.said.starts_with("Right") && state.missed_here() == 1 && state.tries == 2);
    }

    #[test]
    fn what_is_uncovered_counts_once_and_stays_when_lines_are_broken_anew() {
        let (narrow, reading) = (page(), Reading::of_print("t", TEXT, true));
        let state = State::at(0, 2).after(&narrow, Action::Uncover(Cover::Word));
        assert_eq!(state.missed_here(), 1);
        let state = state.after(&narrow, Action::Uncover(Cover::Line));
        let of_line = narrow.words[2].len();
        assert_eq!((state.open.len(), state.missed_here()), (of_line, of_line));
        let wide = reading.on_screen(0, 40);
        let open = |page: &Page| -> Vec<String> {
            (0..page.lines.len())
                .flat_map(|line| state.words_of(page, line))
                .filter(|(at, _)| state.open.contains(at))
                .map(|(_, word)| word.print.clone())
                .collect()
        };
        assert_eq!(open(&narrow), open(&wide));
        let state = state.after(&wide, Action::Uncover(Cover::Page));
        assert_eq!(state.open.len(), wide.words.iter().map(Vec::len).sum::<usize>());
    }

    #[test]
    fn keys_move_uncover_and_turn_pages() {
        let page = page();
        let state = State::default();
        let key = |state: &State, key: &str, shift| state.key(&page, 3, key, shift);
        assert_eq!(key(&state, "ArrowRight", false), Some(Action::To(0, 1)));
        assert_eq!(key(&state, "ArrowLeft", false), None);
        assert_eq!(key(&state, "PageUp", false), None);
        assert_eq!(key(&state, "PageDown", false), Some(Action::Turn(1, 0)));
        assert_eq!(key(&State::at(2, 0), "PageDown", false), None);
        assert_eq!(key(&state, "Enter", false), Some(Action::Clue));
        assert_eq!(key(&state, "Enter", true), Some(Action::Aloud));
        assert_eq!(key(&state, " ", false), Some(Action::Uncover(Cover::Word)));
        assert_eq!(key(&state, " ", true), Some(Action::Uncover(Cover::Line)));
        // A letter does nothing (WCAG 2.2, 2.1.4).
        assert!(('a'..='z').all(|letter| key(&state, &letter.to_string(), false).is_none()));
        let turned = state.after(&page, Action::Clue).after(&page, Action::Turn(1, 0));
        assert_eq!((turned.page, turned.clues), (1, 0));
        // Clues are for a cell; nothing typed is lost on the way.
        let state = state.after(&page, Action::Clue).after(&page, Action::Type("x".into()));
        assert_eq!(state.after(&page, Action::To(0, 0)).clues, 1);
        let moved = state.after(&page, Action::To(0, 2));
        assert_eq!((moved.clues, moved.typed.as_str()), (0, "x"));
        assert_eq!(state.after(&page, Action::To(1, 0)).typed, "x");
    }
}
