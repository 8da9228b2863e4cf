//! The clear text box over the drawn lines: it holds the caret's line as plain text and says what was done in it.

use std::cell::{Cell as Held, RefCell};
use std::rc::Rc;

use gloo::events::{EventListener, EventListenerOptions};
use wasm_bindgen::JsCast;
use web_sys::{
    ClipboardEvent, CompositionEvent, HtmlTextAreaElement, InputEvent, KeyboardEvent, PointerEvent,
};
use yew::prelude::*;

use crate::cell::Cell;
use crate::keys::{Key, KeyMap};
use crate::page::surface::drawn_lines::place_at;
use crate::page::surface::typing;
use crate::page::widgets::fields::choosing;
use crate::page::widgets::six_keys::KeyTouch;
use crate::writing::Place;

/// What was done in the text box.
pub enum Did {
    /// A key of the surface's own went down.
    Down(KeyboardEvent),
    /// A key went up.
    Up(KeyboardEvent),
    /// The focus left.
    Blur,
    /// The focus came.
    Focus,
    /// Text was pasted.
    Paste(String),
    /// What is selected was cut, and is on the clipboard.
    Cut,
    /// A pointer went to a place; with `true` the selection grows to it.
    Click(Place, bool),
    /// Cells came as characters: from a braille keyboard, a braille display or an input method.
    Typed(Vec<Cell>),
    /// A touch keyboard's erase and new line.
    Touch(KeyTouch),
    /// The caret was put before this UTF-16 unit of the line by the box itself: a braille display's routing keys.
    Routed(u32),
}

/// The text box.
#[derive(Properties, PartialEq)]
pub struct TextBoxProps {
    /// Its accessible name.
    pub label: AttrValue,
    /// The ids of what is to be written, told before how to write.
    pub asks: Option<AttrValue>,
    /// Nothing may be written.
    pub read_only: bool,
    /// Takes the focus when it appears.
    pub autofocus: bool,
    /// A touch keyboard that types braille may come up.
    pub typed: bool,
    /// Which keys are the surface's own.
    pub keys: Rc<KeyMap>,
    /// What it holds.
    pub shown: Rc<Shown>,
    /// What goes on the clipboard.
    pub copied: Callback<(), String>,
    /// Called with what was done.
    pub on_did: Callback<Did>,
}

/// What the text box holds. It changes with every key, so it is put there from outside, and nothing is drawn again.
#[derive(Default)]
pub struct Shown {
    node: NodeRef,
    /// An input method is at work: its text is left alone.
    composing: Held<bool>,
    text: RefCell<String>,
    /// What is to be selected, in UTF-16 units.
    selected: Held<(u32, u32)>,
    /// Who hears of keys, and which.
    hears: RefCell<Option<Hears>>,
    /// What was selected by us last. The browser tells of a move later, when the editor may be further on already.
    put: Held<(u32, u32)>,
}

/// Keys are heard by the box itself and not by way of the page's root: there are many, and each is to be drawn at once.
struct Hears {
    keys: Rc<KeyMap>,
    read_only: bool,
    on_did: Callback<Did>,
}

impl PartialEq for Shown {
    fn eq(&self, other: &Shown) -> bool {
        std::ptr::eq(self, other)
    }
}

impl Shown {
    fn node(&self) -> Option<HtmlTextAreaElement> {
        self.node.cast()
    }

    /// The caret's line as it is to stand in the box, and what is selected of it in UTF-16 units: the caret's place when
    /// nothing is.
    pub fn hold(&self, text: String, selected: (u32, u32)) {
        self.text.replace(text);
        self.selected.set(selected);
    }

    /// Brings the box to what it is to hold; an input method at work is left alone.
    pub fn show(&self) {
        let Some(node) = self.node().filter(|_| !self.composing.get()) else { return };
        let text = self.text.borrow();
        if node.value() != *text {
            node.set_value(&text);
        }
        if range(&node) != Some(self.selected.get()) {
            let (from, to) = self.selected.get();
            let _ = node.set_selection_range(from, to);
        }
        self.put.set(range(&node).unwrap_or(self.selected.get()));
    }

