//! Handing in: a finished exercise becomes a result slip, by link or by file.

use std::cell::RefCell;

use yew::prelude::*;

use super::cells_line;
use super::from_file::{self, SiteAddress};
use super::held::use_held;
use super::learner::now;
use super::settings::use_settings;
use super::shared;
use crate::cell::Cell;
use crate::exercise::{Count, Exercise, Slip};
use crate::manuscript::file::BrailleFile;
use crate::marking::Marked;

/// Longer links are cut by some programs (common practice).
pub const LINK: usize = 2000;

/// The slip to hand in, still without a name.
#[derive(Properties, PartialEq)]
pub struct HandInProps {
    /// The slip.
    pub slip: Slip,
}

/// Today, as `2026-11-25`.
pub fn today() -> String {
    let date = web_sys::js_sys::Date::new_0();
    format!("{:04}-{:02}-{:02}", date.get_full_year(), date.get_month() + 1, date.get_date())
}

/// A text as the address of a file to save.
pub fn href(text: &str) -> String {
    format!("data:text/plain;charset=utf-8,{}", String::from(web_sys::js_sys::encode_uri_component(text)))
}

/// Puts a text on the clipboard and says what became of it.
pub async fn copy_text(text: &str) -> String {
    let clipboard = gloo::utils::window().navigator().clipboard();
    match wasm_bindgen_futures::JsFuture::from(clipboard.write_text(text)).await {
        Ok(_) => "It is on the clipboard.".to_owned(),
        Err(_) => "This browser does not let the page copy. Select the text and copy it yourself.".to_owned(),
    }
}

/// The slip of written braille: `pages` of it, begun at `since`, in milliseconds.
pub fn of_writing(
    set: &Exercise,
    marked: &Marked,
    pages: &[Vec<Vec<Cell>>],
    since: u64,
    helped: bool,
) -> Slip {
    let summary = &marked.summary;
    let mut findings: Vec<Count> = summary
        .kinds
        .iter()
        .map(|(kind, times)| Count { name: kind.words().to_owned(), times: *times as u32 })
        .collect();
    findings.sort_by_key(|count| std::cmp::Reverse(count.times));
    Slip {
        title: set.title.clone(),
        task: set.task,
        right: summary.words.saturating_sub(summary.errors) as u32,
        asked: summary.words as u32,
        seconds: (now().saturating_sub(since) / 1000) as u32,
        helped,
        findings,
        work: BrailleFile::from_pages(pages).to_text(),
        set: Some(set.clone()),
        ..Slip::default()
    }
}

thread_local! {
    /// The name that was put on a slip in this visit: it is not asked for twice, and not kept on a computer of others.
    static NAME: RefCell<String> = RefCell::default();
}

/// The slip's link and file, with the learner's name on it if they want: `<HandIn slip=.. />`.
#[component]
pub fn HandIn(props: &HandInProps) -> Html {
    let settings = use_settings();
    let by = use_held(|| NAME.with_borrow(String::clone));
    let site = use_held(from_file::site);
    let said = use_held(String::new);
    let slip = Slip { by: (*by).clone(), day: today(), ..props.slip.clone() };
    let link =
        slip.to_payload().map(|payload| format!("{}#/r/{payload}", site.as_deref().unwrap_or_default()));
    let on_site = {
        let site = site.clone();
        Callback::from(move |()| site.set(from_file::site()))
    };
    let oninput = {
        let by = by.clone();
        Callback::from(move |event: InputEvent| {
            let input: web_sys::HtmlInputElement = event.target_unchecked_into();
            let name: String = input.value().chars().take(60).collect();
            NAME.set(name.clone());
            by.set(name);
        })
    };
    let copy = {
        let (said, link) = (said.clone(), link.clone());
        Callback::from(move |_: MouseEvent| {
            let (said, link) = (said.clone(), link.clone());
            wasm_bindgen_futures::spawn_local(async move {
                if let Ok(link) = link {
                    said.set(shared::copy(&link).await);
                }
            });
        })
    };
    let summary = format!(
        "{} of {} right, {} min {:02} s",
        slip.right,
        slip.asked,
        slip.seconds / 60,
        slip.seconds % 60
    );
    html! {
        <section class="marked" aria-label="Result slip">
            <h2>{ "Result slip for your teacher" }</h2>
            <p>{ summary }{ if slip.helped { ", with help" } else { ", without help" } }{ ". It holds the work itself. Your teacher sees that it is what your own computer reported." }</p>
            <p><label>{ "Name on the slip, if you like " }<input type="text" autocomplete="off" value={(*by).clone()} {oninput} /></label></p>
            { match &link {
                Err(error) => html! { <p class="alert" role="alert">{ format!("{error} Save the work as a file and send that.") }</p> },
                Ok(link) => html! {
                    <>
                        if site.is_none() {
                            <p>{ "This page is a file on your computer, and a link has to lead to a site. Send the slip as a file, or give the address of the site that your exercise came from." }</p>
                            <SiteAddress {on_site} />
                        } else {
                            <p><input type="text" readonly=true class="wide" value={link.clone()} aria-label="Slip link" /></p>
                        }
                        if site.is_some() && link.len() > LINK {
                            <p class="alert">{ format!("This link has {} characters; some programs cut links above {LINK}. Send the file instead.", link.len()) }</p>
                        }
                        <div class="controls">
                            if site.is_some() { <button type="button" class="main" onclick={copy}>{ "Copy the slip’s link" }</button> }
                            <a class="button" href={href(link)} download="result-slip.txt">{ "Save the slip as a file" }</a>
                            <span role="status" aria-label="Slip copied" class="note">{ (*said).clone() }</span>
                        </div>
                    </>
                },
            } }
            if settings.dot_numbers_only && !slip.findings.is_empty() {
                <p class="note">{ cells_line::without_glyphs(&slip.findings.iter().map(|one| format!("{} {}", one.name, one.times)).collect::<Vec<_>>().join(", ")) }</p>
            }
        </section>
    }
}
