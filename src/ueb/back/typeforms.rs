//! Typeforms (9): their indicators and, when asked for, the marks that stand for them in print.

use super::word::{Before, Word};
use crate::cell::Cell;

/// One typeform.
pub(super) struct Typeform {
    /// The prefix of its indicators.
    prefix: u8,
    /// Its mark where it begins and where it ends.
    pub open: &'static str,
    pub close: &'static str,
}

/// Italic, boldface, underline and script (9.1).
pub(super) const TYPEFORMS: [Typeform; 4] = [
    Typeform { prefix: b'.', open: "*", close: "*" },
    Typeform { prefix: b'^', open: "**", close: "**" },
    Typeform { prefix: b'_', open: "<u>", close: "</u>" },
    Typeform { prefix: b'@', open: "~", close: "~" },
];

fn form_of(cell: u8) -> Option<usize> {
    TYPEFORMS.iter().position(|form| form.prefix == cell)
}

/// How far a typeform goes: the root of its sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Extent {
    /// The next sign (9.2).
    Symbol,
    /// The symbols-sequence (9.3).
    Word,
    /// Up to the terminator (9.4).
    Passage,
    /// The terminator.
    End,
}

impl Extent {
    pub fn root(self) -> char {
        match self {
            Extent::Symbol => '2',
            Extent::Word => '1',
            Extent::Passage => '7',
            Extent::End => '\'',
        }
    }

    fn of(cell: u8) -> Option<Extent> {
        Some(match cell {
            b'2' => Extent::Symbol,
            b'1' => Extent::Word,
            b'7' => Extent::Passage,
            b'\'' => Extent::End,
            _ => return None,
        })
    }
}

/// Typeforms that are open, in the order in which they were opened.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub(super) struct Faces {
    /// One byte each: the typeform's number plus 1, and what is below; zero where there is none.
    order: [u8; TYPEFORMS.len()],
}

/// It ends with its word, and the next word carries it on.
const CARRIED: u8 = 0x80;
/// Its mark was closed with another's and is due again at the next word.
const DUE: u8 = 0x40;
const FORM: u8 = 0x0f;

impl Faces {
    pub fn iter(&self) -> impl DoubleEndedIterator<Item = usize> + use<> {
        self.order.into_iter().filter(|&form| form > 0).map(|form| usize::from(form & FORM) - 1)
    }

    pub fn is_empty(&self) -> bool {
        self.order[0] == 0
    }

    fn has(&self, form: usize) -> bool {
        self.iter().any(|open| open == form)
    }

    fn push(&mut self, form: usize) {
        if let Some(free) = self.order.iter_mut().find(|form| **form == 0) {
            *free = form as u8 + 1;
        }
    }

    /// Those that the next word carries on, one bit each.
    pub fn carried(&self) -> u8 {
        self.order
            .iter()
            .filter(|&form| form & CARRIED > 0)
            .fold(0, |bits, form| bits | 1 << ((form & FORM) - 1))
    }

    fn carry(&mut self, bits: u8) {
        for form in self.order.iter_mut().filter(|form| **form > 0) {
            *form &= !CARRIED;
            if bits & 1 << ((*form & FORM) - 1) > 0 {
                *form |= CARRIED;
            }
        }
    }

    /// Those whose mark is due, one bit each.
    fn due(&self) -> u8 {
        self.order.iter().filter(|&form| form & DUE > 0).fold(0, |bits, form| bits | 1 << ((form & FORM) - 1))
    }

    /// The marks that are due.
    pub fn open_due(&mut self) -> String {
        let due = self.due();
        self.order.iter_mut().for_each(|form| *form &= !DUE);
        self.iter().filter(|form| due & 1 << form > 0).map(|form| TYPEFORMS[form].open).collect()
    }

    /// Closes those of `bits`; those opened after them close too and open again, at once or with the next word.
    /// Gives the marks.
    fn close(&mut self, bits: u8, word_ends: bool) -> String {
        let open: Vec<usize> = self.iter().collect();
        let Some(first) = open.iter().position(|form| bits & 1 << form > 0) else { return String::new() };
        let (carried, due) = (self.carried(), self.due());
        let written = |form: &&usize| due & 1 << **form == 0;
        let mut marks: String =
            open[first..].iter().rev().filter(written).map(|&form| TYPEFORMS[form].close).collect();
        *self = Faces::default();
        for (place, &form) in open.iter().enumerate() {
            if place < first || bits & 1 << form == 0 {
                self.push(form);
            }
            if place >= first && bits & 1 << form == 0 && !word_ends {
                marks.push_str(TYPEFORMS[form].open);
            }
        }
        self.carry(carried);
        for form in self.order.iter_mut().filter(|form| **form > 0) {
            let (bit, place) =
                (1 << ((*form & FORM) - 1), open.iter().position(|&o| o + 1 == usize::from(*form & FORM)));
            let again = word_ends && place.is_some_and(|place| place > first);
            if again || due & bit > 0 && place.is_some_and(|place| place < first) {
                *form |= DUE;
            }
        }
        marks
    }
}

