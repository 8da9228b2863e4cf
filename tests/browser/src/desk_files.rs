//! The desk's files as a learner meets them: chosen, dropped anywhere, refused; and the learner's own slips with the tour.

use std::path::Path;

use cellwright::cell::{self, Cell};
use cellwright::manuscript::Sheet;
use cellwright::manuscript::tour::{self, Habit};

use crate::browser::{Outcome, Session, ensure};

const OPEN_ALL: &str = "for (const one of document.querySelectorAll('main details')) one.open = true";

/// Sets a field's value as typing would.
async fn fill(session: &Session, selector: &str, value: &str) -> Outcome {
    let script = format!(
        "const field = document.querySelector({selector:?});
         const kind = field.tagName === 'TEXTAREA' ? HTMLTextAreaElement : field.tagName === 'SELECT' ? HTMLSelectElement : HTMLInputElement;
         Object.getOwnPropertyDescriptor(kind.prototype, 'value').set.call(field, {});
         field.dispatchEvent(new Event('input', {{bubbles: true}}));
         field.dispatchEvent(new Event('change', {{bubbles: true}}));",
        serde_json::json!(value)
    );
    session.script(&script).await.map(drop)
}

/// Drops a file on what the selector finds.
async fn drop_on(session: &Session, selector: &str, name: &str, text: &str) -> Outcome {
    let script = format!(
        "const data = new DataTransfer();
         data.items.add(new File([{}], {name:?}));
         const at = document.querySelector({selector:?});
         const event = new DragEvent('drop', {{dataTransfer: data, bubbles: true, cancelable: true}});
         return at.dispatchEvent(event)",
        serde_json::json!(text)
    );
    let left = session.script(&script).await?;
    ensure(left == false, || format!("the browser would leave the page for {name}, dropped on {selector}"))
}

/// Gives a file to the field whose label begins so.
pub async fn choose(session: &Session, label: &str, path: &Path) -> Outcome {
    let mark = format!(
        "for (const one of document.querySelectorAll('input[type=file]')) one.id = '';
         const label = [...document.querySelectorAll('.drop label')].find((one) => one.textContent.startsWith({label:?}));
         label.querySelector('input').id = 'chosen-file';"
    );
    session.script(&mark).await?;
    let field = session.client.find(fantoccini::Locator::Css("#chosen-file")).await?;
    Ok(field.send_keys(&path.display().to_string()).await?)
}

async fn said(session: &Session, words: &str) -> Outcome {
    let script = format!(
        "return [...document.querySelectorAll('[role=alert]')].some((one) => one.textContent.includes({words:?}))"
    );
    session.until(words, &script).await
}

/// The lines on the surface, as the screen reader has them.
async fn line(session: &Session, number: usize, ascii: &str) -> Outcome {
    let cells = cell::to_unicode(&cell::from_ascii(ascii).expect("cells"));
    let script = format!(
        "return document.querySelector('.line[data-line=\"{number}\"] .sr')?.textContent.trimEnd() === {cells:?}"
    );
    session.until(&format!("line {number} with {ascii}"), &script).await
}

