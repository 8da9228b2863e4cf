//! Written cells set against expected cells: windows along the first difference, so that time and memory grow
//! with the text and a skipped or doubled line costs no more than itself.

use crate::cell::Cell;

/// One step: the place in the expected cells and the place in the written cells; one of them may be missing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// The expected cell.
    pub expected: Option<usize>,
    /// The written cell.
    pub written: Option<usize>,
}

/// Cells of either side that a window holds: more than three lines of 40.
const WINDOW: usize = 140;
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

/// The steps from the first to the last cell of both sides, in order.
pub fn align(asked: &[Cell], written: &[Cell]) -> Vec<Step> {
    let mut steps = Vec::with_capacity(asked.len().max(written.len()));
    let (mut i, mut j) = (0, 0);
    while i < asked.len() && j < written.len() {
        if asked[i] == written[j] {
            steps.push(Step { expected: Some(i), written: Some(j) });
            i += 1;
            j += 1;
            continue;
        }
        let to = ((i + WINDOW).min(asked.len()), (j + WINDOW).min(written.len()));
        let last = to == (asked.len(), written.len());
        let found = window(&asked[i..to.0], &written[j..to.1], last);
        let mut equal = 0;
        let half = if last { usize::MAX } else { found.len().div_ceil(2) };
        let (start_i, start_j) = (i, j);
        for (count, step) in found.into_iter().enumerate() {
            let expected = step.0.map(|at| at + start_i);
            let place = step.1.map(|at| at + start_j);
            i += usize::from(expected.is_some());
            j += usize::from(place.is_some());
            steps.push(Step { expected, written: place });
            let same = expected.zip(place).is_some_and(|(a, w)| asked[a] == written[w]);
            equal = if same { equal + 1 } else { 0 };
            if equal >= SETTLED || count + 1 >= half && same {
                break;
            }
        }
    }
    // One side has come to its end: what is left of the other was left out or added. (A window has no way on there.)
    steps.extend((i..asked.len()).map(|at| Step { expected: Some(at), written: None }));
    steps.extend((j..written.len()).map(|at| Step { expected: None, written: Some(at) }));
    steps
}

type Pair = (Option<usize>, Option<usize>);

/// The cheapest steps through one window; unless it is the `last`, it may end at either far side.
fn window(asked: &[Cell], written: &[Cell], last: bool) -> Vec<Pair> {
    let (rows, columns) = (asked.len() + 1, written.len() + 1);
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
                cost[at][2] = (left[0].min(left[1]) + OPEN).min(left[2] + EXTEND);
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
                (cost[at - 1], [OPEN, OPEN, EXTEND])
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
        let long = vec![Cell::from_bits(1).unwrap_or_default(); 5 * WINDOW];
        for (asked, written) in
            [(&long[..], &long[..3]), (&long[..3], &long[..]), (&[][..], &long[..]), (&long[..], &[][..])]
        {
            let steps = align(asked, written);
            assert_eq!(steps.iter().filter(|step| step.expected.is_some()).count(), asked.len());
            assert_eq!(steps.iter().filter(|step| step.written.is_some()).count(), written.len());
        }
    }
}
