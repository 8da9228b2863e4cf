//! Writing without seeing, with other eyes, or by the keyboard alone (WCAG 2.2: 1.4.10, 2.1.1, 2.1.2, 2.4.3, 2.4.7, 4.1.3).

use cellwright::cell;
use serde_json::json;

use crate::browser::{Failed, Outcome, Session, cells, ensure};
use crate::states;

async fn open_settings(session: &Session) -> Outcome {
    session.open("#/write").await?;
    session.unfold().await
}

async fn says(session: &Session, place: &str, words: &str) -> Outcome {
    let script = format!(
        "return [...document.querySelectorAll({place:?})].some((one) => one.textContent === {words:?})"
    );
    session.until(&format!("\"{words}\" to be said"), &script).await
}

/// Announcements of the reading, and of the cell moved to.
const READING: &str = ".reading [aria-live=polite]";
const CELL: &str = ".writing > [aria-live=polite]";

pub async fn words_are_announced_when_asked_for(session: Session) -> Outcome {
    open_settings(&session).await?;
    session.write(&cells("f]ry ")).await?;
    // By default nothing is said of the reading.
    says(&session, READING, "").await?;
    session.find("combobox", "Announce the reading").await?.select_by_value("words").await?;
    session.write(&[]).await?;
    session.type_cells(&cells("l1ves")).await?;
    says(&session, READING, "").await?;
    session.type_cells(&cells(" ")).await?;
    says(&session, READING, "leaves").await?;
    // The same word once more is told once more; a new line ends a word too; the caret alone tells nothing.
    session.type_cells(&cells("l1ves ")).await?;
    says(&session, READING, "leaves\u{a0}").await?;
    session.type_cells(&cells("at")).await?;
    session.press('\u{e006}').await?;
    says(&session, READING, "at").await?;
    for _ in 0..4 {
        session.press('\u{e012}').await?;
    }
    tokio::time::sleep(std::time::Duration::from_millis(200)).await;
    says(&session, READING, "at").await?;
    session.with_control("\u{e010}").await?;
    session.press('\u{e003}').await?;
    session.find("combobox", "Announce the reading").await?.select_by_value("pause").await?;
    session.write(&[]).await?;
    session.type_cells(&cells("at")).await?;
    says(&session, READING, "ferry leaves leaves atat").await
}

pub async fn the_cell_moved_to_says_its_dots(session: Session) -> Outcome {
    const LEFT: char = '\u{e012}';
    open_settings(&session).await?;
    session.script("window.said = []; addEventListener('cellwright-says', (event) => window.said.push(event.detail))").await?;
    session.write(&cells("f]ry")).await?;
    session.press(LEFT).await?;
    says(&session, CELL, "dots 1 3 4 5 6").await?;
    session.switch("Say what that cell means", true).await?;
    session.write(&[]).await?;
    session.with_control("\u{e010}").await?;
    for _ in 0..3 {
        session.press(LEFT).await?;
    }
    says(&session, CELL, "dots 1 2 4 5 6, er").await?;
    // The voice is off until it is asked for.
    ensure(session.script("return window.said.length").await? == 0, || "it spoke unasked".to_owned())?;
    session.switch("Speak aloud with the browser’s voice", true).await?;
    session.write(&[]).await?;
    session.with_control("\u{e010}").await?;
    session.press(LEFT).await?;
    session.until("the voice", "return window.said.join('').includes('dots 1 3 4 5 6')").await?;
    // What it means alone, then nothing at all.
    session.switch("Say the dots of the cell I move to", false).await?;
    session.write(&[]).await?;
    session.with_control("\u{e010}").await?;
    session.press(LEFT).await?;
    says(&session, CELL, "letter y").await?;
    session.switch("Say what that cell means", false).await?;
    session.switch("Speak aloud with the browser’s voice", false).await?;
    session.write(&[]).await?;
    session.press('\u{e014}').await?;
    says(&session, CELL, "").await
}

