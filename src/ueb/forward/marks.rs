//! Marks in the text for typeforms, spans, super- and subscripts, roots and fractions (9, 11.3 to 11.5, 13, 15.1).

use super::super::register::SignId;
use super::faces::{BOLD, COUNT, FaceRun, ITALIC, SCRIPT, SMALL, UNDERLINE};
use super::index::index_start;
use super::known::known;
use super::spans::{self, CLOSING, Span};
use super::symbols::{Kind, Symbol};
use super::to_symbols;

/// What is open at the end of a line, since its closing mark stands in a later one: typeforms (9.9), and whether a foreign
/// passage is.
#[derive(Clone, Copy, Default)]
pub(crate) struct GoesOn {
    faces: [bool; COUNT],
    foreign: bool,
}

impl GoesOn {
    /// Whether anything does.
    pub fn any(&self) -> bool {
        self.foreign || self.faces.contains(&true)
    }
}

/// The symbols of a line whose first character stands at `at`, and its typeforms. `goes_on` tells what comes from the line
/// before, and then what goes on into `later`, the text after the line.
pub(crate) fn symbols(
    line: &str,
    at: usize,
    later: &str,
    goes_on: &mut GoesOn,
    out: &mut Vec<Symbol>,
) -> Vec<FaceRun> {
    out.clear();
    let chars: Vec<char> = line.chars().collect();
    let mut reader = Reader::new(&chars, at, later, *goes_on, out);
    while reader.i < chars.len() {
        let taken = (reader.escaped())
            .or_else(|| reader.stars())
            .or_else(|| reader.tilde())
            .or_else(|| reader.underline())
            .or_else(|| reader.span_begins())
            .or_else(|| reader.span_ends())
            .or_else(|| reader.line_end())
            .or_else(|| group(&chars, reader.i, at, &mut reader.groups, reader.out))
            .unwrap_or_else(|| reader.plain());
        reader.i += taken;
    }
    let (runs, open) = reader.end();
    *goes_on = open;
    runs
}

/// A typeform that is open.
#[derive(Clone, Copy)]
struct Opened {
    /// The symbol it began with.
    from: usize,
    /// Which of the opening marks it has.
    nth: usize,
    /// Its closing mark stands in a later line.
    goes: bool,
}

/// Reads the characters of a line one mark after the other. Each of its readings tells how many characters it took, or that
/// its mark is not there.
struct Reader<'a> {
    chars: &'a [char],
    /// Where it reads.
    i: usize,
    /// The place of the line in the print, and the text after it.
    at: usize,
    later: &'a str,
    out: &'a mut Vec<Symbol>,
    runs: Vec<FaceRun>,
    came: GoesOn,
    open: [Option<Opened>; COUNT],
    /// Typeforms opened so far.
    nth: usize,
    /// How many stars and tildes lie ahead: that decides whether an opening one is a mark at all.
    stars: usize,
    tildes: usize,
    groups: Vec<Group>,
    /// Spans that are open, and where the foreign passage at hand began.
    within: Vec<Span>,
    foreign: Option<usize>,
}

impl<'a> Reader<'a> {
    fn new(chars: &'a [char], at: usize, later: &'a str, came: GoesOn, out: &'a mut Vec<Symbol>) -> Self {
        // A mark behind a backslash is print.
        let marks = |mark| {
            let own = |i: usize| chars[i] == mark && (i == 0 || chars[i - 1] != '\\');
            (0..chars.len()).filter(|&i| own(i)).count()
        };
        let opened = |face: usize| Opened { from: 0, nth: face + 1, goes: false };
        let small = came.faces[SMALL].then_some(Span::SmallCapitals);
        let foreign = came.foreign.then_some(Span::Foreign);
        Reader {
            chars,
            i: 0,
            at,
            later,
            out,
            runs: Vec::new(),
            came,
            open: std::array::from_fn(|face| came.faces[face].then(|| opened(face))),
            nth: COUNT,
            stars: marks('*'),
            tildes: marks('~'),
            groups: Vec::new(),
            within: small.into_iter().chain(foreign).collect(),
            foreign: came.foreign.then_some(0),
        }
    }

