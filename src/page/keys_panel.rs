//! Keys: where each key is, which hand, how cells are entered, and whether the keyboard can press six at once.

use web_sys::KeyboardEvent;
use yew::prelude::*;

use super::held::use_held;
use super::settings::use_settings;
use super::write::Switch;
use crate::keys::{Entry, Key, KeyMap};

/// Key sets to try when a keyboard swallows chords; each begins with dots 1 2 3.
const SETS: [(&str, [&str; 6]); 3] = [
    ("home row", ["KeyF", "KeyD", "KeyS", "KeyJ", "KeyK", "KeyL"]),
    ("upper row", ["KeyR", "KeyE", "KeyW", "KeyU", "KeyI", "KeyO"]),
    ("two rows", ["KeyF", "KeyE", "KeyW", "KeyJ", "KeyI", "KeyO"]),
];

/// A key's place in words a person reads on the key: "F", "Space", "Num 4".
pub fn key_name(code: &str) -> String {
    code.strip_prefix("Key").or_else(|| code.strip_prefix("Digit")).unwrap_or(code).replace("Numpad", "Num ")
}

fn purpose(key: Key) -> String {
    match key {
        Key::Dot(dot) => format!("Dot {dot}"),
        Key::Blank => "Blank cell".to_owned(),
        Key::NewLine => "New line".to_owned(),
        Key::Erase => "Erase".to_owned(),
        Key::Commit => "Write the cell (one key at a time), empty half (one hand)".to_owned(),
    }
}

/// The settings of keys.
#[component]
pub fn KeysPanel() -> Html {
    let settings = use_settings();
    let asking = use_held(Option::<Key>::default);
    // Lifting the key that was just taken is no press of the button.
    let taken = use_mut_ref(|| false);
    let keys = [1, 2, 3, 4, 5, 6].map(Key::Dot).into_iter().chain([
        Key::Blank,
        Key::NewLine,
        Key::Erase,
        Key::Commit,
    ]);
    let entry = {
        let settings = settings.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let entry = match select.value().as_str() {
                "key" => Entry::OneKey,
                "hand" => Entry::OneHand,
                _ => Entry::Chords,
            };
            settings.change(|settings| settings.entry = entry);
        })
    };
    let flag = |with: fn(&mut super::settings::Settings, bool)| {
        let settings = settings.clone();
        Callback::from(move |on| settings.change(|settings| with(settings, on)))
    };
    let usual = {
        let settings = settings.clone();
        Callback::from(move |_: MouseEvent| settings.change(|settings| settings.keys = KeyMap::default()))
    };
    html! {
        <>
            <div class="set">
                <label class="check"><span>{ "Cells are entered" }</span>
                    <select onchange={entry}>
                        <option value="chord" selected={settings.entry == Entry::Chords}>{ "six keys at once" }</option>
                        <option value="key" selected={settings.entry == Entry::OneKey}>{ "one key at a time" }</option>
                        <option value="hand" selected={settings.entry == Entry::OneHand}>{ "with one hand, two halves" }</option>
                    </select>
                </label>
                <Switch label="Left and right hand changed" on={settings.swap} set={flag(|s, on| s.swap = on)} />
                <Switch label="Write at the first lift" on={settings.first_lift} set={flag(|s, on| s.first_lift = on)} />
            </div>
            <table class="key-table">
                <caption class="sr">{ "The keys" }</caption>
                <thead><tr><th scope="col">{ "For" }</th><th scope="col">{ "Key" }</th><th scope="col"><span class="sr">{ "Change" }</span></th></tr></thead>
                <tbody>
                    { for keys.map(|key| {
                        let waiting = *asking == Some(key);
                        let ask = {
                            let asking = asking.clone();
                            Callback::from(move |_: MouseEvent| asking.set(Some(key)))
                        };
                        let take = {
                            let (asking, settings, taken) = (asking.clone(), settings.clone(), taken.clone());
                            Callback::from(move |event: KeyboardEvent| {
                                if !waiting || event.code() == "Tab" {
                                    return;
                                }
                                event.prevent_default();
                                // The Enter that pressed the button may be held still.
                                if event.repeat() {
                                    return;
                                }
                                asking.set(None);
                                taken.replace(true);
                                if event.code() != "Escape" && !event.code().is_empty() {
                                    settings.change(|settings| settings.keys.set(key, &event.code()));
                                }
                            })
                        };
                        let lift = {
                            let taken = taken.clone();
                            Callback::from(move |event: KeyboardEvent| {
                                if taken.replace(false) {
                                    event.prevent_default();
                                }
                            })
                        };
                        let leave = {
                            let asking = asking.clone();
                            Callback::from(move |_: FocusEvent| asking.set(None))
                        };
                        html! {
                            <tr>
                                <th scope="row">{ purpose(key) }</th>
                                <td>{ settings.keys.code_of(key).map_or_else(|| "none".to_owned(), key_name) }</td>
                                <td><button type="button" aria-label={format!("Change the key for {}", purpose(key))} onclick={ask} onkeydown={take} onkeyup={lift} onblur={leave}>
                                    { if waiting { "Press the key now (Escape leaves it)" } else { "Change" } }
                                </button></td>
                            </tr>
                        }
                    }) }
                </tbody>
            </table>
            if !settings.keys.is_complete() {
                <p class="alert" role="alert">{ "Not every dot has a key: some cells cannot be written." }</p>
            }
            <button type="button" class="quiet" onclick={usual}>{ "Back to the usual keys" }</button>
            <KeyboardCheck />
        </>
    }
}

