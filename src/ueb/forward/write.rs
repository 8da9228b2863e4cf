//! Writes one symbols-sequence: numbers, punctuation, grade 1 indicators (5, 6, 7).

use super::dash;
use super::index::{index_end, index_start};
use super::known::{self, known};
use super::letters::{after_number, letters};
use super::plan::{Modes, Plan, Sequence, Written};
use super::punctuation;
use super::quotes;
use super::sink::Sink;
use super::symbols::{Kind, Symbol, before_ok, needs_grade1, terminator};
use super::technical::{self, Figure};

/// Writes the sequence.
pub(crate) fn write<S: Sink>(sequence: &Sequence, plan: &mut Plan, sink: &mut S) -> Written {
    let begun = sequence.begun.unwrap_or_default().modes;
    let modes = Modes {
        numeric: begun.numeric,
        grade1: sequence.passage || begun.grade1,
        grade1_word: sequence.passage || begun.grade1_word,
    };
    let face = sequence.faces.partition_point(|f| f.before < sequence.from);
    let written = Written { modes, ..Written::default() };
    let mut pen = Pen { sequence, plan, sink, face, run: 0, modes, written };
    let mut i = sequence.from;
    while i < sequence.to {
        i += pen.symbol(i);
    }
    pen.last_terminators();
    Written { modes: pen.modes, ..pen.written }
}

/// What writes: it goes from symbol to symbol.
struct Pen<'a, S: Sink> {
    sequence: &'a Sequence<'a>,
    plan: &'a mut Plan,
    sink: &'a mut S,
    /// The next typeform mark, and the next letters-sequence.
    face: usize,
    run: usize,
    modes: Modes,
    written: Written,
}

