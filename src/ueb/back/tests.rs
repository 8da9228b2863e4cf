use super::*;
use crate::cell;
use crate::ueb::{Piece, register};

fn say(ascii: &str) -> String {
    read(&cell::from_ascii(ascii).unwrap(), &ReadOptions::default()).print
}

/// Examples of The Rules of Unified English Braille, second edition, with their sections; the first row is invented.
#[test]
fn everyday_prose() {
    for (braille, print) in [
        (",! #aj3#cj f]ry l1ves f ,hallam ,quay4", "The 10:30 ferry leaves from Hallam Quay."), // 6.3, 8.3, 10.1 to 10.6
        (",,,pr\\d to 2 a .f.b.k,'", "PROUD TO BE A ΦΒΚ"),                                      // 8.5.3
        ("his-&-h]s t[els", "his-and-hers towels"),                                             // 10.5.1
        (",y %d rcv yr lr tm afn4", "You should receive your letter tomorrow afternoon."),      // 10.9.1
        ("(fice", "office"),                                                                    // 10.10.3
        ("cr^*eme br^%ul^/ee", "crème brûlée"),                                                 // 4.2.1
    ] {
        assert_eq!(say(braille), print);
    }
}

fn say_as(ascii: &str, options: &ReadOptions) -> Reading {
    let cells = cell::from_ascii(ascii).unwrap();
    let reading = read(&cells, options);
    let mut live = LiveReading::new(options.clone());
    for (at, cell) in cells.into_iter().enumerate() {
        live.splice(at..at, &[cell]);
    }
    assert_eq!(live.reading(), reading, "{ascii}");
    reading
}

/// The Rules of Unified English Braille, second edition: the section stands above each. The print is invented and the
/// cells follow the section, but for the rows that say "example".
#[test]
fn modes_and_indicators() {
    for (braille, print) in [
        // 4.2, 4.3: modifiers and ligatures
        ("h@-<a^6e>r", "hǣr"),
        (",,o^6edipus", "ŒDIPUS"), // example of 4.3
        (",t^6h", "T͡h"),
        ("t,^6h", "t͡H"),
        ("@-<oo>", "o͞o"),
        // 5.3, 5.5: a grade 1 word ends with its terminator
        (";;d-d-;'dic;n>y", "d-d-dictionary"),
        // 6.2 to 6.10
        ("#c/h", "⅜"), // example of 6.2
        ("#b#a/b", "2½"),
        ("#ac/bd", "13⁄24"),
        ("# 4ej quay", " .50 quay"),
        ("#aj1\" jjj quay", "10,000 quay"),
        ("#aj\"\" jjj quay", "10\u{a0}000 quay"),
        ("##a \"6 b \"7 ;x#' a", "1 + 2 = x a"),
        ("#c4xls", "3.xls"),
        ("#bd;b", "24b"),
        // 7.2, 7.6, 7.7
        (",\"<#a #j,\">", "(1 0)"),
        ("8;;,w-a-l-k0", "“W-a-l-k”"),
        (";;8a", "?a"),
        // 8.4: an indicator within the word ends its capitals
        (",,que/.1ion4", "QUESTion."),
        (",,tv,ont>io", "TVOntario"), // example of 8.4.2
        // 10.8.2
        (",att5,,;n", "AttenN"),
        // 11.3 to 11.7, in grade 1 mode
        ("a ;;(a./b)", "a a⁄b"),
        ("a ;;(a\"6b./b\"-c)", "a (a+b)⁄(b−c)"),
        (";;%9#c#h+ \"7 #b", "∛8 = 2"),
        (";;%x\"6y+", "√(x+y)"),
        ("ice ;\\o wat]", "ice → water"),
        (";\\wro", "↔"),
        (";$#c:,,abc", "△ABC"),
        ("m;9#b", "m²"),
        (",h;5#b,o", "H₂O"),
        // 3.13, 3.26, 14.2, 16.2: signs whose print is told elsewhere are kept as cells
        ("! .=^n = 5g", "the ⠘⠝ for eng"),
        ("! #?#ef", "the ⠼⠹56"),
        ("\"(es'_je suis,\") & we", "⠸⠚⠑ ⠎⠥⠊⠎ and we"),
        // 15.1.2: the end of a line of verse that is set as prose
        ("rose_ red", "rose / red"),
        ("\"3333", "───"),
    ] {
        let reading = say_as(braille, &ReadOptions::default());
        assert_eq!(reading.print, print, "{braille}");
        let known = |p: &Piece| p.remark == Remark::None && p.sign.is_some();
        assert!(reading.pieces.iter().all(known), "{braille}: {:?}", reading.pieces);
    }
}

