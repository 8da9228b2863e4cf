//! The room Course as state and actions, and what it tells of each unit.

use super::due::Memories;
use super::session::place::Place;
use super::shelf::Listed;
use super::supply::{Choice, Supply};
use super::{lesson, units};

/// What the room shows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct State {
    /// The unit whose lesson is open, by its place from 0; with none, all units are shown.
    pub unit: Option<usize>,
    /// The example that is walked through, and how many of its cells were looked at before.
    pub walk: Option<(usize, usize)>,
    /// Whether the unit is being checked.
    pub checks: bool,
    /// Whether the place of the learner is being found.
    pub finds: bool,
}

/// What can be done there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// A unit's lesson is opened; with none, all units are shown again.
    Open(Option<usize>),
    /// The place of the learner is to be found.
    Find,
    /// An example is walked through from its first cell, or left when it is walked through already.
    Walk(usize),
    /// On to the cell after, or (below 0) back to the one before.
    Step(isize),
    /// A check of the unit begins, or (false) is put away.
    Check(bool),
}

impl State {
    /// The state after an action.
    pub fn after(self, action: Action) -> State {
        match action {
            Action::Open(unit) => {
                State { unit: unit.filter(|unit| *unit < units::units().len()), ..State::default() }
            }
            Action::Find => State { finds: true, ..State::default() },
            Action::Walk(example) => State {
                walk: if self.walk.is_some_and(|(at, _)| at == example) { None } else { Some((example, 0)) },
                ..self
            },
            Action::Step(by) => State {
                walk: self
                    .walk
                    .map(|(example, at)| (example, at.saturating_add_signed(by).min(self.last(example)))),
                ..self
            },
            Action::Check(on) => State { checks: on, ..self },
        }
    }

    /// The place of the last cell of an example that is looked at.
    fn last(&self, example: usize) -> usize {
        let walk = self.unit.and_then(|unit| {
            let lesson = lesson::lessons().get(unit)?;
            let example = lesson.shows.iter().chain(&lesson.not).nth(example)?;
            Some(lesson::walk(example.print, &lesson::options(unit)))
        });
        walk.map_or(0, |walk| walk.looks.len().saturating_sub(1))
    }
}

/// The stretches of the course: a name, and the id of the unit that each begins with.
const STRETCHES: [(&str, &str); 7] = [
    ("The alphabet and the first marks", "a-to-j"),
    ("The first contractions", "wordsigns-1"),
    ("Capitals, the rest of the wordsigns, numbers", "capitals"),
    ("Endings, and more signs with dot 5", "final-46"),
    ("Symbols and brackets", "symbols"),
    ("The last contractions, and the shortforms", "initial-45-456"),
    ("Indicators, accents, and which contraction", "grade-1"),
];

/// The stretches of the course, each with its units by their places from 0.
pub fn stretches() -> impl Iterator<Item = (&'static str, std::ops::Range<usize>)> {
    let place = |id: &str| units::units().iter().position(|unit| unit.id == id).unwrap_or_default();
    STRETCHES.iter().enumerate().map(move |(n, (name, first))| {
        let end = STRETCHES.get(n + 1).map_or(units::units().len(), |(_, next)| place(next));
        (*name, place(first)..end)
    })
}

/// How a unit stands with a learner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Standing {
    /// The unit, by its place from 0.
    pub unit: usize,
    /// Its signs.
    pub signs: usize,
    /// Those that were met.
    pub met: usize,
    /// Those that are kept.
    pub kept: usize,
    /// Whether it is the one that the learner is at.
    pub here: bool,
    /// Whether it lies before the learner's beginning.
    pub before: bool,
}

/// How a unit, by its place from 0, stands with a learner.
pub fn standing(place: &Place, memories: &Memories, unit: usize) -> Standing {
    let signs = units::units().get(unit).map(|unit| unit.signs.as_slice()).unwrap_or_default();
    let asked = |key: &&&str| memories.kept.sign(key).is_some() || place.marked(key);
    Standing {
        unit,
        signs: signs.len(),
        met: signs.iter().filter(asked).count(),
        kept: place.kept_of(memories, unit),
        here: place.open == unit && !place.whole,
        before: unit < place.start,
    }
}

impl Standing {
    /// In a few words: "3 of 8 kept".
    pub fn words(&self) -> String {
        match self {
            Standing { signs: 0, .. } => "rules only".to_owned(),
            Standing { signs, kept, .. } if kept == signs => "all kept".to_owned(),
            Standing { kept: 0, met: 0, before: true, .. } => "taken as known".to_owned(),
            Standing { kept: 0, met: 0, signs: 1, .. } => "1 sign".to_owned(),
            Standing { kept: 0, met: 0, signs, .. } => format!("{signs} signs"),
            Standing { kept: 0, met, signs, .. } => format!("{met} of {signs} met"),
            Standing { kept, signs, .. } => format!("{kept} of {signs} kept"),
        }
    }

    /// How much of it is kept, in hundredths.
    pub fn share(&self) -> usize {
        (self.kept * 100).checked_div(self.signs).unwrap_or(0)
    }
}

