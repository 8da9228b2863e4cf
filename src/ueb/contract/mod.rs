//! The choice of contractions inside one letters-sequence (sections 10.3 to 10.11).
//!
//! The engine finds the letters-sequences and asks [`choose`] once for each. Wordsigns that stand for the whole
//! sequence (10.1, 10.2, 10.5) are the engine's; everything shorter, and shortforms (10.9), is chosen here.

use std::ops::Range;
use std::sync::OnceLock;

use super::register::{self, Class, SignId};

mod parts;
mod reasons;
mod rules;
pub mod seams;
mod shortened;
pub mod shortforms;
mod table;

pub use shortened::may_be_shortened;

/// One letter of a letters-sequence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Letter {
    /// The letter in lower case.
    pub ch: char,
    /// Unmodified, so that it may take part in a contraction (4.2, 4.3).
    pub plain: bool,
    /// A capitals or typeform indicator or terminator, or another grade 1 sign, stands directly before it: lower
    /// groupsigns (10.6.5) and final-letter groupsigns (10.8) are barred there, and a contraction may begin here
    /// but not span it.
    pub mark_before: bool,
    /// The caller keeps this letter out of contractions (the letter itself must be written), by this section and for
    /// this reason.
    pub alone: Option<(&'static str, &'static str)>,
}

/// What stands around a letters-sequence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Context {
    /// The first letter begins a word in the sense of 10.6.1: space, hyphen, dash or opening punctuation and
    /// indicators before it.
    pub word_start: bool,
    /// The last letter ends a word: nothing but closing punctuation, apostrophe, hyphen, dash or space after it.
    pub word_end: bool,
    /// The whole sequence stands alone (2.6).
    pub standing_alone: bool,
    /// Shortforms may be used where it stands alone (10.9.1).
    pub shortforms: bool,
    /// Nothing else in the symbols-sequence is written with an upper dot: 10.6.8 and 10.10.10.
    pub needs_upper: bool,
    /// Before this letter the word is divided between two lines (10.13).
    pub divided: Option<usize>,
}

impl Context {
    /// A whole word that stands alone.
    pub const WORD: Context = Context {
        word_start: true,
        word_end: true,
        standing_alone: true,
        shortforms: true,
        needs_upper: false,
        divided: None,
    };
}

/// One sign chosen, and how many letters it takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// The sign.
    pub sign: SignId,
    /// How many letters it stands for.
    pub len: u8,
    /// The section that asks for it; empty where the register's section serves.
    pub section: &'static str,
}

/// A contraction whose letters stand in the sequence and that was not used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Passed {
    /// The contraction.
    pub sign: SignId,
    /// Its first letter's place in the sequence.
    pub at: usize,
    /// How many letters it has.
    pub len: usize,
    /// The section that bars it or prefers another.
    pub section: &'static str,
    /// The reason in a few plain words.
    pub why: &'static str,
}

/// Whether parts of a compound meet before this letter of a word in lower case, as far as the lexicon and the list of
/// parts know, or an h there is sounded: mis-hap.
pub fn parts_meet(word: &[u8], at: usize) -> bool {
    parts::meet(word, at) || seams::of(word).parts_meet(at) || rules::h_is_sounded(word, at)
}

/// Whether a word in lower case may begin a compound, as far as the list of parts knows.
pub fn begins_compounds(word: &[u8]) -> bool {
    parts::is_first(word)
}

/// A contraction that may stand for part of a word.
struct Candidate {
    letters: &'static [u8],
    sign: SignId,
    class: Class,
    cells: u32,
}

/// The contractions by their first two letters.
struct Candidates {
    all: Vec<Candidate>,
    /// For each pair of letters where its contractions begin in `all`; they end where the next pair's begin.
    begins: [u16; 26 * 26 + 1],
}

impl Candidates {
    /// The contractions that begin with these two letters, most often none; `?` begins none.
    fn of(&self, first: u8, second: u8) -> &[Candidate] {
        let (a, b) = (usize::from(first.wrapping_sub(b'a')), usize::from(second.wrapping_sub(b'a')));
        if a >= 26 || b >= 26 {
            return &[];
        }
        &self.all[usize::from(self.begins[a * 26 + b])..usize::from(self.begins[a * 26 + b + 1])]
    }

