//! A drill, answered: what several tests begin with.

use crate::browser::{Outcome, Session};

/// From the first screen: one sign asked, and answered wrongly, which needs no knowledge of the sign.
pub async fn answer_one(session: &Session) -> Outcome {
    session.find("button", "Practise").await?.click().await?;
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
