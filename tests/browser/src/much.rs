//! 9.9 MB of print or braille at once: `cargo run -- --much [PART]` tells the longest task of the page's main thread in each room that
//! takes it, and fails where one is longer than 50 ms.

use std::path::Path;
use std::time::{Duration, Instant};

use cellwright::cell;
use cellwright::ueb::{self, Options};
use serde_json::json;

use crate::browser::{Browser, Driver, Outcome, Session, ensure};
use crate::desk_files::choose;
use crate::site::Site;

/// A file of more than ten million bytes is not opened.
const SIZE: usize = 9_900_000;
/// No task of the main thread is to be longer, in milliseconds.
const LONGEST: f64 = 50.0;
/// So long the page has for all of it.
const PATIENCE: Duration = Duration::from_secs(150);
const SENTENCE: &str = "The 10:30 ferry leaves from Hallam Quay; Kittiwake follows at noon.";

/// What the browser itself calls a long task is one of over 50 ms.
const WATCH: &str = "window.tasks = []; new PerformanceObserver((list) => { for (const one of list.getEntries()) window.tasks.push(one.duration) }).observe({entryTypes: ['longtask']})";

/// One way in: a name, the room, and what is done there.
const WAYS: [(&str, &str); 6] = [
    ("print opened in Transcribe", "#/transcribe"),
    ("braille opened in Transcribe", "#/transcribe"),
    ("braille opened in Read", "#/read"),
    ("print opened in Read", "#/read"),
    ("braille opened on the desk of Proofread", "#/proofread"),
    ("braille pasted in Write", "#/write"),
];

async fn put(session: &Session, way: &str, print: &Path, braille: &Path, text: &str) -> Outcome {
    match way {
        "print opened in Transcribe" => choose(session, "Open print", print).await,
        "braille opened in Transcribe" => choose(session, "Open a braille file", braille).await,
        "braille opened in Read" => choose(session, "File", braille).await,
        "print opened in Read" => choose(session, "File", print).await,
        "braille pasted in Write" => {
            session.find("textbox", "Braille").await?.click().await?;
            // Made in the page: a message to the driver as long as that takes longer than the page.
            let script = format!(
                "const data = new DataTransfer(); data.setData('text/plain', {}.repeat({}));
                 document.activeElement.dispatchEvent(new ClipboardEvent('paste', {{bubbles: true, cancelable: true, clipboardData: data}}))",
                json!(text),
                SIZE / text.len()
            );
            session.script(&script).await.map(drop)
        }
        _ => {
            session.find("button", "Reading desk").await?.click().await?;
            choose(session, "Open a braille file", braille).await
        }
    }
}

/// Until the page has been without a long task for five seconds: all of them, in milliseconds.
async fn tasks(session: &Session) -> Outcome<Vec<f64>> {
    let begun = Instant::now();
    let mut known = usize::MAX;
    let mut since = Instant::now();
    loop {
        tokio::time::sleep(Duration::from_millis(500)).await;
        // A page that is at work answers when its task is over.
        let all: Vec<f64> = serde_json::from_value(session.script("return window.tasks").await?)?;
        if all.len() != known {
            known = all.len();
            since = Instant::now();
        }
        if since.elapsed() > Duration::from_secs(5) || begun.elapsed() > PATIENCE {
            return Ok(all);
        }
    }
}

/// Runs and prints.
pub async fn run(part: &str) -> Outcome {
    let site = Site::of_project()?;
    let driver = Driver::start(Browser::Chromium).await?;
    let folder = tempfile::TempDir::new()?;
    let (print, braille) = (folder.path().join("much.txt"), folder.path().join("much.brf"));
    std::fs::write(&print, format!("{SENTENCE}\n\n").repeat(SIZE / (SENTENCE.len() + 2)))?;
    let line = cell::to_ascii(&ueb::transcribe("The ferry leaves at noon.", &Options::default())) + "\n";
    std::fs::write(&braille, line.repeat(SIZE / line.len()))?;
    let mut over = Vec::new();
    for (way, room) in WAYS.iter().filter(|(way, _)| way.contains(part)) {
        let session = driver.session(&site.address).await?;
        session.open(room).await?;
        session.unfold().await?;
        session.script(WATCH).await?;
        let begun = Instant::now();
        let done = match put(&session, way, &print, &braille, &line).await {
            Ok(()) => tasks(&session).await,
            Err(failed) => Err(failed),
        };
        match done {
            Ok(all) => {
                let longest = all.iter().copied().fold(0.0, f64::max);
                println!(
                    "{way}: longest task {longest:.0} ms, {} over 50 ms, {:.0} s in all",
                    all.len(),
                    begun.elapsed().as_secs_f64()
                );
                if longest > LONGEST {
                    over.push(*way);
                }
            }
            Err(failed) => {
                println!("{way}: {}", failed.0);
                over.push(*way);
            }
        }
        let _ = session.client.close().await;
    }
    ensure(over.is_empty(), || format!("over {LONGEST} ms: {}", over.join(", ")))
}
