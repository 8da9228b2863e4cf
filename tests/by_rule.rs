//! Print to braille by the rules, on rows derived by hand.
//!
//! Source: our own reading of *The Rules of Unified English Braille*, Second Edition 2013, row by row with its section.

use cellwright::cell::{self, Cell};
use cellwright::manuscript::Sheet;
use cellwright::manuscript::layout::Manuscript;
use cellwright::marking::{Finding, Kind, mark_print};
use cellwright::ueb::back::LiveReading;
use cellwright::ueb::{self, Edition, Options, ReadOptions, Remark, division};

#[test]
fn print_is_written_as_the_rules_ask() {
    let rows: Vec<Vec<&str>> = include_str!("data/by-rule.tsv")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| line.split('\t').collect())
        .collect();
    let mut wrong = Vec::new();
    for row in &rows {
        let [section, print, braille] = row[..] else { panic!("three columns: {row:?}") };
        let ours = cell::to_ascii(&ueb::transcribe(print, &Options::default())).to_lowercase();
        if ours != braille {
            wrong.push(format!("{section} {print}: {ours}, not {braille}"));
        }
    }
    println!("counted: {} rows", rows.len() - wrong.len());
    assert!(rows.len() > 200 && wrong.is_empty(), "{} of {}: {wrong:#?}", wrong.len(), rows.len());
}

/// Divided words: 10.13 for words, 6.10 for numbers. Source: our own reading of the rules, row by row with its section; the
/// syllables are those that dictionaries of English show (from memory).
#[test]
fn divided_words_are_judged_as_the_rules_ask() {
    let rows: Vec<Vec<&str>> = include_str!("data/divided.tsv")
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| line.split('\t').collect())
        .collect();
    let mut wrong = Vec::new();
    let mut calls = 0;
    for row in &rows {
        let [section, print, head, tail, verdict] = row[..] else { panic!("five columns: {row:?}") };
        let lines = [format!("! {head}"), format!("{tail} n[")].map(|line| cell::from_ascii(&line).unwrap());
        let found = mark_print(&format!("the {print} now"), &lines, &Options::default()).findings;
        let mistakes = found.iter().filter(|finding| finding.kind != Kind::YourCall).count();
        calls += usize::from(verdict == "right" && !found.is_empty());
        let right = match verdict {
            "right" => mistakes == 0,
            "call" => mistakes == 0 && !found.is_empty(),
            _ => mistakes > 0,
        };
        if !right {
            let said: Vec<_> = found.iter().map(|finding| (finding.kind.name(), &finding.say)).collect();
            wrong.push(format!("{section} {print} {head} {tail} {verdict}: {said:?}"));
        }
    }
    println!(
        "counted: {} divided words judged, {calls} right ones left to the transcriber",
        rows.len() - wrong.len()
    );
    assert!(rows.len() > 200 && wrong.is_empty(), "{} of {}: {wrong:#?}", wrong.len(), rows.len());
}

fn listed() -> impl Iterator<Item = &'static str> {
    let words = include_str!("data/wordlist.tsv").lines().filter_map(|line| line.split('\t').next());
    words.filter(|word| word.len() > 3 && word.bytes().all(|c| c.is_ascii_lowercase()))
}

fn marked(print: &str, head: &[Cell], tail: &[Cell]) -> Vec<Finding> {
    let blank = [Cell::BLANK];
    let the = ueb::transcribe("the", &Options::default());
    let lines = [[&the[..], &blank[..], head].concat(), [tail, &blank[..], &the[..]].concat()];
    mark_print(&format!("the {print} the"), &lines, &Options::default()).findings
}

