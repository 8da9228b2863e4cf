//! Reads one run of cells without a blank, in the modes that hold where it begins.

use unicode_normalization::char::compose;

use super::tables::{Entry, Tables};
use crate::cell::Cell;
use crate::ueb::{Piece, ReadOptions, Remark, SignId};

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

/// The prefix of each typeform's indicators, its name, and its marks (9.1).
const TYPEFORMS: [(u8, &str, &str, &str); 4] = [
    (b'.', "italic", "*", "*"),
    (b'^', "boldface", "**", "**"),
    (b'_', "underline", "<u>", "</u>"),
    (b'@', "script", "~", "~"),
];

/// The print and, when asked for, the pieces.
pub(super) struct Sink {
    pub print: String,
    /// Unicode scalar values in `print`.
    pub chars: usize,
    pub pieces: Option<Vec<Piece>>,
    /// Where the run being read begins, in cells.
    pub base: usize,
}

impl Sink {
    pub fn new(pieces: bool) -> Sink {
        Sink { print: String::new(), chars: 0, pieces: pieces.then(Vec::new), base: 0 }
    }

    /// Print that belongs to no sign: the marks of typeforms and scripts.
    fn mark(&mut self, text: &str) {
        self.print.push_str(text);
        self.chars += text.chars().count();
    }

    pub fn put(
        &mut self,
        from: usize,
        to: usize,
        text: &str,
        sign: Option<SignId>,
        section: &'static str,
        remark: Remark,
    ) {
        let start = self.chars;
        self.mark(text);
        if let Some(pieces) = &mut self.pieces {
            let section = match sign {
                Some(id) if section.is_empty() => crate::ueb::register::get(id).section,
                _ => section,
            };
            pieces.push(Piece {
                cells: self.base + from..self.base + to,
                print: start..self.chars,
                sign,
                section,
                remark,
            });
        }
    }
}

/// What the sign before was.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Before {
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
    t: &'a Tables,
    cells: &'a [Cell],
    options: &'a ReadOptions,
    out: &'a mut Sink,
    pub mode: Mode,
    i: usize,
    grade1_word: bool,
    grade1_next: bool,
    numeric: bool,
    /// Grade 1 set by numeric mode (6.5).
    grade1_number: bool,
    capitals_word: bool,
    capital_next: bool,
    /// Only opening marks since the blank, hyphen or dash before (2.6.2).
    lead: bool,
    /// The sign before was an opening bracket.
    opened: bool,
    /// No sign with lower dots only since the blank before (10.5.1).
    clear: bool,
    before: Before,
    typeform_next: Option<usize>,
    typeform_words: u8,
    /// Braille grouping signs that close a script: whether a mark is due at each.
    groups: Vec<bool>,
    /// The whole run ends the text, so that a prefix at its end waits.
    last: bool,
    /// The cells after the run.
    rest: &'a [Cell],
}

/// Words of Appendix 1 that are no nouns or verbs, so that no "s" may be added to them.
const NEVER_PLURAL: [&str; 19] = [
    "about",
    "above",
    "according",
    "across",
    "again",
    "against",
    "almost",
    "already",
    "also",
    "although",
    "altogether",
    "because",
    "between",
    "beneath",
    "could",
    "him",
    "should",
    "such",
    "necessary",
];

const FRACTIONS: [(&str, &str); 19] = [
    ("b/c", "⅔"),
    ("a/c", "⅓"),
    ("a/b", "½"),
    ("a/d", "¼"),
    ("c/d", "¾"),
    ("a/e", "⅕"),
    ("b/e", "⅖"),
    ("c/e", "⅗"),
    ("d/e", "⅘"),
    ("a/f", "⅙"),
    ("e/f", "⅚"),
    ("a/g", "⅐"),
    ("a/h", "⅛"),
    ("c/h", "⅜"),
    ("e/h", "⅝"),
    ("g/h", "⅞"),
    ("a/i", "⅑"),
    ("a/aj", "⅒"),
    ("j/c", "↉"),
];

