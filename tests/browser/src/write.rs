//! The Write room.

use cellwright::cell;
use cellwright::ueb::{self, Options};
use fantoccini::actions::{InputSource, KeyAction, KeyActions};

use crate::browser::{Outcome, Session, cells, ensure};

const SENTENCE: &str = "The 10:30 ferry leaves from Hallam Quay.";

/// Whether any braille glyph stands in the page's text or attributes, or any dot is drawn in a picture.
pub const GLYPHS: &str = "
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

/// What the browser is given to copy, heard after the page has given it.
async fn copied(session: &Session) -> Outcome<String> {
    session
        .script(
            "window.copied = '';
            addEventListener('copy', (event) => window.copied = event.clipboardData.getData('text/plain'), {once: true})",
        )
        .await?;
    session.find("textbox", "Braille").await?.click().await?;
    session.with_control("ac").await?;
    session.until("the copy", "return window.copied !== ''").await?;
    Ok(session.script("return window.copied").await?.as_str().unwrap_or_default().to_owned())
}

/// Pastes a text at the end of what is written, as the browser would.
async fn paste(session: &Session, text: &str) -> Outcome {
    session.find("textbox", "Braille").await?.click().await?;
    // Control and End: the caret goes behind the last cell.
    session.with_control("\u{e010}").await?;
    session.paste(text).await
}

pub async fn what_is_copied_can_be_pasted_in_every_notation(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.unfold().await?;
    session.write(&cells(",! f]ry")).await?;
    let unicode = copied(&session).await?;
    ensure(unicode == "⠠⠮⠀⠋⠻⠗⠽", || format!("copied as Unicode braille: {unicode:?}"))?;
    paste(&session, &unicode).await?;
    session.expect("status", "Reads as", "The ferryThe ferry").await?;
    session.switch("Copy as braille ASCII", true).await?;
    let ascii = copied(&session).await?;
    ensure(ascii == ",! f]ry,! f]ry", || format!("copied as braille ASCII: {ascii:?}"))?;
    paste(&session, "\n l1ves").await?;
    session.expect("status", "Reads as", "The ferryThe ferry\n leaves").await?;
    // Under dot numbers only what is copied holds no glyph; pasted, it is the same cells.
    session.with_control("zz").await?;
    session.switch("Dot numbers only", true).await?;
    let numbers = copied(&session).await?;
    ensure(numbers == "6 2-3-4-6 blank 1-2-4 1-2-4-5-6 1-2-3-5 1-3-4-5-6", || {
        format!("copied as dot numbers: {numbers:?}")
    })?;
    paste(&session, &numbers).await?;
    session.expect("status", "Reads as", "The ferryThe ferry").await?;
    paste(&session, "é").await?;
    session.find("alert", "").await.map(drop)
}

pub async fn undo_and_redo(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cells("f]ry")).await?;
    session.expect("status", "Reads as", "ferry").await?;
    session.with_control("zz").await?;
    session.expect("status", "Reads as", "fer").await?;
    session.with_control("y").await?;
    session.expect("status", "Reads as", "ferr").await?;
    // Backspace, then all of it back.
    session.press('\u{e003}').await?;
    session.with_control("z").await?;
    session.expect("status", "Reads as", "ferr").await
}

pub async fn undo_goes_on_when_the_whole_page_takes_over(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cells("f]ry")).await?;
    session.with_control("z").await?;
    session.expect("status", "Reads as", "ferr").await?;
    session.unfold().await?;
    session.find("textbox", "Braille").await?.click().await?;
    session.with_control("z").await?;
    session.expect("status", "Reads as", "fer").await?;
    session.with_control("yy").await?;
    session.expect("status", "Reads as", "ferry").await?;
    session.with_control("zzzz").await?;
    session.expect("status", "Reads as", "").await
}

pub async fn a_passage_goes_over_a_line_end(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cells(",,,! f]ry")).await?;
    session.press('\u{e006}').await?;
    session.write(&[]).await?;
    session.with_control("\u{e010}").await?;
    session.type_cells(&cells("l1ves,'")).await?;
    session.expect("status", "Reads as", "THE FERRY\nLEAVES").await
}

pub async fn a_prefix_waits_for_its_root(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cells("\"")).await?;
    let waiting = "return document.querySelector('.waiting').textContent";
    session.until("the waiting prefix", &format!("{waiting}.includes('Waiting: dot 5')")).await?;
    let words = session.script(waiting).await?;
    for root in ["day", "ever", "father", "here"] {
        ensure(words.as_str().unwrap_or_default().contains(root), || {
            format!("{root} is not named: {words}")
        })?;
    }
    session.type_cells(&cells("d")).await?;
    session.expect("status", "Reads as", "day").await?;
    session.until("nothing to wait for", &format!("{waiting} === ''")).await
}

