//! The time, the date and chance, as the browser has them.

use wasm_bindgen::JsCast;
use web_sys::js_sys::{Function, Reflect};

/// Milliseconds since 1970.
pub fn now() -> u64 {
    web_sys::js_sys::Date::now().max(0.0) as u64
}

/// Milliseconds since the page began, by a clock that nobody sets: for how long something takes.
pub fn ticks() -> u64 {
    let told = || {
        let clock = Reflect::get(&gloo::utils::window(), &"performance".into()).ok()?;
        let now: Function = Reflect::get(&clock, &"now".into()).ok()?.dyn_into().ok()?;
        now.call0(&clock).ok()?.as_f64()
    };
    told().unwrap_or(0.0).max(0.0) as u64
}

/// The day of the learner's own calendar on which a moment falls, in days since 1970.
pub fn local_day() -> impl FnMut(u64) -> u64 {
    // What the clocks are set to by law changes at the hour; most moments that are asked for lie close together.
    const HOUR: u64 = 3_600_000;
    let mut known = (u64::MAX, 0.0);
    move |at| {
        if known.0 != at / HOUR {
            let date = web_sys::js_sys::Date::new(&(at as f64).into());
            known = (at / HOUR, date.get_timezone_offset() * 60_000.0);
        }
        ((at as f64 - known.1).max(0.0) / 86_400_000.0) as u64
    }
}

/// Today, as `2026-11-25`.
pub fn today() -> String {
    let date = web_sys::js_sys::Date::new_0();
    format!("{:04}-{:02}-{:02}", date.get_full_year(), date.get_month() + 1, date.get_date())
}

/// A seed for chance.
pub fn seed() -> u64 {
    (web_sys::js_sys::Math::random() * 9e15) as u64
}
