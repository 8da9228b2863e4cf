//! Manuscripts laid out and checked: whatever is laid out here passes the check, with its print and without, in both
//! profiles. Format values are those of *Braille Formats: Principles of Print-to-Braille Transcription*, 2016, from memory,
//! or common practice; the texts are invented.

use cellwright::cell::to_ascii;
use cellwright::manuscript::block::{Form, Kind, What};
use cellwright::manuscript::check::{Asked, Item, Outcome, Scope, check};
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::layout::Manuscript;
use cellwright::manuscript::volumes::{self, Book};
use cellwright::manuscript::{Profile, Sheet, rules, source};
use cellwright::practice::passages;

const MIX: &str = include_str!("desk/mix.md");
const PASSAGES: &str = include_str!("../www/data/passages.txt");

fn laid_out(print: &str, sheet: Sheet) -> BrailleFile {
    BrailleFile::from_pages(&Book::from_print(print, sheet).lines())
}

fn to_fix(items: &[Item]) -> Vec<String> {
    let bad = items.iter().filter(|item| item.result == Outcome::ToFix);
    bad.map(|item| format!("{} at {:?}, {:?}: {}", item.rule, item.page, item.line, item.say)).collect()
}

/// What is to fix in a text as it is laid out here, with its print and without.
fn faults(print: &str, sheet: Sheet, scope: Scope) -> Vec<String> {
    let file = laid_out(print, sheet);
    let with = check(&file, &Asked { scope, sheet, print: Some(print), ..Asked::default() });
    let without = check(&file, &Asked { scope, sheet, ..Asked::default() });
    let mut out = to_fix(&with);
    out.extend(to_fix(&without).into_iter().map(|say| format!("without print: {say}")));
    out
}

#[test]
fn a_mix_of_ten_pages_passes() {
    assert_eq!(source::told(MIX, Sheet::default()), []);
    assert_eq!(Manuscript::from_print(MIX, Sheet::default()).lines().len(), 10);
    for profile in [Profile::Full, Profile::Plain] {
        for contracted in [true, false] {
            for divide in [false, true] {
                for cells in [40, 34, 32] {
                    let sheet = Sheet { profile, contracted, divide, cells, ..Sheet::default() };
                    let bad = faults(MIX, sheet, Scope::Volume);
                    assert!(bad.is_empty(), "{sheet:?}\n{}", bad.join("\n"));
                }
            }
        }
    }
}

