//! What is printed from the desk: the checklist, the print copy of the title page, the punching guide, each alone on its
//! sheet.

use cellwright::cell::{self, Cell};
use cellwright::manuscript::Sheet;
use cellwright::manuscript::layout::Manuscript;
use serde_json::json;

use crate::browser::{Outcome, Session, ensure};
use crate::desk::{fill, press};
use crate::desk_files::choose;

const VOLUME: &str = "---\ntitle: The Skerry Line\nauthor: the crew\npublisher: Hallam Quay\nyear: 2026\n---\n\
    \u{c}iii\n# Foreword\n\nThe boats have sailed for a long while.\n\n\u{c}1\n# The lamp\n\nThe lamp on the quay is lit at dusk.\n";

/// Text that is seen in this sheet, and whether anything outside it is seen.
const SEEN: &str = "const sheet = document.querySelector(`[data-sheet=\"${document.documentElement.dataset.print}\"]`);
    const seen = (one) => one.checkVisibility({ visibilityProperty: true }) && one.getClientRects().length > 0;
    const others = [...document.querySelectorAll('h1, h2, p, button, input, textarea, nav, footer, summary')]
        .filter((one) => seen(one) && !sheet.contains(one));
    const buttons = [...sheet.querySelectorAll('.controls button, .controls input')].filter(seen);
    return JSON.stringify([sheet.innerText, others.concat(buttons).map((one) => one.textContent)])";

/// The page as the printer gets it, one sheet of it alone.
async fn on_paper(session: &Session, sheet: &str) -> Outcome<String> {
    session.devtools("Emulation.setEmulatedMedia", json!({"media": "print"})).await?;
    session.script(&format!("document.documentElement.dataset.print = {sheet:?}")).await?;
    session.picture(&format!("paper-{sheet}"), 760).await?;
    let seen = session.script(SEEN).await?;
    let (text, others): (String, Vec<String>) = serde_json::from_str(seen.as_str().unwrap_or_default())?;
    ensure(others.is_empty(), || format!("{sheet}: on the paper stands {others:?}"))?;
    session.script("delete document.documentElement.dataset.print").await?;
    session.devtools("Emulation.setEmulatedMedia", json!({"media": ""})).await?;
    Ok(text)
}

pub async fn each_sheet_is_printed_alone(session: Session) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let manuscript = Manuscript::from_print(VOLUME, Sheet::default());
    let brf: String = manuscript
        .lines()
        .iter()
        .map(|page| page.iter().map(|line| cell::to_ascii(line) + "\r\n").collect::<String>() + "\u{c}")
        .collect();
    std::fs::write(folder.path().join("volume.brf"), brf)?;
    session.open("#/transcribe").await?;
    session.unfold().await?;
    fill(&session, "textarea[rows='10']", VOLUME).await?;
    session.switch("A whole volume, with its title page", true).await?;
    choose(&session, "Open a braille file", &folder.path().join("volume.brf")).await?;
    session
        .until(
            "the file's lines",
            "return document.querySelectorAll('.line .dots, .line .cells-text').length > 5",
        )
        .await?;
    press(&session, "Check before hand-in").await?;
    session.expect("status", "Check", "The check passes; 1 for you to judge").await?;
    press(&session, "A punching guide for the slate").await?;
    session.until("the guide", "return document.querySelectorAll('.guide-line .dots').length > 20").await?;
    session.picture("guide-seen", 390).await?;

    let list = on_paper(&session, "checklist").await?;
    for words in
        ["Check before hand-in", "passed", "your call", "Done", "The braille says what the print says."]
    {
        ensure(list.contains(words), || format!("the checklist has no “{words}”: {list}"))?;
    }
    ensure(!list.contains("Print copy of the title page"), || format!("the checklist ends in {list}"))?;
    let copy = on_paper(&session, "title").await?;
    let lines: Vec<&str> = copy.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
    let title = manuscript.title_lines();
    ensure(lines == title, || format!("the print copy has {lines:?} and not {title:?}"))?;
    on_paper(&session, "guide").await?;
    // Each line of the guide is the line's mirror: the first cell last, dots 1 2 3 for 4 5 6.
    let written: Vec<Vec<Cell>> = manuscript.lines().concat();
    let first = written.iter().position(|line| line.iter().any(|cell| !cell.is_blank())).unwrap_or(0);
    let said =
        format!("return document.querySelectorAll('.guide-line')[{first}].querySelector('.sr').textContent");
    let said = session.script(&said).await?;
    let mirrored: Vec<Cell> =
        (0..40).rev().map(|at| written[first].get(at).copied().unwrap_or_default().mirror()).collect();
    let blank = |text: &str| text.trim_matches([' ', '\u{2800}']).to_owned();
    let (said, asked) = (blank(said.as_str().unwrap_or_default()), blank(&cell::to_unicode(&mirrored)));
    ensure(said == asked, || format!("the guide's line is {said} and not {asked}"))
}
