//! The size of an element, told when it is another.

use wasm_bindgen::JsCast;
use wasm_bindgen::closure::Closure;
use web_sys::{Element, ResizeObserver};

/// Tells when an element has another size.
pub struct Resized {
    observer: ResizeObserver,
    _told: Closure<dyn FnMut()>,
}

impl Resized {
    /// Tells after the element was laid out, so that nothing waits for it.
    pub fn of(element: &Element, told: impl FnMut() + 'static) -> Resized {
        let told = Closure::<dyn FnMut()>::new(told);
        let observer = ResizeObserver::new(told.as_ref().unchecked_ref()).expect("a function");
        observer.observe(element);
        Resized { observer, _told: told }
    }
}

impl Drop for Resized {
    fn drop(&mut self) {
        self.observer.disconnect();
    }
}