/// Shows which of the six keys the keyboard reports together.
#[component]
fn KeyboardCheck() -> Html {
    let settings = use_settings();
    let held = use_mut_ref(Vec::<String>::new);
    let most = use_held(Vec::<u8>::default);
    let seen = use_held(Vec::<u8>::default);
    let done = use_held(bool::default);
    let keys = use_memo((settings.swap, settings.keys.clone()), |_| settings.key_map());
    let dots = |keys: &KeyMap, held: &[String]| -> Vec<u8> {
        (1..=6)
            .filter(|dot| {
                keys.code_of(Key::Dot(*dot)).is_some_and(|code| held.iter().any(|held| held == code))
            })
            .collect()
    };
    let onkeydown = {
        let (held, seen, most, done, keys) =
            (held.clone(), seen.clone(), most.clone(), done.clone(), keys.clone());
        Callback::from(move |event: KeyboardEvent| {
            if event.ctrl_key()
                || event.alt_key()
                || event.meta_key()
                || event.code() == "Tab"
                || event.repeat()
            {
                return;
            }
            event.prevent_default();
            let mut held = held.borrow_mut();
            if held.is_empty() {
                done.set(false);
                most.set(Vec::new());
            }
            if !held.contains(&event.code()) {
                held.push(event.code());
            }
            let now = dots(&keys, &held);
            if now.len() >= seen.len() || held.len() == 1 {
                most.set(now.clone());
            }
            seen.set(now);
        })
    };
    let onkeyup = {
        let (held, seen, done) = (held.clone(), seen.clone(), done.clone());
        Callback::from(move |event: KeyboardEvent| {
            let mut held = held.borrow_mut();
            held.retain(|code| *code != event.code());
            seen.set(dots(&keys, &held));
            done.set(held.is_empty());
        })
    };
    let onblur = {
        let (held, seen) = (held.clone(), seen.clone());
        Callback::from(move |_: FocusEvent| {
            held.borrow_mut().clear();
            seen.set(Vec::new());
        })
    };
    let words = |dots: &[u8]| dots.iter().map(u8::to_string).collect::<Vec<_>>().join(" ");
    let set = |keys: [&'static str; 6]| {
        let settings = settings.clone();
        Callback::from(move |_: MouseEvent| settings.change(|settings| settings.keys = KeyMap::of(keys)))
    };
    html! {
        <section class="check-keys">
            <h3>{ "Keyboard check" }</h3>
            <p>{ "Go to the box, hold all six dot keys down at once, then lift them." }</p>
            <div class="try" tabindex="0" role="group" aria-label="Keyboard check" {onkeydown} {onkeyup} {onblur}>
                { for [3u8, 2, 1, 4, 5, 6].map(|dot| html! {
                    <span class={classes!("key", seen.contains(&dot).then_some("lit"))} aria-hidden="true">{ dot }</span>
                }) }
            </div>
            <p role="status" aria-label="Keyboard check result">
                if *done && most.len() == 6 {
                    { "All six keys arrive together. This keyboard can write every cell." }
                } else if *done {
                    { format!("Together came dots {}. If you held all six, this keyboard swallows chords: try another set of keys, or one key at a time.", if most.is_empty() { "none".to_owned() } else { words(&most) }) }
                }
            </p>
            if *done && most.len() < 6 {
                <div class="controls">
                    { for SETS.iter().map(|(name, keys)| html! {
                        <button type="button" onclick={set(*keys)}>{ format!("{name}: {}", keys.map(key_name).join(" ")) }</button>
                    }) }
                </div>
            }
        </section>
    }
}
