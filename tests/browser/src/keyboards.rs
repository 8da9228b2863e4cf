//! Keyboards of every kind: remapped, one key at a time, one hand, touched on the screen, typing braille, swallowing keys.

use cellwright::cell;
use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use serde_json::json;

use crate::browser::{Outcome, Session, ensure};

/// Opens the Write room with the settings of keys shown.
async fn open_keys(session: &Session) -> Outcome {
    session.open("#/write").await?;
    session.unfold().await
}

async fn choose(session: &Session, name: &str, value: &str) -> Outcome {
    let select = session.find("combobox", name).await?;
    select.select_by_value(value).await?;
    Ok(())
}

async fn press_in_surface(session: &Session, keys: &str) -> Outcome {
    session.find("textbox", "Braille").await?.click().await?;
    for value in keys.chars() {
        session.press(value).await?;
    }
    Ok(())
}

pub async fn every_key_can_be_moved(session: Session) -> Outcome {
    open_keys(&session).await?;
    session.find("button", "Change the key for Dot 1").await?.click().await?;
    session.press('a').await?;
    session.find("button", "Change the key for Blank cell").await?.click().await?;
    session.press('b').await?;
    press_in_surface(&session, "aba").await?;
    session.expect("status", "Reads as", "a a").await?;
    // Where dot 1 stood before, no key is now.
    session.press('f').await?;
    session.expect("status", "Reads as", "a a").await?;
    // It holds over a reload.
    session.open("#/write").await?;
    press_in_surface(&session, "\u{e010}a").await?;
    session.expect("status", "Reads as", "a aa").await?;
    session.unfold().await?;
    session.find("button", "Back to the usual keys").await?.click().await?;
    press_in_surface(&session, "\u{e010}f").await?;
    session.expect("status", "Reads as", "a aaa").await
}

/// The keys that press a button can be given themselves, by the keyboard alone: the press that asks is not the key that is
/// given, and lifting the given key asks for nothing again.
pub async fn keys_are_given_by_the_keyboard_alone(session: Session) -> Outcome {
    open_keys(&session).await?;
    let key_of = "return document.activeElement.closest('tr')?.querySelector('td').textContent";
    for (name, key, code) in
        [("Blank cell", ' ', "Space"), ("New line", '\u{e006}', "Enter"), ("Dot 1", 'g', "G")]
    {
        for asks in [' ', '\u{e006}'] {
            let button = session.find("button", &format!("Change the key for {name}")).await?;
            session.script("document.activeElement.blur()").await?;
            session.client.execute("arguments[0].focus()", vec![serde_json::to_value(&button)?]).await?;
            session.press(asks).await?;
            session
                .until(
                    "to be asked",
                    "return document.activeElement.textContent.includes('Press the key now')",
                )
                .await?;
            session.press(key).await?;
            session
                .until(
                    name,
                    &format!(
                        "return document.activeElement.textContent === 'Change' && ({}) === {code:?}",
                        key_of.trim_start_matches("return ")
                    ),
                )
                .await?;
            // It stays so.
            tokio::time::sleep(std::time::Duration::from_millis(150)).await;
            let now = session.script("return document.activeElement.textContent").await?;
            ensure(now == "Change", || format!("after {key:?} for {name} the button says {now}"))?;
        }
    }
    // An Enter that is held asks, and is not taken for the key.
    let button = session.find("button", "Change the key for Dot 2").await?;
    session.client.execute("arguments[0].focus()", vec![serde_json::to_value(&button)?]).await?;
    session.press('\u{e006}').await?;
    let held = "document.activeElement.dispatchEvent(new KeyboardEvent('keydown', {code: 'Enter', key: 'Enter', repeat: true, bubbles: true, cancelable: true}))";
    session.script(held).await?;
    let now = session.script(key_of).await?;
    ensure(now == "D", || format!("a held Enter has given dot 2 the key {now}"))
}

pub async fn hands_are_swapped(session: Session) -> Outcome {
    open_keys(&session).await?;
    session.switch("Left and right hand changed", true).await?;
    press_in_surface(&session, "j").await?;
    session.expect("status", "Reads as", "a").await?;
    // The keyboard check shows the dots that the keys are now.
    session.find("group", "Keyboard check").await?.click().await?;
    session.press('j').await?;
    let dot_1 = "return document.querySelector('.check-keys [role=status]').textContent.startsWith('Together came dots 1.')";
    session.until("dot 1", dot_1).await
}

pub async fn one_key_at_a_time_and_one_hand(session: Session) -> Outcome {
    open_keys(&session).await?;
    choose(&session, "Cells are entered", "key").await?;
    // Dots 1 and 5, and 2 in and out again; N writes.
    press_in_surface(&session, "fkddn").await?;
    session.expect("status", "Reads as", "every").await?;
    choose(&session, "Cells are entered", "hand").await?;
    // Two halves with the left hand: dots 1, then 4: c.
    press_in_surface(&session, "\u{e010}ff").await?;
    session.expect("status", "Reads as", "ec").await?;
    // An empty left half and a full right one: dot 4 5 6.
    session.press('n').await?;
    let keys = KeyActions::new("hands".to_owned());
    let chord = ['f', 'd', 's'];
    let keys = chord.iter().fold(keys, |keys, &value| keys.then(KeyAction::Down { value }));
    let keys = chord.iter().fold(keys, |keys, &value| keys.then(KeyAction::Up { value }));
    session.client.perform_actions(keys).await?;
    session.until("the third cell", "return document.querySelector('.line .sr').textContent === '⠑⠉⠸'").await
}

