//! The room "Licences": the licence texts of everything that the page brings along.

use yew::prelude::*;

use crate::page::browser::data;
use crate::page::browser::held::use_held;

/// The file, which `cellwright build` writes.
const FILE: &str = "licences.txt";
const COMING: &str = "The licences are being loaded …";
const MISSING: &str = "The network did not bring the licences. Open this page again when you are connected.";

/// The room.
#[component]
pub fn Room() -> Html {
    let text = use_held(|| AttrValue::Static(COMING));
    {
        let text = text.clone();
        use_effect_with((), move |()| {
            wasm_bindgen_futures::spawn_local(async move {
                text.set(data::file(FILE).await.map_or(AttrValue::Static(MISSING), AttrValue::from));
            });
        });
    }
    html! {
        <>
            <h1>{ "Licences" }</h1>
            <p>{ "Cellwright is free to use, copy and change: MIT or Apache-2.0, as you choose. Here are the terms of everything it brings along." }</p>
            <pre class="list" tabindex="0" role="region" aria-label="Licence texts">{ &*text }</pre>
        </>
    }
}
