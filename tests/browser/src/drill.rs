//! A drill, answered: what several tests begin with.

use crate::browser::{Outcome, Session};

/// Goes to the drills that are chosen freely, in the page as it stands.
pub async fn choose_freely(session: &Session) -> Outcome {
    session.script("location.hash = '#/practise'").await?;
    session
        .until("the drills", "return document.querySelectorAll('.practise select option').length > 1")
        .await
}

/// One sign asked, and answered wrongly, which needs no knowledge of the sign.
pub async fn answer_one(session: &Session) -> Outcome {
    choose_freely(session).await?;
    session.find("combobox", "Drill").await?.select_by_label("A cell: what does it mean?").await?;
    session.find("textbox", "It means").await?.send_keys("zz").await?;
    session.find("button", "Answer").await?.click().await?;
    session
        .until(
            "the answer to count",
            "return document.body.textContent.includes('right at first sight of 1')",
        )
        .await
}

/// Waits until the Record room, which must be open, tells so many answers.
pub async fn recorded(session: &Session, count: usize) -> Outcome {
    let tells = format!(
        "return new RegExp('(^|\\\\D){count} answers?\\\\b').test(document.querySelector('main').textContent)"
    );
    session.until("the answers in the record", &tells).await
}
