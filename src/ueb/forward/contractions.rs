//! The contractions of one letters-sequence: what stands around it, what sets its letters apart, what is said letter by
//! letter (10).

use std::ops::Range;

use super::super::Edition;
use super::super::contract::{self, Context, Letter, Part, Passed};
use super::super::register;
use super::acronyms;
use super::faces::marked_at;
use super::plan::{Contractions, Of, Run, Sequence, Way};
use super::symbols::{Kind, Symbol, edge};

impl Contractions {
    /// Forgets what was looked at: another sequence comes.
    pub fn forget(&mut self) {
        self.of = None;
    }

    /// Whether there is any.
    pub fn any(&self) -> bool {
        self.parts.iter().any(|part| part.len > 1)
    }

    /// Chooses those of the `k`-th letters-sequence.
    pub fn choose(&mut self, sequence: &Sequence, k: usize, run: &Run) {
        let of = Of {
            run: k,
            faces: !sequence.faces.is_empty(),
            alone: run.alone.clone(),
            no_shortform: run.no_shortform,
            spell_lower: run.spell_lower,
        };
        if self.of.as_ref() == Some(&of) {
            return;
        }
        self.of = Some(of);
        self.read(sequence, k, run);
        let context = context(sequence, run, &self.letters);
        self.parts.clear();
        self.passed.clear();
        let mut from = self.lower_in_front(sequence, k);
        // What capitals or a typeform set off within a word (PhoneNumbers, TEAspoon) is chosen by itself: no contraction
        // spans an indicator (10.12.12).
        while from < self.letters.len() {
            let next = self.letters[from + 1..].iter().position(|letter| letter.mark_before);
            let to = next.map_or(self.letters.len(), |n| from + 1 + n);
            self.between_marks(sequence, k, run, from..to, &context);
            from = to;
        }
    }

    /// The letters, each with what keeps it out of a contraction.
    fn read(&mut self, sequence: &Sequence, k: usize, run: &Run) {
        let symbols = sequence.symbols;
        let apart = match sequence.way {
            Way::NotLower(run, len) if run == k => 0..len,
            _ => 0..0,
        };
        self.letters.clear();
        self.letters.extend(run.range.clone().map(|i| {
            let (s, place) = (&symbols[i], i - run.range.start);
            let last = (place > 0).then(|| &symbols[i - 1]);
            let bound = last.is_some_and(|last| last.ligature || last.group);
            let marked = |last: &Symbol| {
                matches!(s.capital, 1 | 2) || last.capital_end || marked_at(sequence.faces, i)
            };
            let abbreviation = || ("10.6.4", "the letters are an abbreviation");
            Letter {
                ch: s.ch,
                plain: s.plain() && !bound,
                mark_before: last.is_some_and(marked),
                alone: if run.alone.contains(&place) {
                    Some(run.alone_why)
                } else {
                    apart.contains(&place).then(abbreviation)
                },
            }
        }));
        let named = || self.letters.iter().map(|letter| letter.ch).take(COMPOSER.len()).eq(COMPOSER.chars());
        if sequence.edition == Edition::Second && named() {
            self.letters[COMPOSER_TH].alone = Some(("10.11.2", "the h is sounded"));
        }
    }

    /// The lower groupsign that is tried in front, and how many letters it has.
    fn lower_in_front(&mut self, sequence: &Sequence, k: usize) -> usize {
        let Way::Lower(run, len) = sequence.way else { return 0 };
        let lower: String = self.letters.iter().take(len).map(|letter| letter.ch).collect();
        let Some(sign) = register::by_key(&format!("groupsign {lower}")).filter(|_| run == k) else {
            return 0;
        };
        self.parts.push(Part { sign: sign.id, len: len as u8, section: "" });
        len
    }

    /// Chooses for letters with no indicator among them; `context` is that of the whole letters-sequence.
    fn between_marks(
        &mut self,
        sequence: &Sequence,
        k: usize,
        run: &Run,
        Range { start: from, end: to }: Range<usize>,
        context: &Context,
    ) {
        let ends = to == self.letters.len();
        let parts = || sequence.edition == Edition::Third && in_parts(&sequence.symbols[run.range.clone()]);
        let piece = Context {
            word_start: context.word_start && from == 0,
            word_end: context.word_end && ends,
            standing_alone: context.standing_alone && (from == 0 && ends || parts()),
            needs_upper: context.needs_upper && ends,
            ..*context
        };
        let letters = run.range.start + from..run.range.start + to;
        let code = ends && sequence.get(run.range.end).is_some_and(|s| s.kind == Kind::Digit);
        let said_singly = || {
            is_acronym(sequence, &letters)
                || acronyms::said_singly(&sequence.symbols[letters.clone()], code, from)
        };
        if sequence.way == Way::Spelled(k) || sequence.way != Way::Contracted(k) && said_singly() {
            return self.spell(from..to, &piece);
        }
        let known = self.passed.len();
        let passed = sequence.reasons.then_some(&mut self.passed);
        contract::choose(&self.letters[from..to], &piece, &mut self.parts, passed);
        for passed in &mut self.passed[known..] {
            passed.at += from;
        }
    }

    /// Spells an acronym; the contractions that it would have had are passed over.
    fn spell(&mut self, letters: Range<usize>, context: &Context) {
        let first = self.parts.len();
        contract::choose(&self.letters[letters.clone()], context, &mut self.parts, None);
        let mut at = letters.start;
        for part in self.parts.split_off(first) {
            if part.len > 1 {
                let (len, why) = (usize::from(part.len), "the letters are said one by one");
                self.passed.push(Passed { sign: part.sign, at, len, section: "10.12.1", why });
            }
            at += usize::from(part.len);
        }
        for letter in &self.letters[letters] {
            self.parts.push(Part { sign: register::letter(letter.ch), len: 1, section: "10.12.1" });
        }
    }
}

/// What stands around a letters-sequence.
fn context(sequence: &Sequence, run: &Run, letters: &[Letter]) -> Context {
    let before = run.range.start.checked_sub(1).and_then(|place| sequence.get(place));
    // A piece is cut where something stands on the other side that is neither edge nor punctuation.
    let cut_before = sequence.begun.is_some() && run.range.start == sequence.from;
    let cut_after = sequence.goes_on && run.range.end == sequence.to;
    Context {
        word_start: run.left || !cut_before && before.is_none_or(edge),
        word_end: run.right || sequence.get(run.range.end).is_none() && !cut_after,
        // Two letters are kept out of a groupsign only where they would be read as a wordsign (10.4.2, 10.5.2).
        standing_alone: run.left
            && match letters {
                [e, n] if (e.ch, n.ch) == ('e', 'n') => run.right || run.possessive,
                [_, _] => run.suffix,
                _ => run.affix,
            },
        shortforms: !run.no_shortform,
        needs_upper: run.spell_lower,
        divided: None,
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
pub(crate) fn is_acronym(sequence: &Sequence, letters: &Range<usize>) -> bool {
    let (symbols, explained) = (sequence.symbols, &sequence.setting.acronyms);
    let named = || {
        let letters = &symbols[letters.clone()];
        letters.first().is_some_and(|s| s.capital == 2)
            && letters.iter().all(|s| s.upper)
            && explained.binary_search_by(|known| known.chars().cmp(letters.iter().map(|s| s.ch))).is_ok()
    };
    !explained.is_empty() && named() || acronyms::listed_singly(symbols, letters.clone())
}
