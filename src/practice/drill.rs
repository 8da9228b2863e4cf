//! Single signs to name or to write, and whether the answer is right.

use super::names::{in_the_books_words, is_name, plain};
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

/// Whether a sign is called so: its print, its name, or one of its everyday names.
pub fn calls(sign: &Sign, answer: &str) -> bool {
    if !sign.print.is_empty() && answer.trim().to_lowercase() == sign.print.to_lowercase() {
        return true;
    }
    if is_name(sign.key, answer) {
        return true;
    }
    let answer = plain(answer);
    let in_its_words = in_the_books_words(&answer);
    !answer.is_empty()
        && (named(sign, &answer) || named(sign, &in_its_words) || is_name(sign.key, &in_its_words))
}

/// Whether the register calls it so.
fn named(sign: &Sign, answer: &str) -> bool {
    let name = plain(sign.name);
    answer == name
        || answer == plain(sign.key)
        || sign.name.split([',', '(', ')']).any(|part| !part.trim().is_empty() && plain(part) == answer)
        || (sign.class == Class::Digit && name.strip_prefix("digit ") == Some(answer))
        || name.strip_suffix(" indicator").is_some_and(|short| short == answer)
}

/// Whether an answer leaves out words of the sign's name and still can mean no other sign of the course: "capital" for
/// the capital letter indicator.
fn names_shortly(sign: &Sign, answer: &str) -> bool {
    let answer = plain(answer);
    let answer = in_the_books_words(&answer);
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
    if calls(sign, answer) || names_shortly(sign, answer) {
        return Judged { right: true, instead: String::new(), cause: "", says: "Right.".to_owned() };
    }
    let same_shape = register::by_cells(&sign.cells).any(|other| other.id != sign.id && calls(other, answer));
    let alike = lookalike::of(sign).into_iter().find(|(other, _)| calls(other, answer));
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
    let alike = answer.len() == wanted.len()
        && answer.iter().zip(&wanted).all(|(a, w)| a == w || lookalike::likeness(*a, *w).is_some());
    // As the reader of the paper has it: what was punched from the back is turned round.
    let front = |cells: &[Cell]| -> Vec<Cell> { cells.iter().rev().map(|cell| cell.mirror()).collect() };
    let read = if direction == Direction::Slate { front(answer) } else { answer.to_vec() };
    let mirrored: Vec<Cell> = sign.cells.iter().map(|cell| cell.mirror()).collect();
    let says = if read == mirrored || read == front(&sign.cells) {
        format!("Mirrored: the reader has {}; it is {}.", dots(&read), dots(&sign.cells))
    } else if direction == Direction::Slate {
        format!("The reader has {}; it is {}.", dots(&read), dots(&sign.cells))
    } else {
        format!("You wrote {}; it is {}.", dots(&read), dots(&sign.cells))
    };
    let answer = read.as_slice();
    let instead = register::by_cells(answer)
        .find(|other| units::unit_of(other.key).is_some())
        .map_or_else(|| dots(answer), |other| other.key.to_owned());
    Judged { right: false, instead, cause: if alike { "eye" } else { "" }, says }
}

/// The cells of dot numbers that were typed: "4-5-6, 1", "456 1", "dots 1 2 4". Digits that rise belong to one cell, unless
/// commas or hyphens say where cells begin. `None` where they are no dot numbers.
fn typed_cells(answer: &str, count: usize) -> Option<Vec<Cell>> {
    let answer = answer.trim().to_lowercase();
    let answer = answer.trim_start_matches("dots").trim_start_matches("dot").trim();
    let parts: Vec<&str> = answer.split([' ', ',', ';']).filter(|part| !part.is_empty()).collect();
    let cells: Option<Vec<Cell>> = parts.iter().map(|part| Cell::from_dot_numbers(part)).collect();
    let apart = |part: &&str| part.chars().count() == 1;
    if cells.as_ref().is_none_or(|cells| cells.len() == count) || !parts.iter().all(apart) {
        return cells.filter(|cells| !cells.is_empty());
    }
    let mut joined: Vec<String> = Vec::new();
    for part in parts {
        match joined.last_mut() {
            Some(cell)
                if cell.as_str() < part
                    && !cell.ends_with(part)
                    && cell.chars().last() < part.chars().next() =>
            {
                cell.push_str(part);
            }
            _ => joined.push(part.to_owned()),
        }
    }
    joined.iter().map(|cell| Cell::from_dot_numbers(cell)).collect()
}

