//! How small and how quick the page is, side by side with a bare counter page of the same tool chain and with a bare
//! text field, in one browser run. `cargo run -- --bench` prints the table; `tests/page-bench` is the counter.

use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

use fantoccini::actions::{InputSource as _, KeyAction, KeyActions};
use flate2::{Compression, write::GzEncoder};
use serde_json::json;

use crate::browser::{Browser, Driver, Failed, Outcome, Session, ensure};
use crate::sheets;
use crate::site::{Site, project};
use crate::trace::{Span, Trace, parts, until_painted};
use crate::volume;

/// All that writing and reading need; texts to read and word lists follow after, on demand.
const PAGE: [&str; 6] = [
    "index.html",
    "www/style.css",
    "www/icon.svg",
    "www/start.js",
    "www/pkg/cellwright.js",
    "www/pkg/cellwright_bg.wasm",
];
const COUNTER: [&str; 4] = ["index.html", "www/start.js", "www/pkg/counter.js", "www/pkg/counter_bg.wasm"];
/// What loads first is to weigh at most so many times the counter.
const SIZE: f64 = 7.0;
/// What has been reached so far, with a little room: it is not to sink back.
const REACHED: f64 = 6.5;
/// Loads of each page.
const LOADS: usize = 61;
/// Keys of each page, and in how many turns they are pressed.
const KEYS: usize = 500;
const TURNS: usize = 5;
/// No frame of a volume at work may take longer, in milliseconds.
const FRAME: f64 = 50.0;

struct Row {
    what: String,
    page: f64,
    bare: f64,
    unit: &'static str,
    limit: f64,
}

impl Row {
    /// Prints the row, as soon as it is measured; notes it when it is over its limit.
    fn print(self, over: &mut Vec<String>) {
        let Row { what, page, bare, unit, limit } = self;
        let ratio = page / bare;
        let kept = ratio <= limit;
        let word = if kept { "kept" } else { "OVER" };
        println!("| {what} | {page:.2} {unit} | {bare:.2} {unit} | {ratio:.2} | {limit} | {word} |");
        if !kept {
            over.push(what);
        }
    }
}

/// Measures and prints; fails when a limit is passed, after the whole table. With a part's name (size, frames, keys, sheets,
/// pages) that part alone.
pub async fn run(part: &str) -> Outcome {
    let asked = |name: &str| part.is_empty() || part == name;
    let counter = counter()?;
    let over = &mut Vec::new();
    println!("| what | Cellwright | bare | ratio | limit | |\n| --- | --- | --- | --- | --- | --- |");
    let row =
        |what: &str, page: f64, bare: f64, unit, limit| Row { what: what.into(), page, bare, unit, limit };
    if asked("size") {
        sizes(&counter)?.print(over);
    }
    let (page, bare) = (Site::of_project()?, Site::of_folder(&counter)?);
    let driver = Driver::start(Browser::Chromium).await?;
    if asked("frames") {
        for row in first_frames(&driver, &page.address, &bare.address).await? {
            row.print(over);
        }
    }
    let mut by_thread = true;
    for cells in [10, 100_000].into_iter().filter(|_| asked("keys")) {
        let (mut written, mut echoed) = (Keys::default(), Keys::default());
        // By turns, so that what else the machine does falls on both alike.
        for _ in 0..TURNS {
            let session = driver.session(&page.address).await?;
            written.add(chords(&session, cells).await?);
            session.client.close().await?;
            let session = driver.session(&bare.address).await?;
            echoed.add(echo(&session, cells).await?);
            session.client.close().await?;
        }
        by_thread &= written.by_thread;
        let what = format!("key to paint, at the end of {cells} cells");
        row(&what, median(written.times) / 1000.0, median(echoed.times) / 1000.0, "ms", 1.5).print(over);
        if !part.is_empty() {
            println!("page: {}\nbare: {}", written.parts, echoed.parts);
        }
    }
    if asked("sheets") {
        let session = driver.session(&page.address).await?;
        let mut ink = f64::NAN;
        for (look, times) in sheets::times(&session).await? {
            let time = median(times) / 1000.0;
            if look == "ink" {
                ink = time;
            } else {
                row(&format!("a sheet of 1,000 cells, {look} beside ink"), time, ink, "ms", 4.0).print(over);
            }
        }
        session.client.close().await?;
    }
    if asked("pages") {
        let session = driver.session(&page.address).await?;
        for (what, longest) in volume::longest_tasks(&session).await? {
            let what = format!("200 pages, {what}: the longest task beside {FRAME} ms");
            row(&what, longest, FRAME, "ms", 1.0).print(over);
        }
        session.client.close().await?;
    }
    println!(
        "Bare: the counter page of tests/page-bench; for keys a <textarea>. Medians of {LOADS} loads and {KEYS} keys; keys by the \
         main thread's {} from the browser's trace.",
        if by_thread { "own clock" } else { "busy time" }
    );
    ensure(over.is_empty(), || format!("over the limit: {}", over.join(", ")))
}

