//! Work in progress, and what exercises open.

use cellwright::cell;
use cellwright::exercise::{Exercise, Task};
use cellwright::ueb::{self, Options};

use crate::browser::{Outcome, Session, cells, ensure};

fn exercise(task: Task, text: &str) -> Exercise {
    Exercise { title: "Notice 2".into(), text: text.into(), task, ..Exercise::default() }
}

pub async fn a_reload_keeps_the_work_of_each_text(session: Session) -> Outcome {
    let one = exercise(Task::Write, "The ferry leaves.").to_payload()?;
    let two = exercise(Task::Write, "No dogs in the saloon.").to_payload()?;
    for (address, ascii) in
        [("#/write", "f]ry"), (&*format!("#/x/{one}"), ",! f]ry"), (&*format!("#/x/{two}"), ",no")]
    {
        session.open(address).await?;
        session.write(&cell::from_ascii(ascii).expect("cells")).await?;
        // The page is left at once, before the moment after which it keeps by itself.
        session.open("#/read").await?;
    }
    // A damaged link takes nothing away.
    session.open(&format!("#/x/{}", &one[..one.len() - 3])).await?;
    for (address, says) in
        [("#/write", "ferry"), (&*format!("#/x/{one}"), "The ferry"), (&*format!("#/x/{two}"), "No")]
    {
        session.open(address).await?;
        session.expect("status", "Reads as", says).await?;
    }
    // Of the room's own prompts each has its own work too.
    session.open("#/write").await?;
    session.find("button", "Next").await?.click().await?;
    session.expect("status", "Reads as", "").await?;
    session.find("button", "Previous").await?.click().await?;
    session.expect("status", "Reads as", "ferry").await
}

pub async fn an_exercise_opens_the_room_of_its_task(session: Session) -> Outcome {
    let text = "The ferry leaves.\nNo dogs.";
    session.open(&format!("#/x/{}", exercise(Task::Read, text).to_payload()?)).await?;
    session.find("textbox", "It says").await?.send_keys("The ferry leaves.").await?;
    session.find("button", "Answer").await?.click().await?;
    session.expect("status", "Judged", "Right.").await?;
    session.find("button", "Next").await?.click().await?;
    session.expect("status", "Item", "2 of 2").await?;

    session.open(&format!("#/x/{}", exercise(Task::DotNumbers, "cat\nin").to_payload()?)).await?;
    let name = "Its dot numbers, a space between cells";
    session.find("textbox", name).await?.send_keys("1-4 1 2-3-4").await?;
    session.find("button", "Answer").await?.click().await?;
    session.expect("status", "Judged", "It is dots 1-4, 1, 2-3-4-5.").await?;
    session.find("button", "Next").await?.click().await?;
    session.find("textbox", name).await?.send_keys("35").await?;
    session.find("button", "Answer").await?.click().await?;
    session.find("button", "To the result").await?.click().await?;
    session.expect("status", "Result", "1 of 2 right at the first answer.").await?;

    // On a slate: drawn from right to left, each cell mirrored; it reads as written.
    session.open(&format!("#/x/{}", exercise(Task::Slate, text).to_payload()?)).await?;
    session.write(&ueb::transcribe("The ferry", &Options::default())).await?;
    session.expect("status", "Reads as", "The ferry").await?;
    let right_to_left = "const words = [...document.querySelectorAll('.slate .word')].map((one) => one.getBoundingClientRect().left);
        return words.length === 2 && words[0] > words[1]";
    ensure(session.script(right_to_left).await? == true, || {
        "the slate's words run from left to right".to_owned()
    })?;

    session.open(&format!("#/x/{}", exercise(Task::Transcribe, text).to_payload()?)).await?;
    session.find("button", "Hand in").await?;
    session
        .until(
            "the print",
            "return document.querySelector('.copyholder').textContent.includes('The ferry leaves')",
        )
        .await
}

