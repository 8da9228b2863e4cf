//! The check before hand-in on a notice of two pages, one fault of form at a time: each is named under its rule, at its
//! page and line, with nothing else beside it; every fourth is tried at the terminal too. Format values are those of
//! *Braille Formats: Principles of Print-to-Braille Transcription*, 2016, from memory; the notice is invented.

use std::io::Write as _;
use std::process::{Command, Stdio};

use cellwright::manuscript::Sheet;
use cellwright::manuscript::check::{Asked, Item, Outcome, Scope, check};
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::layout::Manuscript;

const NOTICE: &str = include_str!("desk/notice.md");

/// A file's pages as lines of braille ASCII.
type Pages = Vec<Vec<String>>;

fn pages(print: &str) -> Pages {
    let file = BrailleFile::from_pages(&Manuscript::from_print(print, Sheet::default()).lines());
    file.pages().map(<[String]>::to_vec).collect()
}

fn file(pages: &Pages) -> String {
    pages.iter().map(|page| page.join("\r\n") + "\r\n\u{c}").collect()
}

fn to_fix(items: &[Item]) -> Vec<(&'static str, Option<usize>, Option<usize>)> {
    items
        .iter()
        .filter(|item| item.result == Outcome::ToFix)
        .map(|item| (item.rule, item.page, item.line))
        .collect()
}

fn checked(pages: &Pages, print: &str, scope: Scope) -> Vec<Item> {
    let asked = Asked { scope, print: Some(print), ..Asked::default() };
    check(&BrailleFile::from_text(&file(pages)), &asked)
}

/// The page and line, from 0, of the line that has these cells.
fn line(pages: &Pages, cells: &str) -> (usize, usize) {
    let found = pages
        .iter()
        .enumerate()
        .find_map(|(page, lines)| Some((page, lines.iter().position(|line| line.contains(cells))?)));
    found.unwrap_or_else(|| panic!("no line has {cells}"))
}

/// Puts another line in the place of one.
fn swap(pages: &mut Pages, cells: &str, with: impl Fn(&str) -> String) -> (usize, usize) {
    let (page, at) = line(pages, cells);
    pages[page][at] = with(&pages[page][at]);
    (page, at)
}

/// Takes a line away; the page's number stays where it is.
fn take(pages: &mut Pages, page: usize, at: usize) {
    pages[page].remove(at);
    let number = number_of(&mut pages[page][23]);
    pages[page].push(number);
}

/// Takes the page number off a page's last line and gives it as a line of its own.
fn number_of(line: &mut String) -> String {
    let (text, number) = line.split_at(38);
    let number = format!("{number:>40}");
    *line = text.trim_end().to_owned();
    number
}

/// One fault: what it is, how it is made (it gives the place where it is to be told), and its rule.
type Fault = (&'static str, fn(&mut Pages) -> (usize, usize), &'static str);