/// The size alone, which is no matter of how busy the machine is: fails when it has grown over its limit.
pub fn size_held() -> Outcome {
    let over = &mut Vec::new();
    Row { limit: REACHED, ..sizes(&counter()?)? }.print(over);
    ensure(over.is_empty(), || "what loads first has grown: see DEVELOPERS.md for what weighs".into())
}

fn sizes(counter: &Path) -> Outcome<Row> {
    let (page, bare) = (size(project(), &PAGE)? / 1024.0, size(counter, &COUNTER)? / 1024.0);
    Ok(Row { what: "transfer size, gzip".into(), page, bare, unit: "KB", limit: SIZE })
}

/// The counter page, built.
fn counter() -> Outcome<PathBuf> {
    let counter = project().join("tests/page-bench");
    build(&counter)?;
    Ok(counter)
}

fn build(counter: &Path) -> Outcome {
    // The page's own tools, or those on the path that it found fitting.
    let tools = project().join("target/tools/bin");
    let rest = std::env::var_os("PATH").unwrap_or_default();
    let path = std::env::join_paths(std::iter::once(tools.clone()).chain(std::env::split_paths(&rest)))?;
    let own = tools.join("wasm-pack");
    let built = Command::new(if own.exists() { own } else { "wasm-pack".into() })
        .current_dir(counter)
        .args(["--log-level", "warn", "build", "--target", "web", "--no-typescript", "--no-pack"])
        .args(["--out-dir", "www/pkg", "--profile", "page"])
        .env("PATH", path)
        .env("CARGO_TARGET_DIR", counter.join("target"))
        .status()
        .map_err(|error| {
            Failed(format!("wasm-pack: {error}; run `cargo run -- build` in the project's folder first"))
        })?;
    ensure(built.success(), || "the counter page could not be built".into())
}

fn size(root: &Path, files: &[&str]) -> Outcome<f64> {
    let mut sum = 0;
    for file in files {
        let content = std::fs::read(root.join(file)).map_err(|error| Failed(format!("{file}: {error}")))?;
        let mut packed = GzEncoder::new(Vec::new(), Compression::best());
        packed.write_all(&content)?;
        sum += packed.finish()?.len();
    }
    Ok(sum as f64)
}

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times.get(times.len() / 2).copied().unwrap_or(f64::NAN)
}

/// From the beginning of the load, with nothing cached, to the frame in which the page can be used: its control stands
/// and was painted.
async fn first_frames(driver: &Driver, page: &str, bare: &str) -> Outcome<Vec<Row>> {
    let session = driver.session(page).await?;
    session.devtools("Network.enable", json!({})).await?;
    session.devtools("Network.setBypassServiceWorker", json!({"bypass": true})).await?;
    session.devtools("Network.setCacheDisabled", json!({"cacheDisabled": true})).await?;
    // Told when it has come, and not asked for meanwhile: each question would take of its time.
    let watch = "const usable = 'main textarea, main input, main button';
        window.usable = new Promise((tell) => {
            const look = () => document.querySelector(usable)
                ? requestAnimationFrame(() => { const c = new MessageChannel();
                    c.port1.onmessage = () => tell(performance.now()); c.port2.postMessage(0); })
                : requestAnimationFrame(look);
            requestAnimationFrame(look);
        });";
    session.devtools("Page.enable", json!({})).await?;
    session.devtools("Page.addScriptToEvaluateOnNewDocument", json!({"source": watch})).await?;
    let places = [
        ("bare", bare.to_owned()),
        ("Write", format!("{page}#/write")),
        ("the first screen", format!("{page}#/")),
    ];
    let mut times = [Vec::new(), Vec::new(), Vec::new()];
    // By turns, so that what else the machine does falls on all alike.
    for _ in 0..LOADS {
        for (n, (_, address)) in places.iter().enumerate() {
            session.client.goto("about:blank").await?;
            session.client.goto(address).await?;
            times[n].push(session.script("return window.usable").await?.as_f64().unwrap_or(f64::NAN));
        }
    }
    session.client.close().await?;
    let [bare, write, first] = times.map(median);
    let row = |what: &str, page| Row { what: what.into(), page, bare, unit: "ms", limit: 2.0 };
    Ok(vec![row("first usable frame, Write", write), row("first usable frame, first screen", first)])
}

