//! What this browser keeps: versioned JSON in localStorage. It may be missing, damaged, full, refused, or changed by another
//! tab; nothing here fails loudly. What cannot be read, and work that another tab has changed unseen, is set aside before
//! anything is written in its place; where there is no room to set it aside, nothing is written. How it stands is told to
//! the page's window, for `widgets::store_notice`.

use std::cell::{Cell, RefCell};

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use web_sys::js_sys::{JSON, Reflect};

use crate::page::browser::stored::{self, Stored};

/// Why something could not be kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StoreError {
    /// The browser keeps nothing for this page (private window, file page, or switched off).
    Refused,
    /// The browser's room for this page is used up.
    Full,
    /// The value has no form in JSON.
    Form,
}

impl StoreError {
    /// What it means and what to do, in plain words.
    pub fn words(self) -> &'static str {
        match self {
            StoreError::Refused => {
                "This browser keeps nothing for this page. Save your record as a file before you close it."
            }
            StoreError::Full => {
                "This browser has no room left for this page: what is new is not stored. Save it as a file before you close the page."
            }
            StoreError::Form => "This could not be stored.",
        }
    }
}

#[derive(Serialize, Deserialize)]
struct Kept<T> {
    version: u32,
    value: T,
}

/// What the browser lends to keep things in, if it does. Whoever uses it by hand asks [`place`] for the key.
pub fn storage() -> Option<web_sys::Storage> {
    gloo::utils::window().local_storage().ok().flatten()
}

/// Under which the person is named whose page this is: their number and name. Without it there is one, who has no name.
pub const PERSON: &str = "cellwright-person";
/// Under which it stands that all that one person, or everybody, has here is being taken away.
pub const LEAVING: &str = "cellwright-leaving";
/// Stands there for everybody; for one person, what their keys begin with.
pub const EVERYBODY: &str = "all";
/// What the keys of this page begin with; those of a second person have their number in the place of the stop.
const OURS: &str = "cellwright.";

thread_local! {
    /// Whose page this is, as long as it is open: what their keys begin with, and their name where there are several.
    static WHO: (String, Option<String>) = {
        let told = storage().and_then(|storage| storage.get_item(PERSON).ok().flatten());
        let (number, name) = told.as_deref().and_then(|told| told.split_once(' ')).unwrap_or_default();
        (prefix(number), told.as_ref().map(|_| name.to_owned()))
    };
    /// All of this person is being taken away: nothing is kept any more.
    static GONE: Cell<bool> = const { Cell::new(false) };
}

/// What the keys of a person begin with. What was here before there were several belongs to the first.
pub fn prefix(number: &str) -> String {
    match number {
        "" | "1" => OURS.to_owned(),
        number => ["cellwright~", number, "."].concat(),
    }
}

/// The name of the person whose page this is, where there are several; the first may have none.
pub fn person() -> Option<String> {
    WHO.with(|who| who.1.clone())
}

/// Where this person's whole key stands in the browser's storage.
pub fn place(key: &str) -> String {
    match key.strip_prefix(OURS) {
        Some(rest) => WHO.with(|who| [&who.0, rest].concat()),
        None => key.to_owned(),
    }
}

/// The whole key of what stands at a place; `None` for what is another person's.
fn key_at(place: String) -> Option<String> {
    WHO.with(|who| match place.strip_prefix(&who.0) {
        Some(rest) => Some([OURS, rest].concat()),
        None => Some(place).filter(|place| !place.starts_with("cellwright")),
    })
}

/// Whether this browser was handed to another person while this page slept.
pub fn is_of_another() -> bool {
    let told = storage().and_then(|storage| storage.get_item(PERSON).ok().flatten());
    let name = told.and_then(|told| told.split_once(' ').map(|(number, _)| prefix(number)));
    !holds() && WHO.with(|who| name.unwrap_or_else(|| prefix("")) != who.0)
}

/// Whether this page comes back as it was, and all that this person had here was taken away meanwhile.
pub fn is_swept(shown: &web_sys::Event) -> bool {
    let again = Reflect::get(shown, &"persisted".into()).is_ok_and(|persisted| persisted.is_truthy());
    again && !holds() && !keys().iter().any(|key| key.starts_with(OURS))
}

/// From now on nothing is kept: what is here is being taken away.
pub fn be_gone() {
    GONE.set(true);
}

