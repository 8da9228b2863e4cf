//! Proofreading: braille with planted mistakes, what the learner marks in it, and the score.
//!
//! The same text with the same [`Plants`] always gives the same sheet, so a slip that carries the exercise and the
//! learner's calls can be shown again.

use std::ops::Range;

use serde::{Deserialize, Serialize};

use crate::cell::{self, Cell};
use crate::manuscript::layout::Manuscript;
use crate::manuscript::source::Kind as Block;
use crate::manuscript::{Sheet, work};
use crate::marking::plant::plant;
use crate::marking::{self, Expected, Finding, Kind, align, lines::Flat};
use crate::ueb::{Options, register};

/// How the sheet looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Look {
    /// Ink.
    #[default]
    Ink,
    /// Embossed.
    Raised,
    /// Embossed on both sides.
    Interpoint,
    /// Dot numbers.
    Numbers,
}

impl Look {
    /// All of them, the easiest first.
    pub const ALL: [Look; 4] = [Look::Ink, Look::Raised, Look::Interpoint, Look::Numbers];

    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Look::Ink => "ink",
            Look::Raised => "raised",
            Look::Interpoint => "interpoint",
            Look::Numbers => "dot numbers",
        }
    }
}

/// How mistakes are planted and how the sheet is shown.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Plants {
    /// About how many mistakes in a thousand cells, 1 to 200.
    pub rate: u16,
    /// The kinds, by name; empty for all.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub kinds: Vec<String>,
    /// Which of the many ways.
    pub seed: u32,
    /// Whether the print stands beside the braille.
    pub beside: bool,
    /// How the sheet looks.
    pub look: Look,
}

impl Default for Plants {
    /// Twenty in a thousand cells, of all kinds, the print beside it, in ink.
    fn default() -> Self {
        Plants { rate: 20, kinds: Vec::new(), seed: 1, beside: true, look: Look::Ink }
    }
}

/// The kinds of mistakes that can be planted, in the order of the table of kinds.
pub const KINDS: [Kind; 15] = [
    Kind::Mirrored,
    Kind::Shifted,
    Kind::DotSlip,
    Kind::MissingIndicator,
    Kind::ExtraIndicator,
    Kind::WrongIndicator,
    Kind::MissedContraction,
    Kind::BarredContraction,
    Kind::WrongContraction,
    Kind::LostPrefix,
    Kind::RetiredSign,
    Kind::Spacing,
    Kind::LeftOut,
    Kind::Added,
    Kind::WrongSign,
];

/// A planted mistake on the sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mistake {
    /// What kind it is.
    pub kind: Kind,
    /// Other kinds that fit.
    pub also: Vec<Kind>,
    /// The line of the sheet, from 0.
    pub line: usize,
    /// Its cells, half-open; empty where something is missing.
    pub cells: Range<usize>,
    /// The cells that belong there.
    pub expected: Vec<Cell>,
    /// What is the matter, in one sentence.
    pub say: String,
    /// The section that holds.
    pub section: &'static str,
    /// The sign at fault, by its key.
    pub sign: Option<&'static str>,
}

/// A cell that the learner holds to be wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Call {
    /// The line of the sheet, from 0.
    pub line: usize,
    /// The cell, from 0.
    pub cell: usize,
    /// What kind of mistake the learner says it is.
    pub kind: Option<Kind>,
}

/// A sheet to proofread.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proof {
    /// Its lines.
    pub lines: Vec<Vec<Cell>>,
    /// The block each line belongs to; `None` for a blank line.
    pub blocks: Vec<Option<usize>>,
    /// The print of each block.
    pub print: Vec<String>,
    /// What was planted, in order.
    pub planted: Vec<Mistake>,
    /// For every line the sign that stands there rightly, with its section, by its cells.
    right: Vec<Vec<(Range<usize>, &'static str, &'static str)>>,
}

/// What a call turned out to be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Came {
    /// A planted mistake.
    Found {
        /// Which, by its place in [`Proof::planted`].
        mistake: usize,
        /// Whether the kind was said, and said right.
        kind: Option<bool>,
    },
    /// A mistake that was called before.
    Again(usize),
    /// Nothing is wrong there.
    FalseAlarm {
        /// Why it is right.
        why: String,
    },
}

/// The score of a sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Score {
    /// What each call turned out to be.
    pub calls: Vec<Came>,
    /// The mistakes that nobody called, by their place in [`Proof::planted`].
    pub missed: Vec<usize>,
    /// How many mistakes were found.
    pub found: usize,
    /// How many of those had their kind said right.
    pub named: usize,
    /// How many calls were false alarms.
    pub false_alarms: usize,
}