/// Lines of a unit to write, always the same ones: each with a sign of the unit and none of a later one.
pub fn lines_to_write(supply: &Supply, unit: usize, count: usize) -> Vec<String> {
    let signs = units::units().get(unit).map(|unit| unit.signs.as_slice()).unwrap_or_default();
    let allowed = |key: &str| units::unit_of(key).is_some_and(|of| of <= unit);
    let contracted = lesson::options(unit).contracted;
    let choice = Choice { contracted, allowed: &allowed, wanted: signs };
    let mut chance = fastrand::Rng::with_seed(unit as u64 + 1);
    let mut lines: Vec<String> = Vec::new();
    for _ in 0..count * 4 {
        let found =
            supply.sentence_of(&choice, &mut chance).filter(|(_, worth)| *worth > 0 || signs.is_empty());
        let found = found.map(|(line, _)| line).or_else(|| {
            let word = supply.word_of(&choice, &mut chance)?;
            Some(word.0.to_owned()).filter(|_| word.1 > 0)
        });
        if let Some(line) = found.filter(|line| !lines.contains(line)) {
            lines.push(line);
        }
        if lines.len() == count {
            break;
        }
    }
    lines
}

/// The titles of what can be read in full right after a unit and not before it: books of the shelf and texts of the course,
/// each with what it is.
pub fn to_read(unit: usize, shelf: &[Listed], supply: Option<&Supply>) -> Vec<(String, String)> {
    let books = shelf.iter().filter(|book| book.head.after == unit);
    let books = books
        .map(|book| (book.head.title.clone(), format!("{}, {} words", book.head.kind.name(), book.words)));
    let texts = supply.iter().flat_map(|supply| &supply.passages).filter(|text| text.unit == unit);
    let words = |text: &str| text.split_whitespace().count();
    books
        .chain(texts.map(|text| (text.title.clone(), format!("text, {} words", words(&text.text)))))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::record::{Event, Id, Record};
    use crate::practice::supply::tests::shipped;

    #[test]
    fn the_stretches_hold_every_unit_once() {
        let all: Vec<usize> = stretches().flat_map(|(_, units)| units).collect();
        assert_eq!(all, (0..units::units().len()).collect::<Vec<_>>());
        assert!(stretches().all(|(_, units)| (2..=7).contains(&units.len())));
    }

    #[test]
    fn a_walk_stays_within_its_example() {
        let open = State::default().after(Action::Open(Some(6)));
        assert_eq!((open.unit, open.walk), (Some(6), None));
        let walks = open.after(Action::Walk(1));
        assert_eq!(walks.walk, Some((1, 0)));
        assert_eq!(walks.after(Action::Step(-1)).walk, Some((1, 0)));
        let example = &lesson::lessons()[6].shows[1];
        let cells = lesson::walk(example.print, &lesson::options(6)).looks.len();
        let end = (0..50).fold(walks, |state, _| state.after(Action::Step(1)));
        assert_eq!(end.walk, Some((1, cells - 1)));
        // The same example again: it is put away. Another unit: nothing of this one stays.
        assert_eq!(end.after(Action::Walk(1)).walk, None);
        assert_eq!(end.after(Action::Open(Some(7))).walk, None);
        assert_eq!(end.after(Action::Open(Some(99))).unit, None);
        assert!(
            end.after(Action::Check(true)).checks
                && !end.after(Action::Check(true)).after(Action::Open(None)).checks
        );
        assert_eq!(end.after(Action::Find), State { finds: true, ..State::default() });
        assert_eq!(State::default().after(Action::Step(1)).walk, None);
    }

    #[test]
    fn a_unit_tells_how_it_stands() {
        let mut record = Record::default();
        for (n, key) in units::units()[0].signs.iter().take(3).enumerate() {
            let mark = Event::Mark { sign: (*key).to_owned(), on: true };
            record.add(Id { tab: "t".to_owned(), n: n as u64 }, 1, mark);
        }
        let memories = Memories::of(&record);
        let place = Place::of(&memories, &record, None);
        assert_eq!(standing(&place, &memories, 0).words(), "3 of 10 kept");
        assert_eq!(standing(&place, &memories, 0).share(), 30);
        assert!(standing(&place, &memories, 0).here);
        assert_eq!(standing(&place, &memories, 3).words(), "5 signs");
        assert_eq!(standing(&place, &memories, 29).words(), "rules only");
        let place = Place::of(&memories, &record, Some(5));
        assert_eq!(standing(&place, &memories, 3).words(), "taken as known");
    }

    #[test]
    fn every_unit_has_lines_to_write_and_something_to_read() {
        let supply = shipped();
        for (n, unit) in units::units().iter().enumerate() {
            let lines = lines_to_write(&supply, n, 3);
            assert_eq!(lines, lines_to_write(&supply, n, 3), "the same each time");
            if !["typeforms"].contains(&unit.id) {
                assert!(lines.len() >= 2, "{}: {lines:?}", unit.id);
            }
            for line in &lines {
                let level = crate::practice::supply::level_of_line(line, lesson::options(n).contracted);
                assert!(level <= n, "{}: {line}", unit.id);
            }
        }
        let with = (0..units::units().len()).filter(|n| !to_read(*n, &[], Some(&supply)).is_empty()).count();
        assert!(with > 10, "{with} units have a text");
    }
}
