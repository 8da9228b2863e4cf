//! Where the focus is and what can be hit: never lost, large enough (WCAG 2.2: 2.4.3, 2.5.8).

use serde_json::json;

use crate::browser::{Failed, Outcome, Session, ensure};
use crate::states;

/// A screen of this size.
async fn screen(session: &Session, width: u32, height: u32) -> Outcome {
    let metrics = json!({"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 900});
    session.devtools("Emulation.setDeviceMetricsOverride", metrics).await?;
    session.devtools("Emulation.setScrollbarsHidden", json!({"hidden": true})).await?;
    tokio::time::sleep(std::time::Duration::from_millis(80)).await;
    Ok(())
}

/// A phone upright and on its side, and a small window on a desk.
const SCREENS: [(u32, u32); 3] = [(390, 844), (844, 390), (1280, 700)];

/// What can be hit is at least 24 pixels wide and high, or stands so far from what else can be hit that a circle of that
/// size around each touches no other, or is a link within a sentence (WCAG 2.2, 2.5.8, with its exceptions).
const SMALL: &str = "
    const all = [...document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex=\"0\"]')]
        .filter((at) => at.checkVisibility() && !at.closest('[inert]'))
        .map((at) => {
            const label = at.matches('input[type=checkbox], input[type=radio]') ? at.closest('label') : null;
            return {at, box: (label ?? at).getBoundingClientRect()};
        })
        .filter(({at, box}) => box.width > 1 && box.height > 1 && !at.matches('.skip'));
    const inSentence = (at) => at.matches('a') && [...at.parentNode.childNodes].some((one) => one.nodeType === 3 && one.data.trim().length > 1);
    const middle = (box) => [box.x + box.width / 2, box.y + box.height / 2];
    const small = all.filter(({at, box}) => (box.width < 23.5 || box.height < 23.5) && !inSentence(at));
    const close = small.filter((one) => all.some((other) => {
        if (other === one || other.at.contains(one.at) || one.at.contains(other.at)) return false;
        const [x, y] = middle(one.box);
        const isSmall = small.includes(other);
        const [u, v] = middle(other.box);
        if (isSmall) return Math.hypot(x - u, y - v) < 24;
        const dx = Math.max(other.box.left - x, 0, x - other.box.right), dy = Math.max(other.box.top - y, 0, y - other.box.bottom);
        return Math.hypot(dx, dy) < 12;
    }));
    return close.map(({at, box}) => `${at.outerHTML.slice(0, 90)} (${Math.round(box.width)} by ${Math.round(box.height)})`).slice(0, 4).join('\\n    ')";

pub async fn what_can_be_hit_is_large_enough(session: Session) -> Outcome {
    let mut small = Vec::new();
    for room in states::ROOMS {
        states::stand(&session, room).await?;
        session.unfold().await?;
        for (width, height) in SCREENS {
            screen(&session, width, height).await?;
            let found = session.script(SMALL).await?;
            if found != "" {
                small.push(format!(
                    "{room} at {width} by {height}:\n    {}",
                    found.as_str().unwrap_or_default()
                ));
            }
        }
        session.screen(0).await?;
    }
    // The check can fail.
    session.script("document.querySelector('main').insertAdjacentHTML('beforeend',
        '<button style=\"min-height:0;height:9px;width:9px;padding:0\"></button><button style=\"min-height:0;height:9px;width:9px;padding:0\"></button>')").await?;
    ensure(session.script(SMALL).await? != "", || "a planted fault is not found".to_owned())?;
    ensure(small.is_empty(), || format!("too small to be hit:\n  {}", small.join("\n  ")))
}

/// Every button of every room, pressed by the keyboard: whatever it does away with, the focus is somewhere in the page, and
/// not back at its beginning.
pub async fn the_focus_is_never_lost(session: Session) -> Outcome {
    let mut lost = Vec::new();
    for room in states::ROOMS {
        lost.extend(lost_in(&session, room).await?);
    }
    ensure(lost.is_empty(), || format!("the focus is lost after:\n  {}", lost.join("\n  ")))
}

/// The buttons that can be seen.
const BUTTONS: &str = "const all = [...document.querySelectorAll('main button:not([disabled])')].filter((at) => at.checkVisibility());";

/// So many buttons of a room are looked at.
const MOST: u64 = 80;

/// What a button's name says apart from its number and what it is about: of buttons that are all alike one is pressed.
fn kind_of(name: &str) -> String {
    let letters: String = name.chars().filter(|c| c.is_alphabetic() || *c == ' ').collect();
    let words: Vec<&str> = letters.split_whitespace().collect();
    // The signs of a chart and of lists are called by one word or sign.
    if words.len() < 2 && name.chars().count() < 4 {
        "sign".to_owned()
    } else {
        words.iter().take(2).copied().collect::<Vec<_>>().join(" ")
    }
}

async fn lost_in(session: &Session, room: &str) -> Outcome<Vec<String>> {
    let mut lost = Vec::new();
    let (mut stands, mut pressed) = (false, Vec::new());
    for number in 0..MOST {
        if !stands {
            states::stand(session, room).await?;
            session.unfold().await?;
            // What the browser itself would ask is not answered here.
            session.script("window.print = () => {}; navigator.clipboard.writeText = async () => {}").await?;
        }
        let take = format!(
            "{BUTTONS} const at = all[{number}]; at?.focus();
            return [all.length, at ? at.getAttribute('aria-label') ?? at.textContent : '']"
        );
        let here = session.script(&take).await?;
        if number >= here[0].as_u64().unwrap_or(0) {
            break;
        }
        let name = here[1].as_str().unwrap_or_default().to_owned();
        if pressed.contains(&kind_of(&name)) {
            stands = true;
            continue;
        }
        pressed.push(kind_of(&name));
        let at = |error: Failed| Failed(format!("{room}, {name}: {}", error.0));
        session.press('\u{e007}').await.map_err(at)?;
        tokio::time::sleep(std::time::Duration::from_millis(450)).await;
        let look = format!("{BUTTONS} return [document.activeElement === document.body, all.length]");
        let after = session.script(&look).await.map_err(at)?;
        if after[0] == true {
            lost.push(format!("{room}: {name}"));
        }
        // Where the room has become another, it is opened anew.
        stands = after[0] == false && after[1] == here[0];
    }
    Ok(lost)
}
