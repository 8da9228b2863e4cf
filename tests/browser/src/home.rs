//! The library computer: one file takes everything home and is put together with what is there; several people share a browser;
//! nothing is left behind.

use cellwright::ueb::{self, Options};
use serde_json::{Value, json};

use crate::browser::{Driver, Outcome, Session, ensure};
use crate::desk::{fill, press};

/// Everything that is stored, by key.
const STORED: &str = "return Object.fromEntries(Object.keys(localStorage).sort().map((key) => [key, localStorage.getItem(key)]))";

async fn stored(session: &Session) -> Outcome<Value> {
    session.script(STORED).await
}

/// What the page hands to the browser as a file from now on is held as text.
const CATCH: &str = "const make = URL.createObjectURL;
    URL.createObjectURL = (blob) => { blob.text().then((text) => { window.saved = text; }); return make.call(URL, blob) }";

/// Presses the button that takes everything home, and gives the file.
async fn taken(session: &Session, button: &str) -> Outcome<String> {
    session.script(CATCH).await?;
    press(session, button).await?;
    session.until("the file", "return typeof window.saved === 'string'").await?;
    Ok(session.script("return window.saved").await?.as_str().unwrap_or_default().to_owned())
}

/// Chooses a file in the Record room, where what was taken along is opened.
async fn open_file(session: &Session, text: &[u8]) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("along.txt");
    std::fs::write(&path, text)?;
    let field = session.client.find(fantoccini::Locator::Css(".take-home input[type=file]")).await?;
    field.send_keys(&path.display().to_string()).await?;
    // The browser reads it in its own time.
    session
        .until("an answer", "return !!document.querySelector('[role=alertdialog], .take-home [aria-label=\"Taken in\"]:not(:empty)')")
        .await
}

async fn says(session: &Session, words: &str) -> Outcome {
    let script =
        format!("return document.querySelector('.take-home').textContent.includes({})", json!(words));
    if let Err(failed) = session.until(words, &script).await {
        let says = session.script("return document.querySelector('.take-home').textContent").await?;
        return Err(crate::browser::Failed(format!("{}; it says {says}", failed.0)));
    }
    Ok(())
}

/// The names of what the page holds that is a person's own: what tabs say to each other and what belongs to the browser left out.
fn own(all: &Value) -> Vec<String> {
    let all = all.as_object().cloned().unwrap_or_default();
    all.into_iter()
        .filter(|(key, _)| {
            let key = key.trim_start_matches("cellwright.");
            !["open.", "given.", "journal.", "home"].iter().any(|begins| key.starts_with(begins))
        })
        .map(|(key, value)| format!("{key}={}", value.as_str().unwrap_or_default()))
        .collect()
}

/// A person's work in every place that keeps any: answers, writing, a text of one's own, an exercise, a slip, settings.
pub async fn work(session: &Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&ueb::transcribe("No dogs.", &Options::default())).await?;
    session.switch_theme("dark").await?;
    session.open("#/read").await?;
    session.unfold().await?;
    fill(session, ".own-text textarea", "The lamp on Orrin is lit at dusk.").await?;
    press(session, "Read this").await?;
    session
        .until(
            "the text",
            "return document.querySelector('.reading-room h2')?.textContent.startsWith('Pasted:')",
        )
        .await?;
    session.open("#/set").await?;
    session.find("textbox", "Title").await?.send_keys("Notice 2").await?;
    fill(session, "main textarea", "The galley is open.").await?;
    press(session, "Put this exercise on your shelf").await?;
    let slip = crate::class::slip("Ida", "2026-11-02", "! mother mit", 1)?;
    session.find("textbox", "Links of result slips").await?.send_keys(&slip).await?;
    press(session, "Add the slips").await?;
    session.expect("status", "Slips taken in", "1 slip added.").await?;
    session.open("#/session").await?;
    // Two lines of the record, as the page writes them.
    session
        .script("localStorage.setItem('cellwright.journal.a1', 'cellwright record 1\\n' + [0, 1].map((n) => `a1-${n}\\t170000000000${n}\\tanswer\\tletter a\\tread\\tright\\t900\\t0\\t\\t\\n`).join(''))")
        .await
        .map(drop)
}

