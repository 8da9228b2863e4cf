//! Several tabs of one browser: work is one piece in one place, and nothing is wiped without a word. And what is stored when
//! it is damaged, changed by another hand, or when there is no room.

use std::time::Duration;

use cellwright::cell::Cell;
use cellwright::ueb;
use fantoccini::wd::WindowHandle;
use serde_json::{Value, json};

use crate::browser::{END, Outcome, Session, cells, ensure};

const ELSEWHERE: &str = "return !!document.querySelector('main [role=alert]')?.textContent.includes('in another tab, and it goes on there')";
const FROM_ANOTHER: &str =
    "return document.querySelector('main')?.textContent.includes('This was open in another tab.')";
/// Fills what the browser keeps for the page to the last letter.
const FILL: &str = "let size = 4 * 1024 * 1024;
    for (let n = 0; size >= 1; n += 1) {
        try { localStorage.setItem('filler' + n, 'x'.repeat(size)); } catch { size = Math.floor(size / 2); }
    }";
const NO_ROOM: &str = "return document.querySelector('main').textContent.includes('no room left')";

/// Opens one more tab at an address, and goes there.
async fn another(session: &Session, address: &str) -> Outcome<WindowHandle> {
    let tab = session.client.new_window(true).await?.handle;
    session.client.switch_to_window(tab.clone()).await?;
    session.open(address).await?;
    Ok(tab)
}

async fn to(session: &Session, tab: &WindowHandle) -> Outcome {
    Ok(session.client.switch_to_window(tab.clone()).await?)
}

fn says(written: &[Cell]) -> String {
    ueb::read_print(written, &ueb::ReadOptions::default())
}

/// Goes on behind the last cell.
async fn write_on(session: &Session, written: &mut Vec<Cell>, more: &str) -> Outcome {
    session.find("textbox", "Braille").await?.click().await?;
    session.with_control(&END.to_string()).await?;
    session.type_cells(&cells(more)).await?;
    written.extend(cells(more));
    session.expect("status", "Reads as", &says(written)).await
}

async fn nothing_set_aside(session: &Session) -> Outcome {
    let aside = "return Object.keys(localStorage).filter((key) => key.includes('.aside'))";
    let aside = session.script(aside).await?;
    ensure(aside == Value::Array(Vec::new()), || format!("set aside: {aside}"))
}

/// Five tabs, one after the other: each goes on with what the others have written, and the one before says where it went.
pub async fn what_another_tab_opens_goes_on_there(session: Session) -> Outcome {
    session.open("#/write").await?;
    let mut tabs = vec![session.client.window().await?];
    let mut written = Vec::new();
    write_on(&session, &mut written, "f").await?;
    for more in ["e", "r", "r", "y"] {
        // At once after the last key: it is kept when the work is handed over, not later.
        tabs.push(another(&session, "#/write").await?);
        session.until("the word of it", FROM_ANOTHER).await?;
        session.expect("status", "Reads as", &says(&written)).await?;
        write_on(&session, &mut written, more).await?;
        let before = tabs.len() - 2;
        to(&session, &tabs[before]).await?;
        session.until("the word of it in the tab before", ELSEWHERE).await?;
        to(&session, &tabs[before + 1]).await?;
    }
    // And back to the first.
    to(&session, &tabs[0]).await?;
    session.find("button", "Go on here").await?.click().await?;
    session.expect("status", "Reads as", &says(&written)).await?;
    write_on(&session, &mut written, "s").await?;
    for tab in &tabs[1..] {
        to(&session, tab).await?;
        session.until("the word of it in each other tab", ELSEWHERE).await?;
        session.client.close_window().await?;
    }
    to(&session, &tabs[0]).await?;
    session.open("#/write").await?;
    session.expect("status", "Reads as", &says(&written)).await?;
    // Nobody has it now: nothing is said of another tab.
    ensure(session.script(FROM_ANOTHER).await? == false, || "another tab is spoken of".to_owned())?;
    nothing_set_aside(&session).await
}

/// The field under this label, once it is shown.
async fn field(session: &Session, name: &str) -> Outcome<fantoccini::elements::Element> {
    let label = format!("//main//label[starts-with(normalize-space(.), '{name}')]");
    let path = format!("{label}//textarea | {label}//input");
    session.unfold().await?;
    Ok(session.client.wait().for_element(fantoccini::Locator::XPath(&path)).await?)
}

async fn fill(session: &Session, name: &str, text: &str) -> Outcome {
    let field = field(session, name).await?;
    field.clear().await?;
    Ok(field.send_keys(text).await?)
}

