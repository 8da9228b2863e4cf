//! The region "Reads as": the whole reading as text, and what a waiting prefix could become.

use std::rc::Rc;

use gloo::timers::callback::Timeout;
use yew::prelude::*;

use super::braille_input::Written;
use super::cells_line;
use super::drawn_lines::ByPtr;
use super::held::use_held;
use super::settings::{Announce, use_settings};
use super::speech;
use crate::cell::Cell;
use crate::ueb::{SignId, register};
use crate::writing::Chunk;

/// What is written.
#[derive(Properties, PartialEq)]
pub struct ReadsAsProps {
    /// The text with its readings.
    pub written: Written,
}

/// The live reading of what is written.
#[component]
pub fn ReadsAs(props: &ReadsAsProps) -> Html {
    let settings = use_settings();
    let asked_for = use_held(bool::default);
    let shown = !settings.hide_reading || *asked_for;
    let toggle = {
        let asked_for = asked_for.clone();
        Callback::from(move |_: MouseEvent| asked_for.set(!*asked_for))
    };
    let line = props.written.line();
    let waiting = props.written.waiting.as_ref().map(|(prefix, could)| waiting_words(prefix, could));
    html! {
        <section class="reading">
            <div class="controls">
                <h2 id="reads-as">{ "Reads as" }</h2>
                if settings.hide_reading {
                    <button type="button" class="quiet" aria-expanded={if shown { "true" } else { "false" }} onclick={toggle}>
                        { if shown { "Cover the reading" } else { "Show the reading" } }
                    </button>
                }
            </div>
            <div role="status" aria-live="off" aria-label="Reads as">
                if shown {
                    { for props.written.chunks.iter().enumerate().map(|(number, chunk)| {
                        let next = props.written.chunks.get(number + 1).and_then(|next| next.lines.first());
                        let long = props.written.chunks.len() > 1;
                        html! {
                            <ReadChunk key={number} chunk={ByPtr(chunk.clone())} numbers={settings.dot_numbers_only} {long}
                                ends={next.is_some_and(|line| !line.goes_on)} />
                        }
                    }) }
                }
            </div>
            <p class="waiting">{ waiting.filter(|_| shown).unwrap_or_default() }</p>
            if shown { <Announcer written={props.written.clone()} /> }
            if settings.braille_display {
                <p class="display" aria-label="The line for a braille display">
                    { line.map(|line| cells_line::as_text(&line.cells, settings.dot_numbers_only)).unwrap_or_default() }
                </p>
            }
        </section>
    }
}

#[derive(Properties, PartialEq)]
struct ReadChunkProps {
    chunk: ByPtr<Chunk>,
    numbers: bool,
    /// It is one chunk of several: laid out apart from the others, and only when in view.
    long: bool,
    /// A new line begins after it.
    ends: bool,
}

#[component]
fn ReadChunk(props: &ReadChunkProps) -> Html {
    let mut text = String::new();
    for (place, line) in props.chunk.0.lines.iter().enumerate() {
        if place > 0 && !line.goes_on {
            text.push('\n');
        }
        text.push_str(&line.print);
    }
    if props.ends {
        text.push('\n');
    }
    if props.numbers {
        text = cells_line::without_glyphs(&text);
    }
    // Inline while it is short, so that the region's text is the reading and nothing else.
    html! { <span class={props.long.then_some("chunk")}>{ text }</span> }
}

/// Speaks finished words, or the line after a pause, to a screen reader; silent unless the learner asks for it.
#[component]
fn Announcer(props: &ReadsAsProps) -> Html {
    let settings = use_settings();
    let said = use_held(String::new);
    let timer = use_mut_ref(|| None::<Timeout>);
    {
        let (said, mode, numbers, aloud) =
            (said.clone(), settings.announce, settings.dot_numbers_only, settings.speech);
        use_effect_with(props.written.clone(), move |written| {
            *timer.borrow_mut() = None;
            let line = written.line().cloned().unwrap_or_else(|| Rc::new(Default::default()));
            let clean =
                move |text: &str| if numbers { cells_line::without_glyphs(text) } else { text.to_owned() };
            match mode {
                Announce::Never => said.set(String::new()),
                Announce::Words => {
                    let at = written.caret.cell;
                    let finished = line.words.iter().find(|word| {
                        word.to == at
                            && line.cells.get(at.wrapping_sub(1)).is_some_and(|cell| cell.is_blank())
                    });
                    if let Some(word) = finished {
                        let word = clean(&word.says);
                        if aloud {
                            speech::say(&word);
                        }
                        said.set(word);
                    }
                }
                Announce::Pause => {
                    *timer.borrow_mut() = Some(Timeout::new(1200, move || {
                        let line = clean(&line.print);
                        if aloud {
                            speech::say(&line);
                        }
                        said.set(line);
                    }));
                }
            }
        });
    }
    html! { <p class="sr" aria-live="polite">{ (*said).clone() }</p> }
}

/// How many signs a waiting prefix names.
const NAMED: usize = 12;

/// A prefix that waits for its root, and what it could become, a few in print, contractions first.
fn waiting_words(prefix: &[Cell], could: &[SignId]) -> String {
    let mut could: Vec<&register::Sign> = could
        .iter()
        .map(|sign| register::get(*sign))
        .filter(|sign| !sign.print.is_empty() && cells_line::without_glyphs(sign.print) == sign.print)
        .collect();
    crate::order::sort_by_key(&mut could, |sign| !sign.class.is_contraction());
    let more = could.len().saturating_sub(NAMED);
    let named: Vec<&str> = could.iter().take(NAMED).map(|sign| sign.print).collect();
    let one = prefix.len() == 1 && prefix[0].dots().count() == 1;
    let dots = prefix.iter().map(|cell| cell.dot_numbers()).collect::<Vec<_>>().join(", ");
    let mut words = format!("Waiting: {} {dots} …", if one { "dot" } else { "dots" });
    if !named.is_empty() {
        words.push_str(&format!(" {}", named.join(", ")));
    }
    if more > 0 {
        words.push_str(&format!(" and {more} more"));
    }
    words
}