    /// The contractions whose letters stand at this place.
    fn at<'a>(&'a self, word: &'a [u8], at: usize) -> impl Iterator<Item = &'a Candidate> {
        let next = word.get(at + 1).copied().unwrap_or(b'?');
        self.of(word[at], next).iter().filter(move |c| word[at..].starts_with(c.letters))
    }
}

fn candidates() -> &'static Candidates {
    static CANDIDATES: OnceLock<Candidates> = OnceLock::new();
    CANDIDATES.get_or_init(|| {
        let pair = |letters: &[u8]| usize::from(letters[0] - b'a') * 26 + usize::from(letters[1] - b'a');
        let mut all: Vec<Candidate> = Vec::new();
        for sign in register::signs() {
            let part = matches!(
                sign.class,
                Class::StrongContraction
                    | Class::StrongGroupsign
                    | Class::LowerGroupsign
                    | Class::InitialLetterContraction
                    | Class::FinalLetterGroupsign
            );
            let letters = sign.print.as_bytes();
            if part && letters.len() > 1 && letters.iter().all(u8::is_ascii_lowercase) {
                let cells = sign.cells.len() as u32;
                all.push(Candidate { letters, sign: sign.id, class: sign.class, cells });
            }
        }
        crate::order::sort_by_key(&mut all, |candidate| pair(candidate.letters));
        let begins =
            std::array::from_fn(|i| all.partition_point(|candidate| pair(candidate.letters) < i) as u16);
        Candidates { all, begins }
    })
}

/// What a way of writing costs: cells first (10.10.2), then the order of preference (10.10.3 to 10.10.7), in the low
/// bits.
const CELL: u32 = 1 << 8;

impl Candidate {
    /// Its place in the order of preference, before these letters of the word.
    fn preference(&self, rest: &[u8]) -> u32 {
        preference(self.class, self.letters, rest)
    }
}

fn preference(class: Class, letters: &[u8], rest: &[u8]) -> u32 {
    match class {
        Class::StrongContraction => 0,
        Class::LowerGroupsign if matches!(letters, b"be" | b"con" | b"dis") => 0,
        // 10.10.8: as-thma, is-thmus: the th is one sound, or one letter of the word's Greek.
        Class::StrongGroupsign if letters == b"st" && rest.first() == Some(&b'h') => 2,
        Class::StrongGroupsign => 1,
        Class::LowerGroupsign => 2,
        // 10.10.6: encea, enced, encer.
        Class::FinalLetterGroupsign
            if letters == b"ence" && matches!(rest.first(), Some(b'a' | b'd' | b'r')) =>
        {
            0
        }
        // More than any two signs that could stand in its place: emm-en-th-al.
        _ => 7,
    }
}

/// Words up to this length are chosen without a memory allocation.
const SHORT: usize = 48;

/// How the letters from one place on are written best.
#[derive(Clone, Copy)]
struct Step {
    cost: u32,
    len: u8,
    /// The contraction that begins here; `None` for the letter itself.
    sign: Option<SignId>,
}

/// Chooses the signs for one letters-sequence of plain letters `a` to `z`; letters that take no contraction are left
/// to the caller as parts with `sign` the letter's own. The parts cover every letter once.
///
/// `passed` is filled only when given; the choice is the same either way. Time grows linearly with the letters.
pub fn choose(letters: &[Letter], context: &Context, out: &mut Vec<Part>, passed: Option<&mut Vec<Passed>>) {
    let n = letters.len();
    let (mut few_letters, mut many_letters) = ([0u8; SHORT], Vec::new());
    let empty = Step { cost: 0, len: 0, sign: None };
    let (mut few_steps, mut many_steps) = ([empty; SHORT + 1], Vec::new());
    let (bytes, best) = if n <= SHORT {
        (&mut few_letters[..n], &mut few_steps[..=n])
    } else {
        many_letters.resize(n, 0);
        many_steps.resize(n + 1, empty);
        (&mut many_letters[..], &mut many_steps[..])
    };
    let word = Word::of(letters, context, bytes);
    let mut told = passed.is_some().then(Told::default);
    word.weigh(best, told.as_mut());
    let first = out.len();
    word.parts(best, out);
    if context.needs_upper {
        spell_last_lower(letters, first, out);
    }
    if let (Some(passed), Some(told)) = (passed, told) {
        passed.append(&mut word.passed_over(told, &out[first..], best));
    }
}