async fn holds(session: &Session, name: &str, text: &str) -> Outcome {
    let value = field(session, name).await?.prop("value").await?.unwrap_or_default();
    ensure(value == text, || format!("{name} holds {value:?} and not {text:?}"))
}

/// The print of the desk, and an exercise in the making: the newer tab's stay, and the older one goes on with them.
pub async fn print_and_set_work_are_in_one_tab(session: Session) -> Outcome {
    for (address, name) in [("#/transcribe", "The print to copy"), ("#/set", "Title")] {
        session.open(address).await?;
        let first = session.client.window().await?;
        fill(&session, name, "One.").await?;
        let second = another(&session, address).await?;
        holds(&session, name, "One.").await?;
        fill(&session, name, "Two.").await?;
        to(&session, &first).await?;
        session.until("the word of it", ELSEWHERE).await?;
        session.find("button", "Go on here").await?.click().await?;
        holds(&session, name, "Two.").await?;
        fill(&session, name, "Three.").await?;
        to(&session, &second).await?;
        session.until("the word of it", ELSEWHERE).await?;
        session.client.close_window().await?;
        to(&session, &first).await?;
        session.open(address).await?;
        holds(&session, name, "Three.").await?;
    }
    nothing_set_aside(&session).await
}

/// What is set holds in every tab at once, and none takes back what another has set.
pub async fn settings_hold_in_every_tab(session: Session) -> Outcome {
    session.open("#/write").await?;
    let first = session.client.window().await?;
    session.unfold().await?;
    let second = another(&session, "#/read").await?;
    to(&session, &first).await?;
    session.switch_theme("dark").await?;
    to(&session, &second).await?;
    session.until("the theme", "return document.documentElement.dataset.theme === 'dark'").await?;
    // A tab that has not heard of it, as when it was out of the browser's mind.
    let unheard = "const text = JSON.parse(localStorage.getItem('cellwright.settings'));
        text.value.frames = true;
        localStorage.setItem('cellwright.settings', JSON.stringify(text))";
    session.script(unheard).await?;
    session.switch_theme("light").await?;
    let kept = session.script("return localStorage.getItem('cellwright.settings')").await?;
    let kept = kept.as_str().unwrap_or_default();
    ensure(kept.contains("\"frames\":true") && kept.contains("\"Light\""), || format!("kept: {kept}"))
}

/// Two tabs put texts on the shelf, two of them with the same first words; and what is pasted and not on the shelf yet
/// is there after a reload.
pub async fn the_shelf_holds_the_texts_of_every_tab(session: Session) -> Outcome {
    let texts = [
        "On Monday the boats keep these hours.",
        "On Monday the boats keep in harbour.",
        "No dogs in the saloon.",
    ];
    let paste = "Or paste it here";
    session.open("#/read").await?;
    let first = session.client.window().await?;
    session.unfold().await?;
    session.find("textbox", paste).await?;
    let second = another(&session, "#/read").await?;
    session.unfold().await?;
    session.find("textbox", paste).await?.send_keys(texts[0]).await?;
    session.click_in_the_middle("button", "Read this").await?;
    to(&session, &first).await?;
    for text in &texts[1..] {
        session.find("textbox", paste).await?.send_keys(text).await?;
        session.click_in_the_middle("button", "Read this").await?;
        session
            .until(
                "the field to be empty",
                "return document.querySelector('.own-text textarea').value === ''",
            )
            .await?;
    }
    let shelf = "return JSON.parse(localStorage.getItem('cellwright.shelf')).value";
    let shelf = session.script(shelf).await?;
    let held: Vec<&str> =
        shelf.as_array().into_iter().flatten().filter_map(|text| text["text"].as_str()).collect();
    ensure(held == texts, || format!("the shelf holds {held:?}"))?;
    let mut titles: Vec<&str> =
        shelf.as_array().into_iter().flatten().filter_map(|text| text["title"].as_str()).collect();
    titles.dedup();
    ensure(titles.len() == 3, || format!("the titles are {titles:?}"))?;
    session.find("textbox", paste).await?.send_keys("Not yet on the shelf").await?;
    session.client.close_window().await?;
    to(&session, &second).await?;
    session.open("#/read").await?;
    session.unfold().await?;
    holds(&session, paste, "Not yet on the shelf").await?;
    nothing_set_aside(&session).await
}