impl<S: Sink> Pen<'_, S> {
    /// Writes what stands at `i`, and tells how many symbols that was.
    fn symbol(&mut self, i: usize) -> usize {
        let s = &self.sequence.symbols[i];
        let at = s.at as usize;
        if self.plan.word_from == Some(i) && !self.modes.grade1 {
            self.sink.sign(known().grade1_word, at..at, "5.9.1");
            self.grade1_word_mode();
        }
        if s.kind == Kind::Letter {
            return self.letters(i);
        }
        if self.faces(i) {
            self.modes.numeric = false;
        }
        let end = (s.at + s.len) as usize;
        match s.kind {
            Kind::NumericSpace if self.modes.numeric && self.digit_after(i) => return self.numeric_space(i),
            Kind::NumericSpace | Kind::Space => self.sink.sign(known().space, at..end, ""),
            Kind::Digit => self.digit(s),
            Kind::FractionLine => self.fraction_line(i),
            Kind::Stop if matches!(s.ch, '.' | ',') => self.point(i),
            Kind::Stop => self.stop(i),
            Kind::Hyphen | Kind::Dash => self.joiner(i),
            Kind::Index => self.index(i),
            Kind::IndexEnd => self.index_end(i),
            Kind::OpenQuote | Kind::CloseQuote => self.quotation_mark(i),
            _ => self.other(i),
        }
        if s.capital_end {
            self.sink.sign(known().capital_end, end..end, "");
        }
        1
    }

    /// The symbol's own sign.
    fn sign(&mut self, s: &Symbol) {
        self.sink.sign(s.sign, s.at as usize..(s.at + s.len) as usize, "");
    }

    fn grade1_word_mode(&mut self) {
        self.modes.grade1 = true;
        self.modes.grade1_word = true;
    }

    /// A grade 1 symbol indicator before the symbol at `i`.
    fn guard(&mut self, i: usize, section: &'static str) {
        let at = self.sequence.symbols[i].at as usize;
        self.count_guard(i, 1);
        self.sink.sign(known().grade1, at..at, section);
    }

    /// A grade 1 word indicator before the symbol at `i`.
    fn guard_word(&mut self, i: usize) {
        let at = self.sequence.symbols[i].at as usize;
        self.count_guard(i, 2);
        self.sink.sign(known().grade1_word, at..at, "5.3");
        self.grade1_word_mode();
    }

    fn count_guard(&mut self, i: usize, cells: usize) {
        self.written.guards += 1;
        self.written.guard_cells += cells;
        self.written.first_guard.get_or_insert(i);
    }

    /// Typeform indicators and terminators before the symbol at `i`; whether there were any.
    fn faces(&mut self, i: usize) -> bool {
        let (at, first) = (self.sequence.symbols[i].at as usize, self.face);
        while let Some(face) = self.sequence.faces.get(self.face).filter(|face| face.before <= i) {
            self.sink.sign(face.sign, at..at, "");
            self.face += 1;
        }
        self.face > first
    }

    /// The terminators at the end of the sequence.
    fn last_terminators(&mut self) {
        let Sequence { symbols, from, to, faces, .. } = *self.sequence;
        let end = symbols.get(to.wrapping_sub(1)).map_or(0, |s| (s.at + s.len) as usize);
        let here = |before| before <= to && before > from;
        while let Some(face) = faces.get(self.face).filter(|f| here(f.before) && terminator(f.sign)) {
            self.sink.sign(face.sign, end..end, "");
            self.face += 1;
        }
    }

    /// A letters-sequence.
    fn letters(&mut self, i: usize) -> usize {
        let Sequence { symbols, contracted, .. } = *self.sequence;
        let s = &symbols[i];
        let run = self.plan.runs[self.run].clone();
        // A letter of a capitals passage has no indicator of its own.
        let low = s.modifiers[0].is_none() && s.capital == 0 && ('a'..='j').contains(&s.ch);
        self.faces(i);
        if run.guard_word && !self.modes.grade1 {
            self.guard_word(i);
        } else if run.guard && !self.modes.grade1 {
            self.guard(i, if run.range.len() == 1 { "5.7.1" } else { "5.7.2" });
        } else if self.modes.numeric && low {
            self.guard(i, "6.5.2");
        }
        self.modes.numeric = false;
        let Modes { grade1, grade1_word, .. } = self.modes;
        let contractions = &mut self.plan.contractions;
        if contracted && !grade1 && run.wordsign.is_none() {
            contractions.choose(self.sequence, self.run, &run);
        }
        if S::REASONS && contracted && grade1 && !grade1_word {
            contractions.choose(self.sequence, self.run, &run);
            after_number(symbols, &run, &contractions.parts, self.sink);
        }
        if letters(self.sequence, &run, contracted && !grade1, self.plan, &mut self.face, self.sink) {
            self.written.last_lower = Some(self.run);
        }
        self.run += 1;
        run.range.len()
    }

    fn digit_after(&self, i: usize) -> bool {
        self.sequence.symbols.get(i + 1).is_some_and(|next| next.kind == Kind::Digit)
    }

    fn digit(&mut self, s: &Symbol) {
        let at = s.at as usize;
        if s.fresh && self.modes.numeric {
            self.sink.sign(known().numeric, at..at, "11.3.2");
        } else if !self.modes.numeric {
            self.sink.sign(known().numeric, at..at, "");
        }
        self.modes.numeric = true;
        self.modes.grade1 = true;
        self.sign(s);
    }

    /// A space within a number, with the digit after it (6.6).
    fn numeric_space(&mut self, i: usize) -> usize {
        let (s, digit) = (&self.sequence.symbols[i], &self.sequence.symbols[i + 1]);
        let end = (digit.at + digit.len) as usize;
        self.sink.sign(known::spaced_digit(digit.ch), s.at as usize..end, "");
        2
    }

    /// The line of a fraction between digits (6.2, 11.3.1); elsewhere it is a slash.
    fn fraction_line(&mut self, i: usize) {
        let s = &self.sequence.symbols[i];
        let print = s.at as usize..(s.at + s.len) as usize;
        if self.modes.numeric && self.digit_after(i) {
            self.sink.sign(known().fraction, print, "6.2");
        } else {
            self.modes.numeric = false;
            self.sink.sign(known::solidus(), print, "");
        }
    }

    /// A full stop or comma: in a number, in front of one, or as any stop.
    fn point(&mut self, i: usize) {
        let sequence = self.sequence;
        let s = &sequence.symbols[i];
        let at = s.at as usize;
        let ellipsis = ellipsis(sequence, i);
        if i + 1 < sequence.to && self.digit_after(i) && !ellipsis {
            if !self.modes.numeric && decimal(sequence, i) {
                self.sink.sign(known().numeric, at..at, "6.4");
                self.modes.numeric = true;
                self.modes.grade1 = true;
            }
            let point = self.modes.numeric && s.ch == '.';
            self.sink.sign(if point { known().point } else { s.sign }, at..at + s.len as usize, "");
        } else if self.modes.numeric {
            // Numeric mode lasts; a letter after it may still be read as a digit (6.5.2). An ellipsis ends it (6.3.1).
            self.modes.numeric = !(ellipsis && self.digit_after(i));
            self.sign(s);
        } else {
            self.stop(i);
        }
    }

    /// A stop, behind a grade 1 indicator where it would be read as something else (7.1.3, 7.5).
    fn stop(&mut self, i: usize) {
        self.modes.numeric = false;
        if !self.modes.grade1
            && let Some(section) = punctuation::guard(self.sequence, i)
        {
            self.guard(i, section);
        }
        self.sign(&self.sequence.symbols[i]);
    }

    /// A hyphen or dash, which ends the grade 1 mode that a number set (6.5.4).
    fn joiner(&mut self, i: usize) {
        self.modes.numeric = false;
        self.modes.grade1 = self.modes.grade1_word;
        self.sign(&self.sequence.symbols[i]);
        if S::REASONS {
            dash::choices(self.sequence, i, self.sink);
        }
    }

    /// The beginning of a super- or subscript (11.4).
    fn index(&mut self, i: usize) {
        let sequence = self.sequence;
        let s = &sequence.symbols[i];
        let end = index_end(sequence.symbols, i, sequence.to).max(i + 1);
        let one = one_item(&sequence.symbols[i + 1..end]);
        if !self.modes.grade1 && sequence.contracted {
            if one { self.guard(i, "3.24") } else { self.guard_word(i) }
        }
        self.modes.numeric = false;
        self.sign(s);
        if !one {
            self.sink.sign(known().group_open, s.at as usize..s.at as usize, "");
        }
    }

    /// Its end: a grouping indicator where it is more than one item (11.4.1).
    fn index_end(&mut self, i: usize) {
        self.modes.numeric = false;
        let Sequence { symbols, from, .. } = *self.sequence;
        let s = &symbols[i];
        let start = index_start(symbols, i, from);
        if !one_item(&symbols[(start + 1).min(i)..i]) {
            self.sink.sign(known().group_close, s.at as usize..(s.at + s.len) as usize, "");
        }
    }

    /// In grade 1 mode the sign of one cell would be read as a question mark (7.6.7); its partner follows suit (7.6.3).
    fn quotation_mark(&mut self, i: usize) {
        let (know, sequence) = (known(), self.sequence);
        let s = &sequence.symbols[i];
        let print = s.at as usize..(s.at + s.len) as usize;
        if s.kind == Kind::OpenQuote && self.modes.grade1 && s.sign == know.one_open {
            self.modes.numeric = false;
            self.written.specific.extend(quotes::partner(sequence.symbols, i));
            self.sink.sign(quotes::specific(s), print, "7.6.7");
        } else if s.kind == Kind::CloseQuote
            && s.sign == know.one_close
            && (sequence.specific.contains(&i) || self.written.specific.contains(&i))
        {
            self.modes.numeric = false;
            self.sink.sign(quotes::specific(s), print, "7.6.3");
        } else {
            self.other(i);
        }
    }

    /// Any other sign, behind a grade 1 indicator where it would be read as a word.
    fn other(&mut self, i: usize) {
        let sequence = self.sequence;
        let s = &sequence.symbols[i];
        self.modes.numeric = false;
        if s.kind == Kind::Unhandled {
            self.sink.unhandled(s.at as usize, s.ch);
            return self.sign(s);
        }
        let figure = technical::figure(s.ch);
        if !self.modes.grade1
            && sequence.contracted
            && (figure.is_some() || punctuation::word_like(sequence, i) || needs_grade1(s))
        {
            self.guard(i, if figure.is_some() { "2.4.4" } else { "7.1.3" });
        }
        match figure {
            Some(figure) => self.figure(figure, i),
            None => self.sign(s),
        }
    }

    /// An arrow or shape, and the terminator of a shape before what is not blank (11.7.1).
    fn figure(&mut self, figure: &Figure, i: usize) {
        let s = &self.sequence.symbols[i];
        let (at, end) = (s.at as usize, (s.at + s.len) as usize);
        let (last, before) = figure.signs.split_last().unwrap_or((&s.sign, &[]));
        for &sign in before {
            self.sink.sign(sign, at..at, "");
        }
        self.sink.sign(*last, at..end, "");
        if figure.shape && i + 1 < self.sequence.to {
            self.sink.sign(known().shape_end, end..end, "11.7.1");
        }
    }
}

