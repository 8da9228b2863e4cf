//! Keyboards of every kind: remapped, one key at a time, one hand, touched on the screen, typing braille, swallowing keys.

use cellwright::cell;
use cellwright::exercise::{Exercise, Task};
use fantoccini::actions::{InputSource, KeyAction, KeyActions};
use serde_json::json;

use crate::browser::{Failed, Outcome, Session, ensure};

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
            session.client.execute("arguments[0].focus()", vec![button.for_script()?]).await?;
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
    session.client.execute("arguments[0].focus()", vec![button.for_script()?]).await?;
    session.press('\u{e006}').await?;
    session.press('\u{e009}').await?;
    session.until("a word about Control", "return document.querySelector('[role=status][aria-label=Keys]').textContent.startsWith('That key cannot')").await?;
    // Who does not see the button hears what it waits for.
    session.find("button", "Press the key now (Escape leaves it)").await?;
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
    // The table says where the dots are now, and a key that is given is given to the dot it was given to.
    let keys = "return [1, 2, 3, 4, 5, 6].map((dot) => [...document.querySelectorAll('.key-table tr')]
        .find((row) => row.textContent.startsWith(`Dot ${dot}`)).querySelector('td').textContent).join('')";
    let now = session.script(keys).await?;
    ensure(now == "JKLFDS", || format!("the table says {now}"))?;
    session.find("button", "Change the key for Dot 2").await?.click().await?;
    session.press('u').await?;
    session.expect("status", "Keys", "Dot 2: now the key U.").await?;
    press_in_surface(&session, "\u{e010}u").await?;
    session.until("dot 2", "return document.querySelector('.line .sr').textContent === '⠁⠂'").await?;
    // The keyboard check shows the dots that the keys are now.
    session.find("application", "Keyboard check").await?.click().await?;
    session.press('j').await?;
    let dot_1 = "return document.querySelector('.check-keys [role=status]').textContent.startsWith('Together came dots 1 (keys J).')";
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

/// In drills too an input method writes each cell once, and what it composes is no cell before it is taken.
pub async fn an_input_method_writes_once_in_every_surface(session: Session) -> Outcome {
    let compose = async |text: &str| -> Outcome {
        let ends = text.chars().count();
        for upto in 1..=ends {
            let so_far: String = text.chars().take(upto).collect();
            session
                .devtools(
                    "Input.imeSetComposition",
                    json!({"text": so_far, "selectionStart": upto, "selectionEnd": upto}),
                )
                .await?;
        }
        session.devtools("Input.insertText", json!({"text": text})).await.map(drop)
    };
    session.open("#/transcribe").await?;
    session.find("textbox", "Braille").await?.click().await?;
    compose("⠓⠑⠇⠇⠕").await?;
    line(&session, "⠓⠑⠇⠇⠕").await?;
    session.until("the text box", "return document.activeElement.value === '⠓⠑⠇⠇⠕'").await?;
    // A drill: the cell that is asked for, composed, is the answer, and a right one.
    let asked = asked_by_its_dots(&session).await?;
    session.find("textbox", "Braille").await?.click().await?;
    compose(&cell::to_unicode(&asked)).await?;
    session.until("the answer to be right", "return !!document.querySelector('.before.right')").await?;
    session
        .until(
            "one answer",
            "return document.querySelector('.tally').textContent.endsWith('1 right at first sight of 1')",
        )
        .await
}

/// Opens the drill that asks for a cell by its dot numbers, and gives the cells that it asks for.
async fn asked_by_its_dots(session: &Session) -> Outcome<Vec<cell::Cell>> {
    session.open("#/").await?;
    crate::drill::choose_freely(session).await?;
    choose(session, "Drill", "Dot numbers: write the cell").await?;
    session.find("textbox", "Braille").await?.click().await?;
    session
        .until("the drill", "return document.querySelector('.asked .large')?.textContent.startsWith('dot')")
        .await?;
    let asked = session.script("return document.querySelector('.asked .large').textContent").await?;
    let numbers = asked.as_str().unwrap_or_default().replace("dots ", "").replace("dot ", "");
    Ok(numbers.split(", ").filter_map(cell::Cell::from_dot_numbers).collect())
}

