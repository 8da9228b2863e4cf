//! The people who share this browser, and taking away what one or all of them have here.

use gloo::timers::callback::Timeout;
use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::js_sys::{Array, Reflect};

use crate::page::browser::clock::now;
use crate::page::browser::leaving::finish_typing;
use crate::page::browser::store::{self, EVERYBODY, LEAVING, PERSON, StoreError, prefix, storage};
use crate::page::states::people::People;

/// Where the list is kept.
const PEOPLE: &str = "cellwright-people";
/// Other tabs have heard, after so many milliseconds, that everything is being taken away.
const HEARD: u32 = 400;

/// Every place of the browser's storage that is this page's, whoever's it is.
fn places(storage: &web_sys::Storage) -> Vec<String> {
    let all = (0..storage.length().unwrap_or(0)).filter_map(|n| storage.key(n).ok().flatten());
    all.filter(|place| place.starts_with("cellwright")).collect()
}

/// Who shares this browser.
pub fn people() -> People {
    let Some(storage) = storage() else { return People::of(None, None, []) };
    let text = |place: &str| storage.get_item(place).ok().flatten();
    let number = |place: &String| place.strip_prefix("cellwright~")?.split('.').next()?.parse().ok();
    let numbers: Vec<u32> = places(&storage).iter().filter_map(number).collect();
    People::of(text(PERSON).as_deref(), text(PEOPLE).as_deref(), numbers)
}

/// Keeps who there is, and who is at work.
///
/// # Errors
/// When the browser refuses or has no room left.
pub fn keep(people: &People) -> Result<(), StoreError> {
    let storage = storage().ok_or(StoreError::Refused)?;
    let first_alone = !people.several() && people.person_here().name.is_empty();
    if first_alone {
        let _ = storage.remove_item(PEOPLE);
        let _ = storage.remove_item(PERSON);
        return Ok(());
    }
    let kept =
        storage.set_item(PEOPLE, &people.to_text()).and_then(|()| storage.set_item(PERSON, &people.line()));
    kept.map_err(|_| {
        if storage.length().is_ok_and(|length| length > 0) { StoreError::Full } else { StoreError::Refused }
    })
}

/// Hands the browser to the one who is at work now: the page begins anew, at this address.
///
/// # Errors
/// When that could not be kept: then all stays as it was.
pub fn hand_to(people: &People, address: &str) -> Result<(), StoreError> {
    finish_typing();
    keep(people)?;
    begin_at(address);
    Ok(())
}

fn begin_at(address: &str) {
    let location = gloo::utils::window().location();
    let _ = location.replace(address);
    let _ = location.reload();
}

/// Takes away everything that the one at work, or everybody, has here: also what other tabs still write, and the books that
/// were kept because they were opened. Then the page begins anew.
pub fn take_away(people: &People, everybody: bool) {
    store::be_gone();
    let whose = if everybody { EVERYBODY.to_owned() } else { prefix(&people.here.to_string()) };
    clear(&whose);
    if let Some(storage) = storage() {
        // With the time, so that the same is heard when it is said again.
        let _ = storage.set_item(LEAVING, &format!("{whose} {}", now()));
    }
    let mut left = people.clone();
    left.leave();
    wasm_bindgen_futures::spawn_local(async move {
        let _ = forget_books().await;
        Timeout::new(HEARD, move || {
            clear(&whose);
            if !everybody {
                let _ = keep(&left);
            }
            if let Some(storage) = storage() {
                let _ = storage.remove_item(LEAVING);
            }
            begin_at("#/");
        })
        .forget();
    });
}

/// Ends what a tab that was closed at once left half taken away.
pub fn end_leaving() {
    let told = storage().and_then(|storage| storage.get_item(LEAVING).ok().flatten());
    let Some((whose, since)) = told.as_deref().and_then(|told| told.split_once(' ')) else { return };
    // A tab that is at it now ends it by itself.
    if since.parse().is_ok_and(|since: u64| now().abs_diff(since) < 5 * u64::from(HEARD)) {
        return;
    }
    clear(whose);
    if let Some(storage) = storage() {
        let _ = storage.remove_item(LEAVING);
    }
}

fn clear(whose: &str) {
    let Some(storage) = storage() else { return };
    let theirs = |place: &String| match whose {
        EVERYBODY => place != LEAVING,
        whose => place.starts_with(whose),
    };
    for place in places(&storage).iter().filter(|place| theirs(place)) {
        let _ = storage.remove_item(place);
    }
}

/// Forgets the books that the service worker has kept: they tell what was read.
async fn forget_books() -> Result<(), JsValue> {
    let window = gloo::utils::window();
    let caches = Reflect::get(&window, &"caches".into())?;
    if caches.is_undefined() {
        return Ok(());
    }
    let caches: web_sys::CacheStorage = caches.unchecked_into();
    let path = window.location().pathname()?;
    let folder = &path[..path.rfind('/').map_or(0, |at| at + 1)];
    let names: Array = JsFuture::from(caches.keys()).await?.unchecked_into();
    for name in names.iter().filter_map(|name| name.as_string()) {
        if name == format!("cellwright {folder} books") {
            JsFuture::from(caches.delete(&name)).await?;
        }
    }
    Ok(())
}