/// Typeforms and indices as marks: sections 9 and 11.4.
#[test]
fn marks_of_typeforms_and_indices() {
    let options = ReadOptions { marks: true, ..ReadOptions::default() };
    for (braille, print) in [
        (".7! grey sail.' s9ks", "*the grey sail* sinks"),
        (".7^7! grey^'.' sail", "***the grey*** sail"),
        (".7^7! grey.'^' sail", "***the grey*** sail"),
        (".7! ^1grey sail.'", "*the **grey** sail*"),
        (".7! ^7grey.' la/ sail^'", "*the **grey*** **last sail**"),
        (".1tide4", "*tide.*"),
        ("\"<.1tide4\">", "(*tide.*)"),
        (".1tide\"<s\">", "*tide(s)*"),
        ("8.1tide0", "“*tide*”"),
        ("8.1tide.'0,-& ebb", "“*tide*”—and ebb"),
        (".1tide,-", "*tide*—"),
        (".1tide444", "*tide*..."),
        (".1l[ .1tide4 ebb", "*low tide.* ebb"),
        (".1l[ ^1tide", "*low* **tide**"),
        (".2tide", "*t*ide"),
        (".2^/ebb", "*é*bb"),
        ("_2\"m", "<u>m</u>other"),
        ("x;9#by", "x^{2}y"),
        (";;x9<#by>", "x^{2y}"),
        (";;x9\"<n\"6#a\">z", "x^{(n+1)}z"),
        (";;x9(a./b)z", "x^{{a}⁄{b}}z"),
        (";;%x\"6y+", "√{x+y}"),
        (";;%9#c#h+", "^{3}√{8}"),
        ("a ;(x./#b;)", "a {x}⁄{2}"),
        (";;x9y9z", "x^{y}^{z}"),
        ("mass;;5<sun>", "mass_{sun}"),
        ("\"9#a @9 _*", "\\*1 \\~ \\\\"),
        ("@<u@>", "\\<u>"),
        (".7left op5", "*left open*"),
        (".7left op5 ", "*left open* "),
    ] {
        assert_eq!(say_as(braille, &options).print, print, "{braille}");
    }
}

/// The cells are those of section 1.3; what it does not say is from memory, and flagged so.
#[test]
fn older_books() {
    let options = ReadOptions { older: true, ..ReadOptions::default() };
    for (braille, print) in [
        // 1.3.1
        (")! f]ry", "with the ferry"),
        (",(a sail", "Of a sail"),
        ("sails &!1", "sails and the,"),
        // 1.3.2
        ("t5 o'c", "ten o'clock"),
        ("la4]", "ladder"),
        ("6! quay", "to the quay"),
        ("6#aj", "to 10"),
        (",6,orr9", "To Orrin"),
        ("96a boat", "into a boat"),
        ("0! sea", "by the sea"),
        ("fa#", "fable"),
        ("tr\\#d", "troubled"),
        ("-mon", "common"),
        (",-e 9", "Come in"),
        ("st,n", "station"),
        ("fin,y", "finally"),
        // 1.3.3
        ("7see7", "(see)"),
        ("7#aj7", "(10)"),
        ("g 7! boat74", "go (the boat)."),
        (",7see7'", "[see]"),
        ("8,8n[0'0", "“‘now’”"),
        ("well'''", "well..."),
        ("well--y", "well—you"),
        // 1.3.4
        (".! .boat", "the boat"),
        ("caf@e", "cafe"),
        // 1.3.5
        ("4#e", "$5"),
        ("l#e", "£5"),
        ("p>#b", "¶2"),
        // from memory
        ("#aa-bc", "11-23"),
        ("#aj3cj", "10:30"),
        ("#c.ad", "3.14"),
        ("#ej3p", "50%"),
        ("#a/", "1st"),
        ("#e?4", "5th."),
    ] {
        let reading = say_as(braille, &options);
        assert_eq!(reading.print, print, "{braille}");
        let older: Vec<&Piece> = reading.pieces.iter().filter(|p| p.remark == Remark::Older).collect();
        assert!(!older.is_empty(), "{braille}");
        assert!(
            older.iter().all(|p| p.section.starts_with("1.3") || p.section == "from memory"),
            "{braille}"
        );
        // Without the option, nothing is taken for an older sign.
        let today = say_as(braille, &ReadOptions::default());
        assert!(today.pieces.iter().all(|p| p.remark != Remark::Older), "{braille}");
    }
    let marks = ReadOptions { marks: true, ..options.clone() };
    assert_eq!(say_as("..! grey .boat left", &marks).print, "*the grey boat* left");
    assert_eq!(say_as(".boat left", &marks).print, "*boat* left");
    // What is no older sign is read as it is today.
    for (braille, print) in [
        (",mc,neil", "McNeil"),
        ("! f]ry", "the ferry"),
        (",b#b", "B2"),
        ("#aa-#bc", "11-23"),
        ("8yes60", "“yes!”"),
    ] {
        let reading = say_as(braille, &options);
        assert_eq!(reading.print, print, "{braille}");
        assert!(reading.pieces.iter().all(|p| p.remark == Remark::None), "{braille}");
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
