//! Accessibility: axe-core reports nothing, in every room, state and theme. Its pinned copy is fetched by `tests/run`.

use cellwright::exercise::Exercise;
use cellwright::ueb::{self, Options};

use crate::browser::{Failed, Outcome, Session, ensure};
use crate::site::project;
use crate::{one_file, states};

/// Where `tests/run` puts it, with its version.
const AXE: &str = "target/axe-core-4.14.1/axe.min.js";
const THEMES: [&str; 3] = ["light", "dark", "contrast"];

/// Loads axe-core into the page.
async fn load(session: &Session) -> Outcome {
    let axe = std::fs::read_to_string(project().join(AXE))
        .map_err(|_| Failed(format!("{AXE} is missing: tests/run fetches it")))?;
    session.client.execute(&axe, Vec::new()).await?;
    Ok(())
}

/// Runs axe-core over the page as it is, in all themes, and adds what it reports to `found`.
async fn look(session: &Session, state: &str, found: &mut Vec<String>) -> Outcome {
    load(session).await?;
    // What unfolds is part of the state; motion would blur the contrast.
    session.unfold().await?;
    let prepare = "for (const motion of document.getAnimations()) motion.finish();";
    session.script(prepare).await?;
    for theme in THEMES {
        let run = format!(
            "document.documentElement.dataset.theme = '{theme}';
             await new Promise((done) => requestAnimationFrame(() => setTimeout(done, 250)));
             const report = await axe.run(document, {{resultTypes: ['violations', 'incomplete']}});
             return report.violations.flatMap((rule) => rule.nodes.map((node) =>
                 `${{rule.id}}: ${{node.html.slice(0, 160)}} (${{(node.any[0] ?? node.all[0] ?? node.none[0])?.message ?? rule.help}})`))"
        );
        let report = session.script(&run).await?;
        let report = report.as_array().ok_or_else(|| Failed(format!("axe-core gave {report}")))?;
        found.extend(
            report.iter().map(|one| format!("{state}, {theme}: {}", one.as_str().unwrap_or_default())),
        );
    }
    Ok(())
}

fn nothing(found: Vec<String>) -> Outcome {
    ensure(found.is_empty(), || format!("axe-core reports {}:\n  {}", found.len(), found.join("\n  ")))
}

/// The check itself can fail: a planted fault is reported.
pub async fn a_planted_fault_is_reported(session: Session) -> Outcome {
    session.open("#/write").await?;
    // The whole page is there when the fault is planted, and does not take its place.
    session.unfold().await?;
    let plant = "document.querySelector('main').insertAdjacentHTML('beforeend',
        '<button></button><p style=\"color:#bbb;background:#fff\">Too faint to read</p>')";
    session.script(plant).await?;
    let mut found = Vec::new();
    look(&session, "planted", &mut found).await?;
    for rule in ["button-name", "color-contrast"] {
        ensure(found.iter().any(|one| one.contains(rule)), || format!("{rule} is not among {found:?}"))?;
    }
    Ok(())
}

pub async fn the_rooms_as_they_are_entered(session: Session) -> Outcome {
    let mut found = Vec::new();
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
        tokio::time::sleep(std::time::Duration::from_millis(300)).await;
        look(&session, address, &mut found).await?;
    }
    nothing(found)
}

pub async fn the_rooms_at_work(session: Session) -> Outcome {
    let mut found = Vec::new();
    let cells = ueb::transcribe("The 10:30 ferry leaves", &Options::default());
    // Writing, then marked; once more with dot numbers only.
    session.open("#/write").await?;
    session.write(&cells).await?;
    look(&session, "Write, written", &mut found).await?;
    session.find("button", "Mark my work").await?.click().await?;
    look(&session, "Write, marked", &mut found).await?;
    session.open("#/write").await?;
    session.switch("Dot numbers only", true).await?;
    session.write(&cells).await?;
    look(&session, "Write, dot numbers only", &mut found).await?;
    session.switch("Dot numbers only", false).await?;
    session.open("#/transcribe").await?;
    session.write(&cells).await?;
    session.find("button", "Mark my work").await?.click().await?;
    look(&session, "Transcribe, marked", &mut found).await?;
    nothing(found)
}