/// Another tab has handed this browser to another person, or takes everything away. Gives whether this page has to begin anew: not
/// while it holds what is stored nowhere.
pub fn hear_of_people(event: &web_sys::Event) -> bool {
    let text = |name: &str| Reflect::get(event, &name.into()).ok().and_then(|value| value.as_string());
    let key = text("key");
    match (key.as_deref(), text("newValue")) {
        (Some(PERSON), _) => !holds(),
        (Some(LEAVING), Some(told)) => {
            let whose = told.split(' ').next().unwrap_or_default();
            if whose == EVERYBODY || WHO.with(|who| whose == who.0) {
                be_gone();
            }
            false
        }
        (Some(LEAVING), None) => GONE.get(),
        _ => false,
    }
}

thread_local! {
    /// What the browser did not take, for as long as the page is open.
    static HELD: RefCell<Vec<(String, String)>> = const { RefCell::new(Vec::new()) };
    /// Check sums of the work that this page has read or written, by whole keys.
    static SEEN: RefCell<Vec<(String, u64)>> = const { RefCell::new(Vec::new()) };
    /// Whole keys under which something stands that could not be read, and is not set aside yet.
    static UNREAD: RefCell<Vec<String>> = const { RefCell::new(Vec::new()) };
    /// Whether something was set aside since the page was opened.
    static TOLD_ASIDE: Cell<bool> = const { Cell::new(false) };
    /// Why what is new is not stored.
    static LACKS: Cell<Option<StoreError>> = const { Cell::new(None) };
}

/// Told to the page's window whenever it stands otherwise with what is stored.
pub const CHANGED: &str = "cellwright-store";

/// What stands in a key before the number of what was set aside from it.
const ASIDE: &str = ".aside";

/// What a person has made, beside what begins with `work.`: it is never written over unseen.
const WORK: [&str; 8] = ["set", "set.many", "exercises", "class", "shelf", "desk", "proofread.own", "slips"];

fn is_work(key: &str) -> bool {
    let named = |name: &str| key.strip_suffix(name).is_some_and(|before| before.ends_with('.'));
    !key.contains(ASIDE) && (key.contains(".work.") || WORK.iter().any(|name| named(name)))
}

/// A check sum (FNV-1a).
fn sum(text: &str) -> u64 {
    text.bytes()
        .fold(0xcbf2_9ce4_8422_2325, |sum, byte| (sum ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3))
}

/// This page knows what stands under a key.
fn see(key: &str, text: &str) {
    if is_work(key) {
        SEEN.with_borrow_mut(|seen| {
            seen.retain(|(known, _)| known != key);
            seen.push((key.to_owned(), sum(text)));
        });
    }
}

fn tell() {
    if let Ok(event) = web_sys::Event::new(CHANGED) {
        let _ = gloo::utils::window().dispatch_event(&event);
    }
}

/// Why what is new is not stored; `None` when all of it is.
pub fn lacks() -> Option<StoreError> {
    LACKS.get()
}

fn lack(why: Option<StoreError>) {
    if LACKS.replace(why) != why {
        tell();
    }
}

/// The text under a whole key: what the browser keeps, or what it did not take and the page holds.
pub fn text(key: &str) -> Option<String> {
    let stored = storage().and_then(|storage| item(&storage, key));
    if let Some(stored) = &stored {
        see(key, stored);
    }
    HELD.with_borrow(|held| held.iter().find(|(known, _)| known == key).map(|(_, text)| text.clone()))
        .or(stored)
}

/// Keeps a text under a whole key. What the browser does not take is held as long as the page is open.
///
/// # Errors
/// When the browser refuses or has no room left, also for a copy of what stands there and was not read.
pub fn keep_text(key: &str, text: &str) -> Result<(), StoreError> {
    let kept = put(key, text);
    let held_before = holds();
    let others = HELD.with_borrow_mut(|held| {
        held.retain(|(known, _)| known != key);
        if kept.is_err() {
            held.push((key.to_owned(), text.to_owned()));
        }
        if kept.is_ok() { std::mem::take(held) } else { Vec::new() }
    });
    // There is room again: for the others too?
    let mut why = kept.err();
    for (key, text) in others {
        if let Err(error) = put(&key, &text) {
            why = Some(error);
            HELD.with_borrow_mut(|held| held.push((key, text)));
        }
    }
    lack(why);
    if held_before != holds() {
        tell();
    }
    kept
}

fn item(storage: &web_sys::Storage, key: &str) -> Option<String> {
    storage.get_item(&place(key)).ok().flatten()
}

