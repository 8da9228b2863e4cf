//! What surrounds the page: another page that frames it, files and links that are dragged over it.

use serde_json::json;

use crate::browser::{Outcome, Session, ensure};
use crate::site::{Site, project};

const FRAME: &str = "const inside = document.querySelector('iframe').contentDocument;";

/// A page that shows this one inside itself gets a plain word and a way out; a site that says so in its own page is served.
pub async fn a_page_that_frames_it_gets_nothing_of_it(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    // Without the service worker, which would keep to the page as it was.
    site.instead("sw.js", None);
    let around = "<!doctype html><title>around</title><iframe src='../index.html#/write' width=900 height=700></iframe>";
    site.instead("www/around.html", Some(around.into()));
    session.client.goto(&format!("{}www/around.html", session.site)).await?;
    let refused = format!(
        "{FRAME} return inside?.getElementById('trouble')?.hidden === false && !inside.querySelector('main')
            && inside.getElementById('trouble-back').target === '_blank'"
    );
    session.until("the word of it", &refused).await?;
    let page = std::fs::read_to_string(project().join("index.html"))?;
    let allowed = page.replace("<title>", "<meta name=\"cellwright-framed\" content=\"yes\">\n<title>");
    site.instead("index.html", Some(allowed.into_bytes()));
    session.client.goto("about:blank").await?;
    session.client.goto(&format!("{}www/around.html", session.site)).await?;
    session
        .until("the page in the frame", &format!("{FRAME} return !!inside?.querySelector('main h1')"))
        .await
}

/// A real file, and a link, dropped in the middle of every room: the page stays.
pub async fn what_is_dropped_leaves_the_page_where_it_is(session: Session) -> Outcome {
    let folder = tempfile::TempDir::new()?;
    let file = folder.path().join("elsewhere.html");
    std::fs::write(&file, "<title>elsewhere</title>")?;
    let link = json!({"mimeType": "text/uri-list", "data": "data:text/html,elsewhere"});
    for address in [
        "#/",
        "#/read",
        "#/write",
        "#/transcribe",
        "#/proofread",
        "#/signs",
        "#/record",
        "#/set",
        "#/nowhere",
    ] {
        session.open(address).await?;
        session.script("window.stays = true").await?;
        for (x, y) in [(640, 20), (640, 300), (300, 600), (640, 880)] {
            for items in [
                json!({"items": [], "files": [file.display().to_string()], "dragOperationsMask": 1}),
                json!({"items": [link], "files": [], "dragOperationsMask": 1}),
            ] {
                for kind in ["dragEnter", "dragOver", "drop"] {
                    let event = json!({"type": kind, "x": x, "y": y, "data": items});
                    session.devtools("Input.dispatchDragEvent", event).await?;
                }
            }
        }
        tokio::time::sleep(std::time::Duration::from_millis(300)).await;
        let stays = session.script("return window.stays === true").await?;
        ensure(stays == true, || format!("{address}: the page was left"))?;
    }
    Ok(())
}
