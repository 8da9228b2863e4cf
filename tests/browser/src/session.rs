//! A session as a newcomer and as a learner meet it: by the pointer, by real keys, and answered from what the page shows.

use std::time::{Duration, Instant};

use cellwright::cell::{self, Cell};
use cellwright::practice::drill;
use cellwright::practice::record::Direction;
use cellwright::practice::rules;
use cellwright::practice::units::units;
use cellwright::ueb::register;
use serde_json::json;

use crate::browser::{ENTER, Failed, Outcome, Session, ensure};

/// What stands in the middle, as the page keeps it for a reload: the line of the item in the session's own text.
async fn item(session: &Session) -> Outcome<Vec<String>> {
    let kept = session.script("return localStorage.getItem('cellwright.session') ?? ''").await?;
    let kept = kept.as_str().unwrap_or_default().to_owned();
    let line = kept.lines().find_map(|line| line.strip_prefix("item\t"));
    Ok(line.map(|line| line.split('\t').map(str::to_owned).collect()).unwrap_or_default())
}

/// A word that tells one screen of a session from the next.
const SCREEN: &str = "(localStorage.getItem('cellwright.session') ?? '') + !!document.querySelector('.keys-picture') + !!document.querySelector('.reasons-of') + (document.querySelector('.told')?.textContent ?? '')";

/// The screen, once it stands: the middle has something to look at, or it is over.
async fn screen(session: &Session) -> Outcome<String> {
    session
        .until("something to do", "return !!document.querySelector('.stage button, .stage input, .stage textarea, .session-summary')")
        .await?;
    Ok(session.script(&format!("return {SCREEN}")).await?.as_str().unwrap_or_default().to_owned())
}

async fn is(session: &Session, what: &str) -> Outcome<bool> {
    Ok(session.script(&format!("return !!document.querySelector({what:?})")).await? == true)
}

/// Types and presses Enter.
async fn say(session: &Session, text: &str) -> Outcome {
    session.until("a field", "return document.activeElement?.tagName === 'INPUT'").await?;
    for key in text.chars().chain([ENTER]) {
        session.press(key).await?;
    }
    Ok(())
}

async fn chords(session: &Session, cells: &[Cell]) -> Outcome {
    session.until("the surface", "return document.activeElement?.tagName === 'TEXTAREA'").await?;
    session.type_cells(cells).await
}

/// Does rightly what stands on the screen, by real keys; gives a word for it: "show", "ask", "read", "write", "keys".
async fn answer_right(session: &Session) -> Outcome<String> {
    let before = screen(session).await?;
    if is(session, ".session-summary").await? {
        return Ok("over".to_owned());
    }
    let did = if is(session, ".keys-picture").await? {
        chords(session, &cell::from_ascii("a").unwrap_or_default()).await?;
        session.find("button", "Go on (Enter)").await?.click().await?;
        "keys".to_owned()
    } else {
        let item = item(session).await?;
        let parts: Vec<&str> = item.iter().map(String::as_str).collect();
        match parts[..] {
            ["show", _] => {
                session
                    .until("the way on", "return document.activeElement?.textContent.startsWith('Ask me')")
                    .await?;
                session.press(ENTER).await?;
            }
            ["ask", key, direction] => {
                let sign = register::by_key(key).ok_or_else(|| Failed(format!("no sign {key}")))?;
                let by = |one: Direction| one.name() == direction;
                if by(Direction::Write) {
                    chords(session, &sign.cells).await?;
                } else if by(Direction::SayNumbers) {
                    say(session, &drill::dots(&sign.cells)).await?;
                } else {
                    say(session, if sign.print.is_empty() { sign.name } else { sign.print }).await?;
                }
            }
            ["read", _, print, _] => say(session, print).await?,
            ["write", _, _, ascii] => {
                chords(session, &cell::from_ascii(ascii).unwrap_or_default()).await?;
                session.press(ENTER).await?;
            }
            ["rule", _, word] => {
                let asked = rules::item(word);
                if is(session, ".reasons-of").await? {
                    let why = asked.passed.first().map(|passed| passed.why).unwrap_or_default();
                    session
                        .script(&format!(
                            "[...document.querySelectorAll('.reasons button')].find((one) => one.textContent.endsWith({})).click()",
                            json!(why)
                        ))
                        .await?;
                } else {
                    let letters: Vec<&str> =
                        asked.used.iter().map(|(letters, ..)| letters.as_str()).collect();
                    say(session, &if letters.is_empty() { "none".to_owned() } else { letters.join(" ") })
                        .await?;
                }
            }
            _ => return Err(Failed(format!("an item is kept as {item:?}, on the screen {before:?}"))),
        }
        item.first().cloned().unwrap_or_default()
    };
    session.until("the next screen", &format!("return ({SCREEN}) !== {}", json!(before))).await?;
    Ok(did)
}