fn put(key: &str, text: &str) -> Result<(), StoreError> {
    if GONE.get() {
        return Ok(());
    }
    let storage = storage().ok_or(StoreError::Refused)?;
    spare(&storage, key, Some(text))?;
    storage.set_item(&place(key), text).map_err(|_| why(&storage, text))?;
    see(key, text);
    Ok(())
}

/// Before something is written over or taken away: what stands there and was not read here is set aside.
fn spare(storage: &web_sys::Storage, key: &str, new: Option<&str>) -> Result<(), StoreError> {
    let unread = UNREAD.with_borrow(|unread| unread.iter().any(|one| one == key));
    if !unread && !is_work(key) {
        return Ok(());
    }
    let Some(found) = item(storage, key) else { return Ok(()) };
    let sum = sum(&found);
    let seen = SEEN.with_borrow(|seen| seen.iter().any(|(known, of)| known == key && *of == sum));
    if unread || !(seen || new == Some(&found)) {
        set_aside(key, &found)?;
    }
    Ok(())
}

/// Puts a copy of what stands under a whole key, and cannot be read, beside it, and says so.
///
/// # Errors
/// When the browser has no room for the copy: then nothing is written over it.
pub fn set_aside(key: &str, text: &str) -> Result<(), StoreError> {
    let done = copy_aside(key, text);
    UNREAD.with_borrow_mut(|unread| {
        unread.retain(|one| one != key);
        if done.is_err() {
            unread.push(key.to_owned());
        }
    });
    match done {
        Err(why) => lack(Some(why)),
        Ok(new) if new && !TOLD_ASIDE.replace(true) => tell(),
        Ok(_) => {}
    }
    done.map(drop)
}

/// Puts a text beside what stands under a whole key, unless it stands there; the page's notice is not for it.
///
/// # Errors
/// When the browser has no room for it.
pub fn put_aside(key: &str, text: &str) -> Result<(), StoreError> {
    copy_aside(key, text).map(drop)
}

/// Gives whether it was not there already.
fn copy_aside(key: &str, text: &str) -> Result<bool, StoreError> {
    let storage = storage().ok_or(StoreError::Refused)?;
    let mut beside = format!("{key}{ASIDE}");
    let mut n = 1;
    while let Some(there) = item(&storage, &beside) {
        if there == text {
            return Ok(false);
        }
        n += 1;
        beside = format!("{key}{ASIDE}{n}");
    }
    if text.is_empty() || GONE.get() {
        return Ok(false);
    }
    storage.set_item(&place(&beside), text).map(|()| true).map_err(|_| why(&storage, text))
}

/// What stands under `key` could be read in part only: all of it is set aside.
pub fn read_in_part(key: &str) {
    let key = full_key(key);
    if let Some(text) = text(&key) {
        let _ = set_aside(&key, &text);
    }
}

/// Whether something was set aside under this whole key.
pub fn is_aside(key: &str) -> bool {
    key.starts_with("cellwright.") && key.contains(ASIDE)
}

/// Whether something was set aside, in this visit or an earlier one.
pub fn has_aside() -> bool {
    keys().iter().any(|key| is_aside(key))
}

/// Whether something was set aside since the page was opened.
pub fn has_new_aside() -> bool {
    TOLD_ASIDE.get()
}

/// Everything that was set aside, as one text.
pub fn aside() -> String {
    keys().iter().filter(|key| is_aside(key)).filter_map(|key| text(key)).collect::<Vec<_>>().join("\n")
}

/// Takes away what was set aside.
pub fn forget_aside() {
    for key in keys().iter().filter(|key| is_aside(key)) {
        forget_text(key);
    }
    TOLD_ASIDE.set(false);
    tell();
}

/// Whether there is something that the browser did not take.
pub fn holds() -> bool {
    HELD.with_borrow(|held| !held.is_empty())
}

/// What the browser did not take, as one text.
pub fn held_text() -> String {
    HELD.with_borrow(|held| held.iter().map(|(key, text)| format!("{key}\n{text}\n")).collect())
}

/// Why the browser did not take a text. One that keeps nothing at all says the same as one that is full.
fn why(storage: &web_sys::Storage, text: &str) -> StoreError {
    let keeps = storage.length().is_ok_and(|length| length > 0);
    if keeps || text.len() > MUCH { StoreError::Full } else { StoreError::Refused }
}

/// A text longer than this is refused by no browser but for its length.
const MUCH: usize = 100_000;

