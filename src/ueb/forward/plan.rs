//! What the passes over one symbols-sequence hand on: the sequence and how it is to be written, its letters-sequences with
//! what is decided of each, and what was written.

use std::ops::Range;

use super::super::Edition;
use super::super::contract::{Letter, Part, Passed};
use super::super::register::SignId;
use super::faces::FaceMark;
use super::symbols::Symbol;

/// What the whole text decides.
#[derive(Default)]
pub(crate) struct Setting {
    pub edition: Edition,
    /// Acronyms whose letters are said one by one, in lower case, sorted.
    pub acronyms: Vec<String>,
    /// The text has dashes of several lengths.
    pub lengths: bool,
}

/// A way of writing a symbols-sequence. All but the first are tried to see what else would be as right.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Way {
    /// As it is written.
    #[default]
    Usual,
    /// This letters-sequence without contractions.
    Spelled(usize),
    /// This letters-sequence with contractions, though its letters seem to be said one by one.
    Contracted(usize),
    /// This letters-sequence without the lower groupsign in front, of so many letters.
    NotLower(usize, usize),
    /// This letters-sequence with the lower groupsign in front, of so many letters.
    Lower(usize, usize),
    /// A grade 1 word from this symbol on.
    GradeOne(usize),
    /// Grade 1 symbol indicators instead of a grade 1 word.
    Singly,
    /// A word in syllables, where it may be one.
    Syllables,
}

/// A symbols-sequence, and how it is to be written; blanks stand only around it.
#[derive(Clone, Copy)]
pub(crate) struct Sequence<'a> {
    /// The symbols of the piece of text that it stands in, and where it stands there.
    pub symbols: &'a [Symbol],
    pub from: usize,
    pub to: usize,
    /// The typeform indicators and terminators in it.
    pub faces: &'a [FaceMark],
    pub setting: &'a Setting,
    pub edition: Edition,
    pub way: Way,
    pub contracted: bool,
    /// Within a grade 1 passage.
    pub passage: bool,
    /// Reasons are wanted.
    pub reasons: bool,
    /// It began in the piece before, and goes on in the next.
    pub begun: Option<Carry>,
    pub goes_on: bool,
    /// Closing quotation marks, by their place among the symbols, whose partners had to be written with the specific sign.
    pub specific: &'a [usize],
}

impl<'a> Sequence<'a> {
    /// Its own symbols.
    pub fn own(&self) -> &'a [Symbol] {
        &self.symbols[self.from..self.to]
    }

    /// The symbol at a place, if the sequence has it.
    pub fn get(&self, place: usize) -> Option<&'a Symbol> {
        if (self.from..self.to).contains(&place) { self.symbols.get(place) } else { None }
    }

    /// Its symbols before a place, and after it.
    pub fn around(&self, place: usize) -> (&'a [Symbol], &'a [Symbol]) {
        (&self.symbols[self.from..place], &self.symbols[place + 1..self.to])
    }
}

/// What goes on from one piece of a symbols-sequence without an end into the next.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Carry {
    pub modes: Modes,
    /// Capitals word mode.
    pub capitals: bool,
    /// A cell with an upper dot was written.
    pub upper: bool,
    /// The way back to the last space, hyphen or dash is open (2.6.2).
    pub left: bool,
    /// A number was written since (6.5).
    pub numeric: bool,
}

/// The modes that indicators set.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Modes {
    /// Numeric mode: digits follow without an indicator (6.1.1).
    pub numeric: bool,
    /// Grade 1 mode.
    pub grade1: bool,
    /// A grade 1 word or passage indicator set it, and no number.
    pub grade1_word: bool,
}

/// What is decided of a symbols-sequence before it is written.
#[derive(Default)]
pub(crate) struct Plan {
    /// Its letters-sequences.
    pub runs: Vec<Run>,
    /// The symbol before which a grade 1 word indicator is put.
    pub word_from: Option<usize>,
    /// At its end: the way back to the last space, hyphen or dash is open (2.6.2), and a number was written since (6.5).
    pub left: bool,
    pub numeric: bool,
    /// The contractions of the letters-sequence looked at last.
    pub contractions: Contractions,
}

/// The contractions of the letters-sequence that was looked at last.
#[derive(Default)]
pub(crate) struct Contractions {
    pub parts: Vec<Part>,
    /// Those not used.
    pub passed: Vec<Passed>,
    /// The letters that they were chosen for, and what else.
    pub letters: Vec<Letter>,
    pub of: Option<Of>,
}

/// What contractions were chosen for: a letters-sequence, and what may change while a plan is made.
#[derive(PartialEq, Eq)]
pub(crate) struct Of {
    pub run: usize,
    pub faces: bool,
    pub alone: Range<usize>,
    pub no_shortform: bool,
    pub spell_lower: bool,
}

/// A letters-sequence inside the symbols-sequence.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    pub range: Range<usize>,
    /// Nothing but what 2.6.2 allows up to the space, hyphen or dash before it; 2.6.3 after it.
    pub left: bool,
    pub right: bool,
    /// As `right`, once an apostrophe with d, ll, re, s, t or ve is passed (10.1.2).
    pub suffix: bool,
    /// As `right`, once an apostrophe with any letters is passed (10.9.2).
    pub affix: bool,
    /// As `right`, once an apostrophe with s is passed: "en's" would be read as "enough's" (10.5.2).
    pub possessive: bool,
    /// In grade 1 mode set by a number (6.5).
    pub numeric: bool,
    pub wordsign: Option<SignId>,
    /// Needs a grade 1 symbol indicator.
    pub guard: bool,
    /// Needs a grade 1 word indicator (10.9.6).
    pub guard_word: bool,
    /// No lower contraction at its end (10.10.10).
    pub spell_lower: bool,
    /// Letters of it, from 0, that stand outside any groupsign (10.9.4).
    pub alone: Range<usize>,
    /// By which section, and why.
    pub alone_why: (&'static str, &'static str),
    /// Without shortforms: in grade 1 mode, or because a reader would not see them.
    pub no_shortform: bool,
}

impl Run {
    /// One of which nothing is decided yet.
    pub fn new(range: Range<usize>, left: bool, numeric: bool) -> Run {
        Run {
            range,
            left,
            right: false,
            suffix: false,
            affix: false,
            possessive: false,
            numeric,
            wordsign: None,
            guard: false,
            guard_word: false,
            spell_lower: false,
            alone: 0..0,
            alone_why: ("10.9.4", "would be read as part of a shortform"),
            no_shortform: false,
        }
    }
}

/// What came of writing a symbols-sequence.
#[derive(Clone, Debug, Default)]
pub(crate) struct Written {
    /// The last letters-sequence that holds a lower contraction.
    pub last_lower: Option<usize>,
    /// The modes at its end.
    pub modes: Modes,
    /// Grade 1 indicators: how many, in how many cells, and before which symbol the first.
    pub guards: usize,
    pub guard_cells: usize,
    pub first_guard: Option<usize>,
    /// More of [`Sequence::specific`].
    pub specific: Vec<usize>,
}
