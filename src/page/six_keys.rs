//! The six keys on the screen: lit while held, played with several fingers at once; with a mouse or a switch a click
//! holds a dot until the cell is written.

use web_sys::PointerEvent;
use yew::prelude::*;

use super::held::{Held, use_held};
use crate::cell::Cell;

/// What was done on the screen's keys.
#[derive(Clone, Debug, PartialEq)]
pub enum KeyTouch {
    /// A finger went down on a key: the finger's id, the dot, the time in milliseconds.
    Down(String, u8, f64),
    /// That finger went up.
    Up(String, f64),
    /// A cell was put together dot by dot.
    Cell(Cell),
    /// New line.
    NewLine,
    /// Erase.
    Erase,
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
    /// Called for every touch.
    pub on_touch: Callback<KeyTouch>,
}

/// One of the keys.
#[derive(Properties, PartialEq)]
struct KeyProps {
    dot: u8,
    node: NodeRef,
    /// It is held by a click.
    lit: bool,
    on_touch: Callback<KeyTouch>,
    /// Holds the dot, or lets it go.
    on_latch: Callback<u8>,
}

#[component]
fn DotKey(props: &KeyProps) -> Html {
    let KeyProps { dot, node, lit, on_touch, on_latch } = props;
    let dot = *dot;
    let down = {
        let (on_touch, on_latch) = (on_touch.clone(), on_latch.clone());
        Callback::from(move |event: PointerEvent| {
            event.prevent_default();
            if event.pointer_type() == "mouse" {
                on_latch.emit(dot);
            } else {
                on_touch.emit(KeyTouch::Down(
                    format!("touch {}", event.pointer_id()),
                    dot,
                    event.time_stamp(),
                ));
            }
        })
    };
    let up = {
        let on_touch = on_touch.clone();
        Callback::from(move |event: PointerEvent| {
            if event.pointer_type() != "mouse" {
                on_touch.emit(KeyTouch::Up(format!("touch {}", event.pointer_id()), event.time_stamp()));
            }
        })
    };
    // Keyboard and assistive technology click without a pointer: detail is 0.
    let click = {
        let on_latch = on_latch.clone();
        Callback::from(move |event: MouseEvent| {
            if event.detail() == 0 {
                on_latch.emit(dot);
            }
        })
    };
    html! {
        <button ref={node.clone()} type="button" class={classes!("key", lit.then_some("lit"))} aria-pressed={if *lit { "true" } else { "false" }}
            aria-label={format!("Dot {dot}")} onpointerdown={down} onpointerup={up.clone()} onpointercancel={up} onclick={click}>
            { dot }
        </button>
    }
}

/// The six keys, 3 2 1 and 4 5 6: `<SixKeys lights={..} on_touch={..} />`.
#[component]
pub fn SixKeys(props: &SixKeysProps) -> Html {
    let latched = use_held(|| 0u8);
    let on_latch = use_callback(*latched, {
        let latched = latched.clone();
        move |dot: u8, now: &u8| latched.set(now ^ (1 << (dot - 1)))
    });
    let key = |dot: u8| {
        let node = props.lights.keys[usize::from(dot - 1)].clone();
        html! { <DotKey {dot} {node} lit={*latched >> (dot - 1) & 1 == 1} on_touch={props.on_touch.clone()} on_latch={on_latch.clone()} /> }
    };
    html! {
        <div class="six" role="group" aria-label="Six keys">
            <div class="pad">{ key(3) }{ key(2) }{ key(1) }</div>
            <div class="pad">{ key(4) }{ key(5) }{ key(6) }</div>
            <Bar {latched} on_touch={props.on_touch.clone()} />
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct BarProps {
    latched: Held<u8>,
    on_touch: Callback<KeyTouch>,
}

/// The keys below: a blank, a new line, erase, and the cell that was put together dot by dot.
#[component]
fn Bar(props: &BarProps) -> Html {
    let BarProps { latched, on_touch } = props;
    let send = |touch: KeyTouch| {
        let on_touch = on_touch.clone();
        Callback::from(move |_: MouseEvent| on_touch.emit(touch.clone()))
    };
    let write = {
        let (on_touch, latched) = (on_touch.clone(), latched.clone());
        Callback::from(move |_: MouseEvent| {
            if let Some(cell) = Cell::from_bits(*latched) {
                on_touch.emit(KeyTouch::Cell(cell));
            }
            latched.set(0);
        })
    };
    let keep_focus = Callback::from(|event: PointerEvent| event.prevent_default());
    html! {
        <div class="bar" onpointerdown={keep_focus}>
            if **latched != 0 {
                <button type="button" class="plain strong" onclick={write}>{ "Write the cell" }</button>
            }
            <button type="button" class="plain wide" onclick={send(KeyTouch::Cell(Cell::BLANK))}>{ "Blank" }</button>
            <button type="button" class="plain" onclick={send(KeyTouch::NewLine)}>{ "New line" }</button>
            <button type="button" class="plain" onclick={send(KeyTouch::Erase)}>{ "Erase" }</button>
        </div>
    }
}