/// Lays out a text (with its marks) and plants mistakes in it.
pub fn proof(text: &str, contracted: bool, plants: &Plants) -> Proof {
    let sheet = Sheet { contracted, numbered: false, ..Sheet::default() };
    let right = Manuscript::from_print(text, sheet);
    let kinds: Vec<Kind> = plants.kinds.iter().filter_map(|name| Kind::named(name)).collect();
    let rate = f64::from(plants.rate.clamp(1, 200)) / 1000.0;
    let mut blocks: Vec<(Block, Vec<Cell>)> = Vec::new();
    let mut print = Vec::new();
    let mut mistakes: Vec<Vec<Mistake>> = Vec::new();
    let mut signs: Vec<Vec<(Range<usize>, &'static str, &'static str)>> = Vec::new();
    for at in 0..right.blocks() {
        let Some((kind, cells)) = right.braille(at).filter(|(kind, _)| *kind != Block::PrintPage) else {
            continue;
        };
        let words = right.print(at).unwrap_or_default().to_owned();
        let seed = (u64::from(plants.seed) << 20) + at as u64;
        let (mut changed, key) = plant(&[cells.to_vec()], &kinds, rate, seed, contracted);
        let changed = changed.pop().unwrap_or_default();
        let expected = Expected::from_print(&words, &Options { contracted, marks: true });
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
                        section: found.map_or("", |found| found.section),
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
    on_lines(&Manuscript::from_braille(blocks, sheet), print, mistakes, signs)
}

fn touches(found: &Finding, cells: &Range<usize>) -> bool {
    let (from, to) = (found.written.from, found.written.to.max(found.written.from + 1));
    from < cells.end.max(cells.start + 1) && cells.start < to
}

/// For written cells the signs asked for there, with their names and sections.
fn right_signs(expected: &Expected, written: &[Cell]) -> Vec<(Range<usize>, &'static str, &'static str)> {
    let lines = [written.to_vec()];
    let flat = Flat::new(&lines, expected);
    let mut out: Vec<(Range<usize>, &'static str, &'static str)> = Vec::new();
    for step in align::align(&expected.cells, &flat.cells) {
        let (Some(asked), Some(at)) = (step.expected, step.written) else { continue };
        let Some(unit) = expected.unit_at(asked).map(|unit| &expected.units[unit]) else { continue };
        let name = unit.sign.map_or("", |sign| register::get(sign).name);
        let place = flat.place(at, at + 1);
        match out.last_mut() {
            Some((cells, ..)) if asked > unit.cells.start && cells.end == place.from => cells.end = place.to,
            _ => out.push((place.from..place.to, name, unit.section)),
        }
    }
    out
}

/// Places in blocks become places on the lines of the sheet.
fn on_lines(
    sheet: &Manuscript,
    print: Vec<String>,
    mistakes: Vec<Vec<Mistake>>,
    signs: Vec<Vec<(Range<usize>, &'static str, &'static str)>>,
) -> Proof {
    let mut proof =
        Proof { lines: Vec::new(), blocks: Vec::new(), print, planted: Vec::new(), right: Vec::new() };
    let mut waiting: Vec<std::collections::VecDeque<Mistake>> =
        mistakes.into_iter().map(Into::into).collect();
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
                    .filter(|(cells, ..)| cells.start < row.cells.end && cells.end > row.cells.start)
                    .map(|(cells, name, section)| (on(cells.start)..on(cells.end), *name, *section))
                    .collect();
            }
            proof.lines.push(line.clone());
            proof.blocks.push(row.as_ref().map(|row| row.block));
            proof.right.push(right);
        }
    }
    proof
}

impl Proof {
    /// The score of the learner's calls.
    pub fn score(&self, calls: &[Call]) -> Score {
        let mut called = vec![false; self.planted.len()];
        let mut score = Score { calls: Vec::new(), missed: Vec::new(), found: 0, named: 0, false_alarms: 0 };
        for call in calls {
            let came = match self.mistake_at(call.line, call.cell) {
                Some(at) if called[at] => Came::Again(at),
                Some(at) => {
                    called[at] = true;
                    let mistake = &self.planted[at];
                    let kind = call.kind.map(|kind| kind == mistake.kind || mistake.also.contains(&kind));
                    score.found += 1;
                    score.named += usize::from(kind == Some(true));
                    Came::Found { mistake: at, kind }
                }
                None => {
                    score.false_alarms += 1;
                    Came::FalseAlarm { why: self.why_right(call) }
                }
            };
            score.calls.push(came);
        }
        score.missed = (0..called.len()).filter(|at| !called[*at]).collect();
        score
    }

    /// The mistake at a cell. Where something is missing, the cells on both sides count.
    fn mistake_at(&self, line: usize, cell: usize) -> Option<usize> {
        let here = |mistake: &Mistake| mistake.line == line && mistake.cells.contains(&cell);
        let beside = |mistake: &Mistake| {
            mistake.line == line
                && mistake.cells.is_empty()
                && (mistake.cells.start == cell || mistake.cells.start == cell + 1)
        };
        self.planted.iter().position(here).or_else(|| self.planted.iter().position(beside))
    }

