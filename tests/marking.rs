//! Marking against the standard's worked examples: right work gives no finding, and single mistakes made by
//! plain cell edits are found at their place and named. The examples are facts of *The Rules of Unified English
//! Braille*, Second Edition 2013; the edits are invented.

use cellwright::cell::{self, Cell};
use cellwright::marking::{Expected, Kind, mark};
use cellwright::ueb::{self, Options};

struct Row {
    print: String,
    cells: Vec<Cell>,
    context: bool,
}

fn rows() -> Vec<Row> {
    std::fs::read_to_string("tests/data/examples.tsv")
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

/// Rows that the engine writes as the book does: there every finding is marking's own.
fn sure() -> Vec<(String, Vec<Cell>)> {
    rows()
        .into_iter()
        .filter(|row| !row.context && ueb::transcribe(&row.print, &Options::default()) == row.cells)
        .map(|row| (row.print, row.cells))
        .collect()
}

#[test]
fn right_work_gives_no_finding() {
    let (mut clean, mut all) = (0, 0);
    for row in rows().into_iter().filter(|row| !row.context) {
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

struct Numbers(u64);

impl Numbers {
    fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % count as u64) as usize
    }
}

/// One mistake by a plain edit: the kinds that name it, its place, the changed cells.
fn edit(cells: &[Cell], numbers: &mut Numbers) -> Option<(Vec<Kind>, usize, Vec<Cell>)> {
    let ascii = |c: char| Cell::from_ascii(c).unwrap();
    let at = numbers.below(cells.len());
    let cell = cells[at];
    let mut out = cells.to_vec();
    let kinds = match numbers.below(7) {
        0 if !cell.is_blank() && cell.mirror() != cell => {
            out[at] = cell.mirror();
            vec![Kind::Mirrored]
        }
        1 => {
            out[at] = cell.shifted(1).filter(|low| *low != cell && !cell.is_blank())?;
            vec![Kind::Shifted]
        }
        2 if !cell.is_blank() => {
            out[at] = Cell::from_bits(cell.bits() ^ (1 << numbers.below(6))).filter(|c| !c.is_blank())?;
            vec![Kind::DotSlip]
        }
        3 if cell == ascii('#') || cell == ascii(',') && cells.get(at + 1) != Some(&cell) => {
            if at > 0 && (cells[at - 1] == ascii(',') || cells[at - 1].is_prefix()) {
                return None;
            }
            out.remove(at);
            vec![Kind::MissingIndicator, Kind::LostPrefix]
        }
        4 if cell.is_blank() => {
            out.remove(at);
            vec![Kind::Spacing]
        }
        5 => {
            let spelled = match cell.to_ascii() {
                '/' => "st",
                '%' => "sh",
                '>' => "ar",
                '$' => "ed",
                '}' | ']' => "er",
                '+' => "ing",
                _ => return None,
            };
            if at == 0 || cells[at - 1].is_prefix() || cells[at - 1].is_blank() {
                return None;
            }
            out.splice(at..=at, cell::from_ascii(spelled)?);
            vec![Kind::MissedContraction]
        }
        6 if !cell.is_blank() && (at == 0 || cells[at - 1].is_blank()) && cell.is_upper() => {
            out.insert(at, ascii(','));
            vec![Kind::ExtraIndicator]
        }
        _ => return None,
    };
    Some((kinds, at, out))
}

#[test]
fn single_mistakes_are_found_and_named() {
    let rows = sure();
    assert!(rows.len() > 100, "too few rows to make mistakes in: {}", rows.len());
    let mut numbers = Numbers(4);
    let (mut made, mut found, mut named) = (0, 0, 0);
    let mut missed = std::collections::BTreeMap::<String, Vec<String>>::new();
    while made < 2000 {
        let (print, cells) = &rows[numbers.below(rows.len())];
        let Some((kinds, at, written)) = edit(cells, &mut numbers) else { continue };
        made += 1;
        let findings =
            mark(&Expected::from_print(print, &Options::default()), std::slice::from_ref(&written)).findings;
        let near = |place: usize| place.abs_diff(at) <= 2;
        found += usize::from(
            findings
                .iter()
                .any(|one| near(one.written.from) || (one.written.from..=one.written.to).contains(&at)),
        );
        // A slip that turns one sign into another that reads the same, or an indicator into another, is named
        // by that first (the order of kinds), with the shape beside it.
        let right = |one: &cellwright::marking::Finding| {
            kinds.contains(&one.kind) || one.also.iter().any(|kind| kinds.contains(kind))
        };
        if matches!(findings.as_slice(), [one] if right(one)) {
            named += 1;
        } else {
            let got: Vec<_> = findings.iter().map(|one| one.kind.name()).collect();
            missed.entry(format!("{} as {got:?}", kinds[0].name())).or_default().push(format!(
                "{print} {} {}",
                cell::to_ascii(cells),
                cell::to_ascii(&written)
            ));
        }
    }
    for (what, cases) in &missed {
        println!("{} {what}: {:?}", cases.len(), &cases[..cases.len().min(3)]);
    }
    println!("found {found}, named {named} of {made}");
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
