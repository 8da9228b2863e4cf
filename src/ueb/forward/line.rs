//! One line of print: words that were written before come out of the memory, what depends on its neighbours (capitals
//! passages, quotation marks, typeforms) is worked out together.

use std::ops::Range;

use super::super::Options;
use super::acronyms;
use super::capitals;
use super::grade1;
use super::known::{self, known};
use super::marks;
use super::memory::{Memory, Packed};
use super::quotes::{self, Habits, Open};
use super::sequence::{self, Carry, FaceMark, Room};
use super::sink::Sink;
use super::symbols::{self, Kind, Symbol};
use super::token::{Cut, Token, begins_after, clear_place, count, cut, looks_around, stop, token};

/// What is worked out together is cut at a clear place once it is as long as this, in bytes.
const LONG: usize = 1 << 14;

/// Writes line after line.
pub(crate) struct Writer<'t, 's, S: Sink> {
    options: &'t Options,
    habits: Habits,
    room: Room,
    symbols: Vec<Symbol>,
    memory: Memory<'t, S>,
    open: Open,
    /// Typeforms that go on from line to line, and the text after this line.
    over: marks::Over,
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
        let mut room = Room::default();
        room.reasons = S::REASONS;
        room.edition = options.edition;
        room.acronyms = acronyms::explained(print);
        let habits = Habits::of(print);
        room.lengths = habits.lengths;
        Writer {
            options,
            habits,
            room,
            symbols: Vec::new(),
            memory: Memory::default(),
            open: Open::default(),
            over: marks::Over::default(),
            begun: None,
            later: "",
            sink,
        }
    }

    /// Writes a line whose first character stands at `at`, and tells how many characters it has.
    pub fn line(&mut self, line: &'t str, at: usize) -> usize {
        self.open = Open::default();
        let marked = self.options.marks
            && (self.over.contains(&true)
                || line.bytes().any(|b| matches!(b, b'*' | b'<' | b'~' | b'^' | b'_' | b'\\'))
                || line.contains("√{")
                || line.contains("}⁄{"));
        if marked {
            let faces = marks::symbols(line, at, self.later, &mut self.over, &mut self.symbols);
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
        let (kept, touchy) = match self.memory.word(packed) {
            Some(kept) => kept,
            None if self.memory.has_room() => {
                let mark = self.sink.mark();
                self.letters(&text[..letters], place);
                let touchy = !self.sink.cells()[mark[0]..].iter().any(|cell| cell.is_upper())
                    || S::REASONS && super::choices::abbreviation(&text[..letters]);
                let kept = self.sink.keep(mark, place, &mut self.memory.store);
                self.memory.keep_word(packed, kept, touchy);
                self.sink.back_to(mark);
                (kept, touchy)
            }
            // What is not kept as a word is not kept at all.
            None => return self.stretch(text, place, false, false),
        };
        if touchy && letters < text.len() {
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
            symbols::push(&mut self.symbols, c, place + at);
        }
        if let Some(first) = self.symbols.first_mut() {
            first.capital = u8::from(first.upper);
        }
        let range = 0..self.symbols.len();
        sequence::sequence(&self.symbols, range, &[], self.options.contracted, &mut self.room, self.sink);
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
            symbols::push(&mut self.symbols, c, place + at);
        }
        self.pieces(&[], starts, ends, goes_on);
    }

    /// Writes `symbols`; the last symbols-sequence `goes_on` in the next piece or not.
    fn pieces(&mut self, runs: &[marks::FaceRun], starts: bool, ends: bool, goes_on: bool) {
        let symbols = &mut self.symbols;
        let begun = self.begun.take();
        self.room.specific.clear();
        symbols::numeric_spaces(symbols);
        quotes::settle(symbols, &mut self.open, &self.habits);
        let faces: Vec<FaceMark> = marks::place(symbols, runs);
        capitals::mark(symbols, starts, ends, begun.is_some(), &faces);
        if let (Some(begun), [first, ..]) = (begun, &mut symbols[..])
            && begun.capitals
            && first.capital == 2
        {
            first.capital = 0;
        }
        let capitals = symbols.last().is_some_and(|s| s.upper && s.capital != 1 && !s.capital_end);
        let passages = match self.options.contracted {
            true => grade1::passages(symbols, &faces, begun.is_some(), goes_on, &mut self.room),
            false => Vec::new(),
        };
        let mut passages = passages.into_iter().peekable();
        let mut i = 0;
        while i < symbols.len() {
            let from = i;
            while i < symbols.len() && symbols[i].kind != Kind::Space {
                i += 1;
            }
            if i > from {
                let a = faces.partition_point(|f| f.before < from);
                let b = faces.partition_point(|f| f.before <= i);
                let passage = passages.peek().filter(|p| p.contains(&from)).cloned();
                if let Some(passage) = passage.as_ref().filter(|p| p.start == from) {
                    let at = symbols[passage.start].at as usize;
                    self.sink.sign(known().grade1_passage, at..at, "5.4");
                }
                self.room.passage = passage.is_some();
                let foreign = symbols[from..i].iter().any(|s| s.foreign);
                let contracted = self.options.contracted && passage.is_none() && !foreign;
                self.room.begun = begun.filter(|_| from == 0);
                self.room.goes_on = goes_on && i == symbols.len();
                sequence::sequence(symbols, from..i, &faces[a..b], contracted, &mut self.room, self.sink);
                if std::mem::take(&mut self.room.goes_on) {
                    self.begun = Some(Carry { capitals, ..self.room.carry });
                }
                self.room.begun = None;
                self.room.passage = false;
                if passage.is_some_and(|p| p.end == i) {
                    let end = (symbols[i - 1].at + symbols[i - 1].len) as usize;
                    self.sink.sign(known().grade1_end, end..end, "5.4.2");
                    passages.next();
                }
            }
            let after_stop =
                i > 0 && i < symbols.len() && matches!(symbols[i - 1].kind, Kind::Stop | Kind::CloseQuote);
            let blank = i;
            while i < symbols.len() && symbols[i].kind == Kind::Space {
                i += 1;
            }
            if i > blank {
                let at = |k: usize| symbols[k].at as usize;
                let end = |k: usize| (symbols[k].at + symbols[k].len) as usize;
                if after_stop {
                    self.sink.sign(known().space, at(blank)..end(i - 1), "7.1.2");
                } else {
                    for k in blank..i {
                        self.sink.sign(known().space, at(k)..end(k), "");
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::ueb::{self, Explanation};

    /// Writes a line token by token, or all of it together.
    fn written(line: &str, together: bool) -> Explanation {
        let options = Options::default();
        let mut out = Explanation::default();
        let mut writer = Writer::new(line, &options, &mut out);
        if together {
            writer.stretches(line, 0, true, true);
        } else {
            writer.line(line, 0);
        }
        out
    }

    const TOKENS: &[&str] = &[
        "the",
        "The",
        "in",
        "in.",
        "was",
        "was,",
        "I",
        "A",
        "IT",
        "STOP!",
        "STOP.",
        "B.",
        "so",
        "end.",
        "End?",
        "12",
        "3.5,",
        "Ge1:1",
        "don't",
        "can’t",
        "—",
        "well—no",
        "\"Go",
        "\"",
        "it,\"",
        "“was”",
        "(in)",
        "(HOW",
        "x²",
        "½",
        "cont.",
        "br-r-r",
        "p-p-please",
        "MHz",
        "café",
        "É",
        "¿",
        "—NO—",
        "...",
        "",
        " ",
        "a=b",
        "www.the.com",
        "?",
    ];

    /// Writes a line in one piece, or cut wherever it may be.
    fn cut_or_whole(line: &str, whole: bool) -> Explanation {
        let options = Options::default();
        let mut out = Explanation::default();
        let mut writer = Writer::new(line, &options, &mut out);
        if whole {
            writer.piece(line, 0, true, true, false);
        } else {
            writer.stretch(line, 0, true, true);
        }
        out
    }

    #[test]
    fn what_has_no_end_is_the_same_in_pieces() {
        for part in [
            "1",
            "12,",
            "3.",
            "4,,",
            "5...",
            "678.9,0",
            ",1.2",
            "a",
            "A",
            "the",
            "enin",
            "aBCdE",
            "1a2k",
            "1A",
            "k2",
            "a/the/",
            "a+b=c",
            "x(y)",
            "(b",
            "1/2-3:",
            "x²y₃",
            "½1⁄2",
            "-",
            "*",
            "<a>",
            "a1-",
            "but-not/b",
            "x^{",
            "a\\b",
            "“a ",
            "a—b – ",
            "“ab” ",
            "don't a/",
            "www.a.com/",
            "e\u{301}1",
        ] {
            let line = part.repeat(3 * LONG / part.len());
            let (cut, whole) = (cut_or_whole(&line, false), cut_or_whole(&line, true));
            let differ =
                (0..).zip(&cut.cells).find(|(k, cell)| whole.cells.get(*k) != Some(*cell)).map(|d| d.0);
            assert!(
                differ.is_none() && cut.cells.len() == whole.cells.len(),
                "{part}: {differ:?} of {}",
                cut.cells.len()
            );
            assert_eq!(cut.signs, whole.signs, "{part}");
            assert_eq!(cut.passed_over, whole.passed_over, "{part}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, cases: 4000, ..Default::default() })]
        #[test]
        fn token_by_token_is_the_same_as_together(words in prop::collection::vec(prop::sample::select(TOKENS), 0..14)) {
            let line = words.join(" ");
            let (apart, together) = (written(&line, false), written(&line, true));
            prop_assert_eq!(&apart.cells, &together.cells, "{}", line);
            prop_assert_eq!(apart, together);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { failure_persistence: None, cases: 12, ..Default::default() })]
        #[test]
        fn what_has_no_end_reads_the_same_in_pieces(parts in prop::collection::vec(prop::sample::select(PARTS), 1..9)) {
            let line = parts.concat();
            let line = line.repeat(2 * LONG / line.len() + 1);
            let read = |whole| ueb::read_print(&cut_or_whole(&line, whole).cells, &ueb::ReadOptions::default());
            prop_assert_eq!(read(false), read(true));
        }
    }

    const PARTS: &[&str] = &[
        "a", "j", "k", "the", "in", "be", "A", "B", "Ab", "ABC", "1", "20", ",", ".", "...", "?", "!", ";",
        "-", "--", "—", "'", "\"", "“", "”", "(", ")", "[", "]", "/", "+", "=", "*", "#", "%", "~", "<", ">",
        "\\", "&", "@", "^", "_", "{", "}", "½", "²", "₃", "é", "É", " ", "and", "great", "st", "ness",
        "XIV", "°", "$",
    ];
}
