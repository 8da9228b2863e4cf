//! Marking against the standard's worked examples: right work gives no finding, and single mistakes made by
//! plain cell edits are found at their place and named. The examples are facts of *The Rules of Unified English
//! Braille*, Second Edition 2013; the edits are invented.

#[path = "marking/edits.rs"]
mod edits;

use std::collections::BTreeMap;

use cellwright::cell::{self, Cell};
use cellwright::marking::{Expected, Finding, Kind, mark};
use cellwright::ueb::{self, Explanation, Options};
use edits::{Edit, Numbers, WAYS, edit};

struct Row {
    print: String,
    cells: Vec<Cell>,
    context: bool,
}

fn rows(file: &str) -> Vec<Row> {
    std::fs::read_to_string(file)
        .unwrap()
        .lines()
        .filter(|line| !line.starts_with('#') && line.contains('\t'))
        .filter_map(|line| {
            let columns: Vec<&str> = line.split('\t').collect();
            Some(Row {
                print: columns[1].to_owned(),
                cells: cell::from_ascii(columns[2])?,
                context: columns.get(4).is_some_and(|context| !context.is_empty()),
            })
        })
        .collect()
}

/// Rows that the engine writes as the book does, the marked ones too: there every finding is marking's own.
fn sure() -> Vec<(String, bool, Explanation)> {
    let plain = rows("tests/data/examples.tsv").into_iter().map(|row| (row, false));
    let marked = rows("tests/data/examples-marked.tsv").into_iter().map(|row| (row, true));
    plain
        .chain(marked)
        .filter(|(row, _)| !row.context)
        .map(|(row, marks)| (explained(&row.print, marks), row, marks))
        .filter(|(right, row, _)| right.cells == row.cells)
        .map(|(right, row, marks)| (row.print, marks, right))
        .collect()
}

#[test]
fn right_work_gives_no_finding() {
    let (mut clean, mut all) = (0, 0);
    for row in rows("tests/data/examples.tsv").into_iter().filter(|row| !row.context) {
        all += 1;
        let marked =
            mark(&Expected::from_print(&row.print, &Options::default()), std::slice::from_ref(&row.cells));
        if marked.findings.iter().all(|finding| finding.kind == Kind::YourCall) {
            clean += 1;
        } else {
            println!("{}\t{}\t{:?}", row.print, cell::to_ascii(&row.cells), marked.findings[0].kind);
        }
        let own = ueb::transcribe(&row.print, &Options::default());
        let own = mark(&Expected::from_print(&row.print, &Options::default()), &[own]);
        assert_eq!(own.findings, [], "{}", row.print);
    }
    println!("right work without a finding: {clean} of {all}");
    assert!(clean * 100 >= all * 97);
}

fn explained(print: &str, marks: bool) -> Explanation {
    ueb::explain(print, &Options { marks, ..Options::default() })
}

/// Where an edit may be seen: its own cells, and the cells equal to them beside it, since of equal neighbours nobody
/// can say which was left out.
fn place(right: &[Cell], edit: &Edit) -> (usize, usize) {
    let (mut from, mut to) = (edit.cells.start, edit.cells.start + edit.by.len());
    let (gone, put) = (&right[edit.cells.clone()], &edit.by);
    let moved: &[Cell] = if put.is_empty() { gone } else { put };
    if gone.is_empty() || put.is_empty() {
        let n = moved.len();
        // A run that can slide: the cell before is the run's last, or the cell after its first.
        let mut back = 0;
        while edit.cells.start > back && right[edit.cells.start - back - 1] == moved[n - 1 - back % n] {
            back += 1;
        }
        let mut on = 0;
        while edit.cells.end + on < right.len() && right[edit.cells.end + on] == moved[on % n] {
            on += 1;
        }
        from -= back;
        to += on;
    }
    (from, to)
}

fn overlaps(found: &Finding, (from, to): (usize, usize)) -> bool {
    let (a, b) = (found.written.from, found.written.to);
    if a == b || from == to { a <= to && from <= b } else { a < to && from < b }
}

