//! Accessibility: axe-core reports nothing, in every room, state and theme. Its pinned copy is fetched by `tests/run`.

use cellwright::exercise::Exercise;
use cellwright::ueb::{self, Options};

use crate::browser::{Failed, Outcome, Session, ensure};
use crate::drill::answer_one;
use crate::site::project;

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
    let prepare = "for (const one of document.querySelectorAll('main details')) one.open = true;
        for (const motion of document.getAnimations()) motion.finish();";
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
    // A drill, with a wrong answer and a clue.
    session.open("#/").await?;
    answer_one(&session).await?;
    look(&session, "a drill", &mut found).await?;
    session.open("#/record").await?;
    look(&session, "Record, with answers", &mut found).await?;
    session.open("#/set").await?;
    session.find("textbox", "Text, one item a line").await?.send_keys("The galley is open.").await?;
    session.find("link", "See it as the learner will").await?;
    look(&session, "Set work, with a link", &mut found).await?;
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
