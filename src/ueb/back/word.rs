//! Reads one run of cells without a blank, in the modes that hold where it begins.

use super::scripts::{Enclosure, Script};
use super::sink::Sink;
use super::tables::Tables;
use super::typeforms::{Faces, TYPEFORMS};
use crate::cell::Cell;
use crate::ueb::{ReadOptions, Remark, SignId, letter_case};

/// The modes that outlast a blank cell: passages (5.4, 6.9, 8.5, 9.4, 14.2), and a number that goes on (6.8, 6.10).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(super) struct Mode {
    pub grade1: bool,
    pub capitals: bool,
    pub numeric: bool,
    /// The number before the blank goes on after it, without an indicator.
    pub number: Option<Gap>,
    /// The passage is in another code than this one.
    pub other_code: bool,
    /// Typeforms that are open, in order, when marks are asked for.
    pub faces: Faces,
}

/// What a blank within a number stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Gap {
    /// A line end within a number, for which print has nothing (6.10.3).
    LineEnd,
    /// A line end at a numeric space (6.10.4).
    NumericSpace,
    /// Spaces between the indicator and the number (6.8).
    Spaces,
}

/// What the sign before was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Before {
    Nothing,
    Letter,
    Digit,
    Other,
}

/// What a sign's meaning depends on in its place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    pub grade1: bool,
    pub numeric: bool,
    /// After letters.
    pub letter: bool,
    /// Where a sign can stand alone (2.6.2).
    pub lead: bool,
}

/// One run of cells being read.
pub(super) struct Word<'a> {
    pub t: &'a Tables,
    pub cells: &'a [Cell],
    pub options: &'a ReadOptions,
    pub out: &'a mut Sink,
    pub mode: Mode,
    /// The next cell.
    pub i: usize,
    pub grade1_word: bool,
    pub grade1_next: bool,
    /// In numeric mode (6.3).
    pub numeric: bool,
    /// Grade 1 set by numeric mode (6.5).
    pub grade1_number: bool,
    pub capitals_word: bool,
    pub capital_next: bool,
    /// Only opening marks since the blank, hyphen or dash before (2.6.2).
    pub lead: bool,
    /// The letters-sequence began where a sign can stand alone.
    pub led: bool,
    /// The sign before was an opening bracket.
    pub opened: bool,
    /// Nothing, or a sign with an upper dot, stands before (10.5.1).
    pub clear: bool,
    pub before: Before,
    /// Typeforms of the next sign, in order.
    pub faces_next: Faces,
    /// Typeforms that end with the run, one bit each, and where the first of them began in the print.
    pub face_words: u8,
    pub face_from: usize,
    /// Superscripts and subscripts that are open, and what encloses the next sign (11.4.1).
    pub scripts: Vec<Script>,
    pub enclosures: Vec<Enclosure>,
    /// The row of lower cells looked at last: its beginning and end.
    pub lower_row: std::cell::Cell<(usize, usize)>,
    /// The whole run ends the text, so that a prefix at its end waits.
    pub last: bool,
    /// The cells after the run.
    pub rest: &'a [Cell],
}

impl<'a> Word<'a> {
    pub fn new(
        t: &'a Tables,
        cells: &'a [Cell],
        options: &'a ReadOptions,
        out: &'a mut Sink,
        mode: Mode,
        rest: &'a [Cell],
    ) -> Self {
        let numeric = mode.numeric || mode.number.is_some();
        let mut mode = Mode { number: None, ..mode };
        out.mark(&mode.faces.open_due());
        let face_from = out.print.len();
        Word {
            t,
            cells,
            options,
            out,
            mode,
            i: 0,
            grade1_word: false,
            grade1_next: false,
            numeric,
            grade1_number: numeric,
            capitals_word: false,
            capital_next: false,
            lead: !numeric,
            led: false,
            opened: false,
            clear: true,
            before: Before::Nothing,
            faces_next: Faces::default(),
            face_words: mode.faces.carried(),
            face_from,
            scripts: Vec::new(),
            enclosures: Vec::new(),
            lower_row: std::cell::Cell::default(),
            last: rest.is_empty(),
            rest,
        }
    }

    /// The cell at `i` in braille ASCII; 0 after the run's end.
    pub fn at(&self, i: usize) -> u8 {
        self.cells.get(i).map_or(0, |c| c.to_ascii() as u8)
    }

    pub fn has(&self, i: usize, text: &str) -> bool {
        text.bytes().enumerate().all(|(k, b)| self.at(i + k) == b)
    }

    pub fn matches(&self, i: usize, cells: &[Cell]) -> bool {
        self.cells.get(i..).is_some_and(|rest| rest.starts_with(cells))
    }

    /// In grade 1 mode, however it was set, or in uncontracted braille: no contractions.
    pub fn grade1(&self) -> bool {
        !self.options.contracted || self.grade1_mode()
    }

    /// In grade 1 mode, which uncontracted braille is not (2.5.2).
    pub fn grade1_mode(&self) -> bool {
        self.mode.grade1 || self.grade1_word || self.grade1_next || self.grade1_number
    }

    /// An indicator or any sign without print of its own.
    pub fn indicator(&mut self, len: usize, sign: Option<SignId>, section: &'static str) {
        self.out.put(self.i, self.i + len, "", sign, section, Remark::None);
        self.i += len;
    }

    /// Cells without a meaning here: they stand in the print as they are.
    pub fn unknown(&mut self, len: usize) {
        self.as_cells(len, None, "", Remark::Unknown);
        self.after(Before::Other);
    }