pub async fn a_line_is_one_line_of_text(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cells(",! f]ry")).await?;
    session.press('\u{e006}').await?;
    session.type_cells(&cells("l1ves")).await?;
    // The text box, which a braille display follows, holds the caret's line; each line is one piece of text besides.
    session.until("the caret's line", "return document.activeElement.value === '⠇⠂⠧⠑⠎'").await?;
    session.press('\u{e013}').await?;
    session.until("the line above", "return document.activeElement.value === '⠠⠮⠀⠋⠻⠗⠽'").await?;
    let lines = session.script("return JSON.stringify([...document.querySelectorAll('.line > .sr')].map((one) => one.textContent))").await?;
    ensure(lines == r#"["⠠⠮⠀⠋⠻⠗⠽","⠇⠂⠧⠑⠎"]"#, || format!("the lines are {lines}"))
}

/// What is said of the cursor on a sheet.
const CURSOR: &str = ".read-sheet > [aria-live=polite]";

/// A drawn sheet is a text box that only reads, a line of text for every line of cells: a screen reader goes through it, a
/// display pans over it and puts the cursor by its routing keys. What is said of a cell is the learner's choice; what it
/// means is never said where that is the exercise.
pub async fn a_sheet_is_text_that_a_display_follows(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.unfold().await?;
    session.switch("Say what that cell means", true).await?;
    session.open("#/proofread").await?;
    let sheet = session.find("textbox", "Braille to proofread").await?;
    let text = sheet.prop("value").await?.unwrap_or_default();
    let lines: Vec<&str> = text.split('\n').collect();
    let drawn = session.script("return document.querySelectorAll('.sheet-line').length").await?;
    ensure(drawn == lines.len() && lines.len() > 3, || {
        format!("{drawn} lines are drawn, told are {lines:?}")
    })?;
    let braille = |c: char| ('\u{2800}'..='\u{283f}').contains(&c);
    ensure(lines.iter().all(|line| line.chars().all(braille)), || format!("the lines are {lines:?}"))?;
    let told = sheet.attr("readonly").await?.is_some();
    ensure(told, || "the sheet can be written on".to_owned())?;
    // A display's routing key at the second cell of the third line.
    let at = lines[..2].iter().map(|line| line.chars().count() + 1).sum::<usize>() + 1;
    session.script(&format!("document.querySelector('.sheet-text').focus(); document.activeElement.setSelectionRange({at}, {at})")).await?;
    let cell =
        lines[2].chars().nth(1).and_then(cell::Cell::from_unicode).ok_or_else(|| Failed("no cell".into()))?;
    let dots = match cell.dots().count() {
        0 => "blank".to_owned(),
        1 => format!("dot {}", cell.dot_numbers()),
        _ => format!("dots {}", cell.dot_numbers().replace('-', " ")),
    };
    says(&session, CURSOR, &format!("{dots}, line 3, cell 2")).await?;
    // A mark is heard at its cell, and the keys move the box's own caret along.
    session.press('\u{e007}').await?;
    says(&session, CURSOR, &format!("{dots}, mark 1, line 3, cell 2")).await?;
    session.press('\u{e014}').await?;
    session
        .until("the caret", &format!("return document.activeElement.selectionStart === {}", at + 1))
        .await?;
    // The last line comes into view with the cursor.
    session.press('\u{e00f}').await?;
    let seen = "const at = document.querySelector('.sheet-line.now').getBoundingClientRect(), frame = document.querySelector('.read-sheet').getBoundingClientRect();
        return document.querySelector('.sheet-line.now').dataset.line > 3 && at.bottom <= Math.min(frame.bottom, innerHeight) + 1 && at.top >= frame.top - 1";
    session.until("the last line in view", seen).await?;
    // A pointer puts the focus there too.
    session.script("document.activeElement.blur(); document.querySelector('.sheet-line svg').dispatchEvent(new MouseEvent('click', {bubbles: true}))").await?;
    session.until("the focus", "return document.activeElement.className === 'sheet-text'").await?;
    // Dot numbers only: the same lines in numbers.
    session.switch("Dot numbers only", true).await?;
    let numbers = "return document.querySelector('.sheet-text').value.split('\\n').every((line) => /^((blank|[1-6](-[1-6])*)( |$))*$/.test(line))";
    session.until("dot numbers", numbers).await?;
    session.switch("Dot numbers only", false).await?;
    // On the desk with a file of one's own, where nobody is tested, the meaning is said.
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("own.brf");
    std::fs::write(&path, ",! f]ry l1ves4\r\n")?;
    session.find("button", "Reading desk").await?.click().await?;
    let field = session.client.find(fantoccini::Locator::Css("input[type=file]")).await?;
    field.send_keys(&path.display().to_string()).await?;
    session.find("textbox", "Braille on the desk").await?;
    session.script("document.querySelector('.sheet-text').focus()").await?;
    for _ in 0..4 {
        session.press('\u{e014}').await?;
    }
    let heard = says(&session, CURSOR, "dots 1 2 4 5 6, er, line 1, cell 5").await;
    if heard.is_err() {
        eprintln!("{:?}", session.script("return [document.querySelector('.read-sheet > [aria-live]').textContent, document.activeElement.outerHTML, document.querySelector('.sheet-text').selectionStart]").await?);
    }
    heard?;
    // In the Read room the whole page of the text is told, and nothing of it while the braille is covered.
    session.open("#/read").await?;
    session.until("a text", "return !!document.querySelector('.reading-room .paper')").await?;
    let told = "return document.querySelector('.sheet-text').value.trim().length > 3";
    session.until("the page as text", told).await?;
    let cover = "const list = [...document.querySelectorAll('main label')].find((one) => one.textContent.startsWith('Show')).querySelector('select');
        list.selectedIndex = [...list.options].findIndex((one) => one.textContent.includes('braille covered'));
        list.dispatchEvent(new Event('change', {bubbles: true}))";
    session.script(cover).await?;
    session.until("nothing of it", "return document.querySelector('.sheet-text').value.trim() === ''").await
}

