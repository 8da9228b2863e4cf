//! What a screen reader would say: the focus as it moves, with role, name and state, and every word that is put into a live region
//! which stood on the page before. A region that comes with its words in it is not heard, as with most screen readers.

use serde_json::{Value, json};

use crate::browser::{Failed, Outcome, Session};

/// Listens from now on, and on every page that is opened.
const LISTEN: &str = r#"
(() => {
  if (window.heard) return;
  window.heard = [];
  // Chance is the same each time.
  let seed = 7;
  Math.random = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
  const LIVE = '[aria-live=polite], [aria-live=assertive], [role=status], [role=alert]';
  const live = (at) => {
    const region = (at.nodeType === 1 ? at : at.parentElement)?.closest(LIVE + ', [aria-live=off]');
    return region && region.getAttribute('aria-live') !== 'off' ? region : null;
  };
  const text = (at) => {
    if (at.nodeType === 3) return at.data;
    if (at.nodeType !== 1 || at.getAttribute('aria-hidden') === 'true' || at.hidden) return '';
    if (at.matches('button')) return ` [${at.getAttribute('aria-label') ?? at.textContent}]`;
    const inner = [...at.childNodes].map(text).join('');
    return /^(P|LI|DIV|OL|UL)$/.test(at.tagName) ? ` ${inner} ` : inner;
  };
  const tidy = (words) => words.replace(/\u00a0/g, ' ').replace(/\s+/g, ' ').trim();
  const standing = new WeakSet();
  const stand = () => { for (const region of document.querySelectorAll(LIVE)) standing.add(region); };
  const say = (words) => { if (words) window.heard.push(words); };
  new MutationObserver((changes) => {
    const told = new Map();
    for (const change of changes) {
      const region = live(change.target);
      if (!region || !standing.has(region) || !region.isConnected) continue;
      const whole = region.matches('[role=status], [role=alert], [aria-atomic=true]');
      const parts = whole ? [region] : change.type === 'characterData' ? [change.target] : [...change.addedNodes];
      const known = told.get(region) ?? new Set();
      for (const part of parts) if (part.isConnected && !(part.parentElement && [...known].some((one) => one.contains(part)))) known.add(part);
      told.set(region, known);
    }
    stand();
    for (const [, parts] of told) say(tidy([...parts].map(text).join(' ')));
  }).observe(document, {subtree: true, childList: true, characterData: true});
  const role = (at) => at.getAttribute('role') ?? ({BUTTON: 'button', A: 'link', SELECT: 'list', SUMMARY: 'line', TEXTAREA: 'text box', MAIN: 'room'}[at.tagName]
    ?? (at.tagName === 'INPUT' ? (at.type === 'checkbox' ? 'checkbox' : 'text box') : at.tagName.toLowerCase()));
  addEventListener('focusin', ({target: at}) => {
    if (at === document.body) return;
    const label = at.labels?.[0] ? tidy(text(at.labels[0])) : '';
    const name = at.getAttribute('aria-label') ?? (label || tidy(at.matches('textarea, main, section, form, div') ? '' : at.textContent));
    const states = [at.getAttribute('aria-expanded') === 'true' ? 'open' : at.getAttribute('aria-expanded') === 'false' ? 'closed' : '',
      at.matches('input[type=checkbox]') ? (at.checked ? 'on' : 'off') : ''].filter(Boolean);
    say(`» ${[name, role(at), ...states].filter(Boolean).join(', ')}`);
  });
  document.addEventListener('readystatechange', stand);
  addEventListener('load', stand);
  stand();
})();
"#;

/// Listens on every page that is opened from now on.
pub async fn listen(session: &Session) -> Outcome {
    session.devtools("Page.enable", json!({})).await?;
    session.devtools("Page.addScriptToEvaluateOnNewDocument", json!({"source": LISTEN})).await.map(drop)
}

/// What was heard since it was last asked, in order.
pub async fn heard(session: &Session) -> Outcome<Vec<String>> {
    // What waits for a quiet moment is said.
    tokio::time::sleep(std::time::Duration::from_millis(450)).await;
    let all = session.script("return window.heard.splice(0)").await?;
    let words = |one: &Value| one.as_str().unwrap_or_default().to_owned();
    Ok(all.as_array().ok_or_else(|| Failed(format!("nothing listens: {all}")))?.iter().map(words).collect())
}
