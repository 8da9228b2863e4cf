//! The desk as it is seen: with dot numbers only, narrow and wide, light and dark; and what its parts keep or do not keep.

use cellwright::cell;
use cellwright::exercise::proofread::{self, Call};
use cellwright::exercise::{Exercise, Plants, Slip, Task, Try};

use crate::browser::{Browser, Outcome, Session, ensure};
use crate::write::GLYPHS;

const TEXT: &str = "# Lost and found\n\nThe ferry leaves from the quay at 10:30 in the morning and comes back in the afternoon.\n\n- One umbrella\n- Two boots, both of the same foot";

const OPEN_ALL: &str = "for (const one of document.querySelectorAll('main details')) one.open = true";

async fn fill(session: &Session, selector: &str, value: &str) -> Outcome {
    let script = format!(
        "const field = document.querySelector({selector:?});
         const kind = field.tagName === 'TEXTAREA' ? HTMLTextAreaElement : field.tagName === 'SELECT' ? HTMLSelectElement : HTMLInputElement;
         Object.getOwnPropertyDescriptor(kind.prototype, 'value').set.call(field, {});
         field.dispatchEvent(new Event('input', {{bubbles: true}}));
         field.dispatchEvent(new Event('change', {{bubbles: true}}));",
        serde_json::json!(value)
    );
    session.until(selector, &format!("return !!document.querySelector({selector:?})")).await?;
    session.script(&script).await.map(drop)
}

async fn press(session: &Session, name: &str) -> Outcome {
    session.find("button", name).await?.click().await
}

/// Pictures at three widths, light and dark; nothing may be wider than the window.
async fn look(session: &Session, name: &str) -> Outcome {
    if session.browser == Browser::Firefox {
        // Its driver has no screens of other widths.
        return Ok(());
    }
    for theme in ["light", "dark"] {
        session.script(&format!("document.documentElement.dataset.theme = {theme:?}")).await?;
        for width in [390, 820, 1280] {
            session.picture(&format!("{name}-{theme}"), width).await?;
            let wider =
                "const page = document.documentElement; return page.scrollWidth > page.clientWidth + 1";
            ensure(session.script(wider).await? == false, || {
                format!("{name} scrolls sideways at {width} pixels")
            })?;
        }
    }
    session.devtools("Emulation.clearDeviceMetricsOverride", serde_json::json!({})).await.map(drop)
}

/// Pictures, and no braille anywhere once there are dot numbers only.
async fn look_both_ways(session: &Session, name: &str, numbers: bool) -> Outcome {
    session.script(OPEN_ALL).await?;
    tokio::time::sleep(std::time::Duration::from_millis(400)).await;
    let found = session.script(GLYPHS).await?;
    let none = r#"{"html":false,"values":false,"title":false,"drawn":0}"#;
    ensure((found == none) == numbers, || format!("{name}, dot numbers only {numbers}: {found}"))?;
    look(session, &format!("{name}{}", if numbers { "-numbers" } else { "" })).await
}

/// What a sheet for proofreading is set with.
fn sheet() -> Exercise {
    Exercise {
        title: "Lost and found".into(),
        text: TEXT.into(),
        task: Task::Proofread,
        plants: Some(Plants { rate: 60, seed: 7, ..Plants::default() }),
        ..Exercise::default()
    }
}

async fn the_desk(session: &Session, numbers: bool) -> Outcome {
    session.open("#/transcribe").await?;
    session.switch("Dot numbers only", numbers).await?;
    session.script(OPEN_ALL).await?;
    fill(session, "textarea[rows='10']", TEXT).await?;
    session.find("textbox", "Braille").await?.click().await?;
    // The heading is not centred, and "from" is left out.
    session.type_cells(&cell::from_ascii(",lo/ & f.d").expect("cells")).await?;
    session.press('\u{e007}').await?;
    session.type_cells(&cell::from_ascii("  ,! fery l1ves ! quay").expect("cells")).await?;
    press(session, "Mark my work").await?;
    session.find("button", "Next finding").await?;
    session
        .script("for (const one of document.querySelectorAll('.findings > li button[aria-expanded]')) one.click()")
        .await?;
    press(session, "Check before hand-in").await?;
    press(session, "A punching guide for the slate").await?;
    session.switch("Show what it reads as", true).await?;
    look_both_ways(session, "desk-transcribe", numbers).await?;
    session.find("textbox", "Braille").await?.click().await?;

    let set = sheet();
    // A set exercise says itself whether it is dot numbers only; a sheet of the learner's own follows the settings.
    let address = if numbers { "#/proofread".to_owned() } else { format!("#/x/{}", set.to_payload()?) };
    session.open(&address).await?;
    session.find("button", "Mark this cell").await?.click().await?;
    press(session, "What does this line read as?").await?;
    look_both_ways(session, "desk-proofread", numbers).await?;
    press(session, "I am done").await?;
    session.find("heading", "What was planted").await?;
    look_both_ways(session, "desk-scored", numbers).await?;

    let proof = proofread::proof(&set.text, set.contracted, &set.plants.clone().unwrap_or_default());
    let first = &proof.planted[0];
    let calls = [
        Call { line: first.line, cell: first.cells.start, kind: Some(first.kind) },
        Call { line: first.line + 1, cell: 2, kind: None },
    ];
    let tried = Try::of(&set, Some(&proof), proofread::calls_to_text(&calls), 95, false);
    let slip = Slip { by: "Ada".into(), ..Slip::of(&set, &[tried], Some(&proof)) };
    session.open(&format!("#/r/{}", slip.to_payload()?)).await?;
    session.find("status", "Score").await?;
    look_both_ways(session, "desk-slip", numbers).await
}

