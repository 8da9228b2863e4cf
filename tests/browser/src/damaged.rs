//! What is stored is damaged, one key after the other; a browser crashes a hundred times (`cargo run -- --crashes [TIMES]`).

use serde_json::{Value, json};

use crate::browser::{Browser, Driver, Failed, Outcome, Session, ensure};
use crate::site::Site;

/// Every room that reads what is stored.
const ROOMS: [&str; 11] = [
    "#/",
    "#/write",
    "#/transcribe",
    "#/read",
    "#/proofread",
    "#/set",
    "#/signs",
    "#/course",
    "#/record",
    "#/practise",
    "#/session",
];

const STORED: &str = "return Object.fromEntries(Object.entries(localStorage).filter(([key]) => key.startsWith('cellwright.') && !/^cellwright\\.(open|given)\\./.test(key)))";

/// What becomes of a text: cut in half, of a later version, no JSON at all.
fn damaged(text: &str, round: usize) -> String {
    match round {
        0 => text.chars().take(text.chars().count() / 2).collect(),
        1 => json!({"version": 99, "value": {"of": text}}).to_string(),
        _ => format!("\u{0}{text}"),
    }
}

/// The links in a text: those of a shelf and of a class sheet are found in whatever stands around them.
fn links(text: &str) -> Vec<&str> {
    let parts = text.split(|c: char| !c.is_ascii_alphanumeric() && !"#/-_".contains(c));
    parts.filter_map(|part| part.find("#/").map(|at| &part[at..])).collect()
}

/// A session that cannot be read is not told from one of another day, and begins anew: its answers are in the record.
const BEGINS_ANEW: &str = "cellwright.session";

/// Each key in turn is damaged in three ways, and every room is entered. The page stands, says nothing to the console, and what was
/// damaged is there still: under its key, or set aside, or all its links taken in. Only a session begins anew.
pub async fn each_key_is_damaged_in_turn(session: Session) -> Outcome {
    crate::home::work(&session).await?;
    for address in ["#/transcribe", "#/proofread", "#/record"] {
        session.open(address).await?;
    }
    session.open("#/nowhere").await?;
    let all = session.script(STORED).await?;
    let all = all.as_object().cloned().unwrap_or_default();
    ensure(all.len() >= 7, || format!("only {:?} is stored", all.keys().collect::<Vec<_>>()))?;
    let mut lost = Vec::new();
    for (key, text) in &all {
        for round in 0..3 {
            let bad = damaged(text.as_str().unwrap_or_default(), round);
            session.client.goto("about:blank").await?;
            session.client.goto(&format!("{}www/style.css", session.site)).await?;
            let mut stored = all.clone();
            stored.insert(key.clone(), Value::String(bad.clone()));
            session
                .script(&format!(
                    "localStorage.clear(); for (const [key, text] of Object.entries({})) localStorage.setItem(key, text)",
                    Value::Object(stored)
                ))
                .await?;
            session.open(ROOMS[0]).await?;
            for room in &ROOMS[1..] {
                session.script(&format!("location.hash = {room:?}")).await?;
                let stands = "return document.querySelectorAll('main h1').length === 1 && document.getElementById('trouble').hidden";
                session.until(&format!("{room} with {key} damaged, round {round}"), stands).await?;
            }
            // What is typed is kept a moment later; leaving the page keeps it at once.
            session.client.goto("about:blank").await?;
            session.client.goto(&format!("{}www/style.css", session.site)).await?;
            let now = session.script(STORED).await?;
            let here: Vec<&str> = now
                .as_object()
                .into_iter()
                .flatten()
                .filter(|(name, _)| name.starts_with(key.as_str()))
                .filter_map(|(_, text)| text.as_str())
                .collect();
            let links = links(&bad);
            let read =
                !links.is_empty() && links.iter().all(|link| here.iter().any(|text| text.contains(link)));
            let there = here.contains(&bad.as_str()) || read && round > 0;
            if !there && key != BEGINS_ANEW {
                lost.push(format!("{key}, round {round}"));
            }
            let mut errors = session.console_errors().await?;
            // A style sheet shown by itself has the browser ask for an icon.
            errors.retain(|error| !error.contains("favicon.ico"));
            ensure(errors.is_empty(), || format!("{key}, round {round}: the console holds {errors:?}"))?;
        }
    }
    println!("        {} keys damaged in three ways, {} rooms each", all.len(), ROOMS.len());
    ensure(lost.is_empty(), || format!("gone, and not set aside: {lost:?}"))
}

/// A hundred crashes while typing, which takes some ten minutes, or as many as are asked for.
pub async fn crashes(times: &str) -> Outcome {
    let times = match times {
        "" => 100,
        times => times.parse().map_err(|_| Failed(format!("--crashes takes a number, not {times:?}")))?,
    };
    let site = Site::of_project()?;
    let driver = Driver::start(Browser::Chromium).await?;
    let session = driver.session(&site.address).await?;
    let most = crate::tabs::crashes(&session, times).await;
    let _ = session.client.close().await;
    println!(
        "{times} crashes while typing ten cells a second: the most that one took along is {} cells",
        most?
    );
    Ok(())
}
