//! Dot numbers only: no braille glyph stands anywhere, in no room, text, title, address, name or copy, and no cell is drawn.

use cellwright::cell;
use cellwright::exercise::{Exercise, Task};
use serde_json::{Value, json};

use crate::browser::{Browser, Outcome, Session, cells, ensure};
use crate::states;

/// Where a braille glyph stands, or a cell is drawn: in texts, attributes, fields, the title and the address, also as an
/// address writes it; dots drawn as circles or as lines of no length.
const BRAILLE: &str = "
    const glyph = /[\\u2800-\\u28ff]|%E2%A[0-3]/i;
    const found = [];
    if (glyph.test(document.title)) found.push('the title');
    if (glyph.test(location.href)) found.push('the address');
    for (const at of document.querySelectorAll('html, html *')) {
        for (const { name, value } of at.attributes)
            if (glyph.test(value)) found.push(`${at.tagName} ${name}=${value.slice(0, 40)}`);
        for (const part of at.childNodes)
            if (part.nodeType === Node.TEXT_NODE && glyph.test(part.data)) found.push(`${at.tagName} ${at.className}: ${part.data.slice(0, 40)}`);
        if ('value' in at && glyph.test(at.value)) found.push(`${at.tagName} holds ${at.value.slice(0, 40)}`);
        if (at.localName === 'path' && /h0(?!\\.)/.test(at.getAttribute('d') ?? '')) found.push(`a path of ${at.closest('svg').outerHTML.slice(0, 60)}`);
        if (at.matches('.hole')) found.push(`a window with holes: ${at.getAttribute('aria-label')}`);
        if (/^(circle|ellipse)$/.test(at.localName) && !at.closest('.plot')) found.push(`a ${at.localName} of ${at.closest('svg').outerHTML.slice(0, 60)}`);
    }
    return found.slice(0, 5).join('; ')";

/// What the tree that screen readers meet says in braille glyphs.
async fn told(session: &Session) -> Outcome<Vec<String>> {
    if session.browser == Browser::Firefox {
        return Ok(Vec::new());
    }
    let tree = session.devtools("Accessibility.getFullAXTree", json!({})).await?;
    let glyph = |text: &&str| text.chars().any(|c| ('\u{2800}'..='\u{28ff}').contains(&c));
    let said = |node: &Value| {
        ["name", "value", "description"]
            .iter()
            .filter_map(|what| node[what]["value"].as_str())
            .find(|text| glyph(text))
            .map(str::to_owned)
    };
    Ok(tree["nodes"].as_array().map(|all| all.iter().filter_map(said).collect()).unwrap_or_default())
}

/// Nothing of the kind is on the page as it stands, everything unfolded.
async fn none(session: &Session, state: &str, found: &mut Vec<String>) -> Outcome {
    session.unfold().await?;
    tokio::time::sleep(std::time::Duration::from_millis(250)).await;
    let on_page = session.script(BRAILLE).await?;
    if on_page != "" {
        found.push(format!("{state}: {on_page}"));
    }
    if let Some(said) = told(session).await?.first() {
        found.push(format!("{state}: the accessibility tree says {said}"));
    }
    Ok(())
}

fn nothing(found: &[String]) -> Outcome {
    ensure(found.is_empty(), || format!("braille stands in\n  {}", found.join("\n  ")))
}

async fn with_numbers(session: &Session) -> Outcome {
    session.open("#/write").await?;
    session.switch("Dot numbers only", true).await
}

pub async fn no_room_shows_braille(session: Session) -> Outcome {
    let mut found = Vec::new();
    // The check sees braille where there is some.
    session.open("#/write").await?;
    session.write(&cells("f]ry")).await?;
    none(&session, "", &mut found).await?;
    let ways = if session.browser == Browser::Firefox { 1 } else { 2 };
    ensure(found.len() == ways, || format!("with the switch off only {found:?} is found"))?;
    found.clear();
    session.switch("Dot numbers only", true).await?;
    for room in states::ROOMS {
        states::stand(&session, room).await?;
        none(&session, room, &mut found).await?;
    }
    // What is seldom opened in them.
    states::stand(&session, "write").await?;
    session.unfold().await?;
    session.switch("For my braille display", true).await?;
    session.switch("Say what that cell means", true).await?;
    session.find("combobox", "Announce the reading").await?.select_by_value("words").await?;
    session.write(&cells(" .? l1ves \"")).await?;
    for key in ['\u{e012}', '\u{e012}', '\u{e012}', '\u{e011}'] {
        session.press(key).await?;
        none(&session, "Write, the caret moved", &mut found).await?;
    }
    states::stand(&session, "proofread").await?;
    session.find("button", "I am done").await?.click().await?;
    session.find("heading", "What was planted").await?;
    none(&session, "Proofread, done", &mut found).await?;
    session.find("button", "Trial hand-in").await?.click().await?;
    session.find("button", "Begin the trial").await?.click().await?;
    session.find("textbox", "Braille").await?;
    none(&session, "a trial", &mut found).await?;
    session.open("#/signs").await?;
    session.find("button", "Print sheets and cards").await?.click().await?;
    none(&session, "sheets and cards", &mut found).await?;
    session.open("#/").await?;
    session.open("#/course?unit=strong-h").await?;
    session.until("a lesson", "return document.querySelectorAll('.lesson-signs li').length > 3").await?;
    none(&session, "the course", &mut found).await?;
    nothing(&found)
}

