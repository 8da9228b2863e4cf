//! The page against the terminal: the hand-in check of the same file in the same scope, item by item, and the same
//! braille laid out on another sheet, byte for byte.

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use cellwright::manuscript::Sheet;
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::layout::Manuscript;
use serde_json::{Value, json};

use crate::browser::{Failed, Outcome, Session, ensure};
use crate::desk::{fill, notice, press, saved};
use crate::desk_files::choose;
use crate::site;

/// A small volume: title page, front matter, two print pages, a running head.
fn volume() -> String {
    format!(
        "---\ntitle: The Skerry Line\nauthor: the crew\npublisher: Hallam Quay\nrunning-head: Winter Boats\n---\n\
         \u{c}iii\n# Foreword\n\nThe boats have sailed for a long while.\n\n\u{c}1\n{}\n\u{c}2\nThe lamp on the quay is lit at dusk.\n",
        notice()
    )
}

pub fn laid_out(print: &str) -> String {
    BrailleFile::from_pages(&Manuscript::from_print(print, Sheet::default()).lines()).to_text()
}

/// Runs the program with this on its standard input; what it says, and its exit status.
pub fn terminal(args: &[&str], input: &str) -> Outcome<(String, i32)> {
    let mut child = Command::new(std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned()))
        .args(["run", "--quiet", "--"])
        .args(args)
        .current_dir(site::project())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()?;
    child.stdin.take().ok_or_else(|| Failed("no standard input".into()))?.write_all(input.as_bytes())?;
    let out = child.wait_with_output()?;
    let said = String::from_utf8(out.stdout)?;
    Ok((said, out.status.code().unwrap_or(-1)))
}

/// What the page's check shows, in the shape of the terminal's items; the rule's name is not shown.
async fn shown(session: &Session) -> Outcome<Value> {
    let rows = "return JSON.stringify([...document.querySelectorAll('.checklist tbody tr')].map((row) => {
        const place = row.cells[1].textContent.match(/page (\\d+), line (\\d+)/);
        const rule = row.cells[3].textContent.match(/^(\\d+): (.*)$/);
        return { result: row.className, page: place && +place[1], line: place && +place[2], say: row.cells[2].textContent, number: rule && +rule[1], source: rule && rule[2] };
    }))";
    let told = session.script(rows).await?;
    Ok(serde_json::from_str(told.as_str().unwrap_or_default())?)
}

/// Holds the page's check against the terminal's, which is given the same file.
async fn same_check(session: &Session, what: &str, args: &[&str], brf: &str) -> Outcome {
    let (said, status) = terminal(&[&["check"], args].concat(), brf)?;
    let items: Value = serde_json::from_str(&said)?;
    let mut items = items["items"].as_array().cloned().unwrap_or_default();
    let to_fix = items.iter().filter(|item| item["result"] == "to-fix").count();
    ensure(status == i32::from(to_fix > 0), || format!("{what}: exit status {status}, {to_fix} to fix"))?;
    let rules: Vec<Value> =
        items.iter_mut().filter_map(|item| item.as_object_mut()?.remove("rule")).collect();
    ensure(rules.len() == items.len() && rules.len() > 8, || format!("{what}: {said}"))?;
    let items = Value::Array(items);
    // The page shows it a moment later.
    let mut page = Value::Null;
    for _ in 0..100 {
        page = shown(session).await?;
        if page == items {
            break;
        }
        tokio::time::sleep(std::time::Duration::from_millis(50)).await;
    }
    ensure(page == items, || format!("{what}: the page shows\n{page}\nand the terminal\n{items}"))?;
    if to_fix > 0 {
        session.expect("status", "Check", &format!("{to_fix} to fix before hand-in")).await?;
    }
    Ok(())
}

/// The notice with faults of form and of text.
fn faulty_notice() -> String {
    let good = laid_out(&notice());
    let faults = [
        ("  ,f", ",f"),                     // a paragraph at cell 1
        (",! w9t]", "      ,! w9t]"),       // a heading off the middle
        ("#aa3#ae", "aa3#ae"),              // a numeric indicator left out
        (",orr9", ",orr5"),                 // another sign
        ("\r\n  at #aj", "  \r\n\tat #aj"), // blanks at a line's end, a tab
        ("#b\r\n", "#c\r\n"),               // another page number
    ];
    faults.iter().fold(good, |text, (right, wrong)| {
        assert!(text.contains(right), "the notice has no {right}");
        text.replacen(right, wrong, 1)
    })
}

/// Says of a switch on the desk whether it is on.
async fn scope(session: &Session, volume: bool, against: bool) -> Outcome {
    session.switch("A whole volume, with its title page", volume).await?;
    session.switch("Hold that file against the copy as well", against).await
}

