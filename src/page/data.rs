//! Data files that lie beside the page, in `www/data`: fetched when first needed, and once.

use std::cell::RefCell;
use std::collections::HashMap;
use std::rc::Rc;

use gloo::net::http::Request;
use yew::prelude::*;

use crate::practice::supply::Supply;

/// What to say when a data file cannot be had.
pub const MISSING: &str = "The texts of this page could not be loaded. Reload the page while you are connected; signs can be practised meanwhile.";

thread_local! {
    static FILES: RefCell<HashMap<String, Rc<str>>> = RefCell::new(HashMap::new());
    static SUPPLY: RefCell<Option<Rc<Supply>>> = const { RefCell::new(None) };
}

/// The data file of this name.
///
/// # Errors
/// In plain words, when it cannot be fetched.
pub async fn load(name: &str) -> Result<Rc<str>, &'static str> {
    if let Some(text) = FILES.with_borrow(|files| files.get(name).cloned()) {
        return Ok(text);
    }
    if let Some(text) = in_document(name) {
        FILES.with_borrow_mut(|files| files.insert(name.to_owned(), text.clone()));
        return Ok(text);
    }
    let answer = Request::get(&format!("www/data/{name}")).send().await.map_err(|_| MISSING)?;
    if !answer.ok() {
        return Err(MISSING);
    }
    let text: Rc<str> = answer.text().await.map_err(|_| MISSING)?.into();
    FILES.with_borrow_mut(|files| files.insert(name.to_owned(), text.clone()));
    Ok(text)
}

/// The single-file edition carries the data files in itself, each as one JSON string.
fn in_document(name: &str) -> Option<Rc<str>> {
    let element = gloo::utils::document().get_element_by_id(&format!("data-{name}"))?;
    let text: String = serde_json::from_str(&element.text_content()?).ok()?;
    Some(text.into())
}

/// The texts, frames and words, as far as they are there.
#[derive(Clone, Default)]
pub enum Stock {
    /// On their way.
    #[default]
    Coming,
    /// Here.
    Here(Rc<Supply>),
    /// They could not be had; why and what to do.
    Missing(&'static str),
}

impl PartialEq for Stock {
    fn eq(&self, other: &Stock) -> bool {
        match (self, other) {
            (Stock::Coming, Stock::Coming) => true,
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

async fn supply() -> Result<Rc<Supply>, &'static str> {
    let (texts, frames, words) =
        (load("passages.txt").await?, load("frames.txt").await?, load("words.txt").await?);
    let supply = Rc::new(Supply::parse(&texts, &frames, &words));
    SUPPLY.set(Some(supply.clone()));
    Ok(supply)
}

/// The texts, frames and words, in a room: fetched if no room has done so before.
#[hook]
pub fn use_supply() -> Stock {
    let stock = use_state_eq(|| SUPPLY.with_borrow(Clone::clone).map_or(Stock::Coming, Stock::Here));
    {
        let stock = stock.clone();
        use_effect_with((), move |()| {
            if stock.here().is_none() {
                wasm_bindgen_futures::spawn_local(async move {
                    stock.set(match supply().await {
                        Ok(supply) => Stock::Here(supply),
                        Err(why) => Stock::Missing(why),
                    });
                });
            }
        });
    }
    (*stock).clone()
}