pub async fn everything_is_reached_by_tab_with_a_visible_focus(session: Session) -> Outcome {
    for room in states::ROOMS {
        states::stand(&session, room).await?;
        // From the top, round to the first stop again or out of the page.
        let top =
            "document.activeElement.blur(); window.scrollTo(0, 0); document.querySelector('.skip').focus()";
        session.script(top).await?;
        session.press('\u{e004}').await?;
        let mut seen: Vec<String> = Vec::new();
        for _ in 0..600 {
            let at = session
                .script(
                    "const at = document.activeElement;
                    if (at === document.body) return '';
                    const ring = getComputedStyle(at.closest('.surface, .read-sheet') ?? at);
                    const shown = ring.outlineStyle !== 'none' && parseFloat(ring.outlineWidth) >= 2;
                    const box = at.getBoundingClientRect();
                    const inside = box.bottom > 0 && box.top < innerHeight && box.width > 0;
                    const all = [...document.querySelectorAll('a, button, input, select, textarea, summary, [tabindex]')];
                    return `${all.indexOf(at)} ${at.tagName} ${at.getAttribute('aria-label') ?? at.textContent.slice(0, 20)}${shown ? '' : ' NO RING'}${inside ? '' : ' OUT OF SIGHT'}`",
                )
                .await?;
            let at = at.as_str().unwrap_or_default().to_owned();
            if at.is_empty() || seen.first() == Some(&at) {
                break;
            }
            ensure(!at.ends_with("NO RING") && !at.ends_with("OUT OF SIGHT"), || {
                format!("{room}: the focus cannot be seen at {at}")
            })?;
            seen.push(at);
            session.press('\u{e004}').await?;
        }
        // All that can have the focus has had it; of radio buttons with one name, one.
        let all = session
            .script(
                "const all = [...document.querySelectorAll('a, button, input, select, textarea, summary, [tabindex]')];
                const named = (one) => all.find((other) => other.type === 'radio' && other.name === one.name && other.form === one.form);
                return all.flatMap((one, at) => {
                    const radio = one.type === 'radio' && one.name && !(one.checked || one === named(one));
                    return one.tabIndex < 0 || one.disabled || one.matches('.skip, a:not([href])') || radio || !one.checkVisibility({visibilityProperty: true}) ? [] : [at];
                })",
            )
            .await?;
        let all: Vec<u64> =
            all.as_array().into_iter().flatten().filter_map(serde_json::Value::as_u64).collect();
        let visited: Vec<u64> = seen.iter().filter_map(|at| at.split(' ').next()?.parse().ok()).collect();
        let missed: Vec<&u64> = all.iter().filter(|at| !visited.contains(at)).collect();
        ensure(all.len() > 2 && missed.is_empty(), || {
            format!("{room}: Tab does not come to {missed:?}, but to {seen:?}")
        })?;
        let places: Vec<usize> = seen.iter().filter_map(|at| at.split(' ').next()?.parse().ok()).collect();
        ensure(places.is_sorted(), || format!("{room}: the order is {seen:?}"))?;
    }
    Ok(())
}