/// Work that another hand has changed unseen is not written over, but set aside, and that is said.
pub async fn work_changed_unseen_is_set_aside(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cells("f]ry")).await?;
    let kept = "return Object.keys(localStorage).find((key) => key.startsWith('cellwright.work.write')) !== undefined";
    session.until("the work to be kept", kept).await?;
    let change =
        "const key = Object.keys(localStorage).find((key) => key.startsWith('cellwright.work.write'));
        localStorage.setItem(key, JSON.stringify({version: 1, value: {lines: ['!']}}))";
    session.script(change).await?;
    session.type_cells(&cells("s")).await?;
    session.find("link", "Save what was set aside").await?;
    let both = "return Object.entries(localStorage).some(([key, text]) => key.includes('.aside') && text.includes('\"!\"'))
        && Object.entries(localStorage).some(([key, text]) => !key.includes('.aside') && text.includes('f]rys'))";
    ensure(session.script(both).await? == true, || "one of the two is gone".to_owned())?;
    session.find("button", "Take it away for good").await?.click().await?;
    nothing_set_aside(&session).await
}

/// Work of a damaged or a later kind is not met with an empty surface in silence, and is not written over while there is no
/// room for a copy of it.
pub async fn unreadable_work_stays_while_there_is_no_room(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cells("f]ry")).await?;
    session.open("#/nowhere").await?;
    let key = "const key = Object.keys(localStorage).find((key) => key.startsWith('cellwright.work.write') && !key.includes('.aside'));";
    let later = "JSON.stringify({version: 2, value: {pages: ['f]ry']}})";
    session.script(&format!("{key} localStorage.setItem(key, {later}); {FILL}")).await?;
    session.open("#/write").await?;
    session.until("the words about room", NO_ROOM).await?;
    session.write(&cells("!")).await?;
    session.open("#/write").await?;
    let stays = format!("{key} return localStorage.getItem(key) === {later}");
    ensure(session.script(&stays).await? == true, || "the work was written over".to_owned())?;
    // With room again, what was typed is kept, beside a copy of what stood there.
    session.write(&cells("!")).await?;
    session.script("for (const key of Object.keys(localStorage)) if (key.startsWith('filler')) localStorage.removeItem(key)").await?;
    session.type_cells(&cells("m")).await?;
    let both = format!(
        "{key} return localStorage.getItem(key).includes('!m') && Object.entries(localStorage).some(([aside, text]) => aside.startsWith(key + '.aside') && text === {later})"
    );
    session.until("both to be kept", &both).await?;
    session.until("no more words about room", &NO_ROOM.replace("return ", "return !")).await?;
    session.find("link", "Save what was set aside").await.map(drop)
}

/// A line of which one character cannot be read keeps its place, and what can be read of it.
pub async fn a_damaged_line_keeps_its_place(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cells("f]ry")).await?;
    session.open("#/nowhere").await?;
    session
        .script(
            "const key = Object.keys(localStorage).find((key) => key.startsWith('cellwright.work.write'));
            localStorage.setItem(key, JSON.stringify({version: 1, value: {lines: ['o?]', 'f\u{e9}]ry', '!m']}}))",
        )
        .await?;
    session.open("#/write").await?;
    session.find("link", "Save what was set aside").await?;
    session.find("textbox", "Braille").await?.click().await?;
    session.with_control(&END.to_string()).await?;
    session.type_cells(&cells("s")).await?;
    let kept =
        "return Object.entries(localStorage).some(([key, text]) => key.startsWith('cellwright.work.write')
        && JSON.stringify(JSON.parse(text).value?.lines) === JSON.stringify(['o?]', 'f]ry', '!ms']))";
    session.until("three lines", kept).await
}

/// A record that has grown long is made short in the browser's store, with everything that it says.
pub async fn a_long_record_is_made_short(session: Session) -> Outcome {
    session.open("#/nowhere").await?;
    // 9,000 answers in thirty tabs, six an hour.
    let fill = "let at = Date.now() - 1500 * 3600000;
        for (let tab = 0; tab < 30; tab += 1) {
            let text = 'cellwright record 1\\n';
            for (let n = 0; n < 300; n += 1) {
                at += 600000;
                text += `t${tab}-${n}\\t${at}\\tanswer\\tletter ${'abcdefgh'[n % 8]}\\tread\\t${n % 9 ? 'right' : 'wrong'}\\t900\\t0\\t\\t\\n`;
            }
            localStorage.setItem(`cellwright.journal.t${tab}`, text);
        }";
    session.script(fill).await?;
    let stored = "return Object.entries(localStorage).filter(([key]) => key.startsWith('cellwright.journal')).map(([, text]) => text.length).reduce((a, b) => a + b, 0)";
    let before = session.script(stored).await?.as_u64().unwrap_or(0);
    session.open("#/record").await?;
    crate::drill::recorded(&session, 9000).await?;
    let figures = "return document.querySelector('.figures').textContent";
    let said = session.script(figures).await?;
    session.until("the record to be short", &format!("{} < {}", stored, before * 2 / 3)).await?;
    session.open("#/record").await?;
    crate::drill::recorded(&session, 9000).await?;
    ensure(session.script(figures).await? == said, || "the figures are others".to_owned())
}