/// [`keep_text`] for what is better not there at all than only as long as the page is open.
///
/// # Errors
/// When the browser refuses or has no room left; nothing is held then.
pub fn keep_text_or_not(key: &str, text: &str) -> Result<(), StoreError> {
    let kept = put(key, text);
    if kept.is_err() {
        HELD.with_borrow_mut(|held| held.retain(|(known, _)| known != key));
    }
    kept
}

/// Every whole key there is of this person, and of what is not this page's.
pub fn keys() -> Vec<String> {
    let mut keys: Vec<String> = HELD.with_borrow(|held| held.iter().map(|(key, _)| key.clone()).collect());
    if let Some(storage) = storage() {
        let stored = (0..storage.length().unwrap_or(0)).filter_map(|n| storage.key(n).ok().flatten());
        keys.extend(stored.filter_map(key_at));
    }
    crate::order::sort(&mut keys);
    keys.dedup();
    keys
}

fn full_key(key: &str) -> String {
    format!("cellwright.{key}")
}

/// Tries whether this browser keeps anything for this page.
///
/// # Errors
/// When it refuses or has no room left.
pub fn works() -> Result<(), StoreError> {
    let tried = storage().ok_or(StoreError::Refused).and_then(|storage| {
        let tried =
            storage.set_item("cellwright.try", "1").and_then(|()| storage.remove_item("cellwright.try"));
        tried.map_err(|_| why(&storage, ""))
    });
    if tried.is_err() {
        lack(tried.err());
    }
    tried
}

/// The value under `key` if it was kept with this `version`. A damaged value or one of another version is set aside
/// under `key.aside` and counts as missing.
pub fn load<T: Stored>(key: &str, version: u32) -> Option<T> {
    load_by(key, |text| {
        let kept = JSON::parse(text).ok()?;
        (stored::part(&kept, "version") == Some(version)).then(|| stored::part(&kept, "value"))?
    })
}

/// [`load`] for what only the whole page keeps, of any type that serde knows.
pub fn load_any<T: DeserializeOwned>(key: &str, version: u32) -> Option<T> {
    load_by(key, |text| {
        serde_json::from_str::<Kept<T>>(text)
            .ok()
            .filter(|kept| kept.version == version)
            .map(|kept| kept.value)
    })
}

fn load_by<T>(key: &str, read: impl FnOnce(&str) -> Option<T>) -> Option<T> {
    let key = full_key(key);
    let text = text(&key)?;
    let value = read(&text);
    if value.is_none() {
        let _ = set_aside(&key, &text);
    }
    value
}

/// Keeps a value under `key`.
///
/// # Errors
/// When the browser refuses or has no room left; the value kept before stays there, and the new one is held as long
/// as the page is open.
pub fn save<T: Stored>(key: &str, version: u32, value: &T) -> Result<(), StoreError> {
    let kept = stored::object(&[("version", version.give()), ("value", value.give())]);
    let text = JSON::stringify(&kept).map_err(|_| StoreError::Form)?;
    keep_text(&full_key(key), &String::from(text))
}

/// [`save`] for what only the whole page keeps, of any type that serde knows.
///
/// # Errors
/// As for [`save`].
pub fn save_any<T: Serialize>(key: &str, version: u32, value: &T) -> Result<(), StoreError> {
    let text = serde_json::to_string(&Kept { version, value }).map_err(|_| StoreError::Form)?;
    keep_text(&full_key(key), &text)
}

/// Forgets the value under `key`.
pub fn forget(key: &str) {
    forget_text(&full_key(key));
}

/// Forgets the text under a whole key; what stands there and was not read here stays where it cannot be set aside.
pub fn forget_text(key: &str) {
    HELD.with_borrow_mut(|held| held.retain(|(known, _)| known != key));
    if let Some(storage) = storage()
        && spare(&storage, key, None).is_ok()
    {
        let _ = storage.remove_item(&place(key));
    }
}

/// The key, as [`load`] has it, of what another tab has just stored or taken away, told by the browser's `storage` event.
pub fn changed(event: &web_sys::Event) -> Option<String> {
    let key = Reflect::get(event, &"key".into()).ok()?.as_string()?;
    WHO.with(|who| key.strip_prefix(&who.0).map(str::to_owned))
}

/// What the browser did not take, for the whole page that takes this one's place.
pub fn held() -> Vec<(String, String)> {
    HELD.with_borrow(Clone::clone)
}

/// Holds what the page before could not have kept.
pub fn hold(held: Vec<(String, String)>) {
    HELD.set(held);
}
