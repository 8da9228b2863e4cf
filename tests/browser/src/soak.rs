//! A long sitting at full speed: 5,000 chords, 15 a second, with no loss and no growth of memory beyond a tenth.
//! `cargo run -- --soak`; it takes some six minutes.

use std::time::{Duration, Instant};

use cellwright::cell::Cell;
use cellwright::ueb::{self, Options};
use serde_json::json;

use crate::browser::{Browser, Driver, Outcome, Session, ensure};
use crate::site::Site;

const CHORDS: usize = 5000;
const A_SECOND: f64 = 15.0;
/// Chords of one message to the driver.
const BATCH: usize = 60;
/// Growth of memory is counted from here on, when caches are warm.
const WARM: usize = 500;
const GROWTH: f64 = 0.10;
/// A sitting is written line by line; each is checked, then the surface is emptied, as with a new prompt.
const PAGE: usize = 500;

const SENTENCE: &str = "The 10:30 ferry leaves from Hallam Quay; Kittiwake follows at noon. ";

/// Runs and prints.
pub async fn run() -> Outcome {
    let site = Site::of_project()?;
    let driver = Driver::start(Browser::Chromium).await?;
    let session = driver.session(&site.address).await?;
    let outcome = sit(&session).await;
    session.client.close().await?;
    outcome
}

async fn sit(session: &Session) -> Outcome {
    let line = ueb::transcribe(SENTENCE.trim(), &Options::default());
    session.open("#/write").await?;
    session.until("the surface", "return !!document.querySelector('main .text-box')").await?;
    let (mut written, mut lost, mut warm) = (0, 0, None);
    let mut at_keys = Duration::ZERO;
    // What is left of a chord's time goes to the driver.
    let whole = Duration::from_secs(1).div_f64(A_SECOND);
    while written < CHORDS {
        let cells: Vec<Cell> = line.iter().copied().chain([Cell::BLANK]).cycle().take(PAGE).collect();
        session.script("document.querySelector('main .text-box').focus()").await?;
        for batch in cells.chunks(BATCH) {
            let begun = Instant::now();
            session.chords(batch, whole.mul_f64(0.3), whole.mul_f64(0.5)).await?;
            at_keys += begun.elapsed();
        }
        written += PAGE;
        let expected = ueb::read(&cells, &ueb::ReadOptions::default());
        // Told at a pause, so that it is waited for.
        if let Err(failed) = reads_as(session, expected.print.trim_end()).await {
            lost += 1;
            println!("after {written} chords: {}", failed.0);
        }
        empty(session).await?;
        let memory = memory(session).await?;
        println!(
            "{written} chords, {:.1} a second so far, {:.2} MB",
            written as f64 / at_keys.as_secs_f64(),
            memory / 1e6
        );
        if written >= WARM && warm.is_none() {
            warm = Some(memory);
        }
        if written >= CHORDS {
            let growth = memory / warm.unwrap_or(memory) - 1.0;
            println!("memory: {:+.1}% since chord {WARM}", growth * 100.0);
            ensure(growth < GROWTH, || format!("memory has grown by {:.1}%", growth * 100.0))?;
        }
    }
    let rate = written as f64 / at_keys.as_secs_f64();
    println!("{written} chords at {rate:.1} a second, {lost} pages not as written");
    ensure(lost == 0, || format!("{lost} pages lost something"))?;
    ensure(rate > A_SECOND * 0.9, || format!("this machine was too slow to press {A_SECOND} chords a second"))
}

/// Everything is chosen and erased, by keys.
async fn empty(session: &Session) -> Outcome {
    session.with_control("a").await?;
    session.press('\u{e003}').await?;
    reads_as(session, "").await
}

/// Found by the page's own marks: a search by role and name would have the browser keep an accessibility tree, and a list of
/// each change to it that nobody asks for, which is more memory than the page's own.
async fn reads_as(session: &Session, text: &str) -> Outcome {
    let reads = "document.querySelector('[role=status][aria-label=\"Reads as\"]')?.textContent";
    session.until(&format!("the reading {text:?}"), &format!("return {reads} === {}", json!(text))).await
}

/// What the page holds after a collection: the script's heap and the module's memory, in bytes.
async fn memory(session: &Session) -> Outcome<f64> {
    session.devtools("HeapProfiler.enable", json!({})).await?;
    for _ in 0..2 {
        session.devtools("HeapProfiler.collectGarbage", json!({})).await?;
    }
    let heap = session.devtools("Runtime.getHeapUsage", json!({})).await?;
    let module = "const module = await import(new URL('www/pkg/cellwright.js', location.href).href);
        return (await module.default()).memory.buffer.byteLength";
    let module = session.script(module).await?;
    let sum = |one: &serde_json::Value| one.as_f64().unwrap_or_default();
    Ok(sum(&heap["usedSize"]) + sum(&heap["embedderHeapUsedSize"]) + sum(&module))
}
