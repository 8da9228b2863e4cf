//! What the desk says of layout: the rules with their switches, the notes beside the lines, what can't be set, and print of
//! several volumes.

use cellwright::cell;
use cellwright::manuscript::Sheet;
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::volumes::Book;

use crate::browser::{Outcome, Session, ensure};
use crate::desk::{fill, press};
use crate::desk_files::choose;
use crate::desk_terminal::terminal;

const ENTER: char = '\u{e007}';
const HOME: char = '\u{e011}';
const PRINT: &str = "The ferry leaves.\n\nNo dogs swim.\n";

/// Print on the holder and these lines written; the last begins in cell 2, where none may.
async fn write(session: &Session) -> Outcome {
    session.open("#/transcribe").await?;
    session.unfold().await?;
    fill(session, "textarea[rows='10']", PRINT).await?;
    session.find("textbox", "Braille").await?.click().await?;
    session.type_cells(&cell::from_ascii("  ,the f]ry l1ves4").expect("cells")).await?;
    session.press(ENTER).await?;
    session.type_cells(&cell::from_ascii(" ,no dogs swim4").expect("cells")).await
}

pub async fn rules_are_those_of_the_terminal_and_stay_switched(session: Session) -> Outcome {
    write(&session).await?;
    press(&session, "Check before hand-in").await?;
    session.until("the rules", "return document.querySelectorAll('.rules tbody tr').length > 0").await?;
    session.unfold().await?;
    let rows = "return [...document.querySelectorAll('.rules tbody tr')].map((row) => {
        const [, number, says] = row.cells[0].textContent.match(/^(\\d+)\\. (.*)$/);
        return `${number}\\t${says}\\t${row.cells[1].textContent}`; }).join('\\n')";
    let shown = session.script(rows).await?;
    let (said, _) = terminal(&["check", "--rules"], "")?;
    let said: Vec<String> = said
        .lines()
        .map(|line| {
            let columns: Vec<&str> = line.split('\t').collect();
            [columns[0], columns[2], columns[3]].join("\t")
        })
        .collect();
    ensure(said.len() >= 34 && shown == said.join("\n"), || format!("{shown} is not {said:?}"))?;

    // The rule on paragraphs finds its fault; switched off it says nothing, at once and after a reload.
    let told = "return [...document.querySelectorAll('.checklist tbody tr')].filter((row) => row.cells[3].textContent.startsWith('10: ')).map((row) => row.className).join()";
    session
        .until("the fault", &format!("return ({{ told: (() => {{ {told} }})() }}).told === 'to-fix'"))
        .await?;
    session.script("[...document.querySelectorAll('.rules input')][9].click()").await?;
    session.until("nothing of it", &format!("return (() => {{ {told} }})() === ''")).await?;
    session.picture("desk-rules", 1280).await?;
    session.picture("desk-rules", 390).await?;
    session.screen(0).await?;
    session.open("#/transcribe").await?;
    session
        .until("the work", "return document.querySelectorAll('.line .cells-text, .line .dots').length > 2")
        .await?;
    press(&session, "Check before hand-in").await?;
    session.until("the check", "return document.querySelectorAll('.checklist tbody tr').length > 3").await?;
    session.until("nothing of it after a reload", &format!("return (() => {{ {told} }})() === ''")).await?;
    session.until("its words", "return document.querySelector('.rule-switches summary').textContent === 'What is checked: 34 rules, 1 switched off'").await?;
    session.unfold().await?;
    press(&session, "Switch all of them on").await?;
    session.until("the fault again", &format!("return (() => {{ {told} }})() === 'to-fix'")).await
}