fn digit(c: u8) -> Option<char> {
    match c {
        b'a'..=b'i' => Some(char::from(c - b'a' + b'1')),
        b'j' => Some('0'),
        _ => None,
    }
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
    fn key(&self, key: &str) -> Option<SignId> {
        self.out.pieces.as_ref().and_then(|_| self.t.key(key))
    }

    fn at(&self, i: usize) -> u8 {
        self.cells.get(i).map_or(0, |c| c.to_ascii() as u8)
    }

    fn has(&self, i: usize, text: &str) -> bool {
        text.bytes().enumerate().all(|(k, b)| self.at(i + k) == b)
    }

    fn matches(&self, i: usize, cells: &[Cell]) -> bool {
        self.cells.get(i..).is_some_and(|rest| rest.starts_with(cells))
    }

    fn grade1(&self) -> bool {
        !self.options.contracted
            || self.mode.grade1
            || self.grade1_word
            || self.grade1_next
            || self.grade1_number
    }

    /// An indicator or any sign without print of its own.
    fn indicator(&mut self, len: usize, key: &str, section: &'static str) {
        let sign = self.key(key);
        self.out.put(self.i, self.i + len, "", sign, section, Remark::None);
        self.i += len;
    }

    fn unknown(&mut self, len: usize) {
        let text: String = self.cells[self.i..self.i + len].iter().map(|c| c.to_unicode()).collect();
        self.out.put(self.i, self.i + len, &text, None, "", Remark::Unknown);
        self.i += len;
        self.after(Before::Other);
    }

    /// A sign that stands for print; opens and closes the typeform of one sign.
    fn graphic(&mut self, len: usize, text: &str, sign: Option<SignId>, before: Before) {
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

    fn after(&mut self, before: Before) {
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

    fn run(&mut self) {
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

    fn digit_follows(&self) -> bool {
        digit(self.at(self.i)).is_some()
            || matches!(self.at(self.i), b'1' | b'4' | b'/') && digit(self.at(self.i + 1)).is_some()
    }

    /// Whether the indicator read at `from` began a superscript or subscript (3.24).
    fn begun_script(&self, from: usize) -> Option<&'static str> {
        match (self.i == from + 1, self.at(from)) {
            (true, b'9') => Some("^{"),
            (true, b'5') => Some("_{"),
            _ => None,
        }
    }

    /// Typeform words end with the run; stops and commas at its end stay outside (9.7 follows print, which
    /// the braille does not tell).
    fn close_words(&mut self) {
        self.mode.carried = 0;
        if self.typeform_words == 0 || !self.options.marks {
            return;
        }
        for (k, form) in TYPEFORMS.iter().enumerate() {
            let on = [b' ', form.0, b'1'];
            let goes_on =
                self.rest.len() > 3 && self.rest.iter().zip(on).all(|(c, b)| c.to_ascii() as u8 == b);
            if self.typeform_words == 1 << k && goes_on {
                self.mode.carried = self.typeform_words;
                return;
            }
        }
        let marks: String =
            (0..4).rev().filter(|k| self.typeform_words & 1 << k != 0).map(|k| TYPEFORMS[k].3).collect();
        let kept = self.out.print.trim_end_matches(['.', ',', ';', ':', '”', '’', '"', ')', ']']).len();
        let tail = self.out.print[kept..].chars().count();
        self.out.print.insert_str(kept, &marks);
        let (by, from) = (marks.chars().count(), self.out.chars - tail);
        self.out.chars += by;
        if let Some(pieces) = &mut self.out.pieces {
            for piece in pieces.iter_mut().rev().take_while(|p| p.print.start >= from) {
                piece.print = piece.print.start + by..piece.print.end + by;
            }
        }
        self.typeform_words = 0;
    }

    fn group_sign(&mut self) -> bool {
        if !self.grade1() && self.groups.is_empty() {
            return false;
        }
        match self.at(self.i) {
            b'<' => {
                self.indicator(1, "opening braille grouping indicator", "3.4");
                self.groups.push(false);
                true
            }
            b'>' if !self.groups.is_empty() => {
                self.indicator(1, "closing braille grouping indicator", "3.4");
                if self.groups.pop() == Some(true) {
                    self.out.mark("}");
                }
                self.after(Before::Other);
                true
            }
            _ => false,
        }
    }

    /// Numeric mode (6.2, 6.3, 6.6); false when it has ended.
    fn number(&mut self) -> bool {
        let (i, c, next) = (self.i, self.at(self.i), self.at(self.i + 1));
        if let Some(d) = digit(c) {
            if !matches!(self.at(i.wrapping_sub(1)), b'/')
                && let Some((len, print)) = self.fraction()
            {
                for k in 0..len {
                    let sign = match self.at(i + k) {
                        b'/' => self.key("simple numeric fraction line"),
                        c => self.digit_sign(c),
                    };
                    self.out.put(
                        i + k,
                        i + k + 1,
                        if k == 0 { print } else { "" },
                        sign,
                        "6.4",
                        Remark::None,
                    );
                }
                self.i += len;
                self.after(Before::Digit);
                return true;
            }
            let sign = self.digit_sign(c);
            self.graphic(1, d.encode_utf8(&mut [0; 4]), sign, Before::Digit);
            return true;
        }
        match c {
            b'1' if digit(next).is_some() || next == 0 || self.mode.numeric => {
                let sign = self.key("comma");
                self.graphic(1, ",", sign, Before::Digit);
            }
            b'4' if next != b'4' => {
                let sign = self.key("full stop");
                self.graphic(1, ".", sign, Before::Digit);
                self.numeric = self.mode.numeric || digit(next).is_some();
            }
            b'/' if digit(next).is_some() => {
                let sign = self.key("simple numeric fraction line");
                self.graphic(1, "⁄", sign, Before::Digit);
            }
            // American books before 2016 wrote no second numeric indicator after a hyphen (from memory).
            b'-' if self.options.older && self.only_digits(i + 1) => {
                self.retired(1, "-", "1.3", false);
                self.numeric = true;
            }
            b'"' if digit(next).is_some() => {
                let key = format!("numeric space before digit {}", digit(next).unwrap_or('0'));
                let print = format!("\u{a0}{}", digit(next).unwrap_or('0'));
                let sign = self.key(&key);
                self.graphic(2, &print, sign, Before::Digit);
            }
            b'"' if i + 1 == self.cells.len() && !self.last => {
                self.indicator(1, "line continuation indicator", "6.10");
            }
            _ => {
                self.numeric = false;
                return false;
            }
        }
        true
    }

    /// Whether nothing but digits, then an end, stands from `i` on.
    fn only_digits(&self, i: usize) -> bool {
        let end = (i..self.cells.len()).find(|&k| digit(self.at(k)).is_none()).unwrap_or(self.cells.len());
        end > i && self.free_after(end)
    }

    fn digit_sign(&self, c: u8) -> Option<SignId> {
        const KEYS: [&str; 10] = [
            "digit 1", "digit 2", "digit 3", "digit 4", "digit 5", "digit 6", "digit 7", "digit 8",
            "digit 9", "digit 0",
        ];
        self.key(KEYS.get(usize::from(c.wrapping_sub(b'a')))?)
    }

    /// A simple fraction for which print has a character of its own (6.4).
    fn fraction(&self) -> Option<(usize, &'static str)> {
        if self.i == 0 || self.at(self.i - 1) != b'#' {
            return None;
        }
        FRACTIONS.iter().find_map(|&(cells, print)| {
            let end = self.i + cells.len();
            let over = digit(self.at(end)).is_some()
                || matches!(self.at(end), b'/' | b'1' | b'4' if digit(self.at(end + 1)).is_some());
            (self.has(self.i, cells) && !over).then_some((cells.len(), print))
        })
    }

    /// Indicators that stand for no print of their own; false when there is none here.
    fn indicators(&mut self) -> bool {
        let (i, c, next) = (self.i, self.at(self.i), self.at(self.i + 1));
        match c {
            b';' => return self.grade1_indicator(),
            b',' => {
                if self.has(i, ",,,") {
                    self.indicator(3, "capitalised passage indicator", "8.5");
                    self.mode.capitals = true;
                } else if next == b',' {
                    self.indicator(2, "capitalised word indicator", "8.4");
                    self.capitals_word = true;
                } else if next == b'\''
                    && (self.mode.capitals || self.capitals_word || self.before == Before::Letter)
                {
                    self.indicator(2, "capitals terminator", "8.6");
                    (self.mode.capitals, self.capitals_word) = (false, false);
                } else if !self.capital_before(i + 1) {
                    return false;
                } else {
                    self.indicator(1, "capital letter indicator", "8.3");
                    (self.capital_next, self.capitals_word) = (true, false);
                }
                return true;
            }
            b'#' => {
                if self.has(i, "##") {
                    self.indicator(2, "numeric passage indicator", "6.9");
                    (self.mode.numeric, self.numeric, self.grade1_number) = (true, true, true);
                } else if next == b'\'' {
                    self.indicator(2, "numeric passage terminator", "6.9");
                    (self.mode.numeric, self.numeric, self.grade1_number) = (false, false, false);
                } else if digit(next).is_some() || matches!(next, b'1' | b'4') {
                    self.indicator(1, "numeric indicator", "6.1");
                    (self.numeric, self.grade1_number, self.grade1_next) = (true, true, false);
                } else {
                    return false;
                }
                self.lead = false;
                return true;
            }
            b'@' | b'^' | b'_' | b'.' => {
                if let Some(done) = self.typeform_indicator(c, next) {
                    return done;
                }
                if self.has(i, "@.<") || self.has(i, "@.>") {
                    let opening = self.at(i + 2) == b'<';
                    let key = if opening {
                        "opening transcriber's note indicator"
                    } else {
                        "closing transcriber's note indicator"
                    };
                    let sign = self.key(key);
                    self.out.put(i, i + 3, if opening { "[" } else { "]" }, sign, "3.27", Remark::None);
                    self.i += 3;
                    return true;
                }
                return false;
            }
            b'5' | b'9' => {
                let script = self.grade1();
                if script && next != 0 {
                    let key = if c == b'9' { "superscript indicator" } else { "subscript indicator" };
                    self.indicator(1, key, "3.24");
                    self.numeric = false;
                    self.grade1_next = false;
                    return true;
                }
            }
            b'"' if self.has(i, "\"\"") && i + 2 == self.cells.len() => {
                self.out.put(
                    i,
                    i + 2,
                    "",
                    self.key("line continuation indicator with space"),
                    "6.10",
                    Remark::None,
                );
                self.i += 2;
                return true;
            }
            _ => {}
        }
        false
    }

    /// Whether dot 6 before the cell at `i` is a capital letter indicator, and not the first cell of another sign.
    fn capital_before(&self, i: usize) -> bool {
        let literal = self.grade1();
        match self.at(i) {
            0 | b'-' => false,
            b'1' | b'6' => false,
            b'*' => !literal,
            b'7' | b'8' | b'0' => {
                !literal && self.lead && self.clear && self.free_after(i + 1) && !self.lower_after(i + 1)
            }
            b'5' | b'9' => !literal,
            b'2' | b'3' | b'4' => {
                !literal && (self.letters_at(i + 1) || self.at(i) == b'2' && self.free_after(i + 1))
            }
            _ => true,
        }
    }

    fn grade1_indicator(&mut self) -> bool {
        let i = self.i;
        if self.has(i, ";;;") {
            self.indicator(3, "grade 1 passage indicator", "5.4");
            self.mode.grade1 = true;
        } else if self.has(i, ";;") {
            self.indicator(2, "grade 1 word indicator", "5.3");
            self.grade1_word = true;
        } else if self.has(i, ";'") {
            self.indicator(2, "grade 1 terminator", "5.5");
            (self.mode.grade1, self.grade1_word, self.grade1_number) = (false, false, false);
        } else if i + 1 == self.cells.len() && self.last
            || self.before == Before::Letter && !self.grade1() && self.final_letter().is_some()
        {
            return false;
        } else {
            self.indicator(1, "grade 1 symbol indicator", "5.2");
            self.grade1_next = true;
            self.numeric = false;
            return true;
        }
        self.numeric = self.mode.numeric;
        true
    }

    fn typeform_indicator(&mut self, c: u8, next: u8) -> Option<bool> {
        const KINDS: [[&str; 4]; 4] = [
            [
                "italic symbol indicator",
                "italic word indicator",
                "italic passage indicator",
                "italic terminator",
            ],
            [
                "boldface symbol indicator",
                "boldface word indicator",
                "boldface passage indicator",
                "boldface terminator",
            ],
            [
                "underline symbol indicator",
                "underline word indicator",
                "underline passage indicator",
                "underline terminator",
            ],
            [
                "script symbol indicator",
                "script word indicator",
                "script passage indicator",
                "script terminator",
            ],
        ];
        if next == b'#' {
            if matches!(self.at(self.i + 2), b'1' | b'2' | b'7' | b'\'') {
                let cells = &self.cells[self.i..self.i + 3];
                let sign = crate::ueb::register::by_cells(cells).next().map(|s| s.id);
                self.out.put(self.i, self.i + 3, "", sign, "9.5", Remark::None);
                self.i += 3;
                return Some(true);
            }
            return None;
        }
        let form = TYPEFORMS.iter().position(|f| f.0 == c)?;
        let (bit, marks) = (1u8 << form, self.options.marks);
        let kind = match next {
            b'2' => 0,
            b'1' => 1,
            b'7' => 2,
            b'\'' => 3,
            _ => return None,
        };
        match kind {
            0 => self.typeform_next = Some(form),
            1 => {
                self.typeform_words |= bit;
                if self.mode.carried & bit != 0 {
                    self.mode.carried &= !bit;
                } else if marks {
                    self.out.mark(TYPEFORMS[form].2);
                }
            }
            2 => {
                self.mode.typeforms |= bit;
                if marks {
                    self.out.mark(TYPEFORMS[form].2);
                }
            }
            _ => {
                if marks && (self.typeform_words | self.mode.typeforms) & bit != 0 {
                    self.out.mark(TYPEFORMS[form].3);
                }
                if self.typeform_words & bit != 0 {
                    self.typeform_words &= !bit;
                } else {
                    self.mode.typeforms &= !bit;
                }
            }
        }
        self.indicator(2, KINDS[form][kind], "9.1");
        Some(true)
    }

    fn find<'t>(&self, list: &'t [Vec<Entry>], i: usize) -> Option<&'t Entry> {
        let first = self.cells.get(i)?;
        list[usize::from(first.bits())].iter().find(|e| self.matches(i, &e.cells))
    }

    fn final_letter(&self) -> Option<&'a Entry> {
        self.find(&self.t.last, self.i)
    }

    /// Whether what follows `i` lets a letters-sequence that ends there stand alone (2.6.3).
    fn free_after(&self, mut i: usize) -> bool {
        loop {
            match self.at(i) {
                0 | b'-' => return true,
                b'1' | b'2' | b'3' | b'4' | b'6' | b'8' | b'0' | b'\'' => i += 1,
                b',' if matches!(self.at(i + 1), b'-') => return true,
                b',' if matches!(self.at(i + 1), b'7' | b'0' | b'\'') => i += 2,
                b'"' if self.has(i, "\",-") => return true,
                b'"' | b'.' | b'_' if self.at(i + 1) == b'>' => i += 2,
                b'^' if self.at(i + 1) == b'0' => i += 2,
                b'.' | b'^' | b'_' | b'@' if self.at(i + 1) == b'\'' => i += 2,
                b'@' if self.has(i, "@.>") => i += 3,
                b'.' | b'^' | b'_' | b'@' if self.at(i + 1) == b'#' && self.at(i + 2) == b'\'' => i += 3,
                _ => return false,
            }
        }
    }

    /// The letters of 10.1.2 after an apostrophe, with nothing but the end after them.
    fn free_after_apostrophe(&self, i: usize) -> bool {
        if self.at(i) != b'\'' {
            return false;
        }
        let mut j = i + 1;
        while self.at(j) == b',' {
            j += 1;
        }
        ["d", "ll", "re", "s", "t", "ve"].iter().any(|e| self.has(j, e) && self.free_after(j + e.len()))
    }

    /// Whether a sign of only lower dots touches at `i` (10.5.1).
    fn lower_after(&self, i: usize) -> bool {
        match self.at(i) {
            b'-' | b'1'..=b'9' | b'0' | b'\'' => true,
            b',' => matches!(self.at(i + 1), b'-' | b'7' | b'8' | b'0'),
            b'^' => self.at(i + 1) == b'0',
            b'"' => self.has(i, "\",-"),
            _ => false,
        }
    }

    /// A letter or a sign that stands for letters begins at `i`, without an indicator.
    fn letters_at(&self, i: usize) -> bool {
        let Some(cell) = self.cells.get(i) else { return false };
        let bits = usize::from(cell.bits());
        self.t.letters[bits].is_some()
            || self.t.groups[bits].is_some()
            || self.find(&self.t.initial, i).is_some()
            || self.find(&self.t.last, i).is_some()
            || self.find(&self.t.modifiers, i).is_some()
            || matches!(self.at(i), b'1' | b'2' | b'3' | b'6' | b'7')
                && i + 1 < self.cells.len()
                && self.plain_letters_at(i + 1)
    }

    fn plain_letters_at(&self, i: usize) -> bool {
        self.cells.get(i).is_some_and(|c| {
            self.t.letters[usize::from(c.bits())].is_some() || self.t.groups[usize::from(c.bits())].is_some()
        })
    }

    fn letter(&mut self, c: char, sign: Option<SignId>) {
        let mut len = 1;
        let mut print = String::new();
        // A ligature (4.3): letter, indicator, letter.
        if self.has(self.i + 1, "^6") {
            let mut j = self.i + 3;
            while self.at(j) == b',' {
                j += 1;
            }
            if let Some((second, second_sign)) =
                self.cells.get(j).and_then(|n| self.t.letters[usize::from(n.bits())])
            {
                match (c, second) {
                    ('a', 'e') => print.push('æ'),
                    ('o', 'e') => print.push('œ'),
                    _ => print.extend([c, '\u{361}', second]),
                }
                self.graphic(len, &print, sign, Before::Letter);
                let i = self.i;
                self.out.put(i, j, "", self.key("ligature indicator"), "4.3", Remark::None);
                self.out.put(j, j + 1, "", Some(second_sign), "4.3", Remark::None);
                self.i = j + 1;
                return;
            }
        }
        print.push(c);
        len = len.max(1);
        self.graphic(len, &print, sign, Before::Letter);
    }

    /// One sign that stands for print.
    fn sign(&mut self) {
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

    /// Arrows and simple shapes, in grade 1 mode (11.6, 11.7).
    fn technical(&mut self) -> bool {
        if !self.grade1() {
            return false;
        }
        const SIGNS: [(&str, &str); 16] = [
            ("\\o", "→"),
            ("\\[", "←"),
            ("\\+", "↑"),
            ("\\%", "↓"),
            ("\\s", "↗"),
            ("\\:", "↖"),
            ("\\<", "↘"),
            ("\\>", "↙"),
            ("\\4%", "↵"),
            ("$=", "○"),
            ("$#c", "△"),
            ("$#d", "□"),
            ("$#e", "⬠"),
            ("$#f", "⬡"),
            ("%", "√"),
            ("!", "∫"),
        ];
        for (cells, print) in SIGNS {
            if self.has(self.i, cells) {
                let key = match cells.as_bytes()[0] {
                    b'\\' => "arrow indicator",
                    b'$' => "shape indicator",
                    b'%' => "open radical",
                    _ => "integral sign",
                };
                let sign = self.key(key);
                self.graphic(cells.len(), print, sign, Before::Other);
                return true;
            }
        }
        let key = match self.at(self.i) {
            b'(' => "general fraction open indicator",
            b')' => "general fraction close indicator",
            b'+' => "close radical",
            _ => return false,
        };
        self.indicator(1, key, "11");
        true
    }

    /// A modifier and the letter, or the group of letters, that it modifies (4.2).
    fn modified(&mut self, entry: &Entry) -> bool {
        let mut j = self.i + entry.cells.len();
        let mut marks: String = entry.print.to_owned();
        // A letter has few marks; the bound keeps the whole reading linear.
        while marks.chars().count() < 4
            && let Some(more) = self.find(&self.t.modifiers, j)
        {
            marks.push_str(more.print);
            j += more.cells.len();
        }
        let mut capital = false;
        while self.at(j) == b',' {
            capital = true;
            j += 1;
        }
        let group = self.at(j) == b'<';
        if group {
            let close = (j + 1..self.cells.len().min(j + 12)).find(|&k| self.at(k) == b'>');
            let Some(close) = close else { return false };
            let letters: Option<String> = self.cells[j + 1..close]
                .iter()
                .map(|c| self.t.letters[usize::from(c.bits())].map(|l| l.0))
                .collect();
            let Some(letters) = letters else { return false };
            let double = match entry.print {
                "\u{304}" => '\u{35e}',
                "\u{306}" => '\u{35d}',
                "\u{303}" => '\u{360}',
                _ => return false,
            };
            let mut chars = letters.chars();
            let mut text = String::new();
            text.extend(chars.next());
            text.push(double);
            text.extend(chars);
            self.graphic(close + 1 - self.i, &text, Some(entry.sign), Before::Letter);
            return true;
        }
        let Some((letter, sign)) = self.cells.get(j).and_then(|c| self.t.letters[usize::from(c.bits())])
        else {
            return false;
        };
        let mut base = letter;
        let mut rest = String::new();
        for mark in marks.chars() {
            let solid = match (base, mark) {
                ('l', '\u{338}') => Some('ł'),
                ('o', '\u{338}') => Some('ø'),
                ('d', '\u{336}') => Some('đ'),
                ('h', '\u{336}') => Some('ħ'),
                _ => compose(base, mark),
            };
            match solid {
                Some(one) if rest.is_empty() => base = one,
                _ => rest.push(mark),
            }
        }
        rest.insert(0, base);
        self.capital_next |= capital;
        let (next, i) = (self.capital_next, self.i);
        let _ = next;
        self.out.put(i, j, "", Some(entry.sign), "", Remark::None);
        self.i = j;
        self.graphic(1, &rest, Some(sign), Before::Letter);
        true
    }

    /// A word that stands alone, or a shortform (10.1, 10.2, 10.5, 10.9).
    fn word(&mut self) -> bool {
        let i = self.i;
        let bits = usize::from(self.cells[i].bits());
        if let Some((print, sign, class)) = self.t.words[bits] {
            let end = i + 1;
            let free = match print {
                "be" | "were" | "his" | "was" => self.clear && self.free_after(end) && !self.lower_after(end),
                "enough" => self.free_after(end) || self.has(end, "'s") && self.free_after(end + 2),
                _ if class == crate::ueb::Class::LowerWordsign => false,
                _ => self.free_after(end) || self.free_after_apostrophe(end),
            };
            if free {
                self.graphic(1, print, Some(sign), Before::Letter);
                return true;
            }
        }
        self.shortforms()
    }

    /// A letters-sequence with shortforms in it, when it is one that may have them (10.9.2, 10.9.3).
    fn shortforms(&mut self) -> bool {
        let start = self.i;
        // Where the letters-sequence ends.
        let mut end = start;
        let mut any = false;
        while end < self.cells.len() && end - start <= 30 {
            if let Some(e) = self.find(&self.t.short, end) {
                any = true;
                let _ = e;
            }
            let step = if let Some(e) = self.find(&self.t.initial, end) {
                e.cells.len()
            } else if self.plain_letters_at(end) {
                1
            } else if end > start && self.find(&self.t.last, end).is_some() {
                2
            } else if matches!(self.at(end), b'1' | b'2' | b'3' | b'4' | b'6' | b'7')
                && self.letters_at(end + 1)
                && (end > start || matches!(self.at(end), b'2' | b'3' | b'4'))
            {
                1
            } else {
                break;
            };
            end += step;
        }
        if !any || end == start || end - start > 30 || !(self.free_after(end) || self.at(end) == b'\'') {
            return false;
        }
        let mut parts: Vec<(usize, &'static str, SignId)> = Vec::new();
        let mut word = String::new();
        if !self.compose_word(start, start, end, &mut parts, &mut word, 0, false) {
            return false;
        }
        for (len, print, sign) in parts {
            if len == 1 && print.len() == 1 {
                let c = print.chars().next().unwrap_or(' ');
                self.letter(c, Some(sign));
            } else {
                self.graphic(len, print, Some(sign), Before::Letter);
            }
        }
        true
    }

    #[allow(clippy::too_many_arguments)]
    fn compose_word(
        &self,
        start: usize,
        at: usize,
        end: usize,
        parts: &mut Vec<(usize, &'static str, SignId)>,
        word: &mut String,
        tries: usize,
        used: bool,
    ) -> bool {
        if at == end {
            return used && self.may_have_shortforms(start, end, parts, word);
        }
        let keep = word.len();
        // The most shortforms first; bounded, for a run has at most thirty cells.
        if tries < 3 {
            let bits = usize::from(self.cells[at].bits());
            for e in &self.t.short[bits] {
                if self.matches(at, &e.cells) && at + e.cells.len() <= end {
                    parts.push((e.cells.len(), e.print, e.sign));
                    word.push_str(e.print);
                    if self.compose_word(start, at + e.cells.len(), end, parts, word, tries + 1, true) {
                        return true;
                    }
                    parts.pop();
                    word.truncate(keep);
                }
            }
        }
        let bits = usize::from(self.cells[at].bits());
        let lower = match self.at(at) {
            b'1' => Some(("ea", "groupsign ea")),
            b'2' if at == start => Some(("be", "groupsign be")),
            b'3' if at == start => Some(("con", "groupsign con")),
            b'4' if at == start => Some(("dis", "groupsign dis")),
            b'2' => Some(("bb", "groupsign bb")),
            b'3' => Some(("cc", "groupsign cc")),
            b'6' => Some(("ff", "groupsign ff")),
            b'7' => Some(("gg", "groupsign gg")),
            _ => None,
        };
        let part = if let Some(e) = self.find(&self.t.initial, at) {
            Some((e.cells.len(), e.print, e.sign))
        } else if let Some(e) = self.find(&self.t.last, at).filter(|_| at > start) {
            Some((e.cells.len(), e.print, e.sign))
        } else if let Some((print, key)) = lower {
            self.t.key(key).map(|sign| (1, print, sign))
        } else if let Some((print, sign)) = self.t.groups[bits] {
            Some((1, print, sign))
        } else {
            self.t.letters[bits].map(|(_, sign)| (1, crate::ueb::register::get(sign).print, sign))
        };
        let Some(part) = part.filter(|p| at + p.0 <= end) else { return false };
        parts.push(part);
        word.push_str(part.1);
        if self.compose_word(start, at + part.0, end, parts, word, tries, used) {
            return true;
        }
        parts.pop();
        word.truncate(keep);
        false
    }

    fn may_have_shortforms(
        &self,
        start: usize,
        end: usize,
        parts: &[(usize, &'static str, SignId)],
        word: &str,
    ) -> bool {
        let _ = start;
        // "be", "con" and "dis" begin a word as groupsigns (10.6.1): spelt out, the letters are no such word.
        let spelt = parts.iter().take_while(|p| p.0 == 1 && p.1.len() == 1).map(|p| p.1).collect::<String>();
        if ["be", "con", "dis"].iter().any(|p| spelt.starts_with(p)) {
            return false;
        }
        let listed = |w: &str| self.t.listed.contains(w);
        if listed(word) || word.strip_suffix('s').is_some_and(|w| listed(w) && !NEVER_PLURAL.contains(&w)) {
            return true;
        }
        if self.at(end) == b'\'' {
            let tail: String = (end..self.cells.len())
                .map(|k| char::from(self.at(k)))
                .take_while(|c| c.is_ascii_lowercase() || *c == '\'')
                .collect();
            if listed(&format!("{word}{tail}")) {
                return true;
            }
        }
        // 10.9.3
        let mut text = 0;
        parts.iter().enumerate().all(|(k, (len, print, sign))| {
            let from = text;
            text += print.len();
            let short = *len > 1 && crate::ueb::register::get(*sign).class == crate::ueb::Class::Shortform;
            let vowel = word[from + print.len()..].starts_with(['a', 'e', 'i', 'o', 'u', 'y']);
            !short
                || match *print {
                    "braille" | "great" => true,
                    "children" => !vowel,
                    "blind" | "first" | "friend" | "good" | "letter" | "little" | "quick" => k == 0 && !vowel,
                    _ => false,
                }
        })
    }

    /// The lower groupsigns that depend on their place (10.6.1, 10.6.5).
    fn lower_group(&mut self, c: u8) -> bool {
        let next = self.letters_at(self.i + 1);
        let key = if self.lead && next {
            match c {
                b'2' => "groupsign be",
                b'3' => "groupsign con",
                b'4' => "groupsign dis",
                _ => return false,
            }
        } else if self.before == Before::Letter && next && !self.has(self.i + 1, ",") {
            match c {
                b'1' => "groupsign ea",
                b'2' => "groupsign bb",
                b'3' => "groupsign cc",
                b'6' => "groupsign ff",
                b'7' => "groupsign gg",
                _ => return false,
            }
        } else {
            return false;
        };
        let Some(sign) = self.t.key(key) else { return false };
        self.graphic(1, crate::ueb::register::get(sign).print, Some(sign), Before::Letter);
        true
    }

    fn punctuation(&mut self, c: u8) {
        let (i, lead) = (self.i, self.lead);
        let (mut opens, mut anew) = (false, false);
        let (print, key, len) = match c {
            b'1' => (",", "comma", 1),
            b'2' => (";", "semicolon", 1),
            b'3' if self.has(i, "33") => ("::", "proportion", 2),
            b'3' => (":", "colon", 1),
            b'4' if self.has(i, "444") => ("...", "ellipsis", 3),
            b'4' => (".", "full stop", 1),
            b'6' => ("!", "exclamation mark", 1),
            b'7' if self.has(i, "77") => ("″", "double prime", 2),
            b'7' => ("′", "prime", 1),
            b'8' if (lead || self.opened) && !self.grade1_next && i + 1 < self.cells.len() => {
                opens = true;
                ("“", "opening quotation mark", 1)
            }
            b'8' => ("?", "question mark", 1),
            b'0' => ("”", "closing quotation mark", 1),
            b'\'' => {
                opens = true;
                ("'", "apostrophe", 1)
            }
            b'-' => {
                anew = true;
                self.grade1_number = self.mode.numeric;
                ("-", "hyphen", 1)
            }
            b'/' if self.grade1() => ("⁄", "simple numeric fraction line", 1),
            _ => {
                // Prefixes at the end of the text wait for their root, those that some sign begins with.
                let prefixes = self.cells[i..].iter().all(|c| c.is_prefix());
                if prefixes
                    && self.last
                    && let Some(from) = super::waiting::begins(&self.cells[i..])
                {
                    if from > 0 {
                        self.unknown(from);
                    }
                    let cells = &self.cells[self.i..];
                    let text: String = cells.iter().map(|c| c.to_unicode()).collect();
                    self.out.put(self.i, self.i + cells.len(), &text, None, "", Remark::Waiting);
                    self.i = self.cells.len();
                    return;
                }
                let mut len = 1;
                while self.cells[i].is_prefix()
                    && i + len < self.cells.len()
                    && self.cells[i + len - 1].is_prefix()
                {
                    len += 1;
                }
                return self.unknown(len);
            }
        };
        let sign = self.key(key);
        self.graphic(len, print, sign, Before::Other);
        self.lead = anew || opens && lead;
    }

    fn older(&mut self) -> bool {
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
