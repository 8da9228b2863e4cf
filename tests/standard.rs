//! Print to braille against the standard's own worked examples, cell for cell.
//!
//! Source: *The Rules of Unified English Braille*, Second Edition 2013 (see the head of each file in `tests/data`).

use std::collections::BTreeMap;

use cellwright::cell;
use cellwright::ueb::{self, Options};

/// Rows held to be a slip of the book or of its extraction: section, print, and the section that says so.
///
/// S—: a long dash is written only where print uses a short one too (7.2.4); what stands around it in the book does.
const SLIPS: &[(&str, &str, &str)] = &[("10.12.13", "S—", "7.2.4")];

struct Row {
    section: String,
    print: String,
    braille: String,
    depends: String,
}

fn rows(text: &str, words: bool) -> Vec<Row> {
    text.lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty())
        .filter_map(|line| {
            let mut fields = line.split('\t').map(str::to_owned);
            let (a, b, c) = (fields.next()?, fields.next()?, fields.next()?);
            let row = if words {
                Row { section: c, print: a, braille: b, depends: String::new() }
            } else {
                let _kind = fields.next();
                Row { section: a, print: b, braille: c, depends: fields.next().unwrap_or_default() }
            };
            Some(row)
        })
        .collect()
}

/// Prints the score by section and gives how many rows count and how many are right.
fn score(name: &str, rows: &[Row], marks: bool) -> (usize, usize) {
    let options = Options { marks, ..Options::default() };
    let (mut count, mut right) = (0, 0);
    let mut failures: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let (mut apart, mut apart_right) = (0, 0);
    for row in rows {
        let got = cell::to_ascii(&ueb::transcribe(&row.print, &options));
        let good = got == row.braille;
        if !row.depends.is_empty() {
            apart += 1;
            apart_right += usize::from(good);
            continue;
        }
        if SLIPS.iter().any(|s| s.0 == row.section && s.1 == row.print) {
            continue;
        }
        count += 1;
        right += usize::from(good);
        if !good {
            let line = format!("{}: {got}, the standard {}", row.print, row.braille);
            failures.entry(row.section.clone()).or_default().push(line);
        }
    }
    println!("{name}: {right} of {count} right; {apart_right} of {apart} that depend on more than the print");
    for (section, lines) in failures {
        for line in lines {
            println!("  {section}: {line}");
        }
    }
    (count, right)
}

#[test]
fn worked_examples() {
    let (count, right) = score("examples", &rows(include_str!("data/examples.tsv"), false), false);
    assert!(count > 700 && right + WRONG_EXAMPLES >= count, "{right} of {count}");
}

#[test]
fn word_list() {
    let (count, right) = score("word list", &rows(include_str!("data/wordlist.tsv"), true), false);
    assert!(count > 400 && right + WRONG_WORDS >= count, "{right} of {count}");
}

#[test]
fn worked_examples_with_marks() {
    let (count, right) =
        score("examples with marks", &rows(include_str!("data/examples-marked.tsv"), false), true);
    assert!(count > 40 && right + WRONG_MARKED >= count, "{right} of {count}");
}

/// At most so many rows may be wrong.
const WRONG_EXAMPLES: usize = 2;
const WRONG_WORDS: usize = 2;
const WRONG_MARKED: usize = 0;

#[test]
fn reasons_and_cells_are_one_engine() {
    for row in rows(include_str!("data/examples.tsv"), false) {
        // Alone, and as a later part of a text.
        for print in [row.print.clone(), format!("so so {} so {}", row.print, row.print)] {
            for options in [Options::default(), Options { contracted: false, marks: false }] {
                sound(&print, &options);
            }
        }
    }
    for row in rows(include_str!("data/examples-marked.tsv"), false) {
        sound(&row.print, &Options { marks: true, ..Options::default() });
    }
}

/// Reasons give the same cells; signs cover each once; choices lie in order, within the text, and differ from it.
fn sound(print: &str, options: &Options) {
    let explained = ueb::explain(print, options);
    assert_eq!(explained.cells, ueb::transcribe(print, options), "{print}");
    let length = print.chars().count();
    let mut at = 0;
    for sign in &explained.signs {
        assert_eq!(sign.cells.start, at, "{print}");
        at = sign.cells.end;
        assert!(sign.print.start <= sign.print.end && sign.print.end <= length, "{print}");
    }
    assert_eq!(at, explained.cells.len(), "{print}");
    let mut at = 0;
    for choice in &explained.choices {
        assert!(choice.cells.start >= at && choice.cells.end <= explained.cells.len(), "{print}");
        at = choice.cells.end;
        assert!(choice.print.start <= choice.print.end && choice.print.end <= length, "{print}");
        let written = &explained.cells[choice.cells.clone()];
        assert!(!choice.others.is_empty() && choice.others.iter().all(|other| other != written), "{print}");
    }
}

