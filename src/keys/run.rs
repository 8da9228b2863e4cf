//! A run of chords against the clock: cells a minute, what each finger did, and the hard changes.

use std::collections::BTreeMap;

use super::Stroke;
use crate::cell::Cell;

/// A finger that is this far from the others of its chord, in milliseconds, was early or late.
pub const APART: f64 = 45.0;

/// A change that takes this many times the middle time is a hard one.
const HARD: f64 = 1.5;

/// What one finger (one dot) did in a run.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Finger {
    /// Cells that wanted it.
    pub wanted: u32,
    /// It came more than [`APART`] before the middle of its chord.
    pub early: u32,
    /// It came more than [`APART`] after the middle of its chord.
    pub late: u32,
    /// It did not come at all.
    pub missing: u32,
    /// It came and was not wanted.
    pub extra: u32,
}

/// A change from one cell to the next.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// From this cell.
    pub from: Cell,
    /// To this one.
    pub to: Cell,
    /// Times it was made.
    pub times: u32,
    /// Times the second cell came out wrong.
    pub wrong: u32,
    /// The mean time from cell to cell, in milliseconds.
    pub ms: f64,
}

/// What a run says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Run {
    /// Cells written, blanks among them.
    pub cells: u32,
    /// Of the wanted cells, those written right.
    pub right: u32,
    /// From the first key down to the last, in milliseconds.
    pub ms: f64,
    /// The fingers of dots 1 to 6.
    pub fingers: [Finger; 6],
    /// The hard changes, the hardest first: slow, or wrong.
    pub hard: Vec<Change>,
}

impl Run {
    /// Cells a minute; 0 when nothing was timed.
    pub fn cells_a_minute(&self) -> f64 {
        if self.ms > 0.0 { f64::from(self.cells) * 60_000.0 / self.ms } else { 0.0 }
    }
}

/// Which stroke was meant for which wanted cell: strokes and cells that differ least are set against each other.
fn pairs(wanted: &[Cell], strokes: &[Stroke]) -> Vec<(Option<usize>, Option<usize>)> {
    let (rows, columns) = (wanted.len() + 1, strokes.len() + 1);
    let mut cost = vec![0u32; rows * columns];
    // A cell in another's place costs one dot's worth more the more dots differ, at most as much as leaving it out.
    let differ = |w: Cell, s: Cell| match (w.bits() ^ s.bits()).count_ones() {
        0 => 0,
        n => 3 + n.min(3),
    };
    for row in 0..rows {
        for column in 0..columns {
            let at = row * columns + column;
            cost[at] = match (row, column) {
                (0, _) => column as u32 * 4,
                (_, 0) => row as u32 * 4,
                _ => (cost[at - columns - 1] + differ(wanted[row - 1], strokes[column - 1].cell))
                    .min(cost[at - columns] + 4)
                    .min(cost[at - 1] + 4),
            };
        }
    }
    let (mut row, mut column) = (rows - 1, columns - 1);
    let mut found = Vec::new();
    while row > 0 || column > 0 {
        let at = row * columns + column;
        if row > 0
            && column > 0
            && cost[at] == cost[at - columns - 1] + differ(wanted[row - 1], strokes[column - 1].cell)
        {
            (row, column) = (row - 1, column - 1);
            found.push((Some(row), Some(column)));
        } else if row > 0 && cost[at] == cost[at - columns] + 4 {
            row -= 1;
            found.push((Some(row), None));
        } else {
            column -= 1;
            found.push((None, Some(column)));
        }
    }
    found.reverse();
    found
}

fn begun(stroke: &Stroke) -> Option<f64> {
    stroke.keys.iter().map(|key| key.down).min_by(f64::total_cmp)
}

/// The middle one of some times; `None` of none.
fn middle(times: &mut [f64]) -> Option<f64> {
    times.sort_by(f64::total_cmp);
    let half = times.len() / 2;
    let upper = times.get(half)?;
    Some(if times.len().is_multiple_of(2) { (times[half - 1] + upper) / 2.0 } else { *upper })
}

