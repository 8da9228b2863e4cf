//! The desk holds still: after whatever the learner does, nothing on it moves by itself.

use cellwright::manuscript::Sheet;
use cellwright::manuscript::file::BrailleFile;
use cellwright::manuscript::layout::Manuscript;

use crate::browser::{Browser, Outcome, Session, ensure};
use crate::desk::notice;

const TAB: char = '\u{e004}';
const PAGE_UP: char = '\u{e00e}';
const PAGE_DOWN: char = '\u{e00f}';
const END: char = '\u{e010}';
const HOME: char = '\u{e011}';
const DOWN: char = '\u{e015}';

/// Reads in each animation frame of a second where the surface and the window are scrolled to, and where the line stands
/// that is seen in the middle of the surface. Gives what moved, or nothing.
const WATCH: &str = "
    const surface = document.querySelector('.surface');
    const read = () => {
        const frame = surface.getBoundingClientRect();
        const top = Math.max(frame.top, 0), bottom = Math.min(frame.bottom, innerHeight);
        let line = null;
        if (bottom > top) {
            const at = document.elementsFromPoint(frame.left + 40, (top + bottom) / 2);
            line = at.map((one) => one.closest('[data-line]')).find((one) => one);
        }
        return {
            surface: surface.scrollTop, window: scrollY, stands: frame.top,
            line: line?.dataset.line, top: line?.getBoundingClientRect().top,
        };
    };
    const frames = [];
    const until = performance.now() + 1000;
    while (performance.now() < until) {
        await new Promise((done) => requestAnimationFrame(done));
        frames.push(read());
    }
    const last = frames[frames.length - 1];
    const same = (one) => Math.abs(one.surface - last.surface) <= 1 && Math.abs(one.window - last.window) <= 1 && Math.abs(one.stands - last.stands) <= 1;
    const settled = frames.findIndex(same);
    const restless = frames.slice(settled).filter((one) => !same(one)).length;
    // What was seen once stays where it was seen.
    const seen = frames.findIndex((one) => one.line !== undefined);
    const first = frames[seen];
    const gone = seen < 0 ? [] : frames.slice(seen).filter((one) => one.line !== first.line || Math.abs(one.top - first.top) > 1.5);
    const told = [];
    if (restless > 0) told.push(`the scroll position changed in ${restless} of ${frames.length} frames: ${[...new Set(frames.map((one) => `${one.surface}/${one.window}`))].slice(0, 6).join(', ')}`);
    if (gone.length > 0) told.push(`line ${first.line} was seen at ${first.top} and then line ${gone[0].line} at ${gone[0].top}`);
    if (settled > 12) told.push(`it came to rest after ${settled} frames`);
    return told.join('; ');";

fn pages(count: usize) -> String {
    let pages = Manuscript::from_print(&notice().repeat(4), Sheet::default()).lines();
    let pages: Vec<_> = pages.into_iter().cycle().take(count).collect();
    BrailleFile::from_pages(&pages).to_text()
}

async fn still(session: &Session, what: &str) -> Outcome {
    let moved = session.script(WATCH).await?;
    ensure(moved == "", || format!("{what}: {moved}"))
}

/// Lays so many pages on the desk.
async fn lay(session: &Session, count: usize, reads: bool) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("pages.brf");
    std::fs::write(&path, pages(count))?;
    session.open("#/transcribe").await?;
    session.unfold().await?;
    session.switch("Show what it reads as", reads).await?;
    crate::desk_files::choose(session, "Open a braille file", &path).await?;
    let least = count * 25 * 30;
    let whole = format!(
        "const at = document.querySelector('.surface'); return at.scrollHeight > {least} && !at.hasAttribute('aria-busy')"
    );
    session.until("the pages", &whole).await?;
    still(session, "opened").await
}

async fn steps(session: &Session) -> Outcome {
    for part in ["0.13", "0.52", "0.5", "1", "0.97", "0.03", "0"] {
        session
            .script(&format!(
                "const at = document.querySelector('.surface'); at.scrollTop = at.scrollHeight * {part}"
            ))
            .await?;
        still(session, &format!("scrolled to {part}")).await?;
    }
    session.script("document.querySelector('.text-box').focus()").await?;
    session.with_control(&END.to_string()).await?;
    still(session, "the end of the text").await?;
    // Scrolled away from the caret, it stays away.
    session
        .script("const at = document.querySelector('.surface'); at.scrollTop = at.scrollHeight / 3")
        .await?;
    still(session, "scrolled away from the caret").await?;
    session.with_control(&HOME.to_string()).await?;
    still(session, "the beginning of the text").await?;
    for key in [PAGE_DOWN, PAGE_DOWN, DOWN, PAGE_UP] {
        session.press(key).await?;
        still(session, "a page on").await?;
    }
    for stop in 0..6 {
        session.press(TAB).await?;
        still(session, &format!("tab {stop}")).await?;
    }
    Ok(())
}

/// Page by page up from the end, the top is reached.
async fn to_the_top(session: &Session) -> Outcome {
    const LINE: &str = "return +document.querySelector('.line.here').dataset.line";
    session.script("document.querySelector('.text-box').focus()").await?;
    session.with_control(&END.to_string()).await?;
    session.until("the end", "return document.querySelector('.surface').scrollTop > 0").await?;
    let mut before = session.script(LINE).await?.as_i64().unwrap_or_default();
    ensure(before > 20, || format!("the end is line {before}"))?;
    while before > 0 {
        session.press(PAGE_UP).await?;
        let moved = format!("return +document.querySelector('.line.here').dataset.line < {before}");
        session.until("a page up", &moved).await?;
        before = session.script(LINE).await?.as_i64().unwrap_or_default();
    }
    session.until("the top", "return document.querySelector('.surface').scrollTop === 0").await?;
    still(session, "the top").await
}

pub async fn two_pages_hold_still(session: Session) -> Outcome {
    for (width, reads) in [(0, false), (0, true), (390, true)] {
        if width > 0 && session.browser == Browser::Firefox {
            continue;
        }
        lay(&session, 2, reads).await?;
        session.screen(width).await?;
        steps(&session).await?;
        to_the_top(&session).await?;
    }
    Ok(())
}

pub async fn twenty_pages_hold_still(session: Session) -> Outcome {
    lay(&session, 20, true).await?;
    steps(&session).await?;
    to_the_top(&session).await
}

pub async fn two_hundred_pages_hold_still(session: Session) -> Outcome {
    lay(&session, 200, false).await?;
    steps(&session).await
}
