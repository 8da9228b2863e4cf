//! Single signs to name or to write, and whether the answer is right.

use super::record::Direction;
use super::{lookalike, units};
use crate::cell::Cell;
use crate::ueb::register::{self, Class, Sign};

/// One thing to answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Item {
    /// The sign's key.
    pub sign: &'static str,
    /// From what to what.
    pub direction: Direction,
}

impl Item {
    /// The sign; `None` when the register no longer has it.
    pub fn sign(&self) -> Option<&'static Sign> {
        register::by_key(self.sign)
    }
}

/// Whether an answer is right, and if not, what it was instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Judged {
    /// Right or wrong.
    pub right: bool,
    /// The key of the sign it would be, or the answer itself.
    pub instead: String,
    /// "eye" for a shape that looks alike; otherwise empty.
    pub cause: &'static str,
    /// What to say.
    pub says: String,
}

/// How the sign is to be taken, since a shape can mean several things: "as a whole word".
pub fn taken_as(class: Class) -> &'static str {
    match class {
        Class::Letter => "as a letter",
        Class::Digit => "as a digit, in a number",
        Class::AlphabeticWordsign | Class::StrongWordsign | Class::LowerWordsign => "as a whole word",
        Class::StrongGroupsign | Class::LowerGroupsign | Class::FinalLetterGroupsign => {
            "as a group of letters in a word"
        }
        Class::StrongContraction | Class::InitialLetterContraction => "as a word or part of one",
        Class::Shortform => "as a word cut short",
        Class::Punctuation => "as a punctuation mark",
        Class::Indicator => "as an indicator",
        Class::Terminator => "as a terminator",
        Class::Modifier => "as an accent",
        _ => "as a symbol",
    }
}

/// What the sign is called when its cells are asked for: "the groupsign st".
pub fn asked_as(sign: &Sign) -> String {
    match sign.class {
        Class::Letter => format!("letter {}", sign.print),
        Class::Digit => sign.name.to_owned(),
        class if class.is_contraction() => format!("{} ({})", sign.print, class.name()),
        _ => sign.name.to_owned(),
    }
}

fn plain(text: &str) -> String {
    let text = text.trim().to_lowercase();
    let text = text.split(" (").next().unwrap_or_default();
    text.trim_start_matches("the ").replace(['-', '’'], " ").split_whitespace().collect::<Vec<_>>().join(" ")
}

fn names(sign: &Sign, answer: &str) -> bool {
    if !sign.print.is_empty() && answer.trim().to_lowercase() == sign.print.to_lowercase() {
        return true;
    }
    let answer = plain(answer);
    if answer.is_empty() {
        return false;
    }
    let name = plain(sign.name);
    answer == name
        || answer == plain(sign.key)
        || sign.name.split([',', '(', ')']).any(|part| !part.trim().is_empty() && plain(part) == answer)
        || (sign.class == Class::Digit && name.strip_prefix("digit ") == Some(answer.as_str()))
        || name.strip_suffix(" indicator").is_some_and(|short| short == answer)
}

/// Whether an answer leaves out words of the sign's name and still can mean no other sign of the course: "capital" for
/// the capital letter indicator.
fn names_shortly(sign: &Sign, answer: &str) -> bool {
    let answer = plain(answer);
    let words: Vec<&str> = answer.split(' ').filter(|word| word.chars().count() > 2).collect();
    let fits = |one: &Sign| {
        let name = plain(one.name);
        words.iter().all(|word| name.split(' ').any(|part| part == *word))
    };
    let other = |one: &&Sign| one.cells != sign.cells && units::unit_of(one.key).is_some() && fits(one);
    !words.is_empty() && fits(sign) && !register::signs().iter().any(|one| other(&one))
}

/// Judges a meaning that was typed.
pub fn judge_meaning(sign: &Sign, answer: &str) -> Judged {
    if names(sign, answer) || names_shortly(sign, answer) {
        return Judged { right: true, instead: String::new(), cause: "", says: "Right.".to_owned() };
    }
    let same_shape = register::by_cells(&sign.cells).any(|other| other.id != sign.id && names(other, answer));
    let alike = lookalike::of(sign).into_iter().find(|(other, _)| names(other, answer));
    let says = match (&alike, same_shape) {
        (Some((other, how)), _) => {
            format!("That is {}: {}. This is {}.", how.name(), dots(&other.cells), asked_as(sign))
        }
        (None, true) => format!(
            "The shape can say that too, but not here: {}. It is {}.",
            taken_as(sign.class),
            asked_as(sign)
        ),
        (None, false) => format!("It is {}.", asked_as(sign)),
    };
    let cause = if alike.is_some() {
        "eye"
    } else if same_shape {
        "rule"
    } else {
        ""
    };
    let instead = alike.map_or_else(|| answer.trim().to_owned(), |(other, _)| other.key.to_owned());
    Judged { right: false, instead, cause, says }
}

