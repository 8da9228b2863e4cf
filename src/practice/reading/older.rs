//! Signs that UEB dropped (section 1.3) in a text: whether it seems to have them, and what is written today.

use std::ops::Range;

use super::Reading;
use crate::cell::Cell;
use crate::ueb::{self, Options, ReadOptions, Remark};

/// Pages from whose beginning on a text is looked through for older signs.
const PAGES: usize = 6;
/// So many older signs, of so many sorts, make an older book: fewer may be a slip, or a cell in an unusual place.
const ENOUGH: (usize, usize) = (3, 2);

/// Whether a text seems to have signs that UEB dropped. An uncontracted one is not asked about.
pub fn seems_older(reading: &Reading) -> bool {
    if !reading.contracted {
        return false;
    }
    let options = ReadOptions { older: true, ..reading.options() };
    let mut sorts: Vec<(Vec<Cell>, usize)> = Vec::new();
    for page in 0..reading.count().min(PAGES) {
        let cells = reading.running(page);
        // The contractions alone tell: an indicator or a mark may be one of today's in an unusual place.
        // So may a figure after a letter (k2).
        let tells = |piece: &&ueb::Piece| {
            piece.remark == Remark::Older
                && piece.section == "1.3.2"
                && !is_number(&cells[piece.cells.start..])
        };
        for piece in ueb::read(&cells, &options).pieces.iter().filter(tells) {
            let sign = &cells[piece.cells.clone()];
            match sorts.iter_mut().find(|(known, _)| known == sign) {
                Some((_, count)) => *count += 1,
                None => sorts.push((sign.to_vec(), 1)),
            }
        }
    }
    sorts.len() >= ENOUGH.1 && sorts.iter().map(|(_, count)| count).sum::<usize>() >= ENOUGH.0
}

/// Whether these cells begin with the numeric indicator and a digit (6.1).
fn is_number(cells: &[Cell]) -> bool {
    matches!(cells, [indicator, digit, ..]
        if indicator.to_ascii() == '#' && matches!(digit.to_ascii().to_ascii_lowercase(), 'a'..='j'))
}

/// An older sign in a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OlderSign {
    /// Its cells in the line, half-open.
    pub cells: Range<usize>,
    /// What it says; empty for an indicator.
    pub says: String,
    /// The section that names it, or "from memory".
    pub section: &'static str,
    /// What the braille word that it stands in says.
    pub word: String,
    /// How that is written today.
    pub today: Vec<Cell>,
}

/// The older signs of a line, in order.
pub fn older_signs_in(line: &[Cell], contracted: bool) -> Vec<OlderSign> {
    let reading =
        ueb::read(line, &ReadOptions { contracted, older: true, marks: true, ..ReadOptions::default() });
    let print: Vec<char> = reading.print.chars().collect();
    let text = |range: Range<usize>| print.get(range).unwrap_or_default().iter().collect::<String>();
    let older = reading.pieces.iter().filter(|piece| piece.remark == Remark::Older);
    older
        .map(|piece| {
            // The braille word around it.
            let from =
                line[..piece.cells.start].iter().rposition(|cell| cell.is_blank()).map_or(0, |n| n + 1);
            let to = line[from..].iter().position(|cell| cell.is_blank()).map_or(line.len(), |n| from + n);
            let of_word = |piece: &&ueb::Piece| piece.cells.start >= from && piece.cells.start < to;
            let pieces = reading.pieces.iter().filter(of_word);
            let word: String = pieces.map(|piece| text(piece.print.clone())).collect();
            let word = word.trim().to_owned();
            let today = ueb::transcribe(&word, &Options { contracted, marks: true, ..Options::default() });
            OlderSign {
                cells: piece.cells.clone(),
                says: text(piece.print.clone()).trim().to_owned(),
                section: piece.section,
                word,
                today,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell;

    /// Signs of sections 1.3.2 and 1.3.3 in words: the braille, what the sign says, what the braille word says.
    const TEN: [(&str, &str, &str); 10] = [
        ("6see", "to", "to see"),
        ("96! sea", "into", "into the"),
        ("0bus", "by", "by bus"),
        ("ta#", "ble", "table"),
        ("-ing", "com", "coming"),
        ("n,n", "ation", "nation"),
        ("re,y", "ally", "really"),
        ("la4]", "dd", "ladder"),
        ("7yes7", "(", "(yes)"),
        ("yes'''", "...", "yes..."),
    ];

    /// What each says; and today's cells are the engine's own for that print.
    #[test]
    fn each_older_sign_is_told_with_what_it_says_and_what_is_written_today() {
        for (braille, says, word) in TEN {
            let found = older_signs_in(&cell::from_ascii(braille).unwrap(), true);
            assert_eq!(found.first().map(|sign| sign.says.as_str()), Some(says), "{braille}");
            assert_eq!(found[0].word, word, "{braille}");
            assert_eq!(found[0].today, ueb::transcribe(word, &Options::default()), "{braille}");
            let again = ueb::read(&found[0].today, &ReadOptions { older: true, ..ReadOptions::default() });
            assert!(again.pieces.iter().all(|piece| piece.remark != Remark::Older), "{braille}");
            assert!(found[0].section.starts_with("1.3"), "{braille}");
        }
    }

    #[test]
    fn a_book_with_older_signs_is_known_and_no_other() {
        let page = TEN.map(|(braille, ..)| braille).join("\n");
        let reading = Reading::of_file("x", &page, true, true);
        assert!(seems_older(&reading));
        assert!(!seems_older(&Reading::of_file("x", &page, true, false)), "uncontracted");
        assert!(!seems_older(&Reading::of_file("x", "ta# ta#\n! cat", true, true)), "one sort, two times");
        // No book of the shelf is taken for an older one.
        for (name, book) in crate::practice::shelf::tests::shelf() {
            let options = Options { contracted: book.head.contracted, marks: true, ..Options::default() };
            let reading = book.reading(&mut |print| ueb::transcribe(print, &options));
            assert!(!seems_older(&reading), "{name}");
        }
    }
}
