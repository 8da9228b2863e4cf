//! Without a network: the site kept by its service worker, new versions, and updates that fail.

use cellwright::ueb::{self, Options};
use serde_json::Value;

use crate::browser::{Browser, Outcome, Session, ensure};
use crate::site::Site;

/// The names of the caches, and the number of files in each.
const CACHES: &str = "return Promise.all((await caches.keys()).map(
    async (name) => name + ': ' + (await (await caches.open(name)).keys()).length)).then((all) => all.join('; '))";

/// Opens the site and waits until it is kept whole.
async fn visit(session: &Session) -> Outcome<String> {
    session.open("#/write").await?;
    let kept = "return !!(await navigator.serviceWorker.getRegistration())?.active && !!navigator.serviceWorker.controller";
    session.until("the service worker", kept).await?;
    Ok(session.script(CACHES).await?.as_str().unwrap_or_default().to_owned())
}

async fn writes(session: &Session, text: &str) -> Outcome {
    session.write(&ueb::transcribe(text, &Options::default())).await?;
    session.expect("status", "Reads as", text).await
}

/// Whether a stylesheet rule that only the new version has is in force.
const NEW: &str =
    "return getComputedStyle(document.documentElement).getPropertyValue('--new-version').trim() === 'yes'";
const RULE: &str = "\n:root { --new-version: yes; }\n";

/// Has the browser look for a new version until `come` is true of the registration, `here`. Asked once is not enough: after a page was opened
/// the browser looks by itself, and who asks meanwhile joins that look, which may have begun before the new version was there
/// (Service Workers, "Schedule Job").
async fn comes(session: &Session, come: &str) -> Outcome {
    session
        .until(
            "the browser to find the version",
            &format!(
                "const here = await navigator.serviceWorker.getRegistration();
                await here.update().catch(() => {{}});
                return {come}"
            ),
        )
        .await
}

const COMING: &str = "!!(here.installing || here.waiting)";

/// Looks for a new version, as [`comes`] does, until one came to an end, and gives which: it is `installed`, or `redundant`.
async fn end_of_update(session: &Session) -> Outcome<Value> {
    session
        .script(
            "const here = await navigator.serviceWorker.getRegistration();
            let end;
            here.addEventListener('updatefound', () => {
                const coming = here.installing;
                coming.addEventListener('statechange', () => { end ??= coming.state; });
            });
            const late = performance.now() + 15000;
            while (!end && performance.now() < late) {
                await here.update().catch(() => {});
                await new Promise((go) => setTimeout(go, 100));
            }
            return end ?? 'no end'",
        )
        .await
}

pub async fn a_visited_page_works_with_the_server_gone(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    let kept = visit(&session).await?;
    ensure(kept.starts_with("cellwright ") && !kept.contains(';'), || format!("kept: {kept}"))?;
    drop(site);
    // A file that is not kept is asked of the network.
    let gone = "return fetch('./none', {signal: AbortSignal.timeout(3000)}).then((answer) => answer.url, () => 'gone')";
    let answer = session.script(gone).await?;
    ensure(answer == "gone", || format!("the server still answers: {answer}"))?;
    session.open("#/write").await?;
    writes(&session, "a ferry").await?;
    // Another room, by its whole address with the file's name.
    session.client.goto(&format!("{}index.html#/read", session.site)).await?;
    session.until("the room Read", "return !!document.querySelector('main h1')").await
}

pub async fn a_new_version_is_offered_and_waits(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    visit(&session).await?;
    writes(&session, "to").await?;
    site.publish("www/style.css", RULE)?;
    comes(&session, COMING).await?;
    let button = session.find("button", "Use it now").await?;
    // It is told to who does not see it come, and who puts it off is back at the work.
    session
        .until(
            "the word of it",
            "return document.getElementById('news-say').textContent.startsWith('A new version')",
        )
        .await?;
    session.find("textbox", "Braille").await?.click().await?;
    session.find("button", "Later").await?.click().await?;
    session
        .until("the focus", "return document.activeElement.getAttribute('aria-label') === 'Braille'")
        .await?;
    // Nothing has changed in mid-work: neither the page nor what a reload would give.
    session.expect("status", "Reads as", "to").await?;
    ensure(session.script(NEW).await? == false, || "the new version came unasked".to_owned())?;
    writes_more(&session).await?;
    session.script("location.reload()").await?;
    session.until("the page", "return !!document.querySelector('main h1')").await?;
    drop(button);
    // Firefox may count a reload of the only tab as its end, and begin the version that waits; Chromium does not.
    let already = session.script(NEW).await? == true;
    ensure(!already || session.browser == Browser::Firefox, || {
        "the new version came with a reload".to_owned()
    })?;
    if !already {
        session.find("button", "Use it now").await?.click().await?;
    }
    session.until("the new version", NEW).await?;
    // With the work as it was.
    session.expect("status", "Reads as", "too").await?;
    let kept = session.script(CACHES).await?;
    ensure(!kept.as_str().unwrap_or("; ").contains(';'), || format!("old versions are left: {kept}"))
}

