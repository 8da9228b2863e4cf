//! Each kind of exercise on its whole way: made by a teacher, done by a learner, looked at in the class sheet, each in a profile of
//! their own, with the page loaded anew in the middle of every step and the learner's tab killed once.

use cellwright::cell::{self, Cell};
use cellwright::exercise::{Exercise, Slip, Task, in_link, proofread};
use cellwright::ueb::{self, Options};

use crate::browser::{Driver, END, Failed, Outcome, Session, ensure};
use crate::desk::{fill, press, value_of};

const RIGHT: char = '\u{e014}';
const DOWN: char = '\u{e015}';

/// Loads the page anew where it is.
async fn reload(session: &Session) -> Outcome {
    session.client.refresh().await?;
    session.until("the room", "return document.querySelectorAll('main h1').length === 1").await
}

/// Ends the tab as a crash does: no code of the page runs any more. What comes after it is another tab.
async fn kill(session: &Session, address: &str) -> Outcome {
    let new = session.client.new_window(true).await?.handle;
    let windows = session.client.windows().await?;
    let old = windows.into_iter().find(|one| *one != new).ok_or_else(|| Failed("no tab".into()))?;
    session.client.switch_to_window(old).await?;
    let _ = session.devtools("Page.crash", serde_json::json!({})).await;
    session.client.switch_to_window(new).await?;
    session.open(address).await
}

/// What the teacher does, loading the page anew after each field. Gives the payload.
async fn teacher(session: &Session, task: Task, text: &str, signs: &[&str]) -> Outcome<String> {
    session.open("#/set").await?;
    session.find("textbox", "Title").await?.send_keys("Notice 2").await?;
    reload(session).await?;
    let place = Task::ALL.iter().position(|one| *one == task).unwrap_or(0);
    fill(session, ".set select", &place.to_string()).await?;
    reload(session).await?;
    for sign in signs {
        fill(session, "input[list=signs-to-set]", sign).await?;
        reload(session).await?;
    }
    if !text.is_empty() {
        fill(session, "main textarea", text).await?;
        reload(session).await?;
    }
    if task == Task::Transcribe {
        session.switch("A trial hand-in, without help", true).await?;
        reload(session).await?;
    }
    if task == Task::Proofread {
        fill(session, "fieldset input[type=number]", "90").await?;
        reload(session).await?;
    }
    let link = value_of(session, "Link").await?;
    let (_, payload) = in_link(&link).ok_or_else(|| Failed(format!("no link: {link}")))?;
    let set = Exercise::from_payload(payload)?;
    ensure(set.title == "Notice 2" && set.task == task && set.text == text && set.signs == signs, || {
        format!("the link holds {set:?}")
    })?;
    Ok(payload.to_owned())
}

/// The learner's name on the slip, and the slip, which is the same after each break.
async fn hand_in(learner: &Session, address: &str) -> Outcome<(String, Slip)> {
    learner.find("textbox", "Name on the slip, if you like").await?.send_keys("Ida").await?;
    reload(learner).await?;
    let named = learner.find("textbox", "Name on the slip, if you like").await?.prop("value").await?;
    ensure(named.as_deref() == Some("Ida"), || format!("the name has become {named:?}"))?;
    let link = value_of(learner, "Slip link").await?;
    learner.open("#/signs").await?;
    learner.open(address).await?;
    let after = value_of(learner, "Slip link").await?;
    ensure(after == link, || "the slip is another after another room".to_owned())?;
    let (_, payload) = in_link(&link).ok_or_else(|| Failed(format!("no slip: {link}")))?;
    let slip = Slip::from_payload(payload)?;
    ensure(slip.by == "Ida", || format!("{slip:?}"))?;
    Ok((link, slip))
}

/// The slip comes into the class sheet: pasted, the page loaded anew, added, loaded anew. Its row has the slip's own figures.
async fn class_sheet(teacher: &Session, link: &str, slip: &Slip) -> Outcome {
    teacher.open("#/set").await?;
    fill(teacher, "section[aria-label='Class sheet'] textarea", link).await?;
    reload(teacher).await?;
    press(teacher, "Add the slips").await?;
    teacher.expect("status", "Slips taken in", "1 slip added.").await?;
    reload(teacher).await?;
    let rows = "return [...document.querySelectorAll('table[aria-label=\"Class sheet\"] tbody tr')].map((row) => [...row.children].slice(0, 4).map((one) => one.textContent).join('; ')).join('|')";
    teacher.until("a row", &rows.replacen("return ", "return !!", 1)).await?;
    let row = teacher.script(rows).await?;
    let tries = slip.tries();
    let score = |at: usize| format!("{} of {}", tries[at].right, tries[at].asked);
    let last = if tries.len() > 1 { score(tries.len() - 1) } else { "–".to_owned() };
    let right = format!("Ida; Notice 2; {}; {last}", score(0));
    ensure(row == right.as_str(), || format!("the row is {row}, the slip says {right}"))?;
    let otherwise = "return document.querySelector('table[aria-label=\"Class sheet\"]').textContent.includes('otherwise')";
    ensure(teacher.script(otherwise).await? == false, || {
        "the slip says otherwise than the marking".to_owned()
    })
}

