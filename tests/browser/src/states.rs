//! Every room with something in it, as its pictures show it and as it is checked.

use cellwright::cell;
use cellwright::exercise::{Count, Exercise, Slip, Task};
use cellwright::marking;
use cellwright::ueb::{self, Options};

use crate::browser::{END, Outcome, Session, cells};

/// The rooms, by the names of their pictures.
pub const ROOMS: [&str; 20] = [
    "first",
    "first-later",
    "session-new",
    "session-asked",
    "session-told",
    "session-keys",
    "session-summary",
    "course",
    "lesson",
    "find-place",
    "practise",
    "write",
    "settings",
    "read",
    "signs",
    "record",
    "transcribe",
    "proofread",
    "set-work",
    "slip",
];

const NOTICE: &str = "The 10:30 ferry leaves from Hallam Quay.";

/// The notice with a mirrored letter, and without a capital.
fn with_mistakes() -> Vec<cell::Cell> {
    let right = cell::to_ascii(&ueb::transcribe(NOTICE, &Options::default()));
    cells(&right.replacen(",hallam", ",jallam", 1).replacen(",quay", "quay", 1))
}

/// Some weeks of practice: each line of it as the record keeps it, the answers ending now.
fn some_weeks() -> String {
    let mut lines = vec!["cellwright record 1".to_owned()];
    let signs = [
        "letter h",
        "letter j",
        "letter r",
        "letter w",
        "groupsign st",
        "letter m",
        "groupsign sh",
        "letter p",
    ];
    for n in 0..240_usize {
        let sign = signs[n % signs.len()];
        // Fewer go wrong as time goes on; h and j, r and w are taken for each other.
        let wrong = n % 4 < 3 && n % (5 + n / 12) == 0;
        let (instead, cause) = match (wrong, sign) {
            (false, _) => ("", ""),
            (true, "letter h") => ("letter j", "eye"),
            (true, "letter j") => ("letter h", "eye"),
            (true, "letter r") => ("letter w", "eye"),
            (true, "letter w") => ("letter r", "hand"),
            (true, _) => ("letter t", "hand"),
        };
        let right = if wrong { "wrong" } else { "right" };
        let ms = 3000 - n * 8;
        lines.push(format!("a1-{n}\\t${{now - {} * 9e6}}\\tanswer\\t{sign}\\tread\\t{right}\\t{ms}\\t0\\t{instead}\\t{cause}", 240 - n));
    }
    lines.join("\\n")
}

/// A slip as a learner sends it, with the work in it.
fn a_slip() -> Outcome<String> {
    let set =
        Exercise { title: "Notice 2".into(), text: NOTICE.into(), task: Task::Write, ..Exercise::default() };
    let mirrored = Count { name: marking::Kind::Mirrored.words().to_owned(), times: 1 };
    let missing = Count { name: marking::Kind::MissingIndicator.words().to_owned(), times: 1 };
    let slip = Slip {
        title: set.title.clone(),
        by: "Isla of Orrin".into(),
        day: "2026-11-25".into(),
        right: 5,
        asked: 7,
        seconds: 185,
        findings: vec![mirrored, missing],
        work: cell::to_ascii(&with_mistakes()),
        set: Some(set),
        ..Slip::default()
    };
    Ok(slip.to_payload()?)
}