/// What keys cost the main thread.
#[derive(Default)]
struct Keys {
    /// Microseconds of each key.
    times: Vec<f64>,
    /// By the thread's own clock, and not by its busy time.
    by_thread: bool,
    /// Where the time went, in words.
    parts: String,
}

impl Keys {
    fn of(spans: &[Span], kind: &str) -> Outcome<Keys> {
        let (times, by_thread) = until_painted(spans, kind, "keydown");
        let pressed = KEYS / TURNS;
        ensure(times.len() > pressed * 9 / 10, || {
            format!("only {} of {pressed} keys were painted", times.len())
        })?;
        let parts: Vec<String> = parts(spans, kind, "keydown")
            .iter()
            .take(14)
            .map(|(name, time, count)| format!("{name} {time:.0} ({count:.1})"))
            .collect();
        Ok(Keys { times, by_thread, parts: format!("microseconds a key: {}", parts.join(", ")) })
    }

    /// Takes in another turn.
    fn add(&mut self, turn: Keys) {
        self.by_thread = turn.by_thread && (self.by_thread || self.times.is_empty());
        self.times.extend(turn.times);
        self.parts = turn.parts;
    }
}

/// Words of six letters in lines of 40 cells.
fn filling(cells: usize, letter: char) -> String {
    (0..cells)
        .map(|n| {
            if n % 40 == 39 {
                '\n'
            } else if n % 7 == 6 {
                ' '
            } else {
                letter
            }
        })
        .collect()
}

/// Presses keys one at a time, so slowly that each has a frame of its own.
async fn press(session: &Session) -> Outcome {
    let pause = |ms| KeyAction::Pause { duration: std::time::Duration::from_millis(ms) };
    for _ in 0..KEYS / TURNS / 50 {
        let mut keys = KeyActions::new("hands".to_owned());
        for n in 0..50 {
            let value = if n % 7 == 6 { ' ' } else { 'f' };
            keys = keys.then(KeyAction::Down { value }).then(pause(30));
            keys = keys.then(KeyAction::Up { value }).then(pause(50));
        }
        session.client.perform_actions(keys).await?;
    }
    Ok(())
}

/// Keys written at the end of that many cells: from the key's lift to the painted reading.
async fn chords(session: &Session, cells: usize) -> Outcome<Keys> {
    session.open("#/write").await?;
    // Not by role and name: to ask for these makes the browser keep its accessibility tree from then on, with every key, and
    // the bare field is not asked for them either.
    session.client.find(fantoccini::Locator::Css("[aria-label=Braille]")).await?.click().await?;
    // Braille ASCII: a is dot 1.
    session.paste(&filling(cells, 'a')).await?;
    let pasted = "return document.querySelector('[aria-label=\"Reads as\"]').textContent.includes('a')";
    session.until("what was pasted", pasted).await?;
    let trace = Trace::begin(session).await?;
    press(session).await?;
    let spans = trace.end().await?;
    Keys::of(&spans, "keyup")
}

/// Keys typed at the end of a text field of that many characters: from the key's press, which writes there, to the
/// painted character.
async fn echo(session: &Session, cells: usize) -> Outcome<Keys> {
    session.client.goto(&session.site).await?;
    let field = format!(
        "document.body.innerHTML = '<textarea rows=12 cols=44></textarea>';
         document.querySelector('textarea').value = {};",
        serde_json::to_string(&filling(cells, 'f'))?
    );
    session.script(&field).await?;
    // The pointer lies over it, as it does over the surface.
    session.client.find(fantoccini::Locator::Css("textarea")).await?.click().await?;
    let to_end = "const field = document.querySelector('textarea');
         field.setSelectionRange(field.value.length, field.value.length);
         field.scrollTop = field.scrollHeight;";
    session.script(to_end).await?;
    let trace = Trace::begin(session).await?;
    press(session).await?;
    let spans = trace.end().await?;
    let typed = session.script("return document.querySelector('textarea').value.length").await?;
    ensure(typed == cells + KEYS / TURNS, || format!("the field holds {typed}"))?;
    Keys::of(&spans, "keydown")
}