/// With something in each: marked work, a sign open, some weeks of record, a sheet with a mark, a link made, a slip.
pub async fn the_rooms_as_they_are_pictured(session: Session) -> Outcome {
    let mut found = Vec::new();
    for room in states::ROOMS {
        states::stand(&session, room).await?;
        look(&session, room, &mut found).await?;
    }
    // Proofread once more: handed in, with what was found and missed; then its other two places.
    states::stand(&session, "proofread").await?;
    session.find("button", "I am done").await?.click().await?;
    session.find("heading", "What was planted").await?;
    look(&session, "Proofread, done", &mut found).await?;
    for place in ["Trial hand-in", "Reading desk"] {
        session.find("button", place).await?.click().await?;
        look(&session, place, &mut found).await?;
    }
    session.find("button", "Trial hand-in").await?.click().await?;
    session.find("button", "Begin the trial").await?.click().await?;
    session.find("textbox", "Braille").await?;
    look(&session, "a trial", &mut found).await?;
    // The question before a record is merged; sheets and cards.
    let folder = tempfile::TempDir::new()?;
    let file = folder.path().join("record.txt");
    std::fs::write(
        &file,
        "cellwright record 1\na1-0\t1700000000000\tanswer\tletter a\tread\tright\t900\t0\t\t\n",
    )?;
    states::stand(&session, "record").await?;
    let input = session.client.find(fantoccini::Locator::Css("main input[type=file]")).await?;
    input.send_keys(&file.display().to_string()).await?;
    session.find("button", "Merge: keep both").await?;
    look(&session, "the question about a record", &mut found).await?;
    session.open("#/signs").await?;
    session.find("button", "Print sheets and cards").await?.click().await?;
    look(&session, "sheets and cards", &mut found).await?;
    session.open("#/").await?;
    session.open("#/course?unit=strong-h").await?;
    session.until("a lesson", "return document.querySelectorAll('.lesson-signs li').length > 3").await?;
    look(&session, "the course", &mut found).await?;
    nothing(found)
}

/// Each drill as it asks, and as it answers where an answer can be typed.
pub async fn every_drill(session: Session) -> Outcome {
    let mut found = Vec::new();
    session.open("#/").await?;
    session
        .script("localStorage.setItem('cellwright.unit', JSON.stringify({version: 1, value: 20}))")
        .await?;
    session.open("#/").await?;
    crate::drill::choose_freely(&session).await?;
    let count = session.script("return document.querySelectorAll('.practise select option').length").await?;
    for n in 0..count.as_u64().unwrap_or(0) {
        let name = session
            .script(&format!(
                "const at = document.querySelector('.practise select'); at.selectedIndex = {n}; at.dispatchEvent(new Event('change', {{bubbles: true}}));
                 return at.value"
            ))
            .await?;
        session.until("the drill", "return !!document.querySelector('.practise .drill')").await?;
        look(&session, &format!("drill {name}"), &mut found).await?;
        if session.script("return !!document.querySelector('.drill form input[type=text]')").await? == true {
            session
                .client
                .find(fantoccini::Locator::Css(".drill form input[type=text]"))
                .await?
                .send_keys("zz\u{e007}")
                .await?;
            look(&session, &format!("drill {name}, answered"), &mut found).await?;
        }
    }
    ensure(count.as_u64() > Some(15), || format!("{count} drills"))?;
    nothing(found)
}

/// The one file from a disk: its rooms are the same, and what only it has.
pub async fn the_one_file(mut session: Session) -> Outcome {
    let mut found = Vec::new();
    one_file::from_disk(&mut session).await?;
    for address in ["#/", "#/read", "#/write", "#/transcribe", "#/proofread", "#/signs", "#/record", "#/set"]
    {
        session.open(address).await?;
        look(&session, &format!("from a disk, {address}"), &mut found).await?;
    }
    nothing(found)
}

/// What the first half shows while the other is on its way, and when it does not come.
pub async fn the_first_half_alone(session: Session) -> Outcome {
    let mut found = Vec::new();
    session.open("#/write").await?;
    session.script("window.fetchWas = fetch; window.fetch = () => new Promise(() => {})").await?;
    session.find("link", "Signs").await?.click().await?;
    session
        .until(
            "the word of it",
            "return document.querySelector('[aria-label=Loading]')?.textContent.includes('being loaded')",
        )
        .await?;
    look(&session, "the other half on its way", &mut found).await?;
    session.open("#/write").await?;
    session.script("window.fetch = () => Promise.reject(new Error('no network'))").await?;
    session.find("link", "Signs").await?.click().await?;
    session.find("heading", "This room could not be loaded").await?;
    look(&session, "the other half did not come", &mut found).await?;
    nothing(found)
}

pub async fn links_good_and_damaged(session: Session) -> Outcome {
    let mut found = Vec::new();
    let payload =
        Exercise { title: "Notice 2".into(), text: "The galley is open.".into(), ..Exercise::default() }
            .to_payload()?;
    for (state, address) in [
        ("an exercise", format!("#/x/{payload}")),
        ("a damaged link", format!("#/x/{}", &payload[..payload.len() / 2])),
        ("a damaged slip", "#/r/1-AAAA".to_owned()),
    ] {
        session.open(&address).await?;
        look(&session, state, &mut found).await?;
    }
    nothing(found)
}

pub async fn the_plain_pages(session: Session) -> Outcome {
    let mut found = Vec::new();
    session.open("#/write").await?;
    session.script("document.getElementById('news').hidden = false").await?;
    look(&session, "a new version offered", &mut found).await?;
    session
        .script(
            "document.getElementById('news').hidden = true; document.getElementById('app').hidden = true;
        document.getElementById('trouble').hidden = false",
        )
        .await?;
    look(&session, "the page has stopped", &mut found).await?;
    nothing(found)
}
