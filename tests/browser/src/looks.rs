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

/// Widths of the pictures: a page zoomed to four times its size, a phone, a tablet, two screens.
const WIDTHS: [u32; 5] = [320, 390, 820, 1280, 1440];

/// What is done in a room before its pictures are taken.
async fn at_work(session: &Session, name: &str) -> Outcome {
    match name {
        "Write" => {
            session.write(&ueb::transcribe("The 10:30 fery leaves", &Options::default())).await?;
            session.find("button", "Mark my work").await?.click().await?;
            session.until("the findings", "return document.querySelector('.findings') !== null").await?;
            session.find("textbox", "Braille").await?.click().await?;
        }
        "Keys" => {
            let open = "document.querySelectorAll('main details.more, main details.more details').forEach((one) => one.open = true)";
            session.script(open).await?;
        }
        "Practise" => session.find("button", "Practise").await?.click().await?,
        _ => {}
    }
    Ok(())
}

pub async fn pictures(session: Session) -> Outcome {
    let mut sideways = Vec::new();
    let more = [("First", ""), ("Practise", ""), ("Keys", "#/write")];
    for (name, address) in ROOMS.into_iter().chain(more) {
        session.open(address).await?;
        at_work(&session, name).await?;
        tokio::time::sleep(std::time::Duration::from_millis(400)).await;
        let file = name.to_lowercase().replace(' ', "-");
        for theme in ["light", "dark", "contrast"] {
            session.script(&format!("document.documentElement.dataset.theme = {theme:?}")).await?;
            for width in WIDTHS {
                session.picture(&format!("{file}-{theme}"), width).await?;
                let wider =
                    "const page = document.documentElement; return page.scrollWidth > page.clientWidth + 1";
                if session.script(wider).await? != false {
                    sideways.push(format!("{name} ({theme}) at {width} pixels"));
                }
            }
        }
        session.devtools("Emulation.clearDeviceMetricsOverride", serde_json::json!({})).await?;
    }
    ensure(sideways.is_empty(), || format!("these scroll sideways: {}", sideways.join(", ")))
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