/// Whether a super- or subscript is one item, such as a number, and needs no grouping (11.4.1).
fn one_item(inner: &[Symbol]) -> bool {
    let number = |s: &Symbol| s.kind == Kind::Digit || matches!(s.ch, '.' | ',') && s.kind == Kind::Stop;
    inner.len() == 1 || !inner.is_empty() && inner.iter().all(number)
}

/// Whether the point at `i`, with a digit after it, begins a number (6.4).
fn decimal(sequence: &Sequence, i: usize) -> bool {
    match sequence.around(i).0 {
        [] => true,
        before @ [.., last] => {
            before_ok(last) || matches!(last.kind, Kind::Other | Kind::Index) || number_joins(before)
        }
    }
}

/// Whether what stands before a point shows it to be a decimal point: a hyphen or dash that is a minus, or joins it to
/// the number before.
fn number_joins(before: &[Symbol]) -> bool {
    match before {
        [.., number, join] if matches!(join.kind, Kind::Hyphen | Kind::Dash) => {
            number.kind == Kind::Digit || before_ok(number)
        }
        [join] => matches!(join.kind, Kind::Hyphen | Kind::Dash),
        _ => false,
    }
}

/// Whether the stop at `i` is the last of three, an ellipsis (7.3).
fn ellipsis(sequence: &Sequence, i: usize) -> bool {
    let dots = sequence.symbols[sequence.from..=i]
        .iter()
        .rev()
        .take(3)
        .take_while(|s| s.ch == '.' && s.kind == Kind::Stop);
    dots.count() == 3
}
