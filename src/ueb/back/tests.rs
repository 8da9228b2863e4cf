use proptest::prelude::*;

use super::*;
use crate::cell;
use crate::ueb::{Piece, register};

fn say(ascii: &str) -> String {
    read(&cell::from_ascii(ascii).unwrap(), &ReadOptions::default()).print
}

/// Cells of The Rules of Unified English Braille, second edition: the sections named beside each.
#[test]
fn everyday_prose() {
    for (braille, print) in [
        (",! #aj3#cj f]ry l1ves f ,hallam ,quay4", "The 10:30 ferry leaves from Hallam Quay."),
        (",,,pr\\d to 2 a .f.b.k,'", "PROUD TO BE A ΦΒΚ"), // 8.5.3
        ("his-&-h]s t[els", "his-and-hers towels"),        // 10.5.1
        (",y %d rcv yr lr tm afn4", "You should receive your letter tomorrow afternoon."), // 10.9.1
        ("(fice", "office"),                               // 10.10.3
        ("cr^*eme br^%ul^/ee", "crème brûlée"),            // 4.2.1
    ] {
        assert_eq!(say(braille), print);
    }
}

/// The cells are those of section 1.3; the numbers with a hyphen are from memory.
#[test]
fn older_books() {
    let options = ReadOptions { older: true, ..ReadOptions::default() };
    for (braille, print) in [
        (")! f]ry", "with the ferry"),
        ("6! quay", "to the quay"),
        ("0! sea", "by the sea"),
        ("la4]", "ladder"),
        ("st,n", "station"),
        ("fa#", "fable"),
        ("-mon", "common"),
        ("7see7", "(see)"),
        ("#aa-bc", "11-23"),
        ("4#e", "$5"),
    ] {
        let reading = read(&cell::from_ascii(braille).unwrap(), &options);
        assert_eq!(reading.print, print);
        assert!(reading.pieces.iter().any(|p| p.remark == Remark::Retired), "{braille}");
    }
}

#[test]
fn a_prefix_waits() {
    let reading = read(&cell::from_ascii("! ^").unwrap(), &ReadOptions::default());
    assert_eq!(reading.pieces.last().unwrap().remark, Remark::Waiting);
    let could: Vec<&str> =
        could_become(&cell::from_ascii("^").unwrap()).into_iter().map(|id| register::get(id).print).collect();
    assert!(could.contains(&"upon") && could.contains(&"these"));
}

/// What a prefix could become depends on its place (2.6, 10.7, 10.8, 6.2).
#[test]
fn a_prefix_at_the_caret_waits_within_the_text() {
    let could = |ascii: &str, caret: usize| -> Option<Vec<&'static str>> {
        let mut live = LiveReading::new(ReadOptions::default());
        live.splice(0..0, &cell::from_ascii(ascii).unwrap());
        let waiting = live.waiting(caret)?;
        assert_eq!(waiting.cells.end, caret);
        Some(waiting.could.into_iter().map(|id| register::get(id).key).collect())
    };
    let word_start = could("! ; f]ry", 3).unwrap();
    assert!(!word_start.contains(&"groupsign ness"));
    let after_letters = could("! sad; f]ry", 6).unwrap();
    assert!(after_letters.contains(&"groupsign ness") && after_letters.contains(&"groupsign ment"));
    let number = could("#a\" quay", 3).unwrap();
    assert!(
        number.contains(&"numeric space before digit 1") && !number.contains(&"contraction day"),
        "{number:?}"
    );
    assert!(could(",,^ quay", 3).unwrap().contains(&"contraction word"));
    assert_eq!(could("! f]ry", 3), None);
    assert_eq!(could("! f]ry", 2), None);
    assert_eq!(could("", 0), None);
}

