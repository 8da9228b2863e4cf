//! The browser's own voice, off by default: the one place that speaks. Tests listen to the event "cellwright-says".

use wasm_bindgen::prelude::wasm_bindgen;

#[wasm_bindgen]
extern "C" {
    type SpeechSynthesisUtterance;
    #[wasm_bindgen(constructor, catch)]
    fn new(text: &str) -> Result<SpeechSynthesisUtterance, wasm_bindgen::JsValue>;

    #[wasm_bindgen(js_namespace = speechSynthesis, js_name = cancel, catch)]
    fn cancel() -> Result<(), wasm_bindgen::JsValue>;
    #[wasm_bindgen(js_namespace = speechSynthesis, js_name = speak, catch)]
    fn speak(utterance: &SpeechSynthesisUtterance) -> Result<(), wasm_bindgen::JsValue>;
}

/// Says a text, in place of what is being said; a browser without a voice stays silent.
pub fn say(text: &str) {
    if text.trim().is_empty() {
        return;
    }
    if let Ok(event) = web_sys::CustomEvent::new("cellwright-says") {
        event.init_custom_event_with_can_bubble_and_cancelable_and_detail(
            "cellwright-says",
            false,
            false,
            &text.into(),
        );
        let _ = gloo::utils::window().dispatch_event(&event);
    }
    let _ = cancel();
    if let Ok(utterance) = SpeechSynthesisUtterance::new(text) {
        let _ = speak(&utterance);
    }
}