pub async fn the_check_says_what_the_terminal_says(session: Session) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let path = |name: &str| folder.path().join(name);
    session.open("#/transcribe").await?;
    session.unfold().await?;
    let no_title = laid_out(&volume()).split_once('\u{c}').map_or(String::new(), |(_, rest)| rest.to_owned());
    let title_off = laid_out(&volume()).replacen("  ,skerry", ",skerry", 1).replacen("p#a", "p#b", 1);
    let files = [
        ("the notice", notice(), laid_out(&notice()), false),
        ("a notice with faults", notice(), faulty_notice(), false),
        ("the volume", volume(), laid_out(&volume()), true),
        ("a volume without its title page", volume(), no_title, true),
        ("a volume with another title page", volume(), title_off, true),
    ];
    for (at, (what, print, brf, is_volume)) in files.iter().enumerate() {
        let (print_path, brf_path) = (path("print.md"), path(&format!("{at}.brf")));
        std::fs::write(&print_path, print)?;
        std::fs::write(&brf_path, brf)?;
        fill(&session, "textarea[rows='10']", print).await?;
        let print_path = print_path.display().to_string();
        for against in [false, true] {
            scope(&session, *is_volume, against).await?;
            choose(&session, "Check a file as it stands", &brf_path).await?;
            let mut args = vec!["--scope", if *is_volume { "volume" } else { "piece" }];
            if against {
                args.extend(["--print", &print_path]);
            }
            same_check(&session, &format!("{what}, with the print {against}"), &args, brf).await?;
        }
    }
    // What the learner says of the print copy is an option at the terminal.
    let print_path = path("print.md").display().to_string();
    let args = ["--scope", "volume", "--print", &print_path, "--print-copy"];
    session.switch("The print copy lies in front of the title page", true).await?;
    same_check(&session, "the print copy confirmed", &args, &files[4].2).await?;
    own_work(&session, folder.path()).await
}

/// Waits until the file lies on the desk.
async fn drawn(session: &Session) -> Outcome {
    session
        .until(
            "the file's lines",
            "return document.querySelectorAll('.line .dots, .line .cells-text').length > 5",
        )
        .await
}

/// The check of what lies on the desk is the terminal's check of the file that is saved from it.
async fn own_work(session: &Session, folder: &Path) -> Outcome {
    let print_path = folder.join("print.md");
    std::fs::write(&print_path, notice())?;
    fill(session, "textarea[rows='10']", &notice()).await?;
    scope(session, false, false).await?;
    let written = faulty_notice().replace('\t', "  ");
    std::fs::write(folder.join("own.brf"), &written)?;
    choose(session, "Open a braille file", &folder.join("own.brf")).await?;
    drawn(session).await?;
    press(session, "Check before hand-in").await?;
    session
        .devtools("Browser.setDownloadBehavior", json!({"behavior": "allow", "downloadPath": folder}))
        .await?;
    press(session, "Save as .brf").await?;
    let brf = saved(folder, "work.brf").await?;
    ensure(brf == written, || format!("opened\n{written}\nand saved\n{brf}"))?;
    let args = ["--print", &print_path.display().to_string()];
    same_check(session, "what lies on the desk", &args, &brf).await
}

pub async fn set_anew_is_laid_out_as_at_the_terminal(session: Session) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let brf = laid_out(&volume());
    std::fs::write(folder.path().join("volume.brf"), &brf)?;
    session.open("#/transcribe").await?;
    session.unfold().await?;
    session
        .devtools("Browser.setDownloadBehavior", json!({"behavior": "allow", "downloadPath": folder.path()}))
        .await?;
    choose(&session, "Open a braille file", &folder.path().join("volume.brf")).await?;
    drawn(&session).await?;
    for (cells, lines) in [("30", "20"), ("40", "25")] {
        for (field, value) in [("12", cells), ("5", lines)] {
            let selector = format!("input[type=number][min='{field}']");
            fill(&session, &selector, value).await?;
            let kept = format!("return document.querySelector({selector:?}).value === {value:?}");
            session.until("the sheet", &kept).await?;
        }
        press(&session, "Set my braille anew on this sheet").await?;
        press(&session, "Save as .brf").await?;
        let page = saved(folder.path(), "work.brf").await?;
        let anew = ["lay-out", "--from-braille", "--cells", "30", "--lines", "20"];
        let (narrow, _) = terminal(&anew, &brf)?;
        let wanted = if cells == "30" {
            narrow
        } else {
            terminal(&["lay-out", "--from-braille", "--from-cells", "30"], &narrow)?.0
        };
        ensure(page == wanted, || format!("the page gives\n{page}\nand the terminal\n{wanted}"))?;
    }
    // From print: the lines of the terminal are those of the engine in the page.
    let (said, _) = terminal(&["lay-out"], &volume())?;
    ensure(said == brf, || format!("at the terminal\n{said}\nand not\n{brf}"))
}
