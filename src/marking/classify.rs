//! The cause of each difference, in the order: mended by indicators or spacing alone; reads back as the print
//! all the same; otherwise the shape.

use std::ops::Range;

use super::align::Step;
use super::lines::Flat;
use super::spelling::{self, Spelled};
use super::{Expected, Finding, Kind};
use crate::cell::{self, Cell};
use crate::ueb::register::{self, Class, SignId};

/// A stretch of differences: expected cells and the written cells in their place.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Hunk {
    asked: Range<usize>,
    written: Range<usize>,
}

/// Equal cells between two differences of one word that may still have one cause.
const NEAR: usize = 3;

/// The findings of an alignment, in order.
pub fn findings(expected: &Expected, flat: &Flat, steps: &[Step]) -> Vec<Finding> {
    let hunks = hunks(expected, flat, steps);
    let judge = Judge { expected, flat };
    let mut out = Vec::new();
    let mut at = 0;
    while at < hunks.len() {
        // Differences near each other in one word are tried as one first: a spelled-out contraction often
        // shares a cell with what it stands for.
        let mut to = at + 1;
        while to < hunks.len() && to < at + 5 && judge.near(&hunks[to - 1], &hunks[to]) {
            to += 1;
        }
        while to > at + 1 {
            let joined = Hunk {
                asked: hunks[at].asked.start..hunks[to - 1].asked.end,
                written: hunks[at].written.start..hunks[to - 1].written.end,
            };
            if let Some(finding) = judge.reads_back(&joined) {
                out.push(finding);
                break;
            }
            to -= 1;
        }
        if to == at + 1 {
            out.extend(judge.finding(&hunks[at]));
        }
        at = to;
    }
    out
}

fn hunks(expected: &Expected, flat: &Flat, steps: &[Step]) -> Vec<Hunk> {
    let mut out: Vec<Hunk> = Vec::new();
    let (mut i, mut j) = (0, 0);
    let mut open = false;
    for step in steps {
        let same = step.expected.zip(step.written).is_some_and(|(a, w)| expected.cells[a] == flat.cells[w]);
        let (ni, nj) = (i + usize::from(step.expected.is_some()), j + usize::from(step.written.is_some()));
        if same {
            open = false;
        } else if let Some(last) = out.last_mut().filter(|_| open) {
            last.asked.end = ni;
            last.written.end = nj;
        } else {
            out.push(Hunk { asked: i..ni, written: j..nj });
            open = true;
        }
        (i, j) = (ni, nj);
    }
    out
}

struct Judge<'a> {
    expected: &'a Expected,
    flat: &'a Flat,
}

