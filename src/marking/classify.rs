//! What the steps of a story are called: a kind, the sign and the section, and one sentence a learner can act on.

mod spelled;

use std::ops::Range;

use super::align::Hunk;
use super::expected::Unit;
use super::found::Cause;
use super::lines::Flat;
use super::regions::Region;
use super::search::{Move, Op};
use super::shape::{dots, off_by, shapes};
use super::word_order::{self, Stretch};
use super::{Expected, Finding, Kind, modes, quotes, regions, search, spelling};
use crate::cell::Cell;
use crate::ueb::register::{self, Class, SignId};
use crate::ueb::{self, ReadOptions};

/// The findings about some differences, in order.
pub(super) fn findings(expected: &Expected, flat: &Flat, hunks: &[Hunk]) -> Vec<Finding> {
    let judge = Judge { expected, flat };
    let mut causes = Vec::new();
    let regions = regions::regions(expected, flat.cells.len(), hunks);
    for stretch in word_order::stretches(expected, flat, regions) {
        let region = match stretch {
            Stretch::Moved(region) => {
                causes.push(judge.moved(&region));
                continue;
            }
            Stretch::Other(region) => region,
        };
        let story = search::search(expected, flat, &region);
        let mut at = 0;
        while at < story.len() {
            let one = &story[at];
            let run = matches!(one.op, Op::Spelled(_) | Op::LeftOut | Op::Added | Op::Replaced);
            let mut to = at + 1;
            while run && to < story.len() && story[to].op != Op::Close {
                to += 1;
            }
            causes.extend(judge.cause(&story[at..to]));
            at = to;
        }
    }
    let mut causes = modes::joined(expected, causes);
    quotes::kept(expected, &mut causes);
    causes.into_iter().map(|cause| cause.finding).collect()
}

struct Judge<'a> {
    expected: &'a Expected,
    flat: &'a Flat,
}

/// A place with a mistake, and what stands there.
struct Spot<'a> {
    units: Range<usize>,
    written: Range<usize>,
    /// The first sign asked for, its section and its name.
    sign: Option<SignId>,
    section: &'static str,
    name: &'static str,
    /// The cells asked for, and those written.
    asked: &'a [Cell],
    cells: &'a [Cell],
    /// The print.
    words: String,
}

