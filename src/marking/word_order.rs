//! Words that are all there, in another order than print has them: one mistake, and no slip of any of their signs.

use std::ops::Range;

use super::Expected;
use super::lines::Flat;
use super::regions::Region;
use crate::cell::Cell;
use crate::ueb::register::Class;

/// A stretch with differences: words in another order, or anything else.
pub(super) enum Stretch {
    /// All words are there, in another order.
    Moved(Region),
    /// To be looked at sign by sign.
    Other(Region),
}

/// Words that are looked at together, at most.
const MOST_WORDS: usize = 9;
/// Neighbouring regions that are looked at together, at most: a word and the place it was moved to.
const MOST_REGIONS: usize = 4;
/// Longer words than that are not compared.
const LONGEST: usize = 60;

/// One word asked for: what stands before its letters or digits, they themselves, and what stands behind them.
struct Word<'a> {
    units: Range<usize>,
    before: &'a [Cell],
    core: &'a [Cell],
    behind: &'a [Cell],
}

/// The regions, those together that hold the same words in another order.
pub(super) fn stretches(expected: &Expected, flat: &Flat, regions: Vec<Region>) -> Vec<Stretch> {
    let mut out = Vec::with_capacity(regions.len());
    let mut at = 0;
    while at < regions.len() {
        let most = MOST_REGIONS.min(regions.len() - at);
        let moved = (1..=most).find_map(|count| {
            let (first, last) = (&regions[at], &regions[at + count - 1]);
            let room = expected.cells_of(&(first.units.start..last.units.end));
            if room.len() > MOST_WORDS * LONGEST {
                return None;
            }
            Some((count, moved(expected, flat, first, last)?))
        });
        match moved {
            Some((count, region)) => {
                out.push(Stretch::Moved(region));
                at += count;
            }
            None => {
                out.push(Stretch::Other(regions[at].clone()));
                at += 1;
            }
        }
    }
    out
}

/// The words from one region to another, where they are the same ones in another order: from the first that is out of
/// its place to the last.
fn moved(expected: &Expected, flat: &Flat, first: &Region, last: &Region) -> Option<Region> {
    let (asked, written) = whole_words(expected, flat, first, last)?;
    let words = asked_words(expected, &asked)?;
    let mut written_words: Vec<Range<usize>> = Vec::new();
    let mut from = written.start;
    for word in flat.cells[written].split(|cell| cell.is_blank()) {
        if !word.is_empty() {
            written_words.push(from..from + word.len());
        }
        from += word.len() + 1;
    }
    if words.len() != written_words.len() || !(2..=MOST_WORDS).contains(&words.len()) {
        return None;
    }
    let cells: Vec<&[Cell]> = written_words.iter().map(|word| &flat.cells[word.clone()]).collect();
    let mut order = Vec::new();
    if !arranged(&words, &cells, &mut order) {
        return None;
    }
    let out_of_place = |at: &usize| order[*at] != *at;
    let from = (0..order.len()).find(out_of_place)?;
    let to = (0..order.len()).rfind(out_of_place)?;
    Some(Region {
        units: words[from].units.start..words[to].units.end,
        written: written_words[from].start..written_words[to].end,
    })
}

/// Both sides from one region to another, with the rest of the words they begin and end in.
fn whole_words(
    expected: &Expected,
    flat: &Flat,
    first: &Region,
    last: &Region,
) -> Option<(Range<usize>, Range<usize>)> {
    let mut asked = expected.cells_of(&(first.units.start..last.units.end));
    let mut written = first.written.start..last.written.end;
    let blank = |cells: &[Cell], at: Option<usize>| {
        at.and_then(|at| cells.get(at)).is_none_or(|cell| cell.is_blank())
    };
    let begins = |cells: &[Cell], at: usize| {
        blank(cells, at.checked_sub(1)) || cells.get(at).is_some_and(|c| c.is_blank())
    };
    let ends = |cells: &[Cell], at: usize| blank(cells, Some(at)) || blank(cells, at.checked_sub(1));
    for _ in 0..LONGEST {
        if begins(&expected.cells, asked.start) || begins(&flat.cells, written.start) {
            break;
        }
        if expected.cells[asked.start - 1] != flat.cells[written.start - 1] {
            return None;
        }
        (asked.start, written.start) = (asked.start - 1, written.start - 1);
    }
    for _ in 0..LONGEST {
        if ends(&expected.cells, asked.end) || ends(&flat.cells, written.end) {
            break;
        }
        if expected.cells[asked.end] != flat.cells[written.end] {
            return None;
        }
        (asked.end, written.end) = (asked.end + 1, written.end + 1);
    }
    let whole = begins(&expected.cells, asked.start)
        && begins(&flat.cells, written.start)
        && ends(&expected.cells, asked.end)
        && ends(&flat.cells, written.end);
    whole.then_some((asked, written))
}

/// The words asked for in some cells; `None` where there are too many or too long ones.
fn asked_words<'a>(expected: &'a Expected, asked: &Range<usize>) -> Option<Vec<Word<'a>>> {
    let from = expected.units.partition_point(|unit| unit.cells.start < asked.start);
    let to = expected.units.partition_point(|unit| unit.cells.start < asked.end);
    let mut words = Vec::new();
    let mut start = from;
    for at in from..=to {
        if at < to && !expected.units[at].is_space() {
            continue;
        }
        if start < at {
            words.push(word(expected, start..at));
            if words.len() > MOST_WORDS || expected.cells_of(&(start..at)).len() > LONGEST {
                return None;
            }
        }
        start = at + 1;
    }
    Some(words)
}

fn word(expected: &Expected, units: Range<usize>) -> Word<'_> {
    let own = &expected.units[units.clone()];
    let edge = |unit: &super::expected::Unit| unit.is_mark() || unit.class() == Some(Class::Punctuation);
    let first = own.iter().position(|unit| !edge(unit)).unwrap_or(0);
    let last = own.iter().rposition(|unit| !edge(unit)).map_or(own.len(), |at| at + 1);
    let cells =
        |from: usize, to: usize| &expected.cells[expected.cells_of(&(units.start + from..units.start + to))];
    Word { before: cells(0, first), core: cells(first, last), behind: cells(last, own.len()), units }
}

/// Whether the written words are the words asked for in some order; `order` then tells which stands at each place.
/// What stands around a word may go along with it or stay at its place.
fn arranged(words: &[Word], written: &[&[Cell]], order: &mut Vec<usize>) -> bool {
    let place = order.len();
    let (Some(cells), Some(here)) = (written.get(place), words.get(place)) else { return true };
    let fits = |word: &Word| {
        [here, word].iter().any(|before| {
            [here, word].iter().any(|behind| [before.before, word.core, behind.behind].concat() == *cells)
        })
    };
    for at in 0..words.len() {
        if !order.contains(&at) && fits(&words[at]) {
            order.push(at);
            if arranged(words, written, order) {
                return true;
            }
            order.pop();
        }
    }
    false
}