/// Each name says the rule that is broken; Braille Formats 2016, from memory.
const FAULTS: [Fault; 29] = [
    ("a centred heading at cell 1", |p| swap(p, ",summ]", |l| l.trim_start().into()), "heading"),
    ("a centred heading four cells too far", |p| swap(p, ",summ]", |l| format!("    {l}")), "heading"),
    ("a cell-5 heading at cell 1", |p| swap(p, ",week\"d ,de", |l| l.trim_start().into()), "heading"),
    ("a cell-5 heading at cell 7", |p| swap(p, ",week\"d ,de", |l| format!("  {l}")), "heading"),
    ("a cell-5 heading at cell 3", |p| swap(p, ",2f ,y", |l| l[2..].into()), "heading"),
    ("a cell-7 heading at cell 5", |p| swap(p, ",lo/ ,prop", |l| l[2..].into()), "heading"),
    ("a cell-7 heading centred", |p| swap(p, ",9 ,bad", |l| format!("         {l}")), "heading"),
    ("a paragraph at cell 1", |p| swap(p, ",\"ey\"o %d", |l| l.trim_start().into()), "paragraph"),
    ("a paragraph at cell 5", |p| swap(p, ",:at\"e is", |l| format!("  {l}")), "paragraph"),
    ("a paragraph at cell 2", |p| swap(p, ",:5 ! w9d", |l| l[1..].into()), "paragraph"),
    ("a paragraph that runs over to cell 3", |p| swap(p, "[n]'s risk", |l| format!("  {l}")), "paragraph"),
    ("a list item at cell 3", |p| swap(p, "#e3#ee", |l| format!("  {}", l.trim_end())), "paragraph"),
    (
        "a list item that runs over to cell 1",
        |p| swap(p, "  mail van", |l| l.trim_start().into()),
        "paragraph",
    ),
    ("a list item that runs over to cell 5", |p| swap(p, "  mail van", |l| format!("  {l}")), "paragraph"),
    (
        "no blank line after the centred heading",
        |p| {
            take(p, 0, 1);
            (0, 1)
        },
        "blank-lines",
    ),
    (
        "no blank line before a cell-5 heading",
        |p| {
            let (page, at) = line(p, ",week\"d ,de");
            take(p, page, at - 1);
            (page, at - 1)
        },
        "blank-lines",
    ),
    (
        "a blank line after a cell-7 heading",
        |p| {
            let (page, at) = line(p, ",lo/ ,prop");
            p[page].insert(at + 1, String::new());
            p[page].remove(23);
            (page, at + 1)
        },
        "blank-lines",
    ),
    (
        "a blank line inside a paragraph",
        |p| {
            let (page, at) = line(p, "li<th\\se1");
            p[page].insert(at, String::new());
            p[page].remove(24);
            (page, at)
        },
        "blank-lines",
    ),
    (
        "two blank lines before a heading",
        |p| {
            let (page, at) = line(p, ",9 ,bad");
            p[page].insert(at, String::new());
            p[page].remove(24);
            (page, at)
        },
        "blank-lines",
    ),
    (
        "a line of 41 cells",
        |p| {
            swap(p, "w >range", |l| l[2..].into());
            swap(p, "or %e", |l| format!("{l} w"))
        },
        "line-length",
    ),
    ("blanks at a line's end", |p| swap(p, "writt5 yet4", |l| format!("{l}  ")), "trailing-blanks"),
    ("a tab for blanks", |p| swap(p, "  ,:5 ! w9d", |l| l.replacen("is abv", "is\tabv", 1)), "characters"),
    (
        "a page of 26 lines",
        |p| {
            p[1].insert(23, String::new());
            (1, 25)
        },
        "page-length",
    ),
    ("no page number", |p| swap(p, "   #b", |_| String::new()), "page-number"),
    (
        "the page number without its numeric indicator",
        |p| swap(p, "   #b", |l| l.replace("#b", " b")),
        "page-number",
    ),
    ("the page number in the middle", |p| swap(p, "   #b", |l| l[10..].into()), "page-number"),
    ("the page number of another page", |p| swap(p, "   #b", |l| l.replace("#b", "#c")), "page-number-order"),
    (
        "the page number on the line above",
        |p| {
            let number = p[1].pop().unwrap();
            p[1][23] = number;
            (1, 23)
        },
        "page-number",
    ),
    (
        "a numeric indicator at a line's end",
        |p| {
            let (page, at) = line(p, "no?+1 we sail");
            p[page][at] = p[page][at].replace(" #ie.0 ( cross+s g", " #");
            p[page][at + 1] = format!("ie.0 ( cross+s g {}", p[page][at + 1]);
            (page, at)
        },
        "indicator-at-line-end",
    ),
];

#[test]
fn each_fault_of_form_is_told_under_its_rule_at_its_place() {
    let right = pages(NOTICE);
    assert_eq!(right.len(), 2);
    assert_eq!(to_fix(&checked(&right, NOTICE, Scope::Piece)), []);
    let mut missed = Vec::new();
    for (what, make, rule) in FAULTS {
        let mut faulty = right.clone();
        let (page, at) = make(&mut faulty);
        let found = to_fix(&checked(&faulty, NOTICE, Scope::Piece));
        // A break within a word is one of text as well.
        let found: Vec<_> =
            found.into_iter().filter(|one| one.0 != "print" || rule != "indicator-at-line-end").collect();
        if found != [(rule, Some(page + 1), Some(at + 1))] {
            missed.push(format!("{what}: {rule} at page {}, line {}: {found:?}", page + 1, at + 1));
        }
    }
    println!("{} of {} faults of form told", FAULTS.len() - missed.len(), FAULTS.len());
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}

