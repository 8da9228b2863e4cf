//! What is said in a session, in plain words.

use crate::cell::{self, Cell};
use crate::practice::line::Line;
use crate::practice::record::Direction;
use crate::practice::session::Item;
use crate::practice::session::place::contracted_from;
use crate::practice::supply::{self, Choice, Supply};
use crate::practice::{clues, drill, lookalike, rules, units};
use crate::ueb::register::{Class, Sign};

/// What is asked of a sign.
pub fn asks(direction: Direction) -> &'static str {
    match direction {
        Direction::Read | Direction::Rule => "What does it say?",
        Direction::Back => "The back of a sheet: what does it say?",
        Direction::Numbers => "Which sign has these dots?",
        Direction::Write | Direction::NumbersCell => "Write it with the six keys.",
        Direction::SayNumbers | Direction::CellNumbers => "What are its dot numbers?",
        Direction::Slate => "Punch it from the back.",
    }
}

/// Whether an item is answered with the six keys.
pub fn by_keys(item: &Item) -> bool {
    match item {
        Item::Ask(asked) => matches!(asked.direction, Direction::Write | Direction::NumbersCell),
        Item::Write(_) => true,
        _ => false,
    }
}

/// The sign in a few words: "a", "st, a strong groupsign".
pub fn name(sign: &Sign) -> String {
    match sign.class {
        Class::Letter => sign.print.to_owned(),
        _ => drill::asked_as(sign),
    }
}

/// What is said of a right answer.
pub fn right(sign: &Sign) -> String {
    format!("Right: {}, {}.", name(sign), drill::dots(&sign.cells))
}

/// What is said of a wrong answer, in the words of what was asked: what was read is told by what it says, what was written by
/// its dots.
pub fn wrong(sign: &Sign, direction: Direction, judged: &drill::Judged) -> String {
    match direction {
        Direction::Read | Direction::Back | Direction::Numbers => read_wrong(sign, judged),
        _ => judged.says.clone(),
    }
}

fn read_wrong(sign: &Sign, judged: &drill::Judged) -> String {
    let other = crate::ueb::register::by_key(&judged.instead);
    let alike = other.and_then(|other| {
        lookalike::of(sign).into_iter().find(|(one, _)| one.key == other.key).map(|(_, how)| (other, how))
    });
    let read = other.map_or_else(|| judged.instead.clone(), name);
    let is = name(sign);
    match alike {
        Some((other, how)) => {
            format!(
                "You read “{read}”, it is “{is}”. {read} is {}: {}.",
                drill::dots(&other.cells),
                how.name()
            )
        }
        None if judged.cause == "rule" => {
            format!(
                "The shape can say “{read}” too, but not here: {}. It is “{is}”.",
                drill::taken_as(sign.class)
            )
        }
        None => format!("You read “{read}”, it is “{is}”."),
    }
}

/// What is said after a word whose rules were told wrong.
pub fn rule(item: &rules::Item, letters: bool, why: bool) -> Vec<String> {
    let mut says = Vec::new();
    if !letters {
        says.push(format!("It is {}.", rules::taken_apart(item)));
        says.extend(
            item.used
                .iter()
                .map(|(letters, _, section)| format!("{letters} is contracted (section {section}).")),
        );
    }
    if let Some(passed) = item.passed.first().filter(|_| !why || !letters) {
        let rules::Passed { letters, section, why, .. } = passed;
        says.push(format!("{letters} is not used in {}: {why} (section {section}).", item.word));
    }
    says
}

/// Where the cells of a new sign stand in the seven lines of braille order.
pub fn in_the_lines(sign: &Sign) -> Vec<String> {
    let one = |cell: &Cell| clues::line_of_order(*cell);
    let mut all: Vec<String> = sign.cells.iter().map(one).collect();
    all.dedup();
    all
}

/// A word with this sign in it, and no sign of a later unit: of the examples of its unit, or of the words, when they are here.
pub fn a_word(sign: &Sign, supply: Option<&Supply>) -> Option<Line> {
    let unit = units::unit_of(sign.key)?;
    let contracted = unit >= contracted_from();
    let has =
        |cells: &[Cell]| supply::signs_of(cells, contracted).is_some_and(|signs| signs.contains(&sign.key));
    let of_unit = units::units().get(unit)?;
    for (print, braille) in (0..of_unit.examples.len()).filter_map(|n| of_unit.example(n)) {
        for (print, braille) in print.split(' ').zip(braille.split(' ')) {
            let cells = cell::from_ascii(braille).unwrap_or_default();
            if cells.len() > sign.cells.len() && has(&cells) {
                return Some(Line { print: print.to_owned(), cells, contracted });
            }
        }
    }
    let supply = supply?;
    let allowed = |key: &str| units::unit_of(key).is_some_and(|of| of <= unit);
    let choice = Choice { contracted, allowed: &allowed, wanted: &[sign.key] };
    let (print, _) =
        supply.word_of(&choice, &mut fastrand::Rng::with_seed(1)).filter(|(_, worth)| *worth > 0)?;
    Some(Line { print: print.to_owned(), cells: supply.cells(print, contracted)?, contracted })
}
