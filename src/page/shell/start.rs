//! How the browser starts the page, and how the first download makes room for the whole page.

use std::cell::RefCell;

use gloo::timers::callback::Timeout;
use wasm_bindgen::prelude::wasm_bindgen;
use web_sys::js_sys::Function;

use crate::page::browser::halves;
use crate::page::shell::app::{App, AppProps};
use crate::page::shell::table::Table;
use crate::page::shell::{first_download, whole_page};
use crate::page::widgets::cells_font;

/// The rooms of this page. Nothing else in the project asks which of the two downloads it is.
const TABLE: Table = if cfg!(feature = "all-rooms") { whole_page::TABLE } else { first_download::TABLE };

/// So long after it was begun a page is quiet, in milliseconds.
const SETTLED: u32 = 4_000;

thread_local! {
    static APP: RefCell<Option<yew::AppHandle<App>>> = const { RefCell::new(None) };
}

/// Puts the page into `#app`. `left` is what the page before gave at its [`stop`]; `bring` gives a promise of the whole page,
/// which fails when that does not come.
#[wasm_bindgen]
pub fn begin(left: Option<String>, bring: Option<Function>) {
    std::panic::set_hook(Box::new(show_trouble));
    halves::take_over(left.as_deref(), bring);
    // The first key finds the font there.
    Timeout::new(halves::AFTER_THE_FIRST_FRAME, cells_font::begin).forget();
    if let Some(settled) = TABLE.settled {
        Timeout::new(SETTLED, settled).forget();
    }
    let document = gloo::utils::document();
    if let Some(root) = document.get_element_by_id("app") {
        root.set_text_content(None);
        APP.set(Some(yew::Renderer::<App>::with_root_and_props(root, AppProps { table: TABLE }).render()));
    }
}

/// Takes the page down, its work kept, so that the whole page can take its place. Gives what that one is to go on with.
#[wasm_bindgen]
pub async fn stop() -> String {
    halves::leave(|| {
        if let Some(app) = APP.take() {
            app.destroy();
        }
    })
    .await
}

/// After a panic nothing of the page can be trusted to run: show the plain page that index.html holds ready.
fn show_trouble(info: &std::panic::PanicHookInfo<'_>) {
    let document = gloo::utils::document();
    if let Some(app) = document.get_element_by_id("app") {
        let _ = app.set_attribute("hidden", "");
    }
    if let Some(trouble) = document.get_element_by_id("trouble") {
        let _ = trouble.remove_attribute("hidden");
    }
    web_sys::console::error_1(&info.to_string().into());
}