pub async fn files_are_chosen_dropped_and_refused(session: Session) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let file = |name: &str, bytes: &[u8]| -> Outcome<std::path::PathBuf> {
        let path = folder.path().join(name);
        std::fs::write(&path, bytes)?;
        Ok(path)
    };
    session.open("#/transcribe").await?;
    session.script(OPEN_ALL).await?;
    // Told by content: Unicode braille under any name; with a byte-order mark, in UTF-8 and UTF-16.
    choose(&session, "Open a braille file", &file("notes.txt", "\u{feff}⠮ ⠞⠊⠙⠑\n".as_bytes())?).await?;
    line(&session, 0, "! tide").await?;
    let wide: Vec<u8> = "\u{feff}f]ry\r\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
    choose(&session, "Open a braille file", &file("wide.brf", &wide)?).await?;
    line(&session, 0, "f]ry").await?;
    choose(&session, "Open print", &file("notice.md", "\u{feff}# Tides\n\nHigh at noon.\n".as_bytes())?)
        .await?;
    session
        .until("the print", "return document.querySelector('.copyholder').textContent.includes('Tides')")
        .await?;
    // What is refused leaves the work as it is.
    choose(&session, "Open a braille file", &file("photo.brf", &[0x89, 0x50, 0, 1, 2, 0xff])?).await?;
    said(&session, "This is not a text file").await?;
    choose(&session, "Open a braille file", &file("large.brf", &vec![b'a'; 10_000_001])?).await?;
    said(&session, "at most 10 MB").await?;
    line(&session, 0, "f]ry").await?;
    // Dropped anywhere on the desk: braille is laid on it, print on the holder.
    drop_on(&session, ".copyholder", "sailing.brf", "  ,sail+\r\n").await?;
    line(&session, 0, "  ,sail+").await?;
    drop_on(&session, ".surface", "fares.md", "# Fares\n").await?;
    session
        .until("the print", "return document.querySelector('.copyholder').textContent.includes('Fares')")
        .await?;
    line(&session, 0, "  ,sail+").await?;
    // A file that is checked as it stands is not laid on the desk.
    choose(&session, "Check a file as it stands", &file("long.brf", "a".repeat(41).as_bytes())?).await?;
    session.expect("status", "Check", "1 to fix before hand-in").await?;
    line(&session, 0, "  ,sail+").await?;
    session.picture("desk-files", 1280).await
}

pub async fn own_slips_are_kept_and_toured(session: Session) -> Outcome {
    let print = "The tide is high at 10-12.";
    let written = ["  ,! tidi is hi< at", "#aj-ab4"].map(|line| cell::from_ascii(line).expect("cells"));
    session.open("#/transcribe").await?;
    session.script(OPEN_ALL).await?;
    fill(&session, "textarea[rows='10']", print).await?;
    session.find("textbox", "Braille").await?.click().await?;
    session.type_cells(&written[0]).await?;
    session.press('\u{e007}').await?;
    session.type_cells(&written[1]).await?;
    // Two slips that a grader marked.
    for (sign, after) in [("letter i", ""), ("numeric indicator", "hyphen")] {
        fill(&session, "input[list=signs-of-slips]", sign).await?;
        fill(&session, "label:has(input[list=signs-of-slips]) + label select", after).await?;
        session.find("button", "Add this slip").await?.click().await?;
    }
    let kept = "return [...document.querySelectorAll('summary')].some((one) => one.textContent === 'My own slips (2)')";
    session.until("two slips", kept).await?;
    let habits = [("letter i", ""), ("numeric indicator", "hyphen")]
        .map(|(sign, after)| Habit { sign: sign.to_owned(), after: after.to_owned() });
    let page: Vec<Vec<Cell>> = written.to_vec();
    let stops = tour::stops(Some(print), &[page], Sheet::default(), &habits);
    ensure(stops.len() >= 5, || format!("{} stops", stops.len()))?;
    session.find("button", "Tour of my slips").await?.click().await?;
    for (at, stop) in stops.iter().enumerate() {
        let place = format!(
            "Place {} of {}: page {}, line {}, cell {}. ",
            at + 1,
            stops.len(),
            stop.page + 1,
            stop.line + 1,
            stop.from + 1
        );
        let told = format!(
            "{place}You have slipped here before: {}. Whether it is right is for you to see.",
            if stop.habit == 0 { "letter i" } else { "numeric indicator after hyphen" }
        );
        session.expect("status", "Stop", &told).await?;
        let here = format!("return document.querySelector('.line.here')?.dataset.line === '{}'", stop.line);
        session.until("the caret at the place", &here).await?;
        if at + 1 < stops.len() {
            session.find("button", "Next place").await?.click().await?;
        }
    }
    session.picture("tour", 1280).await?;
    session.find("button", "End the tour").await?.click().await?;
    // A reload keeps them; one that is taken away is gone.
    session.open("#/transcribe").await?;
    session.script(OPEN_ALL).await?;
    session.until("two slips", kept).await?;
    session.find("button", "Remove").await?.click().await?;
    let one = "return [...document.querySelectorAll('summary')].some((one) => one.textContent === 'My own slips (1)')";
    session.until("one slip", one).await
}
