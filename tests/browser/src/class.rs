//! The class sheet of the room Set work: slips of several learners pasted at once, kept, told apart, looked at.

use cellwright::exercise::{Exercise, Slip};

use crate::browser::{Outcome, Session, ensure};

pub fn slip(by: &str, day: &str, work: &str, right: u32) -> Outcome<String> {
    let set = Exercise { title: "Notice 2".into(), text: "the mother met".into(), ..Exercise::default() };
    let slip = Slip {
        title: set.title.clone(),
        by: by.into(),
        day: day.into(),
        right,
        asked: 3,
        seconds: 90,
        work: work.into(),
        set: Some(set),
        ..Slip::default()
    };
    Ok(format!("https://school.example/#/r/{}", slip.to_payload()?))
}

const ROWS: &str = "[...document.querySelectorAll('table[aria-label=\"Class sheet\"] tbody tr')].map((row) => [...row.children].slice(0, 6).map((one) => one.textContent).join('; '))";

pub async fn slips_of_a_class_become_a_table(session: Session) -> Outcome {
    session.open("#/set").await?;
    // Braille of the words: sections 10.3 and 10.7 of the standard: "! "m met". The third score is made up.
    let links = [
        slip("Ida", "2026-11-02", "! mother mit", 1)?,
        slip("Ida", "2026-11-09", "! \"m met", 3)?,
        slip("Tam", "2026-11-02", "! mother mit", 3)?,
        slip("Ida", "2026-11-02", "! mother mit", 1)?,
        "https://school.example/#/r/1-cut".to_owned(),
    ];
    let field = session.find("textbox", "Links of result slips").await?;
    field.send_keys(&links.join(" ")).await?;
    session.find("button", "Add the slips").await?.click().await?;
    session
        .expect(
            "status",
            "Slips taken in",
            "3 slips added; 1 slip already on the sheet; 1 slip could not be opened: cut short or changed on the way, so ask again for what is missing.",
        )
        .await?;
    let rows = session.script(&format!("return {ROWS}")).await?;
    let ida = "Ida; Notice 2; 1 of 3; 3 of 3; 3 min 00 s; none";
    let tam =
        "Tam; Notice 2; 1 of 3; –; 1 min 30 s; mirrored 1, contraction missed 1 The slip says otherwise.";
    ensure(rows == serde_json::json!([ida, tam]), || format!("the rows are {rows}"))?;
    // By the last try, and the other way round.
    session.find("button", "Who ▴").await?.click().await?;
    let rows = session.script(&format!("return {ROWS}.map((row) => row.slice(0, 3)).join()")).await?;
    ensure(rows == "Tam,Ida", || format!("sorted the other way they are {rows}"))?;
    // It is there after a reload.
    session.client.refresh().await?;
    session.until("the table again", &format!("return {ROWS}.length === 2")).await?;
    session.find("button", "An exercise on what costs most").await?.click().await?;
    session.find("textbox", "Link").await?;
    session.picture("class-sheet", 1280).await?;
    session.find("button", "Empty the class sheet").await?.click().await?;
    session.find("button", "Empty it").await?.click().await?;
    session.until("no table", &format!("return {ROWS}.length === 0")).await
}