/// Answers so many items rightly, new signs not counted.
pub async fn answer_some(session: &Session, count: usize) -> Outcome {
    let mut answered = 0;
    while answered < count {
        match answer_right(session).await?.as_str() {
            "over" => return Err(Failed("the session is over already".into())),
            "show" | "keys" => {}
            _ => answered += 1,
        }
    }
    Ok(())
}

/// Goes on until a sign is asked to be read.
pub async fn until_asked(session: &Session) -> Outcome {
    for _ in 0..20 {
        screen(session).await?;
        if matches!(item(session).await?.as_slice(), [ask, _, read] if ask == "ask" && read == "read") {
            return session.until("a field", "return document.activeElement?.tagName === 'INPUT'").await;
        }
        answer_right(session).await?;
    }
    Err(Failed("nothing is asked".into()))
}

/// Begins as one who is new, and goes on until the six keys are to be tried.
pub async fn until_keys(session: &Session) -> Outcome {
    session.open("#/").await?;
    session
        .script(
            "for (const key of Object.keys(localStorage)) if (/^cellwright\\.(journal|session)/.test(key)) localStorage.removeItem(key)",
        )
        .await?;
    session.open("#/session").await?;
    for _ in 0..40 {
        screen(session).await?;
        if is(session, ".keys-picture").await? {
            return Ok(());
        }
        answer_right(session).await?;
    }
    Err(Failed("the six keys are not shown".into()))
}

/// The first screen of someone who keeps three units and has left a text open.
pub async fn some_units_later(session: &Session) -> Outcome {
    session.open("#/").await?;
    let mut lines = vec!["cellwright record 1".to_owned(), "a1-0\\t${now - 4e8}\\tsession\\t10".to_owned()];
    for (n, key) in units().iter().take(4).flat_map(|unit| &unit.signs).enumerate() {
        for (time, day) in [3, 1].into_iter().enumerate() {
            let id = 1 + 2 * n + time;
            lines.push(format!(
                "a1-{id}\\t${{now - {day} * 864e5}}\\tanswer\\t{key}\\tread\\tright\\t900\\t0\\t\\t"
            ));
        }
    }
    let keep = format!(
        "const now = Date.now(); localStorage.setItem('cellwright.journal.a1', `{}\\n`);
         localStorage.setItem('cellwright.bookmarks', JSON.stringify({{version: 1, value: {{'The lamp on Orrin': [2, 4]}}}}))",
        lines.join("\\n")
    );
    session.script(&keep).await?;
    session.open("#/").await
}

async fn begin(session: &Session) -> Outcome {
    let link = session.client.find(fantoccini::Locator::Css("a.begin")).await?;
    let name = link.text().await?;
    ensure(name.starts_with("Begin") || name.starts_with("Go on"), || {
        format!("the action is called {name:?}")
    })?;
    Ok(link.click().await?)
}