pub async fn braille_that_arrives_as_characters_is_taken(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.find("textbox", "Braille").await?.click().await?;
    // A braille keyboard's characters, as the browser puts in what no key event announced.
    session.devtools("Input.insertText", json!({"text": "⠓⠑"})).await?;
    session.expect("status", "Reads as", "he").await?;
    // An input method: composed, changed, and then taken.
    session
        .devtools("Input.imeSetComposition", json!({"text": "⠇", "selectionStart": 1, "selectionEnd": 1}))
        .await?;
    session
        .devtools("Input.imeSetComposition", json!({"text": "⠇⠇", "selectionStart": 2, "selectionEnd": 2}))
        .await?;
    session.devtools("Input.insertText", json!({"text": "⠇⠇⠕"})).await?;
    session.expect("status", "Reads as", "hello").await?;
    // What is no braille is left out, and the text box holds the line and nothing else.
    session.devtools("Input.insertText", json!({"text": "q"})).await?;
    session.expect("status", "Reads as", "hello").await?;
    session.until("the line as text", "return document.activeElement.value === '⠓⠑⠇⠇⠕'").await
}

pub async fn a_braille_displays_routing_keys_move_the_caret(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cell::from_ascii("abc").expect("cells")).await?;
    // A display shows the line a moment after its last cell was written, and its keys follow on that.
    session.until("the line on the display", "return document.activeElement.value === '⠁⠃⠉'").await?;
    session.script("document.activeElement.setSelectionRange(1, 1)").await?;
    session.until("the cell under the caret", "return [...document.querySelectorAll('.writing > .sr')].some((one) => one.textContent === 'dots 1 2')").await?;
    session.press('j').await?;
    session
        .until("a cell put in there", "return document.querySelector('.line .sr').textContent === '⠁⠈⠃⠉'")
        .await
}

/// A finger in the middle of a dot's key.
async fn finger(session: &Session, dot: u8) -> Outcome<serde_json::Value> {
    let place = format!(
        "const key = [...document.querySelectorAll('.key')].find((one) => one.getAttribute('aria-label') === 'Dot {dot}');
        key.scrollIntoView({{block: 'center'}});
        const at = key.getBoundingClientRect();
        return {{x: at.x + at.width / 2, y: at.y + at.height / 2, id: {dot}}}"
    );
    session.script(&place).await
}

/// What the fingers on the screen are now, as the browser itself hears it.
async fn touch(session: &Session, kind: &str, fingers: &[serde_json::Value]) -> Outcome {
    session
        .devtools("Input.dispatchTouchEvent", json!({"type": kind, "touchPoints": fingers}))
        .await
        .map(drop)
}

pub async fn fingers_on_the_screen_make_a_chord(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.screen(390).await?;
    session
        .devtools("Emulation.setTouchEmulationEnabled", json!({"enabled": true, "maxTouchPoints": 6}))
        .await?;
    // Three fingers go down one after the other and are lifted in another order.
    let mut fingers = Vec::new();
    for dot in [1, 2, 5] {
        fingers.push(finger(&session, dot).await?);
        touch(&session, "touchStart", &fingers).await?;
    }
    for lifted in [1, 0, 0] {
        fingers.remove(lifted);
        touch(&session, "touchEnd", &fingers).await?;
    }
    session.expect("status", "Reads as", "have").await?;
    // On a phone each key is wide enough for a thumb, and nothing scrolls sideways.
    session.picture("write-keys", 390).await?;
    let sizes =
        "const sizes = [...document.querySelectorAll('.pad .key')].map((one) => one.getBoundingClientRect());
        return sizes.every((one) => one.width >= 48 && one.height >= 64)";
    ensure(session.script(sizes).await? == true, || "the keys are too small for thumbs".to_owned())
}

pub async fn the_keyboard_check_shows_what_arrives(session: Session) -> Outcome {
    open_keys(&session).await?;
    session.find("group", "Keyboard check").await?.click().await?;
    let chord = |session: &Session, chord: &'static str| {
        let keys = KeyActions::new("hands".to_owned());
        let keys = chord.chars().fold(keys, |keys, value| keys.then(KeyAction::Down { value }));
        let keys = chord.chars().fold(keys, |keys, value| keys.then(KeyAction::Up { value }));
        let client = session.client.clone();
        async move { client.perform_actions(keys).await }
    };
    chord(&session, "fds").await?;
    session
        .until(
            "what came",
            "return document.querySelector('.check-keys [role=status]').textContent.includes('1 2 3')",
        )
        .await?;
    let proposed = "return document.querySelectorAll('.check-keys .controls button').length > 0";
    session.until("other keys to try", proposed).await?;
    session.find("group", "Keyboard check").await?.click().await?;
    chord(&session, "fdsjkl").await?;
    session
        .until(
            "all six",
            "return document.querySelector('.check-keys [role=status]').textContent.startsWith('All six')",
        )
        .await
}

pub async fn chords_with_holes_are_spoken_of_once(session: Session) -> Outcome {
    session.open("#/write").await?;
    // A keyboard that lets no fourth key through: sixty cells of running text, none with more than three dots.
    session.write(&cell::from_ascii(&"abcdeh ".repeat(11)).expect("cells")).await?;
    session.until("the word about it", "return [...document.querySelectorAll('[role=alert]')].some((one) => one.textContent.includes('swallow'))").await?;
    session.find("button", "Put this away").await?.click().await?;
    session.write(&cell::from_ascii(&"abcdeh ".repeat(11)).expect("cells")).await?;
    let again = "return [...document.querySelectorAll('[role=alert]')].some((one) => one.textContent.includes('swallow'))";
    ensure(session.script(again).await? == false, || "it is said twice".to_owned())
}