pub async fn the_prompt_is_marked(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&ueb::transcribe(SENTENCE, &Options::default())).await?;
    session.find("button", "Mark my work").await?.click().await?;
    session
        .until("the praise", "return document.querySelector('main').textContent.includes('right')")
        .await?;
    ensure(session.script("return document.querySelectorAll('svg .mark').length").await? == 0, || {
        "right work is marked".to_owned()
    })?;
    // e for i at the end of "Quay" is marked at its cell.
    session.write(&[]).await?;
    session.with_control("\u{e010}").await?;
    session.press('\u{e003}').await?;
    session.press('\u{e003}').await?;
    session.type_cells(&cells("e4")).await?;
    // What is pointed at stands still again.
    session.expect("status", "Reads as", "The 10:30 ferry leaves from Hallam Quae.").await?;
    session.find("button", "Mark my work").await?.click().await?;
    session.until("the mark", "return document.querySelectorAll('.surface svg .mark').length === 1").await
}

pub async fn the_reading_is_hidden_until_asked_for(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.switch("Hide the reading", true).await?;
    session.write(&cells("f]ry")).await?;
    let shown = "return document.querySelector('main').textContent.includes('ferry') && !document.querySelector('.copyholder').textContent.includes('ferry')";
    let anywhere = "return [...document.querySelectorAll('.says, [role=status]')].some((one) => one.textContent.includes('ferry'))";
    ensure(session.script(anywhere).await? == false, || "the hidden reading stands on the page".to_owned())?;
    session.find("button", "Show the reading").await?.click().await?;
    session.expect("status", "Reads as", "ferry").await?;
    session.find("button", "Cover the reading").await?.click().await?;
    session.expect("status", "Reads as", "").await?;
    ensure(session.script(shown).await? == false, || "the reading is still shown".to_owned())
}

