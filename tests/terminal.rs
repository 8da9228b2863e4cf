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

/// Sections 10.5 ("enough", dots 2-6), 6.1 (numeric indicator, dots 3-4-5-6), 8.3 (capital indicator, dot 6) and 10.7
/// ("day", dots 5 and 1-4-5).
#[test]
fn each_line_gives_one_line() {
    assert_eq!(out(&["transcribe"], "enough\n\n8\n"), "⠢\n\n⠼⠓\n");
    assert_eq!(out(&["transcribe", "--notation", "ascii"], "day 8"), "\"d #h\n");
    assert_eq!(out(&["transcribe", "--notation=dots"], "A day\n"), "6 1 blank 5 1-4-5\n");
    assert_eq!(out(&["transcribe", "--uncontracted"], "day\r\n"), "⠙⠁⠽\n");
    assert_eq!(out(&["transcribe", "--running"], "day\n8\n").lines().count(), 2);
}

/// Shortforms in parts with a capital in front: not in the edition of 2013 (10.9.2), in that of 2024 by its announcement (from
/// memory). The other edition's form is no mistake.
#[test]
fn the_edition_is_asked_for() {
    let third = ["--edition", "2024"];
    let with = |command, more: &[&'static str]| [&[command], &third[..], more].concat();
    assert_eq!(out(&["transcribe", "--notation", "ascii"], "LetterBox\n"), ",lett],box\n");
    assert_eq!(out(&with("transcribe", &["--notation", "ascii"]), "LetterBox\n"), ",lr,box\n");
    assert_eq!(out(&with("read", &["--notation", "ascii"]), ",lr,box\n"), "LetterBox\n");
    assert_ne!(out(&with("explain", &[]), "LetterBox\n"), out(&["explain"], "LetterBox\n"));
    assert!(out(&with("lay-out", &[]), "LetterBox\n").to_lowercase().contains(",lr,box"));
    for command in ["transcribe", "read", "explain", "lay-out", "check", "mark"] {
        let refused = cellwright(&[command, "--edition", "1999"], "");
        assert_eq!(refused.status.code(), Some(2), "{command}");
    }
}

/// The same cells three times over: as Unicode has them (U+2800 and on), in braille ASCII (common practice) and by dot
/// numbers (section 2.1). "Enough" and 8: sections 10.5 and 6.1.
#[test]
fn braille_is_told_apart_by_its_characters() {
    let read = "enough 8\nenough 8\nenough 8\n";
    assert_eq!(out(&["read"], "⠢⠀⠼⠓\n5 #H\n2-6 blank 3-4-5-6 1-2-5\n"), read);
    assert_eq!(out(&["read", "--notation", "dots"], "26 0 3456 125\n"), "enough 8\n");
}

#[test]
fn reasons_are_json_lines() {
    let text = out(&["explain"], "enough of\n8\n");
    let lines: Vec<serde_json::Value> =
        text.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(lines.len(), 2);
    assert_eq!(lines[0]["print"], "enough of");
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
fn marks_in_print_are_typeforms_when_asked() {
    // A word in italics has the italic word indicator, dots 4-6, 2 (section 9.3).
    let print = file("print-marks", "the *boat* left\n");
    let written = file("written-marks", "! .1boat left\n");
    let found = json(&["mark", "--marks", &print, &written]);
    assert_eq!(found["findings"], serde_json::json!([]), "{found}");
    let lost = file("written-without", "! boat left\n");
    let found = json(&["mark", "--marks", &print, &lost]);
    assert_eq!(found["findings"][0]["kind"], "missing-indicator", "{found}");
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

/// A byte-order mark says how a text is written and is no part of it (Unicode, section 23.8).
#[test]
fn a_byte_order_mark_is_no_text() {
    for args in [&["transcribe"][..], &["transcribe", "--running"]] {
        let output = cellwright(args, "\u{feff}in\n");
        assert_eq!(String::from_utf8(output.stdout).unwrap(), "⠔\n", "{args:?}");
        assert!(output.stderr.is_empty());
    }
    assert_eq!(out(&["read"], "\u{feff}9\n"), "in\n");
    assert!(out(&["explain"], "\u{feff}in\n").contains("\"print\":\"in\""));
    assert_eq!(out(&["lay-out"], &format!("\u{feff}{NOTICE}")), out(&["lay-out"], NOTICE));
    assert_eq!(out(&["plant", "--rate", "0"], "\u{feff}9\n"), "⠔\n");
    let (print, right) = (file("bom-print", "\u{feff}in\n"), file("bom-right", "\u{feff}9\n"));
    assert_eq!(json(&["mark", &print, &right])["findings"], serde_json::json!([]));
    assert_eq!(json(&["mark", "--key", &right, &right])["findings"], serde_json::json!([]));
}

#[test]
fn lay_out_names_what_it_has_no_sign_for() {
    let output = cellwright(&["lay-out"], "# A \u{1F426}\n\na b\n- c\u{4e00}\n\u{c}2\n");
    assert!(output.status.success());
    let said = String::from_utf8(output.stderr).unwrap();
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(lines.len(), 2, "{said}");
    assert!(lines[0].contains("line 1, character 5") && lines[0].contains("U+1F426"), "{said}");
    assert!(lines[1].contains("line 4, character 4") && lines[1].contains("U+4E00"), "{said}");
    let output = cellwright(&["lay-out", "--from-braille"], "ab\u{e9}c\r\n\u{c}de\r\nf\u{7}g\r\n\u{c}");
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(
        said.contains("page 1, line 1, place 3: 'é'") && said.contains("page 2, line 2, place 2"),
        "{said}"
    );
}

#[test]
fn options_out_of_range_are_refused_everywhere_alike() {
    let key = file("range-key", "9\n");
    for args in [
        &["lay-out", "--cells", "11"][..],
        &["lay-out", "--lines", "41"],
        &["lay-out", "--cells", "-1"],
        &["lay-out", "--from-braille", "--from-cells", "61"],
        &["lay-out", "--from-cells", "40"],
        &["check", "--cells", "61"],
        &["check", "--lines", "4"],
        &["check", "--lines", "99999999999999999999"],
        &["plant", "--rate", "1.1"],
        &["plant", "--rate", "NaN"],
        &["plant", "--seed", "-1"],
        &["plant", "--kinds", ","],
        &["serve", "--port", "65536"],
        &["bundle", "--out", "x.html", "--site", "ftp://example.org/"],
        &["bundle", "--out", "x.html", "--site", "https://"],
        &["mark", &key],
        &["mark", &key, &key, &key],
    ] {
        let output = cellwright(args, NOTICE);
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!((output.status.code(), said.lines().count()), (Some(2), 1), "{args:?}: {said}");
        assert!(output.stdout.is_empty());
    }
}

#[test]
fn what_cannot_be_read_is_no_work_to_be_mended() {
    let bytes = |args: &[&str], input: &[u8]| {
        let mut child = Command::new(env!("CARGO_BIN_EXE_cellwright"))
            .args(args)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let _ = child.stdin.take().unwrap().write_all(input);
        child.wait_with_output().unwrap()
    };
    let good = laid_out(cellwright::manuscript::Sheet::default());
    for (args, input) in [
        (&["check"][..], &b"\xff\xff\n"[..]),
        (&["check"], b"a\0b"),
        (&["check", "--print", "/no/such/file"], good.as_bytes()),
    ] {
        let output = bytes(args, input);
        assert_eq!((output.status.code(), output.stdout.len()), (Some(2), 0), "{args:?}");
        assert_eq!(String::from_utf8(output.stderr).unwrap().lines().count(), 1);
    }
    // Elsewhere it is what failed outside.
    for command in ["transcribe", "read", "explain", "lay-out", "plant"] {
        let output = bytes(&[command], b"ab\n\xff\xff\n");
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(1), "{command}");
        assert!(said.contains("line 2") && said.contains("UTF-8"), "{said}");
    }
}

#[test]
fn help_stands_behind_a_command_too() {
    let all = out(&["--help"], "");
    for command in [
        "serve",
        "build",
        "bundle",
        "stamp",
        "transcribe",
        "read",
        "explain",
        "lay-out",
        "check",
        "mark",
        "plant",
    ] {
        for ask in ["--help", "-h"] {
            let said = out(&[command, ask], "");
            assert!(said.contains(command) && said.len() < all.len() / 2 && all.contains(&said), "{said}");
        }
        assert_eq!(out(&[command, "--help"], ""), out(&[command, "--loudly", "--help"], ""));
    }
    assert_eq!(out(&["--version"], ""), format!("cellwright {}\n", env!("CARGO_PKG_VERSION")));
    assert_eq!(cellwright(&["dance", "--help"], "").status.code(), Some(2));
}

/// A terminal obeys control characters (ISO 6429), and direction marks hide what stands there (Unicode, UAX 9).
#[test]
fn no_control_character_reaches_the_terminal() {
    const EVIL: &str = "a\u{1b}[2J\u{7}\u{9b}1m\u{202e}b\u{7f}c\u{2066}\u{200f}";
    let tame = |bytes: &[u8], what: &str| {
        let text = std::str::from_utf8(bytes).unwrap();
        let obeyed = |c: char| (c.is_control() && c != '\n') || "\u{202e}\u{2066}\u{200f}".contains(c);
        assert!(!text.contains(obeyed), "{what}: {text:?}");
    };
    let print = file("evil-print", EVIL);
    let written = file("evil-written", EVIL);
    let name = format!("/no/{EVIL}");
    for args in [
        &["transcribe"][..],
        &["transcribe", "--running"],
        &["transcribe", "--notation", EVIL],
        &[EVIL],
        &["transcribe", EVIL],
        &["read"],
        &["read", "--running"],
        &["explain"],
        &["check"],
        &["check", "--print", &name],
        &["check", "--scope", EVIL],
        &["mark", &print, &written],
        &["mark", &name, &written],
        &["plant", "--rate", "0.5"],
        &["plant", "--kinds", EVIL],
        &["stamp", &name],
    ] {
        let output = cellwright(args, EVIL);
        tame(&output.stdout, &format!("{args:?}"));
        tame(&output.stderr, &format!("{args:?}"));
    }
    // Laid-out pages have form feeds and CR LF, and nothing else.
    let output = cellwright(&["lay-out"], EVIL);
    tame(String::from_utf8(output.stdout).unwrap().replace(['\r', '\u{c}'], "").as_bytes(), "lay-out");
    tame(&output.stderr, "lay-out");
    // In JSON they are written out, and come back.
    let text = out(&["explain"], EVIL);
    assert_eq!(serde_json::from_str::<serde_json::Value>(&text).unwrap()["print"], EVIL);
}

/// `/dev/full` takes nothing, as a full disk does.
#[cfg(target_os = "linux")]
#[test]
fn what_could_not_be_said_is_a_failure() {
    let full = || Stdio::from(std::fs::File::options().write(true).open("/dev/full").unwrap());
    let run = |args: &[&str], input: &str, out: Stdio, errors: Stdio| {
        let mut child = Command::new(env!("CARGO_BIN_EXE_cellwright"))
            .args(args)
            .stdin(Stdio::piped())
            .stdout(out)
            .stderr(errors)
            .spawn()
            .unwrap();
        let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
        child.wait_with_output().unwrap()
    };
    let (print, written) = (file("lost-print", "in\u{1F426}\n"), file("lost-written", "9\u{e9}\n"));
    for args in [
        &["transcribe"][..],
        &["transcribe", "--running"],
        &["read"],
        &["read", "--running"],
        &["explain"],
        &["lay-out"],
        &["lay-out", "--from-braille"],
        &["check"],
        &["mark", &print, &written],
        &["plant"],
        &["help"],
        &["--version"],
    ] {
        let output = run(args, "in\u{1F426}\n", full(), Stdio::piped());
        let said = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(1), "{args:?}: {said}");
        assert!(!said.contains("panicked"), "{said}");
        // A reader that has gone.
        let (reader, writer) = std::io::pipe().unwrap();
        drop(reader);
        let output = run(args, "in\u{1F426}\n", writer.into(), Stdio::piped());
        assert_eq!(output.status.code(), Some(1), "{args:?}");
        assert!(!String::from_utf8(output.stderr).unwrap().contains("panicked"));
    }
    // Where something is to be said, and cannot be.
    for args in [
        &["transcribe"][..],
        &["transcribe", "--running"],
        &["read"],
        &["lay-out"],
        &["lay-out", "--from-braille"],
        &["mark", &print, &written],
        &["plant"],
        &["dance"],
    ] {
        let output = run(args, "in\u{1F426}\n", Stdio::piped(), full());
        assert!([Some(1), Some(2)].contains(&output.status.code()), "{args:?}: {:?}", output.status);
    }
}

#[cfg(unix)]
#[test]
fn a_disk_that_is_full_leaves_the_old_file_whole() {
    let old = "an old key\n".repeat(40);
    let key = file("full-key", &old);
    let right = "⠠⠮⠀⠋⠻⠗⠽⠀⠇⠂⠧⠑⠎⠀⠁⠞⠀⠼⠁⠚\n".repeat(400);
    // A file may have one block of 512 bytes; what would be more is refused.
    let mut child = Command::new("sh")
        .args(["-c", "trap '' XFSZ; ulimit -f 1; exec \"$@\"", "sh", env!("CARGO_BIN_EXE_cellwright")])
        .args(["plant", "--rate", "0.5", "--key-out", &key])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let _ = child.stdin.take().unwrap().write_all(right.as_bytes());
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(1), "{}", String::from_utf8_lossy(&output.stderr));
    assert_eq!(std::fs::read_to_string(&key).unwrap(), old);
}