/// Opens a room and does there what fills it.
pub async fn stand(session: &Session, room: &str) -> Outcome {
    match room {
        "first" => session.open("#/").await?,
        "first-later" => crate::session::some_units_later(session).await?,
        "session-new" => session.open("#/session").await?,
        "session-asked" | "session-told" => {
            session.open("#/session").await?;
            crate::session::until_asked(session).await?;
            if room == "session-told" {
                session.press('z').await?;
                session.press(crate::browser::ENTER).await?;
                session.until("what it is", "return !!document.querySelector('.told')").await?;
            }
        }
        "session-keys" => crate::session::until_keys(session).await?,
        "session-summary" => {
            session.open("#/session").await?;
            crate::session::answer_some(session, 12).await?;
            session.find("button", "Leave").await?.click().await?;
            session.find("button", "Go on: another session").await?;
        }
        "course" => {
            session.open("#/course").await?;
            session.until("the units", "return !!document.querySelector('.course-units .cells')").await?;
        }
        "lesson" => {
            session.open("#/course?unit=lower-words").await?;
            session.find("button", "Walk through it: to be").await?.click().await?;
            session.until("its cells", "return !!document.querySelector('.walk')").await?;
        }
        "find-place" => {
            session.open("#/course?find=place").await?;
            session.until("a sign", "return !!document.querySelector('.asked .cells')").await?;
        }
        "practise" => {
            session.open("#/").await?;
            crate::drill::answer_one(session).await?;
        }
        "write" => {
            session.open("#/write").await?;
            session.write(&with_mistakes()).await?;
            session.click_in_the_middle("button", "Mark my work").await?;
            session.click_in_the_middle("button", "Next finding").await?;
            session
                .until(
                    "the reason",
                    "return document.querySelector('.findings')?.textContent.includes('section')",
                )
                .await?;
        }
        "settings" => {
            session.open("#/write").await?;
            session.unfold().await?;
        }
        "read" => {
            session.open("#/read").await?;
            session.open_text("A piano for Little Fenn").await?;
            // A page of the course as raised dots on guide lines, the print beside it covered.
            for (list, choice) in [("Look", "raised"), ("Guides", "guide lines"), ("Show", "covered")] {
                let choose = format!(
                    "const at = [...document.querySelectorAll('main label')].find((one) => one.textContent.startsWith({list:?})).querySelector('select');
                    const to = [...at.options].find((one) => one.value.includes({choice:?}) || one.textContent.includes({choice:?}));
                    if (to) {{ to.selected = true; at.dispatchEvent(new Event('change', {{bubbles: true}})); }}
                    return !!to"
                );
                session.until(list, &choose).await?;
            }
        }
        "signs" => {
            session.open("#/signs").await?;
            session.until("the chart", "return !!document.querySelector('.chart button')").await?;
            session.script("document.querySelectorAll('.chart button')[4].click()").await?;
        }
        "record" => {
            session.open("#/").await?;
            let keep = format!(
                "const now = Date.now(); localStorage.setItem('cellwright.journal.a1', `{}\\n`)",
                some_weeks()
            );
            session.script(&keep).await?;
            session.open("#/record").await?;
        }
        "transcribe" => {
            session.open("#/transcribe").await?;
            session.find("textbox", "Braille").await?;
            let copy = "return document.querySelector('.copy-line').textContent";
            let line = session.script(copy).await?;
            let line = ueb::transcribe(line.as_str().unwrap_or_default().trim(), &Options::default());
            session.with_control(&END.to_string()).await?;
            session.write(&cells("    ")).await?;
            session.type_cells(&line).await?;
            session.click_in_the_middle("button", "Mark my work").await?;
            session.find("heading", "How it came out").await?;
        }
        "proofread" => {
            session.open("#/proofread").await?;
            session.until("the sheet", "return !!document.querySelector('.cursor-sheet')").await?;
            session.script("document.querySelector('.sheet-text').focus()").await?;
            session.press('\u{e014}').await?;
            // Marks are kept: a second visit finds the cell marked, or the sheet handed in.
            let open = "return [...document.querySelectorAll('button')].some(one => ['Mark this cell', 'Take the mark off'].includes(one.textContent.trim()))";
            if session.script(open).await? != true {
                session.find("button", "Another sheet").await?.click().await?;
                session.script("document.querySelector('.sheet-text').focus()").await?;
                session.press('\u{e014}').await?;
            }
            let marked = "return [...document.querySelectorAll('button')].some(one => one.textContent.trim() === 'Take the mark off')";
            if session.script(marked).await? != true {
                session.find("button", "Mark this cell").await?.click().await?;
            }
        }
        "set-work" => {
            session.open("#/set").await?;
            session.find("textbox", "Title").await?.send_keys("Notice 2").await?;
            session.find("textbox", "Text, one item a line").await?.send_keys(NOTICE).await?;
            session.find("button", "See it as the learner will").await?;
        }
        "slip" => session.open(&format!("#/r/{}", a_slip()?)).await?,
        other => unreachable!("no room is called {other}"),
    }
    // Pictures are of the room, not of where the focus was left; and what follows at once has followed.
    session.script("document.activeElement?.blur(); window.scrollTo(0, 0)").await?;
    tokio::time::sleep(std::time::Duration::from_millis(300)).await;
    Ok(())
}
