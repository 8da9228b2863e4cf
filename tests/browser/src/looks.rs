//! What every room has, how wide it gets, and pictures of each to look at.

use cellwright::exercise::{Exercise, Task};
use cellwright::ueb::{self, Options};

use serde_json::json;

use crate::browser::{Browser, Driver, Outcome, Session, ensure};
use crate::site::{Site, project};
use crate::states;

const ROOMS: [(&str, &str); 8] = [
    ("Course", "#/course"),
    ("Read", "#/read"),
    ("Write", "#/write"),
    ("Transcribe", "#/transcribe"),
    ("Proofread", "#/proofread"),
    ("Signs", "#/signs"),
    ("Record", "#/record"),
    ("Set work", "#/set"),
];

pub async fn rooms_have_names_and_one_heading(session: Session) -> Outcome {
    session.open("").await?;
    session.find("navigation", "Rooms").await?;
    let language = session.script("return document.documentElement.lang").await?;
    ensure(language == "en", || format!("the language is {language}"))?;
    for (name, address) in ROOMS {
        session.find("link", name).await?.click().await?;
        session.until(name, &format!("return location.hash === {address:?}")).await?;
        session
            .until("one heading", "return document.querySelectorAll('h1:not(#trouble h1)').length === 1")
            .await?;
        // The whole page puts new links in the place of the first half's.
        session
            .until("the whole room", "return !document.querySelector('main [aria-label=Loading]')")
            .await?;
    }
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// The theme that was chosen is there with the room, and does not come a frame later.
pub async fn the_first_frame_wears_the_theme(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.switch_theme("dark").await?;
    session.until("the theme", "return document.documentElement.dataset.theme === 'dark'").await?;
    // Seen before the frame is laid out and painted.
    let watch = "window.worn = new Promise((tell) => {
        const look = () => document.querySelector('main h1')
            ? tell(document.documentElement.dataset.theme ?? 'none') : requestAnimationFrame(look);
        requestAnimationFrame(look);
    });";
    session.devtools("Page.enable", json!({})).await?;
    session.devtools("Page.addScriptToEvaluateOnNewDocument", json!({"source": watch})).await?;
    session.open("#/write").await?;
    let worn = session.script("return window.worn").await?;
    ensure(worn == "dark", || format!("the first frame wears {worn}"))
}

/// A page zoomed to four times its size on a screen of 1280 (WCAG 2.2, 1.4.10), a phone, a tablet, a large screen.
const WIDTHS: [u32; 4] = [320, 390, 820, 1440];

/// What reaches beyond the right edge without a frame of its own that scrolls: so much of the page is out of sight.
const BEYOND: &str = "
    const page = document.documentElement;
    if (page.scrollWidth <= page.clientWidth) return '';
    const framed = (at) => at && at !== document.body && (getComputedStyle(at).overflowX !== 'visible' || framed(at.parentElement));
    const wide = [...document.querySelectorAll('body *')].filter((at) =>
        at.getBoundingClientRect().right > page.clientWidth + 1 && !framed(at.parentElement));
    return `${page.scrollWidth} px: ${wide.slice(0, 3).map((at) => at.outerHTML.slice(0, 80)).join(' ; ')}`";

pub async fn no_room_scrolls_sideways(session: Session) -> Outcome {
    let mut sideways = Vec::new();
    for room in states::ROOMS {
        states::stand(&session, room).await?;
        session.unfold().await?;
        for width in WIDTHS {
            session.screen(width).await?;
            let beyond = session.script(BEYOND).await?;
            if beyond != "" {
                sideways.push(format!("{room} at {width}: {beyond}"));
            }
        }
        session.screen(0).await?;
    }
    ensure(sideways.is_empty(), || format!("these scroll sideways:\n  {}", sideways.join("\n  ")))
}

/// What scrolls sideways by itself though it is text: only sheets, whose lines are as long as paper's, tables and cells of a
/// finding may (WCAG 2.2, 1.4.10: what needs two dimensions for its meaning).
const SCROLLS: &str = "
    const may = '.read-sheet, .cursor-sheet, .scroll, .on-paper, .strip, .low-line, .findings .cells, .guide, pre, textarea, input, select, .sr';
    return [...document.querySelectorAll('main *')].filter((at) => !at.matches(may) && !at.closest('.sr')
        && ['auto', 'scroll'].includes(getComputedStyle(at).overflowX) && at.scrollWidth > at.clientWidth + 1 && at.clientWidth > 0)
        .slice(0, 3).map((at) => `${at.className} ${at.scrollWidth} in ${at.clientWidth}`).join(' ; ')";

/// A set text to read wraps on a phone, in cells and in dot numbers, and so does every room.
pub async fn a_set_text_wraps(session: Session) -> Outcome {
    let text = "The 10:30 ferry leaves from Hallam Quay for Orrin and Little Fenn every day but Sunday.";
    let mut sideways = Vec::new();
    for (task, dot_numbers_only) in [(Task::Read, false), (Task::Read, true), (Task::DotNumbers, false)] {
        let set = Exercise { text: text.into(), task, dot_numbers_only, ..Exercise::default() };
        session.open(&format!("#/x/{}", set.to_payload()?)).await?;
        session.find("button", "Answer").await?;
        session.screen(320).await?;
        for what in [BEYOND, SCROLLS] {
            let wide = session.script(what).await?;
            if wide != "" {
                sideways.push(format!("{task:?}: {wide}"));
            }
        }
        session.picture(&format!("round-{task:?}"), 320).await?;
        session.screen(0).await?;
    }
    for room in states::ROOMS {
        states::stand(&session, room).await?;
        session.unfold().await?;
        session.screen(320).await?;
        let wide = session.script(SCROLLS).await?;
        if wide != "" {
            sideways.push(format!("{room}: {wide}"));
        }
        session.screen(0).await?;
    }
    ensure(sideways.is_empty(), || format!("these scroll sideways at 320:\n  {}", sideways.join("\n  ")))
}

