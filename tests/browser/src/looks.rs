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
