//! What is known, made use of: words, lines to read, lines to write, and rules.

use super::item::Item;
use super::place::{Place, contracted_from};
use super::wishes::{Ground, Wishes};
use crate::cell::{self, Cell};
use crate::practice::due::Memories;
use crate::practice::line::Line;
use crate::practice::supply::{self, Choice, Supply};
use crate::practice::units;
use crate::ueb::register;

/// One use of what is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// A line is read.
    ReadLine,
    /// A line is written.
    WriteLine,
    /// A rule is applied.
    Rule,
}

impl Use {
    /// How long it usually takes, in milliseconds (our choice).
    pub fn usual_time(&self) -> u64 {
        match self {
            Use::ReadLine => 25_000,
            Use::WriteLine => 40_000,
            Use::Rule => 15_000,
        }
    }
}

/// What is applied at the end, the last first: rules, lines to read, lines to write. Words come among the signs.
pub(super) fn uses(wishes: &Wishes, place: &Place, memories: &Memories, now: u64) -> Vec<Use> {
    let (reads, writes) = match wishes.minutes {
        0..=10 => (1, 1),
        _ => (2, 2),
    };
    // Who has nothing new and little due reads more.
    let idle = place.new_signs(memories).next().is_none() && memories.kept.due(now).len() < 10;
    let reads = if idle { reads + 2 } else { reads };
    let rules = match memories.kept.due_rules(now).len() {
        _ if !wishes.rules.are_asked() => 0,
        // A rule that was never asked; of the last unit, which is of rules alone, three.
        0 => {
            let most = if place.open + 1 == units::units().len() { 3 } else { 1 };
            wishes.rules.0.map_or(0, |make| (make.new)(place, memories)).min(most)
        }
        due => due.min(reads + 1),
    };
    let mut uses = vec![Use::WriteLine; writes];
    uses.extend(vec![Use::ReadLine; reads]);
    uses.extend(vec![Use::Rule; rules]);
    uses
}

/// The item for a use; `None` when there is nothing to make it of.
pub(super) fn item(of: Use, ground: &mut Ground, supply: Option<&Supply>) -> Option<Item> {
    match of {
        Use::Rule => (ground.rules.0?.next)(ground, supply?),
        Use::ReadLine => line(ground, supply).map(Item::Read),
        Use::WriteLine => line(ground, supply).map(Item::Write),
    }
}

/// Finds something by the learner's signs, contracted if that can be, else uncontracted.
fn find<T>(
    ground: &mut Ground,
    wanted: &[&'static str],
    mut by: impl FnMut(&Choice, &mut fastrand::Rng) -> Option<T>,
) -> Option<(T, bool)> {
    let allowed = |key: &str| ground.met.contains(key);
    let mut found = None;
    for contracted in [true, false] {
        if !contracted || ground.place.contracted() {
            let choice = Choice { contracted, allowed: &allowed, wanted };
            found = by(&choice, ground.chance).map(|found| (found, contracted));
        }
        if found.is_some() {
            break;
        }
    }
    found
}

/// A word with the first of these signs, and with as many others as can be; a sentence when they are many, or when the first
/// is no sign of words.
pub(super) fn together(ground: &mut Ground, supply: &Supply, wanted: &[&'static str]) -> Option<Line> {
    let of_words = |key: &&str| {
        register::by_key(key).is_some_and(|sign| sign.print.starts_with(|c: char| c.is_ascii_alphabetic()))
    };
    let sentence = wanted.len() >= 3 || !wanted.first().is_some_and(of_words);
    let enough = if sentence { (wanted.len() / 4).clamp(1, 3) } else { 1 };
    let (print, contracted) = find(ground, wanted, |choice, chance| {
        if sentence {
            let found = supply.sentence_of(choice, chance);
            if let Some((print, _)) = found.filter(|(_, worth)| *worth >= enough) {
                return Some(print);
            }
        }
        supply.word_of(choice, chance).filter(|(_, worth)| *worth >= 1).map(|(print, _)| print.to_owned())
    })?;
    Some(Line { cells: supply.cells(&print, contracted)?, print, contracted })
}

fn line(ground: &mut Ground, supply: Option<&Supply>) -> Option<Line> {
    let from_supply = supply.and_then(|supply| {
        let wanted = std::mem::take(&mut ground.wanted);
        let (print, contracted) = find(ground, &wanted, |choice, chance| {
            let sentence = supply.sentence_of(choice, chance).map(|(print, _)| print);
            sentence.or_else(|| words(supply, choice, chance))
        })?;
        Some(Line { cells: supply.cells(&print, contracted)?, print, contracted })
    });
    from_supply.or_else(|| example(ground))
}

/// A few words in a row, while no sentence can be made yet.
fn words(supply: &Supply, choice: &Choice, chance: &mut fastrand::Rng) -> Option<String> {
    let mut words: Vec<&str> = Vec::new();
    for n in 0..12 {
        // Each for other signs than the one before.
        let wanted = &choice.wanted[(2 * n).min(choice.wanted.len())..];
        let (word, _) = supply.word_of(&Choice { wanted, ..*choice }, chance)?;
        if !words.contains(&word) {
            words.push(word);
        }
        if words.len() == 3 {
            break;
        }
    }
    (words.len() > 1).then(|| words.join(" "))
}

/// An example of the open unit or one before it, all of whose signs were met: it comes with the page.
fn example(ground: &mut Ground) -> Option<Line> {
    let fits = |cells: &[Cell], contracted: bool| {
        supply::signs_of(cells, contracted)
            .is_some_and(|signs| signs.iter().all(|key| ground.met.contains(key)))
    };
    let mut fitting: Vec<Line> = Vec::new();
    for (n, unit) in units::units().iter().enumerate().take(ground.place.open + 1) {
        let contracted = n >= contracted_from();
        // A change of type is seen and not told in plain print.
        if unit.id == "typeforms" {
            continue;
        }
        for (print, braille) in (0..unit.examples.len()).filter_map(|n| unit.example(n)) {
            let cells = cell::from_ascii(braille).unwrap_or_default();
            if fits(&cells, contracted) {
                fitting.push(Line { print: print.to_owned(), cells, contracted });
            }
        }
    }
    let last = fitting.len().min(6);
    (last > 0).then(|| {
        let at = fitting.len() - 1 - ground.chance.usize(..last);
        fitting.swap_remove(at)
    })
}