/// A new profile: what this is is said; a sign is shown, asked and answered.
pub async fn a_newcomer_has_answered_a_sign_in_twenty_seconds(session: Session) -> Outcome {
    let begun = Instant::now();
    session.open("").await?;
    session
        .until("what this is", "return document.querySelector('main .what')?.textContent.includes('sighted')")
        .await?;
    begin(&session).await?;
    session.until("a sign", "return !!document.querySelector('.stage .large-cells .dots')").await?;
    ensure(item(&session).await? == ["show", "letter a"], || "a is not shown first".to_owned())?;
    answer_right(&session).await?;
    answer_right(&session).await?;
    session
        .until(
            "that it was right",
            "return document.querySelector('.verdict')?.textContent.includes('Right: a')",
        )
        .await?;
    let took = begun.elapsed();
    ensure(took < Duration::from_secs(20), || format!("it took {took:?}"))?;
    // After the first session it is not said again.
    session.find("button", "Leave").await?.click().await?;
    session.find("link", "To the first screen").await?.click().await?;
    session
        .until(
            "the first screen",
            "return !!document.querySelector('a.begin') && !document.querySelector('.what')",
        )
        .await?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// Before the first chord the keys are tried: they are in view on a small laptop and on a phone, and what was written is said.
pub async fn the_six_keys_are_tried_in_the_first_session(session: Session) -> Outcome {
    until_keys(&session).await?;
    for (width, height) in [(1280, 800), (390, 844)] {
        let metrics =
            json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500});
        session.devtools("Emulation.setDeviceMetricsOverride", metrics).await?;
        let seen = "return ['.keys-picture', '.surface', '.six'].every((one) => document.querySelector('main ' + one).getBoundingClientRect().bottom <= innerHeight + 1)";
        session.until(&format!("the keys in view at {width} by {height}"), seen).await?;
    }
    session.screen(0).await?;
    session.write(&cell::from_ascii("c").unwrap_or_default()).await?;
    session
        .until(
            "what it is",
            "return document.querySelector('.stage .verdict').textContent.includes('dots 1-4')",
        )
        .await?;
    session.press(ENTER).await?;
    session
        .until(
            "the chord",
            "return !document.querySelector('.keys-picture') && !!document.querySelector('.writes textarea')",
        )
        .await
}

/// All right and quick: unit 1 is left within one session, and that is said; then comes the summary.
pub async fn unit_1_is_left_within_one_session(session: Session) -> Outcome {
    session.open("#/").await?;
    session.find("button", "5 minutes").await?.click().await?;
    begin(&session).await?;
    let mut opened = false;
    for _ in 0..150 {
        if answer_right(&session).await? == "over" {
            break;
        }
        opened = opened
            || session
                .script(
                    "return document.querySelector('.session-news')?.textContent.includes('k to t') ?? false",
                )
                .await?
                == true;
        if opened {
            break;
        }
    }
    ensure(opened, || "no unit opened".to_owned())?;
    session.find("button", "Leave").await?.click().await?;
    session
        .until(
            "the summary",
            "return document.querySelector('.session-summary')?.textContent.includes('Kept from now on')",
        )
        .await?;
    session
        .until("the next step", "return document.querySelector('.next-step').textContent.includes('k to t')")
        .await?;
    session.find("link", "To the first screen").await?.click().await?;
    session.find("heading", "The road: unit 2 of 30").await.map(drop)
}

/// "Start here": the unit's own signs are shown and asked before any other.
pub async fn unit_11_shows_and_asks_its_eight_signs_first(session: Session) -> Outcome {
    let unit = &units()[10];
    session.open(&format!("#/session?unit={}", unit.id)).await?;
    let (mut shown, mut asked) = (Vec::new(), Vec::new());
    while shown.len() < unit.signs.len() {
        screen(&session).await?;
        let item = item(&session).await?;
        if !is(&session, ".keys-picture").await? {
            match item.iter().map(String::as_str).collect::<Vec<_>>()[..] {
                ["show", key] => shown.push(key.to_owned()),
                ["ask", key, _] => asked.push(key.to_owned()),
                _ => {}
            }
        }
        ensure(answer_right(&session).await? != "over", || format!("over after {shown:?}"))?;
    }
    ensure(shown == unit.signs, || format!("{shown:?} were shown"))?;
    ensure(asked.iter().all(|key| unit.signs.contains(&key.as_str())), || format!("{asked:?} were asked"))?;
    ensure(asked.len() >= 7, || format!("only {asked:?} were asked"))
}