/// What is kept to tell why contractions were not used.
#[derive(Default)]
struct Told {
    refused: Vec<Passed>,
    ways: reasons::Ways,
}

/// A letters-sequence as the rules look at it.
struct Word<'a> {
    letters: &'a [Letter],
    context: &'a Context,
    /// In lower case, one byte a letter; `?` for one that takes no contraction.
    bytes: &'a [u8],
    /// It has such a letter.
    unusual: bool,
    /// An indicator stands within it.
    inner_mark: bool,
    /// Where it has shortforms.
    shortforms: shortforms::Places,
    seams: seams::Seams,
}

impl<'a> Word<'a> {
    fn of(letters: &'a [Letter], context: &'a Context, bytes: &'a mut [u8]) -> Self {
        let (mut inner_mark, mut unusual) = (false, false);
        for (i, (byte, letter)) in bytes.iter_mut().zip(letters).enumerate() {
            let usual = letter.plain && letter.alone.is_none() && letter.ch.is_ascii_lowercase();
            *byte = if usual { letter.ch as u8 } else { b'?' };
            unusual |= !usual;
            inner_mark |= i > 0 && letter.mark_before;
        }
        let bytes = &*bytes;
        let whole =
            context.standing_alone && context.shortforms && bytes.len() > 1 && !inner_mark && !unusual;
        let shortforms = if whole { shortforms::places(bytes) } else { shortforms::Places::default() };
        let seams = if unusual { seams::Seams::default() } else { seams::of(bytes) };
        Word { letters, context, bytes, unusual, inner_mark, shortforms, seams }
    }

    /// Whether an indicator stands before this letter, within the word.
    fn marked(&self, at: usize) -> bool {
        self.inner_mark && at > 0 && self.letters.get(at).is_some_and(|letter| letter.mark_before)
    }

    /// From the end: the least cost of writing the letters from each place on, and the sign that begins it.
    fn weigh(&self, best: &mut [Step], mut told: Option<&mut Told>) {
        let places = &self.shortforms;
        let mut near = places.len();
        for at in (0..self.bytes.len()).rev() {
            // The shortforms from here on, and those that a contraction here may touch.
            while near > 0 && places[near - 1].at >= at {
                near -= 1;
            }
            best[at] = match places.get(near).filter(|place| place.at == at) {
                Some(place) => self.shortform(place, best, told.as_deref_mut()),
                None => {
                    let touched = &places[near.saturating_sub(1)..places.len().min(near + 3)];
                    self.cheapest(at, touched, best, told.as_deref_mut())
                }
            };
        }
    }

    /// A shortform, where the word has one.
    fn shortform(&self, place: &shortforms::Place, best: &[Step], told: Option<&mut Told>) -> Step {
        let at = place.at;
        if let Some(told) = told {
            told.ways.push((at, place.len, 0));
            let shorter = candidates().at(self.bytes, at).map(|candidate| Passed {
                sign: candidate.sign,
                at,
                len: candidate.letters.len(),
                section: place.section,
                why: "the shortform is used",
            });
            told.refused.extend(shorter);
        }
        Step { cost: best[at + place.len].cost, len: place.len as u8, sign: Some(place.sign) }
    }

