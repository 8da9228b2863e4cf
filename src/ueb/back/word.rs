//! Reads one run of cells without a blank, in the modes that hold where it begins.

use super::sink::Sink;
use super::tables::Tables;
use super::typeforms::TYPEFORMS;
use crate::cell::Cell;
use crate::ueb::{ReadOptions, Remark, SignId};

/// The modes that outlast a blank cell: passages (5.4, 6.9, 8.5, 9.4).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(super) struct Mode {
    pub grade1: bool,
    pub capitals: bool,
    pub numeric: bool,
    /// Typeform passages that are open, one bit each in the order of [`TYPEFORMS`].
    pub typeforms: u8,
    /// Typeform words that the next word carries on, when marks are asked for.
    pub carried: u8,
}

/// What the sign before was.
#[derive(Clone, Copy, PartialEq, Eq)]
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
    pub i: usize,
    pub grade1_word: bool,
    pub grade1_next: bool,
    pub numeric: bool,
    /// Grade 1 set by numeric mode (6.5).
    pub grade1_number: bool,
    pub capitals_word: bool,
    pub capital_next: bool,
    /// Only opening marks since the blank, hyphen or dash before (2.6.2).
    pub lead: bool,
    /// The sign before was an opening bracket.
    pub opened: bool,
    /// No sign with lower dots only since the blank before (10.5.1).
    pub clear: bool,
    pub before: Before,
    pub typeform_next: Option<usize>,
    pub typeform_words: u8,
    /// Braille grouping signs that close a script: whether a mark is due at each.
    pub groups: Vec<bool>,
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
        Word {
            t,
            cells,
            options,
            out,
            mode,
            i: 0,
            grade1_word: false,
            grade1_next: false,
            numeric: mode.numeric,
            grade1_number: mode.numeric,
            capitals_word: false,
            capital_next: false,
            lead: true,
            opened: false,
            clear: true,
            before: Before::Nothing,
            typeform_next: None,
            typeform_words: 0,
            groups: Vec::new(),
            last: rest.is_empty(),
            rest,
        }
    }

    /// The sign with this key, looked up only when pieces are asked for.
    pub(super) fn key(&self, key: &str) -> Option<SignId> {
        self.out.pieces.as_ref().and_then(|_| self.t.key(key))
    }

    pub(super) fn at(&self, i: usize) -> u8 {
        self.cells.get(i).map_or(0, |c| c.to_ascii() as u8)
    }

    pub(super) fn has(&self, i: usize, text: &str) -> bool {
        text.bytes().enumerate().all(|(k, b)| self.at(i + k) == b)
    }

    pub(super) fn matches(&self, i: usize, cells: &[Cell]) -> bool {
        self.cells.get(i..).is_some_and(|rest| rest.starts_with(cells))
    }

    pub(super) fn grade1(&self) -> bool {
        !self.options.contracted
            || self.mode.grade1
            || self.grade1_word
            || self.grade1_next
            || self.grade1_number
    }

    /// An indicator or any sign without print of its own.
    pub(super) fn indicator(&mut self, len: usize, key: &str, section: &'static str) {
        let sign = self.key(key);
        self.out.put(self.i, self.i + len, "", sign, section, Remark::None);
        self.i += len;
    }

    pub(super) fn unknown(&mut self, len: usize) {
        let text: String = self.cells[self.i..self.i + len].iter().map(|c| c.to_unicode()).collect();
        self.out.put(self.i, self.i + len, &text, None, "", Remark::Unknown);
        self.i += len;
        self.after(Before::Other);
    }

    /// A sign that stands for print; opens and closes the typeform of one sign.
    pub(super) fn graphic(&mut self, len: usize, text: &str, sign: Option<SignId>, before: Before) {
        let (i, marked) = (self.i, self.typeform_next.take().filter(|_| self.options.marks));
        if let Some(form) = marked {
            self.out.mark(TYPEFORMS[form].2);
        }
        let mut upper = String::new();
        let mut text = text;
        if before == Before::Letter && (self.capital_next || self.capitals_word || self.mode.capitals) {
            let all = self.capitals_word || self.mode.capitals;
            for (k, c) in text.chars().enumerate() {
                if k == 0 || all { upper.extend(c.to_uppercase()) } else { upper.push(c) }
            }
            text = &upper;
        }
        self.out.put(i, i + len, text, sign, "", Remark::None);
        if let Some(form) = marked {
            // The indicator of one sign covers the first letter of a contraction only (9.2.2).
            let first = text.chars().next().map_or(0, char::len_utf8);
            let close = TYPEFORMS[form].3;
            let at = self.out.print.len() - text.len() + first;
            self.out.print.insert_str(at, close);
            self.out.chars += close.chars().count();
            if first < text.len()
                && let Some(piece) = self.out.pieces.as_mut().and_then(|p| p.last_mut())
            {
                piece.print.end = self.out.chars;
            }
        }
        self.i += len;
        self.after(before);
    }

    pub(super) fn after(&mut self, before: Before) {
        if before != Before::Letter {
            self.capitals_word = false;
        }
        self.capital_next = false;
        self.grade1_next = false;
        self.lead = false;
        self.opened = false;
        self.clear = false;
        self.before = before;
    }

    /// Reads the whole run; gives the modes after it.
    pub fn read(mut self) -> Mode {
        self.run();
        self.close_words();
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

    pub(super) fn run(&mut self) {
        let mut script: Option<usize> = None;
        while self.i < self.cells.len() {
            let (from, depth) = (self.i, self.groups.len());
            if self.options.older && self.older() {
                continue;
            }
            let pending = script.is_some();
            if self.numeric && self.number() {
            } else if self.indicators() {
                debug_assert!(self.i > from);
                if self.at(from) == b'>' || pending && self.groups.len() == depth {
                    // an indicator inside the item: the item goes on
                    if self.at(from) == b'#' {
                        continue;
                    }
                }
                if let Some(text) = self.begun_script(from) {
                    if self.options.marks {
                        self.out.mark(text);
                    }
                    script = Some(self.groups.len());
                    if self.at(self.i) == b'<' {
                        self.indicator(1, "opening braille grouping indicator", "3.4");
                        self.groups.push(self.options.marks);
                        script = None;
                    }
                }
                continue;
            } else if !self.group_sign() {
                self.sign();
            }
            if script.is_some() && !(self.numeric && self.digit_follows()) {
                if self.options.marks {
                    self.out.mark("}");
                }
                script = None;
            }
        }
        if script.is_some() && self.options.marks {
            self.out.mark("}");
        }
    }

    /// One sign that stands for print.
    pub(super) fn sign(&mut self) {
        let (i, c) = (self.i, self.at(self.i));
        let bits = usize::from(self.cells[i].bits());
        if let Some(entry) = self.find(&self.t.modifiers, i)
            && self.modified(entry)
        {
            return;
        }
        if !self.grade1() {
            if self.lead && self.word() {
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
            if self.lower_group(c) {
                return;
            }
            if let Some((print, sign)) = self.t.groups[bits] {
                return self.graphic(1, print, Some(sign), Before::Letter);
            }
        }
        if let Some((letter, sign)) = self.t.letters[bits] {
            return self.letter(letter, Some(sign));
        }
        if let Some(entry) = self.find(&self.t.graphic, i) {
            let before = match entry.class {
                crate::ueb::Class::Letter => Before::Letter,
                _ => Before::Other,
            };
            // Greek takes capitals as letters do, but no final-letter groupsign follows it.
            if entry.class == crate::ueb::Class::Greek {
                let kept = (self.capitals_word, self.mode.capitals);
                self.graphic(entry.cells.len(), entry.print, Some(entry.sign), Before::Letter);
                self.capitals_word = kept.0;
                self.before = Before::Other;
                return;
            }
            let (lead, clear) = (self.lead, self.clear);
            let opening = matches!(entry.print, "(" | "[" | "{" | "“" | "‘")
                || entry.cells.len() == 2 && entry.print == "\"";
            let dash = entry.print == "—";
            let lower = matches!(entry.print, "“" | "‘" | "\"" | "—");
            self.graphic(entry.cells.len(), entry.print, Some(entry.sign), before);
            if dash {
                self.grade1_number = self.mode.numeric;
            }
            self.lead = dash || opening && lead;
            self.opened = opening;
            self.clear = clear && self.lead && !lower;
            return;
        }
        if self.technical() {
            return;
        }
        self.punctuation(c);
    }

    pub(super) fn older(&mut self) -> bool {
        super::retired::read(self)
    }

    /// What the reader of retired signs needs to see and do.
    pub(super) fn state(&self) -> (usize, bool, bool, bool) {
        (self.i, self.before == Before::Letter, self.lead, self.grade1() || self.numeric)
    }

    pub(super) fn cells_left(&self) -> &'a [Cell] {
        &self.cells[self.i..]
    }

    pub(super) fn more_letters(&self, len: usize) -> bool {
        let mut at = self.i + len;
        while self.at(at) == b',' {
            at += 1;
        }
        self.letters_at(at)
    }

    pub(super) fn retired(&mut self, len: usize, print: &str, section: &'static str, letters: bool) {
        let i = self.i;
        let upper = self.capital_next || self.capitals_word || self.mode.capitals;
        let text = if letters && (self.capitals_word || self.mode.capitals) {
            print.to_uppercase()
        } else if letters && upper {
            let mut cs = print.chars();
            cs.next().map(|c| c.to_uppercase().collect::<String>() + cs.as_str()).unwrap_or_default()
        } else {
            print.to_owned()
        };
        self.out.put(i, i + len, &text, None, section, Remark::Retired);
        self.i += len;
        let lead = self.lead;
        self.after(if letters { Before::Letter } else { Before::Other });
        self.lead = !letters && lead;
    }
}
