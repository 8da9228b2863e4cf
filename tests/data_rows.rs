//! A bad row in any data file is refused by file and line, when the project is built and here.

#[path = "../src/build_data.rs"]
mod data;

use std::path::{Path, PathBuf};

fn home() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn files() -> Vec<PathBuf> {
    let folders = ["src", "www/data", "tests/data"].map(|name| home().join(name));
    match data::check_all(&folders.each_ref().map(PathBuf::as_path)) {
        Ok(files) => files,
        Err(refusal) => panic!("{refusal}"),
    }
}

/// Rows that cannot be, for each file: each is put in the place of the file's last row.
const BAD: &[(&str, &[&str])] = &[
    (
        "src/ueb/signs.tsv",
        &[
            "x",
            "letter a\ta\ta\t0061\tletter\t4.1\tletter a",
            "new\t\u{e9}\ta\t0061\tletter\t4.1\tnew",
            "new\ta\ta\t0061\tletters\t4.1\tnew",
            "new\ta\ta\t0061\tletter\tfour\tnew",
            "new\ta\ta\t0061\tletter\t4.1\t",
        ],
    ),
    ("older.tsv", &["4\tdd\tinside", "4\tdd\twithin\t1.3.2", "4\tdd\tinside\tmemory", "\tdd\tinside\t1.3.2"]),
    ("rules.tsv", &["1.3", "1.3.\tSigns are gone.", "99\tno sentence", "2.6\tTwice."]),
    ("counts.tsv", &["letter a", "letter aa\t5", "letter a\tmany"]),
    ("left_out.tsv", &["letter a", "letter aa\twhy", "letter a\t "]),
    ("prompts.tsv", &["Notice", "Notice\t", "a\tb\tc"]),
    (
        "units.txt",
        &["tile: The first", "no head", "signs: letter aa", "unit: a-to-j", "builds on: nothing", "about:"],
    ),
    (
        "lessons.txt",
        &[
            "lesson: a-to-j",
            "no head",
            "rule: ten | A rule.",
            "rule: 10.1 | ",
            "rule: 10.1",
            "show: bead",
            "nots: a | b",
            "not:  | b",
        ],
    ),
    (
        "clauses.tsv",
        &[
            "ten\tcapitals\tapart\t",
            "10.1\tcapitals\tapart\t",
            "10.99\tcapitals\tsung\t",
            "10.99\tcapitals\tapart",
        ],
    ),
    ("parts.txt", &["[third]", "Bag", "b4g"]),
    ("shortforms.txt", &["abut\tabutment", "about\thereabout", "zzz", "about"]),
    ("lexicon.txt", &["aba|lone", "aba|lone\tsaying", "abalone\tsaid", "ab4|lone\tsaid"]),
    ("exceptions.txt", &["aba|lone", "aba|lone\tsaying", "abalone\tsaid"]),
    ("by_rule.tsv", &["band\tb&", "band\tB\u{e9}\t10.3.1", "band\tb&\tten"]),
    ("acronyms.txt", &["aaa\tword", "aaa\tworld\tmeaning", "aaa\t\t"]),
    ("syllables.txt", &["Abacus", "abacus\tx"]),
    ("words.txt", &["Abacus", "abacus x"]),
    ("often.txt", &["The", "of the"]),
    ("frames.txt", &["The {nobody} is here.", "The {who is here.", "who = a |  | b", "wordless"]),
    ("data/signs.tsv", &["a\ta\t0061", "\u{e9}\ta\t0061\tletter a\t4.1"]),
    ("data/examples.tsv", &["10.1\tbut\tb", "ten\tbut\tb\tword\t", "10.1\tbut\t\u{e9}\tword\t"]),
    ("data/examples-marked.tsv", &["9.1\t*a*\tb", "9.1\t*a*\t\tword\t"]),
    ("data/wordlist.tsv", &["a\tb", "a\t\u{e9}\t10.1"]),
    ("data/by-rule.tsv", &["10.1\tbut", "ten\tbut\tb", "10.1\tbut\t\u{e9}"]),
    ("data/divided.tsv", &["10.13.1\tpencil\tp5-\tcil", "10.13.1\tpencil\tp5-\tcil\tgood"]),
    ("data/readings.tsv", &["10.1\tbut", "10.1\tbut\t\u{e9}", "10.1\t\tb", "10.1\tbut\tb\tmark"]),
    (
        "data/clause-places.tsv",
        &["10.1\tdefinition", "ten\tdefinition\twhy", "10.1\t\twhy", "2.1\tdefinition\ttwice"],
    ),
    ("data/links-1.tsv", &["ferry", "ferry\t"]),
    ("data/record-1-due.tsv", &["letter a\tread\tsoon\tfirm", "letter a\tread"]),
    ("passages.txt", &["== A title", "== A title | grade | a-to-j", "==A title | contracted | a-to-j"]),
];

#[test]
fn a_bad_row_in_each_file_is_a_named_refusal() {
    let files = files();
    let register = std::fs::read_to_string(home().join("src/ueb/signs.tsv")).unwrap();
    let mut seen = 0;
    for path in &files {
        let name = path.strip_prefix(home()).unwrap().display().to_string();
        let (_, rows) = BAD
            .iter()
            .find(|(end, _)| path.ends_with(end))
            .unwrap_or_else(|| panic!("{name}: no bad row is tried"));
        seen += 1;
        let text = std::fs::read_to_string(path).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        for row in *rows {
            let mut changed = lines.clone();
            *changed.last_mut().unwrap() = row;
            let refusal = data::check(&name, &(changed.join("\n") + "\n"), &register);
            let refusal = refusal.expect_err(&format!("{name}: '{row}' is taken"));
            assert_eq!(
                (refusal.file.as_str(), refusal.line),
                (name.as_str(), lines.len()),
                "{row}: {refusal}"
            );
        }
    }
    assert_eq!(seen, BAD.len(), "each kind of file is there");
}