    /// The letter itself, or the contraction that begins with it and leads to fewer cells (10.10.2) or a preferred sign;
    /// `touched` are the shortforms near it.
    fn cheapest(
        &self,
        at: usize,
        touched: &[shortforms::Place],
        best: &[Step],
        mut told: Option<&mut Told>,
    ) -> Step {
        let word = self.bytes;
        let mut cheapest = Step { cost: best[at + 1].cost.saturating_add(CELL), len: 1, sign: None };
        if let Some(told) = &mut told {
            told.ways.push((at, 1, CELL));
        }
        let next = word.get(at + 1).copied().unwrap_or(b'?');
        for candidate in candidates().of(word[at], next) {
            let (sign, len) = (candidate.sign, candidate.letters.len());
            if !word[at..].starts_with(candidate.letters) {
                continue;
            }
            if let Some((section, why)) = self.bar(candidate, at, touched) {
                if let Some(told) = &mut told {
                    told.refused.push(Passed { sign, at, len, section, why });
                }
                continue;
            }
            let own = candidate.cells * CELL + candidate.preference(&word[at + len..]);
            let cost = best[at + len].cost.saturating_add(own);
            if let Some(told) = &mut told {
                told.ways.push((at, len, own));
            }
            // Of two ways that are equal the one with the earlier contraction.
            if cost < cheapest.cost || cost == cheapest.cost && cheapest.sign.is_none() {
                cheapest = Step { cost, len: len as u8, sign: Some(sign) };
            }
        }
        cheapest
    }

    /// The signs of the cheapest way.
    fn parts(&self, best: &[Step], out: &mut Vec<Part>) {
        let mut places = self.shortforms.iter().peekable();
        let mut at = 0;
        while let Some(letter) = self.letters.get(at) {
            let Step { len, sign, .. } = best[at];
            let section = places.next_if(|place| place.at == at).map_or("", |place| place.section);
            let sign = sign.unwrap_or_else(|| register::letter(letter.ch));
            out.push(Part { sign, len, section });
            at += usize::from(len);
        }
    }

    /// The contractions that were not used, and why.
    fn passed_over(&self, told: Told, parts: &[Part], best: &[Step]) -> Vec<Passed> {
        let Told { mut refused, ways } = told;
        refused.reverse();
        refused.extend(reasons::unchosen(self.bytes, parts, best, &ways, &refused));
        if !self.unusual && !self.inner_mark {
            refused.extend(reasons::shortforms_passed(self.bytes, self.context, &self.shortforms));
        }
        refused.extend(kept_apart(self.letters));
        crate::order::sort_by_key(&mut refused, |place| (place.at, std::cmp::Reverse(place.len)));
        refused
    }

    /// Why a contraction whose letters stand at this place may not be used there; `touched` are the shortforms near it.
    fn bar(&self, candidate: &Candidate, at: usize, touched: &[shortforms::Place]) -> Option<rules::Bar> {
        let Word { context, bytes: word, seams, .. } = self;
        let len = candidate.letters.len();
        let end = at + len;
        if let Some(place) = touched.iter().find(|place| place.at < end && at < place.at + place.len) {
            return Some((place.section, "the shortform is used"));
        }
        if let Some(bar) = context.divided.and_then(|cut| divided(candidate, word.len(), at..end, cut)) {
            return Some(bar);
        }
        if (at + 1..end).any(|i| self.marked(i)) {
            return Some(("10.12.12", "an indicator stands within the letters"));
        }
        if at > 0 && matches!(candidate.letters, b"be" | b"con" | b"dis") {
            return Some(("10.6.2", "only at the beginning of a word"));
        }
        if seams.bars(at, len) {
            return Some(seams.section(candidate.class, candidate.letters));
        }
        let permitted = seams.permits(at, len);
        let by_rule = || {
            let place = rules::Place {
                // No rule looks further ahead than this.
                word: &word
                    [..(end..word.len().min(end + 40)).find(|&i| self.marked(i)).unwrap_or(word.len())],
                at,
                len,
                word_start: context.word_start,
                word_goes_on: self.marked(end),
                standing_alone: context.standing_alone,
                mark_before: self.marked(at),
                permitted,
            };
            rules::bar(candidate.class, &place)
        };
        // How a word is said and what it means comes before how it is made up: baro-net, chemo-therapy.
        if candidate.class == Class::InitialLetterContraction
            && let Some(bar) = by_rule()
        {
            return Some(bar);
        }
        // doggone, doggoning: one word now, though two words made it.
        let grown = candidate.letters == b"gg" && word[end..].starts_with(b"on");
        if !permitted
            && !grown
            && let Some(point) = parts::within(word, at, len)
        {
            return Some(bridged(candidate, word, point));
        }
        by_rule()
    }
}

