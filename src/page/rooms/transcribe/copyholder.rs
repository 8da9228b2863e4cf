//! The copyholder: the line of print that is being written, the margin's count and its bell.

use std::cell::{Cell, RefCell};
use std::rc::Rc;

use gloo::timers::callback::Timeout;
use yew::prelude::*;

use crate::manuscript::copy::{CopyLine, Run};
use crate::manuscript::follow::{Follower, Reached};
use crate::manuscript::{Sheet, number};
use crate::page::browser::held::{Held, use_held};
use crate::page::learner::settings::{Settings, use_settings};
use crate::page::surface::live::{Live, use_live};
use crate::page::surface::written::Written;
use crate::page::widgets::cells_line;
use crate::writing::{Line, Place};

/// The bell rings so many cells before the margin (common practice on braille writers, from memory).
pub const BELL: usize = 7;

/// What the holder shows.
#[derive(Properties, PartialEq)]
pub struct CopyholderProps {
    /// The copy.
    pub copy: Rc<Vec<CopyLine>>,
    /// Which of its lines is being written.
    pub at: usize,
    /// What is being written.
    pub live: Rc<Live>,
    /// The sheet.
    pub sheet: Sheet,
    /// Whether the bell is heard.
    pub bell: bool,
    /// Moves the copy by lines, by hand.
    pub on_turn: Callback<isize>,
}

/// So many lines are looked at in one turn, so that the page never stands still.
const TURN: usize = 300;

/// Tells which line of the copy is being written, by what the written lines say. Lines that did not change since the last
/// time are not looked at again.
struct Following {
    follower: Follower,
    sheet: Sheet,
    /// Line by line how far the writing had come with it.
    known: RefCell<Vec<(Rc<Line>, Reached)>>,
    /// The turn in which more lines are looked at.
    turn: Cell<Option<Timeout>>,
}

impl Following {
    /// The line of the copy that is being written, from 0; `None` when there are more new lines than are looked at in one
    /// turn, and the next call goes on from there.
    fn line(&self, written: &Written) -> Option<usize> {
        let mut known = self.known.borrow_mut();
        let mut reached = Reached::default();
        let mut new = 0;
        for (at, line) in written.lines().enumerate().take(written.caret.line + 1) {
            let here = at == written.caret.line;
            if !here && let Some((_, then)) = known.get(at).filter(|(same, _)| Rc::ptr_eq(same, line)) {
                reached.clone_from(then);
                continue;
            }
            new += 1;
            if new > TURN {
                return None;
            }
            // Page numbers at the right end of a page's first or last line are no text.
            let edge = at % self.sheet.lines == 0 || (at + 1) % self.sheet.lines == 0;
            let number = if edge { number::at_end(&line.cells).map(|(_, from)| from) } else { None };
            let mut end = number.unwrap_or(line.cells.len());
            if here {
                // The word at the caret is still being written.
                let before = &line.cells[..written.caret.cell.min(end)];
                end = before.iter().rposition(|cell| cell.is_blank()).unwrap_or(0);
            }
            let words = line.words.iter().filter(|word| word.from < end && !line.cells[word.from].is_blank());
            reached = self.follower.after(&reached, words.map(|word| word.says.trim()));
            if !here {
                known.truncate(at);
                known.push((line.clone(), reached.clone()));
            }
        }
        Some(self.follower.line(&reached))
    }
}

/// Goes on until the line is known; what is written meanwhile counts.
fn follow_on(following: Rc<Following>, live: Rc<Live>, at: Held<usize>) {
    match following.line(&live.now()) {
        Some(line) => at.set(line),
        None => {
            let next = following.clone();
            following.turn.set(Some(Timeout::new(0, move || follow_on(next, live, at))));
        }
    }
}

