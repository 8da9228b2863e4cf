//! When things go wrong around the page: a module that stops, storage that is full, refused or damaged, two tabs,
//! links made to harm.

use cellwright::cell;
use cellwright::exercise::{Exercise, Kind, Slip, envelope};
use serde_json::{Value, json};

use crate::browser::{Failed, Outcome, Session, cells, ensure};
use crate::drill::{answer_one, recorded};
use crate::site::{Site, project};

const WASM: &str = "www/pkg/cellwright_bg.wasm";
const STORED: &str = "return JSON.stringify(Object.entries(localStorage).sort())";
const STOPPED: &str =
    "return !document.getElementById('trouble').hidden && document.getElementById('app').hidden";

async fn quiet(session: &Session) -> Outcome {
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// The page has stopped and says so; the record is as it was, and the way back leads to a page that has it.
async fn stopped_and_back(session: &Session, before: &Value) -> Outcome {
    session.until("the plain page", STOPPED).await?;
    session.find("heading", "This page has stopped").await?;
    let after = session.script(STORED).await?;
    ensure(after == *before, || format!("stored before: {before}; after: {after}"))?;
    session.picture("stopped", 1280).await
}

/// Any static host will do, also one that gives WebAssembly no media type of its own: the page then takes longer to begin, and
/// that is all.
pub async fn a_host_that_knows_no_wasm_serves_the_page(mut session: Session) -> Outcome {
    let site = Site::of_project()?;
    site.knows_no_wasm();
    session.site.clone_from(&site.address);
    session.open("#/write").await?;
    session.write(&cell::from_ascii("f]ry").expect("cells")).await?;
    session.expect("status", "Reads as", "ferry").await
}

/// Nothing in the product panics on demand, so the module is damaged from outside: its whole memory is overwritten
/// while the page stands.
pub async fn a_module_that_stops_leaves_the_record(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    session.open("#/").await?;
    answer_one(&session).await?;
    let before = session.script(STORED).await?;
    ensure(before.as_str().is_some_and(|text| text.contains("journal")), || format!("stored: {before}"))?;
    // A script of the site's own: a driver's script may have modules of its own and no say in the page's. The same
    // modules as the page's, by the same addresses, as far as it has loaded them.
    let damage = "let count = 0;
        for (const name of ['cellwright', 'whole']) {
            const address = new URL(`www/pkg/${name}.js`, location.href).href;
            if (!performance.getEntriesByName(address).length) continue;
            const module = await import(address);
            const { memory } = await module.default();
            new Uint8Array(memory.buffer).fill(0xff, 1024);
            count += 1;
        }
        document.documentElement.dataset.damaged = count;";
    site.instead("www/damage.js", Some(damage.into()));
    session
        .script(
            "const damage = document.createElement('script');
            damage.type = 'module'; damage.src = 'www/damage.js'; document.head.append(damage)",
        )
        .await?;
    session.until("the damage", "return Number(document.documentElement.dataset.damaged) > 0").await?;
    session.script("location.hash = '#/write'").await?;
    stopped_and_back(&session, &before).await?;
    session.find("link", "Open the page again").await?.click().await?;
    session.until("the page", "return document.querySelectorAll('main h1').length === 1").await?;
    session.open("#/record").await?;
    recorded(&session, 1).await
}

/// A panic proper: the course's units are blotted out in the module that the server gives, so that the first screen,
/// which shows one of them, finds none.
pub async fn a_panic_shows_the_plain_page(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    // Without the service worker, which would notice the damage and keep to the whole version.
    site.instead("sw.js", None);
    session.open("#/").await?;
    answer_one(&session).await?;
    let before = session.script(STORED).await?;
    let mut wasm = std::fs::read(project().join(WASM))?;
    let course = std::fs::read_to_string(project().join("src/practice/units.txt"))?;
    for unit in course.lines().filter(|line| line.starts_with("unit: ")) {
        let at = wasm.windows(unit.len()).position(|part| part == unit.as_bytes());
        let at = at.ok_or_else(|| Failed(format!("\"{unit}\" is not in the module")))?;
        wasm[at..at + unit.len()].fill(b' ');
    }
    site.instead(WASM, Some(wasm));
    session.client.goto("about:blank").await?;
    session.client.goto(&format!("{}#/", session.site)).await?;
    stopped_and_back(&session, &before).await?;
    let errors = session.console_errors().await?;
    let panicked = errors.is_empty() || errors.iter().any(|error| error.contains("panicked"));
    ensure(panicked, || format!("no panic among {errors:?}"))?;
    site.instead(WASM, Some(std::fs::read(project().join(WASM))?));
    session.find("link", "Open the page again").await?.click().await?;
    session.until("the page", "return document.querySelectorAll('main h1').length === 1").await?;
    session.open("#/record").await?;
    recorded(&session, 1).await
}

pub async fn full_storage_is_told_and_nothing_is_lost(session: Session) -> Outcome {
    session.open("#/nowhere").await?;
    let fill = "let size = 4 * 1024 * 1024;
        for (let n = 0; size >= 1; n += 1) {
            try { localStorage.setItem('filler' + n, 'x'.repeat(size)); } catch { size = Math.floor(size / 2); }
        }";
    session.script(fill).await?;
    session.open("#/").await?;
    answer_one(&session).await?;
    session
        .until("the words about room", "return document.body.textContent.includes('no room left')")
        .await?;
    // The answer is not lost while the page is open, and can be saved as a file.
    session.find("link", "Record").await?.click().await?;
    recorded(&session, 1).await?;
    let file = session.find("link", "Save the record").await?.attr("href").await?.unwrap_or_default();
    ensure(file.contains("answer"), || format!("the saved record is {file}"))?;
    quiet(&session).await
}

pub async fn refused_storage_is_told_and_nothing_is_lost(session: Session) -> Outcome {
    // As when a person forbids sites to store anything: reading `localStorage` throws.
    let session = session.that_keeps_nothing().await?;
    let outcome = where_nothing_is_kept(&session).await;
    session.client.close().await?;
    outcome
}

async fn where_nothing_is_kept(session: &Session) -> Outcome {
    session.open("#/").await?;
    let refused = session.script("try { return !localStorage; } catch { return true; }").await?;
    ensure(refused == true, || "this browser keeps things after all".into())?;
    session
        .until(
            "the words about it",
            "return document.body.textContent.includes('keeps nothing for this page')",
        )
        .await?;
    answer_one(session).await?;
    session.find("link", "Record").await?.click().await?;
    recorded(session, 1).await?;
    session.find("link", "Save the record").await?;
    quiet(session).await
}

pub async fn two_tabs_keep_both_their_answers(session: Session) -> Outcome {
    session.open("#/").await?;
    let first = session.client.window().await?;
    let second = session.client.new_window(true).await?.handle;
    session.client.switch_to_window(second).await?;
    session.open("#/").await?;
    answer_one(&session).await?;
    session.client.switch_to_window(first).await?;
    answer_one(&session).await?;
    session.open("#/record").await?;
    recorded(&session, 2).await
}

pub async fn a_damaged_record_is_set_aside(session: Session) -> Outcome {
    session.open("#/").await?;
    answer_one(&session).await?;
    for address in ["#/write", "#/transcribe", "#/read", "#/set", "#/proofread", "#/signs"] {
        session.open(address).await?;
    }
    session.switch_theme("dark").await?;
    let keys = session
        .script("return Object.keys(localStorage).filter((key) => key.startsWith('cellwright')).sort()")
        .await?;
    let keys: Vec<String> = serde_json::from_value(keys)?;
    ensure(keys.len() >= 2, || format!("only {keys:?} is stored"))?;
    for (round, damage) in [
        "''",
        "'{'",
        "'null'",
        "'\\u0000\\ud800'",
        "'[' .repeat(20000)",
        "text.slice(0, text.length / 2)",
        "text + text",
        "text.replaceAll(/[0-9]+/g, '99999999999999999999')",
        "text.replaceAll(/\"[a-z]+\"/g, '\"x\"')",
        "JSON.stringify({version: 1, value: {dot: 1e300, theme: 7, lines: 5, keys: []}})",
    ]
    .into_iter()
    .enumerate()
    {
        // Every stored text is damaged, and whatever an earlier round set aside is kept.
        let set = format!(
            "for (const key of {}) {{ const text = localStorage.getItem(key) ?? ''; localStorage.setItem(key, {damage}); }}",
            serde_json::to_string(&keys)?
        );
        session.script(&set).await?;
        for address in ["#/", "#/write", "#/record", "#/transcribe", "#/set"] {
            session.open(address).await?;
            let stopped = session.script(STOPPED).await?;
            ensure(stopped == false, || format!("round {round}, {address}: the page has stopped"))?;
        }
        quiet(&session).await?;
    }
    let aside = session
        .script("return Object.keys(localStorage).filter((key) => key.includes('.aside')).length")
        .await?;
    ensure(aside.as_u64() > Some(0), || "nothing was set aside".into())
}

pub async fn links_made_to_harm(session: Session) -> Outcome {
    let evil =
        "<img src=x onerror=\"window.harmed=1\"><script>window.harmed=1</script>\u{202e}\u{0}{{7*7}}'\"&lt;";
    let exercise = Exercise {
        title: evil.into(),
        text: format!("{evil}\n{}", "a".repeat(19_000)),
        ..Exercise::default()
    };
    let slip = Slip { title: evil.into(), by: evil.into(), day: evil.into(), ..Slip::default() };
    // Payloads that are whole and say something else: other types, deep nesting, a bomb.
    let odd = |value: Value| envelope::seal(Kind::Exercise, &value).unwrap_or_else(|_| "1-".to_owned());
    let mut addresses = vec![
        format!("#/x/{}", exercise.to_payload()?),
        format!("#/r/{}", slip.to_payload()?),
        format!("#/x/{}", odd(json!({"text": 7, "title": []}))),
        format!("#/x/{}", odd(json!({"text": "a", "items": 1e300, "task": "__proto__"}))),
        format!("#/x/{}", odd(json!({"__proto__": {"x": 1}, "constructor": 1, "text": "b"}))),
        format!("#/x/{}", odd(json!(null))),
        format!("#/x/{}", odd(json!([[[[[[[[[[[[1]]]]]]]]]]]]))),
        format!("#/x/{}", odd(json!({"text": "a".repeat(200_000)}))),
        "#/x/javascript:window.harmed=1".to_owned(),
        "#javascript:window.harmed=1".to_owned(),
        "#/r/%3Cscript%3Ewindow.harmed=1%3C/script%3E".to_owned(),
        format!("#/read?text={}", "%3Cimg%20src=x%20onerror=window.harmed=1%3E"),
        format!("#/{}", "../".repeat(2000)),
        format!("#/x/{}", "9".repeat(300_000)),
        "#/x/%".to_owned(),
        "#/x/1-%F0%9F%92%A9".to_owned(),
    ];
    addresses.extend(["#//", "#", "#/x/", "#/r/", "#/x", "#/write/../../x/1-"].map(str::to_owned));
    for address in &addresses {
        session.open(address).await?;
        let look = "return JSON.stringify({harmed: !!window.harmed, planted: document.querySelectorAll('main img, main script, main iframe').length,
            stopped: !document.getElementById('trouble').hidden})";
        let found = session.script(look).await?;
        let short = &address[..address.len().min(60)];
        let well = r#"{"harmed":false,"planted":0,"stopped":false}"#;
        ensure(found == well, || format!("{short}: {found}"))?;
        let errors = session.console_errors().await?;
        ensure(errors.is_empty(), || format!("{short}: the console holds {errors:?}"))?;
    }
    Ok(())
}

