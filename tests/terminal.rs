//! The commands at a terminal, as a person calls them.

use std::io::Write;
use std::process::{Command, Output, Stdio};

fn cellwright(args: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_cellwright"))
        .args(args)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    // A command that fails at once does not wait for its input.
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    child.wait_with_output().unwrap()
}

fn out(args: &[&str], input: &str) -> String {
    let output = cellwright(args, input);
    assert!(output.status.success(), "{args:?}");
    String::from_utf8(output.stdout).unwrap()
}

/// Common practice: numeric indicator dots 3-4-5-6, capital indicator dot 6, "in" dots 3-5.
#[test]
fn each_line_gives_one_line() {
    assert_eq!(out(&["transcribe"], "in\n\n1\n"), "⠔\n\n⠼⠁\n");
    assert_eq!(out(&["transcribe", "--notation", "ascii"], "in 1"), "9 #a\n");
    assert_eq!(out(&["transcribe", "--notation=dots"], "A in\n"), "6 1 blank 3-5\n");
    assert_eq!(out(&["transcribe", "--uncontracted"], "in\r\n"), "⠊⠝\n");
    assert_eq!(out(&["transcribe", "--running"], "in\n1\n").lines().count(), 2);
}

#[test]
fn braille_is_told_apart_by_its_characters() {
    assert_eq!(out(&["read"], "⠔⠀⠼⠁\n9 #A\n3-5 blank 3-4-5-6 1\n"), "in 1\nin 1\nin 1\n");
    assert_eq!(out(&["read", "--notation", "dots"], "35 0 3456 1\n"), "in 1\n");
}

#[test]
fn reasons_are_json_lines() {
    let text = out(&["explain"], "in the\n1\n");
    let lines: Vec<serde_json::Value> =
        text.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(lines.len(), 2);
    assert_eq!(lines[0]["print"], "in the");
    for sign in lines[0]["signs"].as_array().unwrap() {
        assert!(sign["name"].is_string() && sign["class"].is_string() && sign["section"].is_string());
        assert_eq!(sign["print"].as_array().map(Vec::len), Some(2));
        assert_eq!(sign["cells"].as_array().map(Vec::len), Some(2));
    }
    assert!(lines[0]["passed_over"].is_array());
}

#[test]
fn what_has_no_sign_is_named_and_the_work_goes_on() {
    let output = cellwright(&["transcribe"], "a\nb\u{1F426}b\n");
    assert!(output.status.success());
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("line 2, character 2") && said.contains("U+1F426"), "{said}");
    assert_eq!(String::from_utf8(output.stdout).unwrap().lines().count(), 2);
}

#[test]
fn a_call_that_cannot_be_understood_is_one_line_and_a_failure() {
    for args in [
        &["dance"][..],
        &["transcribe", "--loudly"],
        &["read", "--notation", "colours"],
        &["serve", "--port", "x"],
    ] {
        let output = cellwright(args, "");
        assert!(!output.status.success(), "{args:?}");
        assert!(output.stdout.is_empty());
        assert_eq!(String::from_utf8(output.stderr).unwrap().lines().count(), 1, "{args:?}");
    }
}

#[test]
fn a_taken_port_is_said_before_anything_is_built() {
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    let output = cellwright(&["serve", "--port", &port], "");
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(!output.status.success() && said.contains(&port) && said.lines().count() == 1, "{said}");
}

#[test]
fn help_is_there_for_who_asks() {
    assert_eq!(out(&["help"], ""), out(&["--help"], ""));
}

const NOTICE: &str = "# The winter timetable\n\nFrom Monday the boats of the Skerry Line keep these hours. Be on the quay \
                      ten minutes before.\n\n- 7:15 Hallam Quay to Orrin\n- 10:30 Hallam Quay to Little Fenn\n";

/// What the page does, by the same functions.
fn laid_out(sheet: cellwright::manuscript::Sheet) -> String {
    use cellwright::manuscript::{file::BrailleFile, layout::Manuscript};
    BrailleFile::from_pages(&Manuscript::from_print(NOTICE, sheet).lines()).to_text()
}

