//! A sheet as a result slip carries it, so that the teacher sees the cells the learner saw, whatever the page of either
//! would write or plant today.

use std::ops::Range;

use serde::{Deserialize, Serialize};

use super::{Call, Mistake, Proof, Right};
use crate::cell::{self, Cell};
use crate::marking::Kind;
use crate::ueb::register;

/// The most lines of a sheet that is opened, and the most cells of one of them.
const LINES: usize = 4000;
const CELLS: usize = 60;

/// A sheet with its key. What it holds came over a link: [`Kept::open`] looks at every place.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Kept {
    /// The lines in braille ASCII, each ended by `\n`.
    lines: String,
    planted: Vec<KeptMistake>,
    /// The signs that stand rightly where the learner called a mistake, each with its line.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    right: Vec<(usize, Range<usize>, String, String)>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
struct KeptMistake {
    kind: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    also: Vec<String>,
    line: usize,
    cells: Range<usize>,
    #[serde(skip_serializing_if = "String::is_empty")]
    expected: String,
    say: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    section: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    sign: Option<String>,
}

impl Proof {
    /// The sheet as a slip with these calls carries it.
    pub fn keep(&self, calls: &[Call]) -> Kept {
        let planted = self.planted.iter().map(|mistake| KeptMistake {
            kind: mistake.kind.name().to_owned(),
            also: mistake.also.iter().map(|kind| kind.name().to_owned()).collect(),
            line: mistake.line,
            cells: mistake.cells.clone(),
            expected: cell::to_ascii(&mistake.expected),
            say: mistake.say.clone(),
            section: mistake.section.to_string(),
            sign: mistake.sign.map(str::to_owned),
        });
        let alarms = calls.iter().filter(|call| self.mistake_at(call.line, call.cell).is_none());
        let right = alarms.filter_map(|call| {
            let right = self.right_at(call)?;
            Some((call.line, right.cells.clone(), right.name.to_string(), right.section.to_string()))
        });
        Kept {
            lines: self.lines.iter().map(|line| cell::to_ascii(line) + "\n").collect(),
            planted: planted.collect(),
            right: right.collect(),
        }
    }
}

impl Kept {
    /// The sheet; nothing when this is none that a page made. It has no print beside it.
    pub fn open(&self) -> Option<Proof> {
        let lines: Vec<Vec<Cell>> = self.lines.lines().map(cell::from_ascii).collect::<Option<_>>()?;
        if lines.len() > LINES || lines.iter().any(|line| line.len() > CELLS) {
            return None;
        }
        let on_line = |line: usize, cells: &Range<usize>| {
            lines.get(line).is_some_and(|own| cells.start <= cells.end && cells.end <= own.len())
        };
        let mistake = |kept: &KeptMistake| {
            on_line(kept.line, &kept.cells).then_some(())?;
            Some(Mistake {
                kind: Kind::named(&kept.kind)?,
                also: kept.also.iter().filter_map(|name| Kind::named(name)).collect(),
                line: kept.line,
                cells: kept.cells.clone(),
                expected: cell::from_ascii(&kept.expected)?,
                say: kept.say.clone(),
                section: kept.section.clone().into(),
                sign: kept.sign.as_deref().and_then(register::by_key).map(|sign| sign.key),
            })
        };
        let planted = self.planted.iter().map(mistake).collect::<Option<Vec<Mistake>>>()?;
        let mut right: Vec<Vec<Right>> = vec![Vec::new(); lines.len()];
        for (line, cells, name, section) in &self.right {
            on_line(*line, cells).then_some(())?;
            let (name, section) = (name.clone().into(), section.clone().into());
            right[*line].push(Right { cells: cells.clone(), name, section });
        }
        Some(Proof { blocks: vec![None; lines.len()], lines, print: Vec::new(), planted, right })
    }
}

#[cfg(test)]
mod tests {
    use super::super::make::tests::sheet;
    use super::*;

    #[test]
    fn a_kept_sheet_is_scored_as_the_one_it_was() {
        for kinds in [&[][..], &[Kind::Mirrored], &[Kind::LeftOut, Kind::Spacing]] {
            let proof = sheet(60, kinds);
            // Every third cell is called, right or wrong.
            let calls: Vec<Call> = proof
                .lines
                .iter()
                .enumerate()
                .flat_map(|(line, cells)| (0..cells.len()).step_by(3).map(move |cell| (line, cell)))
                .map(|(line, cell)| Call { line, cell, kind: Some(Kind::Mirrored) })
                .collect();
            let kept = proof.keep(&calls);
            let json = serde_json::to_string(&kept).unwrap();
            let again = serde_json::from_str::<Kept>(&json).unwrap().open().unwrap();
            assert_eq!((&again.lines, &again.planted), (&proof.lines, &proof.planted));
            assert_eq!(again.score(&calls), proof.score(&calls));
        }
    }

    #[test]
    fn places_beside_the_sheet_are_refused() {
        let proof = sheet(60, &[]);
        let kept = proof.keep(&[]);
        assert!(kept.open().is_some());
        let with = |change: fn(&mut Kept)| {
            let mut kept = kept.clone();
            change(&mut kept);
            kept.open()
        };
        assert!(with(|kept| kept.planted[0].line = 999).is_none());
        assert!(with(|kept| kept.planted[0].cells = 3..99).is_none());
        assert!(with(|kept| kept.planted[0].cells = Range { start: 5, end: 2 }).is_none());
        assert!(with(|kept| kept.planted[0].kind = "no kind".to_owned()).is_none());
        assert!(with(|kept| kept.right.push((0, 0..99, String::new(), String::new()))).is_none());
        assert!(with(|kept| kept.lines.push_str("é\n")).is_none());
        assert!(with(|kept| kept.lines.push_str(&"a".repeat(CELLS + 1))).is_none());
        assert!(with(|kept| kept.lines.push_str(&"a\n".repeat(LINES))).is_none());
    }
}
