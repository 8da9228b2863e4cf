//! The desk: a notice of two pages from its first cell to the saved file; and an exercise of every kind from the teacher
//! to the learner and back.

use std::path::Path;
use std::time::Duration;

use cellwright::cell::{self, Cell};
use cellwright::exercise::{Exercise, Task, in_link, proofread};
use cellwright::manuscript::Sheet;
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::layout::Manuscript;
use cellwright::marking::Kind;
use cellwright::ueb::{self, Options};
use serde_json::json;

use crate::browser::{Driver, Outcome, Session, ensure};

const ENTER: char = '\u{e007}';
const HOME: char = '\u{e011}';
const RIGHT: char = '\u{e014}';
const DOWN: char = '\u{e015}';
const DELETE: char = '\u{e017}';

/// A notice of two pages with a heading and a list of sailings.
pub fn notice() -> String {
    let mut text = String::from(
        "# The winter timetable\n\nFrom Monday the boats of the Skerry Line keep these hours. Be on the quay ten minutes before, \
         with your ticket in your hand.\n\n",
    );
    for hour in 6..22 {
        text.push_str(&format!(
            "- {hour}:15 Hallam Quay to Orrin, and back at {hour}:50 by way of Little Fenn\n"
        ));
    }
    text.push_str("\nThe galley is open on every crossing. Dogs travel on the deck with their owners.\n");
    text
}

/// Sets a field's value as typing would.
pub async fn fill(session: &Session, selector: &str, value: &str) -> Outcome {
    let script = format!(
        "const field = document.querySelector({selector:?});
         const kind = field.tagName === 'TEXTAREA' ? HTMLTextAreaElement : field.tagName === 'SELECT' ? HTMLSelectElement : HTMLInputElement;
         Object.getOwnPropertyDescriptor(kind.prototype, 'value').set.call(field, {});
         field.dispatchEvent(new Event('input', {{bubbles: true}}));
         field.dispatchEvent(new Event('change', {{bubbles: true}}));",
        json!(value)
    );
    session.until(selector, &format!("return !!document.querySelector({selector:?})")).await?;
    session.script(&script).await.map(drop)
}

/// Presses the button of this name.
pub async fn press(session: &Session, name: &str) -> Outcome {
    session.find("button", name).await?.click().await
}

async fn shows(session: &Session, words: &str) -> Outcome {
    session
        .until(
            words,
            &format!("return document.querySelector('main').textContent.includes({})", json!(words)),
        )
        .await
}

/// Puts the focus on the writing surface without moving its caret.
async fn focus(session: &Session) -> Outcome {
    session.script("document.querySelector('.text-box').focus()").await.map(drop)
}

