//! One symbols-sequence: its letters-sequences, what stands around each (2.6), and the lower sign rule over the whole.

use std::ops::Range;

use super::super::Edition;
use super::super::contract::{self, Context, Letter, Part, Passed};
use super::super::register::{self, SignId};
use super::acronyms;
use super::choices::{self, Tweak};
use super::grade1;
use super::index::index_end;
use super::known::known;
use super::sink::Sink;
use super::symbols::{Kind, Symbol};
use super::wordsigns;
use super::write::write;
use crate::cell::Cell;

/// A typeform indicator or terminator and the symbol it stands before.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FaceMark {
    pub before: usize,
    pub sign: SignId,
}

/// Whether a typeform mark stands before this symbol.
pub(crate) fn marked_at(faces: &[FaceMark], place: usize) -> bool {
    faces.get(faces.partition_point(|f| f.before < place)).is_some_and(|f| f.before == place)
}

/// What goes on from one piece of a symbols-sequence without an end into the next.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Carry {
    /// A number, which needs no indicator of its own (6.1).
    pub number: bool,
    /// Grade 1 mode, and whether a grade 1 word indicator set it.
    pub grade1: bool,
    pub grade1_word: bool,
    /// Capitals word mode.
    pub capitals: bool,
    /// A cell with an upper dot was written.
    pub upper: bool,
    /// The way back to the last space, hyphen or dash is open (2.6.2).
    pub left: bool,
    /// A number was written since (6.5).
    pub numeric: bool,
}

/// Buffers that are used again for each sequence.
#[derive(Default)]
pub(crate) struct Room {
    /// Reasons are wanted.
    pub reasons: bool,
    /// Acronyms whose letters are said one by one, in lower case, sorted.
    pub acronyms: Vec<String>,
    letters: Vec<Letter>,
    pub parts: Vec<Part>,
    pub passed: Vec<Passed>,
    pub runs: Vec<Run>,
    /// The text has dashes of several lengths.
    pub lengths: bool,
    /// The edition of the rules.
    pub edition: Edition,
    /// Another way of writing than the usual one.
    pub tweak: Tweak,
    /// Within a grade 1 passage.
    pub passage: bool,
    /// The symbols-sequence began in the piece before, and goes on in the next.
    pub begun: Option<Carry>,
    pub goes_on: bool,
    /// What would go on into the next piece.
    pub carry: Carry,
    /// Closing quotation marks, by their place among the symbols, whose partners had to be written with the specific sign.
    pub specific: Vec<usize>,
    /// The symbol before which a grade 1 word indicator is put.
    pub word_from: Option<usize>,
    /// Grade 1 indicators written: how many, in how many cells, and before which symbol the first.
    pub guards: usize,
    pub guard_cells: usize,
    pub first_guard: Option<usize>,
    /// The letters-sequence whose contractions `parts` holds, and whether its end was spelt out.
    pub chosen: Option<(usize, bool)>,
}

