//! The keyboard check: which keys the keyboard reports together, and other keys to write with when it cannot do six.

use std::rc::Rc;

use wasm_bindgen::JsValue;
use web_sys::KeyboardEvent;
use yew::prelude::*;

use crate::keys::{Entry, Key, KeyMap, as_dots};
use crate::page::browser::held::use_held;
use crate::page::browser::store;
use crate::page::browser::stored::{Stored, object, part};
use crate::page::learner::settings::use_settings;
use crate::page::widgets::six_keys::key_name;

/// Key sets to try when a keyboard swallows chords; each begins with dots 1 2 3.
const SETS: [(&str, [&str; 6]); 3] = [
    ("home row", ["KeyF", "KeyD", "KeyS", "KeyJ", "KeyK", "KeyL"]),
    ("upper row", ["KeyR", "KeyE", "KeyW", "KeyU", "KeyI", "KeyO"]),
    ("two rows", ["KeyF", "KeyE", "KeyW", "KeyJ", "KeyI", "KeyO"]),
];

/// What came of one try: the keys that were down together, all of them lifted again.
#[derive(Clone, PartialEq)]
enum Came {
    /// Nothing yet.
    Nothing,
    /// All six keys of the learner.
    All,
    /// Six others, as the keys of dots 1 to 6.
    Others([String; 6]),
    /// Less than six: these dots, these keys.
    Less(Vec<u8>, Vec<String>),
}

fn came_of(keys: &KeyMap, held: &[String]) -> Came {
    let dots: Vec<u8> = (1..=6)
        .filter(|dot| keys.code_of(Key::Dot(*dot)).is_some_and(|code| held.iter().any(|held| held == code)))
        .collect();
    if dots.len() == 6 {
        return Came::All;
    }
    match as_dots(held) {
        Some(others) => Came::Others(others.map(str::to_owned)),
        None => Came::Less(dots, held.to_vec()),
    }
}

/// How the last check came out, for the keys that it was made with.
pub struct Outcome {
    keys: String,
    /// All six arrive together.
    pub all: bool,
    /// The most that did arrive, in words.
    most: String,
}

const KEY: &str = "keyboard-check";

impl Stored for Outcome {
    fn take(value: &JsValue) -> Option<Self> {
        Some(Outcome { keys: part(value, "keys")?, all: part(value, "all")?, most: part(value, "most")? })
    }
    fn give(&self) -> JsValue {
        object(&[("keys", self.keys.give()), ("all", self.all.give()), ("most", self.most.give())])
    }
}

impl Outcome {
    /// How the last check of these keys came out, if there was one.
    pub fn kept(keys: &str) -> Option<Outcome> {
        store::load::<Outcome>(KEY, 1).filter(|outcome| outcome.keys == keys)
    }

    fn words(&self) -> String {
        if self.all {
            "When you last checked these keys, all six arrived together.".to_owned()
        } else {
            format!("When you last checked these keys, no more arrived together than {}.", self.most)
        }
    }
}

fn names<'a>(codes: impl IntoIterator<Item = &'a str>) -> String {
    codes.into_iter().map(key_name).collect::<Vec<_>>().join(" ")
}

/// The keys of dots 1 to 6, in the order of the alphabet.
fn own(keys: &KeyMap) -> Vec<String> {
    let mut own: Vec<String> =
        (1..=6).filter_map(|dot| keys.code_of(Key::Dot(dot)).map(str::to_owned)).collect();
    own.sort_unstable();
    own
}

/// What came of a try, in words. `offered`: there are keys to try next.
fn result_of(came: &Came, offered: bool) -> String {
    match came {
        Came::Nothing => String::new(),
        Came::All => "All six keys arrive together. This keyboard can write every cell.".to_owned(),
        Came::Others(codes) => format!(
            "These six keys arrive together: {}. You can write every cell with them.",
            names(codes.iter().map(String::as_str))
        ),
        Came::Less(dots, codes) => {
            let dots = if dots.is_empty() {
                "none".to_owned()
            } else {
                dots.iter().map(u8::to_string).collect::<Vec<_>>().join(" ")
            };
            let next = if !offered {
                "hold any other six, three for each hand, or write one key at a time"
            } else {
                "try the keys offered here, hold any other six, three for each hand, or write one key at a time"
            };
            format!(
                "Together came dots {dots} (keys {}). If you held all six, this keyboard swallows chords with these keys: {next}.",
                names(codes.iter().map(String::as_str))
            )
        }
    }
}