impl Judge<'_> {
    fn near(&self, one: &Hunk, next: &Hunk) -> bool {
        let between = &self.expected.cells[one.asked.end..next.asked.start];
        between.len() <= NEAR && !between.iter().any(|cell| cell.is_blank())
    }

    fn class(&self, unit: usize) -> Option<Class> {
        self.expected.units.get(unit).and_then(|unit| unit.sign).map(|sign| register::get(sign).class)
    }

    /// The units that a run of expected cells touches.
    fn units(&self, asked: &Range<usize>) -> Range<usize> {
        if asked.is_empty() {
            let at = self.expected.units.partition_point(|unit| unit.cells.end <= asked.start);
            return at..at;
        }
        let from = self.expected.unit_at(asked.start).unwrap_or(0);
        let to = self.expected.unit_at(asked.end - 1).map_or(from, |last| last + 1);
        from..to
    }

    fn print(&self, units: &Range<usize>) -> Range<usize> {
        let all = &self.expected.units[units.clone()];
        let from = all.iter().map(|unit| unit.print.start).min();
        let to = all.iter().map(|unit| unit.print.end).max();
        match (from, to) {
            (Some(from), Some(to)) => from..to,
            _ => {
                let at = self
                    .expected
                    .units
                    .get(units.start)
                    .map_or(self.expected.print.len(), |unit| unit.print.start);
                at..at
            }
        }
    }

    fn words(&self, print: &Range<usize>) -> String {
        self.expected.print.get(print.clone()).map(|all| all.iter().collect()).unwrap_or_default()
    }

    fn make(
        &self,
        kind: Kind,
        hunk: &Hunk,
        sign: Option<SignId>,
        section: &'static str,
        say: String,
    ) -> Finding {
        let units = self.units(&hunk.asked);
        Finding {
            kind,
            also: Vec::new(),
            written: self.flat.place(hunk.written.start, hunk.written.end),
            cells: self.flat.cells[hunk.written.clone()].to_vec(),
            expected: self.expected.cells[hunk.asked.clone()].to_vec(),
            asked: hunk.asked.clone(),
            print: self.print(&units),
            sign,
            section,
            say,
        }
    }

    /// Whether what is written spells the same print by other signs; tried on the signs of the difference and
    /// then with one and two signs more of the same word on either side.
    fn reads_back(&self, hunk: &Hunk) -> Option<Finding> {
        let units = self.units(&hunk.asked);
        for (before, after) in [(0, 0), (0, 1), (1, 0), (1, 1), (0, 2), (2, 0), (2, 2)] {
            let Some(wide) = self.widened(hunk, &units, before, after) else { continue };
            let print = self.print(&self.units(&wide.asked));
            let letters = self.expected.print.get(print.clone()).unwrap_or_default();
            if letters.is_empty()
                || letters.len() > 40
                || wide.written.len() > 40
                || !letters.iter().any(|c| c.is_alphabetic())
            {
                continue;
            }
            let cells = &self.flat.cells[wide.written.clone()];
            if let Some(spelled) = spelling::parse(cells, letters, false) {
                if let Some(finding) = self.contraction(&wide, &spelled) {
                    return Some(finding);
                }
            } else if let Some(spelled) = spelling::parse(cells, letters, true) {
                let retired = spelled.iter().find(|used| used.sign.is_none())?;
                let dropped: String = letters[retired.print.clone()].iter().collect();
                let unit = self.expected.units.get(self.units(&wide.asked).start)?;
                let say = format!(
                    "UEB dropped the old sign for “{dropped}” (section 1.3): write {}.",
                    dots(&self.expected.cells[wide.asked.clone()])
                );
                return Some(self.make(Kind::RetiredSign, &wide, unit.sign, "1.3", say));
            }
        }
        None
    }

    /// The hunk widened to whole signs and some signs more; `None` when there are no such signs in the word.
    fn widened(&self, hunk: &Hunk, units: &Range<usize>, before: usize, after: usize) -> Option<Hunk> {
        let from = units.start.checked_sub(before)?;
        let to = units.end + after;
        if to > self.expected.units.len() || from == to {
            return None;
        }
        let blank = |at: usize| self.class(at) == Some(Class::Space);
        if (from..units.start).chain(units.end..to).any(blank) {
            return None;
        }
        let asked = self.expected.units[from].cells.start..self.expected.units[to - 1].cells.end;
        let left = hunk.asked.start.checked_sub(asked.start)?;
        let right = asked.end.checked_sub(hunk.asked.end)?;
        let written = hunk.written.start.checked_sub(left)?..hunk.written.end + right;
        if written.end > self.flat.cells.len() {
            return None;
        }
        // What is added around must be as it was asked for.
        let same = self.expected.cells[asked.start..hunk.asked.start]
            == self.flat.cells[written.start..hunk.written.start]
            && self.expected.cells[hunk.asked.end..asked.end]
                == self.flat.cells[hunk.written.end..written.end];
        same.then_some(Hunk { asked, written })
    }

    fn contraction(&self, wide: &Hunk, spelled: &[Spelled]) -> Option<Finding> {
        let units = self.units(&wide.asked);
        let print = self.print(&units);
        let asked: Vec<SignId> = self.expected.units[units]
            .iter()
            .filter_map(|unit| unit.sign)
            .filter(|&sign| register::get(sign).class.is_contraction())
            .collect();
        let used = spelling::contractions(spelled);
        let wanted = asked.iter().copied().find(|sign| !used.contains(sign));
        let unwanted = used.iter().copied().find(|sign| !asked.contains(sign));
        let letters = self.words(&print);
        let correct = dots(&self.expected.cells[wide.asked.clone()]);
        Some(match (wanted, unwanted) {
            (Some(wanted), None) => {
                let sign = register::get(wanted);
                let say = format!(
                    "“{}” has a sign of its own here, the {} {}: don’t spell it out.",
                    sign.print,
                    sign.class.name(),
                    dots(&sign.cells)
                );
                let section = self.section_of(wide, wanted).unwrap_or(sign.section);
                self.make(Kind::MissedContraction, wide, Some(wanted), section, say)
            }
            (None, Some(unwanted)) => {
                let sign = register::get(unwanted);
                let passed = self.expected.passed_over.iter().find(|passed| {
                    passed.sign == unwanted
                        && passed.print.start < print.end
                        && print.start < passed.print.end
                });
                let why = passed.map_or(String::new(), |passed| format!(" ({})", passed.why));
                let say = format!(
                    "The contraction for “{}” may not be used here{why}: write {correct}.",
                    sign.print
                );
                let section = passed.map_or(sign.section, |passed| passed.section);
                self.make(Kind::BarredContraction, wide, Some(unwanted), section, say)
            }
            (Some(wanted), Some(unwanted)) => {
                let (right, wrong) = (register::get(wanted), register::get(unwanted));
                let say = format!(
                    "In “{letters}” the sign for “{}” is to be used and not the one for “{}”: write {correct}.",
                    right.print, wrong.print
                );
                let section = self.section_of(wide, wanted).unwrap_or(right.section);
                self.make(Kind::WrongContraction, wide, Some(wanted), section, say)
            }
            (None, None) => return None,
        })
    }

    fn section_of(&self, hunk: &Hunk, sign: SignId) -> Option<&'static str> {
        self.expected.units[self.units(&hunk.asked)]
            .iter()
            .find(|unit| unit.sign == Some(sign))
            .map(|unit| unit.section)
    }

    /// The finding of one difference; `None` where the written form is permitted.
    fn finding(&self, hunk: &Hunk) -> Option<Finding> {
        let units = self.units(&hunk.asked);
        if self.permitted(hunk, &units) {
            return None;
        }
        let mut finding = self
            .by_indicators(hunk, &units)
            .or_else(|| self.reads_back(hunk))
            .unwrap_or_else(|| self.by_shape(hunk, &units));
        let choice = self.expected.units[units].iter().find_map(|unit| unit.choice);
        if let Some(section) = choice.filter(|_| finding.kind != Kind::MissingIndicator) {
            finding.also.insert(0, finding.kind);
            finding.kind = Kind::YourCall;
            finding.section = section;
            finding.say =
                format!("The standard leaves a choice here (section {section}): this one is your call.");
        } else if choice.is_some() {
            return None;
        }
        Some(finding)
    }

    /// Spacing of a dash or double hyphen (7.2), and grade 1 word indicators that change nothing (5.10).
    fn permitted(&self, hunk: &Hunk, units: &Range<usize>) -> bool {
        let blanks = |cells: &[Cell]| !cells.is_empty() && cells.iter().all(|cell| cell.is_blank());
        let (asked, written) =
            (&self.expected.cells[hunk.asked.clone()], &self.flat.cells[hunk.written.clone()]);
        if (asked.is_empty() && blanks(written)) || (written.is_empty() && blanks(asked)) {
            let dash = |at: Option<usize>| {
                at.and_then(|at| self.expected.units.get(at)).is_some_and(|unit| {
                    let print = self.expected.print.get(unit.print.clone()).unwrap_or_default();
                    matches!(print, ['—' | '–'] | ['-', '-'])
                })
            };
            let double = |from: Option<usize>| {
                from.and_then(|from| self.expected.print.get(from..from + 2))
                    .is_some_and(|two| two == ['-', '-'])
            };
            let place = self.print(units);
            return dash(units.start.checked_sub(1))
                || dash(Some(units.end))
                || double(place.start.checked_sub(2))
                || double(Some(place.end));
        }
        if asked.is_empty() && cell::to_ascii(written) == ";;" {
            let word: Vec<Class> = (units.start..self.expected.units.len())
                .map_while(|at| self.class(at).filter(|class| *class != Class::Space))
                .collect();
            return word.len() > 1 && word.iter().all(|class| *class == Class::Letter);
        }
        false
    }

    fn by_indicators(&self, hunk: &Hunk, units: &Range<usize>) -> Option<Finding> {
        let asked = &self.expected.cells[hunk.asked.clone()];
        let written = &self.flat.cells[hunk.written.clone()];
        let is_mark = |class: Option<Class>| matches!(class, Some(Class::Indicator | Class::Terminator));
        let marks = !units.is_empty() && units.clone().all(|at| is_mark(self.class(at)));
        let spaces = !asked.is_empty() && asked.iter().all(|cell| cell.is_blank());
        let unit = self.expected.units.get(units.start);
        let whole = unit.is_some_and(|unit| unit.cells.start == hunk.asked.start)
            && units.clone().next_back().is_some_and(|last| {
                self.expected.units.get(last).is_some_and(|last| last.cells.end == hunk.asked.end)
            });
        if spaces && written.is_empty() {
            let say = "A blank cell is missing here: these are two words.".to_owned();
            return Some(self.make(Kind::Spacing, hunk, unit.and_then(|u| u.sign), "2.2", say));
        }
        if asked.is_empty() && !written.is_empty() && written.iter().all(|cell| cell.is_blank()) {
            let broken = self.flat.line_end[hunk.written.clone()].contains(&true);
            let (section, say) = if broken {
                ("10.13", "A word may not run on over a line end without a hyphen.")
            } else {
                ("2.2", "There is a blank cell too many here.")
            };
            return Some(self.make(Kind::Spacing, hunk, None, section, say.to_owned()));
        }
        if asked.is_empty() {
            // A half of an indicator doubled or an indicator nobody asked for.
            let beside = self
                .expected
                .unit_at(hunk.asked.start)
                .into_iter()
                .chain(hunk.asked.start.checked_sub(1).and_then(|at| self.expected.unit_at(at)))
                .find(|&at| is_mark(self.class(at)));
            let sign = mark_of(written)?;
            if let Some((at, whole)) = beside.and_then(|at| {
                let unit = &self.expected.units[at];
                let mut all = self.expected.cells[unit.cells.clone()].to_vec();
                all.extend_from_slice(written);
                mark_of(&all).map(|whole| (at, whole))
            }) {
                let unit = &self.expected.units[at];
                let say = format!(
                    "The {} stands where the {} is asked for.",
                    register::get(whole).name,
                    unit.sign.map_or("indicator", |sign| register::get(sign).name)
                );
                return Some(self.make(Kind::WrongIndicator, hunk, unit.sign, unit.section, say));
            }
            let entry = register::get(sign);
            let say = format!("Nothing asks for the {} here: leave it out.", entry.name);
            return Some(self.make(Kind::ExtraIndicator, hunk, Some(sign), entry.section, say));
        }
        if !marks {
            return None;
        }
        let unit = unit?;
        let name = unit.sign.map_or("indicator", |sign| register::get(sign).name);
        let needed = self.words(&self.after(units.end));
        if written.is_empty() && whole {
            let say = format!(
                "The {name} ({}) is missing before “{needed}”; an earlier one does not reach this far.",
                dots(asked)
            );
            return Some(self.make(Kind::MissingIndicator, hunk, unit.sign, unit.section, say));
        }
        let all: Vec<Cell> = self.expected.cells[unit.cells.start..hunk.asked.start]
            .iter()
            .chain(written)
            .chain(&self.expected.cells[hunk.asked.end..self.expected.units[units.end - 1].cells.end])
            .copied()
            .collect();
        let other = register::get(mark_of(&all)?);
        let say = format!("The {} stands where the {name} is asked for.", other.name);
        let mut finding = self.make(Kind::WrongIndicator, hunk, unit.sign, unit.section, say);
        if let (&[a], &[w]) = (asked, written) {
            finding.also = shapes(a, w);
        }
        Some(finding)
    }

    /// The print of the word that begins with this unit.
    fn after(&self, unit: usize) -> Range<usize> {
        let Some(first) = self.expected.units.get(unit) else {
            return self.expected.print.len()..self.expected.print.len();
        };
        let from = first.print.start;
        let rest = self.expected.print.get(from..).unwrap_or_default();
        let length = rest.iter().take(24).take_while(|c| !c.is_whitespace()).count();
        from..from + length
    }

    fn by_shape(&self, hunk: &Hunk, units: &Range<usize>) -> Finding {
        let asked = &self.expected.cells[hunk.asked.clone()];
        let written = &self.flat.cells[hunk.written.clone()];
        let unit = self.expected.units.get(units.start);
        let sign = unit.filter(|_| !units.is_empty()).and_then(|unit| unit.sign);
        let section = unit.filter(|_| !units.is_empty()).map_or("", |unit| unit.section);
        let words = self.words(&self.print(units));
        if let Some(unit) = unit.filter(|unit| {
            unit.cells.len() > 1
                && hunk.asked == (unit.cells.start..unit.cells.start + 1)
                && asked[0].is_prefix()
                && (written.is_empty() || matches!(written, [cell] if cell.is_prefix()))
        }) {
            let whole = dots(&self.expected.cells[unit.cells.clone()]);
            let say = if written.is_empty() {
                format!(
                    "The sign for “{words}” has two parts, and its prefix {} is missing: {whole}.",
                    dots(asked)
                )
            } else {
                format!("The sign for “{words}” begins with {} and not with {}.", dots(asked), dots(written))
            };
            let mut finding = self.make(Kind::LostPrefix, hunk, sign, section, say);
            if let &[cell] = written {
                finding.also = shapes(asked[0], cell);
            }
            return finding;
        }
        match (asked, written) {
            (&[a], &[w]) => {
                let kinds = shapes(a, w);
                let kind = kinds.first().copied().unwrap_or(Kind::WrongSign);
                let (a, w) = (a.dot_numbers(), w.dot_numbers());
                let say = match kind {
                    Kind::Mirrored => {
                        format!("Left and right changed places: {a} is asked for, {w} is its mirror.")
                    }
                    Kind::Shifted => format!("The right shape at the wrong height: write {a} and not {w}."),
                    Kind::DotSlip => format!("One dot is off: write {a} and not {w}."),
                    _ => format!("Another sign is asked for: write {a} and not {w}."),
                };
                let mut finding = self.make(kind, hunk, sign, section, say);
                finding.also = kinds.into_iter().skip(1).collect();
                finding
            }
            (_, []) => {
                let say = if words.trim().is_empty() {
                    format!("{} is not written.", dots(asked))
                } else {
                    format!("“{}” is not written whole: {} is missing.", words.trim(), dots(asked))
                };
                self.make(Kind::LeftOut, hunk, sign, section, say)
            }
            ([], _) => {
                let say = format!("Nothing asks for {} here.", dots(written));
                self.make(Kind::Added, hunk, None, "", say)
            }
            _ => {
                let say =
                    format!("Another sign is asked for: write {} and not {}.", dots(asked), dots(written));
                self.make(Kind::WrongSign, hunk, sign, section, say)
            }
        }
    }
}