/// A host that fails to bring the style: the page waits for it, but not for ever.
pub async fn without_its_style_the_page_opens(mut session: Session) -> Outcome {
    let site = Site::copied()?;
    session.site.clone_from(&site.address);
    site.instead("www/style.css", None);
    session.open("#/write").await?;
    session.find("textbox", "Braille").await?.click().await?;
    session.write(&cells("f]ry")).await?;
    session.expect("status", "Reads as", "ferry").await
}

/// So many words of the writing surface as text in the font of the cells, so many as shapes.
async fn drawn(session: &Session, font: usize, shapes: usize) -> Outcome {
    let look = format!(
        "const count = (what) => document.querySelectorAll('.surface .line ' + what).length;
         return count('.cells-text') === {font} && count('.drawn path') === {shapes}"
    );
    session.until(&format!("{font} words in the font, {shapes} as shapes"), &look).await
}

/// Opens a page, does something to its browser, and then writes a word in the room Write.
async fn ferry_written(session: &Session, first: &str) -> Outcome {
    session.open("#/nowhere").await?;
    session.script(&format!("{first}; location.hash = '#/write'")).await?;
    session.find("textbox", "Braille").await?.click().await?;
    session.press('\u{e003}').await?;
    session.write(&cells("f]ry")).await
}