    /// Why a cell is right as it stands.
    fn why_right(&self, call: &Call) -> String {
        let line = self.lines.get(call.line).map(Vec::as_slice).unwrap_or_default();
        let sign =
            self.right.get(call.line).into_iter().flatten().find(|(cells, ..)| cells.contains(&call.cell));
        let mut why = match sign {
            Some((_, name, section)) if !name.is_empty() && !section.is_empty() => {
                format!("This is right: {name} (section {section}).")
            }
            Some((_, name, _)) if !name.is_empty() => format!("This is right: {name}."),
            _ => "Nothing is wrong here.".to_owned(),
        };
        // The word around it.
        let blank = |at: usize| line.get(at).is_none_or(|cell| cell.is_blank());
        if !blank(call.cell) {
            let from = (0..call.cell).rev().find(|at| blank(*at)).map_or(0, |at| at + 1);
            let to = (call.cell..line.len()).find(|at| blank(*at)).unwrap_or(line.len());
            let near = self.planted.iter().find(|mistake| {
                mistake.line == call.line && mistake.cells.start < to && mistake.cells.end.max(from) > from
            });
            if let Some(near) = near {
                why.push_str(&format!(" The mistake in this word is at cell {}.", near.cells.start + 1));
            }
        }
        why
    }

    /// The print of the block that a line belongs to.
    pub fn print_at(&self, line: usize) -> Option<&str> {
        let block = (*self.blocks.get(line)?)?;
        self.print.get(block).map(String::as_str)
    }

    /// How many cells have dots or stand between words.
    pub fn cells(&self) -> usize {
        self.lines.iter().map(|line| work::end(line) - work::indent(line).min(work::end(line))).sum()
    }
}

/// Calls as a line of text, "3:14 mirrored, 5:2", lines and cells from 1.
pub fn calls_to_text(calls: &[Call]) -> String {
    let call = |call: &Call| {
        let kind = call.kind.map(|kind| format!(" {}", kind.name())).unwrap_or_default();
        format!("{}:{}{kind}", call.line + 1, call.cell + 1)
    };
    calls.iter().map(call).collect::<Vec<_>>().join(", ")
}

/// The calls of such a line; what cannot be read is left out.
pub fn calls_of_text(text: &str) -> Vec<Call> {
    text.split(", ")
        .filter_map(|call| {
            let (place, kind) =
                call.split_once(' ').map_or((call, None), |(place, kind)| (place, Some(kind)));
            let (line, cell) = place.split_once(':')?;
            let (line, cell): (usize, usize) = (line.parse().ok()?, cell.parse().ok()?);
            Some(Call {
                line: line.checked_sub(1)?,
                cell: cell.checked_sub(1)?,
                kind: kind.and_then(Kind::named),
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "# Lost and found\n\nOn Monday 14 September a grey umbrella, two left boots and a letter to nobody were handed in on the Kittiwake. Whoever misses them may ask at the office on Hallam Quay between nine and five.\n\n- One umbrella with a carved handle, said to be from Orrin\n- Two boots, both of the same foot\n";

    fn sheet(rate: u16, kinds: &[Kind]) -> Proof {
        let kinds = kinds.iter().map(|kind| kind.name().to_owned()).collect();
        proof(TEXT, true, &Plants { rate, kinds, seed: 7, ..Plants::default() })
    }

    #[test]
    fn what_is_planted_is_found_where_it_stands() {
        for kinds in std::iter::once(&KINDS[..]).chain(KINDS.chunks(1)) {
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

    #[test]
    fn a_false_alarm_has_its_reason() {
        let proof = sheet(60, &[Kind::Mirrored]);
        let free = proof.lines.iter().enumerate().find_map(|(line, cells)| {
            let cell = (work::indent(cells)..cells.len())
                .find(|cell| !cells[*cell].is_blank() && proof.mistake_at(line, *cell).is_none())?;
            Some(Call { line, cell, kind: None })
        });
        let score = proof.score(&[free.unwrap()]);
        let [Came::FalseAlarm { why }] = &score.calls[..] else { panic!("{score:?}") };
        assert!(why.starts_with("This is right: ") && why.contains("section"), "{why}");
        // The same mistake called twice counts once.
        let twice = [proof.planted[0].clone(), proof.planted[0].clone()].map(|m| Call {
            line: m.line,
            cell: m.cells.start,
            kind: None,
        });
        assert_eq!(proof.score(&twice).found, 1);
    }

    #[test]
    fn calls_as_text_come_back() {
        let calls =
            [Call { line: 2, cell: 13, kind: Some(Kind::Mirrored) }, Call { line: 0, cell: 0, kind: None }];
        assert_eq!(calls_to_text(&calls), "3:14 mirrored, 1:1");
        assert_eq!(calls_of_text(&calls_to_text(&calls)), calls);
        assert_eq!(calls_of_text("0:0, x, 9, 5:"), []);
    }
}
