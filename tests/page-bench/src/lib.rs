//! The smallest page of the same tool chain that does something: a number and a button.

use wasm_bindgen::prelude::wasm_bindgen;
use yew::prelude::*;

#[component]
fn Counter() -> Html {
    let count = use_state(|| 0);
    let onclick = {
        let count = count.clone();
        Callback::from(move |_: MouseEvent| count.set(*count + 1))
    };
    html! { <main><h1>{ *count }</h1><button {onclick}>{ "One more" }</button></main> }
}

/// Called by the browser once the module is loaded.
#[wasm_bindgen(start)]
pub fn start() {
    yew::Renderer::<Counter>::new().render();
}