/// For a display whose keys send print: cells are written by their dot numbers, in every surface.
pub async fn dot_numbers_in_print_write_cells(session: Session) -> Outcome {
    open_keys(&session).await?;
    session.switch("My display’s keys send print: write by dot numbers", true).await?;
    let field = session.find("textbox", "Cells by dot numbers").await?;
    field.send_keys("125 1-5 123 blank 245\u{e007}").await?;
    line(&session, "⠓⠑⠇⠀⠚").await?;
    // A slip is told, and what was typed stays to be mended.
    field.send_keys("17\u{e007}").await?;
    session.until("the word of it", "return document.querySelector('[aria-label=\"Dot numbers\"]').textContent.startsWith('17 is no cell')").await?;
    let typed = field.prop("value").await?;
    ensure(typed.as_deref() == Some("17"), || format!("the field holds {typed:?}"))?;
    field.send_keys("\u{e003}\u{e003}\u{e003}").await?;
    line(&session, "⠓⠑⠇⠀").await?;
    field.send_keys("\u{e007}").await?;
    session.until("a new line", "return document.querySelectorAll('.line').length === 2").await?;
    // A drill is answered by it.
    let asked = asked_by_its_dots(&session).await?;
    let numbers: Vec<String> = asked.iter().map(|cell| cell.dot_numbers()).collect();
    let field = session.find("textbox", "Cells by dot numbers").await?;
    field.send_keys(&format!("{}\u{e007}", numbers.join(" "))).await?;
    session.until("the answer to be right", "return !!document.querySelector('.before.right')").await
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

/// A phone of this width that is touched with fingers.
async fn phone(session: &Session, width: u32) -> Outcome {
    session.screen(width).await?;
    let fingers = json!({"enabled": true, "maxTouchPoints": 6});
    session.devtools("Emulation.setTouchEmulationEnabled", fingers).await.map(drop)
}

/// The first line, as text.
async fn line(session: &Session, cells: &str) -> Outcome {
    let is = format!("return document.querySelector('.line .sr').textContent === {cells:?}");
    session.until(cells, &is).await
}

pub async fn fingers_on_the_screen_make_a_chord(session: Session) -> Outcome {
    session.open("#/write").await?;
    phone(&session, 390).await?;
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
    for width in [320, 390] {
        session.screen(width).await?;
        let sizes =
            "const sizes = [...document.querySelectorAll('.pad .key')].map((one) => one.getBoundingClientRect());
            return sizes.every((one) => one.width >= 40 && one.height >= 64 && one.right <= innerWidth)";
        ensure(session.script(sizes).await? == true, || {
            format!("the keys are too small for thumbs at {width}")
        })?;
    }
    Ok(())
}

/// Two thumbs write every cell: a thumb that holds a key slides over those beside it.
pub async fn two_thumbs_slide_over_the_keys(session: Session) -> Outcome {
    session.open("#/write").await?;
    phone(&session, 390).await?;
    let at = |dot: u8| finger(&session, dot);
    let as_finger = |mut place: serde_json::Value, id: u8| {
        place["id"] = json!(id);
        place
    };
    // Dots 1 2 3 with the left thumb, dots 4 5 with the right one: all stay down until both are lifted.
    let mut down = vec![as_finger(at(1).await?, 1)];
    touch(&session, "touchStart", &down).await?;
    down.push(as_finger(at(4).await?, 2));
    touch(&session, "touchStart", &down).await?;
    for (thumb, dot) in [(0, 2), (0, 3), (1, 5)] {
        down[thumb] = as_finger(at(dot).await?, thumb as u8 + 1);
        touch(&session, "touchMove", &down).await?;
    }
    let lit = "return [...document.querySelectorAll('.key[data-held]')].map((one) => one.textContent).sort().join('')";
    session.until("the keys to be lit", &lit.replace("join('')", "join('') === '12345'")).await?;
    touch(&session, "touchEnd", &down[1..]).await?;
    touch(&session, "touchEnd", &[]).await?;
    line(&session, "⠟").await?;
    // The edge of the key beside its own is not meant.
    let one = at(1).await?;
    let mut edge = as_finger(at(2).await?, 1);
    let beside = |place: &serde_json::Value| place["x"].as_f64().unwrap_or(0.0);
    edge["x"] = json!(beside(&edge) + (beside(&one) - beside(&edge)) * 0.42);
    touch(&session, "touchStart", &[as_finger(one, 1)]).await?;
    touch(&session, "touchMove", &[edge]).await?;
    touch(&session, "touchEnd", &[]).await?;
    line(&session, "⠟⠁").await
}

/// Where a key of the screen's lies, by its name.
async fn key_named(session: &Session, name: &str, id: u8) -> Outcome<serde_json::Value> {
    let place = format!(
        "const key = [...document.querySelectorAll('.six button')].find((one) => (one.ariaLabel || one.textContent) === {name:?});
        const at = key.getBoundingClientRect();
        return {{x: at.x + at.width / 2, y: at.y + at.height / 2, id: {id}}}"
    );
    session.script(&place).await
}

/// Where somebody writes with thumbs.
#[derive(Clone, Copy, PartialEq)]
enum Desk {
    Write,
    Transcribe,
    Drill,
    Round,
}

/// On a phone, upright and on its side: the keys stay where they are while lines are filled, every cell arrives though
/// thumbs come and go unevenly and drift, a blank counts while another finger is still down, and the line being written stands
/// above the keys, with what is to be written, at every cell.
pub async fn the_keys_stay_under_the_thumbs(session: Session) -> Outcome {
    thumbs(&session, Desk::Write, 390, 844).await
}

/// The same with the phone on its side.
pub async fn the_keys_stay_under_the_thumbs_on_its_side(session: Session) -> Outcome {
    thumbs(&session, Desk::Write, 844, 390).await
}

pub async fn thumbs_in_transcribe(session: Session) -> Outcome {
    thumbs(&session, Desk::Transcribe, 390, 844).await
}

pub async fn thumbs_in_transcribe_on_its_side(session: Session) -> Outcome {
    thumbs(&session, Desk::Transcribe, 844, 390).await
}

pub async fn thumbs_in_a_drill(session: Session) -> Outcome {
    thumbs(&session, Desk::Drill, 390, 844).await
}

pub async fn thumbs_in_a_drill_on_its_side(session: Session) -> Outcome {
    thumbs(&session, Desk::Drill, 844, 390).await
}

pub async fn thumbs_in_a_round(session: Session) -> Outcome {
    thumbs(&session, Desk::Round, 390, 844).await
}

pub async fn thumbs_in_a_round_on_its_side(session: Session) -> Outcome {
    thumbs(&session, Desk::Round, 844, 390).await
}

/// Goes to the surface of a place.
async fn to_desk(session: &Session, desk: Desk) -> Outcome {
    match desk {
        Desk::Write => session.open("#/write").await?,
        Desk::Transcribe => session.open("#/transcribe").await?,
        Desk::Drill => {
            session.open("#/practise").await?;
            choose(session, "Drill", "Write a sentence").await?;
        }
        Desk::Round => {
            let set = Exercise {
                title: "Two signs".into(),
                signs: vec!["letter h".into(), "letter j".into()],
                task: Task::Write,
                ..Exercise::default()
            };
            session.open(&format!("#/x/{}", set.to_payload()?)).await?;
        }
    }
    session.find("textbox", "Braille").await.map(drop)
}

/// So many cells are written; as many as `THUMBS` says where it is set.
fn how_many() -> usize {
    std::env::var("THUMBS").ok().and_then(|count| count.parse().ok()).unwrap_or(90)
}

async fn thumbs(session: &Session, desk: Desk, width: u32, height: u32) -> Outcome {
    to_desk(session, desk).await?;
    let size = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": true});
    session.devtools("Emulation.setDeviceMetricsOverride", size).await?;
    let fingers = json!({"enabled": true, "maxTouchPoints": 8});
    session.devtools("Emulation.setTouchEmulationEnabled", fingers).await?;
    session
        .until(
            "the keys at the foot",
            "return getComputedStyle(document.querySelector('main .six')).position === 'fixed'",
        )
        .await?;
    tokio::time::sleep(std::time::Duration::from_millis(200)).await;
    let mut keys = Vec::new();
    for (id, name) in
        ["Dot 1", "Dot 2", "Dot 3", "Dot 4", "Dot 5", "Dot 6", "Blank", "New line"].iter().enumerate()
    {
        keys.push(key_named(session, name, id as u8 + 1).await?);
    }
    let tops = "return [...document.querySelectorAll('.six button')].map((one) => Math.round(one.getBoundingClientRect().top)).join(' ')";
    let before = session.script(tops).await?;
    // The line, and what is to be written: above the line in the surface, or at the top.
    let in_sight = "const line = document.querySelector('.line.here').getBoundingClientRect();
            const keys = document.querySelector('.six').getBoundingClientRect();
            const copy = (document.querySelector('.copy-line') ?? document.querySelector('[data-copy]')).getBoundingClientRect();
            return line.bottom <= keys.top && line.bottom > 40 && keys.bottom <= innerHeight + 1
                && copy.top >= -1 && copy.bottom <= keys.top";
    let mut chance = fastrand::Rng::with_seed(u64::from(width));
    let nudge = |finger: &serde_json::Value, by: (f64, f64)| {
        let mut finger = finger.clone();
        for (axis, by) in [("x", by.0), ("y", by.1)] {
            finger[axis] = json!(finger[axis].as_f64().unwrap_or(0.0) + by);
        }
        finger
    };
    // Chords of two fingers and more, a blank while they are down after every fifth.
    let text = cell::from_ascii("!boat]ngy*?/f\\kdh:c").expect("cells");
    let mut sent = String::new();
    // Six chords a second, each a fifth sooner or later.
    let beat = std::time::Duration::from_millis(166);
    let mut due = std::time::Instant::now();
    for at in 0..how_many() {
        let cell = text[at % text.len()];
        let down: Vec<serde_json::Value> = cell
            .dots()
            .map(|dot| {
                nudge(&keys[usize::from(dot) - 1], (chance.f64() * 12.0 - 6.0, chance.f64() * 12.0 - 6.0))
            })
            .collect();
        for upto in 1..=down.len() {
            // Thumbs do not come all at once.
            if upto == down.len() || chance.bool() {
                touch(session, "touchStart", &down[..upto]).await?;
            }
        }
        // The thumbs drift while they press.
        let drifted: Vec<_> =
            down.iter().map(|finger| nudge(finger, (chance.f64() * 8.0 - 4.0, 6.0))).collect();
        touch(session, "touchMove", &drifted).await?;
        sent.push(char::from_u32(0x2800 + u32::from(cell.bits())).unwrap_or(' '));
        if at % 5 == 4 {
            // The last finger is lifted after the blank has come down.
            let mut with = drifted.clone();
            with.push(keys[6].clone());
            touch(session, "touchStart", &with).await?;
            sent.push('⠀');
        }
        touch(session, "touchEnd", &[]).await?;
        if at % 40 == 39 && matches!(desk, Desk::Write | Desk::Transcribe) {
            touch(session, "touchStart", &keys[7..]).await?;
            touch(session, "touchEnd", &[]).await?;
        }
        // A line that has wrapped is laid out before it is brought into sight.
        let what = format!("the line above the keys after cell {at} at {width} by {height}");
        session.until(&what, in_sight).await?;
        due += beat.mul_f64(0.8 + chance.f64() * 0.4);
        tokio::time::sleep_until(due.into()).await;
    }
    let all = "return [...document.querySelectorAll('.line .sr')].map((one) => one.textContent).join('')";
    // What stands as text follows in a quiet moment.
    if session.until("every cell as it was sent", &format!("{all} === {sent:?}")).await.is_err() {
        let now = session.script(all).await?;
        return Err(Failed(format!("sent was {sent}, and written {now}")));
    }
    let after = session.script(tops).await?;
    ensure(before == after, || format!("the keys have moved: {before}, then {after}"))
}

/// Signs that are answered one after the other, each cell at once with the next: every one counts, and the keys stay.
pub async fn thumbs_answer_sign_after_sign(session: Session) -> Outcome {
    session.open("#/practise").await?;
    choose(&session, "Drill", "A meaning: write the cell").await?;
    session.find("textbox", "Braille").await?;
    phone(&session, 390).await?;
    session
        .until(
            "the keys at the foot",
            "return getComputedStyle(document.querySelector('.drill .six')).position === 'fixed'",
        )
        .await?;
    tokio::time::sleep(std::time::Duration::from_millis(200)).await;
    let mut keys = Vec::new();
    for (id, name) in ["Dot 1", "Dot 2", "Dot 3"].iter().enumerate() {
        keys.push(key_named(&session, name, id as u8 + 1).await?);
    }
    // One finger is always down as the next comes: the first is lifted, which ends its cell.
    for at in 0..12_usize {
        touch(&session, "touchStart", &keys[at % 3..=at % 3]).await?;
        touch(&session, "touchEnd", &[]).await?;
    }
    let tally = "return document.querySelector('.tally')?.textContent.endsWith('of 12')";
    session.until("twelve answers", tally).await
}

/// A telephone trembles at a cell where that is wished, and nowhere else.
pub async fn a_cell_trembles_where_it_is_wished(session: Session) -> Outcome {
    open_keys(&session).await?;
    phone(&session, 390).await?;
    session.script("window.trembled = []; navigator.vibrate = (time) => window.trembled.push(time)").await?;
    let tap = async || -> Outcome {
        let key = key_named(&session, "Dot 1", 1).await?;
        touch(&session, "touchStart", &[key]).await?;
        touch(&session, "touchEnd", &[]).await
    };
    tap().await?;
    line(&session, "⠁").await?;
    let so_far = session.script("return window.trembled.length").await?;
    ensure(so_far == 0, || format!("it trembled {so_far} times unasked"))?;
    session.click_in_the_middle("checkbox", "Tremble at each cell that I touch in").await?;
    tap().await?;
    session.until("it to tremble", "return window.trembled.join() === '10'").await
}

/// With one key at a time, and with one hand, the keys on the screen do all that the keyboard's do.
pub async fn one_key_and_one_hand_on_the_screen(session: Session) -> Outcome {
    open_keys(&session).await?;
    choose(&session, "Cells are entered", "key").await?;
    phone(&session, 390).await?;
    let tap = async |dot: u8| -> Outcome {
        touch(&session, "touchStart", &[finger(&session, dot).await?]).await?;
        touch(&session, "touchEnd", &[]).await
    };
    let button = async |name: &str| -> Outcome { session.find("button", name).await?.click().await };
    for dot in [1, 5, 2, 2] {
        tap(dot).await?;
    }
    let held = "return [...document.querySelectorAll('.key[aria-pressed=true]')].map((one) => one.textContent).sort().join('')";
    let now = session.script(held).await?;
    ensure(now == "15", || format!("held are {now}"))?;
    button("Write the cell").await?;
    line(&session, "⠑").await?;
    // A blank writes what was put together first; erasing takes that back first.
    tap(1).await?;
    button("Blank").await?;
    line(&session, "⠑⠁⠀").await?;
    tap(4).await?;
    button("Erase").await?;
    button("Erase").await?;
    line(&session, "⠑⠁").await?;
    choose(&session, "Cells are entered", "hand").await?;
    // The left half, the right half, with the same keys; then an empty left half.
    tap(1).await?;
    tap(2).await?;
    line(&session, "⠑⠁⠑").await?;
    button("Empty half").await?;
    tap(1).await?;
    line(&session, "⠑⠁⠑⠈").await
}

pub async fn the_keyboard_check_shows_what_arrives(session: Session) -> Outcome {
    open_keys(&session).await?;
    session.find("application", "Keyboard check").await?.click().await?;
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
    // The keys that failed are not offered; others are, and one key at a time.
    let offered = "return [...document.querySelectorAll('.check-keys .controls button')].map((one) => one.textContent).join('; ')";
    let now = session.script(offered).await?;
    ensure(
        now == "Try the upper row: R E W U I O; Try the two rows: F E W J I O; One key at a time",
        || format!("offered is {now}"),
    )?;
    session.find("button", "Try the upper row: R E W U I O").await?.click().await?;
    // The focus is where they are tried.
    chord(&session, "rew").await?;
    session.until("what came", "return document.querySelector('.check-keys [role=status]').textContent.includes('1 2 3 (keys R E W)')").await?;
    let now = session.script(offered).await?;
    ensure(now == "Try the two rows: F E W J I O; One key at a time", || format!("offered is {now}"))?;
    // Any six that do arrive can be taken, by where they lie.
    chord(&session, "opeiwr").await?;
    session.find("button", "Write with these keys").await?.click().await?;
    press_in_surface(&session, "r").await?;
    session.expect("status", "Reads as", "a").await?;
    session.find("button", "Back to the usual keys").await?.click().await?;
    session.find("application", "Keyboard check").await?.click().await?;
    chord(&session, "fdsjkl").await?;
    session
        .until(
            "all six",
            "return document.querySelector('.check-keys [role=status]').textContent.startsWith('All six')",
        )
        .await
}

const SWALLOWS: &str = "return [...document.querySelectorAll('[role=alert]')].some((one) => one.textContent.includes('swallow'))";

/// Running text as it comes from a keyboard that lets no fourth key through: seventy cells, none with more than three dots.
fn swallowed() -> Vec<cell::Cell> {
    let text = "the boats leave the quay at seven and come back in the evening when all have been over";
    let three =
        |cell: cell::Cell| cell::Cell::from_dots(&cell.dots().take(3).collect::<Vec<_>>()).unwrap_or(cell);
    cell::from_ascii(text).expect("cells").into_iter().map(three).collect()
}

pub async fn chords_with_holes_are_spoken_of_once(session: Session) -> Outcome {
    session.open("#/write").await?;
    // A few letters again and again have no fourth dot either, and are no fault of the keyboard.
    session.write(&cell::from_ascii(&"abcdeh ".repeat(14)).expect("cells")).await?;
    ensure(session.script(SWALLOWS).await? == false, || "practice was taken for a fault".to_owned())?;
    session.write(&swallowed()).await?;
    session.until("the word about it", SWALLOWS).await?;
    // The check and another way of entry stand beside it.
    session.find("button", "Write one key at a time").await?;
    session.find("button", "Check the keyboard").await?.click().await?;
    session.find("application", "Keyboard check").await?;
    session.find("button", "Put this away").await?.click().await?;
    // The writing goes on where it was.
    session
        .until("the focus", "return document.activeElement.getAttribute('aria-label') === 'Braille'")
        .await?;
    session.type_cells(&swallowed()).await?;
    ensure(session.script(SWALLOWS).await? == false, || "it is said twice".to_owned())?;
    // Nor is it said again on another day, as long as the keys are the same.
    session.open("#/write").await?;
    session.write(&swallowed()).await?;
    ensure(session.script(SWALLOWS).await? == false, || "it is said again after a reload".to_owned())?;
    session.unfold().await?;
    session.find("button", "Change the key for Dot 6").await?.click().await?;
    session.press('m').await?;
    session.write(&swallowed()).await?;
    session.until("the word about the new keys", SWALLOWS).await
}

/// Types a text as a keyboard that lets no third key through.
fn two_keys(cells: &[cell::Cell]) -> Vec<cell::Cell> {
    let two = |cell: &cell::Cell| cell::Cell::from_dots(&cell.dots().take(2).collect::<Vec<_>>());
    cells.iter().map(|cell| two(cell).unwrap_or(*cell)).collect()
}

/// Where it is known what is to be written, a poor keyboard is noticed within a dozen cells that need more keys than arrive.
pub async fn a_poor_keyboard_is_noticed_by_what_was_meant(session: Session) -> Outcome {
    for (address, copy) in [("#/write", ".copyholder .print"), ("#/transcribe", ".copy-line")] {
        session.open(address).await?;
        session.script("localStorage.removeItem('cellwright.told-of-keys')").await?;
        session.find("textbox", "Braille").await?;
        let print = session
            .script(&format!("const at = document.querySelector({copy:?}).cloneNode(true); at.querySelector('.from')?.remove(); return at.textContent.trim()"))
            .await?;
        let asked = cellwright::ueb::transcribe(print.as_str().unwrap_or_default(), &Default::default());
        let needs = |cells: &[cell::Cell]| cells.iter().filter(|cell| cell.dots().count() > 2).count();
        let upto = (0..asked.len()).find(|upto| needs(&asked[..*upto]) == 12).unwrap_or(asked.len());
        // To the end of the word.
        let end =
            asked[upto..].iter().position(|cell| cell.is_blank()).map_or(asked.len(), |at| upto + at + 1);
        session.write(&two_keys(&asked[..end])).await?;
        session.until(address, SWALLOWS).await?;
    }
    // A drill: two cells with more than two dots, again and again.
    session.script("localStorage.clear()").await?;
    let mut needed = 0;
    asked_by_its_dots(&session).await?;
    while session.script(SWALLOWS).await? == false {
        ensure(needed < 12, || "twelve answers lacked dots, and nothing was said".to_owned())?;
        let numbers = session.script("return document.querySelector('.asked .large').textContent").await?;
        let numbers = numbers.as_str().unwrap_or_default().replace("dots ", "").replace("dot ", "");
        let cells: Vec<cell::Cell> = numbers.split(", ").filter_map(cell::Cell::from_dot_numbers).collect();
        needed += cells.iter().filter(|cell| cell.dots().count() > 2).count();
        session.type_cells(&two_keys(&cells)).await?;
        session.until("the next", &format!("return document.querySelector('.before')?.textContent.length > 0 && document.querySelector('.asked .large').textContent !== 'dots {numbers}'")).await?;
    }
    Ok(())
}

/// The check remembers how it came out; a keyboard that was found sound is not suspected.
pub async fn the_check_remembers(session: Session) -> Outcome {
    open_keys(&session).await?;
    session.find("application", "Keyboard check").await?.click().await?;
    let all = cell::from_ascii("=").expect("a cell");
    session.type_cells(&all).await?;
    session
        .until(
            "all six",
            "return document.querySelector('.check-keys [role=status]').textContent.startsWith('All six')",
        )
        .await?;
    open_keys(&session).await?;
    let told = "return document.querySelector('.check-keys').textContent.includes('When you last checked these keys, all six arrived together.')";
    session.until("what the last check showed", told).await?;
    session.write(&swallowed()).await?;
    ensure(session.script(SWALLOWS).await? == false, || "a sound keyboard is suspected".to_owned())
}