/// The shape kinds that fit one cell in another's place, the closest cause first.
pub fn shapes(asked: Cell, written: Cell) -> Vec<Kind> {
    let mut kinds = Vec::new();
    if asked != written && asked.mirror() == written {
        kinds.push(Kind::Mirrored);
    }
    if [-2, -1, 1, 2].into_iter().any(|rows| asked.shifted(rows) == Some(written)) {
        kinds.push(Kind::Shifted);
    }
    if (asked.bits() ^ written.bits()).count_ones() == 1 {
        kinds.push(Kind::DotSlip);
    }
    kinds
}

/// The indicator or terminator with just these cells, of those that a text of the general code uses.
fn mark_of(cells: &[Cell]) -> Option<SignId> {
    if cells.is_empty() {
        return None;
    }
    register::by_cells(cells)
        .filter(|sign| matches!(sign.class, Class::Indicator | Class::Terminator))
        .find(|sign| spelling::of_running_text(sign))
        .map(|sign| sign.id)
}

/// Cells in words, "dots 1-2-4, 1".
pub fn dots(cells: &[Cell]) -> String {
    let shown: Vec<String> = cells.iter().take(12).map(|cell| cell.dot_numbers()).collect();
    let more = if cells.len() > 12 { " …" } else { "" };
    format!("dots {}{more}", shown.join(", "))
}