/// The whole way around what the learner does, who gives the score that is right.
async fn on_its_way<F>(session: &Session, payload: &str, work: F) -> Outcome
where
    F: AsyncFnOnce(&Session, &str) -> Outcome<Vec<(u32, u32)>>,
{
    let driver = Driver::start(session.browser).await?;
    let learner = driver.session(&session.site).await?;
    let address = format!("#/x/{payload}");
    learner.open(&address).await?;
    let right = work(&learner, &address).await?;
    let (link, slip) = hand_in(&learner, &address).await?;
    let scores: Vec<(u32, u32)> = slip.tries().iter().map(|one| (one.right, one.asked)).collect();
    ensure(scores == right, || format!("the tries are {scores:?} and not {right:?}"))?;
    let seconds = slip.time().unwrap_or(u32::MAX);
    ensure(seconds < 600, || format!("it took {seconds} s"))?;
    learner.client.clone().close().await?;
    class_sheet(session, &link, &slip).await
}

/// A round whose answers are typed: each half before a break and half after it.
async fn typed_round(
    learner: &Session,
    address: &str,
    field: &str,
    answers: &[(&str, &str, bool)],
) -> Outcome {
    for (at, (first, rest, right)) in answers.iter().enumerate() {
        let (number, last) = (format!("{} of {}", at + 1, answers.len()), at + 1 == answers.len());
        learner.expect("status", "Item", &number).await?;
        learner.find("textbox", field).await?.send_keys(first).await?;
        if at == 1 {
            kill(learner, address).await?
        } else {
            reload(learner).await?
        }
        learner.expect("status", "Item", &number).await?;
        let typed = learner.find("textbox", field).await?.prop("value").await?;
        ensure(typed.as_deref() == Some(first.trim_end()) || typed.as_deref() == Some(*first), || {
            format!("half an answer has become {typed:?}")
        })?;
        learner.find("textbox", field).await?.send_keys(rest).await?;
        press(learner, "Answer").await?;
        reload(learner).await?;
        let judged = learner.text_of("status", "Judged").await?;
        ensure(judged.starts_with("Right") == *right, || format!("{first}{rest}: {judged}"))?;
        press(learner, if last { "To the result" } else { "Next" }).await?;
        reload(learner).await?;
    }
    Ok(())
}

pub async fn reading_with_breaks(session: Session) -> Outcome {
    let payload = teacher(&session, Task::Read, "The ferry leaves.\nNo dogs.\nNo cats.", &[]).await?;
    on_its_way(&session, &payload, async |learner: &Session, address: &str| {
        let answers = [("the ferry", " leaves.", true), ("no d", "ogs.", true), ("no r", "ats.", false)];
        typed_round(learner, address, "It says", &answers).await?;
        learner.expect("status", "Result", "2 of 3 right at the first answer.").await?;
        Ok(vec![(2, 3)])
    })
    .await
}

pub async fn dot_numbers_with_breaks(session: Session) -> Outcome {
    let payload = teacher(&session, Task::DotNumbers, "", &["letter c", "groupsign st"]).await?;
    on_its_way(&session, &payload, async |learner: &Session, address: &str| {
        let field = "Its dot numbers, a space between cells";
        typed_round(learner, address, field, &[("1", "-4", true), ("3-", "5", false)]).await?;
        learner.expect("status", "Result", "1 of 2 right at the first answer.").await?;
        Ok(vec![(1, 2)])
    })
    .await
}

/// Signs of two cells, written with the six keys: a break between the first and the second.
pub async fn signs_written_with_breaks(session: Session) -> Outcome {
    let payload = teacher(&session, Task::Write, "", &["groupsign ound", "groupsign ance"]).await?;
    on_its_way(&session, &payload, async |learner: &Session, address: &str| {
        // Dots of the signs: section 10.8 of the standard: "ound" .d, "ance" .e.
        for (at, (first, second, right)) in [(".", "d", true), (".", "d", false)].into_iter().enumerate() {
            learner.expect("status", "Item", &format!("{} of 2", at + 1)).await?;
            learner.write(&crate::browser::cells(first)).await?;
            if at == 1 {
                kill(learner, address).await?
            } else {
                reload(learner).await?
            }
            learner.find("textbox", "Braille").await?.click().await?;
            learner.with_control(&END.to_string()).await?;
            learner.type_cells(&crate::browser::cells(second)).await?;
            press(learner, "Answer").await?;
            reload(learner).await?;
            let judged = learner.text_of("status", "Judged").await?;
            ensure(judged.starts_with("Right") == right, || format!("sign {at}: {judged}"))?;
            press(learner, if at == 1 { "To the result" } else { "Next" }).await?;
            reload(learner).await?;
        }
        Ok(vec![(1, 2)])
    })
    .await
}