impl Word<'_> {
    /// A typeform indicator or terminator; false when there is none.
    pub(super) fn typeform(&mut self) -> bool {
        if let Some(own) = self.t.own_typeforms.iter().find(|own| self.matches(self.i, &own.cells)) {
            self.indicator(3, Some(own.sign), "9.5");
            self.turn();
            return true;
        }
        let (Some(form), Some(extent)) = (form_of(self.at(self.i)), Extent::of(self.at(self.i + 1))) else {
            return false;
        };
        if self.options.marks {
            match extent {
                Extent::Symbol => {
                    if !self.faces_next.has(form) {
                        self.faces_next.push(form);
                    }
                }
                Extent::Word | Extent::Passage => self.open_face(form, extent),
                Extent::End => {
                    let bits = self.ends_here();
                    let word_ends = self.i + 2 * bits.count_ones() as usize >= self.cells.len();
                    let marks = self.mode.faces.close(bits, word_ends);
                    self.out.mark(&marks);
                    self.face_words &= !bits;
                }
            }
        }
        let sign = self.t.typeforms[form][extent as usize];
        self.indicator(2, sign, "");
        self.turn();
        true
    }

    fn open_face(&mut self, form: usize, extent: Extent) {
        if !self.mode.faces.has(form) {
            if self.face_words == 0 {
                self.face_from = self.out.print.len();
            }
            self.mode.faces.push(form);
            self.out.mark(TYPEFORMS[form].open);
            if extent == Extent::Word {
                self.face_words |= 1 << form;
            }
        }
        if extent == Extent::Passage {
            self.face_words &= !(1 << form);
        }
    }

    /// An italic sign of older books: before the last word of a passage, it ends the passage with that word.
    pub(super) fn open_italic(&mut self, extent: Extent) {
        const ITALIC: usize = 0;
        if self.options.marks {
            if extent == Extent::Word && self.mode.faces.has(ITALIC) {
                self.face_words |= 1 << ITALIC;
            }
            self.open_face(ITALIC, extent);
        }
        self.turn();
    }

    /// Letters before an indicator are not letters of the same sequence as those after it: no contraction goes over
    /// it, and capitals of a word end (8.4.2, 10.6.6, 10.8.2).
    pub(super) fn turn(&mut self) {
        self.capitals_word = false;
        self.apart();
    }

    /// The same for an indicator that capitals go over.
    pub(super) fn apart(&mut self) {
        if self.before == Before::Letter {
            self.before = Before::Other;
        }
    }

    /// The typeforms whose terminators stand here one after another.
    fn ends_here(&self) -> u8 {
        let mut bits = 0;
        let mut i = self.i;
        while let Some(form) = form_of(self.at(i))
            && self.at(i + 1) == b'\''
        {
            bits |= 1 << form;
            i += 2;
        }
        bits
    }

    /// Typeforms of words end with the run, but for those that the next word begins with. What closes a bracket or
    /// quotation that was opened before them stays outside (9.7.1), and so do a dash and an ellipsis (9.7.2); other
    /// stops are taken to be in the typeform, as 9.7.2 has it when in doubt. Passages that are open end with the text.
    pub(super) fn close_faces(&mut self) {
        if self.mode.faces.is_empty() {
            return;
        }
        let goes_on = self.next_words_faces() & self.face_words;
        let ends = self.face_words & !goes_on;
        if ends > 0 {
            let marks = self.mode.faces.close(ends, true);
            let at = self.outside();
            self.out.insert(at, &marks);
        }
        self.face_words = goes_on;
        self.mode.faces.carry(goes_on);
        if self.rest.iter().all(|cell| cell.is_blank()) {
            let due = self.mode.faces.due();
            let open = self.mode.faces.iter().rev().filter(|form| due & 1 << form == 0);
            let marks: String = open.map(|form| TYPEFORMS[form].close).collect();
            self.out.mark(&marks);
        }
    }

    /// The typeforms whose word indicators the next word begins with.
    fn next_words_faces(&self) -> u8 {
        let mut bits = 0;
        let Some((_, mut next)) = self.rest.split_first().filter(|(first, _)| first.is_blank()) else {
            return 0;
        };
        while let [prefix, root, after @ ..] = next
            && let Some(form) = form_of(prefix.to_ascii() as u8)
            && *root == Cell::from_ascii('1').unwrap_or_default()
        {
            bits |= 1 << form;
            next = after;
        }
        bits
    }

    /// Where, in bytes of the print, a typeform that ends with the run ends.
    fn outside(&self) -> usize {
        const OPEN: [char; 6] = ['(', '[', '{', '“', '‘', '«'];
        const CLOSE: [char; 6] = [')', ']', '}', '”', '’', '»'];
        let print = &self.out.print;
        let word = print.get(self.face_from..).unwrap_or_default();
        let stops = ['.', ',', ';', ':', '!', '?', '—', '-', '"'];
        let kept = word.trim_end_matches(|c| stops.contains(&c) || CLOSE.contains(&c));
        let count = |set: &[char]| kept.chars().filter(|c| set.contains(c)).count();
        let mut open = count(&OPEN).saturating_sub(count(&CLOSE));
        let tail = &word[kept.len()..];
        for (at, c) in tail.char_indices() {
            let outside = match c {
                '—' | '-' | '"' => true,
                '.' => tail[at..].starts_with("..."),
                c if CLOSE.contains(&c) => {
                    open = open.wrapping_sub(1);
                    open == usize::MAX
                }
                _ => false,
            };
            if outside {
                return self.face_from + kept.len() + at;
            }
        }
        print.len()
    }
}
