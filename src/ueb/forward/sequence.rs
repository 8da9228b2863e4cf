//! One symbols-sequence: its letters-sequences, its indicators, and the lower sign rule over the whole.

use super::super::register;
use super::grade1;
use super::plan::{Carry, Plan, Sequence, Way, Written};
use super::runs;
use super::sink::Sink;
use super::write::write;
use crate::cell::Cell;

/// Writes a symbols-sequence, and tells what goes on into the next piece, and more of [`Sequence::specific`].
pub(crate) fn write_sequence<S: Sink>(
    sequence: &Sequence,
    plan: &mut Plan,
    sink: &mut S,
) -> (Carry, Vec<usize>) {
    let begun = sequence.begun.unwrap_or_default();
    plan.word_from = match sequence.way {
        _ if begun.modes.grade1_word => None,
        Way::GradeOne(from) => Some(from),
        Way::Usual if sequence.contracted => grade1::word_from(sequence, plan),
        _ => None,
    };
    runs::find(sequence, plan);
    let mark = sink.mark();
    let mut written = write(sequence, plan, sink);
    let upper = begun.upper || sequence.goes_on && sink.cells()[mark[0]..].iter().any(|c| c.is_upper());
    if let Some(run) = written.last_lower.filter(|_| !begun.upper && !sequence.goes_on)
        && lower_only(sequence, plan, &sink.cells()[mark[0]..])
    {
        sink.back_to(mark);
        plan.runs[run].spell_lower = true;
        plan.runs[run].wordsign = None;
        written = write(sequence, plan, sink);
    }
    let Written { modes, specific, .. } = written;
    (Carry { modes, capitals: false, upper, left: plan.left, numeric: plan.numeric }, specific)
}

/// Whether a sequence is of lower signs only: then it is spelt out at its last contraction (10.5.4, 10.6.10, 10.10.10).
fn lower_only(sequence: &Sequence, plan: &Plan, cells: &[Cell]) -> bool {
    let whole_word = matches!(&plan.runs[..], [run] if run.wordsign.is_some() && run.range == (sequence.from..sequence.to));
    let upper = |cells: &[Cell]| cells.iter().filter(|cell| cell.is_upper()).count();
    // Quotation marks of two cells do not count (10.5.3, 10.5.4).
    let quotes = sequence.own().iter().filter(|s| s.quotation_mark());
    let quotes: usize = quotes.map(|s| upper(&register::get(s.sign).cells)).sum();
    !whole_word && upper(cells) <= quotes
}