// The book's own alternatives: 5.9.1, 7.2.4, 7.2.6, 8.6.2, 8.8, 10.6.4, 10.12.1.
#[test]
fn where_the_standard_leaves_a_choice() {
    for (print, section, other) in [
        ("br-r-r", "5.9.1", ";;br-r-r"),
        ("rm-mm-mm", "5.10.1", ";;rm-mm-mm"),
        ("he said--no", "7.2.6", "he sd,-no"),
        ("MHz", "8.8", ",,mh,'z"),
        ("GO HOME TO ME!", "8.6.2", ",,,g home to me,'6"),
        ("the Belg. coast", "10.6.4", "! ,2lg4 coa/"),
        ("at 5 EST", "10.12.1", "at #e ,,e/"),
    ] {
        let explained = ueb::explain(print, &Options::default());
        let found = explained.choices.iter().any(|choice| {
            choice.section == section
                && choice.others.iter().any(|cells| {
                    let mut whole = explained.cells.clone();
                    whole.splice(choice.cells.clone(), cells.iter().copied());
                    cell::to_ascii(&whole) == other
                })
        });
        assert!(found, "{print}: {:?}", explained.choices);
    }
}

/// The order of two typeform indicators, or of two terminators, is not prescribed (9.8.1).
#[test]
fn typeforms_in_either_order() {
    let options = Options { marks: true, ..Options::default() };
    for (print, others) in [("***one***", vec!["^1"]), ("so ***both of these*** do", vec!["^7", "^'"])] {
        let explained = ueb::explain(print, &options);
        let found: Vec<_> = explained.choices.iter().filter(|choice| choice.section == "9.8.1").collect();
        assert_eq!(found.len(), others.len(), "{print}: {:?}", explained.choices);
        for (choice, other) in found.iter().zip(others) {
            let ascii = cell::to_ascii(&choice.others[0]);
            assert!(ascii.starts_with('.') ^ (other == "^'") && ascii.contains(other), "{print}: {ascii}");
        }
    }
}

/// Marks whose cells would be read as something else, or whose kind hangs on what stands around; the section beside each.
#[test]
fn quotation_marks_and_stops_in_unusual_places() {
    for (print, braille, _section) in [
        ("disposed[?]", "4pos$.<;8.>", "7.5.2"),
        ("He said,\"What?\"", ",he said1^8,:at8^0", "7.5.4"),
        ("a “)” b", "a ^8\">^0 ;b", "7.6.4"),
        ("abrl—“so” b", ";;abrl,-^8so^0 ;b", "7.6.7"),
        ("‘the dogs’ bones’", "8! dogs' b\"os0", "7.6.5"),
        ("‘yes’ and ‘no’", "8yes0 & 8no0", "7.6.1"),
        ("1...10", "#a444#aj", "6.3.1"),
        ("3..5", "#c44e", "6.2.1"),
        ("PREMIèRE", ",,premi^*ere", "8.9.1"),
        ("m⁻¹ aⁿ", ";;m9<\"-#a> a;9n", "3.24"),
        ("an MP3, B2B, G8, K9", "an ,,mp#c1 ,b#b,b1 ,g#h1 ,k#i", "8.8.2"),
    ] {
        assert_eq!(cell::to_ascii(&ueb::transcribe(print, &Options::default())), braille, "{print}");
    }
}

/// Letters after digits inside a capitals passage (6.5.2, 8.5.2), passages that begin with a symbols-sequence (8.5.2),
/// and one mark over both letters of a ligature (4.3.4, "Hwær" with its mark).
#[test]
fn capitals_with_digits_and_marked_ligatures() {
    for (print, braille) in [
        ("ROUTE 5B, EXIT 7A NOW", ",,,r\\te #e;b1 exit #g;a n[,'"),
        ("Apt. 5B, SW1A 2AA", ",apt4 #e,b1 ,,sw#a,a #b,,aa"),
        ("Hw\u{1e3}r", ",hw@-<a^6e>r"),
        ("hw\u{e6}\u{304}r", "hw@-<a^6e>r"),
    ] {
        let cells = cellwright::ueb::transcribe(print, &cellwright::ueb::Options::default());
        let ascii: String = cells.iter().map(|c| c.to_ascii()).collect();
        assert_eq!(ascii, braille, "{print}");
    }
}

/// A typeform that goes on over paragraphs: each begins with the passage indicator, and the last ends with the terminator
/// (9.9.1). Our own reading; a mark that nothing closes later is print.
#[test]
fn typeforms_over_paragraphs() {
    let options = Options { marks: true, ..Options::default() };
    for (print, braille) in [
        ("*All of it.\n\nAnd this.* So.", ".7,all ( x4  .7,& ?4.' ,s4"),
        ("He wrote: **Dear Ann,\nYours, Bob**", ",he wrote3 ^7,de> ,ann1 ^7,yrs1 ,bob^'"),
        ("<u>so\nit</u> goes", "_7s _7x_' goes"),
        ("*see below\nrose *and", "\"9see 2l rose \"9&"),
        ("*so*\n*it is*", ".1s .1x .1is"),
    ] {
        assert_eq!(cell::to_ascii(&ueb::transcribe(print, &options)), braille, "{print}");
        sound(print, &options);
    }
}
