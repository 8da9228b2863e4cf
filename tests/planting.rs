//! Mistakes on purpose, planted in the standard's worked examples (facts of *The Rules of Unified English Braille*,
//! Second Edition 2013): every one is found again against the print, never a form that is right as well, and the key
//! leads back to the right braille.

use std::collections::BTreeMap;

use cellwright::cell::{self, Cell};
use cellwright::marking::plant::{Planted, plant};
use cellwright::marking::{Expected, Kind, mark};
use cellwright::ueb::{self, Options};

/// Rows that the engine writes as the book does.
fn rows() -> Vec<(String, Vec<Cell>)> {
    std::fs::read_to_string("tests/data/examples.tsv")
        .unwrap()
        .lines()
        .filter(|line| !line.starts_with('#'))
        .filter_map(|line| {
            let columns: Vec<&str> = line.split('\t').collect();
            let cells = cell::from_ascii(columns.get(2)?)?;
            let sure = columns.get(4).is_none_or(|context| context.is_empty())
                && ueb::transcribe(columns[1], &Options::default()) == cells;
            sure.then(|| (columns[1].to_owned(), cells))
        })
        .collect()
}

fn restored(mut lines: Vec<Vec<Cell>>, key: &[Planted]) -> Vec<Vec<Cell>> {
    for one in key.iter().rev() {
        lines[one.line].splice(one.from..one.to, one.expected.iter().copied());
    }
    lines
}

#[test]
fn every_kind_is_planted_and_found_again_by_its_kind() {
    let rows = rows();
    let mut counts = BTreeMap::<Kind, (usize, usize)>::new();
    let mut wrong = Vec::new();
    for seed in 0..3 {
        for kind in Kind::ALL.into_iter().filter(|kind| *kind != Kind::YourCall) {
            for (number, (print, cells)) in rows.iter().enumerate() {
                let (changed, key) =
                    plant(std::slice::from_ref(cells), &[kind], 0.05, seed * 5000 + number as u64, true);
                assert_eq!(restored(changed.clone(), &key), std::slice::from_ref(cells));
                let [one] = key.as_slice() else { continue };
                assert_eq!(one.kind, kind);
                assert_ne!(changed[0], *cells);
                let found = mark(&Expected::from_print(print, &Options::default()), &changed).findings;
                let count = counts.entry(kind).or_default();
                count.0 += 1;
                // Print can leave a choice that the braille alone does not show; it may then be the reader's call.
                if matches!(found.as_slice(), [finding] if finding.kind == kind) {
                    count.1 += 1;
                } else {
                    let got: Vec<_> = found.iter().map(|finding| finding.kind.name()).collect();
                    wrong.push(format!(
                        "{} {got:?} {print} {} {}",
                        kind.name(),
                        cell::to_ascii(cells),
                        cell::to_ascii(&changed[0])
                    ));
                }
            }
        }
    }
    for (kind, (made, named)) in &counts {
        println!("{:>5} planted {:>5} named  {}", made, named, kind.name());
    }
    println!("{}", wrong.iter().take(30).cloned().collect::<Vec<_>>().join("\n"));
    assert_eq!(counts.len(), Kind::ALL.len() - 1, "a kind was never planted");
    let (made, named) = counts.values().fold((0, 0), |all, one| (all.0 + one.0, all.1 + one.1));
    assert!(counts.values().all(|count| count.0 >= 10));
    assert!(named * 100 >= made * 99, "{named} of {made}");
}

#[test]
fn the_rate_holds_and_the_seed_decides() {
    let lines: Vec<Vec<Cell>> =
        rows().into_iter().map(|row| row.1).filter(|cells| cells.len() > 12).collect();
    let cells: usize = lines.iter().map(Vec::len).sum();
    let (one, key) = plant(&lines, &[], 0.025, 3, true);
    assert_eq!(plant(&lines, &[], 0.025, 3, true), (one.clone(), key.clone()));
    assert_ne!(plant(&lines, &[], 0.025, 4, true).0, one);
    let share = key.len() as f64 / cells as f64;
    assert!((0.019..0.028).contains(&share), "{share}");
    assert_eq!(restored(one, &key), lines);
    assert!(plant(&lines, &[], 0.0, 1, true).1.is_empty());
}

#[test]
fn what_learners_do_most_is_planted_most() {
    let print =
        "He came on 10-12 May, rowing his own boat, with 3 or 4 others in the stern and nothing to eat.";
    let right = ueb::transcribe(print, &Options::default());
    let mut counts = BTreeMap::<Kind, usize>::new();
    for seed in 0..400 {
        for one in plant(std::slice::from_ref(&right), &[], 0.02, seed, true).1 {
            *counts.entry(one.kind).or_default() += 1;
        }
    }
    let all: usize = counts.values().sum();
    let share = |kind: Kind| counts.get(&kind).copied().unwrap_or(0) * 100 / all;
    println!("{counts:?}");
    assert!(share(Kind::Mirrored) >= 10 && share(Kind::DotSlip) >= 10 && share(Kind::MissedContraction) >= 8);
    assert!(share(Kind::OlderSign) <= 10 && share(Kind::Added) <= 10);
}