pub async fn everything_goes_home_and_nothing_is_doubled(session: Session) -> Outcome {
    let driver = Driver::start(session.browser).await?;
    work(&session).await?;
    session.open("#/record").await?;
    let before = own(&stored(&session).await?);
    ensure(before.len() >= 7, || format!("only {before:?} is kept"))?;
    let file = taken(&session, "Take everything home").await?;
    session.picture("take-home", 1280).await?;
    session.picture("take-home", 390).await?;

    let home = driver.session(&session.site).await?;
    home.open("#/record").await?;
    // What is no such file is refused in words, and nothing is touched.
    let untouched = stored(&home).await?;
    let half = file.len() / 2;
    for (bad, words) in [
        (file.as_bytes()[..half].to_vec(), "cut short"),
        (
            file.replace("No", "Na").replace("Notice 2", "Notice 3").replace("lamp", "limp").into_bytes(),
            "damaged",
        ),
        (file.replacen("home 1", "home 2", 1).into_bytes(), "later version"),
        (b"Dear all,".to_vec(), "was not saved by “Take everything home”"),
        (b"cellwright record 1\n".to_vec(), "holds a record alone"),
        (vec![0x89, b'P', b'N', b'G', 0, 0, 0xff, 0xfe, 1], ""),
    ] {
        open_file(&home, &bad).await?;
        says(&home, words).await?;
        ensure(stored(&home).await? == untouched, || format!("\"{words}\": something was stored"))?;
        home.open("#/record").await?;
    }
    open_file(&home, file.as_bytes()).await?;
    home.picture("take-home-question", 1280).await?;
    ensure(stored(&home).await? == untouched, || "something was stored before the answer".to_owned())?;
    press(&home, "Take it in").await?;
    says(&home, "Taken in: 3 entries of the record, 1 result slip, 1 exercise, 1 text of your own").await?;
    home.picture("take-home-taken", 1280).await?;
    home.picture("take-home-taken", 390).await?;
    // What stands on the page follows at once, and after a reload.
    home.until("the theme", "return document.documentElement.dataset.theme === 'dark'").await?;
    home.until("the answers", "return document.querySelector('main').textContent.includes('2 answers;')")
        .await?;
    let after = own(&stored(&home).await?);
    ensure(after == before, || format!("there: {before:#?}\nhere: {after:#?}"))?;
    home.open("#/write").await?;
    home.expect("status", "Reads as", "No dogs.").await?;
    // Once more: nothing is doubled.
    home.open("#/record").await?;
    let once = stored(&home).await?;
    open_file(&home, file.as_bytes()).await?;
    press(&home, "Take it in").await?;
    says(&home, "All of it is here already.").await?;
    ensure(stored(&home).await? == once, || "the second time something changed".to_owned())?;

    // Gone on at home, and changed at the library as well: both are there.
    home.open("#/write").await?;
    home.write(&ueb::transcribe("No cats.", &Options::default())).await?;
    home.open("#/record").await?;
    session.open("#/write").await?;
    session.write(&ueb::transcribe("No birds.", &Options::default())).await?;
    session.open("#/record").await?;
    let later = taken(&session, "Take everything home").await?;
    open_file(&home, later.as_bytes()).await?;
    press(&home, "Take it in").await?;
    says(&home, "Changed both here and there: what is here stays").await?;
    home.picture("take-home-differs", 1280).await?;
    let reads = "return [...document.querySelectorAll('button')].filter((one) => one.textContent === 'Take the file’s instead').length === 1";
    home.until("one way to the other", reads).await?;
    press(&home, "Take the file’s instead: What is written in Write").await?;
    says(&home, "what was here is set aside").await?;
    home.open("#/write").await?;
    home.until("what the file had", "return document.querySelector('[role=status][aria-label=\"Reads as\"]').textContent.includes('irds')").await?;
    let aside = "return Object.keys(localStorage).filter((key) => key.includes('.aside')).length === 2";
    home.until("both set aside", aside).await?;
    let errors = home.console_errors().await?;
    home.client.clone().close().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// Work that was gone on with in one place only goes to and fro without a question, and what was put away stays so.
pub async fn work_goes_to_and_fro(session: Session) -> Outcome {
    let driver = Driver::start(session.browser).await?;
    session.open("#/write").await?;
    session.write(&ueb::transcribe("No dogs.", &Options::default())).await?;
    session.open("#/record").await?;
    let first = taken(&session, "Take everything home").await?;
    let library = driver.session(&session.site).await?;
    library.open("#/record").await?;
    open_file(&library, first.as_bytes()).await?;
    press(&library, "Take it in").await?;
    says(&library, "Taken in:").await?;
    library.open("#/write").await?;
    library.write(&ueb::transcribe(" No cats.", &Options::default())).await?;
    let reads = "No dogs. No cats.";
    library.expect("status", "Reads as", reads).await?;
    library.open("#/record").await?;
    let second = taken(&library, "Take everything home").await?;
    library.client.clone().close().await?;
    open_file(&session, second.as_bytes()).await?;
    press(&session, "Take it in").await?;
    says(&session, "Continued elsewhere, and taken from the file: What is written in Write.").await?;
    session.open("#/write").await?;
    session.expect("status", "Reads as", reads).await?;
    session.open("#/record").await?;
    let aside =
        session.script("return Object.keys(localStorage).filter((key) => key.includes('.aside'))").await?;
    ensure(aside == json!([]), || format!("set aside: {aside}"))?;
    // The older file changes nothing.
    open_file(&session, first.as_bytes()).await?;
    press(&session, "Take it in").await?;
    says(&session, "left as it is here: What is written in Write.").await
}

/// At a session's end the file is offered.
pub async fn a_session_ends_with_the_file(session: Session) -> Outcome {
    session.open("#/session").await?;
    press(&session, "Leave").await?;
    session.until("the end", "return !!document.querySelector('.session-summary')").await?;
    session.picture("session-end", 1280).await?;
    session.picture("session-end", 390).await?;
    let file = taken(&session, "Take everything home").await?;
    ensure(file.starts_with("cellwright home 1 "), || format!("the file begins {:?}", &file[..20]))
}

fn is(person: &str) -> String {
    format!("return document.querySelector('.head .person')?.textContent === '{person}'")
}

/// Each under a name: what one does shows to no other, in this tab and in one that was open before.
pub async fn two_people_share_a_browser(session: Session) -> Outcome {
    work(&session).await?;
    session.open("#/record").await?;
    ensure(session.script("return document.querySelector('.head .person')").await?.is_null(), || {
        "a name stands there before there is one".to_owned()
    })?;
    let first = stored(&session).await?;
    // Another tab stands in Write, with something just typed.
    let tab = session.client.window().await?;
    let other = session.client.new_window(true).await?.handle;
    session.client.switch_to_window(other.clone()).await?;
    session.open("#/write").await?;
    session.write(&ueb::transcribe("x", &Options::default())).await?;
    session.client.switch_to_window(tab.clone()).await?;
    session.find("textbox", "A new person’s name").await?.send_keys(" I\u{202e}da\u{2066} ").await?;
    press(&session, "Add, and change to them").await?;
    session.until("Ida", &is("Person: Ida")).await?;
    says_people(&session, "You are Ida.").await?;
    session.picture("people", 1280).await?;
    session.picture("people", 390).await?;
    // Nothing of the first shows.
    let shows = "return document.querySelector('main').textContent.includes('2 answers;') || document.documentElement.dataset.theme === 'dark'";
    ensure(session.script(shows).await? == Value::Bool(false), || "Ida sees what is not hers".to_owned())?;
    for (address, none) in [
        (
            "#/write",
            "return document.querySelector('[role=status][aria-label=\"Reads as\"]').textContent.trim() === ''",
        ),
        (
            "#/set",
            "return !document.querySelector('table[aria-label=\"Class sheet\"]') && document.querySelector('main textarea').value === ''",
        ),
        ("#/read", "return !document.querySelector('main').textContent.includes('Pasted:')"),
        ("", "return !document.querySelector('.left-open')"),
    ] {
        session.open(address).await?;
        session.until(&format!("nothing in {address}"), none).await?;
    }
    // The tab that was open is hers too now, and what was typed in it is the first's.
    session.client.switch_to_window(other).await?;
    session.until("Ida in the other tab", &is("Person: Ida")).await?;
    session.client.close_window().await?;
    session.client.switch_to_window(tab).await?;
    session.open("#/write").await?;
    session.write(&ueb::transcribe("No birds.", &Options::default())).await?;
    session.open("#/record").await?;
    // The names are told apart.
    session.find("textbox", "A new person’s name").await?.send_keys("ida").await?;
    press(&session, "Add, and change to them").await?;
    session
        .expect(
            "status",
            "People",
            "Nothing was changed. Somebody in this browser has this name already. Choose another.",
        )
        .await?;
    press(&session, "Change to the first person").await?;
    session.until("the first", &is("Person: first person")).await?;
    session.open("#/write").await?;
    session
        .until("both", "return document.querySelector('[role=status][aria-label=\"Reads as\"]').textContent.startsWith('No dogs.')")
        .await?;
    let now = stored(&session).await?;
    for key in ["cellwright.shelf", "cellwright.class", "cellwright.settings", "cellwright.journal.a1"] {
        ensure(now[key] == first[key], || format!("{key} has become {}", now[key]))?;
    }
    let birds = session
        .script("return Object.keys(localStorage).filter((key) => key.startsWith('cellwright~2.work.write.')).length")
        .await?;
    ensure(birds == 1, || format!("{birds} of Ida's drafts"))?;
    // From the head of the page the way leads to the people, and the focus goes along.
    session.find("link", "Person: first person").await?.click().await?;
    session
        .until("the people", "return document.activeElement.textContent === 'People in this browser'")
        .await
}

async fn says_people(session: &Session, words: &str) -> Outcome {
    let script =
        format!("return !!document.querySelector('.people')?.textContent.includes({})", json!(words));
    session.until(words, &script).await
}

/// What of this page is kept, but for the names of tabs that are open.
const KEPT: &str = "const own = Object.keys(localStorage).filter((key) => key.startsWith('cellwright') && !key.startsWith('cellwright.open.'));
    const books = (await caches.keys()).filter((name) => name.endsWith(' books'));
    const kept = [...own, ...books];";

async fn kept(session: &Session) -> Outcome<Value> {
    session.script(&format!("{KEPT} return kept")).await
}

pub async fn nothing_is_left_behind(session: Session) -> Outcome {
    session.open("").await?;
    let worker = "return document.documentElement.dataset.offline === 'ready'";
    // It fetches all of the page, which takes its time where the page was built without care for its size.
    if session.until("the worker", worker).await.is_err() {
        session.until("the worker", worker).await?;
    }
    work(&session).await?;
    // A book is opened, and so kept by the worker.
    session.open("#/read").await?;
    session.unfold().await?;
    session.open_text("a bag").await?;
    session
        .until("the book's cache", "return (await caches.keys()).some((name) => name.endsWith(' books'))")
        .await?;
    session.script("localStorage.setItem('somebody.else', 'stays')").await?;
    // Another tab writes on until the end.
    let tab = session.client.window().await?;
    let other = session.client.new_window(true).await?.handle;
    session.client.switch_to_window(other.clone()).await?;
    session.open("#/write").await?;
    session.write(&ueb::transcribe("No birds.", &Options::default())).await?;
    session.client.switch_to_window(tab.clone()).await?;
    session.open("#/record").await?;
    press(&session, "Leave no trace").await?;
    session.until("the question", "return !!document.querySelector('.no-trace [role=alertdialog]')").await?;
    session
        .until("the file first", "return document.activeElement.textContent === 'Take everything home first'")
        .await?;
    session.picture("no-trace", 1280).await?;
    session.picture("no-trace", 390).await?;
    let file = taken(&session, "Take everything home first").await?;
    // Not yet.
    press(&session, "Not now").await?;
    let left = kept(&session).await?;
    ensure(left.as_array().is_some_and(|left| left.len() > 8), || format!("only {left} is left"))?;
    press(&session, "Leave no trace").await?;
    press(&session, "Remove it all").await?;
    session
        .until("the first screen", "return location.hash === '#/' && !!document.querySelector('.what')")
        .await?;
    session.until("nothing", &format!("{KEPT} return kept.length === 0")).await?;
    let stays = session.script("return localStorage.getItem('somebody.else')").await?;
    ensure(stays == "stays", || "what is not this page's is gone".to_owned())?;
    // The other tab has begun anew, and writes nothing back when it is left.
    session.client.switch_to_window(other).await?;
    session.until("an empty surface", "return document.querySelector('[role=status][aria-label=\"Reads as\"]')?.textContent.trim() === ''").await?;
    session.client.close_window().await?;
    session.client.switch_to_window(tab).await?;
    session.open("").await?;
    let left = kept(&session).await?;
    ensure(left == json!([]), || format!("{left} came back"))?;
    // And the file brings it all back.
    session.open("#/record").await?;
    open_file(&session, file.as_bytes()).await?;
    press(&session, "Take it in").await?;
    says(&session, "Taken in: 3 entries of the record").await
}

/// One of several leaves no trace: the others lose nothing.
pub async fn one_of_several_leaves(session: Session) -> Outcome {
    work(&session).await?;
    let first = own(&stored(&session).await?);
    session.open("#/record").await?;
    session.find("textbox", "A new person’s name").await?.send_keys("Ida").await?;
    press(&session, "Add, and change to them").await?;
    session.until("Ida", &is("Person: Ida")).await?;
    session.open("#/write").await?;
    session.write(&ueb::transcribe("No birds.", &Options::default())).await?;
    session.open("#/record").await?;
    press(&session, "Leave no trace").await?;
    session.picture("no-trace-several", 1280).await?;
    press(&session, "Remove it all").await?;
    session.until("the first screen", "return location.hash === '#/' && !document.querySelector('.head .person') && !!document.querySelector('main h1')").await?;
    let left = own(&stored(&session).await?);
    ensure(left == first, || format!("before: {first:#?}\nafter: {left:#?}"))
}