/// Judges cells that were written; on a slate the mirrored cells in mirrored order are right.
pub fn judge_cells(sign: &Sign, direction: Direction, answer: &[Cell]) -> Judged {
    let wanted: Vec<Cell> = if direction == Direction::Slate {
        sign.cells.iter().rev().map(|cell| cell.mirror()).collect()
    } else {
        sign.cells.clone()
    };
    if answer == wanted {
        return Judged { right: true, instead: String::new(), cause: "", says: "Right.".to_owned() };
    }
    let mirrored: Vec<Cell> = wanted.iter().map(|cell| cell.mirror()).collect();
    let reversed: Vec<Cell> = mirrored.iter().rev().copied().collect();
    let alike = answer.len() == wanted.len()
        && answer.iter().zip(&wanted).all(|(a, w)| a == w || lookalike::likeness(*a, *w).is_some());
    let says = if answer == mirrored || answer == reversed {
        format!("Mirrored: it is {}.", dots(&wanted))
    } else {
        format!("You wrote {}; it is {}.", dots(answer), dots(&wanted))
    };
    let instead = register::by_cells(answer)
        .find(|other| units::unit_of(other.key).is_some())
        .map_or_else(|| dots(answer), |other| other.key.to_owned());
    Judged { right: false, instead, cause: if alike { "eye" } else { "" }, says }
}

/// Judges dot numbers that were typed, cells parted by spaces or commas: "4-5-6, 1" or "456 1".
pub fn judge_numbers(sign: &Sign, answer: &str) -> Judged {
    let cells: Option<Vec<Cell>> =
        answer.split([' ', ',']).filter(|part| !part.is_empty()).map(Cell::from_dot_numbers).collect();
    match cells {
        Some(cells) if !cells.is_empty() => judge_cells(sign, Direction::SayNumbers, &cells),
        _ => Judged {
            right: false,
            instead: answer.trim().to_owned(),
            cause: "",
            says: format!(
                "Dot numbers rise from 1 to 6, a space between cells. It is {}.",
                dots(&sign.cells)
            ),
        },
    }
}

/// Dot numbers of cells, "dots 4-5-6, 1".
pub fn dots(cells: &[Cell]) -> String {
    let numbers: Vec<String> = cells.iter().map(|cell| cell.dot_numbers()).collect();
    format!("dots {}", numbers.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::units;

    #[test]
    fn every_sign_has_an_item_in_each_direction_and_its_own_answer_is_right() {
        for key in units::units().iter().flat_map(|unit| &unit.signs) {
            let sign = register::by_key(key).unwrap();
            assert!(judge_meaning(sign, sign.name).right, "{key}");
            assert!(sign.print.is_empty() || judge_meaning(sign, sign.print).right, "{key}");
            assert!(!judge_meaning(sign, "qqqq").right);
            assert!(judge_cells(sign, Direction::Write, &sign.cells).right);
            let slate: Vec<Cell> = sign.cells.iter().rev().map(|cell| cell.mirror()).collect();
            assert!(judge_cells(sign, Direction::Slate, &slate).right);
            let numbers: Vec<String> = sign.cells.iter().map(|cell| cell.dot_numbers()).collect();
            assert!(judge_numbers(sign, &numbers.join(" ")).right);
            for direction in Direction::SIGNS {
                assert!(Item { sign: sign.key, direction }.sign().is_some());
                assert!(!asked_as(sign).is_empty() && !taken_as(sign.class).is_empty());
            }
            assert!(judge_cells(sign, Direction::NumbersCell, &sign.cells).right);
            assert!(!judge_numbers(sign, "").right);
        }
    }

    #[test]
    fn a_short_name_is_right_while_it_can_mean_nothing_else() {
        let sign = |key| register::by_key(key).unwrap();
        assert!(judge_meaning(sign("capital letter indicator"), "capital").right);
        assert!(judge_meaning(sign("numeric indicator"), "number indicator").right.eq(&false));
        assert!(judge_meaning(sign("numeric indicator"), "numeric").right);
        assert!(!judge_meaning(sign("italic word indicator"), "italic").right);
        assert!(!judge_meaning(sign("opening quotation mark"), "mark").right);
        assert!(judge_meaning(sign("full stop"), "period").right);
    }

    #[test]
    fn a_reversed_sign_is_the_eyes_slip() {
        let sign = register::by_key("letter e").unwrap();
        let judged = judge_meaning(sign, "i");
        assert_eq!((judged.right, judged.cause, judged.instead.as_str()), (false, "eye", "letter i"));
        assert_eq!(judge_cells(sign, Direction::Write, &[sign.cells[0].mirror()]).cause, "eye");
    }
}