impl Judge<'_> {
    fn cause(&self, moves: &[Move]) -> Option<Cause> {
        let (first, last) = (moves.first()?, moves.last()?);
        let units = first.units.start..last.units.end;
        let written = first.written.start..last.written.end;
        let unit = self.expected.units.get(units.start);
        let sign = unit.and_then(|unit| unit.sign);
        let spot = Spot {
            sign,
            section: unit.map_or("", |unit| unit.section),
            asked: &self.expected.cells[self.expected.cells_of(&units)],
            cells: &self.flat.cells[written.clone()],
            words: self.expected.words(&units),
            name: sign.map_or("sign", |sign| register::get(sign).name),
            units,
            written,
        };
        let (units, written) = (&spot.units, &spot.written);
        if let Some(unknown) = self.without_sign(&spot) {
            return Some(unknown);
        }
        Some(match first.op {
            Op::Match | Op::Permitted | Op::Close => return None,
            Op::YourCall(by) => {
                let say =
                    format!("Print alone doesn’t say which form is right here (section {by}): your call.");
                self.make(Kind::YourCall, units, written, sign, by, say)
            }
            Op::QuoteWrong => self.quote_wrong(&spot),
            Op::Shape(at) => self.shape(first, usize::from(at)),
            Op::PrefixLost => self.prefix_lost(&spot),
            Op::PrefixWrong => self.prefix_wrong(&spot),
            Op::MarkMissing => {
                let say = self.missing(units.start, spot.name, spot.asked);
                self.at(&spot, Kind::MissingIndicator, say)
            }
            Op::MarkExtra(extra) => self.mark_extra(&spot, extra),
            Op::MarkWrong(other) => self.mark_wrong(&spot, other),
            Op::MarkBroken => {
                let say = format!("The {} is {}: part of it is missing.", spot.name, dots(spot.asked));
                self.at(&spot, Kind::WrongIndicator, say)
            }
            Op::MarkOlder => self.mark_older(&spot),
            Op::SpaceMissing => self.run_together(units, written),
            Op::SpaceExtra => self.space_extra(&spot),
            Op::LeftOut => {
                let say = format!("“{}” is left out here: {}.", spot.words, dots(spot.asked));
                self.at(&spot, Kind::LeftOut, say)
            }
            Op::CellLeftOut(at) => self.cell_left_out(&spot, usize::from(at)),
            Op::Added => self.added(&spot),
            Op::Swapped => self.swapped(units, written),
            Op::Replaced => self.replaced(units, written, first.op),
            Op::WordReplaced => {
                let (units, written) = self.without_marks(units.clone(), written.clone());
                self.replaced(&units, &written, first.op)
            }
            Op::WordJumbled => {
                let (units, written) = self.without_marks(units.clone(), written.clone());
                self.jumbled(&units, &written)
            }
            Op::WordMirrored => {
                let say = format!(
                    "Left and right changed places in all of “{}”: write {}.",
                    short(&spot.words),
                    dots(spot.asked)
                );
                self.at(&spot, Kind::Mirrored, say)
            }
            Op::WordsLeftOut => self.words_left_out(&spot),
            Op::WordsAdded => {
                let say = format!(
                    "Nothing in print asks for {} here: it is written twice, or too early.",
                    self.read(spot.cells)
                );
                self.make(Kind::Added, units, written, None, "2.3", say)
            }
            Op::Spelled(_) => self.spelled(units, written, moves),
        })
    }

    /// Where print has a character that no sign is known for.
    fn without_sign(&self, spot: &Spot) -> Option<Cause> {
        let print = self.expected.print_of(&spot.units);
        let at = *self.expected.unhandled.iter().find(|&at| print.contains(at))?;
        let c = self.expected.print[at];
        let say = format!("No sign is known for “{c}”: what stands here is your call.");
        Some(self.make(Kind::YourCall, &spot.units, &spot.written, None, "2.3", say))
    }

    /// A mistake at a sign asked for.
    fn at(&self, spot: &Spot, kind: Kind, say: String) -> Cause {
        self.make(kind, &spot.units, &spot.written, spot.sign, spot.section, say)
    }

    fn quote_wrong(&self, spot: &Spot) -> Cause {
        let (right, wrong) = match spot.words.contains(['“', '”', '"']) {
            true => ("double", "single"),
            false => ("single", "double"),
        };
        let say = format!(
            "Print has a {right} quotation mark here, and {} stands for a {wrong} one: write {}.",
            dots(spot.cells),
            dots(spot.asked)
        );
        self.at(spot, Kind::WrongSign, say)
    }

    fn prefix_lost(&self, spot: &Spot) -> Cause {
        let say = format!(
            "The sign for “{}” has two parts, and its prefix {} is missing: write {}.",
            spot.words,
            dots(&spot.asked[..1]),
            dots(spot.asked)
        );
        self.at(spot, Kind::LostPrefix, say)
    }

    fn prefix_wrong(&self, spot: &Spot) -> Cause {
        let say = format!(
            "The sign for “{}” begins with {} and not with {}.",
            spot.words,
            dots(&spot.asked[..1]),
            dots(&spot.cells[..1])
        );
        let mut cause = self.at(spot, Kind::LostPrefix, say);
        cause.finding.also = shapes(spot.asked[0], spot.cells[0]);
        cause
    }

    fn mark_extra(&self, spot: &Spot, extra: SignId) -> Cause {
        let extra = register::get(extra);
        let say = format!("Nothing asks for the {} ({}) here: leave it out.", extra.name, dots(spot.cells));
        self.make(Kind::ExtraIndicator, &spot.units, &spot.written, Some(extra.id), extra.section, say)
    }

    fn mark_wrong(&self, spot: &Spot, other: SignId) -> Cause {
        let (asked, cells) = (spot.asked, spot.cells);
        let say = format!(
            "The {} stands where the {} is asked for: write {}.",
            register::get(other).name,
            spot.name,
            dots(asked)
        );
        let mut cause = self.at(spot, Kind::WrongIndicator, say);
        let mut off = asked.iter().zip(cells).filter(|(a, w)| a != w);
        if let (Some((&a, &w)), None, true) = (off.next(), off.next(), asked.len() == cells.len()) {
            cause.finding.also = shapes(a, w);
        }
        cause
    }

    fn mark_older(&self, spot: &Spot) -> Cause {
        let say = format!(
            "{} is an older code’s italic sign: UEB writes the {}, {}.",
            dots(spot.cells),
            spot.name,
            dots(spot.asked)
        );
        let mut cause = self.make(Kind::OlderSign, &spot.units, &spot.written, spot.sign, "1.3.4", say);
        cause.finding.also = vec![Kind::WrongIndicator];
        cause
    }

    fn space_extra(&self, spot: &Spot) -> Cause {
        let (section, say) = match self.flat.has_line_end(spot.written.clone()) {
            true => ("10.13", "A word may not run on over a line end without a hyphen."),
            false => ("3.23", "There is a blank cell too many here."),
        };
        self.make(Kind::Spacing, &spot.units, &spot.written, None, section, say.to_owned())
    }

    fn cell_left_out(&self, spot: &Spot, at: usize) -> Cause {
        let say = format!(
            "The sign for “{}” is {}, and {} is left out.",
            spot.words,
            dots(spot.asked),
            dots(&spot.asked[at..=at])
        );
        self.at(spot, Kind::LeftOut, say)
    }

    fn added(&self, spot: &Spot) -> Cause {
        let (cells, start) = (spot.cells, spot.written.start);
        let twice = cells.len() <= start && self.flat.cells[start - cells.len()..start] == *cells;
        let say = match twice {
            true => format!("{} is written twice: once is enough.", capital(&dots(cells))),
            false => format!("Nothing asks for {} here.", dots(cells)),
        };
        self.make(Kind::Added, &spot.units, &spot.written, None, "2.3", say)
    }

    fn words_left_out(&self, spot: &Spot) -> Cause {
        let words = spot.words.trim();
        let what = if words.contains(char::is_whitespace) { "These words are" } else { "This word is" };
        let say = format!("{what} left out: “{}”.", short(words));
        self.make(Kind::LeftOut, &spot.units, &spot.written, None, "2.3", say)
    }

    fn make(
        &self,
        kind: Kind,
        units: &Range<usize>,
        written: &Range<usize>,
        sign: Option<SignId>,
        section: &'static str,
        say: String,
    ) -> Cause {
        let asked = self.expected.cells_of(units);
        let finding = Finding {
            kind,
            also: Vec::new(),
            written: self.flat.place(written.start, written.end),
            cells: self.flat.cells[written.clone()].to_vec(),
            expected: self.expected.cells[asked.clone()].to_vec(),
            asked,
            print: self.expected.print_of(units),
            sign,
            section,
            say,
        };
        Cause { finding, units: units.clone(), written: written.clone() }
    }

    /// Words that are all there, in another order.
    fn moved(&self, region: &Region) -> Cause {
        let words = self.expected.words(&region.units);
        let say = format!("Print has these words in another order: “{}”.", short(&words));
        self.make(Kind::WordOrder, &region.units, &region.written, None, "2.3", say)
    }

    /// One cell of a sign in another shape: the finding is about that cell alone.
    fn shape(&self, step: &Move, at: usize) -> Cause {
        let unit = &self.expected.units[step.units.start];
        let asked = unit.cells.start + at..unit.cells.start + at + 1;
        let written = step.written.start + at..step.written.start + at + 1;
        let (a, w) = (self.expected.cells[asked.start], self.flat.cells[written.start]);
        let kinds = shapes(a, w);
        let kind = kinds.first().copied().unwrap_or(Kind::WrongSign);
        let words = self.expected.words(&step.units);
        let of = match (unit.is_mark(), unit.sign) {
            (true, Some(sign)) => format!("the {}", register::get(sign).name),
            _ if words.trim().is_empty() => "the blank".to_owned(),
            _ => format!("“{words}”"),
        };
        let (right, wrong) = (dots(&[a]), dots(&[w]));
        let say = match kind {
            Kind::Mirrored => {
                format!("Left and right changed places in {of}: {right} is asked for, {wrong} is its mirror.")
            }
            Kind::Shifted => {
                format!("The right shape at the wrong height for {of}: write {right} and not {wrong}.")
            }
            Kind::DotSlip => {
                format!("One dot is off in {of}: {}. Write {right} and not {wrong}.", off_by(a, w))
            }
            _ => format!("Another sign is asked for {of}: write {right} and not {wrong}."),
        };
        let mut cause = self.make(kind, &step.units, &step.written, unit.sign, unit.section, say);
        cause.finding.also = kinds.into_iter().skip(1).collect();
        cause.finding.written = self.flat.place(written.start, written.end);
        cause.finding.cells = vec![w];
        cause.finding.expected = vec![a];
        cause.finding.asked = asked;
        cause
    }

    fn missing(&self, unit: usize, name: &str, asked: &[Cell]) -> String {
        let units = &self.expected.units;
        let class = |at: Option<usize>| at.and_then(|at| units.get(at)).and_then(|unit| unit.class());
        let numeric = name.contains("numeric") && class(Some(unit + 1)) == Some(Class::Digit);
        let before = unit.checked_sub(1);
        let earlier = class(unit.checked_sub(2)) == Some(Class::Digit);
        let needed = short(&self.word_from(unit + 1));
        if numeric && earlier && class(before) != Some(Class::Letter) {
            let name = before
                .and_then(|at| units.get(at)?.sign)
                .map_or("sign before", |sign| register::get(sign).name);
            let what = if class(before) == Some(Class::Space) { "space" } else { name };
            return format!(
                "Numeric mode ended at the {what}: “{needed}” needs a numeric indicator of its own, {}.",
                dots(asked)
            );
        }
        match needed.is_empty() {
            true => format!("The {name} ({}) is missing at the end.", dots(asked)),
            false => format!("The {name} ({}) is missing before “{needed}”.", dots(asked)),
        }
    }

    /// The print of a word from this sign on, without the marks that stand for typeforms.
    fn word_from(&self, unit: usize) -> String {
        let rest = self.expected.units.get(unit..).unwrap_or_default();
        let word = rest.iter().take(60).take_while(|unit| !unit.is_space()).filter(|unit| !unit.is_mark());
        let print = |unit: &Unit| self.expected.print.get(unit.print.clone()).unwrap_or_default().to_vec();
        word.flat_map(print).collect()
    }

    /// A blank left out between two words.
    fn run_together(&self, units: &Range<usize>, written: &Range<usize>) -> Cause {
        let joined = |at: Option<usize>| {
            at.and_then(|at| self.expected.units.get(at)).is_some_and(|unit| {
                let print = self.expected.print.get(unit.print.clone()).unwrap_or_default();
                let word: String = print.iter().map(|c| spelling::plain(*c)).collect();
                ["a", "and", "for", "of", "the", "with"].contains(&word.as_str())
            })
        };
        let older = joined(units.start.checked_sub(1)) && joined(Some(units.end));
        let (section, say) = match older {
            true => (
                "1.3.1",
                "A blank cell is missing here: UEB writes a, and, for, of, the and with apart from each other.",
            ),
            false => ("3.23", "A blank cell is missing here: print has a space."),
        };
        let sign = self.expected.units.get(units.start).and_then(|unit| unit.sign);
        self.make(Kind::Spacing, units, written, sign, section, say.to_owned())
    }

    fn swapped(&self, units: &Range<usize>, written: &Range<usize>) -> Cause {
        let asked = &self.expected.cells[self.expected.cells_of(units)];
        let own = &self.expected.units[units.clone()];
        let (section, sign) = own.first().map_or(("", None), |unit| (unit.section, unit.sign));
        let words = self.expected.words(units);
        let (kind, say) = if own.iter().any(|unit| unit.is_space()) {
            (Kind::Spacing, format!("The blank cell is one place off: write {}.", dots(asked)))
        } else if let Some(mark) = own.iter().find(|unit| unit.is_mark()) {
            let name = mark.sign.map_or("indicator", |sign| register::get(sign).name);
            (Kind::WrongIndicator, format!("The {name} is one place off: write {}.", dots(asked)))
        } else {
            (Kind::WrongSign, format!("“{words}” has its signs in the wrong order: write {}.", dots(asked)))
        };
        self.make(kind, units, written, sign, section, say)
    }

    /// What cells read as, or the cells where they read as nothing.
    fn read(&self, cells: &[Cell]) -> String {
        let print = ueb::read_print(cells, &ReadOptions::default());
        let print = print.trim();
        if print.is_empty() { dots(cells) } else { format!("“{}”", short(print)) }
    }

    /// Words without the indicators before them and the punctuation behind them that are written too.
    fn without_marks(&self, units: Range<usize>, written: Range<usize>) -> (Range<usize>, Range<usize>) {
        let (mut from, mut to) = (units.start, units.end);
        let (mut start, mut end) = (written.start, written.end);
        let cells = |unit: usize| &self.expected.cells[self.expected.units[unit].cells.clone()];
        while from + 1 < to
            && self.expected.units[from].is_mark()
            && self.flat.cells[start..end].starts_with(cells(from))
            && end - start > cells(from).len()
        {
            start += cells(from).len();
            from += 1;
        }
        while from + 1 < to
            && self.expected.units[to - 1].class() == Some(Class::Punctuation)
            && self.flat.cells[start..end].ends_with(cells(to - 1))
            && end - start > cells(to - 1).len()
        {
            end -= cells(to - 1).len();
            to -= 1;
        }
        (from..to, start..end)
    }

    /// A word of the same letters in another order.
    fn jumbled(&self, units: &Range<usize>, written: &Range<usize>) -> Cause {
        let words = self.expected.words(units);
        let say = format!(
            "Print has “{}” here, and {} has the same letters in another order.",
            short(words.trim()),
            self.read(&self.flat.cells[written.clone()])
        );
        let section = self.expected.units.get(units.start).map_or("", |unit| unit.section);
        self.make(Kind::WrongSign, units, written, None, section, say)
    }

    /// Signs that have nothing to do with those asked for.
    fn replaced(&self, units: &Range<usize>, written: &Range<usize>, op: Op) -> Cause {
        let (asked, cells) =
            (&self.expected.cells[self.expected.cells_of(units)], &self.flat.cells[written.clone()]);
        let unit = self.expected.units.get(units.start);
        let words = self.expected.words(units);
        let space = |at: Option<usize>| {
            at.and_then(|at| self.expected.units.get(at)).is_none_or(|unit| unit.is_space() || unit.is_mark())
        };
        let ends = |at: usize| {
            let unit = self.expected.units.get(at);
            space(Some(at)) || unit.is_some_and(|unit| unit.class() == Some(Class::Punctuation))
        };
        let whole = units.len() > 1 && space(units.start.checked_sub(1)) && ends(units.end);
        let say = match op {
            _ if whole || op == Op::WordReplaced => {
                let what = match words.trim().contains(char::is_whitespace) {
                    true => "Other words are",
                    false => "Another word is",
                };
                format!("{what} asked for here: “{}”.", short(words.trim()))
            }
            _ => {
                format!("Other signs are asked for “{words}”: write {} and not {}.", dots(asked), dots(cells))
            }
        };
        let sign = unit.filter(|_| units.len() == 1).and_then(|unit| unit.sign);
        self.make(Kind::WrongSign, units, written, sign, unit.map_or("", |unit| unit.section), say)
    }
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}

/// A text of at most some forty characters.
fn short(text: &str) -> String {
    match text.char_indices().nth(40) {
        Some((at, _)) => format!("{} …", text[..at].trim_end()),
        None => text.to_owned(),
    }
}
