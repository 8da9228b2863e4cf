//! The main path of the rooms Signs and Read; the other rooms have theirs in the files of their name.

use cellwright::cell;
use fantoccini::key::Key;

use crate::browser::{Outcome, Session, ensure};
use crate::desk_files::choose;

/// The words of the chart's signs.
const SHOWN: &str =
    "return [...document.querySelectorAll('.chart li .means')].map((at) => at.textContent).join(' ')";

/// A sign is found by its dots, by name and with the six keys; ticked, noted, and both are there again.
pub async fn a_sign_is_found_ticked_and_noted(session: Session) -> Outcome {
    session.open("#/signs").await?;
    let search = session.find("searchbox", "Find by print, name or dot numbers").await?;
    search.send_keys("4-5-6").await?;
    session
        .until("the signs with that prefix", "return document.querySelectorAll('.chart li').length < 60")
        .await?;
    let shown = session.script(SHOWN).await?;
    let shown = shown.as_str().unwrap_or_default();
    // The Rules of UEB, section 10.7.1: the initial-letter contractions with dots 456.
    for word in ["cannot", "had", "many", "spirit", "their", "world"] {
        ensure(shown.split(' ').any(|one| one == word), || format!("{word} is not among {shown}"))?;
    }
    ensure(!shown.contains("mother"), || format!("mother, of another prefix, is among {shown}"))?;

    // With the six keys: dots 3-4 (section 10.4.1).
    session.switch("Find with six keys", true).await?;
    session.find("textbox", "Braille").await?;
    session.type_cells(&cell::from_ascii("/").expect("a cell")).await?;
    let of_st = "const at = [...document.querySelectorAll('.chart li button')].find((one) => one.querySelector('.means').textContent === 'st');";
    session
        .until("st", &format!("{of_st} return !!at && document.querySelectorAll('.chart li').length < 20"))
        .await?;
    session.script(&format!("{of_st} at.click()")).await?;
    session.find("heading", "st (strong groupsign)").await?;
    session.find("checkbox", "Ticked as learned elsewhere").await?.click().await?;
    session.find("textbox", "Note").await?.send_keys("ferry stop").await?;
    session.press(char::from(Key::Tab)).await?;

    session.open("#/signs").await?;
    session
        .until("the chart", &format!("{of_st} return at?.querySelector('.known').textContent === '✓ ticked'"))
        .await?;
    session.script(&format!("{of_st} at.click()")).await?;
    let note = session.find("textbox", "Note").await?.prop("value").await?.unwrap_or_default();
    ensure(note == "ferry stop", || format!("the note is {note:?}"))?;
    session.switch("Only signs not known yet", true).await?;
    session
        .until(
            "st to be away",
            &format!("{of_st} return !at && document.querySelectorAll('.chart li').length > 100"),
        )
        .await?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// A page is read: a clue, a word uncovered, a line told right, the page closed with its figures, which the Record room has;
/// then a text of one's own, which stands on the shelf again after a reload.
pub async fn a_page_is_read_and_a_text_of_ones_own(session: Session) -> Outcome {
    session.open("#/read").await?;
    session.until("a text", "return !!document.querySelector('.reading-room .paper')").await?;
    session.find("button", "A clue").await?.click().await?;
    session.until("a clue", "return document.querySelectorAll('aside .clues li').length === 1").await?;
    session.find("button", "the line").await?.click().await?;
    let uncovered = "return document.querySelector('aside .uncovered').textContent.trim()";
    session.until("the line", &uncovered.replace(".trim()", ".trim() !== ''")).await?;
    let line = session.script(uncovered).await?.as_str().unwrap_or_default().to_owned();
    session.find("textbox", "Line 1 says").await?.send_keys(&format!("{line} and more")).await?;
    session.find("button", "Check").await?.click().await?;
    session
        .until(
            "the word of it",
            "return document.querySelector('aside [role=status]').textContent.startsWith('Not yet')",
        )
        .await?;
    let field = session.find("textbox", "Line 1 says").await?;
    field.clear().await?;
    field.send_keys(&line).await?;
    session.press(char::from(Key::Enter)).await?;
    let right = format!(
        "return document.querySelector('aside [role=status]').textContent === {:?}",
        format!("Right: {line}")
    );
    session.until("the line to be right", &right).await?;
    session.find("textbox", "Line 2 says").await?;
    session.find("button", "I have read this page").await?.click().await?;
    session
        .until(
            "the figures",
            "return document.querySelector('aside [role=status]').textContent.includes('words and')",
        )
        .await?;
    session.open("#/record").await?;
    let words = "return Number(document.querySelector('main').textContent.match(/; (\\d+) words/)?.[1] ?? 0)";
    session.until("the words in the record", &format!("return (() => {{ {words} }})() > 3")).await?;

    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("log.txt");
    std::fs::write(&path, "The Kittiwake sails at noon.\n")?;
    session.open("#/read").await?;
    session.unfold().await?;
    choose(&session, "File", &path).await?;
    session.find("heading", "log.txt").await?;
    session.until("its braille", "return !!document.querySelector('.paper .dot')").await?;
    session.open("#/read").await?;
    session.open_text("log.txt").await?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}