#[test]
fn the_texts_of_the_page_pass() {
    let texts = passages::parse(PASSAGES);
    assert!(texts.len() > 30);
    let mut bad = Vec::new();
    for text in &texts {
        let lines: Vec<&str> = text.text.lines().filter(|line| !line.trim().is_empty()).collect();
        let verse = format!("```verse\n{}\n```\n", lines.join("\n"));
        let volume = format!("---\ntitle: {}\nauthor: the crew\n---\n\u{c}1\n{}", text.title, text.text);
        for profile in [Profile::Full, Profile::Plain] {
            let sheet = Sheet { contracted: text.contracted, profile, ..Sheet::default() };
            for (what, print, scope) in [
                ("as it is", text.text.as_str(), Scope::Piece),
                ("lines as paragraphs", &lines.join("\n\n"), Scope::Piece),
                ("verse", &verse, Scope::Piece),
                ("a volume", &volume, Scope::Volume),
            ] {
                let found = faults(print, sheet, scope);
                if !found.is_empty() {
                    bad.push(format!("{}, {what}: {}", text.title, found.join("; ")));
                }
            }
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
}

const FAULTS: &str = include_str!("desk/layout_faults.tsv");

type Pages = Vec<Vec<String>>;

/// Takes the number off a page's last line.
fn take_number(page: &mut [String]) -> String {
    let last = page.last_mut().unwrap();
    let (text, number) = last.rsplit_once("   ").unwrap();
    let number = format!("   {}", number.trim_start());
    *last = text.trim_end().to_owned();
    number
}

fn put_number(page: &mut [String], number: &str) {
    let last = page.last_mut().unwrap();
    *last = format!("{last:<width$}{number}", width = 40 - number.len());
}

/// Makes a fault at a page and line, from 0.
fn make(pages: &mut Pages, page: usize, line: usize, how: &str) {
    let (op, argument) = how.split_once(' ').unwrap_or((how, ""));
    match op {
        "indent" => {
            let text = pages[page][line].trim_start().to_owned();
            pages[page][line] = " ".repeat(argument.parse().unwrap()) + &text;
        }
        "drop" => {
            let number = take_number(&mut pages[page]);
            pages[page].remove(line);
            pages[page].push(String::new());
            put_number(&mut pages[page], &number);
        }
        "blank" => {
            pages[page].insert(line, String::new());
            assert_eq!(pages[page].remove(24), "", "{how} on page {}", page + 1);
        }
        "push" => {
            let number = take_number(&mut pages[page]);
            for _ in 0..argument.parse().unwrap() {
                let at = pages[page].iter().rposition(|line| !line.is_empty()).unwrap();
                let text = std::mem::take(&mut pages[page][at]);
                pages[page + 1].insert(1, text);
                assert_eq!(pages[page + 1].remove(24), "");
            }
            put_number(&mut pages[page], &number);
        }
        _ => {
            let (from, to) = how.split_once("=>").unwrap();
            let (from, to) = (from.trim().replace('_', " "), to.trim().replace('_', " "));
            let old = &pages[page][line];
            let new = if from == "all" { to } else { old.replacen(&from, &to, 1) };
            assert_ne!(*old, new, "{how}");
            pages[page][line] = new;
        }
    }
}

#[test]
fn planted_faults_are_told_by_their_rule_at_their_page() {
    let right: Pages = laid_out(MIX, Sheet::default()).pages().map(<[String]>::to_vec).collect();
    let faults: Vec<&str> = FAULTS.lines().filter(|line| !line.starts_with('#')).collect();
    assert!(faults.len() >= 80);
    // What is asked of the check: with the print nearly all, from the pages alone most; never anything on right pages.
    for (print, share) in [(Some(MIX), 95), (None, 70)] {
        let (mut missed, mut wrong) = (Vec::new(), Vec::new());
        for fault in &faults {
            let columns: Vec<&str> = fault.split('\t').collect();
            let [what, place, how, rules] = columns[..] else { panic!("{fault}") };
            let (page, line) = place.split_once(':').unwrap();
            let (page, line): (usize, usize) = (page.parse().unwrap(), line.parse().unwrap());
            let mut pages = right.clone();
            make(&mut pages, page - 1, line - 1, how);
            let text: String = pages.iter().map(|page| page.join("\r\n") + "\r\n\u{c}").collect();
            let asked = Asked { scope: Scope::Volume, print, ..Asked::default() };
            let items = check(&BrailleFile::from_text(&text), &asked);
            let told: Vec<&Item> = items.iter().filter(|item| item.result == Outcome::ToFix).collect();
            let named = |item: &&&Item| {
                rules.split('|').any(|rule| rule == item.rule)
                    && item.page.is_some_and(|there| there == page || there == page + 1 || there + 1 == page)
            };
            let good = told.iter().filter(named).count();
            if good == 0 {
                missed.push(format!("{what}: {rules}"));
            }
            if good < told.len() || good > 1 {
                let told: Vec<String> = told
                    .iter()
                    .map(|item| format!("{} at {:?}:{:?} {}", item.rule, item.page, item.line, item.say))
                    .collect();
                wrong.push(format!("{what} ({place}):\n    {}", told.join("\n    ")));
            }
        }
        let found = faults.len() - missed.len();
        println!(
            "counted: {} the print {found} of {} planted by hand",
            if print.is_some() { "with" } else { "without" },
            faults.len()
        );
        assert!(
            wrong.is_empty(),
            "told otherwise or twice:\n{}\nnot told:\n{}",
            wrong.join("\n"),
            missed.join("\n")
        );
        assert!(found * 100 >= faults.len() * share, "not told:\n{}", missed.join("\n"));
    }
}

const BOOK: &str = include_str!("desk/book.md");

// Contents made from the headings, special symbols from the text, notes at the end, words of another language (13.2.1),
// small capitals (9.6.2), two volumes: from memory, where The Rules of UEB 2013 do not say it.
#[test]
fn a_book_of_two_volumes_passes() {
    assert_eq!(volumes::told(BOOK, Sheet::default()), []);
    for profile in [Profile::Full, Profile::Plain] {
        for contracted in [true, false] {
            for divide in [false, true] {
                for cells in [40, 34, 30] {
                    let sheet = Sheet { profile, contracted, divide, cells, ..Sheet::default() };
                    let bad = faults(BOOK, sheet, Scope::Volume);
                    assert!(bad.is_empty(), "{sheet:?}\n{}", bad.join("\n"));
                }
            }
        }
    }
}

fn ascii(print: &str, sheet: Sheet) -> Vec<Vec<String>> {
    let pages = Book::from_print(print, sheet).lines();
    pages.iter().map(|page| page.iter().map(|line| to_ascii(line)).collect()).collect()
}

#[test]
fn what_is_made_from_the_text_stands_in_the_book() {
    let sheet = Sheet { contracted: false, ..Sheet::default() };
    let pages = ascii(BOOK, sheet);
    let all: Vec<&str> = pages.iter().flatten().map(|line| line.trim()).collect();
    let has =
        |cells: &str| assert!(all.iter().any(|line| line.contains(cells)), "{cells}\n{}", all.join("\n"));
    // Print pages behind guide dots (Braille Formats 2016, from memory): the heading stands on print page 2.
    has(",below \"\"\"");
    assert!(all.iter().any(|line| line.starts_with(",below \"") && line.ends_with(" #b")));
    // 3.13, 4.2, 9.5: the symbol behind its dot locator, and its name.
    has(".=^/ acute accent");
    has(".=@#7 first transcriber-defined");
    // 13.2.1, 9.6.2.
    let contracted = ascii(BOOK, Sheet::default()).concat().join("\n");
    for cells in ["le mal de mer", "steht am", ",wer\nzuletzt kommt1", "@#7,m9d ! ,/ep@#'"] {
        assert!(contracted.contains(cells), "{cells}\n{contracted}");
    }
    // An end for each volume, each with its title page and pages from 1.
    has(",end of ,volume #a");
    assert_eq!(pages.iter().filter(|page| page[24].ends_with("   t#a")).count(), 2);
    assert_eq!(pages.iter().filter(|page| page[24].ends_with("   #a")).count(), 2);
}

// Where print has no page numbers, the contents name the braille pages, also those that they move themselves.
#[test]
fn contents_name_the_pages_as_they_are_laid_out() {
    let chapter = "The boats leave from the quay at the hours given below and wait for nobody who is late. ";
    let chapters: String =
        (1..30).map(|n| format!("## Chapter {n}\n\n{}\n\n", chapter.repeat(n % 7 + 3))).collect();
    let print = format!("# Contents\n\n```contents\n```\n\n# The Boats\n\n{chapters}");
    let sheet = Sheet { contracted: false, ..Sheet::default() };
    let pages = ascii(&print, sheet);
    let named = |heading: &str| -> String {
        let entry = pages.iter().flatten().find(|line| line.contains(heading) && line.contains("\"\"\""));
        entry.unwrap_or_else(|| panic!("{heading}")).rsplit(' ').next().unwrap().to_owned()
    };
    for heading in [",chapter #a ", ",chapter #ab ", ",chapter #bi "] {
        let bare = heading.trim();
        let page = pages.iter().find(|page| page.iter().any(|line| line.trim() == bare)).unwrap();
        assert_eq!(page[24].rsplit(' ').next().unwrap(), named(heading), "{heading}");
    }
    assert_eq!(faults(&print, sheet, Scope::Piece), Vec::<String>::new());
}

// Quotation marks, dashes and typeforms of a block are those of the whole text (7.2, 7.6, 9.9), also where a paragraph goes
// on over a print page or a typeform over several paragraphs.
#[test]
fn a_block_is_written_as_it_is_in_its_text() {
    let print = "He said, \"Come on board.\"\n\n\"It is 'late', or so I heard,\" she said.\n\n*A long story that the crew\n\u{c}2\ntold us of the quay* and more.\n\nThen *one by one\n\nthey went on board* again.\n\nA —— B, and — so.\n";
    for cells in [40, 36, 32, 28] {
        for divide in [false, true] {
            let sheet = Sheet { cells, divide, ..Sheet::default() };
            assert_eq!(faults(print, sheet, Scope::Piece), Vec::<String>::new(), "{sheet:?}");
        }
    }
    let all = ascii(print, Sheet::default()).concat().join("\n");
    assert!(all.contains(".7,a l;g") && all.contains("\ntold u ( ! quay.'") && !all.contains("\"9"), "{all}");
}

// A rule that a course does not have is left out by its number or its name.
#[test]
fn rules_are_switched_off_by_number_or_name() {
    let mut pages: Pages = laid_out(MIX, Sheet::default()).pages().map(<[String]>::to_vec).collect();
    make(&mut pages, 4, 2, "indent 0");
    let text: String = pages.iter().map(|page| page.join("\r\n") + "\r\n\u{c}").collect();
    let told = |off: &[String]| {
        let asked = Asked { scope: Scope::Volume, print: Some(MIX), off, ..Asked::default() };
        to_fix(&check(&BrailleFile::from_text(&text), &asked)).len()
    };
    let heading = rules::by_key("heading").unwrap();
    assert_eq!(told(&[]), 1);
    assert_eq!(told(&[heading.number.to_string()]), 0);
    assert_eq!(told(&[heading.key.to_owned()]), 0);
}

/// The texts of the shelf, each laid out in ways of its own; nothing is to fix in any, with print or without.
#[test]
fn the_shelf_passes() {
    let mut files: Vec<_> =
        std::fs::read_dir("www/data/shelf").unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    assert!(files.len() > 50);
    let mut bad = Vec::new();
    for (at, path) in files.iter().enumerate() {
        let file = std::fs::read_to_string(path).unwrap();
        let (head, body) = file.split_once("\n\n").unwrap();
        // Some pages of each are enough.
        let body: String = body.lines().take(60).map(|line| format!("{line}\n")).collect();
        let lines: Vec<&str> = body.lines().filter(|line| !line.trim().is_empty()).collect();
        let volume =
            format!("---\ntitle: The Boats\nauthor: the crew\nrunning-head: The Boats\n---\n\u{c}1\n{body}");
        let (paragraphs, verse) = (lines.join("\n\n"), format!("```verse\n{}\n```\n", lines.join("\n")));
        let texts = [
            (&body, Scope::Piece),
            (&paragraphs, Scope::Piece),
            (&volume, Scope::Volume),
            (&verse, Scope::Piece),
        ];
        for (form, (text, scope)) in texts.into_iter().enumerate() {
            let sheet = Sheet {
                contracted: !head.contains("uncontracted") && (at + form) % 3 > 0,
                divide: (at + form) % 2 == 0,
                cells: [40, 34, 28, 37, 32][(at + 2 * form) % 5],
                profile: if (at / 2 + form) % 2 == 0 { Profile::Full } else { Profile::Plain },
                ..Sheet::default()
            };
            let found = faults(text, sheet, scope);
            if !found.is_empty() {
                bad.push(format!("{}, {form}, {sheet:?}:\n    {}", path.display(), found.join("\n    ")));
            }
        }
    }
    assert!(bad.is_empty(), "{}", bad.join("\n"));
}

// Marks within blocks of our own are read or told, never set without a word; a span that is not read is told.
#[test]
fn marks_within_blocks_of_our_own_are_read_or_told() {
    let lines = |print: &str| -> Vec<usize> {
        volumes::told(print, Sheet::default()).iter().map(|told| told.line).collect()
    };
    let noted = "```verse\nThe tide goes out[^1]\nand in.\n```\n\nMore.\n\n[^1]: It does.\n";
    assert_eq!(lines(noted), Vec::<usize>::new());
    let sheet = Sheet { contracted: false, ..Sheet::default() };
    let all = ascii(noted, sheet).concat();
    assert!(all[0].ends_with("out;9#a") || all[0].ends_with("out9#a"), "{all:?}");
    assert!(all.iter().any(|line| line == &"3".repeat(12)));
    assert_eq!(faults(noted, sheet, Scope::Piece), Vec::<String>::new());
    assert_eq!(lines("```verse\nThe tide[^2]\n```\n"), [2]);
    assert_eq!(lines("```play\nMate: See [the quay](quay.html).\n(A <b>bell</b>.)\n```\n"), [2, 3]);
    assert_eq!(lines("A <span lang=\"fr\">mot</span> and a <span lang=fr>mot</span>.\n"), [1, 1]);
    assert_eq!(lines("A <span class=\"small-caps\">note</span>.\n"), Vec::<usize>::new());
    assert_eq!(lines("```box\nA boat.[^1]\n\n[^1]: Or two.\n```\n"), Vec::<usize>::new());
    let boxed = ascii("```box\nA boat.[^1]\n\n[^1]: Or two.\n```\n", sheet).concat().join("\n");
    assert!(boxed.contains(",or two4"), "{boxed}");
}

/// The rules under which a line of this kind is told that stands at the wrong cell.
fn rules_of(kind: Kind) -> &'static [&'static str] {
    let Kind::Form(Form { what, .. }) = kind else {
        return if kind.is_heading() { &["heading"] } else { &["paragraph"] };
    };
    match what {
        What::Verse | What::Numbered => &["verse", "line-numbers"],
        What::Quotation | What::Attribution | What::Listed => &["quotation"],
        What::Speech | What::Direction => &["play"],
        What::Opening | What::Closing => &["letter"],
        What::Note => &["transcribers-note"],
        What::Break => &["break"],
        What::Footnote | What::NoteLine => &["notes"],
        What::Entry => &["contents"],
        What::Table => &["table"],
        What::BoxTop | What::BoxBottom => &["box"],
        What::End => &["end-of-volume"],
        What::Symbol => &["special-symbols"],
        _ => &["paragraph"],
    }
}

// Every line of the mix at another cell, every blank line between blocks taken away: told once, by its own rule, with the
// print; without it by nothing that it is not. Format values from memory.
#[test]
fn a_fault_at_any_place_is_told_by_its_own_rule() {
    let manuscript = Manuscript::from_print(MIX, Sheet::default());
    let right: Pages = laid_out(MIX, Sheet::default()).pages().map(<[String]>::to_vec).collect();
    let mut faults: Vec<(usize, usize, String, Vec<&str>)> = Vec::new();
    for (at, page) in manuscript.pages().iter().enumerate() {
        // The title page stands before them.
        let lines = &right[at + 1];
        for (line, row) in page.rows.iter().enumerate().skip(1) {
            let before = lines[line].len() - lines[line].trim_start().len();
            match row {
                Some(row) => {
                    let (kind, _) = manuscript.braille(row.block).unwrap();
                    // One cell off is no fault in the middle; a number keeps its place.
                    let off = if kind.is_centred() { 4 } else { 1 };
                    if matches!(
                        kind,
                        Kind::Form(Form {
                            what: What::Table | What::BoxTop | What::BoxBottom | What::NoteLine,
                            ..
                        })
                    ) || line + 1 == lines.len()
                        || lines[line].len() + off > 40
                    {
                        continue;
                    }
                    let off = if (at + line) % 2 == 0 && before >= off { before - off } else { before + off };
                    faults.push((at + 1, line, format!("indent {off}"), rules_of(kind).to_vec()));
                }
                None if lines[line].is_empty() && line + 2 < lines.len() && !lines[line + 1].is_empty() => {
                    faults.push((at + 1, line, "drop".to_owned(), vec!["blank-lines"]));
                }
                None => {}
            }
        }
    }
    assert!(faults.len() >= 110, "{}", faults.len());
    for (print, share) in [(Some(MIX), 95), (None, 70)] {
        let (mut missed, mut wrong) = (Vec::new(), Vec::new());
        for (page, line, how, rules) in &faults {
            let mut pages = right.clone();
            make(&mut pages, *page, *line, how);
            let text: String = pages.iter().map(|page| page.join("\r\n") + "\r\n\u{c}").collect();
            let asked = Asked { scope: Scope::Volume, print, ..Asked::default() };
            let items = check(&BrailleFile::from_text(&text), &asked);
            let told: Vec<&Item> = items.iter().filter(|item| item.result == Outcome::ToFix).collect();
            let near = |item: &&Item| item.page.is_some_and(|there| there.abs_diff(page + 1) <= 1);
            let own = |item: &&&Item| {
                let loose = print.is_none() && ["paragraph", "heading", "blank-lines"].contains(&item.rule);
                near(item) && (rules.contains(&item.rule) || loose)
            };
            let place = format!("page {}, line {}, {how}: {rules:?}", page + 1, line + 1);
            if told.is_empty() {
                missed.push(place);
            } else if told.len() > 1 || !own(&&told[0]) {
                let told: Vec<String> = told
                    .iter()
                    .map(|item| format!("{} at {:?}:{:?} {}", item.rule, item.page, item.line, item.say))
                    .collect();
                wrong.push(format!("{place}\n    {}", told.join("\n    ")));
            }
        }
        let with = if print.is_some() { "with" } else { "without" };
        println!(
            "counted: {with} the print {} of {} planted by rule",
            faults.len() - missed.len(),
            faults.len()
        );
        assert!(wrong.is_empty(), "{with} print, told otherwise:\n{}", wrong.join("\n"));
        assert!(
            (faults.len() - missed.len()) * 100 >= faults.len() * share,
            "not told:\n{}",
            missed.join("\n")
        );
    }
}
