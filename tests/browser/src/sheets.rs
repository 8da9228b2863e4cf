//! How long a sheet of 1,000 cells takes to draw in each look, in one browser run.

use serde_json::json;

use crate::browser::{Outcome, Session, ensure};
use crate::trace::{Trace, until_painted};

/// Looks beside ink, by their places in the list.
const LOOKS: [(&str, usize); 3] = [("ink", 0), ("raised", 1), ("interpoint", 2)];
/// Times each is drawn.
const TIMES: usize = 15;

/// The times of each look in microseconds of the main thread, from the choice to the paint; every time, the sheet shows
/// dot numbers before.
pub async fn times(session: &Session) -> Outcome<Vec<(&'static str, Vec<f64>)>> {
    // Two full pages, so that there is another side; every cell has four dots.
    let page = vec!["PQRT/VPQRTPQRTPQRT/VPQRTPQRT/VPQRTPQRTPQ"; 25].join("\n");
    let text = format!("{page}\n\u{c}{page}");
    let own = json!([{"title": "sheet.brf", "text": text, "brf": true, "contracted": false}]);
    session.open("#/read").await?;
    let keep = json!({"version": 1, "value": own}).to_string();
    session
        .client
        .execute("localStorage.setItem('cellwright.shelf', arguments[0])", vec![json!(keep)])
        .await?;
    session.open("#/read").await?;
    let pick = "const at = document.querySelector('.shelf select'); at.value = 'sheet.brf'; at.dispatchEvent(new Event('change', {bubbles: true}))";
    session
        .until(
            "the shelf",
            "return [...document.querySelectorAll('.shelf option')].some((one) => one.value === 'sheet.brf')",
        )
        .await?;
    session.script(pick).await?;
    session
        .until("the sheet", "return document.querySelector('.reading-room h2')?.textContent === 'sheet.brf'")
        .await?;
    let cells = session
        .script(
            "return (document.querySelector('.paper .dot')?.getAttribute('d') ?? '').split('M').length - 1",
        )
        .await?;
    ensure(cells.as_u64().unwrap_or(0) >= 4_000, || format!("the sheet has {cells} dots"))?;
    let mut found = Vec::new();
    for (look, place) in LOOKS {
        let trace = Trace::begin(session).await?;
        for _ in 0..TIMES {
            for n in [3, place] {
                session
                    .script(&format!(
                        "const at = document.querySelector('.view select'); at.selectedIndex = {n}; at.dispatchEvent(new Event('change', {{bubbles: true}}))"
                    ))
                    .await?;
                tokio::time::sleep(std::time::Duration::from_millis(120)).await;
            }
        }
        let (times, _) = until_painted(&trace.end().await?, "change", "change");
        ensure(times.len() == 2 * TIMES, || {
            format!("{} of {} choices were painted", times.len(), 2 * TIMES)
        })?;
        found.push((look, times.into_iter().skip(1).step_by(2).collect()));
    }
    Ok(found)
}