/// Every word of the list at every place that is offered: right as the service has it, and a mistake where a part is
/// contracted as a word of its own is. Source of the words: Appendix 2; the rest follows from 10.13.1 to 10.13.12.
#[test]
fn parts_contracted_as_words_of_their_own_are_mistakes() {
    let (mut count, mut missed, mut wrong) = (0, Vec::new(), Vec::new());
    for word in listed() {
        for place in division::divisions(word) {
            count += 1;
            let found = marked(word, &place.first, &place.second);
            if !found.is_empty() {
                let said: Vec<_> = found.iter().map(|finding| &finding.say).collect();
                wrong.push(format!("{word} {}: {said:?}", place.at));
            }
            let own = |text: &str| ueb::transcribe(text, &Options::default());
            let mut head = own(&word[..place.at]);
            head.extend(cell::from_ascii("-").unwrap());
            let tail = own(&word[place.at..]);
            let (first, second) = (head == place.first, tail == place.second);
            if !first && marked(word, &head, &place.second).iter().all(|one| one.kind == Kind::YourCall) {
                missed.push(format!("{word} {} {}", place.at, cell::to_ascii(&head)));
            }
            if !second && marked(word, &place.first, &tail).iter().all(|one| one.kind == Kind::YourCall) {
                missed.push(format!("{word} {} {}", place.at, cell::to_ascii(&tail)));
            }
        }
    }
    println!("{count} divisions, {} mistakes missed: {missed:?}", missed.len());
    assert!(count > 300 && wrong.is_empty(), "{} of {count}: {wrong:#?}", wrong.len());
    assert!(missed.len() * 100 <= count, "{missed:#?}");
}

/// What is laid out is divided as marking asks: at 12 to 60 cells no part is contracted otherwise (10.13).
fn laid_out_as_marking_asks(words: &[&str], widths: &[usize]) {
    let mut wrong = Vec::new();
    let mut breaks = 0;
    for (at, some) in words.chunks(60).enumerate() {
        let print = some.join(" ");
        let cells = widths[at % widths.len()];
        let sheet = Sheet { cells, divide: true, numbered: false, ..Sheet::default() };
        let lines: Vec<Vec<Cell>> = Manuscript::from_print(&print, sheet).lines().concat();
        let hyphen = cell::from_ascii("-").unwrap();
        breaks += lines.iter().filter(|line| line.ends_with(&hyphen)).count();
        for finding in mark_print(&print, &lines, &Options::default()).findings {
            wrong.push(format!("{cells}: {} {:?}", finding.say, finding.written));
        }
    }
    println!("{breaks} words divided");
    assert!(breaks > 0 && wrong.is_empty(), "{} wrong: {:#?}", wrong.len(), &wrong[..wrong.len().min(40)]);
}

#[test]
fn words_are_laid_out_as_marking_asks() {
    let words: Vec<&str> = listed().collect();
    laid_out_as_marking_asks(&words, &[12, 17, 24, 33, 46, 60]);
}

/// The same for a list of one's own, one word a line: `CELLWRIGHT_WORDS=FILE cargo test --test by_rule -- --ignored`.
#[test]
#[ignore = "takes a list of words"]
fn own_words_are_laid_out_as_marking_asks() {
    let path = std::env::var("CELLWRIGHT_WORDS").expect("the path of a list of words");
    let text = std::fs::read_to_string(path).unwrap();
    let words: Vec<&str> =
        text.lines().filter(|word| word.len() > 3 && word.bytes().all(|c| c.is_ascii_lowercase())).collect();
    for start in 0..7 {
        let widths: Vec<usize> = (12..=60).skip(start).step_by(7).collect();
        laid_out_as_marking_asks(&words, &widths);
    }
}

/// 8.5.4: whether a single letter beside a capitals passage belongs to it is the writer's call, both ways.
#[test]
fn a_letter_beside_a_capitals_passage_is_left_to_the_writer() {
    for (print, ways) in [
        ("A BIG GREY BOAT left", &[",,,a big grey boat,' left", ",a ,,,big grey boat,' left"][..]),
        ("A BIG BOAT left", &[",,,a big boat,' left", ",a ,,big ,,boat left"]),
        ("MIND THE GAP! I fell.", &[",,,m9d ! gap6,' ,i fell4", ",,,m9d ! gap6 i,' fell4"]),
        ("TAKE THE BOAT TO PIER B now", &[",,,take ! boat to pi] ;b,' n[", ",,,take ! boat to pi],' ;,b n["]),
    ] {
        for way in ways {
            let lines = [cell::from_ascii(way).unwrap()];
            let found = mark_print(print, &lines, &Options::default()).findings;
            assert!(found.is_empty(), "{print} {way}: {found:?}");
        }
    }
}