/// "The ferry leaves.", its last e reversed when asked.
fn ferry(reversed: bool) -> Vec<Cell> {
    let mut cells = ueb::transcribe("The ferry leaves.", &Options::default());
    let e = cell::from_ascii("e").expect("a cell")[0];
    let at = cells.iter().rposition(|cell| *cell == e).expect("an e");
    if reversed {
        cells[at] = e.mirror();
    }
    cells
}

/// Writes the first half, breaks off, writes the rest.
async fn in_two_halves(learner: &Session, cells: &[Cell]) -> Outcome {
    let half = cells.len() / 2;
    learner.write(&cells[..half]).await?;
    reload(learner).await?;
    learner.find("textbox", "Braille").await?.click().await?;
    learner.with_control(&END.to_string()).await?;
    learner.type_cells(&cells[half..]).await
}

async fn writing(session: Session, task: Task) -> Outcome {
    let payload = teacher(&session, task, "The ferry leaves.", &[]).await?;
    on_its_way(&session, &payload, async |learner: &Session, address: &str| {
        in_two_halves(learner, &ferry(true)).await?;
        press(learner, "Mark my work").await?;
        value_of(learner, "Slip link").await?;
        kill(learner, address).await?;
        let found = "return document.querySelectorAll('.findings > li').length === 1";
        learner.until("the finding", found).await?;
        // A second try, broken off as well; the first stays on the slip.
        press(learner, "Start again").await?;
        in_two_halves(learner, &ferry(false)).await?;
        press(learner, "Mark my work").await?;
        let tries = "return document.querySelector('main').textContent.includes('2 tries, the last 3 of 3 words right')";
        learner.until("two tries", tries).await?;
        reload(learner).await?;
        Ok(vec![(2, 3), (3, 3)])
    })
    .await
}

pub async fn writing_with_breaks(session: Session) -> Outcome {
    writing(session, Task::Write).await
}

pub async fn a_slate_with_breaks(session: Session) -> Outcome {
    writing(session, Task::Slate).await
}

pub async fn a_trial_with_breaks(session: Session) -> Outcome {
    let payload = teacher(&session, Task::Transcribe, "The ferry leaves.", &[]).await?;
    on_its_way(&session, &payload, async |learner: &Session, address: &str| {
        let mut line = vec![Cell::BLANK; 2];
        line.extend(ferry(true));
        in_two_halves(learner, &line).await?;
        press(learner, "Hand in").await?;
        let told =
            "return document.querySelector('main').textContent.includes('Mistakes a page: 1; pass line: 2')";
        learner.until("what came of it", told).await?;
        kill(learner, address).await?;
        learner.until("what came of it, after the crash", told).await?;
        // What comes back with the page moves the button down.
        let place = "JSON.stringify([...document.querySelectorAll('main button')].map((one) => one.getBoundingClientRect().top))";
        let still = format!("const now = {place}; const was = window.was; window.was = [...(was ?? []), now].slice(-8); return window.was.length === 8 && window.was.every((one) => one === now)");
        learner.until("the page holds still", &still).await?;
        press(learner, "Hand in, the last try").await?;
        let back = "return document.querySelector('main').textContent.includes('came back')";
        learner.until("what came back", back).await?;
        reload(learner).await?;
        learner.until("what came back, after a reload", back).await?;
        Ok(vec![(2, 3), (2, 3)])
    })
    .await
}

pub async fn proofreading_with_breaks(session: Session) -> Outcome {
    let text = "The ferry leaves from the quay at ten in the morning and comes back in the afternoon.";
    let payload = teacher(&session, Task::Proofread, text, &[]).await?;
    let set = Exercise::from_payload(&payload)?;
    let proof = proofread::proof(&set.text, set.contracted, &set.plants.clone().unwrap_or_default());
    ensure(!proof.planted.is_empty(), || "nothing was planted".to_owned())?;
    on_its_way(&session, &payload, async |learner: &Session, address: &str| {
        let first = &proof.planted[0];
        learner.until("the sheet", "return !!document.querySelector('.cursor-sheet')").await?;
        learner.script("document.querySelector('.sheet-text').focus()").await?;
        for _ in 0..first.line {
            learner.press(DOWN).await?;
        }
        for _ in 0..first.cells.start {
            learner.press(RIGHT).await?;
        }
        fill(learner, ".beside select", first.kind.name()).await?;
        press(learner, "Mark this cell").await?;
        reload(learner).await?;
        learner
            .until("the mark", "return document.querySelector('main').textContent.includes('1 cell marked')")
            .await?;
        kill(learner, address).await?;
        press(learner, "I am done").await?;
        let score = format!("Found 1 of {}, 1 with the right kind", proof.planted.len());
        let told = format!("return document.querySelector('main').textContent.includes({score:?})");
        learner.until("the score", &told).await?;
        reload(learner).await?;
        learner.until("the score after a reload", &told).await?;
        Ok(vec![(1, proof.planted.len() as u32)])
    })
    .await
}
