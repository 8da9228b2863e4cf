//! The drills that are chosen freely, and the rooms Read, Signs and Record.

use fantoccini::actions::{InputSource as _, KeyAction, KeyActions};
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

const TYPING: &str = "return document.activeElement?.tagName === 'INPUT'";

/// Opens the drills and waits until an answer can be typed.
async fn practise(session: &Session) -> Outcome {
    session.open("#/practise").await?;
    session.until("an item", "return !!document.querySelector('.drill input')").await?;
    session.script("document.querySelector('.drill input').focus()").await?;
    session.until("the focus in the answer", TYPING).await
}

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

/// Shift and Tab: one step back.
async fn back_tab(session: &Session) -> Outcome {
    let (shift, tab) = ('\u{e008}', '\u{e004}');
    let keys = KeyActions::new("hands".to_owned())
        .then(KeyAction::Down { value: shift })
        .then(KeyAction::Down { value: tab })
        .then(KeyAction::Up { value: tab })
        .then(KeyAction::Up { value: shift });
    Ok(session.client.perform_actions(keys).await?)
}

pub async fn drills_by_keyboard_alone(session: Session) -> Outcome {
    session.open("").await?;
    // Tab to "Practise one thing", as the focus shows it, and press Enter.
    let mut steps = 0;
    while session.script("return document.activeElement?.textContent === 'Practise one thing'").await?
        != Value::Bool(true)
    {
        session.press('\u{e004}').await?;
        steps += 1;
        ensure(steps < 60, || "Tab does not reach \"Practise one thing\"".to_owned())?;
    }
    session.press('\u{e007}').await?;
    session.until("the first item", "return !!document.querySelector('.drill input')").await?;
    // The answer has the focus already, or is a few steps on.
    let mut steps = 0;
    while session.script("return document.activeElement?.closest('.drill')?.tagName ?? ''").await? == "" {
        session.press('\u{e004}').await?;
        steps += 1;
        ensure(steps < 8, || "Tab does not reach the answer".to_owned())?;
    }
    session.until("the answer", TYPING).await?;
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
    session.picture("practise", 400).await?;
    // Another drill from the list, answered by a chord.
    let mut steps = 0;
    while session.script("return document.activeElement?.tagName").await? != "SELECT" {
        back_tab(&session).await?;
        steps += 1;
        ensure(steps < 8, || "Shift and Tab do not reach the list of drills".to_owned())?;
    }
    session.press('\u{e015}').await?;
    session.press('\u{e015}').await?;
    session
        .until("the other drill", "return document.querySelector('.asks')?.textContent === 'Write it.'")
        .await?;
    let mut steps = 0;
    while session.script("return document.activeElement?.closest('.drill form')?.tagName ?? ''").await? == ""
    {
        session.press('\u{e004}').await?;
        steps += 1;
        ensure(steps < 8, || "Tab does not reach the writing".to_owned())?;
    }
    for n in 6..=7 {
        let asked = session.script("return document.querySelector('.asked .large').textContent").await?;
        let letter = asked.as_str().and_then(|asked| asked.strip_prefix("letter ")).unwrap_or_default();
        session.type_cells(&cellwright::cell::from_ascii(letter).unwrap_or_default()).await?;
        let tally = format!("{n} right at first sight of {n}");
        session
            .until(
                "the chord to count",
                &format!("return document.querySelector('.tally')?.textContent === '{tally}'"),
            )
            .await?;
    }
    // Then to the Record room.
    let mut steps = 0;
    while session.script("return document.activeElement?.textContent === 'Record'").await?
        != Value::Bool(true)
    {
        session.press('\u{e004}').await?;
        steps += 1;
        ensure(steps < 80, || "Tab does not reach \"Record\"".to_owned())?;
    }
    session.press('\u{e007}').await?;
    session
        .until(
            "the Record room",
            "return location.hash === '#/record' && !!document.querySelector('.figures')",
        )
        .await
}