    fn key_down(&self, event: &Event) {
        let Some(event) = event.dyn_ref::<KeyboardEvent>() else { return };
        if let Some(Hears { keys, read_only, on_did }) = &*self.hears.borrow()
            && typing::takes(event, keys)
        {
            event.prevent_default();
            if !read_only || typing::is_move(&event.code()) {
                on_did.emit(Did::Down(event.clone()));
            }
        }
    }

    fn key_up(&self, event: &Event) {
        if let (Some(event), Some(hears)) = (event.dyn_ref::<KeyboardEvent>(), &*self.hears.borrow()) {
            hears.on_did.emit(Did::Up(event.clone()));
        }
    }

    /// Where the box's own caret was put, when it is elsewhere than shown.
    fn moved(&self) -> Option<u32> {
        let (from, to) = self.node().as_ref().and_then(range)?;
        let other = !self.composing.get() && from == to && (from, to) != self.put.get();
        other.then_some(from)
    }
}

/// The text box's own state.
pub struct TextBox {
    listeners: Vec<EventListener>,
}

/// What the text box hears itself.
pub enum Heard {
    /// Text is about to be put in.
    Input(InputEvent),
    /// Its own caret was put before this UTF-16 unit.
    Moved(u32),
    /// An input method began.
    Composing,
    /// An input method gave this.
    Composed(String),
}

fn range(node: &HtmlTextAreaElement) -> Option<(u32, u32)> {
    Some((node.selection_start().ok()??, node.selection_end().ok()??))
}

impl Component for TextBox {
    type Message = Heard;
    type Properties = TextBoxProps;

    fn create(_: &Context<Self>) -> Self {
        TextBox { listeners: Vec::new() }
    }

    fn update(&mut self, ctx: &Context<Self>, heard: Heard) -> bool {
        let TextBoxProps { on_did, read_only, shown, .. } = ctx.props();
        match heard {
            Heard::Input(event) => match event.input_type().as_str() {
                _ if *read_only => {}
                "deleteContentBackward" => {
                    on_did.emit(Did::Touch(KeyTouch::Key(Key::Erase, event.time_stamp())))
                }
                "insertLineBreak" | "insertParagraph" => {
                    on_did.emit(Did::Touch(KeyTouch::Key(Key::NewLine, event.time_stamp())))
                }
                _ => {
                    let cells = typing::cells_of(&event.data().unwrap_or_default());
                    if !cells.is_empty() {
                        on_did.emit(Did::Typed(cells));
                    }
                }
            },
            Heard::Moved(unit) => on_did.emit(Did::Routed(unit)),
            Heard::Composing => {
                shown.show();
                shown.composing.set(true);
            }
            Heard::Composed(text) => {
                shown.composing.set(false);
                let cells = typing::cells_of(&text);
                if !cells.is_empty() && !read_only {
                    on_did.emit(Did::Typed(cells));
                }
                // Whatever came of it, the box shows the line again.
                return true;
            }
        }
        false
    }

