//! What is read of a unit (`lessons.txt`): its rules in plain words, and examples that are walked through cell by cell, as a
//! teacher would at a table.

use std::sync::OnceLock;

use super::session::place::contracted_from;
use super::{clues, drill, units};
use crate::cell::Cell;
use crate::ueb::{self, Options, register};

/// Print, and what to see in its braille.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Example {
    /// The print.
    pub print: &'static str,
    /// What to see in it, in a sentence or two.
    pub note: &'static str,
}

/// The lesson of a unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lesson {
    /// The unit's id.
    pub unit: &'static str,
    /// Its rules: the section each comes from, and what it says.
    pub rules: Vec<(&'static str, &'static str)>,
    /// Examples with the unit's signs.
    pub shows: Vec<Example>,
    /// Print that looks as if it had one of them, and has none.
    pub not: Vec<Example>,
}

/// The lessons, in the order of the units.
pub fn lessons() -> &'static [Lesson] {
    static LESSONS: OnceLock<Vec<Lesson>> = OnceLock::new();
    LESSONS.get_or_init(|| {
        let mut lessons: Vec<Lesson> = Vec::new();
        for line in include_str!("lessons.txt").lines().filter(|line| !line.starts_with('#')) {
            let Some((head, text)) = line.split_once(": ") else { continue };
            if head == "lesson" {
                lessons.push(Lesson { unit: text, rules: Vec::new(), shows: Vec::new(), not: Vec::new() });
            }
            let (Some(lesson), Some((first, rest))) = (lessons.last_mut(), text.split_once(" | ")) else {
                continue;
            };
            match head {
                "rule" => lesson.rules.push((first, rest)),
                "show" => lesson.shows.push(Example { print: first, note: rest }),
                _ => lesson.not.push(Example { print: first, note: rest }),
            }
        }
        lessons
    })
}

/// How the examples of a unit, by its place from 0, are written: contracted from the first contractions on; only the unit of
/// typeforms takes CommonMark's marks for what they mark.
pub fn options(unit: usize) -> Options {
    let typeforms = units::units().get(unit).is_some_and(|unit| unit.id == "typeforms");
    Options { contracted: unit >= contracted_from(), marks: typeforms, ..Options::default() }
}

/// One cell of an example, looked at.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Look {
    /// Its place, from 0.
    pub cell: usize,
    /// What there is to see, each under its heading.
    pub says: [(&'static str, String); 5],
}

/// An example in braille, with what there is to see at each of its cells; blank cells are passed over.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Walk {
    /// The cells.
    pub cells: Vec<Cell>,
    /// Cell by cell.
    pub looks: Vec<Look>,
}

/// Walks through print, written so.
pub fn walk(print: &str, options: &Options) -> Walk {
    let explained = ueb::explain(print, options);
    let cells = &explained.cells;
    let characters: Vec<char> = print.chars().collect();
    let used_at = |at: usize| explained.signs.iter().find(|used| used.cells.contains(&at));
    let beside = |at: usize, other: Option<usize>, edge: &str| {
        let Some(other) = other.filter(|other| *other < cells.len()) else { return edge.to_owned() };
        if cells[other].is_blank() {
            return "A blank cell.".to_owned();
        }
        match (used_at(at), used_at(other)) {
            (Some(one), Some(two)) if one.cells == two.cells => {
                format!("{}, of the same sign.", sentence(&drill::dots(&cells[other..=other])))
            }
            (_, Some(two)) => format!("{}.", sentence(&drill::asked_as(register::get(two.sign)))),
            _ => format!("{}.", sentence(&drill::dots(&cells[other..=other]))),
        }
    };
    let so = |at: usize| {
        let Some(used) = used_at(at) else { return String::new() };
        let sign = register::get(used.sign);
        if at + 1 < used.cells.end {
            return "It waits for the cell after it: together they are one sign.".to_owned();
        }
        let letters: String = characters.get(used.print.clone()).unwrap_or_default().iter().collect();
        // A capital is its indicator's matter.
        let stands = match letters.to_lowercase() == drill::asked_as(sign).trim_start_matches("letter ") {
            _ if letters.is_empty() => String::new(),
            true => String::new(),
            false => format!(", here for {letters}"),
        };
        format!(
            "{}, {}{stands} (section {}).",
            sentence(&drill::dots(&cells[used.cells.clone()])),
            drill::asked_as(sign),
            used.section
        )
    };
    let looks = (0..cells.len())
        .filter(|at| !cells[*at].is_blank())
        .map(|at| Look {
            cell: at,
            says: [
                ("Rows", clues::where_dots_lie(cells[at])),
                ("Dots 3 and 6", bottom(cells[at])),
                ("Before it", beside(at, at.checked_sub(1), "Nothing: it begins the line.")),
                ("After it", beside(at, Some(at + 1), "Nothing: it ends the line.")),
                ("So it is", so(at)),
            ],
        })
        .collect();
    Walk { cells: cells.clone(), looks }
}

