//! From a mistake to what is practised: the drill that a cause opens, and eye, hand or rule.

use cellwright::cell;
use serde_json::{Value, json};

use crate::browser::{Outcome, Session, ensure};

/// Puts print on the desk and opens the room.
async fn desk(session: &Session, print: &str) -> Outcome {
    session.open("#/transcribe").await?;
    let kept = json!({"version": 1, "value": {"print": print}}).to_string();
    session
        .client
        .execute(
            "localStorage.setItem('cellwright.work.transcribe.own.desk', arguments[0])",
            vec![json!(kept)],
        )
        .await?;
    session.open("#/transcribe").await
}

async fn write(session: &Session, braille: &str) -> Outcome {
    session.write(&cell::from_ascii(braille).unwrap_or_default()).await
}

fn says(within: &str, text: &str) -> String {
    format!("return document.querySelector('{within}')?.textContent.includes('{text}') ?? false")
}

/// Two e written as i: the question books one to the hand, the record tells both, and the cause opens a drill that asks
/// for e alone.
pub async fn a_cause_opens_the_drill_that_practises_it(session: Session) -> Outcome {
    desk(&session, "the pet met me\n").await?;
    write(&session, "  ! pit mit me").await?;
    session.find("button", "Mark my work").await?.click().await?;
    session.until("two findings", "return document.querySelectorAll('.findings > li').length === 2").await?;
    session
        .script("[...document.querySelectorAll('#finding-1 button')].find((one) => one.textContent.startsWith('Eye')).click()")
        .await?;
    session.find("button", "e, letter").await?.click().await?;
    session.until("the booking", &says(".findings", "Booked to the hand")).await?;
    session.until("the share", &says("main", "hand 100 %")).await?;
    session.picture("transcribe-cause", 1280).await?;
    session.picture("transcribe-cause", 390).await?;

    session.click_in_the_middle("link", "Practise this: mirrored").await?;
    session.until("the drill", &says(".practise", "Only: letter e.")).await?;
    for n in 1..=4 {
        // The same sign, to read or to write.
        session.until("an item", "return !!document.querySelector('.drill .asked')").await?;
        let reading = session.script("return !!document.querySelector('.drill form > label input')").await?;
        if reading == Value::Bool(true) {
            session.script("document.querySelector('.drill form > label input').focus()").await?;
            session.press('e').await?;
            session.press('\u{e007}').await?;
        } else {
            ensure(session.script(&says(".asked", "letter e")).await? == Value::Bool(true), || {
                "another sign is asked".to_owned()
            })?;
            session.write(&cell::from_ascii("e").unwrap_or_default()).await?;
        }
        session.until("it to count", &says(".tally", &format!("{n} right at first sight of {n}"))).await?;
    }
    session.picture("practise-cause", 1280).await?;
    session.picture("practise-cause", 390).await?;
    session.find("link", "Back to Transcribe").await?.click().await?;
    session.switch("Show what it reads as", true).await?;
    session.expect("status", "Reads as", "  the pit mit me").await?;

    session.find("link", "Record").await?.click().await?;
    session.until("the shares", &says(".causes", "eye 1hand 1")).await?;
    session.picture("record-causes", 1280).await?;
    let errors = session.console_errors().await?;
    ensure(errors.is_empty(), || format!("the console holds {errors:?}"))
}

/// A contraction missed opens words that turn on it, whatever unit the learner has reached.
pub async fn a_rule_broken_opens_words_that_turn_on_it(session: Session) -> Outcome {
    desk(&session, "stop at the station\n").await?;
    write(&session, "  stop at ! station").await?;
    session.find("button", "Mark my work").await?.click().await?;
    session.find("link", "Practise this: contraction missed").await?.click().await?;
    session.until("the signs", &says(".practise", "Only:")).await?;
    session
        .until(
            "a word with st or tion",
            "return /st|tion/.test(document.querySelector('.drill .copy')?.textContent ?? '')",
        )
        .await?;
    session.picture("practise-rule", 1280).await?;
    session.find("button", "All signs again").await?.click().await?;
    session
        .until("all signs", "return !document.querySelector('.practise').textContent.includes('Only:')")
        .await?;
    // Read wrongly, a line asks too.
    session.open("#/practise").await?;
    session.find("combobox", "Drill").await?.select_by_label("Read a sentence").await?;
    session.find("textbox", "It says").await?.send_keys("zzz").await?;
    session.press('\u{e007}').await?;
    session.until("not yet", &says("main", "Not yet.")).await
}
