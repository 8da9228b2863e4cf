//! Written cells set against expected cells: windows along the first difference, so that time and memory grow
//! with the text and a skipped or doubled line costs no more than itself.

use std::ops::Range;

use crate::cell::Cell;

/// One step: the place in the expected cells and the place in the written cells; one of them may be missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// The expected cell.
    pub expected: Option<usize>,
    /// The written cell.
    pub written: Option<usize>,
}

/// Cells of either side that a window holds. Most differences are over in a small one; the largest holds more than
/// three lines of 40.
const WINDOWS: [usize; 3] = [24, 56, 140];
/// Equal cells in a row after which a difference counts as over.
const SETTLED: usize = 10;
const OPEN: u32 = 4;
const EXTEND: u32 = 1;
const FAR: u32 = u32::MAX / 4;

fn swap_cost(asked: Cell, written: Cell) -> u32 {
    if asked == written {
        0
    } else if asked.is_blank() || written.is_blank() {
        9
    } else if asked.mirror() == written || (asked.bits() ^ written.bits()).count_ones() == 1 {
        4
    } else {
        5
    }
}

/// A stretch of differences: expected cells, and the written cells in their place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hunk {
    /// The expected cells, half-open.
    pub asked: Range<usize>,
    /// The written cells, half-open.
    pub written: Range<usize>,
}

/// Expected cells times written cells in one difference: a page left out is one difference, two texts of a page each
/// that have nothing in common are many.
const AREA: usize = 30_000;

/// As many cells on one side alone are pages left out or written twice.
const PAGES: usize = 4000;

impl Hunk {
    /// Whether it stays small with so many more cells of both sides.
    fn has_room(&self, asked: usize, written: usize) -> bool {
        let (asked, written) = (self.asked.len() + asked, self.written.len() + written);
        (asked + 1).saturating_mul(written + 1) <= AREA
            && (asked.max(written) < PAGES || asked.min(written) == 0)
    }

    /// Whether one side alone has so many cells that it is not looked at word by word.
    pub(super) fn is_pages(&self) -> bool {
        self.asked.len().max(self.written.len()) >= PAGES && self.asked.len().min(self.written.len()) == 0
    }
}

/// The differences of both sides, in order; between them the cells are equal.
pub fn differences(asked: &[Cell], written: &[Cell]) -> Vec<Hunk> {
    let mut hunks: Vec<Hunk> = Vec::new();
    let (mut i, mut j) = (0, 0);
    let mut differ = |a: Range<usize>, w: Range<usize>| match hunks.last_mut() {
        Some(last)
            if last.asked.end == a.start
                && last.written.end == w.start
                && last.has_room(a.len(), w.len()) =>
        {
            last.asked.end = a.end;
            last.written.end = w.end;
        }
        _ => hunks.push(Hunk { asked: a, written: w }),
    };
    while i < asked.len() && j < written.len() {
        if asked[i] == written[j] {
            i += 1;
            j += 1;
            continue;
        }
        let (mut found, mut last) = (Vec::new(), false);
        for size in WINDOWS {
            let to = ((i + size).min(asked.len()), (j + size).min(written.len()));
            last = to == (asked.len(), written.len());
            found = window(&asked[i..to.0], &written[j..to.1], last);
            if last || settles(&found, &asked[i..], &written[j..]) {
                break;
            }
        }
        let mut equal = 0;
        let half = if last { usize::MAX } else { found.len().div_ceil(2) };
        for (count, step) in found.into_iter().enumerate() {
            let (ni, nj) = (i + usize::from(step.0.is_some()), j + usize::from(step.1.is_some()));
            let same = step.0.is_some() && step.1.is_some() && asked[i] == written[j];
            if !same {
                differ(i..ni, j..nj);
            }
            (i, j) = (ni, nj);
            equal = if same { equal + 1 } else { 0 };
            if equal >= SETTLED || count + 1 >= half && same {
                break;
            }
        }
    }
    // One side has come to its end: what is left of the other was left out or added. (A window has no way on there.)
    if i < asked.len() || j < written.len() {
        differ(i..asked.len(), j..written.len());
    }
    hunks
}

