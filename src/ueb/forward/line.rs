//! One line of print: words that were written before come out of the memory, what depends on its neighbours (capitals
//! passages, quotation marks, typeforms) is worked out together.

use std::ops::Range;

use super::super::Options;
use super::acronyms;
use super::capitals;
use super::choices;
use super::faces::{self, FaceMark, FaceRun};
use super::grade1;
use super::known::{self, known};
use super::marks::{self, GoesOn};
use super::memory::{Memory, Packed};
use super::plan::{Carry, Plan, Sequence, Setting, Way};
use super::quotes::{self, Habits, Open};
use super::sequence::write_sequence;
use super::sink::Sink;
use super::symbols::{self, Kind, Symbol};
use super::to_symbols;
use super::token::{Cut, Token, begins_after, clear_place, count, cut, looks_around, stop, token};

/// What is worked out together is cut at a clear place once it is as long as this, in bytes.
const LONG: usize = 1 << 14;

/// Writes line after line.
pub(crate) struct Writer<'t, 's, S: Sink> {
    options: &'t Options,
    habits: Habits,
    setting: Setting,
    plan: Plan,
    symbols: Vec<Symbol>,
    memory: Memory<'t, S>,
    open: Open,
    /// What goes on from line to line, and the text after this line.
    goes_on: GoesOn,
    /// The symbols-sequence that the next symbols begin with was begun in the piece before.
    begun: Option<Carry>,
    pub later: &'t str,
    pub sink: &'s mut S,
}

/// Tokens that are not written yet.
struct Pending {
    /// Where they begin: byte, and place in the print.
    from: usize,
    place: usize,
    tokens: usize,
    /// One of them is bound to its neighbours.
    bound: bool,
}

impl<'t, 's, S: Sink> Writer<'t, 's, S> {
    pub fn new(print: &str, options: &'t Options, sink: &'s mut S) -> Self {
        let habits = Habits::of(print);
        let setting = Setting {
            edition: options.edition,
            acronyms: acronyms::explained(print),
            lengths: habits.lengths,
        };
        Writer {
            options,
            habits,
            setting,
            plan: Plan::default(),
            symbols: Vec::new(),
            memory: Memory::default(),
            open: Open::default(),
            goes_on: GoesOn::default(),
            begun: None,
            later: "",
            sink,
        }
    }

    /// Writes a line whose first character stands at `at`, and tells how many characters it has.
    pub fn line(&mut self, line: &'t str, at: usize) -> usize {
        self.open = Open::default();
        let marked = self.options.marks
            && (self.goes_on.any()
                || line.bytes().any(|b| matches!(b, b'*' | b'<' | b'~' | b'^' | b'_' | b'\\'))
                || line.contains("√{")
                || line.contains("}⁄{"));
        if marked {
            let faces = marks::symbols(line, at, self.later, &mut self.goes_on, &mut self.symbols);
            self.pieces(&faces, true, true, false);
            count(line)
        } else if looks_around(line) {
            self.stretches(line, at, true, true);
            count(line)
        } else {
            self.tokens(line, at)
        }
    }

    /// Writes a line token by token.
    fn tokens(&mut self, line: &'t str, at: usize) -> usize {
        let bytes = line.as_bytes();
        let mut pending: Option<Pending> = None;
        // The token before what is pending: it tells whether a sentence begins there.
        let mut last: Option<&str> = None;
        let (mut i, mut place) = (0, at);
        while i < bytes.len() {
            if bytes[i] == b' ' {
                let from = i;
                while i < bytes.len() && bytes[i] == b' ' {
                    i += 1;
                }
                if pending.is_none() {
                    self.blanks(from > 0 && stop(bytes[from - 1]), place..place + i - from);
                }
                place += i - from;
                continue;
            }
            let from = i;
            let token = token(bytes, &mut i);
            let text = &line[from..i];
            // The usual: a word with nothing pending.
            if let (Token::Word(packed, letters), None) = (token, &pending) {
                self.word(packed, text, letters - from, place);
                last = Some(text);
                place += i - from;
                continue;
            }
            match token {
                Token::Neutral if pending.is_none() => {
                    self.free(text, place);
                    last = Some("");
                }
                Token::Word(..) | Token::Free => {
                    if let Some(pending) = pending.take() {
                        self.flush(&line[pending.from..from], &pending, last.is_none_or(begins_after), false);
                    }
                    match token {
                        Token::Word(packed, letters) => self.word(packed, text, letters - from, place),
                        _ => self.free(text, place),
                    }
                    last = Some(text);
                }
                _ => {
                    let pending = pending.get_or_insert(Pending { from, place, tokens: 0, bound: false });
                    pending.tokens += 1;
                    pending.bound |= token == Token::Bound;
                }
            }
            place += if text.is_ascii() { i - from } else { count(text) };
        }
        if let Some(pending) = pending {
            self.flush(&line[pending.from..], &pending, last.is_none_or(begins_after), true);
        }
        place - at
    }