/// The chart of signs is one stop for Tab; inside it the arrow keys go from sign to sign (the pattern of composite
/// widgets in the ARIA Authoring Practices, "Managing Focus Within Components Using a Roving tabindex").
pub async fn the_chart_is_one_stop(session: Session) -> Outcome {
    session.open("#/signs").await?;
    session.until("the chart", "return !!document.querySelector('.chart button')").await?;
    let stops = "return document.querySelectorAll('.chart .tile > button[tabindex=\"0\"]').length";
    let at = "const all = [...document.querySelectorAll('.chart .tile > button')]; return all.indexOf(document.activeElement)";
    let last = session.script("return document.querySelectorAll('.chart .tile > button').length - 1").await?;
    session.script("document.querySelector('.chart button').focus()").await?;
    let (left, up, right, down) = ('\u{e012}', '\u{e013}', '\u{e014}', '\u{e015}');
    let (end, home) = ('\u{e010}', '\u{e011}');
    for (key, there) in [(right, 1), (right, 2), (left, 1), (left, 0), (left, 0)] {
        session.press(key).await?;
        let now = session.script(at).await?;
        ensure(now == there, || format!("the arrow led to sign {now} in place of {there}"))?;
        let stops = session.script(stops).await?;
        ensure(stops == 1, || format!("{stops} stops in the chart"))?;
    }
    // Down and up again is the same sign, and each lies straight below the other.
    let place =
        "const at = document.activeElement.getBoundingClientRect(); return [at.left, at.top + scrollY]";
    session.press(right).await?;
    let above = session.script(place).await?;
    session.press(down).await?;
    let below = session.script(place).await?;
    let straight = above[0] == below[0] && above[1].as_f64() < below[1].as_f64();
    ensure(straight, || format!("down led from {above} to {below}"))?;
    session.press(up).await?;
    let back = session.script(at).await?;
    ensure(back == 1, || format!("up led to sign {back}"))?;
    session.press(end).await?;
    let now = session.script(at).await?;
    ensure(now == last, || format!("End led to sign {now} of {last}"))?;
    // Tab leaves the chart, and comes back to the sign that was left.
    session.press('\u{e004}').await?;
    let outside = session.script(at).await?;
    ensure(outside == -1, || format!("Tab led to sign {outside}"))?;
    session.press(home).await?;
    session.script("document.querySelector('.chart .tile > button[tabindex=\"0\"]').focus()").await?;
    let back = session.script(at).await?;
    ensure(back == last, || format!("the stop is sign {back}"))
}