/// What the bottom row says, and the line of braille order that follows from it.
fn bottom(cell: Cell) -> String {
    let row = match (cell.has_dot(3), cell.has_dot(6)) {
        (false, false) => "Neither.",
        (true, false) => "Dot 3, not dot 6.",
        (false, true) => "Dot 6, not dot 3.",
        (true, true) => "Both.",
    };
    let line = clues::line_of_order(cell);
    let line = line.strip_prefix("No dot 3, no dot 6: ").map_or(line.clone(), sentence);
    format!("{row} {line}")
}

/// With a capital at its beginning.
fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map(|first| first.to_ascii_uppercase()).into_iter().chain(chars).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::practice::supply::level_of_line;
    use crate::practice::units::{unit_of, units};

    /// The keys of the signs with which print is written.
    fn keys(print: &str, unit: usize) -> Vec<&'static str> {
        let explained = ueb::explain(print, &options(unit));
        assert!(explained.unhandled.is_empty(), "{print}");
        explained.signs.iter().map(|used| register::get(used.sign).key).collect()
    }

    #[test]
    fn every_unit_has_its_lesson() {
        let ids: Vec<&str> = lessons().iter().map(|lesson| lesson.unit).collect();
        assert_eq!(ids, units().iter().map(|unit| unit.id).collect::<Vec<_>>());
        for lesson in lessons() {
            assert!(!lesson.rules.is_empty() && lesson.shows.len() >= 3, "{}", lesson.unit);
        }
    }

    /// What is shown has a sign of the unit and none of a later one; what is not so has none of the unit's.
    #[test]
    fn the_examples_show_what_they_say() {
        let mut wrong = Vec::new();
        for (n, lesson) in lessons().iter().enumerate() {
            let own = &units()[n].signs;
            for example in &lesson.shows {
                let keys = keys(example.print, n);
                let late: Vec<_> = keys
                    .iter()
                    .filter(|key| **key != "space" && unit_of(key).is_none_or(|of| of > n))
                    .collect();
                if !late.is_empty() || !(own.is_empty() || keys.iter().any(|key| own.contains(key))) {
                    wrong.push(format!("{}: show {}: {late:?} {keys:?}", lesson.unit, example.print));
                }
            }
            for example in &lesson.not {
                let keys = keys(example.print, n);
                // A letter or a digit is no look-alike of a sign that stands for more.
                if keys.iter().any(|key| own.contains(key)) {
                    wrong.push(format!("{}: not {}: {keys:?}", lesson.unit, example.print));
                }
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }

    // The Rules of UEB 2013, 10.5.1: be, were, his and was next to lower-dot punctuation, to a mark with an upper dot, and
    // after a capitals indicator.
    #[test]
    fn the_lesson_of_unit_10_says_what_10_5_1_says() {
        let lesson = &lessons()[9];
        assert_eq!(lesson.unit, "lower-words");
        let wordsign = |print: &str| {
            keys(print, 9)
                .iter()
                .any(|key| ["wordsign be", "wordsign were", "wordsign his", "wordsign was"].contains(key))
        };
        assert!(lesson.shows.iter().any(|example| example.print.starts_with('(') && wordsign(example.print)));
        assert!(lesson.not.iter().all(|example| !wordsign(example.print)));
        let rule = lesson.rules.iter().filter(|(section, _)| *section == "10.5.1").map(|(_, says)| *says);
        let rule: String = rule.collect();
        assert!(rule.contains("lower dots only") && rule.contains("do not bar them"), "{rule}");
        let about = units()[9].about;
        assert!(!about.contains("no punctuation") && about.contains("lower dots only"), "{about}");
    }

    #[test]
    fn a_walk_looks_at_every_cell_that_has_dots() {
        let walk = walk("a hand", &options(6));
        assert_eq!(walk.cells.len(), 4);
        assert_eq!(walk.looks.iter().map(|look| look.cell).collect::<Vec<_>>(), [0, 2, 3]);
        let says = |look: usize, heading: &str| {
            walk.looks[look].says.iter().find(|(is, _)| *is == heading).map(|(_, says)| says.clone()).unwrap()
        };
        assert_eq!(says(0, "Before it"), "Nothing: it begins the line.");
        assert_eq!(says(0, "After it"), "A blank cell.");
        assert_eq!(says(1, "So it is"), "Dots 1-2-5, letter h (section 4.1).");
        assert_eq!(says(2, "Before it"), "Letter h.");
        assert!(says(2, "So it is").contains("and (strong contraction)"), "{}", says(2, "So it is"));
        assert!(says(2, "Dots 3 and 6").starts_with("Both. "));
    }

    #[test]
    fn a_sign_of_two_cells_waits() {
        let walk = walk("one day", &options(13));
        assert!(walk.looks[0].says[4].1.starts_with("It waits"));
        assert!(walk.looks[1].says[2].1.contains("of the same sign"));
        assert!(level_of_line("one day", true) == 13);
        for (n, lesson) in lessons().iter().enumerate() {
            for example in lesson.shows.iter().chain(&lesson.not) {
                let walk = super::walk(example.print, &options(n));
                for look in &walk.looks {
                    assert!(
                        look.says.iter().all(|(_, says)| says.ends_with('.')),
                        "{}: {look:?}",
                        example.print
                    );
                }
            }
        }
    }
}
