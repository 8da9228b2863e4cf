//! Where the focus is and what can be hit: never lost, never hidden, large enough (WCAG 2.2: 2.4.3, 2.4.11,
//! 2.5.8).

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

/// Whether what has the focus is to be seen: at one of nine points within it nothing else lies over it.
const HIDDEN: &str = "
    const at = document.activeElement;
    if (at === document.body) return '';
    const box = at.getBoundingClientRect();
    const share = [0.06, 0.5, 0.94];
    const seen = share.some((x) => share.some((y) => {
        const over = document.elementFromPoint(box.left + box.width * x, box.top + box.height * y);
        return over && (at.contains(over) || over.closest('label')?.control === at
            || (at.closest('.surface, .read-sheet') ?? at).contains(over));
    }));
    return seen ? `${[...document.querySelectorAll('*')].indexOf(at)}` : `HIDDEN ${at.outerHTML.slice(0, 90)} at ${Math.round(box.top)}`";

pub async fn the_focus_is_never_hidden(session: Session) -> Outcome {
    let mut hidden = Vec::new();
    for (width, height) in SCREENS {
        for room in states::ROOMS {
            let at = |error: Failed| Failed(format!("{room} at {width} by {height}: {}", error.0));
            states::stand(&session, room).await.map_err(at)?;
            screen(&session, width, height).await?;
            // The word of a new version stands at the foot of the window meanwhile.
            session
                .script(
                    "document.getElementById('news').hidden = false; document.documentElement.toggleAttribute('data-news', true);
                    document.getElementById('news-say').textContent = 'A new version of Cellwright is ready. Your work stays as it is until you choose.';
                    document.querySelector('.skip').focus()",
                )
                .await?;
            let mut first = String::new();
            for back in [false, true] {
                for _ in 0..400 {
                    if back {
                        session.back_tab().await?;
                    } else {
                        session.press('\u{e004}').await?;
                    }
                    let at = session.script(HIDDEN).await?.as_str().unwrap_or_default().to_owned();
                    if at.starts_with("HIDDEN") {
                        hidden.push(format!("{room} at {width} by {height}: {at}"));
                    }
                    if at.is_empty() || at == first {
                        break;
                    }
                    if first.is_empty() {
                        first.clone_from(&at);
                    }
                }
            }
            session.devtools("Emulation.clearDeviceMetricsOverride", json!({})).await?;
        }
    }
    hidden.sort();
    hidden.dedup();
    ensure(hidden.is_empty(), || format!("the focus cannot be seen:\n  {}", hidden.join("\n  ")))
}

/// Every button of every room, pressed by the keyboard: whatever it does away with, the focus is somewhere in the page, and
/// not back at its beginning.
pub async fn the_focus_is_never_lost_1(session: Session) -> Outcome {
    never_lost(session, 0).await
}

pub async fn the_focus_is_never_lost_2(session: Session) -> Outcome {
    never_lost(session, 1).await
}

pub async fn the_focus_is_never_lost_3(session: Session) -> Outcome {
    never_lost(session, 2).await
}

pub async fn the_focus_is_never_lost_4(session: Session) -> Outcome {
    never_lost(session, 3).await
}

/// Every fourth room, from this one on: all of them are too much for one browser.
async fn never_lost(session: Session, from: usize) -> Outcome {
    let mut lost = Vec::new();
    for room in states::ROOMS.into_iter().skip(from).step_by(4) {
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
            let at = |error: Failed| Failed(format!("{room}, after {pressed:?}: {}", error.0));
            states::stand(session, room).await.map_err(at)?;
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