/// A text of lines: each line end is a blank, passages go on over it (8.5, 9.4), the rest ends.
#[test]
fn lines_are_found_again_in_one_row_of_cells() {
    let lines = [",,,! grey", "seal,' sails #aj", "", "j f ,orr9"];
    let mut live = LiveReading::new(ReadOptions::default());
    live.splice(0..0, &cell::from_ascii(&lines.join(" ")).unwrap());
    let mut at = 0;
    let mut read = Vec::new();
    for line in lines {
        read.push(live.print_of(at..at + line.len()));
        at += line.len() + 1;
    }
    assert_eq!(read, ["THE GREY", "SEAL sails 10", "", "just from Orrin"]);
    assert_eq!(live.word_at(4).unwrap().print, "THE");
    assert_eq!(live.word_at(5).unwrap().print, "GREY");
    assert_eq!(live.last_word().unwrap().print, "Orrin");
    // The passage is never closed: all that follows is read anew.
    assert_eq!(live.splice(14..16, &[]), 10..at - 3);
    assert!(live.print().ends_with("JUST FROM ORRIN"));
}

/// Runs without a blank, which no word's length bounds.
#[test]
fn long_runs_are_read() {
    for unit in ["a", "fr", "grt", "1", ";", ",", "\"", "8", "^", "^/", "@-<", "#a", "2", "a'", "-f/"] {
        let cells = cell::from_ascii(&unit.repeat(20_000)).unwrap();
        let reading = read(&cells, &ReadOptions::default());
        covers(&reading.pieces, cells.len(), reading.print.chars().count());
    }
}

fn covers(pieces: &[Piece], cells: usize, chars: usize) {
    let (mut cell, mut char) = (0, 0);
    for piece in pieces {
        assert_eq!(piece.cells.start, cell);
        assert!(piece.cells.end > cell && piece.print.start >= char && piece.print.end >= piece.print.start);
        (cell, char) = (piece.cells.end, piece.print.end);
    }
    assert_eq!(cell, cells);
    assert!(char <= chars);
}

fn any_cells(max: usize) -> impl Strategy<Value = Vec<Cell>> {
    let one = prop_oneof![1 => Just(0u8), 3 => 0u8..64, 3 => prop::sample::select(vec![32u8, 48, 56, 16, 40, 8, 60, 4, 36, 1])];
    prop::collection::vec(one, 0..max).prop_map(|bits| bits.into_iter().filter_map(Cell::from_bits).collect())
}

fn any_options() -> impl Strategy<Value = ReadOptions> {
    (any::<bool>(), any::<bool>(), any::<bool>()).prop_map(|(contracted, older, marks)| ReadOptions {
        contracted,
        older,
        marks,
    })
}

proptest! {
    #[test]
    fn pieces_cover_every_cell_once(cells in any_cells(60), options in any_options()) {
        let reading = read(&cells, &options);
        covers(&reading.pieces, cells.len(), reading.print.chars().count());
        prop_assert_eq!(read_print(&cells, &options), reading.print);
    }

    #[test]
    fn live_reading_equals_whole_reading(
        start in any_cells(60),
        options in any_options(),
        changes in prop::collection::vec((0usize..70, 0usize..9, any_cells(9)), 0..8),
    ) {
        let mut live = LiveReading::new(options.clone());
        live.splice(0..0, &start);
        let mut cells = start;
        for (from, len, with) in changes {
            let before = live.clone();
            let from = from.min(cells.len());
            let to = (from + len).min(cells.len());
            cells.splice(from..to, with.iter().copied());
            let news = live.splice(from..to, &with);
            prop_assert_eq!(live.cells(), &cells[..]);
            prop_assert_eq!(live.reading(), read(&cells, &options));
            // What is not told as news says what it said.
            prop_assert_eq!(live.print_of(0..news.start), before.print_of(0..news.start));
            let after = news.end + (to - from) - with.len();
            prop_assert_eq!(live.print_of(news.end..cells.len()), before.print_of(after..before.cells().len()));
            for caret in 0..=cells.len() {
                if let Some(waiting) = live.waiting(caret) {
                    prop_assert_eq!(waiting.cells.end, caret);
                }
            }
        }
    }
}
