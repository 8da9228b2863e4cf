//! The six keys on the screen: lit while held, played with several fingers at once, a thumb sliding over those it holds;
//! with a mouse or a switch, or where one key is pressed at a time, a press holds a dot until the cell is written.

use std::cell::RefCell;
use std::iter::successors;
use std::rc::Rc;

use wasm_bindgen::JsCast;
use web_sys::{Element, HtmlElement, KeyboardEvent, PointerEvent};
use yew::prelude::*;

use crate::cell::Cell;
use crate::keys::{Entry, Key};
use crate::page::browser::held::{Held, use_held};

/// What was done on the screen's keys.
#[derive(Clone, Debug, PartialEq)]
pub enum KeyTouch {
    /// A finger went down on a dot's key or slid onto it: a name for both, the dot, the time in milliseconds.
    Down(String, u8, f64),
    /// That finger went up.
    Up(String, f64),
    /// A cell was put together dot by dot.
    Cell(Cell),
    /// Another key was pressed and lifted, at a time in milliseconds: it does what it does on the keyboard.
    Key(Key, f64),
}

/// The keys as they stand on the page, lit while they are held. That comes and goes with every key, so it is put on them from
/// outside and draws nothing again.
#[derive(Clone, Default, PartialEq)]
pub struct Lights {
    keys: [NodeRef; 6],
}

impl Lights {
    /// Lights the keys of these dots, one bit a dot, where they differ from what was lit.
    pub fn show(&self, old: u8, new: u8) {
        for (place, key) in self.keys.iter().enumerate() {
            if (old ^ new) >> place & 1 == 1
                && let Some(key) = key.cast::<web_sys::Element>()
            {
                let _ = key.toggle_attribute_with_force("data-held", new >> place & 1 == 1);
            }
        }
    }
}

/// The keys.
#[derive(Properties, PartialEq)]
pub struct SixKeysProps {
    /// The keys, to be lit.
    #[prop_or_default]
    pub lights: Lights,
    /// How cells are entered.
    #[prop_or_default]
    pub entry: Entry,
    /// Called for every touch.
    pub on_touch: Callback<KeyTouch>,
}

/// The fingers on the keys: each with the dots that it holds.
type Fingers = Rc<RefCell<Vec<(i32, u8)>>>;

/// How the name of a finger on a key begins.
pub const FINGER: &str = "finger ";

fn name_of(finger: i32, dot: u8) -> String {
    format!("{FINGER}{finger} {dot}")
}

/// The dot of the key whose middle lies under a point of the window: a thumb is wide, and touches the edge of the key
/// beside its own without meaning it.
fn dot_at(event: &PointerEvent) -> Option<u8> {
    let (x, y) = (f64::from(event.client_x()), f64::from(event.client_y()));
    let found =
        gloo::utils::document().element_from_point(x as f32, y as f32)?.closest("[data-dot]").ok()??;
    let frame = found.get_bounding_client_rect();
    let off = |at: f64, from: f64, size: f64| (at - from - size / 2.0).abs() > size * 0.36;
    if off(x, frame.left(), frame.width()) || off(y, frame.top(), frame.height()) {
        return None;
    }
    found.get_attribute("data-dot")?.parse().ok()
}

/// One of the keys. No component of its own, which a browser would have to compile before the first frame.
fn dot_key(props: &SixKeysProps, latched: &Held<u8>, fingers: &Fingers, dot: u8) -> Html {
    let SixKeysProps { lights, entry, on_touch } = props;
    let node = lights.keys[usize::from(dot - 1)].clone();
    // It is held by a click.
    let lit = **latched >> (dot - 1) & 1 == 1;
    // A finger only holds the dot, as a click does.
    let latches = *entry == Entry::OneKey;
    let latch = {
        let latched = latched.clone();
        move || latched.set(*latched ^ (1 << (dot - 1)))
    };
    let down = {
        let (fingers, on_touch, latch) = (fingers.clone(), on_touch.clone(), latch.clone());
        Callback::from(move |event: PointerEvent| {
            event.prevent_default();
            if latches || event.pointer_type() == "mouse" {
                latch();
            } else {
                let finger = event.pointer_id();
                fingers.borrow_mut().push((finger, dot));
                on_touch.emit(KeyTouch::Down(name_of(finger, dot), dot, event.time_stamp()));
            }
        })
    };
    // A finger stays with the key that it came down on, wherever it goes: so this key hears of it.
    let slid = {
        let (fingers, on_touch) = (fingers.clone(), on_touch.clone());
        Callback::from(move |event: PointerEvent| {
            let finger = event.pointer_id();
            let held: Vec<u8> =
                fingers.borrow().iter().filter(|(one, _)| *one == finger).map(|(_, dot)| *dot).collect();
            if held.is_empty() {
                return;
            }
            if let Some(dot) = dot_at(&event).filter(|dot| !held.contains(dot)) {
                fingers.borrow_mut().push((finger, dot));
                on_touch.emit(KeyTouch::Down(name_of(finger, dot), dot, event.time_stamp()));
            }
        })
    };
    let up = {
        let (fingers, on_touch) = (fingers.clone(), on_touch.clone());
        Callback::from(move |event: PointerEvent| {
            let finger = event.pointer_id();
            let all = fingers.take();
            fingers.replace(all.iter().filter(|(one, _)| *one != finger).copied().collect());
            for (_, dot) in all.iter().filter(|(one, _)| *one == finger) {
                on_touch.emit(KeyTouch::Up(name_of(finger, *dot), event.time_stamp()));
            }
        })
    };
    // Keyboard and assistive technology click without a pointer: detail is 0.
    let click = Callback::from(move |event: MouseEvent| {
        if event.detail() == 0 {
            latch();
        }
    });
    html! {
        <button ref={node} type="button" tabindex={if dot == 3 { "0" } else { "-1" }} class={if lit { "key lit" } else { "key" }} aria-pressed={if lit { "true" } else { "false" }}
            data-dot={dot.to_string()} aria-label={format!("Dot {dot}")}
            onpointerdown={down} onpointermove={slid} onpointerup={up.clone()} onpointercancel={up} onclick={click}>
            { dot }
        </button>
    }
}