/// On a phone a cell of a sheet to proofread is wide enough for a finger, and there are steps besides (WCAG 2.2, 2.5.8).
pub async fn cells_to_proofread_are_large_enough(session: Session) -> Outcome {
    session.open("#/proofread").await?;
    session.until("the sheet", "return !!document.querySelector('.sheet-line svg')").await?;
    session.screen(390).await?;
    let size = "const line = document.querySelector('.sheet-line [data-cells]'), box = line.querySelector('svg').getBoundingClientRect();
        return box.width / line.dataset.cells >= 24 && box.height >= 24";
    session.until("cells of 24 by 24", size).await?;
    session.click_in_the_middle("button", "Next cell").await?;
    session
        .until(
            "the next cell",
            "return document.querySelector('.place').textContent.startsWith('line 1, cell 2')",
        )
        .await?;
    session.click_in_the_middle("button", "Line below").await?;
    session
        .until(
            "the line below",
            "return document.querySelector('.place').textContent.startsWith('line 2, cell ')",
        )
        .await
}

/// `cargo run -- --pictures [ROOM]`: every room at three widths in three themes, into `target/screens/rooms/`.
pub async fn take_pictures(only: &str) -> Outcome {
    let site = Site::of_project()?;
    let driver = Driver::start(Browser::Chromium).await?;
    let folder = project().join("target/screens/rooms");
    std::fs::create_dir_all(&folder)?;
    let mut count = 0;
    for room in states::ROOMS.into_iter().filter(|room| room.contains(only)) {
        // Each in a browser of its own, so that no room's picture shows what was done in another.
        let session = driver.session(&site.address).await?;
        states::stand(&session, room).await?;
        for theme in ["light", "dark", "contrast"] {
            session.switch_theme(theme).await?;
            for width in [390, 820, 1440] {
                session.picture(&format!("rooms/{room}-{theme}"), width).await?;
                count += 1;
            }
        }
        session.client.close().await?;
        println!("{room}");
    }
    println!("{count} pictures in {}", folder.display());
    ensure(count > 0, || format!("no room is called {only}; there are {}", states::ROOMS.join(", ")))
}

pub async fn the_other_half_takes_over_with_the_work_kept(session: Session) -> Outcome {
    session.open("#/write").await?;
    session.write(&ueb::transcribe("the ferry", &Options::default())).await?;
    // At once, before the work is kept by itself.
    session.find("link", "Signs").await?.click().await?;
    session.find("heading", "Signs").await?;
    session.find("link", "Write").await?.click().await?;
    session.expect("status", "Reads as", "the ferry").await?;
    ensure(session.console_errors().await?.is_empty(), || "the console holds errors".to_owned())?;
    // When it cannot be had, it is said, and asked for again.
    session.open("#/write").await?;
    session
        .script("window.fetchWas = fetch; window.fetch = () => Promise.reject(new Error('no network'))")
        .await?;
    session.find("link", "Signs").await?.click().await?;
    session.find("heading", "This room could not be loaded").await?;
    // It is still said when a slow network would have been spoken of.
    tokio::time::sleep(std::time::Duration::from_millis(700)).await;
    session.find("heading", "This room could not be loaded").await?;
    session.script("window.fetch = window.fetchWas").await?;
    session.find("button", "Try again").await?.click().await?;
    session.find("heading", "Signs").await.map(drop)
}

/// Texts and words that do not come are spoken of and asked for again; what comes in their place from a network that
/// wants a password first is not taken for them.
pub async fn texts_that_do_not_come_are_asked_for_again(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    // Without the service worker, which would have kept them.
    site.instead("sw.js", None);
    site.instead("www/data/words.txt", Some(b"<!doctype html><title>Sign in</title>".to_vec()));
    session.open("#/read").await?;
    session
        .until(
            "the word of it",
            "return document.querySelector('main [role=alert]')?.textContent.includes('did not bring the texts')",
        )
        .await?;
    site.restore("www/data/words.txt");
    session.find("button", "Try again").await?.click().await?;
    session.until("the texts", "return !!document.querySelector('.reading-room .paper') && !document.querySelector('main [role=alert]')").await?;
    // Slow ones are spoken of after a moment.
    session.open("#/write").await?;
    session.script("const was = fetch; window.fetch = async (...all) => { await new Promise((done) => setTimeout(done, 3000)); return was(...all); }").await?;
    session.find("link", "Read").await?.click().await?;
    session.until("the word of it", "return document.querySelector('[role=status][aria-label=Texts]')?.textContent.includes('are being loaded')").await?;
    session.until("the texts", "return !!document.querySelector('.reading-room .paper')").await
}