    /// Writes what is pending: together, unless nothing in it depends on its neighbours.
    fn flush(&mut self, text: &'t str, pending: &Pending, starts: bool, ends: bool) {
        if pending.bound || pending.tokens >= 3 {
            return self.stretches(text, pending.place, starts, ends);
        }
        // Fewer than three sequences are no passage (8.5.2).
        let bytes = text.as_bytes();
        let (mut at, mut place) = (0, pending.place);
        while at < bytes.len() {
            let from = at;
            let blank = bytes[at] == b' ';
            while at < bytes.len() && (bytes[at] == b' ') == blank {
                at += 1;
            }
            if blank {
                self.blanks(from > 0 && stop(bytes[from - 1]), place..place + at - from);
            } else {
                self.free(&text[from..at], place);
            }
            place += count(&text[from..at]);
        }
    }

    /// Writes blanks: one cell for each, but one only after punctuation (7.1.2).
    fn blanks(&mut self, after_stop: bool, print: Range<usize>) {
        if after_stop && S::REASONS {
            self.sink.sign(known().space, print, "7.1.2");
        } else if after_stop {
            self.sink.blank(print.start);
        } else {
            for at in print {
                self.sink.blank(at);
            }
        }
    }

    /// Writes a word whose letters are the first `letters` of `text`; stops follow.
    fn word(&mut self, packed: Packed, text: &'t str, letters: usize, place: usize) {
        let (kept, next_matters) = match self.memory.word(packed) {
            Some(kept) => kept,
            None if self.memory.has_room() => {
                let mark = self.sink.mark();
                self.letters(&text[..letters], place);
                let next_matters = !self.sink.cells()[mark[0]..].iter().any(|cell| cell.is_upper())
                    || S::REASONS && choices::abbreviation(&text[..letters]);
                let kept = self.sink.keep(mark, place, &mut self.memory.store);
                self.memory.keep_word(packed, kept, next_matters);
                self.sink.back_to(mark);
                (kept, next_matters)
            }
            // What is not kept as a word is not kept at all.
            None => return self.stretch(text, place, false, false),
        };
        if next_matters && letters < text.len() {
            return self.free(text, place);
        }
        self.sink.again(kept, place, &self.memory.store);
        for (k, &byte) in text.as_bytes()[letters..].iter().enumerate() {
            self.sink.sign(known::stop(byte), place + letters + k..place + letters + k + 1, "");
        }
    }

    /// Writes a word of letters alone, at most the first of them a capital.
    fn letters(&mut self, text: &str, place: usize) {
        self.symbols.clear();
        for (at, c) in text.chars().enumerate() {
            to_symbols::push(&mut self.symbols, c, place + at);
        }
        if let Some(first) = self.symbols.first_mut() {
            first.capital = u8::from(first.upper);
        }
        let Writer { symbols, setting, plan, sink, options, .. } = self;
        write(&whole::<S>(symbols, setting, options.contracted), plan, *sink);
    }

    /// Writes a sequence that depends on nothing around it.
    fn free(&mut self, text: &'t str, place: usize) {
        // Numbers seldom come again, nor does what has no end.
        if text.len() > LONG || text.bytes().any(|b| b.is_ascii_digit()) {
            return self.stretch(text, place, false, false);
        }
        if let Some(kept) = self.memory.sequence(text.as_bytes()) {
            return self.sink.again(kept, place, &self.memory.store);
        }
        let mark = self.sink.mark();
        self.stretch(text, place, false, false);
        let sink = &*self.sink;
        self.memory.keep_sequence(text.as_bytes(), |store| sink.keep(mark, place, store));
    }

    /// Works out a text together, cut at clear places when it is long.
    fn stretches(&mut self, text: &str, at: usize, starts: bool, ends: bool) {
        let (mut from, mut place, mut starts) = (0, at, starts);
        while text.len() - from > LONG {
            let Some(cut) = clear_place(text.as_bytes(), from + LONG) else { break };
            let piece = &text[from..cut];
            self.stretch(piece, place, starts, false);
            place += count(piece);
            starts = piece.split(' ').rfind(|token| !token.is_empty()).is_some_and(begins_after);
            from = cut;
        }
        self.stretch(&text[from..], place, starts, ends);
    }

    /// Works out a text together. One without an end is cut at any place where little goes on from one piece into the
    /// next, so that what is worked out together stays small.
    fn stretch(&mut self, text: &str, place: usize, starts: bool, ends: bool) {
        let (mut from, mut place, mut starts) = (0, place, starts);
        while text.len() - from > LONG {
            let Some(Cut { at, inside }) = cut(text, from, from + LONG) else { break };
            let piece = &text[from..at];
            self.piece(piece, place, starts, false, inside);
            place += count(piece);
            starts = !inside && piece.split(' ').rfind(|token| !token.is_empty()).is_some_and(begins_after);
            from = at;
        }
        self.piece(&text[from..], place, starts, ends, false);
    }

