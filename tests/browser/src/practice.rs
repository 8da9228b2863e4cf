//! The first screen, the practice, and the rooms Read, Signs and Record.

use serde_json::Value;

use crate::browser::{Outcome, Session, ensure};

/// What the first drawn cells in the room read as, by the text that assistive technology meets there.
async fn drawn(session: &Session, within: &str) -> Outcome<String> {
    let script = format!("return document.querySelector('{within} .cells .sr')?.textContent ?? ''");
    Ok(session.script(&script).await?.as_str().unwrap_or_default().to_owned())
}

fn read_back(braille: &str, contracted: bool) -> String {
    let cells: Vec<_> = braille.chars().filter_map(cellwright::cell::Cell::from_unicode).collect();
    let options = cellwright::ueb::ReadOptions { contracted, ..Default::default() };
    cellwright::ueb::read_print(&cells, &options)
}

/// From a fresh profile to the first right answer: point at the field, type, Enter.
pub async fn the_first_right_answer_takes_three_actions(session: Session) -> Outcome {
    session.open("").await?;
    let line = read_back(&drawn(&session, ".one-line").await?, false);
    ensure(!line.is_empty(), || "no line stands on the first screen".to_owned())?;
    let field = session.find("textbox", "It says").await?;
    field.click().await?;
    field.send_keys(&line).await?;
    session.press('\u{e007}').await?;
    let said = format!(
        "return [...document.querySelectorAll('[role=status]')].some((at) => at.textContent.startsWith('Right: {line}'))"
    );
    session.until("the word that it was right", &said).await?;
    session.picture("first-after", 1280).await
}

const TYPING: &str = "return document.activeElement?.tagName === 'INPUT'";

/// All that the browser keeps of the record: the answers in every journal.
const ANSWERS: &str = "return Object.entries(localStorage).filter(([key]) => key.startsWith('cellwright.journal.'))
    .map(([, text]) => text.split('\\n').filter((line) => line.includes('\\tanswer\\t')).length).reduce((a, b) => a + b, 0)";

/// Names the letter that is asked, from its drawn cells, and answers it with the keyboard.
async fn answer_letter(session: &Session) -> Outcome {
    let letter = read_back(&drawn(session, ".asked").await?, false);
    for key in letter.chars().chain(['\u{e007}']) {
        session.press(key).await?;
    }
    Ok(())
}

pub async fn a_session_by_keyboard_alone(session: Session) -> Outcome {
    session.open("").await?;
    // Tab to "Practise", as the focus shows it, and press Enter.
    let mut steps = 0;
    while session.script("return document.activeElement?.textContent === 'Practise'").await?
        != Value::Bool(true)
    {
        session.press('\u{e004}').await?;
        steps += 1;
        ensure(steps < 60, || "Tab does not reach \"Practise\"".to_owned())?;
    }
    session.press('\u{e007}').await?;
    session.until("the first item", TYPING).await?;
    for _ in 0..5 {
        answer_letter(&session).await?;
    }
    session
        .until(
            "five answers",
            &ANSWERS.replace("reduce((a, b) => a + b, 0)", "reduce((a, b) => a + b, 0) === 5"),
        )
        .await?;
    session
        .until(
            "the count",
            "return document.querySelector('.tally')?.textContent === '5 right at first sight of 5'",
        )
        .await?;
    session.picture("practise", 1280).await?;
    session.picture("practise", 400).await
}

/// Every drill opens, takes the focus where there is something to type, and says nothing bad on the console.
pub async fn every_drill_opens(session: Session) -> Outcome {
    session.open("").await?;
    session
        .script("localStorage.setItem('cellwright.unit', JSON.stringify({version: 1, value: 20}))")
        .await?;
    session.open("").await?;
    session.find("button", "Practise").await?.click().await?;
    let count = session.script("return document.querySelectorAll('.practise select option').length").await?;
    let count = count.as_u64().unwrap_or(0);
    ensure(count >= 17, || format!("{count} drills"))?;
    for n in 0..count {
        session
            .script(&format!(
                "const at = document.querySelector('.practise select'); at.selectedIndex = {n}; at.dispatchEvent(new Event('change', {{bubbles: true}}))"
            ))
            .await?;
        session
            .until("the drill", "return !!document.querySelector('.practise .drill') && document.activeElement !== document.body")
            .await?;
        session.picture(&format!("drill-{n}"), 1000).await?;
    }
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// 200 answers; the tab is killed at several points and opened again: at most the last answer is missing.
pub async fn a_killed_tab_loses_at_most_one_answer(session: Session) -> Outcome {
    session.open("").await?;
    session.find("button", "Practise").await?.click().await?;
    session.until("the first item", TYPING).await?;
    let mut given = 0u64;
    for stop in [1u64, 2, 37, 90, 151, 200] {
        while given < stop {
            answer_letter(&session).await?;
            given += 1;
        }
        // Killed, not closed: no page code runs any more.
        let new = session.client.new_window(true).await?.handle;
        let _ = session.devtools("Page.crash", serde_json::json!({})).await;
        session.client.switch_to_window(new).await?;
        session.open("#/record").await?;
        let kept = session.script(ANSWERS).await?.as_u64().unwrap_or(0);
        ensure(kept + 1 >= given && kept <= given, || format!("{kept} of {given} answers are kept"))?;
        let shown = session.script("return document.querySelector('main').textContent").await?;
        let shown = shown.as_str().unwrap_or_default().to_owned();
        ensure(shown.contains(&format!("{kept} answers")), || format!("the Record room says {shown}"))?;
        given = kept;
        session.open("").await?;
        session.find("button", "Practise").await?.click().await?;
        session.until("an item", TYPING).await?;
    }
    Ok(())
}

pub async fn the_sheet_in_every_look(session: Session) -> Outcome {
    session.open("#/read").await?;
    session.until("the shelf", "return document.querySelectorAll('.shelf option').length > 40").await?;
    let choose = |label: &str, n: usize| {
        format!(
            "const at = [...document.querySelectorAll('label')].find((label) => label.textContent.startsWith('{label}')).querySelector('select');
            at.selectedIndex = {n}; at.dispatchEvent(new Event('change', {{bubbles: true}}))"
        )
    };
    session
        .script(
            "const at = document.querySelector('.shelf select'); at.value = 'A piano for Little Fenn'; at.dispatchEvent(new Event('change', {bubbles: true}))",
        )
        .await?;
    session
        .until(
            "the piano",
            "return document.querySelector('.reading-room h2')?.textContent === 'A piano for Little Fenn'",
        )
        .await?;
    for (n, look) in ["ink", "raised", "interpoint", "numbers"].iter().enumerate() {
        session.script(&choose("Look", n)).await?;
        session.script(&choose("Show", n)).await?;
        session.script(&choose("Guides", n % 3)).await?;
        tokio::time::sleep(std::time::Duration::from_millis(200)).await;
        session.picture(&format!("read-{look}"), 1280).await?;
    }
    session.picture("read-phone", 400).await?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}
