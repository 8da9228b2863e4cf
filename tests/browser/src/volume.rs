//! A volume: two hundred pages on the desk at once.

use std::time::Duration;

use cellwright::cell;
use cellwright::manuscript::Sheet;
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::layout::Manuscript;

use crate::browser::{Outcome, Session, ensure};
use crate::desk::notice;
use crate::trace::{Span, Trace};

const RIGHT: char = '\u{e014}';
/// What is written in the middle, and how often.
const WORD: &str = "f]ry";
const TIMES: usize = 5;

/// Two hundred pages of 1,000 cells each: the notice's lines over and over.
fn two_hundred_pages() -> String {
    let text = notice().repeat(200);
    let pages = Manuscript::from_print(&text, Sheet::default()).lines();
    let mut out = Vec::new();
    let mut cells = 0;
    for page in pages.iter().cycle() {
        if out.len() >= 200 && cells >= 200_000 {
            break;
        }
        cells += page.iter().map(Vec::len).sum::<usize>();
        out.push(page.clone());
    }
    BrailleFile::from_pages(&out).to_text()
}

/// The longest task of the page's main thread in a recorded time, in milliseconds by the thread's own clock, so that other
/// work of the machine counts little.
fn longest(spans: &[Span]) -> Outcome<f64> {
    let tasks = spans.iter().filter(|span| span.name.ends_with("RunTask"));
    let times: Vec<f64> = tasks.filter_map(|span| span.cpu.map(|(from, to)| (to - from) / 1000.0)).collect();
    ensure(times.len() > 10, || format!("the trace shows {} tasks", times.len()))?;
    Ok(times.into_iter().fold(0.0, f64::max))
}

/// Opens the volume, writes in its middle and scrolls from end to end: by name, the longest task of each, in milliseconds.
pub async fn longest_tasks(session: &Session) -> Outcome<[(&'static str, f64); 3]> {
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("volume.brf");
    std::fs::write(&path, two_hundred_pages())?;
    session.open("#/transcribe").await?;
    session.script("for (const one of document.querySelectorAll('details')) one.open = true").await?;
    // A trace knows the page's thread by a key.
    let key = async || -> Outcome {
        session.script("document.querySelector('.text-box').focus({preventScroll: true})").await?;
        session.press(RIGHT).await
    };
    let trace = Trace::begin(session).await?;
    key().await?;
    let field = session.client.find(fantoccini::Locator::Css("input[type=file][accept*=brf]")).await?;
    field.send_keys(&path.display().to_string()).await?;
    let whole = "const at = document.querySelector('.surface'); return at.scrollHeight > 150000 && !at.hasAttribute('aria-busy')";
    session.until("the file", whole).await?;
    // The work is kept a moment after it came.
    tokio::time::sleep(Duration::from_millis(1500)).await;
    let opened = longest(&trace.end().await?)?;

    let trace = Trace::begin(session).await?;
    session
        .script("const at = document.querySelector('.surface'); at.scrollTop = at.scrollHeight / 2")
        .await?;
    tokio::time::sleep(Duration::from_millis(500)).await;
    session.find("textbox", "Braille").await?.click().await?;
    let word = cell::from_ascii(WORD).expect("cells");
    for _ in 0..TIMES {
        session.type_cells(&word).await?;
        tokio::time::sleep(Duration::from_millis(800)).await;
    }
    let written = cell::to_unicode(&cell::from_ascii(WORD).expect("cells")).repeat(TIMES);
    let line = session.script("return document.querySelector('.text-box').value").await?;
    let line = line.as_str().unwrap_or_default();
    ensure(line.contains(&written), || format!("the line being written is {line:?}"))?;
    let typed = longest(&trace.end().await?)?;

    let trace = Trace::begin(session).await?;
    key().await?;
    let scroll = "const done = arguments[arguments.length - 1];
        const at = document.querySelector('.surface');
        let step = 0;
        const on = () => { at.scrollTop = at.scrollHeight * step / 400; step += 1; step <= 400 ? requestAnimationFrame(on) : setTimeout(done, 500); };
        on();";
    session.client.execute_async(scroll, Vec::new()).await?;
    let scrolled = longest(&trace.end().await?)?;
    Ok([("opening", opened), ("keys in the middle", typed), ("scrolling", scrolled)])
}

/// How long the tasks are is for `--bench` to judge; here, that the volume is there and takes what is written in it.
pub async fn two_hundred_pages_open_scroll_and_take_keys(session: Session) -> Outcome {
    for (what, longest) in longest_tasks(&session).await? {
        println!("        200 pages, {what}: longest task {longest:.0} ms");
    }
    Ok(())
}

/// Before work on much at once the page says that it is at work, in a frame of its own, also to a screen reader; work on
/// little is done at once, without a word.
pub async fn long_work_is_spoken_of(session: Session) -> Outcome {
    const WATCH: &str = "
        const at = document.getElementById('at-work');
        window.told = [];
        window.painted = false;
        new MutationObserver(() => {
            window.told.push(`${at.textContent}|${document.getElementById('room').getAttribute('aria-busy')}|${window.painted}`);
            if (at.textContent) requestAnimationFrame(() => { window.painted = true; });
        }).observe(at, {childList: true, characterData: true, subtree: true});";
    const TOLD: &str =
        "const told = window.told; window.told = []; window.painted = false; return told.join(' / ')";
    const SPOKEN: &str = "At work. The page answers again in a moment.|true|false / |null|true";
    let told = async |what: &str, expected: &str| -> Outcome {
        let told = session.script(TOLD).await?;
        ensure(told == expected, || format!("{what}: {told}"))
    };
    session.open("#/transcribe").await?;
    session.write(&cell::from_ascii("f]ry").expect("cells")).await?;
    session.script(WATCH).await?;
    session.find("button", "Check before hand-in").await?.click().await?;
    session.until("the check", "return !!document.querySelector('.checklist')").await?;
    told("a word", "").await?;

    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("volume.brf");
    std::fs::write(&path, two_hundred_pages())?;
    session.script("for (const one of document.querySelectorAll('details')) one.open = true").await?;
    crate::desk_files::choose(&session, "Open a braille file", &path).await?;
    let here = "const at = document.querySelector('.surface'); return at.scrollHeight > 150000 && !at.hasAttribute('aria-busy')";
    session.until("the volume", here).await?;
    told("a volume opened", SPOKEN).await?;
    for (button, done) in [
        ("Check before hand-in", "return !!document.querySelector('.checklist')"),
        ("Mark my work", "return !!document.querySelector('.findings')"),
        ("Set my braille anew on this sheet", "return !document.querySelector('.checklist')"),
    ] {
        session.script("document.activeElement.blur()").await?;
        session.find("button", button).await?.click().await?;
        session.until(button, &format!("{done} && document.getElementById('at-work').textContent === '' && window.told.length > 1")).await.ok();
        session.until(button, &format!("{{ {done} }}")).await?;
        told(button, SPOKEN).await?;
    }
    Ok(())
}