/// The keys are one stop for Tab; inside them the arrow keys go from key to key.
fn roves(event: &KeyboardEvent) {
    let Some(key) = event.target().and_then(|key| key.dyn_into::<Element>().ok()) else { return };
    let Ok(Some(keys)) = key.closest("[role=toolbar]") else { return };
    let within = |of: Element| successors(of.first_element_child(), Element::next_element_sibling);
    let all: Vec<HtmlElement> =
        within(keys).flat_map(within).filter_map(|key| key.dyn_into::<HtmlElement>().ok()).collect();
    let active = gloo::utils::document().active_element();
    let Some(at) = all.iter().position(|key| Some(key.as_ref()) == active.as_ref()) else { return };
    let to = match event.key().as_str() {
        "ArrowLeft" | "ArrowUp" => at.checked_sub(1).unwrap_or(all.len() - 1),
        "ArrowRight" | "ArrowDown" => (at + 1) % all.len(),
        "Home" => 0,
        "End" => all.len() - 1,
        _ => return,
    };
    event.prevent_default();
    for (place, key) in all.iter().enumerate() {
        key.set_tab_index(if place == to { 0 } else { -1 });
    }
    let _ = all[to].focus();
}

/// The six keys, 3 2 1 and 4 5 6: `<SixKeys lights={..} on_touch={..} />`.
#[component]
pub fn SixKeys(props: &SixKeysProps) -> Html {
    let latched = use_held(|| 0u8);
    let fingers = use_memo((), |()| RefCell::default());
    let key = |dot: u8| dot_key(props, &latched, &fingers, dot);
    // A thumb that rests on a key asks for no menu.
    let no_menu = Callback::from(|event: MouseEvent| event.prevent_default());
    html! {
        <div class="six" role="toolbar" aria-label="Six keys" oncontextmenu={no_menu} onkeydown={|event: KeyboardEvent| roves(&event)}>
            <div class="pad">{ key(3) }{ key(2) }{ key(1) }</div>
            <div class="pad">{ key(4) }{ key(5) }{ key(6) }</div>
            { bar(props, &latched) }
        </div>
    }
}

/// The keys below: a blank, a new line, erase, and the cell that was put together dot by dot. They act when a finger
/// comes down, as the dots do: a browser makes no click of a second finger.
fn bar(props: &SixKeysProps, latched: &Held<u8>) -> Html {
    let SixKeysProps { entry, on_touch, .. } = props;
    // What was put together is written before the blank and before the new line; erasing takes it back first.
    let send = |key: Key| {
        let (on_touch, latched) = (on_touch.clone(), latched.clone());
        move |time: f64| {
            let put = Cell::from_bits(*latched).filter(|cell| !cell.is_blank());
            latched.set(0);
            match (key, put) {
                (Key::Erase, Some(_)) => {}
                (Key::Commit, Some(cell)) => on_touch.emit(KeyTouch::Cell(cell)),
                (_, put) => {
                    if let Some(cell) = put {
                        on_touch.emit(KeyTouch::Cell(cell));
                    }
                    on_touch.emit(KeyTouch::Key(key, time));
                }
            }
        }
    };
    let button = |key: Key, class: &'static str, name: &'static str| {
        let (down, click) = (send(key), send(key));
        let onpointerdown = Callback::from(move |event: PointerEvent| {
            event.prevent_default();
            // A mouse's other buttons ask for something else.
            if event.button() == 0 {
                down(event.time_stamp());
            }
        });
        // Keyboard and assistive technology click without a pointer: detail is 0.
        let onclick = Callback::from(move |event: MouseEvent| {
            if event.detail() == 0 {
                click(event.time_stamp());
            }
        });
        html! { <button type="button" tabindex="-1" {class} {onpointerdown} {onclick}>{ name }</button> }
    };
    html! {
        <div class="bar">
            if **latched != 0 || *entry == Entry::OneKey {
                { button(Key::Commit, "plain strong", "Write the cell") }
            } else if *entry == Entry::OneHand {
                { button(Key::Commit, "plain strong", "Empty half") }
            }
            { button(Key::Blank, "plain wide", "Blank") }
            { button(Key::NewLine, "plain", "New line") }
            { button(Key::Erase, "plain", "Erase") }
        </div>
    }
}

/// A key's place in words a person reads on the key: "F", "Space", "Num 4".
pub fn key_name(code: &str) -> String {
    code.strip_prefix("Key").or_else(|| code.strip_prefix("Digit")).unwrap_or(code).replace("Numpad", "Num ")
}
