//! Print to braille and back on examples of our own, section by section (`tests/data/readings.tsv` says how they were made).

use cellwright::cell;
use cellwright::ueb::{self, Options, ReadOptions};

struct Row {
    section: String,
    print: String,
    braille: String,
    marks: bool,
    one_way: bool,
}

fn rows() -> Vec<Row> {
    let text = include_str!("data/readings.tsv");
    text.lines()
        .filter(|line| !line.starts_with("# ") && !line.is_empty())
        .map(|line| {
            let columns: Vec<&str> = line.split('\t').collect();
            assert!(columns.len() >= 3, "{line}");
            Row {
                section: columns[0].to_owned(),
                print: columns[1].to_owned(),
                braille: columns[2].to_owned(),
                marks: columns.get(3) == Some(&"marks"),
                one_way: columns.get(4) == Some(&"one-way"),
            }
        })
        .collect()
}

#[test]
fn print_to_braille() {
    let rows = rows();
    let wrong: Vec<String> = rows
        .iter()
        .filter_map(|row| {
            let options = Options { marks: row.marks, ..Options::default() };
            let cells = cell::to_ascii(&ueb::transcribe(&row.print, &options));
            (cells != row.braille)
                .then(|| format!("{}: {}: {cells}, by the rule {}", row.section, row.print, row.braille))
        })
        .collect();
    assert!(rows.len() > 1000 && wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn and_back() {
    let wrong: Vec<String> = rows()
        .iter()
        .filter(|row| !row.one_way)
        .filter_map(|row| {
            let cells = cell::from_ascii(&row.braille)?;
            let options = ReadOptions { marks: row.marks, ..ReadOptions::default() };
            let print = ueb::read_print(&cells, &options);
            (alike(&print) != alike(&row.print))
                .then(|| format!("{}: {}: read {print}, print {}", row.section, row.braille, row.print))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Print with what one sign of braille may stand for made the same: straight and curled marks, and dashes (7.2, 7.6).
fn alike(print: &str) -> String {
    let mut out = String::new();
    for c in print.chars() {
        match c {
            '“' | '”' => out.push('"'),
            '‘' | '’' => out.push('\''),
            '–' => out.push('—'),
            '…' => out.push_str("..."),
            c => out.push(c),
        }
    }
    out
}
