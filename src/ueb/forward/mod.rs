//! Print to braille (sections 2 to 11): symbols, then quotation marks, capitals and typeforms, then one
//! symbols-sequence after the other.

pub(crate) mod capitals;
pub(crate) mod choices;
pub(crate) mod marks;
pub(crate) mod quotes;
pub(crate) mod sink;
pub(crate) mod symbols;
pub(crate) mod write;

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};
use std::ops::Range;

use super::Options;
use crate::cell::Cell;
use quotes::{Habits, Open};
use sink::Sink;
use symbols::{Kind, Symbol, known};
use write::{FaceMark, Room};

/// A quick hash for short words.
#[derive(Default)]
struct Quick(u64);

impl Hasher for Quick {
    fn finish(&self) -> u64 {
        self.0
    }
    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let mut word = [0u8; 8];
            word[..chunk.len()].copy_from_slice(chunk);
            self.0 = (self.0.rotate_left(5) ^ u64::from_le_bytes(word)).wrapping_mul(0x517c_c1b7_2722_0a95);
        }
    }
}

/// At most this many sequences are remembered in one call.
const REMEMBERED: usize = 1 << 16;

#[derive(Default)]
struct Memory<'t> {
    places: HashMap<&'t [u8], Range<u32>, BuildHasherDefault<Quick>>,
    cells: Vec<Cell>,
}

/// Transcribes `print` into `sink`.
pub(crate) fn run<S: Sink>(print: &str, options: &Options, sink: &mut S) {
    let habits = Habits::of(print);
    let mut room = Room::default();
    room.reasons = S::REASONS;
    let mut memory = Memory::default();
    let mut symbols: Vec<Symbol> = Vec::new();
    let mut at = 0;
    let mut first = true;
    for line in print.split('\n') {
        if !first {
            sink.sign(known().space, at..at + 1, "");
            at += 1;
        }
        first = false;
        let marked =
            options.marks && line.bytes().any(|b| matches!(b, b'*' | b'<' | b'~' | b'^' | b'_' | b'\\'));
        let mut open = Open::default();
        if S::REASONS || marked || opens_single(line.as_bytes()) {
            let faces = marks::symbols(line, at, marked, &mut symbols);
            pieces(&mut symbols, faces, &mut open, habits, true, options, &mut room, sink);
            at += line.chars().count();
        } else {
            quick(line, habits, options, &mut room, &mut memory, &mut symbols, sink);
            // Places are not kept in cells alone.
        }
    }
}

/// Whether a straight single quotation mark may open on this line: what it is depends on the rest of the line.
fn opens_single(line: &[u8]) -> bool {
    line.iter().enumerate().any(|(i, &b)| {
        b == b'\''
            && (i == 0 || !line[i - 1].is_ascii_alphanumeric())
            && line.get(i + 1).is_some_and(|&n| n > b' ')
    })
}

/// A line for cells alone: plain sequences come out of the memory, what stands between them is worked out together.
fn quick<'t, S: Sink>(
    line: &'t str,
    habits: Habits,
    options: &Options,
    room: &mut Room,
    memory: &mut Memory<'t>,
    symbols: &mut Vec<Symbol>,
    sink: &mut S,
) {
    let bytes = line.as_bytes();
    let mut open = Open::default();
    let mut starts = true;
    let mut slow: Option<usize> = None;
    let mut i = 0;
    while i < bytes.len() {
        let from = i;
        let plain = plain_sequence(bytes, &mut i);
        if i > from && plain {
            if let Some(begin) = slow.take() {
                stretch(&line[begin..from], symbols, &mut open, habits, starts, options, room, sink);
            }
            let key = &bytes[from..i];
            if let Some(place) = memory.places.get(key) {
                sink.cells().extend_from_slice(&memory.cells[place.start as usize..place.end as usize]);
            } else {
                let begin = sink.cells().len();
                stretch(&line[from..i], symbols, &mut open, habits, false, options, room, sink);
                if memory.places.len() < REMEMBERED {
                    let start = memory.cells.len() as u32;
                    memory.cells.extend_from_slice(&sink.cells()[begin..]);
                    memory.places.insert(key, start..memory.cells.len() as u32);
                }
            }
            starts = matches!(key[key.len() - 1], b'.' | b'!' | b'?');
        } else if i > from && slow.is_none() {
            slow = Some(from);
        }
        if i < bytes.len() {
            // A blank.
            let two = i > 0 && bytes.get(i + 1) == Some(&b' ');
            if slow.is_none() && !two {
                sink.cells().push(Cell::BLANK);
            } else if slow.is_none() {
                slow = Some(i);
            }
            i += 1;
        }
    }
    if let Some(begin) = slow {
        stretch(&line[begin..], symbols, &mut open, habits, starts, options, room, sink);
    }
}

/// Moves `i` over a symbols-sequence to the next space; true when it holds a small letter, at most one capital, in
/// front, and stops behind: what comes out then depends on nothing else.
fn plain_sequence(bytes: &[u8], i: &mut usize) -> bool {
    let from = *i;
    let mut at = from;
    if at < bytes.len() && bytes[at].is_ascii_uppercase() {
        at += 1;
    }
    let small = at;
    while at < bytes.len() && bytes[at].is_ascii_lowercase() {
        at += 1;
    }
    let mut plain = at > small;
    while plain && at + 1 < bytes.len() && matches!(bytes[at], b'-') && bytes[at + 1].is_ascii_lowercase() {
        at += 1;
        while at < bytes.len() && bytes[at].is_ascii_lowercase() {
            at += 1;
        }
    }
    while plain && at < bytes.len() && matches!(bytes[at], b',' | b';' | b':' | b'.' | b'!' | b'?') {
        at += 1;
    }
    plain &= at == bytes.len() || bytes[at] == b' ';
    if !plain {
        while at < bytes.len() && bytes[at] != b' ' {
            at += 1;
        }
    }
    *i = at;
    plain
}

#[allow(clippy::too_many_arguments)]
fn stretch<S: Sink>(
    text: &str,
    symbols: &mut Vec<Symbol>,
    open: &mut Open,
    habits: Habits,
    starts: bool,
    options: &Options,
    room: &mut Room,
    sink: &mut S,
) {
    symbols.clear();
    for (at, c) in text.chars().enumerate() {
        symbols::push(symbols, c, at);
    }
    pieces(symbols, Vec::new(), open, habits, starts, options, room, sink);
}

#[allow(clippy::too_many_arguments)]
fn pieces<S: Sink>(
    symbols: &mut [Symbol],
    runs: Vec<marks::FaceRun>,
    open: &mut Open,
    habits: Habits,
    starts: bool,
    options: &Options,
    room: &mut Room,
    sink: &mut S,
) {
    quotes::settle(symbols, open, habits);
    let faces: Vec<FaceMark> = marks::place(symbols, &runs);
    capitals::mark(symbols, starts, &faces);
    let mut i = 0;
    while i < symbols.len() {
        let from = i;
        while i < symbols.len() && symbols[i].kind != Kind::Space {
            i += 1;
        }
        if i > from {
            let a = faces.partition_point(|f| f.before < from);
            let b = faces.partition_point(|f| f.before <= i);
            write::sequence(symbols, from..i, &faces[a..b], options.contracted, room, sink);
        }
        // Blanks: one cell for each, but one only after punctuation (7.1.2).
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
                sink.sign(known().space, at(blank)..end(i - 1), "7.1.2");
            } else {
                for k in blank..i {
                    sink.sign(known().space, at(k)..end(k), "");
                }
            }
        }
    }
}