/// A browser that crashes while somebody types steadily takes less than a second of it along, time after time.
pub async fn a_crash_while_typing_takes_less_than_a_second(session: Session) -> Outcome {
    crashes(&session, 6).await.map(drop)
}

/// So many crashes; gives the most cells that one has taken along.
pub async fn crashes(session: &Session, times: usize) -> Outcome<usize> {
    const A_SECOND: usize = 10;
    let stored =
        "return Object.entries(localStorage).filter(([key]) => key.startsWith('cellwright.work.write'))
        .map(([, text]) => JSON.parse(text).value.lines.join('').length)[0] ?? 0";
    session.open("#/write").await?;
    let (mut there, mut most) = (0, 0);
    for round in 0..times {
        session.find("textbox", "Braille").await?.click().await?;
        session.with_control(&END.to_string()).await?;
        // Ten cells a second, for some seconds; the crash comes at another moment of the second each time.
        let typed = 31 + 3 * (round % 10);
        let steadily = cells(&"a".repeat(typed));
        session.chords(&steadily, Duration::from_millis(20), Duration::from_millis(80)).await?;
        let new = session.client.new_window(true).await?.handle;
        let _ = session.devtools("Page.crash", json!({})).await;
        session.client.switch_to_window(new).await?;
        session.open("#/write").await?;
        let kept = session.script(stored).await?.as_u64().unwrap_or(0) as usize;
        let lost = (there + typed).saturating_sub(kept);
        ensure(lost <= A_SECOND, || format!("round {round}: {lost} of {typed} cells are lost"))?;
        most = most.max(lost);
        session.expect("status", "Reads as", &says(&cells(&"a".repeat(kept)))).await?;
        there = kept;
    }
    nothing_set_aside(session).await?;
    Ok(most)
}

/// Whatever is typed when there is no room any more, what was kept before is there afterwards, and the page has said so.
pub async fn what_was_kept_stays_when_there_is_no_room(session: Session) -> Outcome {
    for (address, name) in
        [("#/set", "Title"), ("#/transcribe", "The print to copy"), ("#/read", "Or paste it here")]
    {
        session.open(address).await?;
        fill(&session, name, "One.").await?;
        session.open("#/nowhere").await?;
        session.script(FILL).await?;
        session.open(address).await?;
        field(&session, name).await?.send_keys(&" And more.".repeat(20)).await?;
        session.until(&format!("the words at {address}"), NO_ROOM).await?;
        session.find("link", "Save what is not stored").await?;
        session.open(address).await?;
        let value = field(&session, name).await?.prop("value").await?.unwrap_or_default();
        ensure(value.starts_with("One."), || format!("{address}: {name} holds {value:?}"))?;
        session.script("for (const key of Object.keys(localStorage)) if (key.startsWith('filler')) localStorage.removeItem(key)").await?;
    }
    nothing_set_aside(&session).await
}

/// Every store says that there is no room, and a record is not said to be taken in that was not.
pub async fn full_storage_is_said_in_every_room(session: Session) -> Outcome {
    session.open("#/set").await?;
    fill(&session, "Title", "One.").await?;
    session.open("#/nowhere").await?;
    session.script(FILL).await?;
    session.open("#/set").await?;
    fill(&session, "Title", "A title that is longer than what was kept before").await?;
    session.until("the words in Set work", NO_ROOM).await?;
    session.open("#/write").await?;
    session.unfold().await?;
    session.switch("Faint frames", true).await?;
    session.until("the words beside the settings", NO_ROOM).await?;
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("record.txt");
    let lines: String = (0..500)
        .map(|n| {
            format!("a1-{n}\t{}\tanswer\tletter a\tread\tright\t900\t0\t\t\n", 1_700_000_000_000_u64 + n)
        })
        .collect();
    std::fs::write(&path, format!("cellwright record 1\n{lines}"))?;
    session.open("#/record").await?;
    let input = session.client.find(fantoccini::Locator::Css("main input[type=file]")).await?;
    input.send_keys(&path.display().to_string()).await?;
    session.find("button", "Replace: what is here is lost").await?.click().await?;
    session
        .until(
            "the words in Record",
            "return document.querySelector('main').textContent.includes('Nothing was changed.')",
        )
        .await?;
    let told = "return document.querySelector('main').textContent.includes('are the record now')";
    ensure(session.script(told).await? == false, || "a record is said to be taken in".to_owned())
}