pub async fn with_dot_numbers_only_the_desk_shows_no_braille(session: Session) -> Outcome {
    the_desk(&session, false).await?;
    the_desk(&session, true).await
}

pub async fn the_teacher_sees_the_exercise_and_nothing_of_it_is_kept(session: Session) -> Outcome {
    session.open("#/set").await?;
    session.find("textbox", "Title").await?.send_keys("Notice 2").await?;
    fill(&session, "main textarea", "The ferry leaves.").await?;
    press(&session, "See it as the learner will").await?;
    session.find("heading", "Notice 2").await?;
    let kept =
        "return JSON.stringify(Object.keys(localStorage).filter((key) => /work|journal/.test(key)).sort())";
    let before = session.script(kept).await?;
    session.write(&cell::from_ascii(",! f]ry l1ves4").expect("cells")).await?;
    press(&session, "Mark my work").await?;
    session.find("textbox", "Slip link").await?;
    look(&session, "set-preview-write").await?;
    // What is changed is seen a moment later, in its own room.
    fill(&session, ".set select", "5").await?;
    session.until("the sheet", "return !!document.querySelector('.preview .cursor-sheet')").await?;
    press(&session, "Mark this cell").await?;
    press(&session, "I am done").await?;
    session.find("heading", "What was planted").await?;
    look(&session, "set-preview-proofread").await?;
    fill(&session, ".set select", "4").await?;
    session.until("the desk", "return !!document.querySelector('.preview .copyholder')").await?;
    session.write(&cell::from_ascii("  ,! f]ry l1ves4").expect("cells")).await?;
    press(&session, "Hand in").await?;
    session.find("textbox", "Slip link").await?;
    look(&session, "set-preview-transcribe").await?;
    // The room is left, so that whatever would be kept is kept now.
    session.find("link", "Write").await?.click().await?;
    session.find("heading", "Write").await?;
    let after = session.script(kept).await?;
    ensure(before == after, || format!("kept before: {before}, after: {after}"))?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

pub async fn a_reload_keeps_what_was_marked_and_handed_in(session: Session) -> Outcome {
    let payload = sheet().to_payload()?;
    let address = format!("#/x/{payload}");
    session.open(&address).await?;
    press(&session, "Mark this cell").await?;
    session.expect("status", "Marked", "1 cell marked.").await?;
    session.open(&address).await?;
    session.expect("status", "Marked", "1 cell marked.").await?;
    press(&session, "I am done").await?;
    session.find("heading", "What was planted").await?;
    let score = session.text_of("status", "Score").await?;
    session.open(&address).await?;
    session.expect("status", "Score", &score).await?;
    session.find("textbox", "Slip link").await?;
    // The learner's own sheet is the same one after a reload.
    session.open("#/proofread").await?;
    press(&session, "Mark this cell").await?;
    session.expect("status", "Marked", "1 cell marked.").await?;
    session.open("#/proofread").await?;
    session.expect("status", "Marked", "1 cell marked.").await?;
    // Handed in once is handed in.
    let set = Exercise { text: "The ferry leaves.".into(), task: Task::Transcribe, ..Exercise::default() };
    let address = format!("#/x/{}", set.to_payload()?);
    session.open(&address).await?;
    session.write(&cell::from_ascii("  ,! f]ry l1ves4").expect("cells")).await?;
    press(&session, "Hand in").await?;
    session.find("textbox", "Slip link").await?;
    // Kept a moment after the last key.
    tokio::time::sleep(std::time::Duration::from_millis(900)).await;
    session.open(&address).await?;
    session.find("textbox", "Slip link").await?;
    press(&session, "Write it anew").await?;
    session.find("button", "Hand in").await.map(drop)
}

pub async fn the_copy_follows_over_skipped_words(session: Session) -> Outcome {
    session.open("#/transcribe").await?;
    session.script(OPEN_ALL).await?;
    fill(&session, "textarea[rows='10']", TEXT).await?;
    session.find("textbox", "Braille").await?.click().await?;
    session.type_cells(&cell::from_ascii(",lo/ & f.d").expect("cells")).await?;
    session.press('\u{e007}').await?;
    // "leaves from the quay at 10:30" is skipped.
    session.type_cells(&cell::from_ascii("  ,! f]ry 9 ! morn+ & comes back").expect("cells")).await?;
    session.press('\u{e007}').await?;
    session.type_cells(&cell::from_ascii("9 ! af4").expect("cells")).await?;
    session.press('\u{e007}').await?;
    session.type_cells(&cell::from_ascii(",\"o").expect("cells")).await?;
    let shown = "return document.querySelector('.copyholder .sr').textContent.includes('One umbrella')";
    session.until("the copy at the list", shown).await
}
