//! Links of exercises: the page stands at a sub-path of an origin of its own, in a profile that has never seen it.

use cellwright::exercise::{Exercise, envelope};

use crate::browser::{Outcome, Session, ensure};

fn exercise() -> Exercise {
    Exercise {
        title: "Notice 2".into(),
        text: "The 10:30 ferry leaves from Hallam Quay.".into(),
        dot_numbers_only: true,
        ..Exercise::default()
    }
}

pub async fn an_exercise_opens_at_a_sub_path(session: Session) -> Outcome {
    let set = exercise();
    let payload = set.to_payload()?;
    session.open(&format!("#/x/{payload}")).await?;
    session.find("heading", "Notice 2").await?;
    session
        .until(
            "the print to copy",
            &format!("return document.querySelector('main').textContent.includes({:?})", set.text),
        )
        .await?;
    let numbers = session.find("checkbox", "Dot numbers only").await?;
    ensure(numbers.is_selected().await?, || "the teacher's dot numbers only is not on".to_owned())?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

pub async fn fifty_damaged_links_each_say_so(session: Session) -> Outcome {
    let good = exercise().to_payload()?;
    let mut damaged: Vec<String> = Vec::new();
    damaged.extend((1..=15).map(|n| good[..n * (good.len() - 1) / 15].to_owned()));
    damaged.extend((0..20).map(|n| {
        let at = n * (good.len() - 1) / 19;
        let other = if good.as_bytes()[at] == b'Q' { "R" } else { "Q" };
        format!("{}{other}{}", &good[..at], &good[at + 1..])
    }));
    damaged.extend((1..=5).map(|n| format!("1-{}", "A".repeat(envelope::PAYLOAD * n))));
    damaged.extend(
        ["0", "2", "3", "9", "10", "99", "999999", "x", "01", "1.0"].map(|v| good.replacen('1', v, 1)),
    );
    ensure(damaged.len() == 50, || format!("there are {}", damaged.len()))?;
    // A place that keeps nothing of its own.
    session.open("#/nowhere").await?;
    session.script("localStorage.setItem('kept', 'as it was')").await?;
    let stored = "return JSON.stringify(Object.entries(localStorage).sort())";
    let before = session.script(stored).await?;
    for (number, payload) in damaged.iter().enumerate() {
        session.open(&format!("#/x/{payload}")).await?;
        let said = "const said = document.querySelector('main [role=alert]');
            return said ? said.textContent : ''";
        let words = session.script(said).await?;
        let words = words.as_str().unwrap_or_default();
        ensure(words.starts_with("This link") && words.ends_with('.'), || {
            format!("link {} ({}…) is answered by {words:?}", number + 1, &payload[..payload.len().min(40)])
        })?;
        let errors = session.console_errors().await?;
        ensure(errors.is_empty(), || format!("link {}: the console holds {errors:?}", number + 1))?;
    }
    let after = session.script(stored).await?;
    ensure(before == after, || format!("stored before: {before}, after: {after}"))?;
    // The page works as ever.
    session.find("link", "Write").await?.click().await?;
    session.find("textbox", "Braille").await.map(drop)
}