/// The line of the copy that is being written, from 0. The component is drawn again only when it becomes another.
#[hook]
pub fn use_following(copy: &Rc<Vec<CopyLine>>, live: &Rc<Live>, sheet: Sheet) -> usize {
    let at = use_held(usize::default);
    {
        let at = at.clone();
        use_effect_with((copy.clone(), live.clone(), sheet), move |(copy, live, sheet)| {
            let following = Rc::new(Following {
                follower: Follower::new(copy),
                sheet: *sheet,
                known: RefCell::default(),
                turn: Cell::default(),
            });
            let (live, follow) = (live.clone(), following.clone());
            let told = live.clone();
            let number =
                live.follow(Callback::from(move |_| follow_on(follow.clone(), told.clone(), at.clone())));
            move || {
                live.leave(number);
                following.turn.set(None);
            }
        });
    }
    *at
}

/// A run in its typeform.
pub fn run(run: &Run, settings: &Settings) -> Html {
    let mut shown = html! { { cells_line::shown(&run.print, settings) } };
    if run.underlined {
        shown = html! { <u>{ shown }</u> };
    }
    if run.bold {
        shown = html! { <b>{ shown }</b> };
    }
    if run.italic {
        shown = html! { <i>{ shown }</i> };
    }
    shown
}

/// The copyholder above the writing.
#[component]
pub fn Copyholder(props: &CopyholderProps) -> Html {
    let settings = use_settings();
    let Place { line: row, cell } = use_live(&props.live).caret;
    let sheet = props.sheet;
    let left = sheet.cells as isize - cell as isize;
    let line = props.copy.get(props.at);
    let turn = |by: isize| {
        let on_turn = props.on_turn.clone();
        Callback::from(move |_: MouseEvent| on_turn.emit(by))
    };
    // The bell rings once, when the caret comes to its place by writing.
    let rings = use_held(bool::default);
    {
        let (bell, rings) = (props.bell, rings.clone());
        use_effect_with((row, cell), move |(_, cell)| {
            let now = cell + BELL == sheet.cells;
            if now && bell {
                ring();
            }
            rings.set(now);
        });
    }
    let count = match left {
        left if left < 0 => format!("{} cells over the margin", -left),
        0 => "the line is full".to_owned(),
        1 => "1 cell left".to_owned(),
        left if left <= BELL as isize => format!("bell: {left} cells left"),
        left => format!("{left} cells left"),
    };
    html! {
        <div class="copyholder" role="region" aria-label="Copy" data-copy="">
            <p class="from" id="copy-line" aria-live="polite" aria-atomic="true">
                { match line {
                    None => "nothing to copy".to_owned(),
                    Some(line) if line.what.is_empty() => format!("copy, line {} of {}", props.at + 1, props.copy.len()),
                    Some(line) => format!("copy, line {} of {} · {}", props.at + 1, props.copy.len(), line.what),
                } }
                if let Some(line) = line { <span class="sr">{ ": " }{ cells_line::shown(&line.told(), &settings) }</span> }
            </p>
            <div class="controls">
                <button type="button" aria-label="Copy: line before" onclick={turn(-1)}>{ "↑" }</button>
                <button type="button" aria-label="Copy: next line" onclick={turn(1)}>{ "↓" }</button>
                <span class={classes!("where", (left <= 0).then_some("past"))}>{ format!("page {}, line {} of {}", row / sheet.lines + 1, row % sheet.lines + 1, sheet.lines) }</span>
                <span class={classes!("where", "margin", rings.then_some("rings"), (left < 0).then_some("past"))} role="status" aria-label="Margin" aria-live="off">{ count }</span>
                <span class="sr" aria-live="assertive">{ if *rings { "margin bell" } else if left < 0 { "over the margin" } else { "" } }</span>
            </div>
        </div>
    }
}

/// A short, soft bell.
fn ring() {
    let Ok(sound) = web_sys::AudioContext::new() else { return };
    let (Ok(tone), Ok(volume)) = (sound.create_oscillator(), sound.create_gain()) else { return };
    tone.frequency().set_value(1760.0);
    volume.gain().set_value(0.2);
    let end = sound.current_time() + 0.35;
    let _ = volume.gain().exponential_ramp_to_value_at_time(0.001, end);
    let _ = tone.connect_with_audio_node(&volume);
    let _ = volume.connect_with_audio_node(&sound.destination());
    let _ = tone.start();
    let _ = tone.stop_with_when(end);
}
