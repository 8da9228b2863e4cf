//! How long a sheet of 1,000 cells takes to draw in each look, in one browser run.

use std::time::Duration;

use serde_json::json;

use crate::browser::{Failed, Outcome, Session, ensure};
use crate::trace::{Trace, until_painted};

/// Looks beside ink, each with the keys that choose it in the list: first another look, then this one. Ink and interpoint
/// are drawn anew after dot numbers, raised after ink.
const LOOKS: [(&str, [char; 2]); 3] = [
    ("ink", ['\u{e010}', '\u{e011}']),
    ("raised", ['\u{e011}', '\u{e015}']),
    ("interpoint", ['\u{e010}', '\u{e013}']),
];
/// Times each is drawn.
const TIMES: usize = 15;

/// The times of each look in microseconds of the main thread, from the key that chooses it to the paint.
pub async fn times(session: &Session) -> Outcome<Vec<(&'static str, Vec<f64>)>> {
    // Two full pages, so that there is another side; about four dots a cell.
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
    session.open_text("sheet.brf").await?;
    let cells = session
        .script(
            "return (document.querySelector('.paper .dot')?.getAttribute('d') ?? '').split('M').length - 1",
        )
        .await?;
    ensure(cells.as_u64().unwrap_or(0) >= 3_000, || format!("the sheet has {cells} dots"))?;
    let mut found = Vec::new();
    session.script("document.querySelector('.view select').focus()").await?;
    for (look, keys) in LOOKS {
        // Away from the look that the first key chooses, so that it too is painted.
        session.press(keys[1]).await?;
        tokio::time::sleep(Duration::from_millis(300)).await;
        let times = painted(session, keys).await?;
        found.push((look, times.into_iter().skip(1).step_by(2).collect()));
    }
    Ok(found)
}

/// The times of both choices by turns. The browser now and then paints two choices in one frame; then nothing can be
/// told, and all are made again.
async fn painted(session: &Session, keys: [char; 2]) -> Outcome<Vec<f64>> {
    for more in 0..3 {
        let trace = Trace::begin(session).await?;
        for _ in 0..TIMES {
            for key in keys {
                session.press(key).await?;
                tokio::time::sleep(Duration::from_millis(150 * (more + 1))).await;
            }
        }
        let (times, _) = until_painted(&trace.end().await?, "keydown", "keydown");
        if times.len() == 2 * TIMES {
            return Ok(times);
        }
        println!("{} of {} choices had a frame of their own; all are made again", times.len(), 2 * TIMES);
    }
    Err(Failed(format!("not each of {} choices was painted, three times over", 2 * TIMES)))
}