/// 10 MB a line, and not more than a gigabyte for it; more is refused before it is read.
#[cfg(target_os = "linux")]
#[test]
fn a_line_of_100_megabytes_is_refused_in_little_memory() {
    let mut child = Command::new("sh")
        .args(["-c", "ulimit -v 1000000; exec \"$@\"", "sh", env!("CARGO_BIN_EXE_cellwright"), "transcribe"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut to = child.stdin.take().unwrap();
    let part = "the ferry ".repeat(100_000);
    let whole = (0..100).all(|_| to.write_all(part.as_bytes()).is_ok());
    drop(to);
    let output = child.wait_with_output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(!whole && output.status.code() == Some(1) && said.contains("line 1 is longer"), "{said}");
}

#[test]
fn what_cannot_be_set_is_told_and_strict_says_so_by_its_status() {
    let print = "# Boats\n\n![the quay](quay.png)\n\n<table></table>\n";
    let output = cellwright(&["lay-out", "--strict"], print);
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("line 3: ") && said.contains("line 5: "), "{said}");
    assert_eq!(cellwright(&["lay-out"], print).status.code(), Some(0));
    assert_eq!(cellwright(&["lay-out", "--strict"], NOTICE).status.code(), Some(0));
    let folder = std::env::temp_dir().join(format!("cellwright-not-set-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let file = folder.join("boats.md");
    std::fs::write(&file, print).unwrap();
    let file = file.to_str().unwrap();
    let brf = out(&["lay-out"], print);
    let checked = cellwright(&["check", "--print", file], &brf);
    assert_eq!(checked.status.code(), Some(1));
    assert!(String::from_utf8(checked.stdout).unwrap().contains("not-set"));
    assert_eq!(cellwright(&["check", "--print", file, "--without", "not-set"], &brf).status.code(), Some(0));
    assert_eq!(cellwright(&["check", "--without", "nothing"], &brf).status.code(), Some(2));
    std::fs::remove_dir_all(&folder).unwrap();
}
