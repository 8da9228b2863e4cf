//! The half of the page that loads first, and how the whole page takes its place.
//!
//! What reading and writing need is built once more without the rest, and is all that a first visit waits for. Where
//! something else is asked for, [`Elsewhere`] stands in its place until `www/start.js` has brought the whole page, which
//! then goes on with the work that was kept.

use std::cell::Cell;

use gloo::events::EventListener;
use gloo::timers::callback::Timeout;
use web_sys::js_sys::Reflect;
use yew::prelude::*;

use super::held::use_held;

/// Whether this is the whole page. What stands behind it is not in the first half.
pub const WHOLE: bool = cfg!(feature = "all-rooms");

thread_local! {
    /// Whether this page took the place of the first half: the focus was somewhere and is to be in the room again.
    pub static TOOK_OVER: Cell<bool> = const { Cell::new(false) };
}

/// Where the first half says what the whole page is to do at once.
const THEN: &str = "cellwrightThen";

/// Whether the first half has left this to be done; it is done once.
pub fn take_then(what: &str) -> bool {
    let window = gloo::utils::window();
    let left = Reflect::get(&window, &THEN.into()).ok().and_then(|then| then.as_string());
    let found = WHOLE && left.as_deref() == Some(what);
    if found {
        let _ = Reflect::set(&window, &THEN.into(), &"".into());
    }
    found
}

/// What the first frame need not wait for comes so many milliseconds after it was begun: the fewer functions run before it,
/// the fewer the browser has to compile.
pub const AFTER_THE_FIRST_FRAME: u32 = 100;

/// Loading that takes longer than this is spoken of, in milliseconds.
pub const WORTH_A_WORD: u32 = 500;

fn ask(then: &str) {
    let _ = Reflect::set(&gloo::utils::window(), &THEN.into(), &then.into());
    if let Ok(event) = web_sys::Event::new("cellwright-whole") {
        let _ = gloo::utils::window().dispatch_event(&event);
    }
}

/// What is to be done when the whole page is here.
#[derive(Properties, PartialEq)]
pub struct ElsewhereProps {
    /// For [`take_then`].
    #[prop_or_default]
    pub then: &'static str,
}

/// Stands in the place of what the first half does not hold until the whole page is here.
#[component]
pub fn Elsewhere(props: &ElsewhereProps) -> Html {
    let then = props.then;
    // Apart from each other: a network that refuses at once is not spoken of as a slow one afterwards.
    let (slow, failed) = (use_held(bool::default), use_held(bool::default));
    {
        let (slow, failed) = (slow.clone(), failed.clone());
        use_effect_with((), move |()| {
            let timer = Timeout::new(WORTH_A_WORD, move || slow.set(true));
            let listener =
                EventListener::new(&gloo::utils::window(), "cellwright-no-whole", move |_| failed.set(true));
            ask(then);
            move || drop((timer, listener))
        });
    }
    let again = {
        let failed = failed.clone();
        Callback::from(move |_: MouseEvent| {
            failed.set(false);
            ask(then);
        })
    };
    html! {
        if *failed {
            if then.is_empty() { <h1>{ "This room could not be loaded" }</h1> }
            <p class="alert" role="alert">{ "The network did not bring this part of the page. What you have written and recorded is safe. Reading and writing go on without it." }</p>
            <button type="button" class="main" onclick={again}>{ "Try again" }</button>
        } else {
            if then.is_empty() { <h1 class="sr">{ "One moment" }</h1> }
            <p role="status" aria-label="Loading">{ if *slow { "This part of the page is being loaded …" } else { "" } }</p>
        }
    }
}

/// What opens under a line, when it is in the whole page alone.
#[derive(Properties, PartialEq)]
pub struct LaterProps {
    /// The line.
    pub summary: &'static str,
    /// For [`use_opened`].
    pub then: &'static str,
    /// The class of the whole.
    #[prop_or_default]
    pub class: &'static str,
}

