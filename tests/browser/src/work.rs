//! Work in progress, and what exercises open.

use cellwright::cell;
use cellwright::exercise::{Exercise, Task};
use cellwright::ueb::{self, Options};

use crate::browser::{Outcome, Session, ensure};

fn exercise(task: Task, text: &str) -> Exercise {
    Exercise { title: "Notice 2".into(), text: text.into(), task, ..Exercise::default() }
}

pub async fn a_reload_keeps_the_work_of_each_text(session: Session) -> Outcome {
    let one = exercise(Task::Write, "The ferry leaves.").to_payload()?;
    let two = exercise(Task::Write, "No dogs in the saloon.").to_payload()?;
    for (address, ascii) in
        [("#/write", "f]ry"), (&*format!("#/x/{one}"), ",! f]ry"), (&*format!("#/x/{two}"), ",no")]
    {
        session.open(address).await?;
        session.write(&cell::from_ascii(ascii).expect("cells")).await?;
        // The page is left at once, before the moment after which it keeps by itself.
        session.open("#/read").await?;
    }
    // A damaged link takes nothing away.
    session.open(&format!("#/x/{}", &one[..one.len() - 3])).await?;
    for (address, says) in
        [("#/write", "ferry"), (&*format!("#/x/{one}"), "The ferry"), (&*format!("#/x/{two}"), "No")]
    {
        session.open(address).await?;
        session.expect("status", "Reads as", says).await?;
    }
    // Of the room's own prompts each has its own work too.
    session.open("#/write").await?;
    session.find("button", "Next").await?.click().await?;
    session.expect("status", "Reads as", "").await?;
    session.find("button", "Previous").await?.click().await?;
    session.expect("status", "Reads as", "ferry").await
}

pub async fn an_exercise_opens_the_room_of_its_task(session: Session) -> Outcome {
    let text = "The ferry leaves.\nNo dogs.";
    session.open(&format!("#/x/{}", exercise(Task::Read, text).to_payload()?)).await?;
    session.find("textbox", "It says").await?.send_keys("The ferry leaves.").await?;
    session.find("button", "Answer").await?.click().await?;
    session.expect("status", "Judged", "Right.").await?;
    session.find("button", "Next").await?.click().await?;
    session.expect("status", "Item", "2 of 2").await?;

    session.open(&format!("#/x/{}", exercise(Task::DotNumbers, "cat\nin").to_payload()?)).await?;
    let name = "Its dot numbers, a space between cells";
    session.find("textbox", name).await?.send_keys("1-4 1 2-3-4").await?;
    session.find("button", "Answer").await?.click().await?;
    session.expect("status", "Judged", "It is dots 1-4, 1, 2-3-4-5.").await?;
    session.find("button", "Next").await?.click().await?;
    session.find("textbox", name).await?.send_keys("35").await?;
    session.find("button", "Answer").await?.click().await?;
    session.find("button", "To the result").await?.click().await?;
    session.expect("status", "Result", "1 of 2 right at the first answer.").await?;

    // On a slate: drawn from right to left, each cell mirrored; it reads as written.
    session.open(&format!("#/x/{}", exercise(Task::Slate, text).to_payload()?)).await?;
    session.write(&ueb::transcribe("The ferry", &Options::default())).await?;
    session.expect("status", "Reads as", "The ferry").await?;
    let right_to_left = "const words = [...document.querySelectorAll('.slate .word')].map((one) => one.getBoundingClientRect().left);
        return words.length === 2 && words[0] > words[1]";
    ensure(session.script(right_to_left).await? == true, || {
        "the slate's words run from left to right".to_owned()
    })?;

    session.open(&format!("#/x/{}", exercise(Task::Transcribe, text).to_payload()?)).await?;
    session.find("button", "Hand in").await?;
    session
        .until(
            "the print",
            "return document.querySelector('.copyholder').textContent.includes('The ferry leaves')",
        )
        .await
}
