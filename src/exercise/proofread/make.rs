//! A text with mistakes planted in it, laid out as a sheet.

use std::collections::VecDeque;
use std::ops::Range;

use super::{Mistake, Plants, Proof, Right, layout};
use crate::cell::{self, Cell};
use crate::manuscript::Sheet;
use crate::manuscript::layout::Manuscript;
use crate::manuscript::source::Kind as Block;
use crate::marking::plant::{Own, plant_as};
use crate::marking::{self, Expected, Finding, places};
use crate::ueb::{Edition, Options, register};

/// Lays out a text (with its marks) and plants mistakes in it.
pub fn proof(text: &str, contracted: bool, plants: &Plants) -> Proof {
    proof_by(text, contracted, Edition::default(), plants)
}

/// The same by an edition of the rules.
pub fn proof_by(text: &str, contracted: bool, edition: Edition, plants: &Plants) -> Proof {
    let sheet = Sheet { contracted, edition, numbered: false, ..Sheet::default() };
    let right = Manuscript::from_print(text, sheet);
    let kinds = plants.planted_kinds();
    let rate = f64::from(plants.rate.clamp(1, 200)) / 1000.0;
    let own = Own::named(&plants.own);
    let mut blocks: Vec<(Block, Vec<Cell>)> = Vec::new();
    let mut print = Vec::new();
    let mut mistakes: Vec<Vec<Mistake>> = Vec::new();
    let mut signs: Vec<Vec<Right>> = Vec::new();
    for at in 0..right.blocks() {
        let Some((kind, cells)) = right.braille(at).filter(|(kind, _)| *kind != Block::PrintPage) else {
            continue;
        };
        let words = right.print(at).unwrap_or_default().to_owned();
        let seed = (u64::from(plants.seed) << 20) + at as u64;
        let lines = [cells.to_vec()];
        let (mut changed, key) = match &kinds {
            Some(kinds) => plant_as(&lines, kinds, &own, rate, seed, contracted),
            None => (lines.to_vec(), Vec::new()),
        };
        let changed = changed.pop().unwrap_or_default();
        let expected = Expected::from_print(&words, &Options { contracted, marks: true, edition });
        let marked = marking::mark(&expected, std::slice::from_ref(&changed));
        mistakes.push(
            key.into_iter()
                .map(|planted| {
                    let found =
                        marked.findings.iter().find(|found| touches(found, &(planted.from..planted.to)));
                    let also = found.map(|found| {
                        found
                            .also
                            .iter()
                            .copied()
                            .chain([found.kind])
                            .filter(|kind| *kind != planted.kind)
                            .collect()
                    });
                    Mistake {
                        kind: planted.kind,
                        also: also.unwrap_or_default(),
                        line: blocks.len(),
                        cells: planted.from..planted.to,
                        say: found.map_or_else(
                            || format!("Here belongs {}.", cell::to_unicode(&planted.expected)),
                            |found| found.say.clone(),
                        ),
                        section: found.map_or("", |found| found.section).into(),
                        sign: found.and_then(|found| found.sign).map(|sign| register::get(sign).key),
                        expected: planted.expected,
                    }
                })
                .collect(),
        );
        signs.push(right_signs(&expected, &changed));
        print.push(words);
        blocks.push((kind, changed));
    }
    let kinds: Vec<Block> = blocks.iter().map(|block| block.0).collect();
    let mut proof = on_lines(&Manuscript::from_braille(blocks, sheet), print, mistakes, signs);
    if plants.has_layout() {
        layout::plant(&mut proof, &kinds, plants.rate.clamp(1, 200), u64::from(plants.seed), sheet.cells);
    }
    proof
}

fn touches(found: &Finding, cells: &Range<usize>) -> bool {
    let (from, to) = (found.written.from, found.written.to.max(found.written.from + 1));
    from < cells.end.max(cells.start + 1) && cells.start < to
}

/// The signs that are asked for, where they are written.
fn right_signs(expected: &Expected, written: &[Cell]) -> Vec<Right> {
    let places = places(expected, &[written.to_vec()]);
    let there = expected.units.iter().zip(places).filter(|(_, place)| place.from < place.to);
    there
        .map(|(unit, place)| Right {
            cells: place.from..place.to,
            name: unit.sign.map_or("", |sign| register::get(sign).name).into(),
            section: unit.section.into(),
        })
        .collect()
}

