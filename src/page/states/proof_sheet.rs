//! A sheet that is proofread: where the cursor is, what the learner calls wrong, and how that came out.

use std::rc::Rc;

use crate::exercise::proofread::{Call, Proof, Score};
use crate::marking::Kind;
use crate::practice::record::{Answer, Direction};
use crate::practice::{clauses, lines};

/// The sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ProofSheet {
    /// The line and the cell of the cursor, from 0.
    pub at: (usize, usize),
    /// What is called wrong, in order.
    pub calls: Vec<Call>,
    /// The kind of mistake that the next call is of.
    pub kind: Option<Kind>,
    /// How it came out; the sheet is only looked at from then on.
    pub score: Option<Rc<Score>>,
    /// What the line reads as is shown.
    pub shown: bool,
    /// Help was used.
    pub helped: bool,
}

/// What happens to it.
#[derive(Clone, Debug)]
pub enum Action {
    /// The cursor goes to a line and cell.
    Move((usize, usize)),
    /// The cell at the cursor is called wrong, or no longer.
    Call,
    /// The kind of mistake is said.
    Kind(Option<Kind>),
    /// What the line reads as is shown, or hidden again.
    ReadOut,
    /// The learner is done.
    Done(Rc<Score>),
    /// It is proofread again.
    Again,
}

impl ProofSheet {
    /// The call of the cell at the cursor.
    pub fn call_here(&self) -> Option<&Call> {
        self.calls.iter().find(|call| (call.line, call.cell) == self.at)
    }

    /// The sheet after something has happened.
    #[must_use]
    pub fn after(mut self, action: Action) -> ProofSheet {
        let (line, cell) = self.at;
        match action {
            Action::Move(to) => self.at = to,
            Action::Call if self.score.is_some() => {}
            Action::Call if self.call_here().is_some() => {
                self.calls.retain(|call| (call.line, call.cell) != (line, cell));
            }
            Action::Call => self.calls.push(Call { line, cell, kind: self.kind }),
            Action::Kind(kind) => {
                self.kind = kind;
                // The kind of a cell that is marked already.
                if let Some(call) = self.calls.iter_mut().find(|call| (call.line, call.cell) == (line, cell))
                {
                    call.kind = kind;
                }
            }
            Action::ReadOut => (self.shown, self.helped) = (!self.shown, true),
            Action::Done(score) => self.score = Some(score),
            Action::Again => {
                self.calls.clear();
                (self.score, self.helped) = (None, false);
            }
        }
        self
    }
}

/// What the course learns from a sheet: what was seen or overlooked belongs to the signs that should have stood there. The
/// time, in milliseconds, is shared among them.
pub fn answers(proof: &Proof, score: &Score, at: u64, time: u64) -> Vec<Answer> {
    let of_mistakes = proof.planted.iter().enumerate().filter_map(|(number, mistake)| {
        let sign = mistake.sign?;
        let right = !score.missed.contains(&number);
        Some(Answer {
            at,
            sign: sign.to_owned(),
            direction: Direction::Read,
            right,
            ms: time / proof.planted.len().max(1) as u64,
            clues: 0,
            instead: String::new(),
            // A slip of rule that was overlooked makes its clause due.
            cause: match lines::cause(mistake.kind, true) {
                _ if right => String::new(),
                "rule" => clauses::cause("rule", &mistake.section),
                _ => "eye".to_owned(),
            },
        })
    });
    of_mistakes.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::Plants;
    use crate::exercise::proofread::proof_by;
    use crate::ueb::Edition;

    #[test]
    fn a_cell_is_called_and_taken_back() {
        let sheet = ProofSheet::default().after(Action::Move((2, 5))).after(Action::Call);
        assert_eq!(sheet.calls, [Call { line: 2, cell: 5, kind: None }]);
        assert!(sheet.call_here().is_some());
        assert!(sheet.clone().after(Action::Move((2, 6))).call_here().is_none());
        assert_eq!(sheet.after(Action::Call).calls, []);
    }

    #[test]
    fn the_kind_goes_to_the_call_at_the_cursor_and_to_the_next() {
        let kind = Some(Kind::Mirrored);
        let sheet = ProofSheet::default().after(Action::Call).after(Action::Kind(kind));
        let sheet = sheet.after(Action::Move((0, 1))).after(Action::Call);
        assert_eq!(sheet.calls.iter().map(|call| call.kind).collect::<Vec<_>>(), [kind, kind]);
        // The others keep theirs.
        let sheet = sheet.after(Action::Kind(None));
        assert_eq!(sheet.calls.iter().map(|call| call.kind).collect::<Vec<_>>(), [kind, None]);
    }

    #[test]
    fn a_sheet_that_is_done_is_only_looked_at_until_it_is_begun_again() {
        let proof = proof();
        let sheet = ProofSheet::default().after(Action::ReadOut).after(Action::Call);
        let done = sheet.after(Action::Done(Rc::new(proof.score(&[]))));
        assert_eq!(done.clone().after(Action::Move((1, 1))).after(Action::Call).calls.len(), 1);
        let again = done.after(Action::Again);
        assert_eq!((again.calls.len(), again.score.is_none(), again.helped), (0, true, false));
    }

    fn proof() -> Proof {
        let plants = Plants { rate: 90, ..Plants::default() };
        proof_by(
            "The boat leaves the quay at seven and the galley is open all day.",
            true,
            Edition::Second,
            &plants,
        )
    }

    #[test]
    fn each_planted_sign_is_answered_for_once() {
        let proof = proof();
        let signs = proof.planted.iter().filter(|mistake| mistake.sign.is_some()).count();
        assert!(signs > 0);
        let overlooked = answers(&proof, &proof.score(&[]), 9, 1000);
        assert_eq!(overlooked.len(), signs);
        let cause = |answer: &Answer| answer.cause == "eye" || answer.cause.starts_with("rule");
        assert!(overlooked.iter().all(|answer| !answer.right && answer.at == 9 && cause(answer)));
        assert!(overlooked.iter().all(|answer| answer.ms == 1000 / proof.planted.len() as u64));
        let all: Vec<Call> = proof
            .planted
            .iter()
            .map(|mistake| Call { line: mistake.line, cell: mistake.cells.start, kind: None })
            .collect();
        let seen = answers(&proof, &proof.score(&all), 9, 1000);
        assert!(seen.iter().all(|answer| answer.right && answer.cause.is_empty()));
    }
}