pub async fn no_drill_shows_braille(session: Session) -> Outcome {
    with_numbers(&session).await?;
    session
        .script("localStorage.setItem('cellwright.unit', JSON.stringify({version: 1, value: 20}))")
        .await?;
    session.open("#/").await?;
    crate::drill::choose_freely(&session).await?;
    let count = session.script("return document.querySelectorAll('.practise select option').length").await?;
    ensure(count.as_u64() > Some(15), || format!("{count} drills"))?;
    let mut found = Vec::new();
    for n in 0..count.as_u64().unwrap_or(0) {
        let name = session
            .script(&format!(
                "const at = document.querySelector('.practise select'); at.selectedIndex = {n}; at.dispatchEvent(new Event('change', {{bubbles: true}}));
                 return at.value"
            ))
            .await?;
        // A drill about drawn dots says that it is, and shows none.
        session
            .until("the drill", "return !!document.querySelector('.practise .drill, .practise > div > p')")
            .await?;
        none(&session, &format!("drill {name}"), &mut found).await?;
        // Answered, and wrongly: what it was is told.
        if session.script("return !!document.querySelector('.drill form input[type=text]')").await? == true {
            let field = session.client.find(fantoccini::Locator::Css(".drill form input[type=text]")).await?;
            field.send_keys("zz\u{e007}").await?;
        } else if session.script("return !!document.querySelector('.drill .text-box')").await? == true {
            session.client.find(fantoccini::Locator::Css(".drill .text-box")).await?.click().await?;
            session.type_cells(&cells("=q ")).await?;
        }
        if session.script("return !!document.querySelector('.drill .slate')").await? == true {
            session.client.find(fantoccini::Locator::Css(".drill .slate")).await?.click().await?;
            for key in "124".chars() {
                session.press(key).await?;
            }
            session
                .until(
                    "the dots as numbers",
                    "return document.querySelector('.slate .window.now').textContent === '1-2-4'",
                )
                .await?;
            session.find("button", "Cell 1, dot 2").await?.click().await?;
            session
                .until(
                    "a dot taken back",
                    "return document.querySelector('.slate .window.now').textContent === '1-4'",
                )
                .await?;
            none(&session, &format!("drill {name}, punched"), &mut found).await?;
        }
        none(&session, &format!("drill {name}, answered"), &mut found).await?;
    }
    nothing(&found)
}

/// What comes from others may hold glyphs; they are put into words.
pub async fn glyphs_from_outside_are_put_into_words(session: Session) -> Outcome {
    with_numbers(&session).await?;
    let mut found = Vec::new();
    let (title, text) = ("The sign ⠮", "The sign ⠮ is the word.\nNo dogs.");
    for task in [Task::Write, Task::Read, Task::DotNumbers, Task::Transcribe] {
        // Set without dot numbers only: who wants them everywhere has them here.
        let set = Exercise { title: title.into(), text: text.into(), task, ..Exercise::default() };
        session.open(&format!("#/x/{}", set.to_payload()?)).await?;
        session.find("heading", "The sign (dots 2-3-4-6)").await?;
        if matches!(task, Task::Write | Task::Transcribe) {
            session.write(&cells(",! f]ry")).await?;
        }
        none(&session, task.words(), &mut found).await?;
    }
    // A pasted text is called by what it says. Its last cells say nothing by any rule.
    session.open("#/read").await?;
    session.unfold().await?;
    let braille = cell::to_unicode(&cells(",! f]ry l1ves f ! quay4 .,.,"));
    let paste = format!(
        "const field = document.querySelector('.own-text textarea');
         field.value = {braille:?}; field.dispatchEvent(new Event('input', {{bubbles: true}}))"
    );
    session.script(&paste).await?;
    session.find("button", "Read this").await?.click().await?;
    session.find("heading", "Pasted: The ferry leaves from the").await?;
    // The field is the learner's own again, and empty.
    none(&session, "Read, a text pasted", &mut found).await?;
    nothing(&found)
}
