//! How a text stands on its sheet: look and light, guides, print beside it, line by line or the whole page, and its size.

use wasm_bindgen::JsValue;
use yew::prelude::*;

use crate::exercise::proofread::Look;
use crate::page::browser::halves::take_piece;
use crate::page::browser::held::use_held;
use crate::page::browser::resized::Resized;
use crate::page::browser::store;
use crate::page::browser::stored::{Stored, fill, object, part};
use crate::page::learner::settings::use_settings;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::fields::text_of;
use crate::page::widgets::later::use_later;
use crate::page::widgets::paper::LIGHTS;

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
/// What is done with lines that are longer than the screen is wide.
const BREAKS: [&str; 2] = ["broken for the screen", "as on the sheet"];

/// How the sheet looks, as this browser keeps it.
#[derive(Clone, Copy, PartialEq)]
pub struct View {
    look: usize,
    /// Which of [`LIGHTS`].
    pub light: usize,
    help: usize,
    facing: usize,
    /// The distance between two dots, in tenths of a CSS pixel; 0 for what fits the window.
    dot: u32,
    part: usize,
    breaks: usize,
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
            breaks: 0,
        };
        fill(value, "part", &mut view.part)?;
        fill(value, "breaks", &mut view.breaks)?;
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
            ("breaks", self.breaks.give()),
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

/// What a cell takes of a line, in hundredths of the distance between two dots.
const CELL: u32 = 265;
/// The distances between two dots, in tenths of a CSS pixel, that are chosen by themselves: cells 20 px high, as a phone
/// still shows them well, to 28 px, beyond which the eye has to travel.
const FITTING: (u32, u32) = (77, 107);
/// A window that has room for print beside the sheet, in CSS pixels, and the share of it that is left to the sheet, in
/// hundredths: a line of contracted braille says up to twice as many letters as it has cells, which stand in two lines.
const BESIDE: (u32, u32) = (900, 64);

/// The distance between two dots at actual size, in tenths of a CSS pixel, on a screen where a card is this wide.
fn actual_size(card: u32) -> u32 {
    ((card * 10 * DOT_SIZE + CARD.0 / 2) / CARD.0).clamp(SIZES.0, SIZES.1)
}

impl View {
    /// As it was kept; at first ink, a whole page, the braille alone.
    pub fn kept() -> View {
        let first = View { look: 0, light: 0, help: 0, facing: 0, dot: 0, part: 0, breaks: 0 };
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

    /// The distance between two dots, in tenths of a CSS pixel, and how many cells a line of the screen has, for a sheet
    /// of `cells` a line and a place `room` CSS pixels wide.
    pub fn size(self, room: u32, cells: usize) -> (u32, usize) {
        let beside = self.facing() != Facing::Alone && room >= BESIDE.0;
        let room = if beside { room * BESIDE.1 / 100 } else { room };
        let all = u32::try_from(cells).unwrap_or(1).max(1);
        let dot = match self.dot {
            0 => (room * 1_000 / (CELL * all)).clamp(FITTING.0, FITTING.1),
            set => set.clamp(SIZES.0, SIZES.1),
        };
        let fit = usize::try_from(room * 1_000 / (CELL * dot)).unwrap_or(cells);
        (dot, if self.breaks == 1 { cells } else { fit.clamp(8.min(cells), cells) })
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

/// Padding and border of the sheet, left and right, in CSS pixels.
const SHEET_EDGES: u32 = 20;

/// How wide a sheet can be, in CSS pixels, and the element that is measured for it.
#[hook]
pub fn use_room() -> (NodeRef, u32) {
    let place = use_node_ref();
    let measure = |element: Option<web_sys::Element>| {
        let wide = element.map_or(0, |element| u32::try_from(element.client_width()).unwrap_or(0));
        wide.saturating_sub(SHEET_EDGES)
    };
    // Until the place is there, that of the room around it, which is a little wider.
    let room = use_held(|| {
        measure(gloo::utils::document().query_selector("main").ok().flatten()).saturating_sub(64).max(280)
    });
    {
        let (place, room) = (place.clone(), room.clone());
        use_effect_with((), move |()| {
            let resized = place.cast::<web_sys::Element>().map(|element| {
                let of = element.clone();
                Resized::of(&element, move || room.set(measure(Some(of.clone())).max(200)))
            });
            move || drop(resized)
        });
    }
    (place, *room)
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
    /// The distance between two dots as it is drawn, in tenths of a CSS pixel.
    pub dot: u32,
    /// Whether lines are, or would be, broken for the screen.
    pub narrow: bool,
    /// Called with what it is to be.
    pub set: Callback<View>,
}

/// The controls above the sheet.
#[component]
pub fn ViewControls(props: &ViewControlsProps) -> Html {
    let measuring = use_held(|| take_piece(Piece::Measure));
    let (later, view) = (use_later(), props.view);
    // On a phone the sheet comes first.
    let wide = use_memo((), |()| {
        gloo::utils::window()
            .inner_width()
            .ok()
            .and_then(|width| width.as_f64())
            .is_none_or(|width| width >= 720.0)
    });
    // "Dot numbers only" sets the look.
    let look = if use_settings().dot_numbers_only { Look::Numbers } else { view.look() };
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
        let dot = props.dot.saturating_add_signed(by).clamp(SIZES.0, SIZES.1);
        Callback::from(move |_: MouseEvent| set.emit(View { dot, ..view }))
    };
    let fit = props.set.reform(move |_: MouseEvent| View { dot: 0, ..view });
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
        <details class="how-it-looks" open={*wide}>
            <summary>{ "How it looks" }</summary>
            <div class="controls view">
                { select(Look::ALL.iter().map(|look| look.name()), view.look, "Look", change(|view, n| view.look = n)) }
                if matches!(look, Look::Raised | Look::Interpoint) {
                    { select(LIGHTS.iter().map(|(name, _, _)| *name), view.light, "Light from the", change(|view, n| view.light = n)) }
                }
                { select(HELPS.iter().map(|(_, name)| *name), view.help, "Guides", change(|view, n| view.help = n)) }
                { select(FACINGS.iter().map(|(_, name)| *name), view.facing, "Show", change(|view, n| view.facing = n)) }
                { select(PARTS.into_iter(), view.part, "Read", change(|view, n| view.part = n)) }
                if props.narrow || view.breaks == 1 {
                    { select(BREAKS.into_iter(), view.breaks, "Lines", change(|view, n| view.breaks = n)) }
                }
                <span>
                    <button type="button" aria-label="Smaller cells" onclick={zoom(-10)}>{ "−" }</button>{ " " }
                    <button type="button" aria-label="Larger cells" onclick={zoom(10)}>{ "+" }</button>{ " " }
                    if view.dot != 0 { <button type="button" class="quiet" onclick={fit}>{ "Fit the window" }</button>{ " " } }
                    <button type="button" class="quiet" onclick={actual}>{ "Actual size" }</button>
                    if known && !*measuring { { " " }<button type="button" class="quiet" onclick={again}>{ "Measure this screen again" }</button> }
                </span>
            </div>
            if *measuring { { later.show(Piece::Measure, MeasureProps { measured }) } }
        </details>
    }
}

/// What measuring tells.
#[derive(Properties, PartialEq)]
pub struct MeasureProps {
    /// Called with how many CSS pixels wide a card is.
    pub measured: Callback<u32>,
}

/// Once for a screen: a drawn card is made as wide as a real one.
#[component]
pub fn Measure(props: &MeasureProps) -> Html {
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
