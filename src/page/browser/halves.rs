//! The two downloads: what the first leaves for the whole page, and what this page was left.
//!
//! What reading and writing need is built once more without the rest, and is all that a first visit waits for. Where
//! something else is asked for, `widgets::elsewhere` stands in its place until `www/start.js` has brought the whole page, which
//! then goes on with what [`HandOver`] carries and with the work that was kept.

use std::cell::{Cell, RefCell};

use wasm_bindgen::{JsCast, JsValue};
use wasm_bindgen_futures::JsFuture;
use web_sys::js_sys::{Function, Promise};

use crate::page::browser::store;
use crate::page::states::hand_over::{Focus, HandOver, Piece};

thread_local! {
    /// Whether this page took the place of the first download: the focus was somewhere and is to be in the room again.
    pub static TOOK_OVER: Cell<bool> = const { Cell::new(false) };
    /// This page is being taken down for the whole one, with the room that is open.
    static STOPS: Cell<bool> = const { Cell::new(false) };
    /// What this page was left.
    static LEFT: RefCell<HandOver> = RefCell::default();
    /// What this page leaves.
    static LEAVES: RefCell<HandOver> = RefCell::default();
    /// How the whole page is brought, in the first download.
    static BRING: RefCell<Option<Function>> = const { RefCell::new(None) };
}

/// Takes what the page before has left, and how the whole page is brought.
pub fn take_over(left: Option<&str>, bring: Option<Function>) {
    BRING.set(bring);
    if let Some(left) = left {
        let mut left = HandOver::from_text(left);
        store::hold(std::mem::take(&mut left.held));
        LEFT.set(left);
        TOOK_OVER.set(true);
    }
}

/// Takes the page down by `destroy` and gives what it leaves.
pub async fn leave(destroy: impl FnOnce()) -> String {
    LEAVES.with_borrow_mut(|leaves| leaves.focus = focus_now());
    STOPS.set(true);
    destroy();
    // The rooms are taken down in a turn of their own, in which they keep their work and leave what can be undone.
    let turn = Promise::new(&mut |done, _| {
        let _ = gloo::utils::window().set_timeout_with_callback(&done);
    });
    let _ = JsFuture::from(turn).await;
    LEAVES.with_borrow_mut(|leaves| {
        leaves.held = store::held();
        leaves.to_text()
    })
}

/// Whether the first download has left this to be unfolded or done; it is done once.
pub fn take_piece(piece: Piece) -> bool {
    LEFT.with_borrow_mut(|left| left.piece.take_if(|left| *left == piece).is_some())
}

/// What the first frame need not wait for comes so many milliseconds after it was begun: the fewer functions run before it,
/// the fewer the browser has to compile.
pub const AFTER_THE_FIRST_FRAME: u32 = 100;

/// Loading that takes longer than this is spoken of, in milliseconds.
pub const WORTH_A_WORD: u32 = 500;

/// Asks for the whole page, which is then to unfold this piece. Gives whether it comes, when that is known.
pub async fn bring(piece: Option<Piece>) -> bool {
    LEAVES.with_borrow_mut(|leaves| leaves.piece = piece);
    let Some(bring) = BRING.with_borrow(Clone::clone) else { return false };
    match bring.call0(&JsValue::UNDEFINED).map(JsCast::dyn_into::<Promise>) {
        Ok(Ok(coming)) => JsFuture::from(coming).await.is_ok(),
        _ => false,
    }
}

const SURFACE: &str = "textarea, [role=textbox]";

fn focus_now() -> Focus {
    let active = gloo::utils::document().active_element();
    let is = |what: &str| active.as_ref().is_some_and(|active| active.matches(what).unwrap_or(false));
    if is("summary") {
        Focus::Line
    } else if is(SURFACE) {
        Focus::Surface
    } else {
        Focus::Other
    }
}

/// Where the first download has left the focus.
pub fn focus_left() -> Focus {
    LEFT.with_borrow(|left| left.focus)
}

/// The part of the room that had the focus in the first download: the writing surface, or else the room.
pub fn focused_before(room: web_sys::Element) -> web_sys::Element {
    let surface = room.query_selector(SURFACE).ok().flatten().filter(|_| focus_left() == Focus::Surface);
    surface.unwrap_or(room)
}

/// Leaves to the whole page which text is open.
pub fn leave_text(title: &str) {
    LEAVES.with_borrow_mut(|leaves| leaves.text = Some(title.to_owned()));
}

/// The text that was open in the first download.
pub fn text_left() -> Option<String> {
    LEFT.with_borrow(|left| left.text.clone())
}

/// Leaves to the whole page what can be undone in what is being written, when this page is taken down for it.
pub fn leave_history(history: impl FnOnce() -> String) {
    if STOPS.get() {
        let history = history();
        LEAVES.with_borrow_mut(|leaves| leaves.history = Some(history));
    }
}

/// What could be undone in the first download; given once.
pub fn take_history() -> Option<String> {
    LEFT.with_borrow_mut(|left| left.history.take())
}