    fn view(&self, ctx: &Context<Self>) -> Html {
        let TextBoxProps { label, asks, read_only, typed, copied, on_did, shown, .. } = ctx.props();
        let read_only = *read_only;
        let did = |what: fn() -> Did| {
            let on_did = on_did.clone();
            Callback::from(move |_: FocusEvent| on_did.emit(what()))
        };
        let onpaste = {
            let on_did = on_did.clone();
            Callback::from(move |event: Event| {
                event.prevent_default();
                let data = event.dyn_ref::<ClipboardEvent>().and_then(ClipboardEvent::clipboard_data);
                if let Some(text) = data.and_then(|data| data.get_data("text").ok()).filter(|_| !read_only) {
                    on_did.emit(Did::Paste(text));
                }
            })
        };
        let take = |cut: bool| {
            let (copied, on_did) = (copied.clone(), on_did.clone());
            Callback::from(move |event: Event| {
                event.prevent_default();
                if let Some(data) = event.dyn_ref::<ClipboardEvent>().and_then(ClipboardEvent::clipboard_data)
                {
                    let _ = data.set_data("text/plain", &copied.emit(()));
                }
                if cut && !read_only {
                    on_did.emit(Did::Cut);
                }
            })
        };
        // The box's own caret is put by the editor; what counts is the cell under the pointer.
        let onmousedown = {
            let node = shown.node.clone();
            Callback::from(move |event: MouseEvent| {
                event.prevent_default();
                if let Some(node) = node.cast::<web_sys::HtmlElement>() {
                    let _ = node.focus();
                }
            })
        };
        let point = |moved: bool| {
            let on_did = on_did.clone();
            Callback::from(move |event: PointerEvent| {
                if moved && (event.buttons() != 1 || event.pointer_type() != "mouse") {
                    return;
                }
                if let Some(place) = place_at(f64::from(event.client_x()), f64::from(event.client_y())) {
                    on_did.emit(Did::Click(place, moved || event.shift_key()));
                }
            })
        };
        html! {
            <div class="over">
                <textarea ref={shown.node.clone()} class="text-box" rows="1" aria-label={label.clone()} aria-describedby={asks.as_ref().map_or_else(|| "surface-help".to_owned(), |asks| format!("{asks} surface-help"))}
                    readonly={read_only} autocomplete="off" autocapitalize="off" spellcheck="false"
                    inputmode={if *typed { "text" } else { "none" }}
                    {onpaste} oncopy={take(false)} oncut={take(true)}
                    {onmousedown} onpointerdown={point(false)} onpointermove={point(true)}
                    onblur={did(|| Did::Blur)} onfocus={did(|| Did::Focus)} />
            </div>
        }
    }

    fn rendered(&mut self, ctx: &Context<Self>, first: bool) {
        let TextBoxProps { shown, keys, read_only, on_did, .. } = ctx.props();
        shown.hears.replace(Some(Hears {
            keys: keys.clone(),
            read_only: *read_only,
            on_did: on_did.clone(),
        }));
        let Some(node) = shown.node() else { return };
        if first {
            let link = ctx.link().clone();
            let input = {
                let link = link.clone();
                move |event: &Event| {
                    let Some(event) = event.dyn_ref::<InputEvent>() else { return };
                    // Its text comes as a whole when the input method ends; some browsers tell of it here besides.
                    if event.is_composing() || event.input_type().contains("Composition") {
                        return;
                    }
                    event.prevent_default();
                    link.send_message(Heard::Input(event.clone()));
                }
            };
            let began = link.callback(|()| Heard::Composing);
            let ended = link.callback(Heard::Composed);
            let moved = {
                let (link, shown) = (link.clone(), shown.clone());
                move |_: &Event| {
                    if let Some(unit) = shown.moved() {
                        link.send_message(Heard::Moved(unit));
                    }
                }
            };
            let (down, up) = (shown.clone(), shown.clone());
            let prevents = EventListenerOptions::enable_prevent_default;
            self.listeners = vec![
                EventListener::new_with_options(&node, "keydown", prevents(), move |event| {
                    down.key_down(event);
                }),
                EventListener::new(&node, "keyup", move |event| up.key_up(event)),
                EventListener::new_with_options(&node, "beforeinput", prevents(), input),
                EventListener::new(&node, "compositionstart", move |_| began.emit(())),
                EventListener::new(&node, "compositionend", move |event| {
                    let text = event.dyn_ref::<CompositionEvent>().and_then(CompositionEvent::data);
                    ended.emit(text.unwrap_or_default());
                }),
                EventListener::new(&node, "selectionchange", moved),
            ];
            if ctx.props().autofocus && !choosing() {
                let _ = node.focus();
            }
        }
        shown.show();
    }
}