    fn rest(&self) -> &'a [char] {
        &self.chars[self.i..]
    }

    fn blank_before(&self) -> bool {
        self.i == 0 || self.chars[self.i - 1].is_whitespace()
    }

    /// Whether a blank or the line's end stands behind the next `n` characters.
    fn blank_after(&self, n: usize) -> bool {
        self.rest().get(n).is_none_or(|c| c.is_whitespace())
    }

    fn push(&mut self, c: char, ahead: usize) {
        to_symbols::push(self.out, c, self.at + self.i + ahead);
    }

    fn plain(&mut self) -> usize {
        self.push(self.chars[self.i], 0);
        1
    }

    fn open(&mut self, face: usize, goes: bool) {
        self.nth += 1;
        self.open[face] = Some(Opened { from: self.out.len(), nth: self.nth, goes });
    }

    /// Ends an open typeform here.
    fn close(&mut self, face: usize) -> Option<()> {
        let opened = self.open[face].take()?;
        let run = self.run(face, opened);
        self.runs.push(run);
        Some(())
    }

    /// The stretch of a typeform up to here.
    fn run(&self, face: usize, Opened { from, nth, .. }: Opened) -> FaceRun {
        let came = from == 0 && nth <= COUNT && self.came.faces[face];
        FaceRun { face, from, to: self.out.len(), nth, came, goes: false }
    }

    /// A backslash before a mark that is print.
    fn escaped(&mut self) -> Option<usize> {
        let ['\\', mark, ..] = self.rest() else { return None };
        if !mark.is_ascii_punctuation() {
            return None;
        }
        self.push(*mark, 0);
        if let Some(last) = self.out.last_mut() {
            last.len = 2;
        }
        Some(2)
    }

    /// One star for italic, two for bold, three for both; those that neither open nor close are print.
    fn stars(&mut self) -> Option<usize> {
        let count = self.rest().iter().take_while(|&&c| c == '*').count();
        if count == 0 {
            return None;
        }
        self.stars = self.stars.saturating_sub(count);
        let mut used = 0;
        for (n, face) in [(2, BOLD), (1, ITALIC)] {
            if (count == 3 || count == n) && self.star(face, n, count) {
                used += n;
            }
        }
        for k in used..count {
            self.push('*', k);
        }
        Some(count)
    }

    /// Whether `n` of a row of stars open or close a typeform.
    fn star(&mut self, face: usize, n: usize, row: usize) -> bool {
        if self.open[face].is_some() && !self.blank_before() {
            return self.close(face).is_some();
        }
        if self.open[face].is_some() || self.blank_after(row) {
            return false;
        }
        let goes = self.stars < n && self.blank_before() && closes(self.later, '*', n);
        let opens = self.stars >= n || goes;
        if opens {
            self.open(face, goes);
        }
        opens
    }

    /// A tilde on each side for script.
    fn tilde(&mut self) -> Option<usize> {
        if self.rest().first() != Some(&'~') {
            return None;
        }
        self.tildes = self.tildes.saturating_sub(1);
        if self.open[SCRIPT].is_some() && !self.blank_before() {
            self.close(SCRIPT)?;
            return Some(1);
        }
        if self.open[SCRIPT].is_some() || self.blank_after(1) {
            return None;
        }
        let goes = self.tildes == 0 && self.blank_before() && closes(self.later, '~', 1);
        if self.tildes == 0 && !goes {
            return None;
        }
        self.open(SCRIPT, goes);
        Some(1)
    }

    /// The marks of an underline.
    fn underline(&mut self) -> Option<usize> {
        if self.rest().starts_with(&UNDER) && self.open[UNDERLINE].is_none() {
            let here = self.rest().windows(UNDER_END.len()).any(|run| run == UNDER_END);
            self.open(UNDERLINE, !here && underline_ends(self.later));
            return Some(UNDER.len());
        }
        if !self.rest().starts_with(&UNDER_END) {
            return None;
        }
        self.close(UNDERLINE)?;
        Some(UNDER_END.len())
    }

    /// The mark that begins a span.
    fn span_begins(&mut self) -> Option<usize> {
        let (span, taken) = spans::opening(self.rest(), self.later)?;
        match span {
            Span::SmallCapitals if self.open[SMALL].is_some() => return None,
            Span::Foreign if self.foreign.is_some() => return None,
            Span::SmallCapitals => {
                let here = self.rest().windows(CLOSING.len()).any(|run| run == CLOSING);
                self.open(SMALL, !here);
            }
            Span::Foreign => self.foreign = Some(self.out.len()),
            Span::English => {}
        }
        self.within.push(span);
        Some(taken)
    }

    /// The mark that ends the innermost span.
    fn span_ends(&mut self) -> Option<usize> {
        if !self.rest().starts_with(&CLOSING) {
            return None;
        }
        match self.within.pop()? {
            Span::SmallCapitals => {
                self.close(SMALL);
            }
            Span::Foreign => spans::set_foreign(self.out, self.foreign.take()),
            Span::English => {}
        }
        Some(CLOSING.len())
    }

    /// The mark of a line's end in verse.
    fn line_end(&mut self) -> Option<usize> {
        if !self.rest().starts_with(&LINE) || self.blank_before() {
            return None;
        }
        let spaced = !self.blank_after(LINE.len());
        line_indicator(self.out, self.at + self.i, spaced);
        Some(LINE.len())
    }

    /// The typeforms of the line, and what goes on in the next.
    fn end(mut self) -> (Vec<FaceRun>, GoesOn) {
        spans::set_foreign(self.out, self.foreign);
        let mut on = GoesOn { foreign: self.foreign.is_some(), ..GoesOn::default() };
        for (face, opened) in self.open.into_iter().enumerate() {
            let Some(opened) = opened else { continue };
            let run = self.run(face, opened);
            on.faces[face] = run.came || opened.goes;
            self.runs.push(FaceRun { goes: on.faces[face], ..run });
        }
        self.runs.retain(|run| run.to > run.from);
        (self.runs, on)
    }
}

