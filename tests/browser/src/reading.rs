//! The Read room as it is used: actual size, line by line, facing print.

use serde_json::Value;

use crate::browser::{Outcome, Session, ensure};

async fn number(session: &Session, script: &str) -> Outcome<f64> {
    Ok(session.script(script).await?.as_f64().unwrap_or(f64::NAN))
}

async fn opened(session: &Session) -> Outcome {
    session.open("#/read").await?;
    session.until("the shelf", "return document.querySelectorAll('.shelf option').length > 40").await?;
    session
        .script(
            "const at = document.querySelector('.shelf select'); at.value = 'A piano for Little Fenn'; at.dispatchEvent(new Event('change', {bubbles: true}))",
        )
        .await?;
    session
        .until(
            "the piano",
            "return document.querySelector('.reading-room h2')?.textContent === 'A piano for Little Fenn'",
        )
        .await
}

/// Where the drawn card was made as wide as a bank card (85.60 mm, ISO/IEC 7810 ID-1), a cell is 6.2 mm from the next, a
/// line 10.0 mm from the next and dots are 2.34 mm apart (Specification 800, section 3.2).
pub async fn actual_size_is_the_size_of_paper(session: Session) -> Outcome {
    opened(&session).await?;
    session.find("button", "Actual size").await?.click().await?;
    session.until("the card", "return !!document.querySelector('.measure .card')").await?;
    // A screen of 96 pixels an inch, by the keys of the slider: 85.60 mm are 323.5 pixels; a finer one by more keys.
    for width in [324.0, 400.0] {
        let set = format!(
            "const at = document.querySelector('.measure input'); at.value = {width}; at.dispatchEvent(new Event('input', {{bubbles: true}}))"
        );
        session.script(&set).await?;
        session.until("the card's width", &format!("return Math.round(document.querySelector('.measure .card').getBoundingClientRect().width) >= {width}")).await?;
        session.picture(&format!("read-measure-{width}"), 1280).await?;
        session.find("button", "It is as wide as my card").await?.click().await?;
        session.until("the sheet again", "return !document.querySelector('.measure')").await?;
        let millimetre = width / 85.6;
        // The drawing's own units, from its dots: their smallest distances across and down.
        let scale = number(
            &session,
            "const at = document.querySelector('.paper'); return at.getBoundingClientRect().width / at.viewBox.baseVal.width",
        )
        .await?;
        let lines = number(&session, "return document.querySelector('.paper').getBoundingClientRect().height / document.querySelectorAll('.paper').length").await?;
        let rows =
            number(&session, "return document.querySelector('.paper').viewBox.baseVal.height / 4.27").await?;
        let dots = session
            .script(
                "const across = [...document.querySelector('.paper .dot').getAttribute('d').matchAll(/M([\\d.]+) /g)].map((one) => +one[1]);
                return [...new Set(across)].sort((a, b) => a - b).slice(0, 4)",
            )
            .await?;
        let across: Vec<f64> = serde_json::from_value(dots).unwrap_or_default();
        ensure(across.len() == 4, || format!("dots at {across:?}"))?;
        let near = |what: &str, pixels: f64, wanted: f64| {
            let is = pixels / millimetre;
            ensure((is / wanted - 1.0).abs() < 0.01, || format!("{what} is {is:.3} mm and not {wanted} mm"))
        };
        near("from dot to dot", (across[1] - across[0]) * scale, 2.34)?;
        near("from cell to cell", (across[2] - across[0]) * scale, 6.2)?;
        near("from line to line", lines / rows, 10.0)?;
        if width < 400.0 {
            session.find("button", "Measure this screen again").await?.click().await?;
            session.until("the card", "return !!document.querySelector('.measure .card')").await?;
        }
    }
    // It is asked once.
    session.open("#/read").await?;
    session.find("button", "Actual size").await?.click().await?;
    ensure(session.script("return !document.querySelector('.measure')").await? == Value::Bool(true), || {
        "it is asked again".to_owned()
    })
}

/// One line at a time: it alone is drawn, with its print beside it; buttons and keys go on; a clue is for its cell.
pub async fn line_by_line(session: Session) -> Outcome {
    opened(&session).await?;
    let choose = |label: &str, n: usize| {
        format!(
            "const at = [...document.querySelectorAll('.view label')].find((label) => label.textContent.startsWith('{label}')).querySelector('select');
            at.selectedIndex = {n}; at.dispatchEvent(new Event('change', {{bubbles: true}}))"
        )
    };
    let high = "return document.querySelector('.paper').viewBox.baseVal.height";
    let page = number(&session, high).await?;
    session.script(&choose("Read", 1)).await?;
    session.script(&choose("Show", 2)).await?;
    session.until("one line", "return document.querySelector('.paper').viewBox.baseVal.height < 5").await?;
    ensure(page > 40.0, || format!("a page was {page} high"))?;
    session.until("its print", "return document.querySelectorAll('.print-side p').length === 1").await?;
    let print = "return document.querySelector('.print-side').textContent";
    let first = session.script(print).await?;
    // The blank line under the heading is passed over.
    session.find("button", "Next line").await?.click().await?;
    session
        .until(
            "the third line",
            "return document.querySelector('aside h2').textContent === 'Clues for line 3, cell 1'",
        )
        .await?;
    ensure(session.script(print).await? != first, || "the same print stands beside it".to_owned())?;
    session.picture("read-line", 1280).await?;
    session.picture("read-line", 390).await?;
    session.script("document.querySelector('.sheet-text').focus()").await?;
    session.press('\u{e013}').await?;
    session
        .until(
            "the line before",
            "return document.querySelector('aside h2').textContent.startsWith('Clues for line 2')",
        )
        .await?;
    // It is kept.
    session.open("#/read").await?;
    session
        .until(
            "line by line again",
            "return (document.querySelector('.paper')?.viewBox.baseVal.height ?? 99) < 5",
        )
        .await?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}