pub async fn findings_stand_beside_their_line(session: Session) -> Outcome {
    write(&session).await?;
    press(&session, "Mark my work").await?;
    press(&session, "Check before hand-in").await?;
    let note = |line: usize, words: &str| {
        format!(
            "return !!document.querySelector('.line[data-line=\"{line}\"] .beside-line')?.textContent.includes({words:?})"
        )
    };
    session.until("the note of marking", &note(0, "1 contraction missed. In “The”: ")).await?;
    session.until("its section", &note(0, "Section 10.3")).await?;
    session.until("the note of the check", &note(1, "to fix, rule 10. ")).await?;
    // Beside its line where there is room, on a telephone under it.
    let places = "const line = document.querySelector('.line[data-line=\"0\"]');
        const words = line.querySelector('.words').getBoundingClientRect(), note = line.querySelector('.beside-line').getBoundingClientRect();
        return note.left >= words.right && note.top < words.bottom ? 'beside' : note.top >= words.bottom - 1 ? 'under' : 'over'";
    for (width, place) in [(1280, "beside"), (390, "under")] {
        session.screen(width).await?;
        session.until(place, &format!("return (() => {{ {places} }})() === {place:?}")).await?;
        let wider = "const page = document.documentElement; return page.scrollWidth > page.clientWidth + 1";
        ensure(session.script(wider).await? == false, || {
            format!("the desk scrolls sideways at {width} pixels")
        })?;
        session.picture("desk-notes", width).await?;
    }
    session.screen(0).await?;
    // Once the line is another the note is gone, and the other one stays.
    session.script("document.querySelector('.text-box').focus()").await?;
    session.press(HOME).await?;
    session.press(' ').await?;
    session.until("no note", "return !document.querySelector('.line[data-line=\"1\"] .beside-line')").await?;
    session.until("the first note", &note(0, "contraction missed")).await
}

pub async fn what_cannot_be_set_is_told_at_its_place(session: Session) -> Outcome {
    session.open("#/transcribe").await?;
    session.unfold().await?;
    fill(&session, "textarea[rows='10']", "# Fares\n\nA boat and a ☃.\n\n![the quay](quay.png)\n").await?;
    let told = "return [...document.querySelectorAll('.not-set li')].map((one) => one.textContent).join('|')";
    session
        .until("both places", &format!("const told = (() => {{ {told} }})(); return told.startsWith('line 3: ') && told.includes('|line 5: ')"))
        .await?;
    let summary = "return [...document.querySelectorAll('summary')].some((one) => one.textContent === 'The copy (2 places of it can’t be set)')";
    session.until("how many", summary).await?;
    fill(&session, "textarea[rows='10']", PRINT).await?;
    session.until("nothing", "return !document.querySelector('.not-set')").await
}

pub async fn several_volumes_are_marked_and_checked(session: Session) -> Outcome {
    const BOOK: &str = "---\ntitle: The Skerry Line\nauthor: the crew\n---\n# The Quay\n\nBoats lie here.\n\n```volume\n```\n# The Sea\n\nBoats sail here.\n";
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("book.brf");
    let brf = BrailleFile::from_pages(&Book::from_print(BOOK, Sheet::default()).lines()).to_text();
    let (said, _) = terminal(&["lay-out"], BOOK)?;
    ensure(said == brf, || format!("the terminal lays out\n{said}"))?;
    std::fs::write(&path, &brf)?;
    session.open("#/transcribe").await?;
    session.unfold().await?;
    fill(&session, "textarea[rows='10']", BOOK).await?;
    session.switch("A whole volume, with its title page", true).await?;
    choose(&session, "Open a braille file", &path).await?;
    session
        .until("the pages", "return document.querySelectorAll('.line .dots, .line .cells-text').length > 5")
        .await?;
    press(&session, "Mark my work").await?;
    session
        .until("all right", "return /^All \\d+ words are right/.test(document.querySelector('.marked[aria-label=Findings] p')?.textContent ?? '')")
        .await?;
    press(&session, "Check before hand-in").await?;
    session.until("both title pages", "return document.querySelectorAll('.title-copy').length === 2").await?;
    let fix = "return [...document.querySelectorAll('.checklist .to-fix')].map((row) => row.textContent).join('; ')";
    let fix = session.script(fix).await?;
    ensure(fix == "", || format!("to fix in right work: {fix}"))
}