fn applied(right: &[Cell], edit: &Edit) -> Vec<Cell> {
    let mut written = right.to_vec();
    written.splice(edit.cells.clone(), edit.by.iter().copied());
    written
}

#[derive(Default)]
struct Tally {
    made: usize,
    found: usize,
    named: usize,
    cases: Vec<String>,
}

fn table(tallies: &BTreeMap<&'static str, Tally>) -> (usize, usize, usize) {
    let mut all = (0, 0, 0);
    for (what, tally) in tallies {
        println!("{:>5} made {:>5} found {:>5} named  {what}", tally.made, tally.found, tally.named);
        for case in tally.cases.iter().take(4) {
            println!("        {case}");
        }
        all = (all.0 + tally.made, all.1 + tally.found, all.2 + tally.named);
    }
    println!("{} made, {} found, {} named", all.0, all.1, all.2);
    all
}

#[test]
fn single_mistakes_are_found_and_named() {
    let rows = sure();
    assert!(rows.len() > 800, "too few rows to make mistakes in: {}", rows.len());
    let mut numbers = Numbers(7);
    let mut tallies = BTreeMap::<&'static str, Tally>::new();
    let each = 2000_usize.div_ceil(WAYS.len());
    for way in WAYS {
        let (mut made, mut tried) = (0, 0);
        while made < each && tried < 200_000 {
            tried += 1;
            let (print, marks, right) = &rows[numbers.below(rows.len())];
            let Some(edit) = edit(print, right, way, &mut numbers) else { continue };
            let written = applied(&right.cells, &edit);
            // What reads the same all the same is no mistake of shape.
            let shape = matches!(
                edit.kind,
                Kind::Mirrored
                    | Kind::Shifted
                    | Kind::DotSlip
                    | Kind::WrongSign
                    | Kind::LeftOut
                    | Kind::Added
            );
            let read = |cells: &[Cell]| ueb::read_print(cells, &ueb::ReadOptions::default());
            if shape && read(&written) == read(&right.cells) {
                continue;
            }
            made += 1;
            let options = Options { marks: *marks, ..Options::default() };
            let findings =
                mark(&Expected::from_print(print, &options), std::slice::from_ref(&written)).findings;
            let at = place(&right.cells, &edit);
            let tally = tallies.entry(way).or_default();
            tally.made += 1;
            tally.found += usize::from(findings.iter().any(|one| overlaps(one, at)));
            let right_kind =
                matches!(findings.as_slice(), [one] if one.kind == edit.kind && overlaps(one, at));
            tally.named += usize::from(right_kind);
            if !right_kind {
                let got: Vec<_> =
                    findings.iter().map(|one| (one.kind.name(), one.written.from, one.written.to)).collect();
                tally.cases.push(format!(
                    "{print} | {} | {} | {} at {at:?} | {got:?}",
                    cell::to_ascii(&right.cells),
                    cell::to_ascii(&written),
                    edit.kind.name()
                ));
            }
        }
    }
    let (made, found, named) = table(&tallies);
    assert!(made >= 1900, "only {made} mistakes could be made");
    assert!(found * 100 >= made * 98, "found {found} of {made}");
    assert!(named * 100 >= made * 95, "named {named} of {made}");
}

proptest::proptest! {
    #![proptest_config(proptest::test_runner::Config { cases: 32, failure_persistence: None, ..Default::default() })]

    #[test]
    fn any_two_inputs_end(print in ".{0,60}", bits in proptest::collection::vec(proptest::collection::vec(0u8..64, 0..50), 0..5)) {
        let lines: Vec<Vec<Cell>> =
            bits.iter().map(|line| line.iter().filter_map(|b| Cell::from_bits(*b)).collect()).collect();
        mark(&Expected::from_print(&print, &Options::default()), &lines);
        mark(&Expected::from_key(&lines, true), &lines);
    }
}
