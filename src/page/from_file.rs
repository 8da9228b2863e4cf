//! The page opened as a file, from a disk: where the links made in it lead. And, in every edition, a link or an
//! exercise file opened by hand, for those whom a link does not reach.

use gloo::file::callbacks::{FileReader, read_as_text};
use yew::prelude::*;

use super::halves::use_opened;
use super::held::use_held;
use super::store;
use crate::exercise;

/// What to say when a link cannot be made because nobody knows where it should lead.
pub const NO_SITE: &str = "This page is a file on your computer, and a link has to lead to a site. Give the address of the site where your learners open Cellwright.";
/// The largest exercise file: a link's longest payload, and much around it.
const LARGEST: f64 = 1_000_000.0;
const KEY: &str = "site";
const VERSION: u32 = 1;

/// Whether this page was opened from a disk.
pub fn is_file() -> bool {
    gloo::utils::window().location().protocol().is_ok_and(|protocol| protocol == "file:")
}

/// What a link begins with: this page's address without its fragment; on a file page the address that was set, or the
/// one the file was made with, or none.
pub fn site() -> Option<String> {
    if !is_file() {
        let href = gloo::utils::window().location().href().unwrap_or_default();
        return Some(href.split('#').next().unwrap_or_default().to_owned());
    }
    let made_with = || {
        let meta = gloo::utils::document().query_selector("meta[name=cellwright-site]").ok()??;
        meta.get_attribute("content")
    };
    store::load(KEY, VERSION).or_else(made_with).and_then(|site: String| whole(&site))
}

/// A site's address as a link begins with it; none when it is no address of the web.
fn whole(site: &str) -> Option<String> {
    let site = site.trim().split('#').next()?;
    let rest = site.strip_prefix("https://").or_else(|| site.strip_prefix("http://"))?;
    if rest.is_empty() || rest.contains(char::is_whitespace) {
        return None;
    }
    let has_file = rest.ends_with('/') || rest.ends_with(".html") || rest.contains('?');
    Some(if has_file { site.to_owned() } else { format!("{site}/") })
}

/// Where no site is known yet, the one that a link leads to: what comes of the exercise goes back there.
fn learn_site(text: &str, address: &str) {
    if !is_file() || site().is_some() {
        return;
    }
    let before = text.split_once(address).map_or("", |(before, _)| before);
    let begins = before.rfind("https://").or_else(|| before.rfind("http://"));
    if let Some(site) = begins.and_then(|at| whole(&before[at..])) {
        // A browser that keeps nothing holds it as long as the page is open.
        let _ = store::save(KEY, VERSION, &site);
    }
}

/// The same link within this page.
pub fn here(link: &str) -> String {
    link.find('#').map_or_else(|| link.to_owned(), |at| link[at..].to_owned())
}

/// Properties of [`SiteAddress`].
#[derive(Properties, PartialEq)]
pub struct SiteAddressProps {
    /// Called when the address has changed.
    pub on_site: Callback<()>,
}

/// The field in which a file page is told where its links lead.
#[component]
pub fn SiteAddress(props: &SiteAddressProps) -> Html {
    let typed = use_held(|| site().unwrap_or_default());
    let oninput = {
        let (typed, on_site) = (typed.clone(), props.on_site.clone());
        Callback::from(move |event: InputEvent| {
            let value = event.target_unchecked_into::<web_sys::HtmlInputElement>().value();
            // A browser that keeps nothing holds it as long as the page is open.
            let _ = store::save(KEY, VERSION, &value);
            typed.set(value);
            on_site.emit(());
        })
    };
    let wrong = !typed.trim().is_empty() && whole(&typed).is_none();
    html! {
        <p>
            <label>{ "Site that your links lead to" }<br />
                <input type="text" inputmode="url" value={(*typed).clone()} {oninput} aria-invalid={wrong.then_some("true")}
                    aria-describedby="site-hint" placeholder="https://" />
            </label>
            <br />
            <span id="site-hint" class="note">{ "The address where learners open Cellwright. It begins with https://" }</span>
        </p>
    }
}

/// The line under which [`OpenWork`] opens.
pub const LINE: &str = "Open a link or an exercise file";

/// A link or an exercise file, opened by hand.
#[component]
pub fn OpenWork() -> Html {
    let (open_at_once, line) = use_opened("open");
    let text = use_held(String::new);
    let said = use_held(String::new);
    let reader = use_mut_ref(|| None::<FileReader>);
    let open = {
        let said = said.clone();
        Callback::from(move |text: String| match exercise::in_link(&text) {
            Some((kind, payload)) => {
                learn_site(&text, kind.address());
                super::route::go(&format!("{}{payload}", kind.address()));
            }
            None => said.set(
                "There is no link of an exercise in this. Copy the whole link, or choose the file again."
                    .to_owned(),
            ),
        })
    };
    let oninput = {
        let text = text.clone();
        Callback::from(move |event: InputEvent| {
            text.set(event.target_unchecked_into::<web_sys::HtmlInputElement>().value());
        })
    };
    let onsubmit = {
        let (open, text) = (open.clone(), text.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            open.emit((*text).clone());
        })
    };
    let onchange = {
        let (open, said, reader) = (open, said.clone(), reader);
        Callback::from(move |event: Event| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let Some(file) = input.files().and_then(|files| files.get(0)) else { return };
            if file.size() > LARGEST {
                said.set("This file is too large to be an exercise.".to_owned());
                return;
            }
            let (open, said) = (open.clone(), said.clone());
            let task =
                read_as_text(&gloo::file::Blob::from(gloo::file::File::from(file)), move |text| match text {
                    Ok(text) => open.emit(text),
                    Err(_) => said.set("The file could not be read. Choose it again.".to_owned()),
                });
            *reader.borrow_mut() = Some(task);
        })
    };
    html! {
        <details open={open_at_once}>
            <summary ref={line}>{ LINE }</summary>
            <form {onsubmit} class="controls open-work">
                <label>{ "Link " }<input type="text" value={(*text).clone()} {oninput} autocomplete="off" /></label>
                <button type="submit">{ "Open the link" }</button>
                <label>{ "Exercise file " }<input type="file" accept=".txt,text/plain" {onchange} /></label>
            </form>
            <p role="status" aria-label="Opening">{ (*said).clone() }</p>
        </details>
    }
}