/// Some people let no page choose its fonts: the browser takes the font and draws with another all the same.
pub async fn without_a_font_cells_are_shapes(session: Session) -> Outcome {
    ferry_written(&session, "").await?;
    drawn(&session, 1, 0).await?;
    session.find("button", "Start again").await?.click().await?;
    // The font comes a moment after the page.
    let first = "await new Promise((go) => { const look = () => document.fonts.size ? go() : setTimeout(look, 10); look() }); \
         document.fonts.clear()";
    ferry_written(&session, first).await?;
    drawn(&session, 0, 1).await?;
    session.expect("status", "Reads as", "ferry").await
}

/// A browser that takes no font from a page at all.
pub async fn where_no_font_is_taken_cells_are_shapes(session: Session) -> Outcome {
    let none = "window.FontFace = function () { throw new Error('no fonts') }";
    session.devtools("Page.enable", json!({})).await?;
    session.devtools("Page.addScriptToEvaluateOnNewDocument", json!({"source": none})).await?;
    ferry_written(&session, "").await?;
    drawn(&session, 0, 1).await?;
    session.expect("status", "Reads as", "ferry").await
}

/// The policy in force lets no inline script run and nothing be fetched from elsewhere.
pub async fn the_policy_holds(session: Session) -> Outcome {
    session.open("#/").await?;
    it_holds_here(&session).await
}