/// Stands in the first half for a `details` of the whole page, which comes when it is opened.
#[component]
pub fn Later(props: &LaterProps) -> Html {
    let open = use_held(bool::default);
    let ontoggle = {
        let open = open.clone();
        Callback::from(move |event: Event| {
            let details: web_sys::Element = event.target_unchecked_into();
            open.set(details.has_attribute("open"));
        })
    };
    html! {
        <details class={props.class} data-later="" {ontoggle}>
            <summary>{ props.summary }</summary>
            if *open { <Elsewhere then={props.then} /> }
        </details>
    }
}

/// Whether the first half has left a [`Later`] to be opened here; its line, to which this belongs, then has the focus again.
#[hook]
pub fn use_opened(then: &'static str) -> (bool, NodeRef) {
    let summary = use_node_ref();
    let opened = use_memo((), |()| take_then(then));
    {
        let (summary, opened) = (summary.clone(), *opened);
        use_effect_with((), move |()| {
            // Who has gone on to something else meanwhile is not called back.
            if let (true, Focus::Line, Some(line)) =
                (opened, focus_left(), summary.cast::<web_sys::HtmlElement>())
            {
                let _ = line.focus();
            }
        });
    }
    (*opened, summary)
}

/// Where the focus was when the first half was left.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Focus {
    /// On a line that opens.
    Line,
    /// In the writing surface.
    Surface,
    /// Elsewhere.
    Other,
}

const FOCUS: &str = "cellwrightFocus";
const SURFACE: &str = "textarea, [role=textbox]";

/// Leaves to the whole page where the focus is.
pub fn leave_focus() {
    let active = gloo::utils::document().active_element();
    let is = |what: &str| active.as_ref().is_some_and(|active| active.matches(what).unwrap_or(false));
    let focus = if is("summary") {
        "line"
    } else if is(SURFACE) {
        "surface"
    } else {
        ""
    };
    let _ = Reflect::set(&gloo::utils::window(), &FOCUS.into(), &focus.into());
}

/// Where the first half has left the focus.
pub fn focus_left() -> Focus {
    let left = Reflect::get(&gloo::utils::window(), &FOCUS.into()).ok().and_then(|focus| focus.as_string());
    match left.as_deref() {
        Some("line") => Focus::Line,
        Some("surface") => Focus::Surface,
        _ => Focus::Other,
    }
}

/// The part of the room that had the focus in the first half: the writing surface, or else the room.
pub fn focused_before(room: web_sys::Element) -> web_sys::Element {
    let surface = room.query_selector(SURFACE).ok().flatten().filter(|_| focus_left() == Focus::Surface);
    surface.unwrap_or(room)
}

/// Which text is open, for the room in the whole page.
const TEXT: &str = "cellwrightText";

/// Leaves to the whole page which text is open.
pub fn leave_text(title: &str) {
    leave(TEXT, title);
}

/// The text that was open in the first half.
pub fn text_left() -> Option<String> {
    left(TEXT)
}

thread_local! {
    /// The half is being taken down for the whole page, with the room that is open.
    pub static STOPS: Cell<bool> = const { Cell::new(false) };
}

/// What can be undone on the writing surface, for the whole page.
const HISTORY: &str = "cellwrightHistory";

/// Leaves to the whole page what can be undone in what is being written.
pub fn leave_history(history: impl FnOnce() -> String) {
    if !WHOLE && STOPS.get() {
        leave(HISTORY, &history());
    }
}

/// What could be undone in the first half; given once.
pub fn take_history() -> Option<String> {
    let history = left(HISTORY)?;
    let _ = Reflect::delete_property(&gloo::utils::window(), &HISTORY.into());
    Some(history)
}

fn leave(name: &str, text: &str) {
    if !WHOLE {
        let _ = Reflect::set(&gloo::utils::window(), &name.into(), &text.into());
    }
}

fn left(name: &str) -> Option<String> {
    if !WHOLE {
        return None;
    }
    Reflect::get(&gloo::utils::window(), &name.into()).ok()?.as_string()
}