#[test]
fn lay_out_gives_what_the_page_gives() {
    use cellwright::manuscript::Sheet;
    let brf = out(&["lay-out"], NOTICE);
    assert_eq!(brf, laid_out(Sheet::default()));
    // Common practice: lines end by CR LF, pages by form feed, 25 lines a page.
    assert!(brf.ends_with("\r\n\u{c}") && brf.matches("\r\n").count() == 25);
    assert_eq!(
        out(&["lay-out", "--cells", "28", "--lines", "12", "--uncontracted", "--divide"], NOTICE),
        laid_out(Sheet { cells: 28, lines: 12, contracted: false, divide: true, ..Sheet::default() })
    );
    // Laid out anew from braille, the words stay and the lines fit.
    let narrow = out(&["lay-out", "--from-braille", "--cells", "28"], &brf);
    assert!(narrow.lines().all(|line| line.trim_end_matches('\u{c}').len() <= 28));
    assert_eq!(narrow, out(&["lay-out", "--cells", "28"], NOTICE));
    assert_eq!(cellwright(&["lay-out", "--cells", "3"], NOTICE).status.code(), Some(2));
}

#[test]
fn check_gives_what_the_page_gives_and_its_status_says_so() {
    use cellwright::manuscript::check::{Asked, check};
    use cellwright::manuscript::file::BrailleFile;
    let print = std::env::temp_dir().join(format!("cellwright-notice-{}.md", std::process::id()));
    std::fs::write(&print, NOTICE).unwrap();
    let path = print.to_str().unwrap();
    let good = laid_out(cellwright::manuscript::Sheet::default());
    let asked = |print| Asked { print, ..Asked::default() };
    let items = |output: &Output| -> serde_json::Value {
        serde_json::from_slice::<serde_json::Value>(&output.stdout).unwrap()["items"].clone()
    };
    let page =
        |brf: &str, print| serde_json::to_value(check(&BrailleFile::from_text(brf), &asked(print))).unwrap();

    let passed = cellwright(&["check", "--print", path], &good);
    assert_eq!(passed.status.code(), Some(0), "{}", String::from_utf8_lossy(&passed.stdout));
    assert_eq!(items(&passed), page(&good, Some(NOTICE)));

    // A reversed sign, a paragraph at the wrong cell, a blank at a line's end.
    let bad = good.replacen("boats", "boats ", 1).replacen("  ,f", " ,f", 1).replacen("h|rs", "hjrs", 1);
    assert_ne!(bad, good);
    let failed = cellwright(&["check", "--print", path], &bad);
    assert_eq!(failed.status.code(), Some(1));
    assert_eq!(items(&failed), page(&bad, Some(NOTICE)));
    for item in items(&failed).as_array().unwrap() {
        assert!(["passed", "to-fix", "your-call"].contains(&item["result"].as_str().unwrap()), "{item}");
        assert!(item["rule"].is_string() && item["say"].is_string());
    }
    // Without a title page a volume does not pass.
    assert_eq!(cellwright(&["check", "--scope", "volume"], &good).status.code(), Some(1));
    assert_eq!(cellwright(&["check", "--scope", "page"], &good).status.code(), Some(2));
    std::fs::remove_file(print).unwrap();
}

/// A file of its own for a test, with this text.
fn file(name: &str, text: &str) -> String {
    let path = std::env::temp_dir().join(format!("cellwright-{}-{name}", std::process::id()));
    std::fs::write(&path, text).unwrap();
    path.to_string_lossy().into_owned()
}

fn json(args: &[&str]) -> serde_json::Value {
    serde_json::from_str(&out(args, "")).unwrap()
}

