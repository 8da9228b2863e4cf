//! What the steps of a story are called: a kind, the sign and the section, and one sentence a learner can act on.

use std::ops::Range;

use super::align::Hunk;
use super::expected::Unit;
use super::lines::Flat;
use super::search::{Move, Op};
use super::shape::{dots, off_by, shapes};
use super::{Expected, Finding, Kind, modes, quotes, regions, search, spelling};
use crate::cell::Cell;
use crate::ueb::register::{self, Class, Sign, SignId};

/// A finding with what it is about, in the cells of both sides.
#[derive(Clone, Debug)]
pub(super) struct Cause {
    /// The finding.
    pub finding: Finding,
    /// The signs asked for, by their index.
    pub units: Range<usize>,
    /// The written cells.
    pub written: Range<usize>,
}

/// The findings about some differences, in order.
pub(super) fn findings(expected: &Expected, flat: &Flat, hunks: &[Hunk]) -> Vec<Finding> {
    let judge = Judge { expected, flat };
    let mut causes = Vec::new();
    for region in regions::regions(expected, flat.cells.len(), hunks) {
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

impl Judge<'_> {
    fn cause(&self, moves: &[Move]) -> Option<Cause> {
        let (first, last) = (moves.first()?, moves.last()?);
        let units = first.units.start..last.units.end;
        let written = first.written.start..last.written.end;
        let unit = self.expected.units.get(units.start);
        let sign = unit.and_then(|unit| unit.sign);
        let section = unit.map_or("", |unit| unit.section);
        let asked = &self.expected.cells[self.expected.cells_of(&units)];
        let cells = &self.flat.cells[written.clone()];
        let words = self.expected.words(&units);
        let name = sign.map_or("sign", |sign| register::get(sign).name);
        let make = |kind, sign, section, say| Some(self.make(kind, &units, &written, sign, section, say));
        if let Some(&at) =
            self.expected.unhandled.iter().find(|&&at| self.expected.print_of(&units).contains(&at))
        {
            let c = self.expected.print[at];
            let say = format!("No sign is known for “{c}”: what stands here is your call.");
            return make(Kind::YourCall, None, "2.3", say);
        }
        match first.op {
            Op::Match | Op::Permitted | Op::Close => None,
            Op::YourCall(by) => {
                let say =
                    format!("Print alone doesn’t say which form is right here (section {by}): your call.");
                make(Kind::YourCall, sign, by, say)
            }
            Op::QuoteWrong => {
                let (right, wrong) = match words.contains(['“', '”', '"']) {
                    true => ("double", "single"),
                    false => ("single", "double"),
                };
                let say = format!(
                    "Print has a {right} quotation mark here, and {} stands for a {wrong} one: write {}.",
                    dots(cells),
                    dots(asked)
                );
                make(Kind::WrongSign, sign, section, say)
            }
            Op::Shape(at) => Some(self.shape(first, usize::from(at))),
            Op::PrefixLost => {
                let say = format!(
                    "The sign for “{words}” has two parts, and its prefix {} is missing: write {}.",
                    dots(&asked[..1]),
                    dots(asked)
                );
                make(Kind::LostPrefix, sign, section, say)
            }
            Op::PrefixWrong => {
                let say = format!(
                    "The sign for “{words}” begins with {} and not with {}.",
                    dots(&asked[..1]),
                    dots(&cells[..1])
                );
                let mut cause = make(Kind::LostPrefix, sign, section, say)?;
                cause.finding.also = shapes(asked[0], cells[0]);
                Some(cause)
            }
            Op::MarkMissing => {
                let say = self.missing(units.start, name, asked);
                make(Kind::MissingIndicator, sign, section, say)
            }
            Op::MarkExtra(extra) => {
                let extra = register::get(extra);
                let say =
                    format!("Nothing asks for the {} ({}) here: leave it out.", extra.name, dots(cells));
                make(Kind::ExtraIndicator, Some(extra.id), extra.section, say)
            }
            Op::MarkWrong(other) => {
                let say = format!(
                    "The {} stands where the {name} is asked for: write {}.",
                    register::get(other).name,
                    dots(asked)
                );
                let mut cause = make(Kind::WrongIndicator, sign, section, say)?;
                let mut off = asked.iter().zip(cells).filter(|(a, w)| a != w);
                if let (Some((&a, &w)), None, true) = (off.next(), off.next(), asked.len() == cells.len()) {
                    cause.finding.also = shapes(a, w);
                }
                Some(cause)
            }
            Op::MarkBroken => {
                let say = format!("The {name} is {}: part of it is missing.", dots(asked));
                make(Kind::WrongIndicator, sign, section, say)
            }
            Op::MarkRetired => {
                let say = format!(
                    "{} is an older code’s italic sign: UEB writes the {name}, {}.",
                    dots(cells),
                    dots(asked)
                );
                let mut cause = make(Kind::RetiredSign, sign, "1.3.4", say)?;
                cause.finding.also = vec![Kind::WrongIndicator];
                Some(cause)
            }
            Op::SpaceMissing => Some(self.run_together(&units, &written)),
            Op::SpaceExtra => {
                let broken = self.flat.has_line_end(written.clone());
                let (section, say) = match broken {
                    true => ("10.13", "A word may not run on over a line end without a hyphen."),
                    false => ("3.23", "There is a blank cell too many here."),
                };
                make(Kind::Spacing, None, section, say.to_owned())
            }
            Op::LeftOut => {
                let say = format!("“{words}” is left out here: {}.", dots(asked));
                make(Kind::LeftOut, sign, section, say)
            }
            Op::CellLeftOut(at) => {
                let at = usize::from(at);
                let say = format!(
                    "The sign for “{words}” is {}, and {} is left out.",
                    dots(asked),
                    dots(&asked[at..=at])
                );
                make(Kind::LeftOut, sign, section, say)
            }
            Op::Added => {
                let twice = cells.len() <= written.start
                    && self.flat.cells[written.start - cells.len()..written.start] == *cells;
                let say = match twice {
                    true => format!("{} is written twice: once is enough.", capital(&dots(cells))),
                    false => format!("Nothing asks for {} here.", dots(cells)),
                };
                make(Kind::Added, None, "2.3", say)
            }
            Op::Swapped => Some(self.swapped(&units, &written)),
            Op::Replaced | Op::WordReplaced => Some(self.replaced(&units, &written, first.op)),
            Op::WordMirrored => {
                let say = format!(
                    "Left and right changed places in all of “{}”: write {}.",
                    short(&words),
                    dots(asked)
                );
                make(Kind::Mirrored, sign, section, say)
            }
            Op::WordsLeftOut => {
                let what = if words.trim().contains(char::is_whitespace) {
                    "These words are"
                } else {
                    "This word is"
                };
                let say = format!("{what} left out: “{}”.", short(words.trim()));
                make(Kind::LeftOut, None, "2.3", say)
            }
            Op::WordsAdded => {
                let say = format!(
                    "Nothing in print asks for {} here: it is written twice, or too early.",
                    dots(cells)
                );
                make(Kind::Added, None, "2.3", say)
            }
            Op::Spelled(_) => Some(self.spelled(&units, &written, moves)),
        }
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
        let word = rest.iter().take_while(|unit| !unit.is_space()).filter(|unit| !unit.is_mark());
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

    /// Signs that have nothing to do with those asked for.
    fn replaced(&self, units: &Range<usize>, written: &Range<usize>, op: Op) -> Cause {
        let (asked, cells) =
            (&self.expected.cells[self.expected.cells_of(units)], &self.flat.cells[written.clone()]);
        let unit = self.expected.units.get(units.start);
        let words = self.expected.words(units);
        let say = match op {
            Op::WordReplaced => format!("Another word is asked for here: “{}”.", short(&words)),
            _ => {
                format!("Other signs are asked for “{words}”: write {} and not {}.", dots(asked), dots(cells))
            }
        };
        let sign = unit.filter(|_| units.len() == 1).and_then(|unit| unit.sign);
        self.make(Kind::WrongSign, units, written, sign, unit.map_or("", |unit| unit.section), say)
    }

    /// Other signs that give the same print.
    fn spelled(&self, units: &Range<usize>, written: &Range<usize>, moves: &[Move]) -> Cause {
        let entries: Vec<_> = moves
            .iter()
            .filter_map(|one| match one.op {
                Op::Spelled(number) => Some(spelling::entry(number)),
                _ => None,
            })
            .collect();
        let unit = &self.expected.units[units.start];
        let letters = self.expected.words(units);
        let letters = letters.trim();
        let asked_cells = &self.expected.cells[self.expected.cells_of(units)];
        let correct = dots(asked_cells);
        let make = |kind, sign, section, say| self.make(kind, units, written, sign, section, say);
        if let Some(old) = entries.iter().find(|entry| entry.sign.is_none()) {
            let print: String = old.print.iter().collect();
            let say = format!(
                "UEB dropped the sign {} for “{}” (section {}): write {correct}.",
                dots(&old.cells),
                print.trim(),
                old.section
            );
            // What stands there now, where it is a sign of its own.
            let own = &self.expected.units[units.clone()];
            let now = own.iter().find(|unit| unit.class().is_some_and(Class::is_contraction));
            let now = now.or(own.first().filter(|_| own.len() == 1));
            let mut cause = make(Kind::RetiredSign, now.and_then(|unit| unit.sign), old.section, say);
            if asked_cells.len() > 1 && asked_cells[0].is_prefix() && asked_cells[1..] == old.cells {
                cause.finding.also.push(Kind::LostPrefix);
            }
            return cause;
        }
        let contraction = |sign: &SignId| register::get(*sign).class.is_contraction();
        let asked: Vec<SignId> = self.expected.units[units.clone()]
            .iter()
            .filter_map(|unit| unit.sign)
            .filter(contraction)
            .collect();
        let used: Vec<SignId> = entries.iter().filter_map(|entry| entry.sign).filter(contraction).collect();
        let wanted = asked.iter().copied().find(|sign| !used.contains(sign)).or(asked.first().copied());
        let unwanted = used.iter().copied().find(|sign| !asked.contains(sign)).or(used.first().copied());
        if let Some((section, why)) = self.doubtful(units, &asked, &used) {
            let say = format!("{why} (section {section}): your call.");
            return make(Kind::YourCall, wanted.or(unwanted), section, say);
        }
        match (wanted, unwanted) {
            (Some(wanted), None) => {
                let sign = register::get(wanted);
                let say = format!(
                    "“{}” has a sign of its own here, {} ({}): don’t spell it out.",
                    sign.print,
                    article(sign),
                    dots(&sign.cells)
                );
                make(Kind::MissedContraction, Some(wanted), self.section_of(units, wanted), say)
            }
            (None, Some(unwanted)) => {
                let sign = register::get(unwanted);
                let print = self.expected.print_of(units);
                let passed = self.expected.passed_over.iter().find(|passed| {
                    passed.sign == unwanted
                        && passed.print.start < print.end
                        && print.start < passed.print.end
                });
                let why = passed.map_or(String::new(), |passed| format!(" ({})", passed.why));
                let say = format!(
                    "{} for “{}” may not be used here{why}: write {correct}.",
                    capital(&article(sign)),
                    sign.print
                );
                make(
                    Kind::BarredContraction,
                    Some(unwanted),
                    passed.map_or(sign.section, |passed| passed.section),
                    say,
                )
            }
            (Some(wanted), Some(unwanted)) => {
                let (right, wrong) = (register::get(wanted), register::get(unwanted));
                let say = format!(
                    "In “{letters}” the sign for “{}” is to be used and not the one for “{}”: write {correct}.",
                    right.print, wrong.print
                );
                make(Kind::WrongContraction, Some(wanted), self.section_of(units, wanted), say)
            }
            (None, None) => {
                let say = format!(
                    "“{letters}” is written {correct} here, and not {}.",
                    dots(&self.flat.cells[written.clone()])
                );
                make(Kind::WrongSign, unit.sign, unit.section, say)
            }
        }
    }

    fn section_of(&self, units: &Range<usize>, sign: SignId) -> &'static str {
        let own = self.expected.units[units.clone()].iter().find(|unit| unit.sign == Some(sign));
        own.map_or(register::get(sign).section, |unit| unit.section)
    }

    /// Words whose contractions print alone does not decide: acronyms (10.12.1) and abbreviations (10.6.4).
    fn doubtful(
        &self,
        units: &Range<usize>,
        asked: &[SignId],
        used: &[SignId],
    ) -> Option<(&'static str, &'static str)> {
        let space = |unit: &super::expected::Unit| unit.is_space();
        let all = &self.expected.units;
        let from = all[..units.start].iter().rposition(space).map_or(0, |at| at + 1);
        let to = all[units.end..].iter().position(space).map_or(all.len(), |at| units.end + at);
        let print = &self.expected.print[self.expected.print_of(&(from..to))];
        let letters: Vec<char> = print.iter().copied().filter(|c| c.is_alphabetic()).collect();
        let lower = |sign: &SignId| {
            matches!(register::get(*sign).key, "groupsign be" | "groupsign con" | "groupsign dis")
        };
        if letters.len() <= 6 && asked.iter().chain(used).all(lower) && !(asked.is_empty() && used.is_empty())
        {
            return Some(("10.6.4", "Whether this is an abbreviation, and of which word, print doesn’t say"));
        }
        // Lower wordsigns depend on what the quotation marks beside them are (10.5), and those on the text around.
        let wordsign = |sign: &SignId| register::get(*sign).class == Class::LowerWordsign;
        let quoted = print.iter().any(|c| matches!(c, '“' | '‘' | '"' | '\'' | '’' | '”'));
        if quoted && asked.iter().chain(used).any(wordsign) {
            return Some(("10.5", "Beside these quotation marks print alone doesn’t decide"));
        }
        // No vowel: letters said one by one, or a word of its own.
        let vowel = |c: &char| "aeiouyAEIOUY".contains(*c);
        let contraction =
            asked.iter().chain(used).map(|sign| register::get(*sign).print.len()).max().unwrap_or(0);
        let plain = print.iter().all(|c| c.is_alphabetic() || *c == '.');
        if plain && letters.len() <= 4 && letters.len() > contraction && !letters.iter().any(vowel) {
            return Some(("10.12.1", "Whether these letters are said one by one, print doesn’t say"));
        }
        // All in capitals among other letters, or alone, and spelled out.
        let capitals = |letters: &[char]| letters.iter().filter(|c| c.is_uppercase()).count();
        let few = (2..=5).contains(&letters.len()) && capitals(&letters) > 1;
        (few && (used.is_empty() || asked.is_empty()))
            .then_some(("10.12.1", "Whether this is an acronym said letter by letter, print doesn’t say"))
    }
}

/// "the strong groupsign".
fn article(sign: &Sign) -> String {
    format!("the {}", sign.class.name())
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