/// What a run says: `wanted` is the text of the run, `strokes` what was written. Strokes without key times (one key at a
/// time, a paste) count as cells and say nothing of fingers.
pub fn report(wanted: &[Cell], strokes: &[Stroke]) -> Run {
    let mut run = Run { cells: strokes.len() as u32, ..Run::default() };
    let last =
        strokes.iter().flat_map(|s| &s.keys).map(|key| key.up.unwrap_or(key.down)).max_by(f64::total_cmp);
    if let (Some(first), Some(last)) = (strokes.iter().filter_map(begun).next(), last) {
        run.ms = last - first;
    }
    let mut changes: BTreeMap<(u8, u8), (u32, u32, Vec<f64>)> = BTreeMap::new();
    let mut before: Option<(Cell, usize)> = None;
    for (w, s) in pairs(wanted, strokes) {
        let (asked, stroke) = (w.map(|w| wanted[w]), s.map(|s| &strokes[s]));
        for dot in 1..=6u8 {
            let finger = &mut run.fingers[usize::from(dot) - 1];
            let wants = asked.is_some_and(|cell| cell.has_dot(dot));
            let came = stroke.is_some_and(|stroke| stroke.cell.has_dot(dot));
            finger.wanted += u32::from(wants);
            finger.missing += u32::from(wants && !came);
            finger.extra += u32::from(came && !wants && asked.is_some());
            let Some(stroke) = stroke.filter(|_| came) else { continue };
            let mut downs: Vec<f64> = stroke.keys.iter().map(|key| key.down).collect();
            let own = stroke.keys.iter().find(|key| key.bits & (1 << (dot - 1)) != 0).map(|key| key.down);
            if let (Some(own), Some(middle), true) = (own, middle(&mut downs), stroke.keys.len() > 1) {
                finger.early += u32::from(own < middle - APART);
                finger.late += u32::from(own > middle + APART);
            }
        }
        let right = asked.is_some() && asked == stroke.map(|stroke| stroke.cell);
        run.right += u32::from(right);
        if let (Some(asked), Some((from, place)), Some(s)) = (asked, before, s) {
            let change = changes.entry((from.bits(), asked.bits())).or_default();
            change.0 += 1;
            change.1 += u32::from(!right);
            if let (Some(then), Some(now)) = (begun(&strokes[place]), begun(&strokes[s])) {
                change.2.push((now - then).max(0.0));
            }
        }
        if let (Some(asked), Some(s)) = (asked, s) {
            before = Some((asked, s));
        }
    }
    let mut all: Vec<f64> = changes.values().flat_map(|(_, _, times)| times.iter().copied()).collect();
    let usual = middle(&mut all).unwrap_or(0.0);
    run.hard = changes
        .into_iter()
        .filter_map(|((from, to), (times, wrong, ms))| {
            let ms = ms.iter().sum::<f64>() / ms.len().max(1) as f64;
            let change = Change { from: Cell::from_bits(from)?, to: Cell::from_bits(to)?, times, wrong, ms };
            (wrong > 0 || (usual > 0.0 && ms > usual * HARD)).then_some(change)
        })
        .collect();
    run.hard.sort_by(|a, b| {
        let share = |change: &Change| f64::from(change.wrong) / f64::from(change.times.max(1));
        share(b).total_cmp(&share(a)).then(b.ms.total_cmp(&a.ms))
    });
    run
}

/// A run made of hard changes: each of up to four of them six times in turn, with blanks between. Empty when there is
/// nothing hard.
pub fn from_changes(hard: &[(Cell, Cell)]) -> Vec<Cell> {
    let mut out = Vec::new();
    for _ in 0..3 {
        for (from, to) in hard.iter().take(4) {
            if !out.is_empty() {
                out.push(Cell::BLANK);
            }
            out.extend([*from, *to, *from, *to].into_iter().filter(|cell| !cell.is_blank()));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;
    use crate::keys::KeyTime;

    /// A stroke whose keys go down at these times, by dot.
    fn stroke(downs: &[(u8, f64)]) -> Stroke {
        let dots: Vec<u8> = downs.iter().map(|(dot, _)| *dot).collect();
        let keys = downs
            .iter()
            .map(|&(dot, down)| KeyTime {
                code: format!("dot {dot}"),
                bits: 1 << (dot - 1),
                down,
                up: Some(down + 50.0),
            })
            .collect();
        Stroke { cell: Cell::from_dots(&dots).unwrap(), keys }
    }

    fn steady(text: &str, step: f64) -> Vec<Stroke> {
        let cells = cell::from_ascii(text).unwrap();
        cells
            .iter()
            .enumerate()
            .map(|(n, cell)| stroke(&cell.dots().map(|dot| (dot, n as f64 * step)).collect::<Vec<_>>()))
            .collect()
    }

    #[test]
    fn a_steady_run_has_its_speed_and_no_slips() {
        let run = report(&cell::from_ascii("cabbage").unwrap(), &steady("cabbage", 200.0));
        assert_eq!((run.cells, run.right), (7, 7));
        assert!((run.cells_a_minute() - 7.0 * 60_000.0 / 1_250.0).abs() < 1e-6);
        assert!(run.hard.is_empty());
        assert!(run.fingers.iter().all(|f| f.early + f.late + f.missing + f.extra == 0));
    }

    #[test]
    fn fingers_that_come_early_late_or_not_at_all_are_named() {
        let wanted = cell::from_ascii("pqp").unwrap();
        let mut strokes = steady("pqp", 300.0);
        // p is dots 1 2 3 4: dot 4 comes 80 ms late in the first, dot 1 80 ms early in the last; q loses dot 5.
        strokes[0] = stroke(&[(1, 0.0), (2, 2.0), (3, 4.0), (4, 82.0)]);
        strokes[1] = stroke(&[(1, 300.0), (2, 300.0), (3, 300.0), (4, 300.0)]);
        strokes[2] = stroke(&[(1, 520.0), (2, 600.0), (3, 601.0), (4, 602.0)]);
        let run = report(&wanted, &strokes);
        assert_eq!((run.fingers[3].late, run.fingers[0].early, run.fingers[4].missing), (1, 1, 1));
        assert_eq!(run.right, 2);
        assert_eq!(run.hard[0].wrong, 1);
        let again = from_changes(&[(run.hard[0].from, run.hard[0].to)]);
        assert_eq!(cell::to_ascii(&again), "pqpq pqpq pqpq");
    }

    #[test]
    fn a_slow_change_is_a_hard_one_and_a_cell_left_out_throws_nothing_off() {
        let wanted = cell::from_ascii("ababcab").unwrap();
        let mut strokes = steady("ababcab", 200.0);
        for stroke in &mut strokes[4..] {
            for key in &mut stroke.keys {
                key.down += 600.0;
            }
        }
        let run = report(&wanted, &strokes);
        assert_eq!((run.hard[0].from.to_ascii(), run.hard[0].to.to_ascii()), ('b', 'c'));
        strokes.remove(2);
        assert_eq!(report(&wanted, &strokes).right, 6);
        assert_eq!(report(&wanted, &[]).right, 0);
        assert_eq!(report(&[], &strokes).right, 0);
    }
}