/// 7.2.1: print that spaces its dashes in one way is followed; where it does so now and then, the writer chooses. 7.6.2: inner
/// quotation marks have two cells.
#[test]
fn what_a_rule_settles_is_no_call() {
    let kinds = |print: &str, braille: &str| -> Vec<&'static str> {
        let lines = [cell::from_ascii(braille).unwrap()];
        mark_print(print, &lines, &Options::default()).findings.iter().map(|one| one.kind.name()).collect()
    };
    assert_eq!(kinds("the pier — the boat", "! pi] ,- ! boat"), [""; 0]);
    assert_eq!(kinds("the pier — the boat", "! pi],-! boat"), ["spacing"; 2]);
    assert_eq!(kinds("the pier—the boat", "! pi] ,- ! boat"), ["spacing"; 2]);
    assert_eq!(kinds("the pier— the boat", "! pi] ,- ! boat"), [""; 0]);
    let nested = "“He said ‘no’ twice.”";
    assert_eq!(kinds(nested, "8,he sd ,8no,0 twice40"), [""; 0]);
    for wrong in ["8,he sd 8no0 twice40", "^8,he sd ,8no,0 twice4^0"] {
        let found = kinds(nested, wrong);
        assert!(!found.is_empty() && !found.contains(&"your-call"), "{wrong}: {found:?}");
    }
}

/// 15.1.2: the line indicator stands unspaced behind a line of verse that is set as prose, and a blank follows it. A word
/// before it is contracted by the third edition (its announcement of 9 December 2024, from memory).
#[test]
fn verse_set_as_prose_has_line_indicators() {
    let verse = "The boat goes out,<br> the tide comes in.";
    let marks = Options { marks: true, ..Options::default() };
    let ascii =
        |print: &str, options: &Options| cell::to_ascii(&ueb::transcribe(print, options)).to_lowercase();
    assert_eq!(ascii(verse, &marks), ",! boat goes \\t1_ ! tide comes in4");
    let read = |braille: &str, marks: bool| {
        ueb::read_print(&cell::from_ascii(braille).unwrap(), &ReadOptions { marks, ..ReadOptions::default() })
    };
    assert_eq!(read(",! boat goes \\t1_ ! tide comes in4", true), verse);
    assert_eq!(read(",! boat goes \\t1_ ! tide comes in4", false), "The boat goes out, / the tide comes in.");
    let third = Options { edition: Edition::Third, ..marks.clone() };
    assert_eq!(ascii("as you like it<br> or not", &marks), "z y l it_ or n");
    assert_eq!(ascii("as you like it<br> or not", &third), "z y l x_ or n");
    // Under either edition the other's form is the writer's call.
    for options in [&marks, &third] {
        for braille in ["z y l it_ or n", "z y l x_ or n"] {
            let lines = [cell::from_ascii(braille).unwrap()];
            assert_eq!(mark_print("as you like it<br> or not", &lines, options).findings, []);
        }
    }
    // A literal mark has a backslash.
    assert_eq!(ascii("a \\<br> here", &marks), "a @<br@> \"h");
}

/// 8.4 and 8.5: an indicator of a word or a passage in capitals has capitals after it.
#[test]
fn capitals_of_nothing_are_remarked() {
    for braille in ["! ,,, boat", "! ,, boat", "8,, boat"] {
        let reading = ueb::read(&cell::from_ascii(braille).unwrap(), &ReadOptions::default());
        assert!(reading.pieces.iter().any(|piece| piece.remark == Remark::Unknown), "{braille}: {reading:?}");
    }
    for braille in ["! ,,,boat goes \\,'", "! ,,boat"] {
        let reading = ueb::read(&cell::from_ascii(braille).unwrap(), &ReadOptions::default());
        assert!(reading.pieces.iter().all(|piece| piece.remark == Remark::None), "{braille}: {reading:?}");
    }
}

/// What a prefix at the caret does: 8.3, 8.4, 5.2, 9.2, 4.2.
#[test]
fn a_waiting_prefix_tells_what_it_does() {
    for (braille, does) in [
        ("! ,", "capital"),
        ("! ,,", "capital"),
        ("! ,,,", "capital"),
        ("! ;", "grade 1"),
        ("! .", "italic"),
        ("! ^", "bold"),
        ("! ^", "accent"),
        ("! @", "script"),
        ("! @", "accent"),
        ("! _", "underline"),
        ("! #", "number"),
    ] {
        let mut live = LiveReading::new(ReadOptions::default());
        let cells = cell::from_ascii(braille).unwrap();
        live.splice(0..0, &cells);
        let waiting = live.waiting(cells.len()).unwrap_or_else(|| panic!("{braille} waits"));
        assert!(waiting.does.contains(&does), "{braille}: {:?}", waiting.does);
    }
}
