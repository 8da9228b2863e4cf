//! How a text stands on its sheet: look and light, guides, print beside it, line by line or the whole page, and its size.

use wasm_bindgen::JsValue;
use yew::prelude::*;

use super::drills::text_of;
use super::halves::{Elsewhere, WHOLE, take_then};
use super::held::use_held;
use super::paper::LIGHTS;
use super::store;
use super::stored::{Stored, fill, object, part};
use crate::exercise::proofread::Look;

/// What lies over the cells.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Help {
    /// Nothing.
    None,
    /// Lines through the rows and columns of dots.
    Guides,
    /// Those, and a faint frame around each cell.
    Frames,
    /// Both, as strong as this learner still needs them.
    Fading,
}

const HELPS: [(Help, &str); 4] = [
    (Help::None, "none"),
    (Help::Guides, "guide lines"),
    (Help::Frames, "guide lines and frames"),
    (Help::Fading, "fading as I improve"),
];

/// What stands beside the braille.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Facing {
    /// Nothing.
    Alone,
    /// The print, each word covered until it is uncovered.
    PrintCovered,
    /// The print.
    BothOpen,
    /// The print, and the braille is covered.
    BrailleCovered,
}

const FACINGS: [(Facing, &str); 4] = [
    (Facing::Alone, "braille alone"),
    (Facing::PrintCovered, "print beside it, covered"),
    (Facing::BothOpen, "print beside it, open"),
    (Facing::BrailleCovered, "print beside it, braille covered"),
];

const PARTS: [&str; 2] = ["whole page", "line by line"];

/// How the sheet looks, as this browser keeps it.
#[derive(Clone, Copy, PartialEq)]
pub struct View {
    look: usize,
    /// Which of [`LIGHTS`].
    pub light: usize,
    help: usize,
    facing: usize,
    /// The distance between two dots, in tenths of a CSS pixel.
    pub dot: u32,
    part: usize,
}

impl Stored for View {
    fn take(value: &JsValue) -> Option<Self> {
        let mut view = View {
            look: part(value, "look")?,
            light: part(value, "light")?,
            help: part(value, "help")?,
            facing: part(value, "facing")?,
            dot: part(value, "dot")?,
            part: 0,
        };
        fill(value, "part", &mut view.part)?;
        Some(view)
    }
    fn give(&self) -> JsValue {
        object(&[
            ("look", self.look.give()),
            ("light", self.light.give()),
            ("help", self.help.give()),
            ("facing", self.facing.give()),
            ("dot", self.dot.give()),
            ("part", self.part.give()),
        ])
    }
}

const VIEW: &str = "reading";
/// CSS pixels that a card is wide on this screen, once it was measured against one.
const SCALE: &str = "card";
/// The distance between two dots of a cell in hundredths of a millimetre (Specification 800, section 3.2).
const DOT_SIZE: u32 = 234;
/// The width and height of a bank card in hundredths of a millimetre (ISO/IEC 7810, ID-1).
const CARD: (u32, u32) = (8_560, 5_398);
/// The smallest and the largest distance between two dots, in tenths of a CSS pixel.
const SIZES: (u32, u32) = (30, 300);

/// The distance between two dots at actual size, in tenths of a CSS pixel, on a screen where a card is this wide.
fn actual_size(card: u32) -> u32 {
    ((card * 10 * DOT_SIZE + CARD.0 / 2) / CARD.0).clamp(SIZES.0, SIZES.1)
}

impl View {
    /// As it was kept; at first ink, a whole page, the braille alone.
    pub fn kept() -> View {
        let first = View { look: 0, light: 0, help: 0, facing: 0, dot: 65, part: 0 };
        store::load::<View>(VIEW, 1).unwrap_or(first)
    }

    /// Keeps it, if the browser keeps anything; it holds for this visit in any case.
    pub fn keep(self) {
        let _ = store::save(VIEW, 1, &self);
    }

    /// The look.
    pub fn look(self) -> Look {
        Look::ALL[self.look.min(Look::ALL.len() - 1)]
    }

    /// What stands beside the braille.
    pub fn facing(self) -> Facing {
        FACINGS[self.facing.min(FACINGS.len() - 1)].0
    }

    /// Whether one line is shown at a time.
    pub fn by_line(self) -> bool {
        self.part == 1
    }

    /// How strong guide lines and frames are, 0 to 1, where fading ones are as strong as `needed`.
    pub fn help(self, needed: f64) -> (f64, f64) {
        match HELPS[self.help.min(HELPS.len() - 1)].0 {
            Help::None => (0.0, 0.0),
            Help::Guides => (1.0, 0.0),
            Help::Frames => (1.0, 1.0),
            Help::Fading => (needed, needed),
        }
    }
}