    /// Cells that stand in the print as they are.
    pub fn as_cells(&mut self, len: usize, sign: Option<SignId>, section: &'static str, remark: Remark) {
        let text: String = self.cells[self.i..self.i + len].iter().map(|c| c.to_unicode()).collect();
        self.out.put(self.i, self.i + len, &text, sign, section, remark);
        self.i += len;
    }

    /// A sign that stands for print; opens and closes the typeforms of one sign.
    pub fn graphic(&mut self, len: usize, text: &str, sign: Option<SignId>, before: Before) {
        let (upper, escaped, raised);
        let mut text = text;
        if before == Before::Letter {
            if self.capital_next || self.capitals_word || self.mode.capitals {
                upper = capitals(text, self.capitals_word || self.mode.capitals);
                text = &upper;
            }
        } else if self.options.marks && self.is_mark(text, self.i + len) {
            escaped = format!("\\{text}");
            text = &escaped;
        }
        if let Some(level) = self.raised(text) {
            raised = level;
            text = &raised;
        }
        if self.faces_next.is_empty() {
            self.out.put(self.i, self.i + len, text, sign, "", Remark::None);
        } else {
            self.faced(len, text, sign);
        }
        self.i += len;
        self.after(before);
    }

    /// One sign in typeforms of its own: they cover the first letter of a contraction only (9.2.2).
    fn faced(&mut self, len: usize, text: &str, sign: Option<SignId>) {
        let faces = std::mem::take(&mut self.faces_next);
        for form in faces.iter() {
            self.out.mark(TYPEFORMS[form].open);
        }
        self.out.put(self.i, self.i + len, text, sign, "", Remark::None);
        let marked = |c: char| ('\u{300}'..='\u{36f}').contains(&c);
        let first = text.char_indices().skip(1).find(|&(_, c)| !marked(c)).map_or(text.len(), |(at, _)| at);
        let close: String = faces.iter().rev().map(|form| TYPEFORMS[form].close).collect();
        self.out.insert(self.out.print.len() - text.len() + first, &close);
    }

    /// Whether print of this sign, which ends before cell `next`, would be read as a mark (and takes a backslash).
    fn is_mark(&self, text: &str, next: usize) -> bool {
        match text {
            "*" | "~" | "\\" => true,
            "^" | "_" => self.has(next, "_<"),
            "<" => ["u@>", "_/u@>", "br@>"].iter().any(|tag| self.has(next, tag)),
            "}" => {
                let group = |what: &Enclosure| matches!(what, Enclosure::Fraction(_) | Enclosure::Radical(_));
                !self.scripts.is_empty() || self.enclosures.iter().any(group)
            }
            _ => false,
        }
    }

    /// What holds for one sign ends.
    pub fn after(&mut self, before: Before) {
        if before != Before::Letter {
            self.capitals_word = false;
        }
        self.capital_next = false;
        self.grade1_next = false;
        self.led = before == Before::Letter && (self.led || self.lead);
        self.lead = false;
        self.opened = false;
        self.clear = false;
        self.before = before;
    }

    /// Reads the whole run; gives the modes after it.
    pub fn read(mut self) -> Mode {
        self.run();
        self.close_faces();
        self.mode
    }

    /// Reads the whole run; gives what the next sign's meaning depends on.
    pub fn place(mut self) -> Place {
        self.run();
        Place {
            grade1: self.grade1() || self.numeric,
            numeric: self.numeric,
            letter: self.before == Before::Letter,
            lead: self.lead,
        }
    }

    fn run(&mut self) {
        while self.i < self.cells.len() {
            let from = self.i;
            let depth = self.enclosures.len();
            if self.mode.other_code {
                self.in_other_code();
            } else if self.options.older && super::older::read(self) || self.numeric && self.number() {
                self.settle(true);
            } else if self.indicators() {
                self.settle(self.enclosures.len() < depth);
            } else {
                self.sign();
                self.settle(true);
            }
            debug_assert!(self.i > from);
        }
        self.close_scripts(0);
    }

    /// One sign that stands for print.
    fn sign(&mut self) {
        let i = self.i;
        let bits = usize::from(self.cells[i].bits());
        if let Some(entry) = self.find(&self.t.modifiers, i)
            && (self.modified(entry) || self.bare_modifier(entry))
        {
            return;
        }
        if !self.grade1() {
            if self.lead && self.word() || self.led && self.part() {
                return;
            }
            if let Some(entry) = self.find(&self.t.initial, i) {
                return self.graphic(entry.cells.len(), entry.print, Some(entry.sign), Before::Letter);
            }
            if self.before == Before::Letter
                && let Some(entry) = self.final_letter()
            {
                return self.graphic(entry.cells.len(), entry.print, Some(entry.sign), Before::Letter);
            }
            if self.lower_group(self.at(i)) {
                return;
            }
            if let Some((print, sign)) = self.t.groups[bits] {
                return self.graphic(1, print, Some(sign), Before::Letter);
            }
        }
        if let Some((letter, sign)) = self.t.letters[bits] {
            return self.letter(letter, Some(sign));
        }
        if !self.symbol() && !self.technical() {
            self.punctuation(self.at(i));
        }
    }
}

/// A sign's print in capitals: its first letter, or all of it.
pub(super) fn capitals(text: &str, all: bool) -> String {
    if all {
        return letter_case::in_capitals(text);
    }
    let mut letters = text.chars();
    let mut upper: String = letters.next().map(letter_case::capital).into_iter().collect();
    upper.push_str(letters.as_str());
    upper
}
