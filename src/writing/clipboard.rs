//! Pasted text to cells, cells to text to copy.

use crate::cell::{self, Cell};

/// How copied cells are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Copied {
    /// Unicode braille patterns.
    #[default]
    Unicode,
    /// Braille ASCII.
    Ascii,
    /// Dot numbers, "1-2-4 1-5"; the blank cell is the word "blank".
    DotNumbers,
}

/// Lines of cells as text to copy, a line end between them.
pub fn text_of(lines: &[Vec<Cell>], form: Copied) -> String {
    let text = |cells: &Vec<Cell>| match form {
        Copied::Unicode => cell::to_unicode(cells),
        Copied::Ascii => cell::to_ascii(cells),
        Copied::DotNumbers => cells.iter().map(|cell| cell.dot_numbers()).collect::<Vec<_>>().join(" "),
    };
    lines.iter().map(text).collect::<Vec<_>>().join("\n")
}

/// Pasted text as lines of cells, and how many characters of it were left out.
///
/// Text with a Unicode braille pattern in it is taken as that; text in which every word is a cell's dot numbers with
/// hyphens, or "blank", as dot numbers; any other as braille ASCII. Control characters are neither cells nor counted.
pub fn lines_of(text: &str) -> (Vec<Vec<Cell>>, usize) {
    let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
    let rows = || text.split(['\n', '\r', '\u{c}', '\u{2028}', '\u{2029}']);
    if is_dot_numbers(&text) {
        let lines = rows().map(|row| row.split_whitespace().filter_map(Cell::from_dot_numbers).collect());
        return (lines.collect(), 0);
    }
    let unicode = text.chars().any(|c| Cell::from_unicode(c).is_some());
    let mut lost = 0;
    let lines = rows()
        .map(|row| {
            let take = |c: char| {
                let cell = match c {
                    ' ' | '\u{a0}' | '\t' => Some(Cell::BLANK),
                    _ if unicode => Cell::from_unicode(c),
                    _ => Cell::from_ascii(c),
                };
                lost += usize::from(cell.is_none() && !c.is_control());
                cell
            };
            row.chars().filter_map(take).collect()
        })
        .collect();
    (lines, lost)
}

/// Whether every word is a cell's dot numbers and at least one of them has a hyphen (so that "12" stays two cells of
/// braille ASCII).
fn is_dot_numbers(text: &str) -> bool {
    let cells = |word: &str| {
        Cell::from_dot_numbers(word).is_some()
            && (word.len() < 2 || !word.chars().all(|c| c.is_ascii_digit()))
    };
    text.split_whitespace().any(|word| word.contains('-')) && text.split_whitespace().all(cells)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn lines() -> impl Strategy<Value = Vec<Vec<Cell>>> {
        let cell = (0u8..64).prop_map(|bits| Cell::from_bits(bits).unwrap());
        prop::collection::vec(prop::collection::vec(cell, 0..12), 1..5)
    }

    proptest! {
        #[test]
        fn what_is_copied_pastes_as_it_was(lines in lines()) {
            let held = lines.iter().flatten().any(|cell| !cell.is_blank());
            prop_assume!(held);
            prop_assert_eq!(lines_of(&text_of(&lines, Copied::Unicode)), (lines.clone(), 0));
            // Dot numbers hold no glyph; a text of single dots alone has no hyphen and is read as braille ASCII.
            let numbers = text_of(&lines, Copied::DotNumbers);
            prop_assert!(numbers.is_ascii());
            if numbers.contains('-') {
                prop_assert_eq!(lines_of(&numbers), (lines.clone(), 0));
            }
        }

        #[test]
        fn ascii_pastes_as_it_was(lines in lines()) {
            let text = text_of(&lines, Copied::Ascii);
            prop_assume!(!is_dot_numbers(&text));
            prop_assert_eq!(lines_of(&text), (lines.clone(), 0));
            prop_assert_eq!(lines_of(&text.to_uppercase()), (lines, 0));
        }

        #[test]
        fn any_text_can_be_pasted(text in "\\PC{0,60}") {
            let (lines, lost) = lines_of(&text);
            prop_assert!(!lines.is_empty());
            prop_assert!(lines.iter().map(Vec::len).sum::<usize>() + lost <= text.chars().count());
        }
    }

    #[test]
    fn line_ends_of_every_kind_and_what_is_left_out() {
        let (lines, lost) = lines_of("\u{feff},! f]ry\r\nl1ves\rat\u{c}#aj");
        assert_eq!(
            lines.iter().map(|line| cell::to_ascii(line)).collect::<Vec<_>>(),
            [",! f]ry", "l1ves", "at", "#aj"]
        );
        assert_eq!(lost, 0);
        let (lines, lost) = lines_of("⠁ b ⠃é");
        assert_eq!(cell::to_ascii(&lines[0]), "a  b");
        assert_eq!(lost, 2);
    }
}