    fn piece(&mut self, text: &str, place: usize, starts: bool, ends: bool, goes_on: bool) {
        self.symbols.clear();
        for (at, c) in text.chars().enumerate() {
            to_symbols::push(&mut self.symbols, c, place + at);
        }
        self.pieces(&[], starts, ends, goes_on);
    }

    /// Writes `symbols`; the last symbols-sequence `goes_on` in the next piece or not.
    fn pieces(&mut self, runs: &[FaceRun], starts: bool, ends: bool, goes_on: bool) {
        let Writer { symbols, setting, plan, sink, options, open, habits, .. } = self;
        let begun = self.begun.take();
        symbols::numeric_spaces(symbols);
        quotes::settle(symbols, open, habits);
        let faces: Vec<FaceMark> = faces::place(symbols, runs);
        capitals::mark(symbols, starts, ends, begun.is_some(), &faces);
        if let (Some(begun), [first, ..]) = (begun, &mut symbols[..])
            && begun.capitals
            && first.capital == 2
        {
            first.capital = 0;
        }
        let text =
            Sequence { faces: &faces, begun, goes_on, ..whole::<S>(symbols, setting, options.contracted) };
        let passages = if options.contracted { grade1::passages(&text, plan) } else { Vec::new() };
        self.begun = sequences(&text, &passages, plan, *sink);
    }
}

/// All of these symbols, as they are usually written.
fn whole<'a, S: Sink>(symbols: &'a [Symbol], setting: &'a Setting, contracted: bool) -> Sequence<'a> {
    Sequence {
        symbols,
        from: 0,
        to: symbols.len(),
        faces: &[],
        setting,
        edition: setting.edition,
        way: Way::Usual,
        contracted,
        passage: false,
        reasons: S::REASONS,
        begun: None,
        goes_on: false,
        specific: &[],
    }
}

/// Writes a symbols-sequence, and the choices in it.
fn write<S: Sink>(sequence: &Sequence, plan: &mut Plan, sink: &mut S) -> (Carry, Vec<usize>) {
    let mark = sink.mark();
    let written = write_sequence(sequence, plan, sink);
    if S::REASONS && sequence.contracted && sequence.begun.is_none() && !sequence.goes_on {
        choices::in_sequence(sequence, plan, mark, sink);
    }
    written
}

/// Writes the symbols-sequences of a text and the blanks between them, with the grade 1 passages in it. What goes on into the
/// next piece is handed on.
fn sequences<S: Sink>(
    text: &Sequence,
    passages: &[Range<usize>],
    plan: &mut Plan,
    sink: &mut S,
) -> Option<Carry> {
    let symbols = text.symbols;
    let mut passages = passages.iter().peekable();
    let mut specific: Vec<usize> = Vec::new();
    let mut carry = None;
    let mut i = 0;
    while i < symbols.len() {
        let from = i;
        while i < symbols.len() && symbols[i].kind != Kind::Space {
            i += 1;
        }
        if i > from {
            let a = text.faces.partition_point(|f| f.before < from);
            let b = text.faces.partition_point(|f| f.before <= i);
            let passage = passages.peek().filter(|p| p.contains(&from));
            if passage.is_some_and(|p| p.start == from) {
                let at = symbols[from].at as usize;
                sink.sign(known().grade1_passage, at..at, "5.4");
            }
            let foreign = symbols[from..i].iter().any(|s| s.foreign);
            let sequence = Sequence {
                from,
                to: i,
                faces: &text.faces[a..b],
                contracted: text.contracted && passage.is_none() && !foreign,
                passage: passage.is_some(),
                begun: text.begun.filter(|_| from == 0),
                goes_on: text.goes_on && i == symbols.len(),
                specific: &specific,
                ..*text
            };
            let (end, more) = write(&sequence, plan, sink);
            if sequence.goes_on {
                let capitals = symbols.last().is_some_and(|s| s.upper && s.capital != 1 && !s.capital_end);
                carry = Some(Carry { capitals, ..end });
            }
            specific.extend(more);
            if passages.next_if(|p| p.end == i).is_some() {
                let end = (symbols[i - 1].at + symbols[i - 1].len) as usize;
                sink.sign(known().grade1_end, end..end, "5.4.2");
            }
        }
        let blank = i;
        while i < symbols.len() && symbols[i].kind == Kind::Space {
            i += 1;
        }
        if i > blank {
            blanks(symbols, blank..i, sink);
        }
    }
    carry
}

/// Writes blanks: one cell for each, but one only after punctuation (7.1.2).
fn blanks<S: Sink>(symbols: &[Symbol], range: Range<usize>, sink: &mut S) {
    let before = range.start.checked_sub(1).map(|last| symbols[last].kind);
    let end = |k: usize| (symbols[k].at + symbols[k].len) as usize;
    if matches!(before, Some(Kind::Stop | Kind::CloseQuote)) {
        return sink.sign(known().space, symbols[range.start].at as usize..end(range.end - 1), "7.1.2");
    }
    for k in range {
        sink.sign(known().space, symbols[k].at as usize..end(k), "");
    }
}

#[cfg(test)]
mod tests;
