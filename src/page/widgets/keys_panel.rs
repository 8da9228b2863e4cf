//! Keys: where each key is, which hand, how cells are entered.

use web_sys::KeyboardEvent;
use yew::prelude::*;

use crate::keys::{Entry, Key, KeyMap};
use crate::page::browser::held::use_held;
use crate::page::learner::settings::{Settings, use_settings};
use crate::page::widgets::keyboard_check::KeyboardCheck;
use crate::page::widgets::six_keys::key_name;
use crate::page::widgets::switch::Switch;

/// Gives a key another place, as the hands lie now.
fn give(settings: &mut Settings, key: Key, code: &str) {
    let mut keys = settings.key_map();
    keys.set(key, code);
    settings.keys = if settings.swap { keys.swapped() } else { keys };
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
    let said = use_held(String::new);
    let map = settings.key_map();
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
    let flag = |with: fn(&mut crate::page::learner::settings::Settings, bool)| {
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
                            let (asking, said) = (asking.clone(), said.clone());
                            Callback::from(move |_: MouseEvent| {
                                said.set(format!("Press the key for: {}. Escape leaves it as it is.", purpose(key)));
                                asking.set(Some(key));
                            })
                        };
                        let take = {
                            let (asking, settings, taken, said) =
                                (asking.clone(), settings.clone(), taken.clone(), said.clone());
                            Callback::from(move |event: KeyboardEvent| {
                                if !waiting || event.code() == "Tab" {
                                    return;
                                }
                                event.prevent_default();
                                // The Enter that pressed the button may be held still.
                                if event.repeat() {
                                    return;
                                }
                                let code = event.code();
                                if !KeyMap::can_be_given(&code) {
                                    said.set("That key cannot be used here. Press another one; Escape leaves it as it is.".to_owned());
                                    return;
                                }
                                asking.set(None);
                                taken.replace(true);
                                if code == "Escape" {
                                    said.set("Left as it was.".to_owned());
                                    return;
                                }
                                settings.change(|settings| give(settings, key, &code));
                                said.set(format!("{}: now the key {}.", purpose(key), key_name(&code)));
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
                                <td>{ map.code_of(key).map_or_else(|| "none".to_owned(), key_name) }</td>
                                <td><button type="button" aria-label={(!waiting).then(|| format!("Change the key for {}", purpose(key)))} onclick={ask} onkeydown={take} onkeyup={lift} onblur={leave}>
                                    { if waiting { "Press the key now (Escape leaves it)" } else { "Change" } }
                                </button></td>
                            </tr>
                        }
                    }) }
                </tbody>
            </table>
            <p role="status" aria-label="Keys" class="note">{ (*said).clone() }</p>
            if !settings.keys.is_complete() {
                <p class="alert" role="alert">{ "Not every dot has a key: some cells cannot be written." }</p>
            }
            <button type="button" class="quiet" onclick={usual}>{ "Back to the usual keys" }</button>
            <KeyboardCheck />
        </>
    }
}