/// The same for the one file, whose own script is the only one that may run.
pub async fn the_policy_holds_in_the_one_file(mut session: Session) -> Outcome {
    crate::one_file::from_disk(&mut session).await?;
    session.open("#/").await?;
    session.find("link", "Practise one thing").await?;
    it_holds_here(&session).await
}

async fn it_holds_here(session: &Session) -> Outcome {
    let try_all = "const refused = [];
        addEventListener('securitypolicyviolation', (event) => refused.push(event.effectiveDirective));
        const script = document.createElement('script');
        script.textContent = 'window.harmed = 1';
        document.body.append(script);
        document.body.insertAdjacentHTML('beforeend', '<button id=probe onclick=\"window.harmed = 1\">p</button>');
        document.getElementById('probe').click();
        const image = new Image();
        image.src = 'http://127.0.0.1:9/x.png';
        const foreign = document.createElement('script');
        foreign.src = 'http://127.0.0.1:9/x.js';
        document.body.append(foreign);
        const fetched = await fetch('http://127.0.0.1:9/').then(() => 'fetched', () => 'refused');
        await new Promise((done) => setTimeout(done, 300));
        document.getElementById('probe').remove();
        return JSON.stringify([!!window.harmed, fetched, [...new Set(refused)].sort()])";
    let found = session.script(try_all).await?;
    let well = r#"[false,"refused",["connect-src","img-src","script-src-attr","script-src-elem"]]"#;
    ensure(found == well, || format!("{found}"))
}