/// Every picture is one with words of its own, or stands beside its text and is passed over.
pub async fn pictures_have_words(session: Session) -> Outcome {
    let mut mute = Vec::new();
    for room in states::ROOMS {
        states::stand(&session, room).await?;
        session.unfold().await?;
        let found = session
            .script(
                "const words = (at) => (at.getAttribute('aria-label') ?? at.querySelector('title')?.textContent ?? '').trim();
                const mute = [...document.querySelectorAll('main svg, main img, main canvas')].filter((at) => {
                    // An empty line has no picture.
                    if ([...at.querySelectorAll('path')].every((path) => !path.getAttribute('d'))) return false;
                    const hidden = at.closest('[aria-hidden=true]');
                    // What is passed over has its text right beside it, or in the button, line or figure that it stands in.
                    if (hidden) return !(hidden.parentElement.textContent.trim() || hidden.closest('[aria-label], label, button, td, li, div')?.textContent.trim() || hidden.closest('.read-sheet')?.querySelector('textarea').value);
                    if (at.getAttribute('role') === 'img') return !words(at);
                    return !at.closest('[role=img][aria-label], [role=application][aria-label]');
                });
                return mute.slice(0, 3).map((at) => at.outerHTML.slice(0, 120)).join(' ; ')",
            )
            .await?;
        if found != "" {
            mute.push(format!("{room}: {found}"));
        }
    }
    ensure(mute.is_empty(), || format!("no words stand for these pictures:\n  {}", mute.join("\n  ")))
}

/// What a screen reader is told of the writing surface by the browser's own tree: a text box with the line as Unicode
/// braille, or its dot numbers; how to write, and the way out.
pub async fn the_tree_tells_of_the_writing(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&cells("f]ry")).await?;
    for (numbers, line) in [(false, "⠋⠻⠗⠽"), (true, "1-2-4 1-2-4-5-6 1-2-3-5 1-3-4-5-6 ")] {
        session.switch("Dot numbers only", numbers).await?;
        session.write(&[]).await?;
        let tree = session.devtools("Accessibility.getFullAXTree", json!({})).await?;
        let nodes = tree["nodes"].as_array().cloned().unwrap_or_default();
        let box_of_text = nodes.iter().find(|node| {
            node["role"]["value"] == "textbox"
                && node["name"]["value"] == "Braille"
                && node["ignored"] != true
        });
        let told = box_of_text.cloned().unwrap_or_default();
        ensure(told["value"]["value"] == line, || format!("the text box holds {}", told["value"]))?;
        let how = told["description"]["value"].as_str().unwrap_or_default();
        ensure(how.contains("Dots 1 to 6 are the keys F D S J K L") && how.contains("Tab moves on"), || {
            format!("it is described as {how:?}")
        })?;
    }
    Ok(())
}

pub async fn colours_and_motion_that_were_asked_for(session: Session) -> Outcome {
    session.open("#/write").await?;
    let media = |features: serde_json::Value| json!({ "features": features });
    session
        .devtools("Emulation.setEmulatedMedia", media(json!([
            {"name": "forced-colors", "value": "active"}, {"name": "prefers-reduced-motion", "value": "reduce"}
        ])))
        .await?;
    session.write(&cells("f]ry")).await?;
    let state = session
        .script(
            "const style = (name) => getComputedStyle(document.querySelector(name));
            return JSON.stringify({dots: style('.surface .cells-text').color !== style('.surface').backgroundColor, clear: style('.text-box').color, moves: style('.key').transitionDuration})",
        )
        .await?;
    ensure(state == r#"{"dots":true,"clear":"rgba(0, 0, 0, 0)","moves":"0s"}"#, || {
        format!("forced colours, reduced motion: {state}")
    })?;
    // Every room: its dots are drawn, nothing moves, and its picture is there to be looked at.
    for room in states::ROOMS {
        states::stand(&session, room).await?;
        let state = session
            .script(
                "const all = [...document.querySelectorAll('body, body *')].map((at) => getComputedStyle(at));
                const moves = all.filter((style) => /[1-9]/.test(style.transitionDuration) || style.animationName !== 'none').length;
                const unseen = [...document.querySelectorAll('main .dots path:not(.light, .shade), main .paper .dot')]
                    .filter((dot) => getComputedStyle(dot).stroke === 'none').length;
                return JSON.stringify({moves, unseen})",
            )
            .await?;
        ensure(state == r#"{"moves":0,"unseen":0}"#, || format!("{room}, forced colours: {state}"))?;
        session.picture(&format!("forced-{room}"), 820).await?;
    }
    Ok(())
}
