//! A drawn slate: windows from right to left, every dot mirrored, punched by keys or by pointing at the dots.

use yew::prelude::*;

use crate::cell::Cell;
use crate::keys::Key;
use crate::page::browser::held::use_held;
use crate::page::learner::settings::{Settings, use_settings};
use crate::page::widgets::by_number::by_number;
use crate::page::widgets::fields::use_focus;
use crate::page::widgets::sheet_text::said_of;

/// What the slate needs.
#[derive(Properties, PartialEq)]
pub struct SlateProps {
    /// How many windows are to be punched.
    pub count: usize,
    /// Called with the cells in reading order when the learner is done.
    pub on_done: Callback<Vec<Cell>>,
}

/// The places of a window as they lie on the slate, row by row: dots 4 5 6 on the left, 1 2 3 on the right.
const PLACES: [u8; 6] = [4, 1, 5, 2, 6, 3];

/// The slate. Give it a `key` that changes with the item.
#[component]
pub fn Slate(props: &SlateProps) -> Html {
    let settings = use_settings();
    let count = props.count.max(1);
    // What was punched is not to be seen by all: it is said whatever is said of cells elsewhere.
    let says = Settings { say_dots: true, ..(*settings).clone() };
    let cells = use_held(|| vec![Cell::BLANK; count]);
    let at = use_held(usize::default);
    let node = use_focus(0);
    let punch = {
        let cells = cells.clone();
        move |window: usize, dot: u8| {
            let mut new = (*cells).clone();
            if let Some(cell) = new.get_mut(window)
                && let Some(punched) = Cell::from_bits(cell.bits() ^ (1 << (dot - 1)))
            {
                *cell = punched;
            }
            cells.set(new);
        }
    };
    let done = {
        let (cells, on_done) = (cells.clone(), props.on_done.clone());
        move || on_done.emit((*cells).clone())
    };
    let onkeydown = {
        let (at, punch, done) = (at.clone(), punch.clone(), done.clone());
        let keys = if settings.swap { settings.keys.swapped() } else { settings.keys.clone() };
        Callback::from(move |event: KeyboardEvent| {
            if event.ctrl_key() || event.alt_key() || event.meta_key() {
                return;
            }
            let digit = event.key().parse::<u8>().ok().filter(|dot| (1..=6).contains(dot));
            match (digit, keys.get(&event.code()), event.key().as_str()) {
                (Some(dot), _, _) | (None, Some(Key::Dot(dot)), _) => punch(*at, dot),
                (_, Some(Key::Blank), _) | (_, _, "ArrowLeft") => at.set((*at + 1).min(count - 1)),
                (_, Some(Key::Erase), _) | (_, _, "ArrowRight") => at.set(at.saturating_sub(1)),
                // In the last window, Enter is the answer; before it, the next window.
                (_, _, "Enter") if *at + 1 < count => at.set(*at + 1),
                (_, _, "Enter") => done(),
                _ => return,
            }
            event.prevent_default();
        })
    };
    let finish = {
        let done = done.clone();
        Callback::from(move |_: MouseEvent| done())
    };
    // A window with its holes is a drawn cell; with dot numbers only the cells stand as numbers.
    let by_numbers = settings.dot_numbers_only.then(|| {
        let words: Vec<String> = cells.iter().map(|cell| cell.dot_numbers()).collect();
        let choose = {
            let at = at.clone();
            Callback::from(move |window| at.set(window))
        };
        let turn = {
            let (punch, at) = (punch.clone(), at.clone());
            Callback::from(move |dot| punch(*at, dot))
        };
        by_number(&words, *at, &choose, &turn)
    });
    html! {
        <div class="slate-drill">
            <div class={classes!("slate", by_numbers.is_some().then_some("numbered"))} ref={node} tabindex="0" role="application"
                aria-label="Slate, first cell on the right" aria-describedby="slate-help" {onkeydown}>
                // Drawn from right to left by the style sheet; in the page the first window comes first.
                if let Some(by_numbers) = by_numbers { { by_numbers } } else { { for cells.iter().enumerate().map(|(window, cell)| html! {
                    <div class={classes!("window", (window == *at).then_some("now"))} role="group" aria-label={format!("Cell {}", window + 1)}>
                        { for PLACES.iter().map(|&dot| {
                            let onclick = {
                                let (punch, at) = (punch.clone(), at.clone());
                                Callback::from(move |_: MouseEvent| { at.set(window); punch(window, dot); })
                            };
                            html! {
                                <button type="button" tabindex="-1" class="hole" aria-pressed={cell.has_dot(dot).to_string()}
                                    aria-label={format!("Cell {}, dot {dot}", window + 1)} {onclick} />
                            }
                        }) }
                    </div>
                }) } }
            </div>
            <p class="sr" aria-live="polite">{ format!("Cell {} of {count}: {}", *at + 1, said_of((*cells).get(*at).copied(), None, &says)) }</p>
            <p id="slate-help" class="note">{ "You look at the back: the first cell is on the right, dot 1 at the top right of it. Punch with the keys 1 to 6, with your six keys, or by pointing; Space goes on to the next cell on the left, Enter is done. Tab goes on, out of the slate." }</p>
            <button type="button" class="main" onclick={finish}>{ "Answer" }</button>
        </div>
    }
}