/// However the page is left at once after the last key, what was typed is there again.
pub async fn leaving_at_once_loses_nothing(session: Session) -> Outcome {
    // Kept open, so that the browser stays when the tab is closed.
    let first = session.client.window().await?;
    for (address, reading) in [("#/write", false), ("#/transcribe", true)] {
        let mut written = Vec::new();
        let says = |written: &[cell::Cell]| ueb::read_print(written, &ueb::ReadOptions::default());
        for (letter, way) in [
            ("a", "location.reload()"),
            ("b", "location.hash = '#/signs'"),
            ("c", "location.href = 'about:blank'"),
            ("d", "history.back()"),
            ("e", "close"),
        ] {
            let tab = session.client.new_window(true).await?.handle;
            session.client.switch_to_window(tab.clone()).await?;
            session.open(address).await?;
            if reading {
                session.switch("Show what it reads as", true).await?;
            }
            session.expect("status", "Reads as", &says(&written)).await?;
            session.find("textbox", "Braille").await?.click().await?;
            session.with_control("\u{e010}").await?;
            let cells = cell::from_ascii(letter).expect("a cell");
            session.type_cells(&cells).await?;
            written.extend(cells);
            if way == "close" {
                session.client.close_window().await?;
            } else {
                session.script(way).await?;
                session.client.switch_to_window(first.clone()).await?;
                session.client.switch_to_window(tab).await?;
                session.client.close_window().await?;
            }
            session.client.switch_to_window(first.clone()).await?;
        }
        session.open(address).await?;
        if reading {
            session.switch("Show what it reads as", true).await?;
        }
        session.expect("status", "Reads as", &says(&written)).await?;
    }
    Ok(())
}

/// A page that goes out of sight keeps what was typed then, and not a moment later: it may not see that moment.
pub async fn a_page_out_of_sight_has_kept_its_work(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cell::from_ascii("f]ry").expect("cells")).await?;
    let kept = "return Object.entries(localStorage).some(([key, text]) => key.startsWith('cellwright.work.') && text.includes('f]ry'))";
    // Both in one turn of the page, so that no timer of its own comes between.
    let hidden = format!(
        "Object.defineProperty(document, 'visibilityState', {{value: 'hidden', configurable: true}});
         document.dispatchEvent(new Event('visibilitychange'));
         {kept}"
    );
    ensure(session.script(&hidden).await? == true, || "what was typed is not kept".to_owned())
}

/// Fields that tell of what was typed when they are left tell of it when the page or the room is left as well.
pub async fn a_field_left_with_its_room_keeps_its_text(session: Session) -> Outcome {
    for (n, way) in ["location.reload()", "location.hash = '#/write'"].into_iter().enumerate() {
        session.open("#/signs").await?;
        session.until("the chart", "return !!document.querySelector('.chart button')").await?;
        session.script("document.querySelectorAll('.chart button')[4].click()").await?;
        session.find("textbox", "Note").await?.send_keys(&n.to_string()).await?;
        session.script(way).await?;
        session.open("#/signs").await?;
        session.until("the chart", "return !!document.querySelector('.chart button')").await?;
        session.script("document.querySelectorAll('.chart button')[4].click()").await?;
        let note = session.find("textbox", "Note").await?.prop("value").await?.unwrap_or_default();
        ensure(note.len() == n + 1, || format!("{way}: the note is {note:?}"))?;

        session.open("#/proofread").await?;
        session.unfold().await?;
        let field = session.find("textbox", "Or a text of your own").await?;
        field.send_keys(&format!("Dogs {n} and cats.")).await?;
        session.script(way).await?;
        session.open("#/proofread").await?;
        let kept =
            format!("return localStorage.getItem('cellwright.proofread.own').includes('Dogs {n} and')");
        session.until("the text", &kept).await?;
    }
    Ok(())
}

const BACK: &str = "Bring it back (Ctrl+Z)";

/// Waits until the button that brings back is there, or is not.
async fn offered(session: &Session, is: bool) -> Outcome {
    let there = format!(
        "return [...document.querySelectorAll('button')].some((one) => one.textContent === {BACK:?}) === {is}"
    );
    session.until("the way back", &there).await
}