fn select(names: impl Iterator<Item = &'static str>, now: usize, label: &str, on: Callback<usize>) -> Html {
    let onchange = Callback::from(move |event: Event| {
        let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
        on.emit(usize::try_from(select.selected_index()).unwrap_or(0));
    });
    html! {
        <label>{ format!("{label} ") }<select {onchange}>{ for names.enumerate().map(|(n, name)| html! { <option selected={n == now}>{ name }</option> }) }</select></label>
    }
}

/// The view, and where a new one goes.
#[derive(Properties, PartialEq)]
pub struct ViewControlsProps {
    /// As it is.
    pub view: View,
    /// The look that is shown, which "Dot numbers only" may have set.
    pub look: Look,
    /// Called with what it is to be.
    pub set: Callback<View>,
}

/// The controls above the sheet.
#[component]
pub fn ViewControls(props: &ViewControlsProps) -> Html {
    let measuring = use_held(|| take_then("measure"));
    let view = props.view;
    let change = |with: fn(&mut View, usize)| {
        let set = props.set.clone();
        Callback::from(move |n: usize| {
            let mut new = view;
            with(&mut new, n);
            set.emit(new);
        })
    };
    let zoom = |by: i32| {
        let set = props.set.clone();
        let dot = view.dot.saturating_add_signed(by).clamp(SIZES.0, SIZES.1);
        Callback::from(move |_: MouseEvent| set.emit(View { dot, ..view }))
    };
    let actual = {
        let (set, measuring) = (props.set.clone(), measuring.clone());
        Callback::from(move |_: MouseEvent| match store::load::<u32>(SCALE, 1) {
            Some(card) if card > 0 => set.emit(View { dot: actual_size(card), ..view }),
            _ => measuring.set(true),
        })
    };
    let again = {
        let measuring = measuring.clone();
        Callback::from(move |_: MouseEvent| measuring.set(true))
    };
    let measured = {
        let (set, measuring) = (props.set.clone(), measuring.clone());
        Callback::from(move |card: u32| {
            // A browser that keeps nothing asks again next time.
            let _ = store::save(SCALE, 1, &card);
            set.emit(View { dot: actual_size(card), ..view });
            measuring.set(false);
        })
    };
    let known = store::load::<u32>(SCALE, 1).is_some();
    html! {
        <>
            <div class="controls view">
                { select(Look::ALL.iter().map(|look| look.name()), view.look, "Look", change(|view, n| view.look = n)) }
                if matches!(props.look, Look::Raised | Look::Interpoint) {
                    { select(LIGHTS.iter().map(|(name, _, _)| *name), view.light, "Light from the", change(|view, n| view.light = n)) }
                }
                { select(HELPS.iter().map(|(_, name)| *name), view.help, "Guides", change(|view, n| view.help = n)) }
                { select(FACINGS.iter().map(|(_, name)| *name), view.facing, "Show", change(|view, n| view.facing = n)) }
                { select(PARTS.into_iter(), view.part, "Read", change(|view, n| view.part = n)) }
                <span>
                    <button type="button" aria-label="Smaller cells" onclick={zoom(-10)}>{ "−" }</button>{ " " }
                    <button type="button" aria-label="Larger cells" onclick={zoom(10)}>{ "+" }</button>{ " " }
                    <button type="button" class="quiet" onclick={actual}>{ "Actual size" }</button>
                    if known && !*measuring { { " " }<button type="button" class="quiet" onclick={again}>{ "Measure this screen again" }</button> }
                </span>
            </div>
            if *measuring && !WHOLE { <Elsewhere then="measure" /> }
            if *measuring && WHOLE { <Measure {measured} /> }
        </>
    }
}

#[derive(Properties, PartialEq)]
struct MeasureProps {
    measured: Callback<u32>,
}

/// Once for a screen: a drawn card is made as wide as a real one.
#[component]
fn Measure(props: &MeasureProps) -> Html {
    let width = use_held(|| store::load::<u32>(SCALE, 1).unwrap_or(324));
    let oninput = {
        let width = width.clone();
        Callback::from(move |event: InputEvent| {
            if let Ok(new) = text_of(&event).parse::<u32>() {
                width.set(new.clamp(150, 1_200));
            }
        })
    };
    let done = {
        let (width, measured) = (width.clone(), props.measured.clone());
        Callback::from(move |_: MouseEvent| measured.emit(*width))
    };
    html! {
        <section class="measure" aria-label="Measure this screen">
            <p>{ "Hold a bank card against the screen and make the drawn card as wide as yours (85.6 mm). It is asked once." }</p>
            <div class="card" style={format!("width:{}px;height:{}px", *width, *width * CARD.1 / CARD.0)} aria-hidden="true"></div>
            <label>{ "Width of the card " }<input type="range" min="150" max="1200" step="1" value={width.to_string()} {oninput} /></label>
            <button type="button" class="main" onclick={done}>{ "It is as wide as my card" }</button>
        </section>
    }
}