/// What is due comes to nought when all is answered rightly.
pub async fn what_is_due_comes_to_nought(session: Session) -> Outcome {
    some_units_later(&session).await?;
    let due =
        "Number(document.querySelector('a.begin')?.textContent.match(/(\\d+) (?:signs? )?due/)?.[1] ?? 0)";
    // All of it was a year ago.
    let later = "const year = 365 * 864e5; const key = 'cellwright.journal.a1';
        localStorage.setItem(key, localStorage.getItem(key).replaceAll(/\\t(1\\d{12})\\t/g, (all, at) => `\\t${at - year}\\t`))";
    session.script(later).await?;
    session.open("#/").await?;
    let before = session.script(&format!("return {due}")).await?.as_u64().unwrap_or(0);
    ensure(before >= 30, || format!("{before} signs are due"))?;
    session.find("button", "20 minutes").await?.click().await?;
    begin(&session).await?;
    let mut answers = 0;
    while answers < 60 {
        match answer_right(&session).await?.as_str() {
            "over" => break,
            "show" | "keys" => {}
            _ => answers += 1,
        }
    }
    if !is(&session, ".session-summary").await? {
        session.find("button", "Leave").await?.click().await?;
    }
    session.find("link", "To the first screen").await?.click().await?;
    session.until("the first screen", "return !!document.querySelector('a.begin')").await?;
    session.until("nothing due", &format!("return {due} === 0")).await
}

/// A reload comes back to the same item, and to what was typed; so does a new tab, by "Go on".
pub async fn a_reload_comes_back_to_the_same_item(session: Session) -> Outcome {
    session.open("#/session").await?;
    answer_some(&session, 3).await?;
    until_asked(&session).await?;
    let before = item(&session).await?;
    session.press('q').await?;
    session.open("#/session").await?;
    screen(&session).await?;
    ensure(item(&session).await? == before, || format!("it was {before:?}"))?;
    session.until("what was typed", "return document.querySelector('.stage input').value === 'q'").await?;
    session.client.goto("about:blank").await?;
    session.open("#/").await?;
    let says = session.script("return document.querySelector('a.begin').textContent").await?;
    ensure(says.as_str().is_some_and(|says| says.starts_with("Go on")), || format!("{says}"))?;
    begin(&session).await?;
    screen(&session).await?;
    ensure(item(&session).await? == before, || format!("it was {before:?}"))
}

/// What was wrong is told in reading's words where the answer was; the cell has not moved; Enter alone goes on.
pub async fn a_wrong_reading_is_told_in_place(session: Session) -> Outcome {
    session.open("#/session").await?;
    until_asked(&session).await?;
    let place = "const at = document.querySelector('.large-cells').getBoundingClientRect(); return JSON.stringify([at.top, at.height])";
    let before = session.script(place).await?;
    say(&session, "z").await?;
    session.until("what it is", "return document.querySelector('.told')?.textContent.includes('You read “z”, it is “a”.') ?? false").await?;
    let after = session.script(place).await?;
    ensure(before == after, || format!("the cell went from {before} to {after}"))?;
    let told = session.script("return document.querySelector('.told').textContent").await?;
    ensure(!told.as_str().unwrap_or_default().contains("write"), || format!("{told}"))?;
    session.until("the way on", "return document.activeElement?.textContent === 'Go on (Enter)'").await?;
    session.press(ENTER).await?;
    session.until("the next", "return !document.querySelector('.told')").await
}