/// Shows which keys the keyboard reports together. Keys that cannot do six are not proposed again; any six that arrive
/// can be taken.
#[component]
pub fn KeyboardCheck() -> Html {
    let settings = use_settings();
    let held = use_mut_ref(Vec::<String>::new);
    // The most keys that were down together in this try.
    let most = use_mut_ref(Vec::<String>::new);
    let lit = use_held(Vec::<String>::default);
    let came = use_held(|| Came::Nothing);
    // The dots' keys that have failed so far, in the order of the alphabet.
    let failed = use_held(Vec::<Vec<String>>::default);
    let field = use_node_ref();
    let keys = use_memo((settings.swap, settings.keys.clone()), |_| settings.key_map());
    let onkeydown = {
        let (held, most, lit, came) = (held.clone(), most.clone(), lit.clone(), came.clone());
        Callback::from(move |event: KeyboardEvent| {
            let command = event.ctrl_key() || event.alt_key() || event.meta_key();
            if command || event.code() == "Tab" || event.repeat() {
                return;
            }
            event.prevent_default();
            let mut held = held.borrow_mut();
            let mut most = most.borrow_mut();
            if held.is_empty() {
                came.set(Came::Nothing);
                most.clear();
            }
            if !held.contains(&event.code()) {
                held.push(event.code());
            }
            if held.len() > most.len() {
                most.clone_from(&held);
            }
            lit.set(held.clone());
        })
    };
    let onkeyup = {
        let codes = settings.key_codes();
        let (held, most, lit, came, failed, keys) =
            (held.clone(), most.clone(), lit.clone(), came.clone(), failed.clone(), keys.clone());
        Callback::from(move |event: KeyboardEvent| {
            let mut held = held.borrow_mut();
            let before = held.len();
            held.retain(|code| *code != event.code());
            lit.set(held.clone());
            if before == 0 || !held.is_empty() {
                return;
            }
            let now = came_of(&keys, &most.borrow());
            if let Came::Less(dots, _) = &now
                && dots.len() > 1
                && !failed.contains(&own(&keys))
            {
                failed.set(failed.iter().cloned().chain([own(&keys)]).collect());
            }
            let outcome = match &now {
                Came::All => Some((true, String::new())),
                Came::Less(dots, _) if dots.len() > 1 => {
                    let dots: Vec<String> = dots.iter().map(u8::to_string).collect();
                    Some((false, format!("dots {}", dots.join(" "))))
                }
                _ => None,
            };
            if let Some((all, most)) = outcome {
                // A browser that keeps nothing is asked again the next time.
                let _ = store::save(KEY, 1, &Outcome { keys: codes.clone(), all, most });
            }
            came.set(now);
        })
    };
    let onblur = {
        let (held, lit) = (held.clone(), lit.clone());
        Callback::from(move |_: FocusEvent| {
            held.borrow_mut().clear();
            lit.set(Vec::new());
        })
    };
    // The next try is made with these keys, so the focus goes where they are tried.
    let take = |codes: [String; 6]| {
        let (settings, field, came) = (settings.clone(), field.clone(), came.clone());
        Callback::from(move |_: MouseEvent| {
            settings.change(|settings| {
                for (code, dot) in codes.iter().zip(1..) {
                    settings.keys.set(Key::Dot(dot), code);
                }
            });
            came.set(Came::Nothing);
            if let Some(field) = field.cast::<web_sys::HtmlElement>() {
                let _ = field.focus();
            }
        })
    };
    let one_key = {
        let settings = settings.clone();
        Callback::from(move |_: MouseEvent| settings.change(|settings| settings.entry = Entry::OneKey))
    };
    let dot_keys: Vec<Option<&str>> = (1..=6).map(|dot| keys.code_of(Key::Dot(dot))).collect();
    let is_lit = |dot: u8| {
        let code = dot_keys[usize::from(dot) - 1];
        code.is_some_and(|code| lit.iter().any(|held| held == code))
    };
    let to_try = SETS.iter().filter(|(_, codes)| {
        let mut codes: Vec<String> = codes.map(str::to_owned).to_vec();
        codes.sort_unstable();
        !failed.contains(&codes) && codes != own(&keys)
    });
    let offered: Rc<[&(&str, [&str; 6])]> = to_try.collect();
    html! {
        <section class="check-keys">
            <h2>{ "Keyboard check" }</h2>
            <p id="check-help">
                { format!("Go to the box, hold all six dot keys ({}) down at once, then lift them. Tab moves on, out of the box.", names(dot_keys.iter().copied().flatten())) }
            </p>
            if let (Came::Nothing, Some(before)) = (&*came, Outcome::kept(&settings.key_codes())) {
                <p class="note">{ before.words() }</p>
            }
            <div ref={field.clone()} class="try" tabindex="0" role="application" aria-label="Keyboard check" aria-describedby="check-help"
                {onkeydown} {onkeyup} {onblur}>
                { for [3u8, 2, 1, 4, 5, 6].map(|dot| html! {
                    <span class={classes!("key", is_lit(dot).then_some("lit"))} aria-hidden="true">{ dot }</span>
                }) }
            </div>
            <p role="status" aria-label="Keyboard check result">{ result_of(&came, !offered.is_empty()) }</p>
            if let Came::Others(codes) = &*came {
                <div class="controls">
                    <button type="button" class="main" onclick={take(codes.clone())}>{ "Write with these keys" }</button>
                </div>
            }
            if matches!(*came, Came::Less(..)) {
                <div class="controls">
                    { for offered.iter().map(|(name, codes)| html! {
                        <button type="button" onclick={take(codes.map(str::to_owned))}>{ format!("Try the {name}: {}", names(*codes)) }</button>
                    }) }
                    <button type="button" onclick={one_key}>{ "One key at a time" }</button>
                </div>
            }
        </section>
    }
}
