//! The Write room.

use cellwright::ueb::{self, Options};

use crate::browser::{Outcome, Session, ensure};

const SENTENCE: &str = "The 10:30 ferry leaves from Hallam Quay.";

/// Whether any braille glyph stands in the page's text or attributes, or any dot is drawn in a picture.
const GLYPHS: &str = "
    const glyph = /[\\u2800-\\u28ff]/;
    const values = [...document.querySelectorAll('input, textarea')].map((field) => field.value).join(' ');
    const drawn = document.querySelectorAll('svg.dots *, main svg circle, main svg ellipse').length;
    return JSON.stringify({html: glyph.test(document.documentElement.outerHTML), values: glyph.test(values),
        title: glyph.test(document.title), drawn});";

pub async fn keys_write_what_reads_as_the_sentence(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&ueb::transcribe(SENTENCE, &Options::default())).await?;
    session.expect("status", "Reads as", SENTENCE).await?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

pub async fn nothing_is_written_when_the_focus_is_lost(session: Session) -> Outcome {
    use fantoccini::actions::{InputSource, KeyAction, KeyActions};
    session.open("#/write").await?;
    session.find("textbox", "Braille").await?.click().await?;
    let keys = KeyActions::new("hands".to_owned());
    session.client.perform_actions(keys.then(KeyAction::Down { value: 'f' })).await?;
    session.script("document.activeElement.blur()").await?;
    session.client.release_actions().await?;
    session.expect("status", "Reads as", "").await?;
    // No key is stuck: the next chord is dot 1 alone.
    session.write(&[cellwright::cell::Cell::from_dots(&[1]).expect("a cell")]).await?;
    session.expect("status", "Reads as", "a").await
}

pub async fn tab_leaves_the_surface(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.find("textbox", "Braille").await?.click().await?;
    session.press('\u{e004}').await?;
    session
        .until(
            "the focus to move on",
            "const at = document.activeElement; return at !== document.body && at.getAttribute('role') !== 'textbox'",
        )
        .await
}

pub async fn dot_numbers_only_leaves_no_glyph(session: Session) -> Outcome {
    const NONE: &str = r#"{"html":false,"values":false,"title":false,"drawn":0}"#;
    session.open("#/write").await?;
    let cells = ueb::transcribe(SENTENCE, &Options::default());
    session.write(&cells).await?;
    // The check sees something while the switch is off, so that it can fail.
    let before = session.script(GLYPHS).await?;
    ensure(before.as_str() != Some(NONE), || "no braille is drawn with the switch off".to_owned())?;
    session.switch("Dot numbers only", true).await?;
    let after = session.script(GLYPHS).await?;
    ensure(after.as_str() == Some(NONE), || format!("with the switch on: {after}"))?;
    session.write(&cells).await?;
    let after = session.script(GLYPHS).await?;
    ensure(after.as_str() == Some(NONE), || format!("after more writing: {after}"))?;
    session.picture("write-dot-numbers", 1280).await
}