/// The steps from the first to the last cell of both sides, in order.
pub fn align(asked: &[Cell], written: &[Cell]) -> Vec<Step> {
    let mut steps = Vec::with_capacity(asked.len().max(written.len()));
    let (mut i, mut j) = (0, 0);
    let end = Hunk { asked: asked.len()..asked.len(), written: written.len()..written.len() };
    for hunk in differences(asked, written).into_iter().chain([end]) {
        while i < hunk.asked.start && j < hunk.written.start {
            steps.push(Step { expected: Some(i), written: Some(j) });
            (i, j) = (i + 1, j + 1);
        }
        while i < hunk.asked.end || j < hunk.written.end {
            let (a, w) = ((i < hunk.asked.end).then_some(i), (j < hunk.written.end).then_some(j));
            steps.push(Step { expected: a, written: w });
            (i, j) = (i + usize::from(a.is_some()), j + usize::from(w.is_some()));
        }
    }
    steps
}

/// Whether a way comes to cells that are equal for long enough.
fn settles(way: &[Pair], asked: &[Cell], written: &[Cell]) -> bool {
    let mut equal = 0;
    way.iter().any(|step| {
        let same = matches!(*step, (Some(a), Some(w)) if asked[a] == written[w]);
        equal = if same { equal + 1 } else { 0 };
        equal >= SETTLED
    })
}

type Pair = (Option<usize>, Option<usize>);

/// The cheapest steps through one window; unless it is the `last`, it may end at either far side.
fn window(asked: &[Cell], written: &[Cell], last: bool) -> Vec<Pair> {
    let (rows, columns) = (asked.len() + 1, written.len() + 1);
    // A blank behind a blank is a wider space, and says nothing of the words beside it.
    let wider = |j: usize| j > 1 && written[j - 1].is_blank() && written[j - 2].is_blank();
    let open = |j: usize| if wider(j) { EXTEND } else { OPEN };
    // Three costs a place: both, expected alone (left out), written alone (added).
    let mut cost = vec![[FAR; 3]; rows * columns];
    cost[0][0] = 0;
    for i in 0..rows {
        for j in 0..columns {
            let at = i * columns + j;
            if i > 0 {
                let up = cost[at - columns];
                cost[at][1] = (up[0].min(up[2]) + OPEN).min(up[1] + EXTEND);
            }
            if j > 0 {
                let left = cost[at - 1];
                cost[at][2] = (left[0].min(left[1]) + open(j)).min(left[2] + EXTEND);
            }
            if i > 0 && j > 0 {
                let before = cost[at - columns - 1];
                cost[at][0] =
                    before[0].min(before[1]).min(before[2]) + swap_cost(asked[i - 1], written[j - 1]);
            }
        }
    }
    let best = |at: usize| cost[at].iter().copied().min().unwrap_or(FAR);
    let corner = (rows - 1, columns - 1);
    let (mut i, mut j) = corner;
    if !last {
        let ends = (0..columns).map(|j| (rows - 1, j)).chain((0..rows).map(|i| (i, columns - 1)));
        // A longer way at the same cost is the better one.
        (i, j) =
            ends.min_by_key(|&(i, j)| (best(i * columns + j) * 4, usize::MAX - (i + j))).unwrap_or(corner);
    }
    let mut state = (0..3).min_by_key(|&s| cost[i * columns + j][s]).unwrap_or(0);
    let mut out = Vec::new();
    while i > 0 || j > 0 {
        let at = i * columns + j;
        let (from, back) = match state {
            0 => {
                out.push((Some(i - 1), Some(j - 1)));
                i -= 1;
                j -= 1;
                let before = cost[at - columns - 1];
                (before, [0, 0, 0])
            }
            1 => {
                out.push((Some(i - 1), None));
                i -= 1;
                (cost[at - columns], [OPEN, EXTEND, OPEN])
            }
            _ => {
                out.push((None, Some(j - 1)));
                j -= 1;
                (cost[at - 1], [open(j + 1), open(j + 1), EXTEND])
            }
        };
        state = (0..3).min_by_key(|&s| from[s] + back[s]).unwrap_or(0);
    }
    out.reverse();
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_side_that_ends_early_leaves_the_rest_of_the_other() {
        let long = vec![Cell::from_bits(1).unwrap_or_default(); 5 * WINDOWS[2]];
        for (asked, written) in
            [(&long[..], &long[..3]), (&long[..3], &long[..]), (&[][..], &long[..]), (&long[..], &[][..])]
        {
            let steps = align(asked, written);
            assert_eq!(steps.iter().filter(|step| step.expected.is_some()).count(), asked.len());
            assert_eq!(steps.iter().filter(|step| step.written.is_some()).count(), written.len());
        }
    }
}