impl Room {
    /// Counts a grade 1 indicator before the symbol at `place`.
    pub fn guarded(&mut self, place: usize, cells: usize) {
        self.guards += 1;
        self.guard_cells += cells;
        self.first_guard.get_or_insert(place);
    }
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

/// Whether it may stand between a letters-sequence and the space before it (2.6.2).
pub(crate) fn before_ok(s: &Symbol) -> bool {
    matches!(s.kind, Kind::Open | Kind::OpenQuote | Kind::Apostrophe)
}

/// Whether it may stand between a letters-sequence and the space after it (2.6.3).
pub(crate) fn after_ok(s: &Symbol) -> bool {
    matches!(s.kind, Kind::Stop | Kind::Close | Kind::CloseQuote | Kind::Apostrophe)
}

/// Whether it ends what stands alone (2.6.1).
pub(crate) fn edge(s: &Symbol) -> bool {
    matches!(s.kind, Kind::Space | Kind::Hyphen | Kind::Dash)
}

/// Writes the sequence `range` of `symbols`; blanks stand only around it.
pub(crate) fn sequence<S: Sink>(
    symbols: &[Symbol],
    range: Range<usize>,
    faces: &[FaceMark],
    contracted: bool,
    room: &mut Room,
    sink: &mut S,
) {
    let begun = room.begun.unwrap_or_default();
    room.word_from = match room.tweak {
        _ if begun.grade1_word => None,
        Tweak::GradeOne(from) => Some(from),
        Tweak::No if contracted => grade1::word_from(symbols, &range, faces, room),
        _ => None,
    };
    find_runs(symbols, range.clone(), faces, contracted, room);
    let mark = sink.mark();
    let last_lower = write(symbols, range.clone(), faces, contracted, room, sink);
    room.carry.upper = begun.upper || room.goes_on && sink.cells()[mark[0]..].iter().any(|c| c.is_upper());
    // A sequence of lower signs only is spelt out at its last contraction (10.5.4, 10.6.10, 10.10.10).
    if let Some(run) = last_lower.filter(|_| !begun.upper && !room.goes_on) {
        let whole_word = room.runs.len() == 1
            && room.runs[0].wordsign.is_some()
            && range.len() == room.runs[0].range.len();
        let upper = |cells: &[Cell]| cells.iter().filter(|cell| cell.is_upper()).count();
        // Quotation marks of two cells do not count (10.5.3, 10.5.4).
        let quotes = symbols[range.clone()].iter().filter(|s| s.quotation_mark());
        let quotes: usize = quotes.map(|s| upper(&register::get(s.sign).cells)).sum();
        let upper = upper(&sink.cells()[mark[0]..]) > quotes;
        if !upper && !whole_word {
            sink.back_to(mark);
            room.runs[run].spell_lower = true;
            room.runs[run].wordsign = None;
            write(symbols, range.clone(), faces, contracted, room, sink);
        }
    }
    if S::REASONS && contracted && room.begun.is_none() && !room.goes_on {
        choices::in_sequence(symbols, &range, faces, room, mark, sink);
    }
}

/// Letters without an end, which no word has, are taken so many at a time.
pub(crate) const LONGEST: usize = 1000;

/// Finds the letters-sequences of `range` and what each is.
pub(crate) fn find_runs(
    symbols: &[Symbol],
    range: Range<usize>,
    faces: &[FaceMark],
    contracted: bool,
    room: &mut Room,
) {
    room.runs.clear();
    room.chosen = None;
    let mut numeric = room.begun.is_some_and(|begun| begun.numeric);
    let mut i = range.start;
    // Whether the way back to the last space, hyphen or dash is open (2.6.2).
    let mut left = room.begun.is_none_or(|begun| begun.left);
    while i < range.end {
        let s = &symbols[i];
        match s.kind {
            Kind::Letter => {
                let from = i;
                while i < range.end && symbols[i].kind == Kind::Letter && i - from < LONGEST {
                    i += 1;
                }
                room.runs.push(Run {
                    range: from..i,
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
                });
                left = false;
                continue;
            }
            Kind::Digit => {
                numeric = true;
                left = false;
            }
            Kind::Hyphen | Kind::Dash => {
                numeric = false;
                left = true;
            }
            _ if before_ok(s) => {}
            _ => left = false,
        }
        i += 1;
    }
    (room.carry.left, room.carry.numeric) = (left, numeric);
    // The way on to the next space, hyphen or dash (2.6.3), from the right.
    let mut right = !room.goes_on;
    let know = known();
    let mut i = range.end;
    let mut next_letters: Option<(usize, usize, bool, bool)> = None;
    for k in (0..room.runs.len()).rev() {
        let run = room.runs[k].range.clone();
        while i > run.end {
            i -= 1;
            let s = &symbols[i];
            if edge(s) || s.sign == know.line && room.edition == Edition::Third {
                right = true;
            } else if !after_ok(s) {
                right = false;
            }
        }
        room.runs[k].right = right;
        room.runs[k].suffix = right;
        room.runs[k].affix = right;
        if let Some((from, to, open, ends)) = next_letters
            && open
            && from == run.end + 1
            && symbols[run.end].kind == Kind::Apostrophe
        {
            room.runs[k].affix = true;
            let mut text = [' '; 2];
            let n = to - from;
            if n <= 2 {
                for (place, s) in symbols[from..to].iter().enumerate() {
                    text[place] = s.ch;
                }
                let text: String = text[..n].iter().collect();
                room.runs[k].suffix = ends && matches!(text.as_str(), "d" | "ll" | "re" | "s" | "t" | "ve");
                room.runs[k].possessive = text == "s";
                // where'er is wher- and e'er (10.10.8).
                if text == "er" && symbols[run.end - 1].ch == 'e' {
                    room.runs[k].alone = run.len() - 1..run.len();
                    room.runs[k].alone_why = ("10.10.8", "would distort the word");
                }
            }
        }
        // Behind couldn't comes 've: a word may have more than one affix (10.9.2), but a wordsign only one (10.1.2).
        next_letters = Some((run.start, run.end, right || room.runs[k].affix, right));
        i = run.start;
        right = false;
    }
    for k in 0..room.runs.len() {
        wordsigns::decide(symbols, &range, k, faces, contracted, room);
    }
    if room.tweak != Tweak::Singly {
        grade1::spelled(symbols, &range, room);
    }
    // A grouped index asks for a grade 1 word; a letter alone in front of it goes in (11.4.3).
    if contracted && room.runs.first().is_some_and(|r| r.range == (range.start..range.start + 1)) {
        let index = range.start + 1;
        if index < range.end && symbols[index].kind == Kind::Index {
            let end = index_end(symbols, index, range.end);
            let number = symbols[index + 1..end].iter().all(|s| s.kind == Kind::Digit);
            if end > index + 2 && !number {
                room.runs[0].guard = false;
                room.runs[0].guard_word = true;
            }
        }
    }
}

/// The contractions of one letters-sequence, into `room.parts`.
pub(crate) fn choose(
    symbols: &[Symbol],
    range: &Range<usize>,
    k: usize,
    faces: &[FaceMark],
    room: &mut Room,
) {
    let run = room.runs[k].clone();
    if room.chosen == Some((k, run.spell_lower)) {
        return;
    }
    room.chosen = Some((k, run.spell_lower));
    room.letters.clear();
    let apart = match room.tweak {
        Tweak::NotLower(run, len) if run == k => 0..len,
        _ => 0..0,
    };
    for i in run.range.clone() {
        let s = &symbols[i];
        let inner = i > run.range.start;
        let bound = inner && (symbols[i - 1].ligature || symbols[i - 1].group);
        room.letters.push(Letter {
            ch: s.ch,
            plain: s.plain() && !bound,
            mark_before: inner
                && (s.capital == 1 || s.capital == 2 || symbols[i - 1].capital_end || marked_at(faces, i)),
            alone: if run.alone.contains(&(i - run.range.start)) {
                Some(run.alone_why)
            } else {
                apart
                    .contains(&(i - run.range.start))
                    .then_some(("10.6.4", "the letters are an abbreviation"))
            },
        });
    }
    if room.edition == Edition::Second {
        let whole = |s: &[Symbol]| s.iter().map(|s| s.ch).eq(COMPOSER.chars());
        let named = symbols[run.range.clone()].len() >= COMPOSER.len()
            && whole(&symbols[run.range.start..run.range.start + COMPOSER.len()]);
        if named {
            room.letters[COMPOSER_TH].alone = Some(("10.11.2", "the h is sounded"));
        }
    }
    let before = run.range.start.checked_sub(1).filter(|&p| p >= range.start).map(|p| &symbols[p]);
    let after = Some(run.range.end).filter(|&p| p < range.end).map(|p| &symbols[p]);
    // A piece is cut where something stands on the other side that is neither edge nor punctuation.
    let cut_before = room.begun.is_some() && run.range.start == range.start;
    let cut_after = room.goes_on && run.range.end == range.end;
    let context = Context {
        word_start: run.left
            || !cut_before
                && before.is_none_or(|s| {
                    s.kind != Kind::Apostrophe && s.kind != Kind::Digit && s.kind != Kind::Letter
                })
                && before.is_none_or(edge),
        word_end: run.right || after.is_none() && !cut_after,
        // Two letters are kept out of a groupsign only where they would be read as a wordsign (10.4.2, 10.5.2).
        standing_alone: run.left
            && match &room.letters[..] {
                [e, n] if (e.ch, n.ch) == ('e', 'n') => run.right || run.possessive,
                [_, _] => run.suffix,
                _ => run.affix,
            },
        shortforms: !run.no_shortform,
        needs_upper: run.spell_lower,
        divided: None,
    };
    room.parts.clear();
    room.passed.clear();
    // What capitals or a typeform set off within a word (PhoneNumbers, TEAspoon) is chosen by itself: no contraction
    // spans an indicator (10.12.12).
    let mut from = 0;
    if let Tweak::Lower(run, len) = room.tweak
        && run == k
    {
        let lower: String = room.letters[..len].iter().map(|l| l.ch).collect();
        if let Some(sign) = register::by_key(&format!("groupsign {lower}")) {
            room.parts.push(Part { sign: sign.id, len: len as u8, section: "" });
            from = len;
        }
    }
    while from < room.letters.len() {
        let marked = |l: &Letter| l.mark_before;
        let to =
            room.letters[from + 1..].iter().position(marked).map_or(room.letters.len(), |n| from + 1 + n);
        let whole = to - from == room.letters.len();
        let parts = room.edition == Edition::Third && in_parts(&symbols[run.range.clone()]);
        let piece = Context {
            word_start: context.word_start && from == 0,
            word_end: context.word_end && to == room.letters.len(),
            standing_alone: context.standing_alone && (whole || parts),
            shortforms: context.shortforms,
            needs_upper: context.needs_upper && to == room.letters.len(),
            divided: None,
        };
        let known = room.passed.len();
        let letters = run.range.start + from..run.range.start + to;
        let code = to == room.letters.len() && after.is_some_and(|s| s.kind == Kind::Digit);
        let apart = room.tweak != Tweak::Contracted(k)
            && (is_acronym(symbols, letters.clone(), &room.acronyms)
                || acronyms::said_singly(&symbols[letters], code, from));
        if apart || room.tweak == Tweak::Spelled(k) {
            acronym(from..to, &piece, room);
            from = to;
            continue;
        }
        let passed = room.reasons.then_some(&mut room.passed);
        contract::choose(&room.letters[from..to], &piece, &mut room.parts, passed);
        for passed in &mut room.passed[known..] {
            passed.at += from;
        }
        from = to;
    }
}

/// The composer in whose name the third edition takes the groupsign th, and the place of its h.
pub(crate) const COMPOSER: &str = "beethoven";
const COMPOSER_TH: usize = 4;

/// Whether a letters-sequence is made of parts with a capital in front of each, such as LetterWriter: in the third edition
/// each takes its shortform.
pub(crate) fn in_parts(letters: &[Symbol]) -> bool {
    let single = |two: &[Symbol]| two[0].upper && !two[1].upper && two[0].capital == 1;
    letters.len() > 3
        && letters.iter().all(|s| s.plain() && s.upper == (s.capital == 1) && !s.capital_end)
        && single(&letters[..2])
        && letters[1..].windows(2).any(single)
        && letters.last().is_some_and(|s| !s.upper)
        && letters.windows(2).all(|two| !(two[0].upper && two[1].upper))
}

/// Whether letters are an acronym said letter by letter: one that the text explains, though not within a capitals passage,
/// where it may be a word, or one of the list.
pub(crate) fn is_acronym(symbols: &[Symbol], letters: Range<usize>, explained: &[String]) -> bool {
    let named = || {
        let letters = &symbols[letters.clone()];
        letters.first().is_some_and(|s| s.capital == 2)
            && letters.iter().all(|s| s.upper)
            && explained.binary_search_by(|known| known.chars().cmp(letters.iter().map(|s| s.ch))).is_ok()
    };
    !explained.is_empty() && named() || acronyms::listed_singly(symbols, letters.clone())
}

/// Spells an acronym; the contractions that it would have had are passed over.
fn acronym(letters: Range<usize>, context: &Context, room: &mut Room) {
    let first = room.parts.len();
    contract::choose(&room.letters[letters.clone()], context, &mut room.parts, None);
    let mut at = letters.start;
    for part in room.parts.split_off(first) {
        if part.len > 1 {
            let (len, why) = (usize::from(part.len), "the letters are said one by one");
            room.passed.push(Passed { sign: part.sign, at, len, section: "10.12.1", why });
        }
        at += usize::from(part.len);
    }
    for letter in &room.letters[letters] {
        room.parts.push(Part { sign: register::letter(letter.ch), len: 1, section: "10.12.1" });
    }
}
