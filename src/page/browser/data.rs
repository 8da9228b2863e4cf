//! Data files that lie beside the page, in `www/data`: fetched when first needed, and once for all rooms.

use std::cell::RefCell;
use std::rc::Rc;

use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use wasm_bindgen::JsCast;
use wasm_bindgen_futures::JsFuture;
use web_sys::js_sys::JSON;
use yew::prelude::*;

use crate::page::browser::clock::now as now_in_ms;
use crate::page::browser::halves::WORTH_A_WORD;
use crate::page::browser::held::use_held;
use crate::practice::supply::Supply;

/// The texts, the frames of sentences, the words, and the braille of them all.
const FILES: [&str; 4] = ["passages.txt", "frames.txt", "words.txt", "braille.txt"];
/// After so long without an answer the network is not waited for in silence, in milliseconds.
const TOO_LONG: u32 = 20_000;
/// Told to the page's window whenever [`now`] has changed.
const CHANGED: &str = "cellwright-data";

const MISSING: &str = "The network did not bring the texts and words of this page. What you have written and recorded is safe, and signs can be practised without them.";
const LATE: &str = "The texts and words of this page are long in coming. They are taken as soon as they are here; signs can be practised meanwhile.";

/// The texts, frames and words, as far as they are there.
#[derive(Clone, Default)]
pub enum Stock {
    /// Nobody has asked for them.
    #[default]
    Asleep,
    /// On their way; so many of the files are here.
    Coming(usize),
    /// Here.
    Here(Rc<Supply>),
    /// They could not be had; why and what goes on without them.
    Missing(&'static str),
}

impl PartialEq for Stock {
    fn eq(&self, other: &Stock) -> bool {
        match (self, other) {
            (Stock::Asleep, Stock::Asleep) => true,
            (Stock::Coming(one), Stock::Coming(two)) => one == two,
            (Stock::Here(one), Stock::Here(two)) => Rc::ptr_eq(one, two),
            (Stock::Missing(one), Stock::Missing(two)) => one == two,
            _ => false,
        }
    }
}

impl Stock {
    /// The supply, when it is here.
    pub fn here(&self) -> Option<&Rc<Supply>> {
        if let Stock::Here(supply) = self { Some(supply) } else { None }
    }
}

thread_local! {
    static STOCK: RefCell<Stock> = const { RefCell::new(Stock::Asleep) };
    static TEXTS: RefCell<[Option<String>; FILES.len()]> = const { RefCell::new([const { None }; FILES.len()]) };
}

fn now() -> Stock {
    STOCK.with_borrow(Clone::clone)
}

fn set(stock: Stock) {
    STOCK.set(stock);
    if let Ok(event) = web_sys::Event::new(CHANGED) {
        let _ = gloo::utils::window().dispatch_event(&event);
    }
}

/// Fetches what is not here yet, unless that is under way already.
fn fetch() {
    if matches!(now(), Stock::Coming(_) | Stock::Here(_)) {
        return;
    }
    set(Stock::Coming(TEXTS.with_borrow(|texts| texts.iter().flatten().count())));
    for (at, name) in FILES.into_iter().enumerate() {
        if TEXTS.with_borrow(|texts| texts[at].is_some()) {
            continue;
        }
        wasm_bindgen_futures::spawn_local(async move {
            match file(name).await {
                Some(text) => arrived(at, text),
                None if now().here().is_none() => set(Stock::Missing(MISSING)),
                None => {}
            }
        });
    }
    // What comes later than this is taken all the same.
    Timeout::new(TOO_LONG, || {
        if matches!(now(), Stock::Coming(_)) {
            set(Stock::Missing(LATE));
        }
    })
    .forget();
}

fn arrived(at: usize, text: String) {
    let supply = TEXTS.with_borrow_mut(|texts| {
        texts[at] = Some(text);
        let [Some(passages), Some(frames), Some(words), Some(braille)] =
            texts.each_ref().map(|text| text.as_deref())
        else {
            return Err(texts.iter().flatten().count());
        };
        Ok(Rc::new(Supply::parse(passages, frames, words, braille)))
    });
    match (supply, now()) {
        (_, Stock::Here(_)) => {}
        (Ok(supply), _) => set(Stock::Here(supply)),
        // Another file has failed: it is asked for by hand.
        (Err(_), Stock::Missing(_)) => {}
        (Err(count), _) => set(Stock::Coming(count)),
    }
}

/// A data file; `None` when the network does not bring it.
pub async fn file(name: &str) -> Option<String> {
    if let Some(text) = in_document(name) {
        return Some(text);
    }
    // Networks that ask for a password first answer with a page of theirs, which the browser may keep: then once more, under an address
    // that it does not know.
    match fetched(&format!("www/data/{name}")).await {
        Some(text) => Some(text),
        None => fetched(&format!("www/data/{name}?{}", now_in_ms())).await,
    }
}

async fn fetched(address: &str) -> Option<String> {
    let asked = gloo::utils::window().fetch_with_str(address);
    let answer: web_sys::Response = JsFuture::from(asked).await.ok()?.dyn_into().ok()?;
    if !answer.ok() {
        return None;
    }
    let text = JsFuture::from(answer.text().ok()?).await.ok()?.as_string()?;
    Some(text).filter(|text| !text.trim_start().starts_with('<') && !text.is_empty())
}

/// The single-file edition carries the data files in itself, each as one JSON string.
fn in_document(name: &str) -> Option<String> {
    let element = gloo::utils::document().get_element_by_id(&format!("data-{name}"))?;
    JSON::parse(&element.text_content()?).ok()?.as_string()
}

/// The texts, frames and words, in a room: fetched if no room has done so before, and again after a failure.
#[hook]
pub fn use_supply() -> Stock {
    use_supply_after(0)
}

/// The same, where something else comes first: fetched after so many milliseconds.
#[hook]
pub fn use_supply_after(pause: u32) -> Stock {
    let stock = use_held(now);
    {
        let stock = stock.clone();
        use_effect_with((), move |()| {
            let listener = EventListener::new(&gloo::utils::window(), CHANGED, move |_| stock.set(now()));
            let timer = Timeout::new(pause, fetch);
            move || drop((listener, timer))
        });
    }
    (*stock).clone()
}

/// Stands where the texts are missed: says after a moment that they are coming, or that they did not come, and asks
/// for them again. Nothing when they are here.
#[component]
pub fn OnTheWay() -> Html {
    let stock = use_supply();
    let slow = use_held(bool::default);
    {
        let slow = slow.clone();
        use_effect_with((), move |()| {
            let timer = Timeout::new(WORTH_A_WORD, move || slow.set(true));
            move || drop(timer)
        });
    }
    match stock {
        Stock::Here(_) => html! {},
        Stock::Missing(why) => html! {
            <div class="alert" role="alert">
                <p>{ why }</p>
                <button type="button" onclick={|_: MouseEvent| fetch()}>{ "Try again" }</button>
            </div>
        },
        Stock::Asleep => html! { <p role="status" aria-label="Texts"></p> },
        Stock::Coming(count) => html! {
            <p role="status" aria-label="Texts">
                if *slow { { format!("The texts and words are being loaded, {count} of {} files …", FILES.len()) } }
            </p>
        },
    }
}