/// Enter on an empty field does nothing; a key that is held down answers once.
pub async fn nothing_typed_is_no_answer_and_a_held_key_answers_once(session: Session) -> Outcome {
    session.open("#/session").await?;
    until_asked(&session).await?;
    let before = screen(&session).await?;
    session.press(ENTER).await?;
    session.press(ENTER).await?;
    ensure(screen(&session).await? == before, || "Enter alone has answered".to_owned())?;
    // A held key: the browser sends it again and again.
    session.press('a').await?;
    let hold = "const field = document.activeElement;
        for (let n = 0; n < 8; n++) {
            const at = document.activeElement;
            const went = at.dispatchEvent(new KeyboardEvent('keydown', {key: 'Enter', code: 'Enter', bubbles: true, cancelable: true, repeat: n > 0}));
            if (went && at.form) at.form.requestSubmit();
            else if (went && at.tagName === 'BUTTON') at.click();
            await new Promise((done) => setTimeout(done, 40));
        }";
    session.script(hold).await?;
    let answers = "return Object.entries(localStorage).filter(([key]) => key.startsWith('cellwright.journal.'))
        .map(([, text]) => text.split('\\n').filter((line) => line.includes('\\tanswer\\t')).length).reduce((a, b) => a + b, 0)";
    let count = session.script(answers).await?;
    ensure(count == 1, || format!("{count} answers were taken"))?;
    ensure(item(&session).await?.first().map(String::as_str) == Some("show"), || {
        "the next sign was passed over".to_owned()
    })
}

/// The cell is the largest thing: so high at 1280 and at 390 pixels, in the middle, the answer under it and in view.
pub async fn the_cell_is_the_largest_thing(session: Session) -> Outcome {
    session.open("#/session").await?;
    until_asked(&session).await?;
    for (width, height, least) in [(1280, 800, 160.0), (390, 844, 120.0)] {
        let metrics =
            json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500});
        session.devtools("Emulation.setDeviceMetricsOverride", metrics).await?;
        tokio::time::sleep(Duration::from_millis(150)).await;
        // From the top of the first row to the foot of the last: two distances and one dot.
        let measure = "const cells = document.querySelector('.large-cells .dots'), box = cells.getBoundingClientRect();
            const dot = parseFloat(getComputedStyle(cells).getPropertyValue('--dot')) || box.height / 4.27;
            const field = document.querySelector('.stage input').getBoundingClientRect();
            return [box.height / 4.27 * 2.62, Math.abs(box.left + box.width / 2 - innerWidth / 2), field.top - box.bottom + dot, innerHeight - field.bottom]";
        let found: Vec<f64> = serde_json::from_value(session.script(measure).await?)?;
        ensure(found[0] >= least, || format!("at {width} the cell is {} px high", found[0]))?;
        ensure(found[1] < 12.0, || format!("at {width} it stands {} px beside the middle", found[1]))?;
        ensure(found[2] > 0.0 && found[3] > 0.0, || format!("at {width} the answer stands at {found:?}"))?;
    }
    session.screen(0).await
}

/// Leaving is possible at any time, and tells what came of it and what comes next.
pub async fn leaving_tells_what_came_of_it(session: Session) -> Outcome {
    session.open("#/session").await?;
    answer_some(&session, 4).await?;
    session.find("button", "Leave").await?.click().await?;
    session.find("heading", "What came of it").await?;
    let says = session.script("return document.querySelector('.session-summary').textContent").await?;
    let says = says.as_str().unwrap_or_default().to_owned();
    ensure(says.contains("4 of 4") && says.contains("Met: "), || format!("the summary says {says}"))?;
    // The next one is offered, and begins at once.
    session
        .until("the offer", "return document.activeElement?.textContent === 'Go on: another session'")
        .await?;
    session.press(ENTER).await?;
    screen(&session).await?;
    let asked = item(&session).await?;
    ensure(!asked.is_empty(), || "no item".to_owned())?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}
