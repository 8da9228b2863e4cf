//! Where the links made in this page lead, also when it was opened as a file, from a disk.

use yew::prelude::*;

use crate::exercise::Exercise;
use crate::page::browser::held::use_held;
use crate::page::browser::store;

/// What to say when a link cannot be made because nobody knows where it should lead.
pub const NO_SITE: &str = "This page is a file on your computer, and a link has to lead to a site. Give the address of the site where your learners open Cellwright.";
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
pub fn learn_site(text: &str, address: &str) {
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

/// The link of an exercise, or why there is none.
///
/// # Errors
/// In plain words, when the exercise does not fit into a link.
pub fn link_of(exercise: &Exercise) -> Result<String, String> {
    link_to(&exercise.to_payload().map_err(|error| error.to_string())?)
}

/// The link of an exercise or a set by its payload.
///
/// # Errors
/// In plain words, when nobody knows where it should lead.
pub fn link_to(payload: &str) -> Result<String, String> {
    Ok(format!("{}#/x/{payload}", site().ok_or(NO_SITE)?))
}