/// Every drill opens, takes the focus where there is something to type, and says nothing bad on the console.
pub async fn every_drill_opens(session: Session) -> Outcome {
    session.open("").await?;
    session
        .script("localStorage.setItem('cellwright.unit', JSON.stringify({version: 1, value: 20}))")
        .await?;
    session.open("#/practise").await?;
    session.until("the drills", "return !!document.querySelector('.practise select')").await?;
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

/// 200 answers; the tab is killed after some, and in the middle of others, and opened again: at most the last answer is
/// missing. The first few are where journals begin, the rest are spread over the session.
pub async fn a_killed_tab_loses_at_most_one_answer(session: Session) -> Outcome {
    practise(&session).await?;
    let mut given = 0u64;
    for stop in [1u64, 2, 3, 5, 21, 37, 64, 90, 117, 151, 176, 199, 200] {
        while given < stop {
            answer_letter(&session).await?;
            given += 1;
        }
        if stop % 2 == 0 {
            // Killed while the next answer is being typed.
            session.press('q').await?;
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
        let says = match kept {
            0 => "Nothing recorded yet".to_owned(),
            1 => "1 answer;".to_owned(),
            _ => format!("{kept} answers;"),
        };
        ensure(shown.contains(&says), || format!("the Record room says {shown}"))?;
        given = kept;
        practise(&session).await?;
    }
    Ok(())
}

pub async fn the_sheet_in_every_look(session: Session) -> Outcome {
    session.open("#/read").await?;
    session.open_text("A piano for Little Fenn").await?;
    let choose = |label: &str, n: usize| {
        format!(
            "const at = [...document.querySelectorAll('label')].find((label) => label.textContent.startsWith('{label}')).querySelector('select');
            at.selectedIndex = {n}; at.dispatchEvent(new Event('change', {{bubbles: true}}))"
        )
    };
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

/// Two tabs practise in turn; neither overwrites the other's answers.
pub async fn two_tabs_keep_each_others_answers(session: Session) -> Outcome {
    let mut tabs = vec![session.client.window().await?, session.client.new_window(true).await?.handle];
    for tab in &tabs {
        session.client.switch_to_window(tab.clone()).await?;
        practise(&session).await?;
    }
    for _ in 0..5 {
        for tab in &tabs {
            session.client.switch_to_window(tab.clone()).await?;
            session.script("document.querySelector('.drill input').focus()").await?;
            answer_letter(&session).await?;
        }
    }
    tabs.reverse();
    for tab in tabs {
        session.client.switch_to_window(tab).await?;
        session.open("#/record").await?;
        let kept = session.script(ANSWERS).await?;
        ensure(kept == 10, || format!("{kept} of 10 answers are kept"))?;
        session
            .until("all ten", "return document.querySelector('main').textContent.includes('10 answers')")
            .await?;
    }
    Ok(())
}

const GOOD: &str = "a1-0\t1700000000000\tanswer\tletter a\tread\tright\t900\t0\t\t";

/// A damaged journal: the good part counts, the rest is set aside, said once, and can be saved.
pub async fn a_damaged_record_is_set_aside_and_said(session: Session) -> Outcome {
    session.open("").await?;
    session
        .script(&format!(
            "localStorage.setItem('cellwright.journal.a1', 'cellwright record 1\\n{}\\nrubb\\u0000ish\\n');
            localStorage.setItem('cellwright.journal.b2', 'no record at all');
            localStorage.setItem('cellwright.journal.c3', 'cellwright record 9\\nwhat a later version keeps');",
            GOOD.replace('\t', "\\t")
        ))
        .await?;
    session.open("#/record").await?;
    let alert = session.script("return document.querySelector('[role=alert]')?.textContent ?? ''").await?;
    let alert = alert.as_str().unwrap_or_default().to_owned();
    ensure(alert.contains("set aside") || alert.contains("later version"), || {
        format!("the alert says {alert:?}")
    })?;
    session
        .until("the good answer", "return document.querySelector('main').textContent.includes('1 answer;')")
        .await?;
    session.find("link", "Save what was set aside").await?;
    let aside = session
        .script("return ['a1', 'b2'].every((tab) => localStorage.getItem(`cellwright.journal.${tab}.aside`) !== null) && localStorage.getItem('cellwright.journal.c3').includes('later version keeps')")
        .await?;
    ensure(aside == Value::Bool(true), || "something was thrown away".to_owned())?;
    session.script("localStorage.removeItem('cellwright.journal.c3')").await?;
    session.open("#/record").await?;
    let alert =
        session.script("return document.querySelector('main [role=alert]')?.textContent ?? ''").await?;
    ensure(alert == "", || format!("it is said again: {alert}"))
}

/// Full storage is said, and practice goes on.
pub async fn full_storage_is_said_and_practice_goes_on(session: Session) -> Outcome {
    session.open("").await?;
    session
        .script("let size = 1 << 22; while (size > 0) { try { localStorage.setItem('filler' + size + Math.random(), 'x'.repeat(size)); } catch { size >>= 1; } }")
        .await?;
    practise(&session).await?;
    for _ in 0..3 {
        answer_letter(&session).await?;
    }
    session
        .until(
            "three answers counted",
            "return document.querySelector('.tally')?.textContent === '3 right at first sight of 3'",
        )
        .await?;
    session
        .until(
            "the word of it",
            "return document.querySelector('[role=alert]')?.textContent.includes('no room')",
        )
        .await
}

/// A saved record is taken in after the question: merged, then in place of what is here.
pub async fn a_record_is_merged_or_replaced_after_a_question(session: Session) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let file = folder.path().join("record.txt");
    std::fs::write(&file, format!("cellwright record 1\n{GOOD}\n{}\n", GOOD.replace("a1-0", "a1-1")))?;
    practise(&session).await?;
    answer_letter(&session).await?;
    for (button, sum) in [("Merge: keep both", 3), ("Replace: what is here is lost", 2)] {
        session.open("#/record").await?;
        let input = session.client.find(fantoccini::Locator::Css("main input[type=file]")).await?;
        input.send_keys(&file.display().to_string()).await?;
        session.find("button", button).await?.click().await?;
        let said = format!("return document.querySelector('main').textContent.includes('{sum} answers')");
        session.until("the sum", &said).await?;
        session.open("#/record").await?;
        session.until("the sum after a reload", &said).await?;
    }
    Ok(())
}

/// The reference sheets and the flash cards as a PDF: how many pages the browser prints.
pub async fn sheets_and_cards_are_printed(session: Session) -> Outcome {
    use fantoccini::wd::PrintConfiguration;
    session.open("#/signs").await?;
    session.find("textbox", "Find by print, name or dot numbers").await.ok();
    session.picture("signs", 1280).await?;
    session.find("button", "Print sheets and cards").await?.click().await?;
    let folder = crate::site::project().join("target/screens");
    std::fs::create_dir_all(&folder)?;
    let choose = |n: usize| {
        format!(
            "const at = document.querySelector('.printing select'); at.selectedIndex = {n}; at.dispatchEvent(new Event('change', {{bubbles: true}}));
            return document.querySelectorAll('.card-face').length"
        )
    };
    let mut pages = Vec::new();
    let mut faces = 0;
    for n in 0..7 {
        session.script(&choose(n)).await?;
        tokio::time::sleep(std::time::Duration::from_millis(300)).await;
        if n == 6 {
            let count = session.script("return document.querySelectorAll('.cards').length").await?;
            faces = count.as_u64().unwrap_or(0) as usize;
        }
        session.picture(&format!("print-{n}"), 1280).await?;
        let pdf = session.client.print(PrintConfiguration::default()).await?;
        std::fs::write(folder.join(format!("print-{n}.pdf")), &pdf)?;
        let text = String::from_utf8_lossy(&pdf);
        pages.push(text.matches("/Type /Page\n").count() + text.matches("/Type /Page ").count());
    }
    ensure(pages[0] == 1, || format!("the basics take {} pages", pages[0]))?;
    ensure(pages[1] > 1 && pages[1] < 20, || format!("the full set takes {} pages", pages[1]))?;
    ensure(faces > 10 && pages[6] == faces, || {
        format!("{faces} sides of cards are printed on {} pages", pages[6])
    })?;
    // The meaning of a card lies behind its sign: rows run the other way on the back.
    let registered = session
        .script(
            "const [front, back] = document.querySelectorAll('.cards');
            const of = (card) => card.textContent.trim();
            return front.children.length === 8 && back.children.length === 8 && of(back.children[1]).startsWith('a') && of(back.children[0]).length > 0",
        )
        .await?;
    ensure(registered == Value::Bool(true), || "the backs are not behind their fronts".to_owned())
}
