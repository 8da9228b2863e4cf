//! The score of a proofread sheet: what each call turned out to be, and why a false alarm is none.

use super::{Call, Mistake, Proof, Right};

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
    pub(super) fn mistake_at(&self, line: usize, cell: usize) -> Option<usize> {
        let here = |mistake: &Mistake| mistake.line == line && mistake.cells.contains(&cell);
        let beside = |mistake: &Mistake| {
            mistake.line == line
                && mistake.cells.is_empty()
                && (mistake.cells.start == cell || mistake.cells.start == cell + 1)
        };
        self.planted.iter().position(here).or_else(|| self.planted.iter().position(beside))
    }

    /// The sign that stands rightly where a call was made.
    pub(super) fn right_at(&self, call: &Call) -> Option<&Right> {
        self.right.get(call.line)?.iter().find(|right| right.cells.contains(&call.cell))
    }

    /// Why a cell is right as it stands.
    fn why_right(&self, call: &Call) -> String {
        let line = self.lines.get(call.line).map(Vec::as_slice).unwrap_or_default();
        let mut why = match self.right_at(call) {
            Some(Right { name, section, .. }) if !name.is_empty() && !section.is_empty() => {
                format!("This is right: {name} (section {section}).")
            }
            Some(Right { name, .. }) if !name.is_empty() => format!("This is right: {name}."),
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
}

#[cfg(test)]
mod tests {
    use super::super::make::tests::sheet;
    use super::*;
    use crate::manuscript::work;
    use crate::marking::Kind;

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
}