/// A host that goes back to the version that is at work, in the middle of an update: what is kept of it stays whole though
/// the host fails, and nothing is offered.
pub async fn a_host_that_goes_back_takes_nothing_away(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    let before = visit(&session).await?;
    let [worker, style] =
        ["sw.js", "www/style.css"].map(|path| std::fs::read(crate::site::project().join(path)));
    let (worker, style) = (worker?, style?);
    site.publish("www/style.css", RULE)?;
    comes(&session, COMING).await?;
    session.find("button", "Use it now").await?;
    // Back to the first version, at a host that fails at one of its files.
    site.instead("sw.js", Some(worker));
    site.instead("www/style.css", None);
    let end = end_of_update(&session).await?;
    ensure(end == "installed", || format!("the version that is here came to {end}"))?;
    session.until("nothing to be offered", "return document.getElementById('news').hidden").await?;
    let after = session.script(CACHES).await?;
    let whole = after.as_str().is_some_and(|after| after.contains(&before));
    ensure(whole, || format!("kept before: {before}; after: {after}"))?;
    site.instead("www/style.css", Some(style));
    drop(site);
    session.open("#/write").await?;
    writes(&session, "a ferry").await?;
    ensure(session.script(NEW).await? == false, || "the version was changed".to_owned())
}

/// A new version that the browser found before the page could hear of it is offered all the same.
pub async fn a_version_found_early_is_offered(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    visit(&session).await?;
    site.publish("www/style.css", RULE)?;
    // The browser looks for it by itself when the page is opened; a page that registers late hears of nothing.
    let late = "const found = navigator.serviceWorker.register;
        navigator.serviceWorker.register = async function (...all) {
            const here = await navigator.serviceWorker.getRegistration();
            here.update();
            while (!here.installing && !here.waiting) await new Promise((done) => setTimeout(done, 5));
            return found.apply(this, all);
        };";
    session.devtools("Page.addScriptToEvaluateOnNewDocument", serde_json::json!({"source": late})).await?;
    session.open("#/write").await?;
    session.find("button", "Use it now").await.map(drop)
}

/// A network that asks for a password first answers with a page of its own, with status 200 and to be kept for a day, in the place
/// of each file in turn: once it lets everything through, the page opens, whole and in its style.
pub async fn a_password_page_leaves_nothing_broken(mut session: Session) -> Outcome {
    let (first, whole) = ("#/write", "#/transcribe");
    for (file, address) in [
        ("www/start.js", first),
        ("www/style.css", first),
        ("www/pkg/cellwright.js", first),
        ("www/pkg/cellwright_bg.wasm", first),
        ("www/pkg/whole.js", whole),
        ("www/pkg/whole_bg.wasm", whole),
        ("www/data/words.txt", "#/"),
    ] {
        // An origin of its own for each: nothing is in the browser's cache.
        let site = Site::copied()?;
        session.site.clone_from(&site.address);
        site.asks_for_a_password(&[file]);
        session.client.goto(&format!("{}{address}", session.site)).await?;
        // It has been asked for: some things may work already, nothing is waited for.
        tokio::time::sleep(std::time::Duration::from_millis(2500)).await;
        site.asks_for_a_password(&[]);
        session.client.goto("about:blank").await?;
        session.client.goto(&format!("{}{address}", session.site)).await?;
        let stands = "return !!document.querySelector('main h1') && getComputedStyle(document.querySelector('.head')).display === 'flex'";
        session.until(&format!("the page after {file}"), stands).await?;
        if file.contains("data") {
            session.script("location.hash = '#/write'").await?;
        }
        if address == first {
            writes(&session, "a ferry").await?;
        }
        let kept = "return !!(await navigator.serviceWorker.getRegistration())?.active";
        session.until(&format!("the service worker after {file}"), kept).await?;
    }
    Ok(())
}

