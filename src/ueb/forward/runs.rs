//! The letters-sequences of a symbols-sequence, and what stands around each (2.6, 5, 10.1, 10.9).

use super::super::Edition;
use super::index::index_end;
use super::known::known;
use super::plan::{Plan, Run, Sequence, Way};
use super::symbols::{Kind, after_ok, before_ok, edge};
use super::wordsigns;

/// Letters without an end, which no word has, are taken so many at a time.
pub(crate) const LONGEST: usize = 1000;

/// Finds the letters-sequences and decides what each is.
pub(crate) fn find(sequence: &Sequence, plan: &mut Plan) {
    plan.contractions.forget();
    from_the_left(sequence, plan);
    from_the_right(sequence, &mut plan.runs);
    for k in 0..plan.runs.len() {
        wordsigns::decide(sequence, k, plan);
    }
    if sequence.way != Way::Singly {
        spelled(sequence, plan);
    }
    grouped_index(sequence, &mut plan.runs);
}

/// Finds them, each with the way back to the last space, hyphen or dash (2.6.2).
fn from_the_left(sequence: &Sequence, plan: &mut Plan) {
    plan.runs.clear();
    let symbols = sequence.symbols;
    let mut numeric = sequence.begun.is_some_and(|begun| begun.numeric);
    let mut left = sequence.begun.is_none_or(|begun| begun.left);
    let mut i = sequence.from;
    while i < sequence.to {
        let s = &symbols[i];
        let from = i;
        i += 1;
        match s.kind {
            Kind::Letter => {
                while i < sequence.to && symbols[i].kind == Kind::Letter && i - from < LONGEST {
                    i += 1;
                }
                plan.runs.push(Run::new(from..i, left, numeric));
                left = false;
            }
            Kind::Digit => (numeric, left) = (true, false),
            Kind::Hyphen | Kind::Dash => (numeric, left) = (false, true),
            _ => left &= before_ok(s),
        }
    }
    (plan.left, plan.numeric) = (left, numeric);
}

/// The letters-sequence after another, as its apostrophe finds it.
struct Next {
    from: usize,
    to: usize,
    /// The way on to the next space, hyphen or dash is open (2.6.3), or open past an affix.
    ends: bool,
    affix: bool,
}

/// The way on to the next space, hyphen or dash (2.6.3), from the right.
fn from_the_right(sequence: &Sequence, runs: &mut [Run]) {
    let symbols = sequence.symbols;
    let line = |sign| sign == known().line && sequence.edition == Edition::Third;
    let mut right = !sequence.goes_on;
    let mut i = sequence.to;
    let mut next: Option<Next> = None;
    for run in runs.iter_mut().rev() {
        let (from, to) = (run.range.start, run.range.end);
        for s in symbols[to..i.max(to)].iter().rev() {
            right = edge(s) || line(s.sign) || right && after_ok(s);
        }
        (run.right, run.suffix, run.affix) = (right, right, right);
        if let Some(next) = next.filter(|next| next.affix && next.from == to + 1)
            && symbols[to].kind == Kind::Apostrophe
        {
            run.affix = true;
            before_affix(sequence, run, &next);
        }
        // Behind couldn't comes 've: a word may have more than one affix (10.9.2), but a wordsign only one (10.1.2).
        next = Some(Next { from, to, ends: right, affix: right || run.affix });
        i = from;
        right = false;
    }
}

/// What the letters behind an apostrophe make of those before it.
fn before_affix(sequence: &Sequence, run: &mut Run, next: &Next) {
    let symbols = sequence.symbols;
    let is = |text: &str| symbols[next.from..next.to].iter().map(|s| s.ch).eq(text.chars());
    run.suffix = next.ends && ["d", "ll", "re", "s", "t", "ve"].into_iter().any(is);
    run.possessive = is("s");
    // where'er is wher- and e'er (10.10.8).
    if is("er") && symbols[run.range.end - 1].ch == 'e' {
        run.alone = run.range.len() - 1..run.range.len();
        run.alone_why = ("10.10.8", "would distort the word");
    }
}

/// A grouped index asks for a grade 1 word; a letter alone in front of it goes in (11.4.3).
fn grouped_index(sequence: &Sequence, runs: &mut [Run]) {
    let (symbols, index) = (sequence.symbols, sequence.from + 1);
    let Some(run) = runs.first_mut().filter(|run| run.range == (sequence.from..index)) else { return };
    if !sequence.contracted || sequence.get(index).is_none_or(|s| s.kind != Kind::Index) {
        return;
    }
    let end = index_end(symbols, index, sequence.to);
    let number = symbols[index + 1..end].iter().all(|s| s.kind == Kind::Digit);
    if end > index + 2 && !number {
        run.guard = false;
        run.guard_word = true;
    }
}

/// Words spelt or stammered with hyphens: one grade 1 word indicator where it saves indicators (5.9.1).
fn spelled(sequence: &Sequence, plan: &mut Plan) {
    let guards = plan.runs.iter().filter(|run| run.guard).count();
    if guards < 2 || guards == 2 && !spread(sequence, &plan.runs) {
        return;
    }
    let Some(mut first) = plan.runs.iter().position(|run| run.guard) else { return };
    let Plan { runs, contractions, .. } = plan;
    // Typeforms are left aside.
    let unmarked = Sequence { faces: &[], ..*sequence };
    let mut contracted = |k: usize, run: &Run| {
        run.wordsign.is_some() || {
            contractions.choose(&unmarked, k, run);
            contractions.any()
        }
    };
    // Only where nothing after it would be contracted.
    if (first..runs.len()).any(|k| contracted(k, &runs[k])) {
        return;
    }
    // What stands before it goes in too where that changes nothing.
    while first > 0 && !runs[first - 1].numeric && !contracted(first - 1, &runs[first - 1]) {
        first -= 1;
    }
    if guards == 2 && first > 0 {
        return;
    }
    for run in &mut runs[first..] {
        run.guard = false;
    }
    runs[first].guard_word = true;
}

/// Whether two guards are those of a word in three or more parts, such as un-e-mo-tion-al or S-O-S, for which one
/// indicator serves as well in as many cells. A sound that goes on, as in br-r-r, keeps an indicator for each (10.12.14).
fn spread(sequence: &Sequence, runs: &[Run]) -> bool {
    let [start, _, .., end] = runs else { return false };
    let letters = |run: &Run| sequence.symbols[run.range.clone()].iter().map(|s| s.ch);
    let same = |two: &[Run]| two[0].guard && two[1].guard && letters(&two[0]).eq(letters(&two[1]));
    let between = &sequence.symbols[start.range.start..end.range.end];
    !runs.windows(2).any(same) && between.iter().all(|s| matches!(s.kind, Kind::Letter | Kind::Hyphen))
}