/// The marks around an underline.
const UNDER: [char; 3] = ['<', 'u', '>'];
const UNDER_END: [char; 4] = ['<', '/', 'u', '>'];

/// The mark for a line's end in verse that is set as prose.
const LINE: [char; 4] = ['<', 'b', 'r', '>'];

/// The line indicator, unspaced from what stands before it, and the blank that follows it (15.1.2).
fn line_indicator(out: &mut Vec<Symbol>, at: usize, spaced: bool) {
    to_symbols::push(out, ' ', at);
    if let Some(last) = out.last_mut() {
        (last.kind, last.ch, last.sign, last.len) = (Kind::Other, '\n', known().line, LINE.len() as u32);
    }
    if spaced {
        to_symbols::push(out, ' ', at + LINE.len());
        if let Some(last) = out.last_mut() {
            last.len = 0;
        }
    }
}

/// A closing mark is looked for in so many characters of the lines after.
const REACH: usize = 4096;

/// Whether the next row of this mark in `later` has `n` of it and closes.
fn closes(later: &str, mark: char, n: usize) -> bool {
    let mut before = ' ';
    let mut chars = later.chars().take(REACH).peekable();
    while let Some(c) = chars.next() {
        if c == mark && before != '\\' {
            let mut count = 1;
            while chars.next_if_eq(&mark).is_some() {
                count += 1;
            }
            let ends = chars.peek().is_none_or(|c| !c.is_alphanumeric());
            return !before.is_whitespace() && ends && (count == n || count == 3 && mark == '*');
        }
        before = c;
    }
    false
}

/// Whether the next mark of an underline in `later` closes one.
fn underline_ends(later: &str) -> bool {
    let end = later.char_indices().nth(REACH).map_or(later.len(), |(at, _)| at);
    let later = &later[..end];
    later.find("</u>").is_some_and(|end| later.find("<u>").is_none_or(|begin| end < begin))
}

/// What a closing brace ends.
#[derive(Clone, Copy)]
enum Group {
    /// A super- or subscript.
    Index(SignId),
    /// What stands under a root sign.
    Root,
    /// The upper part of a general fraction.
    Numerator,
    /// Its lower part.
    Denominator,
}

/// Groups within groups are read this deep.
const DEEPEST: usize = 8;

/// At most so many characters of a group are looked through for its end.
const LONGEST: usize = 200;

/// Reads the beginning or the end of a group at `i`, if one is there, and tells how many characters that takes.
fn group(
    chars: &[char],
    i: usize,
    at: usize,
    groups: &mut Vec<Group>,
    out: &mut Vec<Symbol>,
) -> Option<usize> {
    let know = known();
    let mut mark = |kind, ch, sign, from: usize, len: usize| {
        to_symbols::push(out, ' ', at + from);
        if let Some(last) = out.last_mut() {
            (last.kind, last.ch, last.sign, last.len) = (kind, ch, sign, len as u32);
        }
    };
    if chars[i] == '}' {
        match groups.pop()? {
            Group::Index(sign) => mark(Kind::IndexEnd, '}', sign, i, 1),
            Group::Root => mark(Kind::Other, '}', know.root_close, i, 1),
            Group::Numerator => {
                mark(Kind::Other, '⁄', know.general_line, i, 3);
                groups.push(Group::Denominator);
                return Some(3);
            }
            Group::Denominator => mark(Kind::Other, '}', know.general_close, i, 1),
        }
        return Some(1);
    }
    if groups.len() >= DEEPEST {
        return None;
    }
    let opened = |from: usize| chars.get(from) == Some(&'{');
    match chars[i] {
        '^' | '_' if opened(i + 1) => {
            let sign = if chars[i] == '^' { know.superscript } else { know.subscript };
            mark(Kind::Index, '{', sign, i, 2);
            groups.push(Group::Index(sign));
            Some(2)
        }
        '√' if opened(i + 1) => {
            mark(Kind::Other, '√', know.root_open, i, 2);
            root_index(out);
            groups.push(Group::Root);
            Some(2)
        }
        '{' => {
            let end = closing(chars, i)?;
            if chars.get(end + 1) != Some(&'⁄') || !opened(end + 2) {
                return None;
            }
            closing(chars, end + 2)?;
            mark(Kind::Other, '{', know.general_open, i, 1);
            groups.push(Group::Numerator);
            Some(1)
        }
        _ => None,
    }
}

/// The brace that closes the one at `from`.
fn closing(chars: &[char], from: usize) -> Option<usize> {
    let mut depth = 0;
    for (k, &c) in chars.iter().enumerate().skip(from).take(LONGEST) {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return Some(k);
        }
    }
    None
}

/// A superscript before the root sign is its index and stands after it in braille (11.5.2).
fn root_index(out: &mut [Symbol]) {
    let Some(root) = out.len().checked_sub(1) else { return };
    let index = out[..root].last().is_some_and(|s| s.kind == Kind::IndexEnd && s.sign == known().superscript);
    if !index {
        return;
    }
    let from = index_start(out, root - 1, 0);
    if from == 0 || matches!(out[from - 1].kind, Kind::Space | Kind::Other | Kind::Open) {
        out[from..].rotate_right(1);
    }
}