/// The same in the place of what comes later, when another room is asked for: it is said, and asked for again once the network
/// lets everything through.
pub async fn a_password_page_in_place_of_the_second_download(mut session: Session) -> Outcome {
    for file in ["www/pkg/whole_bg.wasm", "www/pkg/whole.js"] {
        let site = Site::copied()?;
        session.site.clone_from(&site.address);
        // Without the service worker, which would have it already.
        site.instead("sw.js", None);
        session.open("#/write").await?;
        site.asks_for_a_password(&[file]);
        session.find("link", "Signs").await?.click().await?;
        session.find("heading", "This room could not be loaded").await?;
        site.asks_for_a_password(&[]);
        session.find("button", "Try again").await?.click().await?;
        session.find("heading", "Signs").await?;
    }
    Ok(())
}

/// A file that the browser has thrown out of what is kept is put back, checked: not from a network that asks for a password first.
pub async fn a_file_thrown_out_is_put_back(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    let before = visit(&session).await?;
    let file = "www/pkg/cellwright_bg.wasm";
    let throw_out = format!(
        "for (const name of await caches.keys()) await (await caches.open(name)).delete(new URL('{file}', document.baseURI).href)"
    );
    session.script(&throw_out).await?;
    site.asks_for_a_password(&[file]);
    session.client.goto("about:blank").await?;
    session.client.goto(&format!("{}#/write", session.site)).await?;
    session.until("the plain page", "return document.getElementById('trouble')?.hidden === false").await?;
    site.asks_for_a_password(&[]);
    session.open("#/write").await?;
    writes(&session, "a ferry").await?;
    let after = session.script(CACHES).await?;
    ensure(after == Value::String(before.clone()), || format!("kept before: {before}; after: {after}"))?;
    // And is there without a network.
    drop(site);
    session.open("#/write").await
}

async fn writes_more(session: &Session) -> Outcome {
    session.write(&ueb::transcribe("o", &Options { contracted: false, ..Options::default() })).await?;
    session.expect("status", "Reads as", "too").await
}

pub async fn with_two_tabs_a_new_version_waits(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    visit(&session).await?;
    let first = session.client.window().await?;
    let second = session.client.new_window(true).await?.handle;
    session.client.switch_to_window(second).await?;
    session.open("#/write").await?;
    writes(&session, "to").await?;
    session.client.switch_to_window(first.clone()).await?;
    site.publish("www/style.css", RULE)?;
    comes(&session, COMING).await?;
    session.find("button", "Use it now").await?.click().await?;
    session
        .until(
            "the words about the other tab",
            "return document.getElementById('news').textContent.includes('another tab')",
        )
        .await?;
    ensure(session.script(NEW).await? == false, || "the version was changed under another tab".to_owned())?;
    for handle in session.client.windows().await? {
        if handle != first {
            session.client.switch_to_window(handle).await?;
            session.expect("status", "Reads as", "to").await?;
            session.client.close_window().await?;
        }
    }
    session.client.switch_to_window(first).await?;
    session.find("button", "Use it now").await?.click().await?;
    session.until("the new version", NEW).await
}

pub async fn a_failed_update_leaves_the_old_version_whole(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    let before = visit(&session).await?;
    site.publish("www/style.css", RULE)?;
    // At each file in turn the host fails, or gives a file that is not of this version.
    let half = Some(b"/* half an upload".to_vec());
    for (file, bytes) in [
        ("www/style.css", None),
        ("www/style.css", half.clone()),
        ("index.html", half.clone()),
        ("www/start.js", half.clone()),
        ("www/pkg/cellwright.js", half.clone()),
        ("www/pkg/cellwright_bg.wasm", half.clone()),
        ("www/pkg/whole.js", half.clone()),
        ("www/pkg/whole_bg.wasm", None),
        ("www/data/words.txt", half),
    ] {
        site.instead(file, bytes);
        let end = end_of_update(&session).await?;
        site.restore(file);
        ensure(end == "redundant", || format!("{file}: the broken version came to {end}"))?;
        let after = session.script(CACHES).await?;
        ensure(after == Value::String(before.clone()), || format!("kept before: {before}; after: {after}"))?;
    }
    let news = session.script("return document.getElementById('news').hidden").await?;
    ensure(news == true, || "a broken version is offered".to_owned())?;
    drop(site);
    session.open("#/write").await?;
    writes(&session, "a ferry").await
}