/// Each finding is open to its reason; one after the other is gone to; eye, hand or rule is asked and booked.
pub async fn findings_tell_why(session: Session) -> Outcome {
    session.open("#/write").await?;
    let right = ueb::transcribe(SENTENCE, &Options::default());
    // "The" with its sign spelled out, "Hallam" without its capital, and "Quay" with the mirror of u.
    let mut braille = cell::to_ascii(&right).replacen(",!", ",the", 1).replacen(",hallam", "hallam", 1);
    braille = braille.replacen("quay", "q+ay", 1);
    session.write(&cells(&braille)).await?;
    session.find("button", "Mark my work").await?.click().await?;
    session
        .until("three findings", "return document.querySelectorAll('.findings > li').length === 3")
        .await?;
    let text =
        |what: &str| format!("return document.querySelector('.findings').textContent.includes('{what}')");
    for kind in ["contraction missed", "indicator missing", "mirrored"] {
        session.until(kind, &text(kind)).await?;
    }
    session.find("button", "Next finding").await?.click().await?;
    session.until("the reason", &text("section 10.3")).await?;
    session
        .until(
            "the focus on it",
            "return document.activeElement && document.activeElement.id === 'finding-1'",
        )
        .await?;
    session.find("button", "Next finding").await?.click().await?;
    session.until("the next reason", &text("section 8")).await?;
    session.picture("write-findings", 1280).await?;
    session.picture("write-findings", 390).await?;
    // What the sign of the mirrored cell is: the right answer books the mistake to the hand.
    session
        .script("[...document.querySelectorAll('#finding-3 button')].find((one) => one.textContent.startsWith('Eye')).click()")
        .await?;
    session.click_in_the_middle("button", "u, letter").await?;
    session.until("the booking", &text("Booked to the hand")).await?;
    session
        .until("the share", "return document.querySelector('main').textContent.includes('hand 100 %')")
        .await?;
    session.picture("write-follow-up", 1280).await?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// Where the caret stands, in cells from the beginning of its line's last word, to a tenth.
const CARET: &str = "const word = [...document.querySelectorAll('.line.here .word')].at(-1);
    const [all, caret] = ['[data-at]', '.caret'].map((part) => word.querySelector(part));
    const cells = Math.max([...all.textContent].length, 1), 
        [from, edge] = [all, caret].map((one) => one?.getBoundingClientRect());
    // Behind the last cell the caret is their right edge, two pixels wide.
    const width = from.width - (all === caret ? 2 : 0), at = all === caret ? from.left + width : edge.left + 1;
    return caret ? Math.round((at - from.left) / (width || 1) * cells * 10) / 10 : -1";

pub async fn the_caret_goes_with_the_cells(session: Session) -> Outcome {
    session.open("#/write").await?;
    let caret = async |at: f64| {
        session
            .until(&format!("the caret at {at}"), &format!("return (() => {{ {CARET} }})() === {at}"))
            .await
    };
    session.find("textbox", "Braille").await?.click().await?;
    caret(0.0).await?;
    session.write(&cells("f")).await?;
    caret(1.0).await?;
    session.type_cells(&cells("]ry")).await?;
    caret(4.0).await?;
    // Twice to the left, a cell put in between, back to the end.
    session.press('\u{e012}').await?;
    session.press('\u{e012}').await?;
    caret(2.0).await?;
    session.type_cells(&cells("a")).await?;
    caret(3.0).await?;
    session.press('\u{e010}').await?;
    caret(5.0).await?;
    session.press('\u{e003}').await?;
    caret(4.0).await?;
    // The next word has it all to itself.
    session.type_cells(&cells(" a")).await?;
    caret(1.0).await?;
    let carets = session.script("return document.querySelectorAll('.caret').length").await?;
    ensure(carets == 1, || format!("{carets} carets"))
}

/// The surface is told its height: at any width its lines find their place in it, without a scroll bar that would break them
/// anew, and what stands below keeps still.
pub async fn the_surface_is_as_high_as_its_lines(session: Session) -> Outcome {
    session.open("#/write").await?;
    let line = ueb::transcribe(SENTENCE, &Options::default());
    session.write(&line).await?;
    for _ in 0..3 {
        session.press('\u{e007}').await?;
        session.type_cells(&line).await?;
    }
    let restless = "
        const surface = document.querySelector('.surface'), writing = surface.parentNode, restless = [];
        document.styleSheets[0].insertRule('.surface { --most: 9000px !important; }', document.styleSheets[0].cssRules.length);
        const frame = () => new Promise((then) => requestAnimationFrame(then));
        for (let width = 300; width < 800; width += 3) {
            writing.style.maxWidth = `${width}px`;
            await frame(); await frame();
            const high = surface.clientHeight;
            await frame();
            const all = surface.scrollHeight;
            if (high !== surface.clientHeight || all > high) restless.push(`${width}: ${high}, ${surface.clientHeight} for ${all}`);
        }
        return restless.slice(0, 12).join('; ')";
    let restless = session.script(restless).await?;
    ensure(restless == "", || format!("the surface does not fit its lines at {restless}"))
}

pub async fn keys_are_lit_while_they_are_held(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.find("textbox", "Braille").await?.click().await?;
    let lit = "return [...document.querySelectorAll('.key[data-held]')].map((key) => key.textContent).sort().join('')";
    let key = |action| KeyActions::new("hands".to_owned()).then(action);
    session.client.perform_actions(key(KeyAction::Down { value: 'f' })).await?;
    session.client.perform_actions(key(KeyAction::Down { value: 'k' })).await?;
    session.until("keys 1 and 5 lit", &format!("return (() => {{ {lit} }})() === '15'")).await?;
    session.client.perform_actions(key(KeyAction::Up { value: 'f' })).await?;
    session.client.perform_actions(key(KeyAction::Up { value: 'k' })).await?;
    session.until("no key lit", &format!("return (() => {{ {lit} }})() === ''")).await?;
    // A key that is held when the focus goes is let go.
    session.client.perform_actions(key(KeyAction::Down { value: 'f' })).await?;
    session.until("key 1 lit", &format!("return (() => {{ {lit} }})() === '1'")).await?;
    session.script("document.activeElement.blur()").await?;
    session.until("no key lit", &format!("return (() => {{ {lit} }})() === ''")).await
}

/// Findings that begin at one cell are both told there, one beside the other, in dots and in dot numbers.
pub async fn findings_at_one_cell_stand_side_by_side(session: Session) -> Outcome {
    session.open("#/write").await?;
    // The capital indicator is missing and the first word is mirrored: both begin before the first cell.
    session.write(&cells("z #aj3#cj f]ry l1ves f ,hallam ,quay4")).await?;
    session.find("button", "Mark my work").await?.click().await?;
    session.until("two findings", "return document.querySelectorAll('.findings > li').length === 2").await?;
    let numbers = "return [...document.querySelectorAll('.surface .mark-number')].map((at) => at.textContent).join('|') === '1 2'";
    session.until("both numbers in one text", numbers).await?;
    session.switch("Dot numbers only", true).await?;
    session.until("both numbers before the dot numbers", numbers).await
}
