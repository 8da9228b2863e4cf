//! Handing in: a finished exercise becomes a result slip, by link or by file.

use std::cell::RefCell;

use yew::prelude::*;

use crate::exercise::envelope::LINK as LONGEST;
use crate::exercise::{Asks, Slip};
use crate::page::browser::clipboard::{copy_link, may_share, share};
use crate::page::browser::held::use_held;
use crate::page::browser::saving::save;
use crate::page::browser::site::{self, SiteAddress};
use crate::page::browser::store;
use crate::page::learner::settings::use_settings;
use crate::page::marked::progress::Progress;
use crate::page::widgets::cells_line;
use crate::page::widgets::fields::text_of;

/// Longer links are cut by some programs (common practice).
pub const LINK: usize = 2000;

/// The slip to hand in, still without a name.
#[derive(Properties, PartialEq)]
pub struct HandInProps {
    /// The slip.
    pub slip: Slip,
    /// Where the exercise is kept, and with it the name on its slip; empty for nowhere.
    #[prop_or_default]
    pub name: AttrValue,
}

thread_local! {
    /// The name that was put on a slip in this visit: it is not asked for twice.
    static NAME: RefCell<String> = RefCell::default();
}

/// What can be done with finished work: begin anew, as long as a try is left.
pub fn handed_in(progress: &Progress, again: Callback<MouseEvent>) -> Html {
    html! {
        <div class="controls">
            if progress.used_up() {
                <p class="note">{ "That was the last try that your teacher allows." }</p>
            } else {
                <button type="button" class="quiet" onclick={again}>{ "Put it away and do it again" }</button>
                <span class="note">{ match progress.left() {
                    None => "It stays here until then. The slip tells of every try.".to_owned(),
                    Some(1) => "It stays here until then. One try is left; the slip tells of every try.".to_owned(),
                    Some(left) => format!("It stays here until then. {left} tries are left; the slip tells of every try."),
                } }</span>
            }
        </div>
    }
}

/// What the slip comes to, in one line.
fn summary(slip: &Slip) -> String {
    let told = |slip: &Slip| crate::exercise::told::score(slip, slip.right, slip.asked);
    if !slip.parts.is_empty() {
        let done = slip.parts.iter().filter(|part| !part.not_handed_in()).count();
        return format!("{done} of {} exercises handed in. ", slip.parts.len());
    }
    let time = slip.time().map_or("time unknown".to_owned(), |_| slip.time_in_words());
    let help = if slip.tries().iter().any(|one| one.helped) { "with help" } else { "without help" };
    match slip.tries().len() {
        0 | 1 => format!("{}, {time}, {help}. ", told(slip)),
        tries => format!("{tries} tries, the last {}; {time} in all, {help}. ", told(slip)),
    }
}

/// The slip's link and file, with the name that the teacher asked for: `<HandIn slip=.. name=.. />`.
#[component]
pub fn HandIn(props: &HandInProps) -> Html {
    let settings = use_settings();
    let key = format!("{}.by", props.name);
    let by = {
        let (key, kept) = (key.clone(), !props.name.is_empty());
        use_held(move || {
            let known = if kept { store::load_any::<String>(&key, 1) } else { None };
            known.unwrap_or_else(|| NAME.with_borrow(String::clone))
        })
    };
    let site = use_held(site::site);
    let said = use_held(String::new);
    let asks = props.slip.set.as_ref().map_or(Asks::Name, |set| set.asks);
    let slip = match asks {
        Asks::Nothing => props.slip.clone(),
        _ => Slip { by: (*by).clone(), ..props.slip.clone() },
    };
    let made =
        slip.to_payload().map(|payload| format!("{}#/r/{payload}", site.as_deref().unwrap_or_default()));
    let fits = made.as_ref().is_ok_and(|link| link.len() <= LONGEST) && site.is_some();
    let on_site = {
        let site = site.clone();
        Callback::from(move |()| site.set(site::site()))
    };
    let oninput = {
        let (by, kept) = (by.clone(), !props.name.is_empty());
        Callback::from(move |event: InputEvent| {
            let name: String = text_of(&event).chars().take(60).collect();
            NAME.set(name.clone());
            if kept {
                // A browser that keeps nothing asks for it at the next visit.
                let _ = store::save_any(&key, 1, &name);
            }
            by.set(name);
        })
    };
    let send = |shared: bool| {
        let (said, made) = (said.clone(), made.clone());
        Callback::from(move |_: MouseEvent| {
            let (said, made) = (said.clone(), made.clone());
            wasm_bindgen_futures::spawn_local(async move {
                if let Ok(link) = made {
                    said.set(if shared { share(&link).await } else { copy_link(&link).await });
                }
            });
        })
    };
    let save_file = {
        let made = made.clone();
        Callback::from(move |_: MouseEvent| {
            if let Ok(link) = &made {
                save("result-slip.txt", link);
            }
        })
    };
    let label = match asks {
        Asks::Number => "Your number, as your teacher gave it ",
        _ => "Name on the slip, if you like ",
    };
    html! {
        <section class="marked" aria-label="Result slip">
            <h2>{ "Result slip for your teacher" }</h2>
            <p>{ summary(&slip) }{ "It holds the work itself. Your teacher sees that it is what your own computer reported." }</p>
            if asks != Asks::Nothing {
                <p><label>{ label }<input type="text" autocomplete="off" value={(*by).clone()} {oninput} /></label></p>
            }
            { match &made {
                Err(error) => html! { <p class="alert" role="alert">{ format!("{error} Save the work as a file and send that.") }</p> },
                Ok(link) => html! {
                    <>
                        if site.is_none() {
                            <p>{ "This page is a file on your computer, and a link has to lead to a site. Send the slip as a file, or give the address of the site that your exercise came from." }</p>
                            <SiteAddress {on_site} />
                        } else if fits {
                            <p><input type="text" readonly=true class="wide" value={link.clone()} aria-label="Slip link" /></p>
                        }
                        if site.is_some() && link.len() > LINK {
                            <p class="alert">{ format!("As a link this slip has {} characters; some programs cut links above {LINK}. Send the file instead.", link.len()) }</p>
                        }
                        <div class="controls">
                            if fits { <button type="button" class="main" onclick={send(false)}>{ "Copy the slip’s link" }</button> }
                            if fits && may_share() { <button type="button" onclick={send(true)}>{ "Share the slip" }</button> }
                            <button type="button" onclick={save_file}>{ "Save the slip as a file" }</button>
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
