//! Whether divided words are right: whether they may be divided there, and whether both parts are written as they should be
//! (10.13, 6.10).

use super::align::{self, Hunk};
use super::divided::Break;
use super::lines::{Flat, HYPHEN};
use super::{Expected, Finding, Kind, Place, classify};
use crate::cell::{self, Cell};
use crate::ueb;
use crate::ueb::division::{self, Allowed, Judgement};

/// The findings about divided words.
pub(super) fn findings(expected: &Expected, flat: &Flat, hunks: &[Hunk]) -> Vec<Finding> {
    flat.breaks.iter().flat_map(|broken| broken.findings(expected, hunks)).collect()
}

impl Break {
    fn findings(&self, expected: &Expected, hunks: &[Hunk]) -> Vec<Finding> {
        let start = self.start(expected, hunks);
        let mut out = Vec::new();
        out.extend(self.place(expected, start));
        if let Some(parts) = &self.judged.parts {
            for (which, asked) in [&parts.first, &parts.second].into_iter().enumerate() {
                out.extend(self.form(which, asked, expected, start));
            }
        }
        out
    }

    /// Where the word stands in the print asked for.
    fn start(&self, expected: &Expected, hunks: &[Hunk]) -> usize {
        let last = hunks.iter().take_while(|hunk| hunk.written.end <= self.flat).last();
        let cell = last.map_or(self.flat, |hunk| self.flat - hunk.written.end + hunk.asked.end);
        let unit = expected.unit_at(cell).and_then(|unit| expected.units.get(unit));
        let here = unit.map_or(0, |unit| unit.print.start);
        let same = expected.print.get(here..here + self.print.len()).is_some_and(|print| print == self.print);
        if same { here } else { self.asked.start }
    }

    /// A finding about the place of the break.
    fn place(&self, expected: &Expected, start: usize) -> Option<Finding> {
        let word: String =
            self.print.iter().filter(|c| c.is_alphanumeric() || !c.is_ascii_punctuation()).collect();
        let what = if word.contains(|c: char| c.is_ascii_digit()) { "number" } else { "word" };
        let Judgement { section, why, .. } = self.judged;
        let (kind, say) = match self.judged.allowed {
            Allowed::Yes => return None,
            Allowed::No => (
                Kind::Spacing,
                format!("The {what} “{word}” is not divided here: {why} (section {section})."),
            ),
            Allowed::YourCall => (
                Kind::YourCall,
                format!("Whether “{word}” is divided here: {why} (section {section}): your call."),
            ),
        };
        let (cells, at) = &self.parts[0];
        let print = start + self.at..start + self.at;
        let asked = cells_before(expected, print.start);
        Some(Finding {
            kind,
            also: Vec::new(),
            written: Place { line: at.line, from: at.to.saturating_sub(1), to: at.to },
            cells: cells[cells.len() - 1..].to_vec(),
            expected: Vec::new(),
            asked: asked..asked,
            print,
            sign: None,
            section,
            say,
        })
    }

    /// Findings about the cells of one part.
    fn form(&self, which: usize, asked: &[Cell], expected: &Expected, start: usize) -> Vec<Finding> {
        let (written, place) = &self.parts[which];
        // Whether "in" is a sequence of lower signs where nothing stands beside it, the rules leave open (10.13.5).
        let (short, long) = (cell::from_ascii("9"), cell::from_ascii("in"));
        let alone = short.as_deref() == Some(asked) && long.as_ref() == Some(written);
        if written == asked || alone {
            return Vec::new();
        }
        let from = if which == 0 { 0 } else { self.at };
        let mut print: Vec<char> =
            if which == 0 { self.print[..self.at].to_vec() } else { self.print[self.at..].to_vec() };
        let letters = print.len();
        if which == 0
            && asked.last() == Some(&HYPHEN)
            && !print.last().is_some_and(|c| division::is_joint(*c))
        {
            print.push('-');
        }
        let print: String = print.into_iter().collect();
        let mut part = Expected::from_known(&print, asked);
        part.open.nothing = true;
        let own = self.judged.passed_over.iter();
        let own = own.filter(|passed| from <= passed.print.start && passed.print.start < from + letters);
        part.passed_over = own
            .map(|passed| {
                let print = passed.print.start - from..(passed.print.end - from).min(letters);
                ueb::PassedOver { print, ..passed.clone() }
            })
            .collect();
        let flat = Flat::line(written);
        let hunks = align::differences(&part.cells, &flat.cells);
        let mut found = classify::findings(&part, &flat, &hunks);
        for finding in &mut found {
            finding.written.line = place.line;
            finding.written.from += place.from;
            finding.written.to += place.from;
            let at = |own: usize| start + from + own.min(letters);
            finding.print = at(finding.print.start)..at(finding.print.end);
            let cells = cells_before(expected, finding.print.start);
            finding.asked = cells..cells_before(expected, finding.print.end).max(cells);
        }
        found
    }
}

/// The first cell of what stands for the print from this character on.
fn cells_before(expected: &Expected, print: usize) -> usize {
    let unit = expected.units.partition_point(|unit| unit.print.start < print);
    expected.units.get(unit).map_or(expected.cells.len(), |unit| unit.cells.start)
}