/// Places in blocks become places on the lines of the sheet.
fn on_lines(
    sheet: &Manuscript,
    print: Vec<String>,
    mistakes: Vec<Vec<Mistake>>,
    signs: Vec<Vec<Right>>,
) -> Proof {
    let mut proof =
        Proof { lines: Vec::new(), blocks: Vec::new(), print, planted: Vec::new(), right: Vec::new() };
    let mut waiting: Vec<VecDeque<Mistake>> = mistakes.into_iter().map(Into::into).collect();
    for page in sheet.pages() {
        for (line, row) in page.lines.iter().zip(&page.rows) {
            let number = proof.lines.len();
            let mut right = Vec::new();
            if let Some(row) = row {
                // A mistake in the blank at which the line before ended is seen here, if at all.
                let reach = row.cells.end;
                let on = |at: usize| at.clamp(row.cells.start, row.cells.end) - row.cells.start + row.indent;
                let here = |mistake: &Mistake| {
                    mistake.cells.start < reach || mistake.cells.is_empty() && mistake.cells.end <= reach
                };
                while waiting[row.block].front().is_some_and(here) {
                    let Some(mut mistake) = waiting[row.block].pop_front() else { break };
                    let cells = on(mistake.cells.start)..on(mistake.cells.end);
                    // A blank that fell at a line's end left no trace: there is nothing to find.
                    let gone = mistake.cells.end < row.cells.start
                        || (mistake.cells.end == row.cells.start && !mistake.cells.is_empty());
                    (mistake.line, mistake.cells) = (number, cells);
                    if !gone {
                        proof.planted.push(mistake);
                    }
                }
                right = signs[row.block]
                    .iter()
                    .filter(|right| right.cells.start < row.cells.end && right.cells.end > row.cells.start)
                    .map(|right| Right { cells: on(right.cells.start)..on(right.cells.end), ..right.clone() })
                    .collect();
            }
            proof.lines.push(line.clone());
            proof.blocks.push(row.as_ref().map(|row| row.block));
            proof.right.push(right);
        }
    }
    proof
}

#[cfg(test)]
pub(super) mod tests {
    use super::super::Call;
    use super::*;
    use crate::marking::Kind;
    use crate::marking::plant::KINDS;

    const TEXT: &str = "# Lost and found\n\nOn Monday 14 September a grey umbrella, two left boots and a letter to nobody were handed in on the Kittiwake. Whoever misses them may ask at the office on Hallam Quay between nine and five.\n\n- One umbrella with a carved handle, said to be from Orrin\n- Two boots, both of the same foot\n";

    pub(in super::super) fn sheet(rate: u16, kinds: &[Kind]) -> Proof {
        let kinds = kinds.iter().map(|kind| kind.name().to_owned()).collect();
        proof(TEXT, true, &Plants { rate, kinds, seed: 7, ..Plants::default() })
    }

    #[test]
    fn what_is_planted_is_found_where_it_stands() {
        for kinds in std::iter::once(KINDS).chain(KINDS.chunks(1)) {
            let proof = sheet(60, kinds);
            assert!(proof.lines.iter().all(|line| line.len() <= 40));
            let clean = sheet(60, kinds);
            assert_eq!(proof.lines, clean.lines, "the same seed gives the same sheet");
            // All called, each with its kind: everything found, no false alarm.
            let calls: Vec<Call> = proof
                .planted
                .iter()
                .map(|m| Call { line: m.line, cell: m.cells.start, kind: Some(m.kind) })
                .collect();
            let score = proof.score(&calls);
            assert_eq!(
                (score.found, score.missed.len(), score.false_alarms),
                (calls.len(), 0, 0),
                "{kinds:?}"
            );
            assert_eq!(score.named, calls.len());
            // None called: all missed.
            assert_eq!(proof.score(&[]).missed.len(), proof.planted.len());
            // Without the mistakes the cells are those of the right sheet: each mistake's cells are wrong ones.
            for mistake in proof.planted.iter().filter(|m| !m.cells.is_empty()) {
                let written = &proof.lines[mistake.line][mistake.cells.clone()];
                assert!(!written.is_empty(), "{mistake:?}");
                assert_ne!(written, mistake.expected, "{mistake:?}");
            }
        }
        assert!(sheet(60, &[]).planted.len() >= 5);
    }

    #[test]
    fn sheets_of_many_seeds_keep_their_width_and_their_key() {
        for seed in 0..25 {
            let proof = proof(TEXT, seed % 2 == 0, &Plants { rate: 45, seed, ..Plants::default() });
            assert!(proof.lines.iter().all(|line| line.len() <= 40));
            for mistake in &proof.planted {
                let found = proof.mistake_at(mistake.line, mistake.cells.start);
                assert_eq!(
                    found.map(|at| proof.planted[at].kind),
                    Some(mistake.kind),
                    "seed {seed}: {mistake:?}"
                );
                assert!(mistake.cells.end <= proof.lines[mistake.line].len(), "seed {seed}: {mistake:?}");
            }
        }
    }
}