#[test]
fn the_terminal_says_the_same() {
    let folder = std::env::temp_dir().join(format!("cellwright-desk-check-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let print = folder.join("notice.md");
    std::fs::write(&print, NOTICE).unwrap();
    for (what, make, _) in FAULTS.into_iter().step_by(4) {
        let mut faulty = pages(NOTICE);
        make(&mut faulty);
        let mut child = Command::new(env!("CARGO_BIN_EXE_cellwright"))
            .args(["check", "--print"])
            .arg(&print)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        child.stdin.take().unwrap().write_all(file(&faulty).as_bytes()).unwrap();
        let said = child.wait_with_output().unwrap();
        let items: serde_json::Value = serde_json::from_slice(&said.stdout).unwrap();
        let own = serde_json::to_value(checked(&faulty, NOTICE, Scope::Piece)).unwrap();
        assert_eq!(items["items"], own, "{what}");
        assert_eq!(said.status.code(), Some(1), "{what}");
    }
    std::fs::remove_dir_all(&folder).unwrap();
}

const VOLUME: &str = "---\ntitle: The Skerry Line\nauthor: the crew\npublisher: Hallam Quay\nrunning-head: The Skerry Line\n---\n\
    \u{c}iii\n# Foreword\n\nThe boats have sailed for a long while.\n\u{c}1\n# The boats\n\n";

fn volume() -> String {
    let prose = "The boats leave from the quay at the hours given below and wait for nobody who is late. ";
    format!("{VOLUME}{}\n\u{c}2\n{}\n\n{}\n", prose.repeat(3), prose.repeat(2), prose.repeat(25))
}

// Running head, print page numbers, page change, pages t1 and p1: Braille Formats 2016, from memory.
#[test]
fn heads_and_print_pages_of_a_volume() {
    let print = volume();
    let right = pages(&print);
    let labels: Vec<String> =
        right.iter().map(|page| page[24].split(' ').next_back().unwrap().to_owned()).collect();
    assert_eq!(labels[..3], ["t#a", "p#a", "#a"], "{labels:?}");
    let good = checked(&right, &print, Scope::Volume);
    assert_eq!(to_fix(&good), [], "{}", file(&right));
    // A running head too long for its line is cut short alike on all pages, also beside a12.
    let long = print.replace("running-head: The", "running-head: Winter Sailings and the Fares of the");
    assert_eq!(to_fix(&checked(&pages(&long), &long, Scope::Volume)), []);
    let faults: [Fault; 12] = [
        (
            "no running head",
            |p| {
                let number = p[2][0].split("   ").last().unwrap().to_owned();
                p[2][0] = format!("{number:>40}");
                (2, 0)
            },
            "running-head",
        ),
        (
            "a running head with a slip",
            |p| {
                p[3][0] = p[3][0].replace("sk", "ks");
                (3, 0)
            },
            "running-head",
        ),
        (
            "a running head at cell 1",
            |p| {
                p[2][0] = format!("{:<38}#a", p[2][0].trim_start().strip_suffix("#a").unwrap().trim_end());
                (2, 0)
            },
            "running-head",
        ),
        (
            "no print page number",
            |p| {
                p[2][0] = p[2][0].trim_end_matches("#a").trim_end().to_owned();
                (2, 0)
            },
            "print-page",
        ),
        (
            "a run-on page without its letter",
            |p| {
                p[3][0] = p[3][0].replace("  a#b", "   #b");
                (3, 0)
            },
            "print-page",
        ),
        (
            "another letter",
            |p| {
                p[3][0] = p[3][0].replace("  a#b", "  b#b");
                (3, 0)
            },
            "print-page",
        ),
        (
            "no line at the page change",
            |p| {
                let (page, at) = line(p, "------------");
                take(p, page, at);
                (page, at)
            },
            "print-page",
        ),
        (
            "another number at the page change",
            |p| swap(p, "------------", |l| l.replace("#b", "#c")),
            "print-page",
        ),
        // The title page: its parts, their order, centred, true to the pages; from memory.
        (
            "a line of the title page at cell 1",
            |p| {
                p[0][2] = p[0][2].trim_start().to_owned();
                (0, 2)
            },
            "title-page",
        ),
        (
            "the author before the title",
            |p| {
                p[0].swap(0, 2);
                (0, 0)
            },
            "title-page",
        ),
        (
            "no publisher",
            |p| {
                p[0][4] = String::new();
                (0, 0)
            },
            "title-page",
        ),
        (
            "the page numbers of another volume",
            |p| {
                let at = p[0].iter().position(|line| line.contains("p#a")).unwrap();
                p[0][at] = p[0][at].replace("p#a", "p#b");
                (0, 0)
            },
            "title-page",
        ),
    ];
    let mut missed = Vec::new();
    for (what, make, rule) in faults {
        let mut faulty = right.clone();
        let (page, at) = make(&mut faulty);
        let found = to_fix(&checked(&faulty, &print, Scope::Volume));
        if found != [(rule, Some(page + 1), Some(at + 1))] {
            missed.push(format!("{what}: {rule} at page {}, line {}: {found:?}", page + 1, at + 1));
        }
    }
    assert!(missed.is_empty(), "{}", missed.join("\n"));
}
