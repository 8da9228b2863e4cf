//! What every room has, and pictures of each to look at.

use cellwright::ueb::{self, Options};

use crate::browser::{Outcome, Session, ensure};

const ROOMS: [(&str, &str); 7] = [
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
    }
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

pub async fn pictures(session: Session) -> Outcome {
    for (name, address) in ROOMS.into_iter().chain([("First", "")]) {
        session.open(address).await?;
        if name == "Write" {
            session.write(&ueb::transcribe("The 10:30 ferry leaves", &Options::default())).await?;
        }
        for width in [1280, 390] {
            session.picture(&name.to_lowercase().replace(' ', "-"), width).await?;
            let wider = session
                .script(
                    "return document.documentElement.scrollWidth > document.documentElement.clientWidth + 1",
                )
                .await?;
            ensure(wider == false, || format!("{name} scrolls sideways at {width} pixels"))?;
        }
        session.devtools("Emulation.clearDeviceMetricsOverride", serde_json::json!({})).await?;
    }
    Ok(())
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
    session.script("window.fetch = window.fetchWas").await?;
    session.find("button", "Try again").await?.click().await?;
    session.find("heading", "Signs").await.map(drop)
}