/// What another text took the place of comes back by Ctrl+Z, wherever the focus is, or by the button, which stays until
/// something is written; after that Ctrl+Z on the surface still brings it back.
pub async fn what_was_replaced_comes_back(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cells("f]ry")).await?;
    session.find("button", "Start again").await?.click().await?;
    session.expect("status", "Reads as", "").await?;
    let focus = session.script("return document.activeElement.textContent").await?;
    ensure(focus != BACK, || "the focus fell on the button that undoes".to_owned())?;
    session.with_control("z").await?;
    session.expect("status", "Reads as", "ferry").await?;
    offered(&session, false).await?;
    session.find("button", "Start again").await?.click().await?;
    session.click_in_the_middle("button", BACK).await?;
    session.expect("status", "Reads as", "ferry").await?;
    session.find("button", "Start again").await?.click().await?;
    offered(&session, true).await?;
    session.write(&cells("a")).await?;
    offered(&session, false).await?;
    session.with_control("zz").await?;
    session.expect("status", "Reads as", "ferry").await?;
    // And what was undone before goes on being undone.
    session.with_control("z").await?;
    session.expect("status", "Reads as", "ferr").await?;
    // A file over the work on the desk; the sheet set anew.
    session.open("#/transcribe").await?;
    session.unfold().await?;
    session.write(&cells("  ,! f]ry l1ves")).await?;
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("other.brf");
    std::fs::write(&path, "an o!r\r\n")?;
    let first = "return document.querySelector('.line .sr').textContent";
    // The text follows the writing a moment later.
    session.until("all of it", &format!("{first}.endsWith('⠧⠑⠎')")).await?;
    let written = session.script(first).await?;
    crate::desk_files::choose(&session, "Open a braille file", &path).await?;
    session.until("the file", &format!("{first} === '⠁⠝⠀⠕⠮⠗'")).await?;
    session.with_control("z").await?;
    session.until("the work", &format!("{first} === {written}")).await?;
    session.click_in_the_middle("button", "Set my braille anew on this sheet").await?;
    offered(&session, true).await?;
    session.click_in_the_middle("button", BACK).await?;
    session.until("the work", &format!("{first} === {written}")).await?;
    // A text chosen in the place of the copy, and one dropped on the desk.
    let copy = "return document.querySelector('textarea[rows=\"10\"]').value";
    let print = session.script(copy).await?;
    session
        .until(
            "the texts",
            "return [...document.querySelectorAll('main select')].some((one) => one.options.length > 20)",
        )
        .await?;
    let choose =
        "const list = [...document.querySelectorAll('main select')].find((one) => one.options.length > 20);
        list.selectedIndex = 2; list.dispatchEvent(new Event('change', {bubbles: true}))";
    session.script(choose).await?;
    session.until("another copy", &format!("{copy} !== {print}")).await?;
    session.script("document.querySelector('main button').focus()").await?;
    session.with_control("z").await?;
    session.until("the copy before", &format!("{copy} === {print}")).await?;
    session.script(choose).await?;
    session.until("another copy", &format!("{copy} !== {print}")).await?;
    session.click_in_the_middle("button", BACK).await?;
    session.until("the copy before", &format!("{copy} === {print}")).await?;
    // A sheet with a mark on it, and another.
    session.open("#/proofread").await?;
    session.find("button", "Mark this cell").await?.click().await?;
    session.expect("status", "Marked", "1 cell marked.").await?;
    session.find("button", "Another sheet").await?.click().await?;
    session.expect("status", "Marked", "Nothing marked yet.").await?;
    session.with_control("z").await?;
    session.expect("status", "Marked", "1 cell marked.").await
}

/// From what is to be copied to "Mark my work" it is four Tabs at most.
pub async fn marking_is_four_tabs_from_the_copy(session: Session) -> Outcome {
    for address in ["#/write", "#/transcribe"] {
        session.open(address).await?;
        session.write(&cells("f]ry")).await?;
        session.script("document.querySelector('.copyholder button').focus()").await?;
        let mut tabs = 0;
        while session.script("return document.activeElement.textContent").await? != "Mark my work" {
            tabs += 1;
            ensure(tabs <= 4, || format!("{address}: more than four Tabs"))?;
            session.press('\u{e004}').await?;
        }
    }
    // The keys are one stop; the arrow keys go from one to the next.
    session.back_tab().await?;
    let at = "return document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent";
    let key = session.script(at).await?;
    ensure(key == "Dot 3", || format!("the keys' stop is {key}"))?;
    for (press, there) in
        [('\u{e014}', "Dot 2"), ('\u{e012}', "Dot 3"), ('\u{e012}', "Erase"), ('\u{e011}', "Dot 3")]
    {
        session.press(press).await?;
        let key = session.script(at).await?;
        ensure(key == there, || format!("the arrow led to {key} and not to {there}"))?;
    }
    Ok(())
}

/// Enter on the empty surface of a drill or of a line to write writes nothing; a sheet may begin with a blank line.
pub async fn enter_on_the_empty_surface_writes_nothing(session: Session) -> Outcome {
    let lines = "return document.querySelectorAll('.line').length";
    for (address, after) in [("#/write", 1), ("#/transcribe", 2)] {
        session.open(address).await?;
        session.find("textbox", "Braille").await?.click().await?;
        session.press('\u{e007}').await?;
        session.until("the lines", &format!("{lines} === {after}")).await?;
    }
    session.open("#/practise").await?;
    session.find("combobox", "Drill").await?.select_by_label("A cell: what does it mean?").await?;
    session.find("textbox", "It means").await?.send_keys("\u{e007}").await?;
    session.until("the word of it", "return document.querySelector('[aria-label=Answer]').textContent.startsWith('Nothing is written yet')").await?;
    ensure(session.script("return !document.querySelector('.tally')").await? == true, || {
        "it was counted".to_owned()
    })?;
    session.find("button", "I do not know").await?.click().await?;
    session
        .until("the answer to count", "return document.querySelector('.tally')?.textContent.endsWith('of 1')")
        .await
}