/// Sections 6.1 (numeric indicator after a hyphen), 10.4 (st) and 10.3 (the) of the standard.
#[test]
fn marking_is_one_json_object() {
    let print = file("print", "the first\non 10-12 May\n");
    let right = file("right", "! f/\non #aj-#ab ,may\n");
    let written = file("written", "! fir/ on\n#aj-ab ,may\n");
    let found = json(&["mark", &print, &right]);
    assert_eq!(found["findings"], serde_json::json!([]));
    assert_eq!(found["summary"]["errors"], 0);
    let found = json(&["mark", &print, &written]);
    let findings = found["findings"].as_array().unwrap();
    assert_eq!(findings.len(), 2, "{found}");
    // "first" is a shortform (10.9), written "f/".
    assert_eq!(findings[0]["kind"], "wrong-contraction");
    assert_eq!(findings[0]["written"], serde_json::json!({"line": 1, "from": 2, "to": 6}));
    assert_eq!(findings[0]["print"], serde_json::json!({"line": 1, "from": 4, "to": 9}));
    assert_eq!(findings[0]["expected"], "⠋⠌");
    assert_eq!(findings[1]["kind"], "missing-indicator");
    assert_eq!(findings[1]["written"], serde_json::json!({"line": 2, "from": 4, "to": 4}));
    assert_eq!(findings[1]["sign"], "numeric indicator");
    assert_eq!(findings[1]["section"].as_str().unwrap().split('.').next(), Some("6"));
    for finding in findings {
        assert!(finding["say"].as_str().unwrap().ends_with('.'));
    }
    assert_eq!(found["summary"]["errors"], 2);
    assert_eq!(found["summary"]["kinds"]["missing-indicator"], 1);
    // A key in place of the print.
    let found = json(&["mark", "--key", &right, &written]);
    assert_eq!(found["findings"].as_array().unwrap().len(), 2);
    assert_eq!(found["findings"][1]["kind"], "missing-indicator");
}

#[test]
fn by_line_a_line_is_marked_against_its_own() {
    let print = file("print-lines", "the ferry\nat noon\nto the quay\n");
    let written = file("written-lines", "! f}ry\n\nto ! quan\n".replace('}', "]").as_str());
    let found = json(&["mark", "--by-line", &print, &written]);
    let findings = found["findings"].as_array().unwrap();
    let kinds: Vec<_> = findings
        .iter()
        .map(|one| (one["kind"].as_str().unwrap(), one["print"]["line"].as_u64().unwrap()))
        .collect();
    assert_eq!(kinds, [("left-out", 2), ("dot-slip", 3)], "{found}");
    // Running text against running text finds the same here.
    let found = json(&["mark", &print, &written]);
    assert_eq!(found["findings"].as_array().unwrap().len(), 2, "{found}");
    let plain = file("plain", "the ferry\nat noon\nto the quay\n");
    let found = json(&["mark", "--uncontracted", &print, &plain]);
    assert_eq!(found["findings"], serde_json::json!([]));
    let output = cellwright(&["mark", &print], "");
    assert!(!output.status.success() && output.stdout.is_empty());
}

#[test]
fn planted_mistakes_have_a_key() {
    let right = "⠠⠮⠀⠋⠻⠗⠽⠀⠇⠂⠧⠑⠎⠀⠁⠞⠀⠼⠁⠚⠤⠼⠁⠃⠀⠋⠗⠕⠍⠀⠮⠀⠟⠥⠁⠽⠲\n".repeat(20);
    let key = file("key", "");
    let args = [
        "plant",
        "--kinds",
        "mirrored,missing-indicator",
        "--rate",
        "0.05",
        "--seed",
        "9",
        "--key-out",
        &key,
    ];
    let changed = out(&args, &right);
    assert_eq!(changed, out(&args, &right), "the same seed plants the same mistakes");
    assert_ne!(changed, out(&["plant", "--rate", "0.05", "--seed", "10"], &right));
    let planted: serde_json::Value = serde_json::from_str(&std::fs::read_to_string(&key).unwrap()).unwrap();
    let planted = planted.as_array().unwrap();
    assert!(planted.len() > 10);
    let mut lines: Vec<Vec<char>> = changed.lines().map(|line| line.chars().collect()).collect();
    for one in planted.iter().rev() {
        assert!(["mirrored", "missing-indicator"].contains(&one["kind"].as_str().unwrap()));
        let place = |name: &str| one["written"][name].as_u64().unwrap() as usize;
        lines[place("line") - 1]
            .splice(place("from")..place("to"), one["expected"].as_str().unwrap().chars());
    }
    let back: String = lines.iter().map(|line| line.iter().collect::<String>() + "\n").collect();
    assert_eq!(back, right, "the key leads back");
    // What was planted is what marking finds.
    let (changed, right) = (file("changed", &changed), file("key-braille", &right));
    let found = json(&["mark", "--key", &right, &changed]);
    assert_eq!(found["summary"]["errors"].as_u64(), Some(planted.len() as u64), "{found}");
    let output = cellwright(&["plant", "--kinds", "sleepy"], "");
    assert!(!output.status.success());
}