pub async fn saved(folder: &Path, name: &str) -> Outcome<String> {
    let path = folder.join(name);
    for _ in 0..200 {
        if let Ok(text) = std::fs::read_to_string(&path)
            && !text.is_empty()
        {
            std::fs::remove_file(&path)?;
            return Ok(text);
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    Err(crate::browser::Failed(format!("{name} was not saved")))
}

/// One mistake of the learner's in the right lines: what stands on a line is written otherwise.
struct Slip {
    line: usize,
    from: usize,
    right: Vec<Cell>,
    wrong: Vec<Cell>,
    kind: Kind,
    /// The section of the rules that names it.
    section: &'static str,
}

fn slips(lines: &[Vec<Cell>]) -> Vec<Slip> {
    let ascii = |text: &str| cell::from_ascii(text).expect("cells");
    // Signs: 6.1 numeric indicator, 10.3 the, 4.1 letters; each on a line of its own.
    let find = |from: usize, word: &str| {
        let word = ascii(word);
        (from..lines.len())
            .find_map(|line| lines[line].windows(word.len()).position(|run| run == word).map(|at| (line, at)))
            .expect("the notice has it")
    };
    let slip =
        |from_line: usize, word: &str, at: usize, right: &str, wrong: Vec<Cell>, kind: Kind, section| {
            let (line, start) = find(from_line, word);
            Slip { line, from: start + at, right: ascii(right), wrong, kind, section }
        };
    let r = ascii("r")[0];
    vec![
        slip(2, "!", 0, "!", ascii("the"), Kind::MissedContraction, "10.3"),
        slip(6, "#", 0, "#", Vec::new(), Kind::MissingIndicator, "6.1"),
        slip(9, "to", 0, "o", Vec::new(), Kind::LeftOut, "4.1"),
        slip(12, "orr", 1, "r", vec![r.mirror()], Kind::Mirrored, "4.1"),
        slip(16, "quay", 4, " ", Vec::new(), Kind::Spacing, "3.23"),
    ]
}

pub async fn a_notice_of_two_pages_is_written_marked_corrected_checked_and_saved(
    session: Session,
) -> Outcome {
    let print = notice();
    let pages = Manuscript::from_print(&print, Sheet::default()).lines();
    ensure(pages.len() == 2, || format!("the notice has {} pages", pages.len()))?;
    let right: Vec<Vec<Cell>> = pages.iter().flatten().cloned().collect();
    let mut wrong = right.clone();
    let mut made = slips(&right);
    // The o of "to" is left out: its cell is the second of the word.
    made[2].from += 1;
    for slip in &made {
        wrong[slip.line].splice(slip.from..slip.from + slip.right.len(), slip.wrong.iter().copied());
    }

    session.open("#/transcribe").await?;
    session.script("for (const one of document.querySelectorAll('details')) one.open = true").await?;
    fill(&session, "textarea[rows='10']", &print).await?;
    session.find("textbox", "Braille").await?.click().await?;
    for (at, line) in wrong.iter().enumerate() {
        if at > 0 {
            session.press(ENTER).await?;
        }
        session.type_cells(line).await?;
    }
    press(&session, "Mark my work").await?;
    session.find("button", "Next finding").await?;
    let count = "return document.querySelectorAll('.findings > li').length";
    let found = session.script(count).await?;
    let told = session
        .script("return [...document.querySelectorAll('.findings > li p:first-child')].map((one) => one.textContent).join('; ')")
        .await?;
    ensure(found == made.len() as u64, || format!("{found} findings for {} mistakes: {told}", made.len()))?;
    session.picture("transcribe-marked", 1280).await?;

    // Each is named by its kind, at its page, line and cell, with its section, and leads to its line; there it is put
    // right.
    for (number, slip) in made.iter().enumerate() {
        named(&session, number, slip).await?;
        let open = format!(
            "document.querySelectorAll('.findings > li')[{number}].querySelector('button[aria-expanded]').click()"
        );
        session.script(&open).await?;
        let here = format!("return document.querySelector('.line.here')?.dataset.line === '{}'", slip.line);
        session.until("the caret at the finding's line", &here).await?;
        focus(&session).await?;
        session.press(HOME).await?;
        for _ in 0..slip.from {
            session.press(RIGHT).await?;
        }
        for _ in &slip.wrong {
            session.press(DELETE).await?;
        }
        session.type_cells(&slip.right).await?;
    }
    press(&session, "Mark my work").await?;
    shows(&session, "words are right.").await?;
    let left = session.script(count).await?;
    ensure(left == 0, || format!("{left} findings are left"))?;
    press(&session, "Check before hand-in").await?;
    session.expect("status", "Check", "The check passes").await?;
    session.picture("transcribe-checked", 1280).await?;

    let folder = tempfile::TempDir::new()?;
    session
        .devtools("Browser.setDownloadBehavior", json!({"behavior": "allow", "downloadPath": folder.path()}))
        .await?;
    press(&session, "Save as .brf").await?;
    let brf = saved(folder.path(), "work.brf").await?;
    let expected = BrailleFile::from_pages(&pages).to_text();
    ensure(brf == expected, || format!("the file is\n{brf}\nand not\n{expected}"))?;

    // In a browser that has never seen it the file opens with the same cells.
    let again = folder.path().join("again.brf");
    std::fs::write(&again, &brf)?;
    let driver = Driver::start(session.browser).await?;
    let other = driver.session(&session.site).await?;
    other.open("#/transcribe").await?;
    other.script("for (const one of document.querySelectorAll('details')) one.open = true").await?;
    other
        .devtools("Browser.setDownloadBehavior", json!({"behavior": "allow", "downloadPath": folder.path()}))
        .await?;
    let field = other.client.find(fantoccini::Locator::Css("input[type=file][accept*=brf]")).await?;
    field.send_keys(&again.display().to_string()).await?;
    other
        .until(
            "the file's lines",
            "return document.querySelectorAll('.line .dots, .line .cells-text').length > 10",
        )
        .await?;
    same_cells(&other, &right).await?;
    press(&other, "Save as .brf").await?;
    let twice = saved(folder.path(), "work.brf").await?;
    other.client.clone().close().await?;
    ensure(twice == brf, || "opened and saved again it is another file".to_owned())
}

/// A finding's words: its kind, its place to the cell, and its section once it is opened.
async fn named(session: &Session, number: usize, slip: &Slip) -> Outcome {
    let item = format!("document.querySelectorAll('.findings > li')[{number}]");
    let told = session.script(&format!("return {item}.querySelector('p').textContent")).await?;
    let told = told.as_str().unwrap_or_default();
    let place = format!("page {}, line {}, ", slip.line / 25 + 1, slip.line % 25 + 1);
    ensure(told.contains(slip.kind.words()) && told.contains(&place), || {
        format!("{told} is to be “{}” at {place}", slip.kind.words())
    })?;
    let after = told.split_once(&place).map_or("", |(_, after)| after);
    let cell: usize = after
        .chars()
        .skip_while(|c| !c.is_ascii_digit())
        .take_while(char::is_ascii_digit)
        .collect::<String>()
        .parse()?;
    ensure(cell == slip.from + 1, || format!("{told}: at cell {}", slip.from + 1))?;
    let open =
        format!("const open = {item}.querySelector('button[aria-expanded=false]'); if (open) open.click()");
    session.script(&open).await?;
    let section = format!(
        "return [...{item}.querySelectorAll('*')].some((one) => / section {}[. ,]/.test(one.textContent + ' '))",
        slip.section.replace('.', "\\.")
    );
    session.until(&format!("section {} at {told}", slip.section), &section).await
}

/// All lines of the surface, as they are read out, are these cells; the caret goes down them, since lines far from it are
/// not drawn.
async fn same_cells(session: &Session, right: &[Vec<Cell>]) -> Outcome {
    focus(session).await?;
    session.with_control(&HOME.to_string()).await?;
    for (at, cells) in right.iter().enumerate() {
        let text = cell::to_unicode(cells);
        let text = text.trim_end_matches('\u{2800}');
        let here = format!(
            "const line = document.querySelector('.line.here');
             const text = line?.querySelector('.sr')?.textContent ?? '';
             return line?.dataset.line === '{at}' && text.replace(/[\\s\u{2800}]+$/, '') === {text:?}"
        );
        session.until(&format!("line {} with its cells", at + 1), &here).await?;
        session.press(DOWN).await?;
    }
    Ok(())
}

/// The value of the field with this name.
pub async fn value_of(session: &Session, label: &str) -> Outcome<String> {
    let script = format!("return document.querySelector('input[aria-label=\"{label}\"]')?.value ?? ''");
    session
        .until(label, &format!("return !!document.querySelector('input[aria-label=\"{label}\"]')"))
        .await?;
    Ok(session.script(&script).await?.as_str().unwrap_or_default().to_owned())
}

/// What a teacher does: title, task, text. Gives the link's payload.
async fn teacher(session: &Session, task: Task, text: &str) -> Outcome<String> {
    session.open("#/set").await?;
    session.find("textbox", "Title").await?.send_keys("Notice 2").await?;
    let place = Task::ALL.iter().position(|one| *one == task).unwrap_or(0);
    fill(session, ".set select", &place.to_string()).await?;
    if !text.is_empty() {
        fill(session, "main textarea", text).await?;
    }
    payload(session).await
}

async fn payload(session: &Session) -> Outcome<String> {
    let link = value_of(session, "Link").await?;
    let (_, payload) = in_link(&link).ok_or_else(|| crate::browser::Failed(format!("no link: {link}")))?;
    Ok(payload.to_owned())
}

/// What a teacher sees of the slip that a learner made, each in a profile of their own; the learner's work ends here.
async fn slip(driver: &Driver, learner: &Session, right: &str, more: &[&str]) -> Outcome {
    let link = value_of(learner, "Slip link").await?;
    let (_, payload) = in_link(&link).ok_or_else(|| crate::browser::Failed(format!("no slip: {link}")))?;
    // Firefox does not end with its driver.
    learner.client.clone().close().await?;
    let teacher = driver.session(&learner.site).await?;
    teacher.open(&format!("#/r/{payload}")).await?;
    teacher.find("heading", "Notice 2").await?;
    shows(&teacher, "what the learner’s own computer reported").await?;
    shows(&teacher, right).await?;
    for words in more {
        shows(&teacher, words).await?;
    }
    let errors = teacher.console_errors().await?;
    teacher.client.clone().close().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// A learner's browser at the exercise.
async fn learner(driver: &Driver, session: &Session, payload: &str) -> Outcome<Session> {
    let learner = driver.session(&session.site).await?;
    learner.open(&format!("#/x/{payload}")).await?;
    Ok(learner)
}

pub async fn reading_goes_to_the_learner_and_back(session: Session) -> Outcome {
    let driver = Driver::start(session.browser).await?;
    let payload = teacher(&session, Task::Read, "The ferry leaves.\nNo dogs.").await?;
    let learner = learner(&driver, &session, &payload).await?;
    for (answer, next) in [("the ferry leaves.", "Next"), ("no cats.", "To the result")] {
        learner.find("textbox", "It says").await?.send_keys(answer).await?;
        press(&learner, "Answer").await?;
        press(&learner, next).await?;
    }
    slip(&driver, &learner, "1 of 2", &["No dogs.", "no cats."]).await
}

pub async fn signs_by_dot_numbers_go_to_the_learner_and_back(session: Session) -> Outcome {
    let driver = Driver::start(session.browser).await?;
    session.open("#/set").await?;
    session.find("textbox", "Title").await?.send_keys("Notice 2").await?;
    fill(&session, ".set select", "3").await?;
    for sign in ["letter c", "groupsign st"] {
        fill(&session, "input[list=signs-to-set]", sign).await?;
    }
    let payload = payload(&session).await?;
    let set = Exercise::from_payload(&payload)?;
    ensure(set.task == Task::DotNumbers && set.signs.len() == 2, || format!("{set:?}"))?;
    let learner = learner(&driver, &session, &payload).await?;
    for (answer, next) in [("1-4", "Next"), ("3-4", "To the result")] {
        learner.find("textbox", "Its dot numbers, a space between cells").await?.send_keys(answer).await?;
        press(&learner, "Answer").await?;
        press(&learner, next).await?;
    }
    slip(&driver, &learner, "2 of 2", &["groupsign st", "3-4"]).await
}

/// "The ferry leaves.", with a reversed e when asked.
fn ferry(reversed: bool) -> Vec<Cell> {
    let mut cells = ueb::transcribe("The ferry leaves.", &Options::default());
    let e = cell::from_ascii("e").expect("a cell")[0];
    let at = cells.iter().rposition(|cell| *cell == e).expect("an e");
    if reversed {
        cells[at] = e.mirror();
    }
    cells
}

pub async fn writing_goes_to_the_learner_and_back(session: Session) -> Outcome {
    let driver = Driver::start(session.browser).await?;
    let payload = teacher(&session, Task::Write, "The ferry leaves.").await?;
    let learner = learner(&driver, &session, &payload).await?;
    learner.write(&ferry(true)).await?;
    press(&learner, "Mark my work").await?;
    slip(&driver, &learner, "2 of 3", &[Kind::Mirrored.words(), "1 mistake in 3 words"]).await
}

pub async fn a_slate_goes_to_the_learner_and_back(session: Session) -> Outcome {
    let driver = Driver::start(session.browser).await?;
    let payload = teacher(&session, Task::Slate, "The ferry leaves.").await?;
    let learner = learner(&driver, &session, &payload).await?;
    learner.write(&ferry(false)).await?;
    press(&learner, "Mark my work").await?;
    slip(&driver, &learner, "3 of 3", &["All 3 words are right."]).await
}

pub async fn a_trial_transcription_goes_to_the_learner_and_back(session: Session) -> Outcome {
    let driver = Driver::start(session.browser).await?;
    teacher(&session, Task::Transcribe, "The ferry leaves.").await?;
    session.switch("A trial hand-in, without help", true).await?;
    let payload = payload(&session).await?;
    let learner = learner(&driver, &session, &payload).await?;
    let mut line = vec![Cell::BLANK; 2];
    line.extend(ferry(true));
    learner.write(&line).await?;
    press(&learner, "Hand in").await?;
    shows(&learner, "Mistakes a page: 1; pass line: 2").await?;
    // The first time the causes are told and not the places.
    shows(&learner, Kind::Mirrored.words()).await?;
    let places = learner.script("return document.querySelectorAll('.findings > li').length").await?;
    ensure(places == 0, || "the first try shows the places".to_owned())?;
    press(&learner, "Hand in, the last try").await?;
    shows(&learner, "came back").await?;
    slip(&driver, &learner, "2 of 3", &[Kind::Mirrored.words(), "1 mistake in 3 words"]).await
}

pub async fn proofreading_goes_to_the_learner_and_back(session: Session) -> Outcome {
    let driver = Driver::start(session.browser).await?;
    let text = "The ferry leaves from the quay at ten in the morning and comes back in the afternoon.";
    teacher(&session, Task::Proofread, text).await?;
    fill(&session, "fieldset input[type=number]", "90").await?;
    let payload = payload(&session).await?;
    let set = Exercise::from_payload(&payload)?;
    let proof = proofread::proof(&set.text, set.contracted, &set.plants.clone().unwrap_or_default());
    ensure(!proof.planted.is_empty(), || "nothing was planted".to_owned())?;
    let learner = learner(&driver, &session, &payload).await?;
    let first = &proof.planted[0];
    learner.until("the sheet", "return !!document.querySelector('.cursor-sheet')").await?;
    learner.script("document.querySelector('.sheet-text').focus()").await?;
    for _ in 0..first.line {
        learner.press(DOWN).await?;
    }
    for _ in 0..first.cells.start {
        learner.press(RIGHT).await?;
    }
    fill(&learner, ".beside select", first.kind.name()).await?;
    press(&learner, "Mark this cell").await?;
    learner.picture("proofread", 1280).await?;
    press(&learner, "I am done").await?;
    let score = format!("Found 1 of {}, 1 with the right kind", proof.planted.len());
    shows(&learner, &score).await?;
    learner.picture("proofread-scored", 1280).await?;
    slip(&driver, &learner, &format!("1 of {}", proof.planted.len()), &[&score]).await
}

pub async fn the_reading_desk_keeps_its_notes(session: Session) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("own.brf");
    std::fs::write(&path, ",! f]ry l1ves4\r\n,no dogs4\r\n")?;
    session.open("#/proofread").await?;
    press(&session, "Reading desk").await?;
    let field = session.client.find(fantoccini::Locator::Css("input[type=file]")).await?;
    field.send_keys(&path.display().to_string()).await?;
    session.until("the sheet", "return document.querySelectorAll('.sheet-line').length === 2").await?;
    session.script("document.querySelector('.sheet-text').focus()").await?;
    session.press(DOWN).await?;
    session.press(RIGHT).await?;
    press(&session, "What does this line read as?").await?;
    session.expect("status", "Line reads as", "No dogs.").await?;
    fill(&session, ".beside input", "n or no?").await?;
    shows(&session, "page 1, line 2, cell 2 (dots 1-3-4-5): n or no?").await?;
    // A reload loses nothing.
    session.open("#/proofread").await?;
    press(&session, "Reading desk").await?;
    shows(&session, "n or no?").await?;
    session.picture("reading-desk", 1280).await
}
