//! Marking against the standard's worked examples: right work gives no finding, and single mistakes made by
//! plain cell edits are found at their place and named. The examples are facts of *The Rules of Unified English
//! Braille*, Second Edition 2013; the edits are invented.

#[path = "marking/edits.rs"]
mod edits;

use std::collections::BTreeMap;

use cellwright::cell::{self, Cell};
use cellwright::marking::plant::plant;
use cellwright::marking::{Expected, Finding, Kind, mark};
use cellwright::ueb::{self, Explanation, Options};
use edits::{Edit, Numbers, WAYS, edit};
use proptest::prelude::*;

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

/// Rows of the book that contradict its rules: (print, why).
const SLIPS: [(&str, &str); 1] =
    [("CANDU reactor", "ea does not bridge a prefix and the rest of the word (10.6.7)")];

#[test]
fn right_work_gives_no_finding() {
    let mut wrong = Vec::new();
    let mut all = 0;
    let mut check = |expected: &Expected, cells: &[Cell], calls: bool, what: &str| {
        all += 1;
        let findings = mark(expected, &[cells.to_vec()]).findings;
        if findings.iter().any(|one| !calls || one.kind != Kind::YourCall) {
            let kinds: Vec<_> = findings.iter().map(|one| one.kind.name()).collect();
            wrong.push(format!("{what} | {} | {kinds:?}", cell::to_ascii(cells)));
        }
    };
    for file in ["tests/data/examples.tsv", "tests/data/examples-marked.tsv"] {
        let marks = file.contains("marked");
        for row in rows(file) {
            if SLIPS.iter().any(|slip| slip.0 == row.print) {
                continue;
            }
            let print = row.print.as_str();
            // What else the marked rows depend on is often the transcriber's choice for the whole text.
            if !(marks && row.context) {
                let options = Options { marks, ..Options::default() };
                check(&Expected::from_print(print, &options), &row.cells, row.context, print);
            }
            for contracted in [true, false] {
                let options = Options { contracted, marks, ..Options::default() };
                let own = ueb::transcribe(print, &options);
                check(&Expected::from_print(print, &options), &own, false, print);
                check(&Expected::from_key(std::slice::from_ref(&own), contracted), &own, false, print);
            }
            check(&Expected::from_key(std::slice::from_ref(&row.cells), true), &row.cells, false, print);
        }
    }
    println!("{all} pieces of right work, {} with a finding", wrong.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
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

/// Whether the standard leaves it to the transcriber to write so: then it is no mistake.
fn allowed(right: &Explanation, written: &[Cell]) -> bool {
    right.choices.iter().any(|choice| {
        choice.others.iter().any(|other| {
            let mut whole = right.cells.clone();
            whole.splice(choice.cells.clone(), other.iter().copied());
            whole == written
        })
    })
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
    println!("counted: {} of {} found, {} named", all.1, all.0, all.2);
    all
}

/// Rows with a place that the standard leaves to the transcriber, and the section: a mistake there is a call.
const CALLS: [(&str, &str); 4] = [
    ("AFofL", "10.12.1: whether letters are said one by one is the transcriber's to know"),
    ("in't", "10.5: what the mark within it is, print does not tell"),
    ("psst", "10.12.1: the same"),
    ("**RESOLVED**", "9.1.3: a typeform that only makes a heading stand out may be left out"),
];

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
            if shape && read(&written) == read(&right.cells) || allowed(right, &written) {
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
            let call = CALLS.iter().any(|(row, _)| row == print);
            let right_kind = matches!(findings.as_slice(), [one] if overlaps(one, at)
                && (one.kind == edit.kind || call && one.kind == Kind::YourCall));
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
    let wrong: Vec<&String> = tallies.values().flat_map(|tally| &tally.cases).collect();
    assert!(found == made && named == made, "found {found}, named {named} of {made}: {wrong:#?}");
}

/// A row of the running text with what was done to it: the edits in order, and for each the place where it may be
/// seen in the changed row.
struct Changed {
    written: Vec<Cell>,
    edits: Vec<(Kind, (usize, usize))>,
}

/// About one mistake in forty cells, none on another's sign.
fn changed(print: &str, right: &Explanation, rate: usize, numbers: &mut Numbers) -> Changed {
    let mut edits: Vec<Edit> = Vec::new();
    for _ in 0..right.cells.len() {
        if numbers.below(rate) > 0 {
            continue;
        }
        let made = (0..400).find_map(|_| {
            let way = WAYS[numbers.below(WAYS.len())];
            edit(print, right, way, numbers)
        });
        let Some(new) = made else { continue };
        let (a, b) = (new.cells.start.saturating_sub(1), new.cells.end + 1);
        if edits.iter().all(|other| b <= other.cells.start || other.cells.end <= a) {
            edits.push(new);
        }
    }
    edits.sort_by_key(|edit| edit.cells.start);
    let (mut written, mut at) = (Vec::new(), 0);
    let mut places = Vec::new();
    for edit in &edits {
        written.extend_from_slice(&right.cells[at..edit.cells.start]);
        let (from, to) = place(&right.cells, edit);
        let moved = |place: usize| place + written.len() - edit.cells.start;
        places.push((edit.kind, (moved(from.max(at)), moved(to))));
        written.extend_from_slice(&edit.by);
        at = edit.cells.end;
    }
    written.extend_from_slice(&right.cells[at..]);
    Changed { written, edits: places }
}

/// Mistakes of the long texts that are told as something else, or in the place beside: the kind, the cells around, and what is
/// told there. All stand in one word with another mistake or next to one, where two causes have one likelier story.
const TOLD_OTHERWISE: [(&str, &str, &str); 18] = [
    ("left-out", "i,m5tal %d rcv y", ""),
    ("added", "reviate !aqqu$uct", "wrong-sign"),
    ("added", "viate !aqqu$uct d]", "wrong-sign"),
    ("added", "ce/or 3/rru\\s fian", "wrong-sign"),
    ("left-out", "am oeba .p 9 ! e", ""),
    ("dot-slip", "ian li/sgve\"> li/", "added"),
    ("left-out", "_/,,brailee www4l", ""),
    ("added", "/,,brailee www4liv", "wrong-sign"),
    ("left-out", "ild@a*ilr?54net@", "wrong-sign"),
    ("added", "ld@a*ilr?54net@> ", "wrong-sign"),
    ("added", "* bloss&mm$ \"<klos", "wrong-sign"),
    ("mirrored", "if]y notecble p]m", "wrong-sign"),
    ("left-out", "]y notecble p]m1", "wrong-sign"),
    ("mirrored", "s#dj #i-5 dia4 di", "wrong-sign"),
    ("added", "#dj #i-5 dia4 dia4 3t4 ,4t", "wrong-sign"),
    ("dot-slip", ";;,b-,u--s ch4 #g", "wrong-sign"),
    ("wrong-sign", "cjjdad-;7x ,u4,s4", "added"),
    ("left-out", "s ch-ch- th-!mvs", ""),
];

/// Texts of all rows, the braille in lines of 40 cells, with one mistake in forty cells.
#[test]
fn many_mistakes_in_a_long_text_are_found_and_named() {
    let rows = sure();
    let (mut made, mut found, mut findings_made) = (0, 0, 0);
    let mut wrong = Vec::new();
    // Each text has every row once, and what is done to a row hangs on nothing but the row and the text's number: so a
    // change somewhere else draws no other mistakes here.
    for turn in 0..6 {
        let (mut print, mut written, mut edits) = (String::new(), Vec::new(), Vec::new());
        for (text, marks, right) in &rows {
            let mut numbers = Numbers(
                text.bytes().fold(turn, |hash, b| (hash ^ u64::from(b)).wrapping_mul(0x100_0000_01B3)),
            );
            // Capitals go from row to row in a long text, and so do typeforms: rows with neither can be joined.
            let joins = !marks && !right.cells.windows(3).any(|three| cell::to_ascii(three) == ",,,");
            if !joins || text.contains(['"', '“', '‘', '\'', '”', '’', '—', '–']) {
                continue;
            }
            if !print.is_empty() {
                print.push(' ');
                written.push(Cell::BLANK);
            }
            let from = written.len();
            let row = changed(text, right, 40, &mut numbers);
            print.push_str(text);
            written.extend_from_slice(&row.written);
            edits.extend(row.edits.into_iter().map(|(kind, (a, b))| (kind, (from + a, from + b))));
        }
        // Rows may change each other where they meet; then nothing can be said about them.
        let (lines, starts) = wrapped(&written);
        let findings = mark(&Expected::from_print(&print, &Options::default()), &lines).findings;
        let flat: Vec<(usize, usize, Kind)> = findings
            .iter()
            .map(|one| {
                let start = starts[one.written.line];
                (start + one.written.from, start + one.written.to, one.kind)
            })
            .collect();
        findings_made += flat.len();
        for (kind, (from, to)) in edits {
            made += 1;
            let here: Vec<_> = flat
                .iter()
                .filter(
                    |(a, b, _)| {
                        if a == b || from == to { *a <= to && from <= *b } else { *a < to && from < *b }
                    },
                )
                .collect();
            found += usize::from(!here.is_empty());
            if !here.iter().any(|one| one.2 == kind) {
                let around = written[from.saturating_sub(8)..(to + 8).min(written.len())].to_vec();
                let told: Vec<&str> = here.iter().map(|one| one.2.name()).collect();
                wrong.push((kind.name(), cell::to_ascii(&around), told.join(" ")));
            }
        }
    }
    println!("counted: {found} of {made} in lines of forty cells found, {} named", found - wrong.len());
    let told: Vec<(&str, &str, &str)> =
        wrong.iter().map(|(kind, around, told)| (*kind, around.as_str(), told.as_str())).collect();
    assert_eq!(told, TOLD_OTHERWISE);
    assert_eq!(found + told.iter().filter(|(.., told)| told.is_empty()).count(), made);
    assert!(made > 900);
    assert!(findings_made * 100 <= made * 105, "{findings_made} findings for {made} mistakes");
}

/// Lines of at most 40 cells, broken at blanks; and where each begins.
fn wrapped(cells: &[Cell]) -> (Vec<Vec<Cell>>, Vec<usize>) {
    let (mut lines, mut starts, mut from) = (Vec::new(), Vec::new(), 0);
    while from < cells.len() {
        let end = if from + 40 >= cells.len() {
            cells.len()
        } else {
            let single =
                |at: &usize| cells[*at].is_blank() && !cells[at - 1].is_blank() && !cells[at + 1].is_blank();
            (from + 1..=from + 40).rev().filter(|at| *at + 1 < cells.len()).find(single).unwrap_or(from + 40)
        };
        lines.push(cells[from..end].to_vec());
        starts.push(from);
        from = if cells.get(end).is_some_and(|cell| cell.is_blank()) { end + 1 } else { end };
    }
    (lines, starts)
}

/// Cells, blanks and a few that numbers and words begin with oftener than others: what stands alike, a line can
/// align in more ways than one.
fn any_line() -> impl Strategy<Value = Vec<Cell>> {
    let telling = prop::sample::select(vec![0u8, 0, 0, 1, 16, 32, 36, 60]);
    prop::collection::vec(prop_oneof![telling, 0u8..64], 0..50)
        .prop_map(|bits| bits.into_iter().filter_map(Cell::from_bits).collect())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

    #[test]
    fn any_two_inputs_end(
        print in "(.|\\PC|[a-z ]){0,80}",
        lines in prop::collection::vec(any_line(), 0..6),
        seed in 0u64..1000,
    ) {
        for expected in [Expected::from_print(&print, &Options::default()), Expected::from_key(&lines, true)] {
            for finding in mark(&expected, &lines).findings {
                let line = lines.get(finding.written.line).map_or(0, Vec::len);
                assert!(finding.written.from <= finding.written.to && finding.written.to <= line);
                assert!(finding.print.end <= expected.print.len());
                assert!(finding.asked.end <= expected.cells.len());
            }
        }
        plant(&lines, &[], 0.1, seed, true);
    }

    #[test]
    fn anything_is_right_when_it_is_its_own_key(
        lines in prop::collection::vec(any_line(), 0..6),
        contracted in any::<bool>(),
    ) {
        assert_eq!(mark(&Expected::from_key(&lines, contracted), &lines).findings, []);
    }

    /// Print with spaces of any width, written with as many blanks or fewer, but one at least.
    #[test]
    fn spaces_of_any_width_are_right(
        words in prop::collection::vec(("[a-c1-2—-]{1,4}|the|quay|-", 1usize..4, any::<bool>()), 1..25),
    ) {
        let print: String = words.iter().map(|(word, wide, _)| word.to_owned() + &" ".repeat(*wide)).collect();
        let mut narrow = words.iter().map(|(.., narrow)| *narrow).cycle();
        let mut written: Vec<Cell> = Vec::new();
        let mut drop = false;
        for cell in ueb::transcribe(print.trim_end(), &Options::default()) {
            let again = cell.is_blank() && written.last().is_some_and(|last| last.is_blank());
            if again && drop {
                continue;
            }
            drop = narrow.next().unwrap_or_default();
            written.push(cell);
        }
        let expected = Expected::from_print(&print, &Options::default());
        assert_eq!(mark(&expected, &[written]).findings, []);
    }
}