/// Why a contraction does not bridge the point at which the parts of a word meet (10.11).
fn bridged(candidate: &Candidate, word: &[u8], point: usize) -> rules::Bar {
    let prefix = parts::is_prefix(&word[..point]);
    if word[point] == b'h' && candidate.letters.len() < 4 {
        ("10.11.2", "the h is sounded")
    } else if prefix && candidate.letters == b"ea" {
        ("10.11.4", "would bridge a prefix and the rest of the word")
    } else if &word[..point] == b"two" {
        ("10.11.7", "would bridge the suffix and hinder recognition of the word")
    } else if prefix {
        ("10.11.5", "would bridge the prefix and hinder recognition of the word")
    } else {
        ("10.11.1", "would bridge the words of a compound")
    }
}

/// Why a contraction of these letters may not be used in a word that is divided before the letter `cut`.
fn divided(candidate: &Candidate, word: usize, letters: Range<usize>, cut: usize) -> Option<rules::Bar> {
    if letters.contains(&cut) && letters.start < cut {
        return Some(("10.13.1", "the word is divided within the letters"));
    }
    let (before, after) = (letters.end == cut, letters.start == cut);
    let part = letters == (0..cut) || letters == (cut..word);
    match (candidate.class, candidate.letters) {
        (Class::LowerGroupsign, b"be" | b"con" | b"dis") if before || after => {
            Some(("10.13.9", "it stands beside the break"))
        }
        (Class::LowerGroupsign, b"ea" | b"bb" | b"cc" | b"ff" | b"gg") if before || after => {
            Some(("10.13.10", "it stands beside the break"))
        }
        (Class::LowerGroupsign, b"en") if part => Some(("10.6.9", "would be read as enough")),
        (Class::StrongGroupsign, b"ing") if after => Some(("10.13.4", "it begins the line")),
        (Class::StrongGroupsign, b"ch" | b"sh" | b"th" | b"wh" | b"ou" | b"st") if part => {
            Some(("10.4.2", "would be read as a word"))
        }
        (Class::FinalLetterGroupsign, _) if after => Some(("10.13.11", "it begins the line")),
        _ => None,
    }
}

/// 10.10.10: a sequence of lower signs only does not end in a lower groupsign.
fn spell_last_lower(letters: &[Letter], first: usize, out: &mut Vec<Part>) {
    let lower = |part: &Part| register::get(part.sign).cells.iter().all(|cell| cell.is_lower());
    if out[first..].is_empty() || !out[first..].iter().all(lower) {
        return;
    }
    if let Some(last) = out.pop() {
        for letter in &letters[letters.len() - usize::from(last.len)..] {
            out.push(Part { sign: register::letter(letter.ch), len: 1, section: "10.10.10" });
        }
    }
}

/// Contractions that touch a letter which the caller keeps out of them, for the caller's reason.
fn kept_apart(letters: &[Letter]) -> Vec<Passed> {
    if letters.iter().all(|letter| letter.alone.is_none()) {
        return Vec::new();
    }
    let usual = |letter: &Letter| letter.plain && letter.ch.is_ascii_lowercase();
    let word: Vec<u8> = letters.iter().map(|l| if usual(l) { l.ch as u8 } else { b'?' }).collect();
    let mut out = Vec::new();
    for at in 0..word.len() {
        for candidate in candidates().at(&word, at) {
            let len = candidate.letters.len();
            if let Some((section, why)) = letters[at..at + len].iter().find_map(|letter| letter.alone) {
                out.push(Passed { sign: candidate.sign, at, len, section, why });
            }
        }
    }
    out
}

#[cfg(test)]
mod tests;