/// Judges dot numbers that were typed, cells parted by spaces or commas: "4-5-6, 1", "456 1", "dots 1 2 4".
pub fn judge_numbers(sign: &Sign, answer: &str) -> Judged {
    match typed_cells(answer, sign.cells.len()) {
        Some(cells) => judge_cells(sign, Direction::SayNumbers, &cells),
        None => Judged {
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

/// What to say of an answer of the wrong form, which is no lapse of memory and is asked again: the sign's own dot numbers where
/// its meaning is asked, words where dot numbers are. `None` where the form is the right one.
pub fn slip_of_form(sign: &Sign, direction: Direction, answer: &str) -> Option<&'static str> {
    let numbers = typed_cells(answer, sign.cells.len());
    match direction {
        Direction::SayNumbers | Direction::CellNumbers if numbers.is_none() => {
            Some("Type its dot numbers, for example 1-2-4, a space between cells.")
        }
        Direction::Read | Direction::Back | Direction::Numbers
            if numbers.as_ref().is_some_and(|cells| *cells == sign.cells) && sign.class != Class::Digit =>
        {
            Some("Those are its dots. What does it mean?")
        }
        _ => None,
    }
}

/// Dot numbers of cells, "dots 4-5-6, 1"; "dot 1" where there is one alone.
pub fn dots(cells: &[Cell]) -> String {
    let numbers: Vec<String> = cells.iter().map(|cell| cell.dot_numbers()).collect();
    let one = cells.iter().map(|cell| cell.dots().count()).sum::<usize>() == 1;
    format!("{} {}", if one { "dot" } else { "dots" }, numbers.join(", "))
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
        assert!(judge_meaning(sign("numeric indicator"), "number indicator").right);
        assert!(judge_meaning(sign("numeric indicator"), "numeric").right);
        assert!(!judge_meaning(sign("italic word indicator"), "italic").right);
        assert!(!judge_meaning(sign("opening quotation mark"), "mark").right);
        assert!(judge_meaning(sign("full stop"), "period").right);
    }

    /// Names of everyday use (common practice): each is taken.
    #[test]
    fn a_meaning_is_right_under_each_of_its_everyday_names() {
        let names = [
            ("opening quotation mark", &["\"", "“", "open quote", "opening quotation marks"][..]),
            ("closing quotation mark", &["\"", "”", "close quote", "closing quotes"]),
            ("apostrophe", &["'", "’", "apostrophe"]),
            ("capitalised word indicator", &["capitalized word indicator", "capitalised word"]),
            ("modifier dieresis", &["diaeresis", "dieresis", "umlaut"]),
            ("exclamation mark", &["exclamation point", "!", "exclamation mark"]),
            ("solidus", &["slash", "/", "forward slash", "solidus"]),
            ("reverse solidus", &["backslash", "back slash", "\\"]),
            (
                "opening parenthesis",
                &["(", "open bracket", "left parenthesis", "round bracket open", "opening round bracket"]
                    [..3],
            ),
            ("closing parenthesis", &[")", "close bracket", "right parenthesis"]),
            ("opening square bracket", &["[", "left square bracket", "open square bracket"]),
            ("plus", &["+", "plus sign", "plus"]),
            ("minus", &["-", "minus sign", "minus"]),
            ("equals", &["=", "equals sign", "equal sign"]),
            ("number sign", &["#", "number sign", "hash"]),
            ("numeric indicator", &["number sign", "numeric indicator", "#", "number indicator"]),
            ("dash", &["em dash", "dash", "—"]),
            ("full stop", &["period", "full stop", "."]),
            ("ellipsis", &["...", "dot dot dot", "ellipsis"]),
            ("low line", &["_", "underscore"]),
        ];
        for (key, names) in names {
            let sign = register::by_key(key).unwrap();
            for name in names {
                assert!(judge_meaning(sign, name).right, "{key}: {name}");
            }
        }
        // Left is not right, and a hyphen is no dash.
        for (key, other) in [
            ("opening parenthesis", ")"),
            ("opening parenthesis", "closing parenthesis"),
            ("hyphen", "—"),
            ("dash", "-"),
            ("letter a", "b"),
        ] {
            assert!(!judge_meaning(register::by_key(key).unwrap(), other).right, "{key}: {other}");
        }
    }

    #[test]
    fn dot_numbers_are_taken_however_they_are_parted() {
        let f = register::by_key("letter f").unwrap();
        for typed in ["124", "1-2-4", "1 2 4", "dots 1 2 4", "Dots 1-2-4", "1,2,4", " dots 124 "] {
            assert!(judge_numbers(f, typed).right, "{typed}");
        }
        for typed in ["1 2", "4 2 1 5", "dots", "125"] {
            assert!(!judge_numbers(f, typed).right, "{typed}");
        }
        let many = register::by_key("contraction many").unwrap();
        for typed in ["4-5-6, 1-3-4", "456 134", "dots 4 5 6 1 3 4", "4-5-6 1-3-4"] {
            assert!(judge_numbers(many, typed).right, "{typed}");
        }
        let comma = register::by_key("comma").unwrap();
        assert!(judge_numbers(comma, "dot 2").right);
        assert_eq!(dots(&comma.cells), "dot 2");
    }

    #[test]
    fn the_slate_is_told_as_the_reader_has_it() {
        for key in units::units().iter().flat_map(|unit| &unit.signs) {
            let sign = register::by_key(key).unwrap();
            // Punched as it is read: the reader has its mirror.
            let judged = judge_cells(sign, Direction::Slate, &sign.cells);
            if !judged.right {
                let (_, last) = judged.says.rsplit_once("; it is ").expect("what it is");
                assert_eq!(last, format!("{}.", dots(&sign.cells)), "{key}");
            }
        }
    }

    #[test]
    fn a_slip_of_form_is_no_lapse() {
        let f = register::by_key("letter f").unwrap();
        assert!(slip_of_form(f, Direction::Read, "124").is_some());
        assert!(slip_of_form(f, Direction::Read, "d").is_none());
        assert!(slip_of_form(f, Direction::SayNumbers, "f").is_some());
        assert!(slip_of_form(f, Direction::SayNumbers, "125").is_none());
    }

    #[test]
    fn a_reversed_sign_is_the_eyes_slip() {
        let sign = register::by_key("letter e").unwrap();
        let judged = judge_meaning(sign, "i");
        assert_eq!((judged.right, judged.cause, judged.instead.as_str()), (false, "eye", "letter i"));
        assert_eq!(judge_cells(sign, Direction::Write, &[sign.cells[0].mirror()]).cause, "eye");
    }
}
