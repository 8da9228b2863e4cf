//! The page as one file, opened from a disk with the network off.

use cellwright::exercise::{Exercise, Kind, in_link};
use cellwright::ueb::{self, Options};
use serde_json::json;

use crate::browser::{Browser, Failed, Outcome, Session, ensure};
use crate::drill::{answer_one, recorded};
use crate::site::project;

/// Points the session at the file and cuts the network.
pub async fn from_disk(session: &mut Session) -> Outcome {
    let file = project().join("target/cellwright.html").canonicalize().map_err(|_| {
        Failed("the file is not built: run `cargo run -- bundle --out target/cellwright.html` first".into())
    })?;
    session.site = format!("file://{}", file.display());
    if session.browser == Browser::Chromium {
        session.devtools("Network.enable", json!({})).await?;
        let off = json!({"offline": true, "latency": 0, "downloadThroughput": 0, "uploadThroughput": 0});
        session.devtools("Network.emulateNetworkConditions", off).await?;
    }
    Ok(())
}

/// Nothing was asked of anybody, and nothing went wrong.
async fn quiet(session: &Session) -> Outcome {
    let asked = "return performance.getEntriesByType('resource').map((entry) => entry.name)
        .filter((name) => !name.startsWith('data:') && !name.startsWith('blob:')).join(' ')";
    let asked = session.script(asked).await?;
    ensure(asked == "", || format!("the page asked for {asked}"))?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

pub async fn a_drill_from_a_file_is_kept(mut session: Session) -> Outcome {
    from_disk(&mut session).await?;
    session.open("#/").await?;
    answer_one(&session).await?;
    session.open("#/record").await?;
    recorded(&session, 1).await?;
    session.find("link", "Save the record").await?;
    quiet(&session).await
}

pub async fn a_transcription_from_a_file_is_marked_and_kept(mut session: Session) -> Outcome {
    from_disk(&mut session).await?;
    session.open("#/transcribe").await?;
    session.write(&ueb::transcribe("The ferry", &Options::default())).await?;
    session.switch("Show what it reads as", true).await?;
    session.expect("status", "Reads as", "The ferry").await?;
    session.find("button", "Mark my work").await?.click().await?;
    session.until("the findings", "return !!document.querySelector('main section h2')").await?;
    tokio::time::sleep(std::time::Duration::from_millis(1500)).await;
    session.open("#/transcribe").await?;
    session.switch("Show what it reads as", true).await?;
    session.expect("status", "Reads as", "The ferry").await?;
    quiet(&session).await
}

/// Where the browser withholds storage from files, the page says so and offers the record as a file; the work goes on.
pub async fn where_storage_is_withheld_the_record_is_a_file(session: Session) -> Outcome {
    let mut session = session.that_keeps_nothing().await?;
    let outcome = without_storage(&mut session).await;
    session.client.close().await?;
    outcome
}

async fn without_storage(session: &mut Session) -> Outcome {
    from_disk(session).await?;
    session.open("#/").await?;
    session
        .until("the words about it", "return document.querySelector('main [role=alert]')?.textContent.includes('keeps nothing for this page')")
        .await?;
    answer_one(session).await?;
    session.find("link", "To the room Record").await?.click().await?;
    recorded(session, 1).await?;
    let file = session.find("link", "Save the record").await?.attr("href").await?.unwrap_or_default();
    ensure(file.contains("answer"), || format!("the saved record is {file}"))?;
    // The file is taken in again by the page as it is opened the next time.
    let text = "return decodeURIComponent(document.querySelector('a[download=\"cellwright-record.txt\"]').href.split(',').slice(1).join(','))";
    let text = session.script(text).await?.as_str().unwrap_or_default().to_owned();
    let folder = tempfile::TempDir::new()?;
    let path = folder.path().join("cellwright-record.txt");
    std::fs::write(&path, text)?;
    session.open("#/record").await?;
    session.find("heading", "Keep it").await?;
    session
        .until("an empty record", "return document.body.textContent.includes('Nothing recorded yet')")
        .await?;
    session
        .until(
            "what to do with it",
            "return document.body.textContent.includes('load it here when you come back')",
        )
        .await?;
    let input = session.client.find(fantoccini::Locator::Css("main input[type=file]")).await?;
    input.send_keys(&path.display().to_string()).await?;
    session.find("button", "Merge: keep both").await?.click().await?;
    recorded(session, 1).await?;
    // Writing goes on and says so too.
    session.open("#/write").await?;
    session.write(&ueb::transcribe("The ferry", &Options::default())).await?;
    session.expect("status", "Reads as", "The ferry").await?;
    session
        .until(
            "the words about it",
            "return document.body.textContent.includes('keeps nothing for this page')",
        )
        .await
}

pub async fn a_reading_text_from_a_file(mut session: Session) -> Outcome {
    from_disk(&mut session).await?;
    session.open("#/read").await?;
    // The texts are data files beside the page; here they stand in it.
    session.until("a text to read", "return !!document.querySelector('main svg, main .cells')").await?;
    quiet(&session).await
}

pub async fn links_and_files_are_taken_and_made(mut session: Session) -> Outcome {
    from_disk(&mut session).await?;
    let exercise =
        Exercise { title: "Notice 2".into(), text: "The galley is open.".into(), ..Exercise::default() };
    let payload = exercise.to_payload()?;
    let link = format!("https://school.example/braille/#/x/{payload}");

    session.open("#/").await?;
    session.unfold().await?;
    session.find("textbox", "Link").await?.send_keys("https://school.example/").await?;
    session.find("button", "Open the link").await?.click().await?;
    session
        .expect(
            "status",
            "Opening",
            "There is no link of an exercise in this. Copy the whole link, or choose the file again.",
        )
        .await?;
    session.find("textbox", "Link").await?.send_keys(&link).await?;
    session.find("button", "Open the link").await?.click().await?;
    session.find("heading", "Notice 2").await?;

    session.open("#/").await?;
    session.unfold().await?;
    let folder = tempfile::TempDir::new()?;
    let file = folder.path().join("exercise.txt");
    std::fs::write(&file, format!("For Tuesday:\r\n{link}\r\n"))?;
    let input = session.client.find(fantoccini::Locator::Css("details input[type=file]")).await?;
    input.send_keys(&file.display().to_string()).await?;
    session.find("heading", "Notice 2").await?;

    // What comes of an exercise goes back to the site that it came from; that site is known from now on.
    session.find("textbox", "Braille").await?;
    session.write(&ueb::transcribe("The galley is open.", &Options::default())).await?;
    session.find("button", "Mark my work").await?.click().await?;
    let slip = session.find("textbox", "Slip link").await?.prop("value").await?.unwrap_or_default();
    ensure(slip.starts_with("https://school.example/braille/#/r/"), || format!("the slip's link is {slip}"))?;
    session.script("localStorage.removeItem('cellwright.site')").await?;

    // Where no site is known, the slip goes as a file, and no link to nowhere is offered.
    session.open(&format!("#/x/{payload}")).await?;
    session.write(&[]).await?;
    session.find("button", "Mark my work").await?.click().await?;
    session
        .script(
            "const make = URL.createObjectURL;
            URL.createObjectURL = (blob) => { blob.text().then((text) => window.saved = text); return make.call(URL, blob) }",
        )
        .await?;
    session.find("button", "Save the slip as a file").await?.click().await?;
    session.until("the file with the slip", "return !!window.saved?.includes('#/r/')").await?;
    let links =
        session.script("return document.querySelectorAll('[aria-label=\"Slip link\"]').length").await?;
    ensure(links == 0, || "a link to nowhere is offered".to_owned())?;

    session.open("#/set").await?;
    session.find("textbox", "Text, one item a line").await?.send_keys("The galley is open.").await?;
    session
        .until(
            "the words about the site",
            "return document.body.textContent.includes('a link has to lead to a site')",
        )
        .await?;
    session
        .find("textbox", "Site that your links lead to")
        .await?
        .send_keys("https://school.example/braille")
        .await?;
    let made = session.find("textbox", "Link").await?.prop("value").await?.unwrap_or_default();
    ensure(made.starts_with("https://school.example/braille/#/x/"), || format!("the link made is {made}"))?;
    let (kind, payload) = in_link(&made).ok_or_else(|| Failed(format!("no link: {made}")))?;
    ensure(kind == Kind::Exercise, || "not an exercise".into())?;
    ensure(Exercise::from_payload(payload)?.text == "The galley is open.", || "another text".into())?;
    session.find("button", "See it as the learner will").await?.click().await?;
    session.find("link", "Open it on a page of its own").await?.click().await?;
    session.find("textbox", "Braille").await?;
    quiet(&session).await
}
