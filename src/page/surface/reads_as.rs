//! The region "Reads as": the whole reading as text, and what a waiting prefix could become.
//!
//! It changes with every key, so the texts are put into their elements as they change, and nothing else is drawn again.

use std::cell::RefCell;
use std::rc::Rc;

use gloo::timers::callback::Timeout;
use web_sys::Element;
use yew::prelude::*;

use crate::cell::Cell;
use crate::page::browser::held::use_held;
use crate::page::browser::nodes::{self, Said};
use crate::page::browser::quiet::Quiet;
use crate::page::browser::speech;
use crate::page::learner::settings::{Announce, use_settings};
use crate::page::surface::live::Live;
use crate::page::surface::written::Written;
use crate::page::widgets::cells_line;
use crate::ueb::back::Waiting;
use crate::ueb::{Class, register};
use crate::writing::{CHUNK, Chunk, Line};

/// What is being written.
#[derive(Properties, PartialEq)]
pub struct ReadsAsProps {
    /// The text with its readings, as it changes.
    pub live: Rc<Live>,
    /// Each word's reading stands under its cells as well, at once; so this one may follow in a quiet moment.
    pub follows: bool,
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
    let places = (use_node_ref(), use_node_ref(), use_node_ref(), use_node_ref());
    {
        let (region, waiting, said, display) = places.clone();
        let how = How {
            shown,
            numbers: settings.dot_numbers_only,
            announce: settings.announce,
            aloud: settings.speech,
            display: settings.braille_display,
            follows: props.follows,
        };
        use_effect_with((props.live.clone(), how), move |(live, how)| {
            let reading = Rc::new(RefCell::new(Reading {
                how: *how,
                region: region.cast(),
                waiting: waiting.cast(),
                said: said.cast(),
                display: display.cast(),
                chunks: Vec::new(),
                last: None,
                pause: None,
            }));
            reading.borrow().clear();
            let soon = {
                let (live, reading) = (Rc::downgrade(live), reading.clone());
                Quiet::settled(Callback::from(move |()| {
                    if let Some(live) = live.upgrade() {
                        reading.borrow_mut().show_chunks(&live.now().chunks);
                    }
                }))
            };
            let live = live.clone();
            let number = live.follow(Callback::from(move |written| {
                if reading.borrow_mut().show(&written) {
                    soon.again();
                } else {
                    soon.done();
                }
            }));
            move || live.leave(number)
        });
    }
    let (region, waiting, said, display) = places;
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
            <div ref={region} role="status" aria-live="off" aria-label="Reads as"></div>
            <p ref={waiting} class="waiting"></p>
            <p ref={said} class="sr" aria-live="polite"></p>
            if settings.braille_display {
                <p ref={display} class="display" aria-label="The line for a braille display"></p>
            }
        </section>
    }
}

/// What of the reading is given, and how.
#[derive(Clone, Copy, PartialEq)]
struct How {
    shown: bool,
    numbers: bool,
    announce: Announce,
    aloud: bool,
    display: bool,
    follows: bool,
}

/// The reading as it stands on the page.
struct Reading {
    how: How,
    region: Option<Element>,
    waiting: Option<Element>,
    said: Option<Element>,
    display: Option<Element>,
    chunks: Vec<ReadChunk>,
    /// What was written last: what stood there when it began, and what did not change, is not told.
    last: Option<Written>,
    /// Until what is written after a pause is said.
    pause: Option<Timeout>,
}

/// The reading of one chunk of lines.
struct ReadChunk {
    element: Element,
    chunk: Rc<Chunk>,
    /// It is one chunk of several: laid out apart from the others, and only when in view.
    long: bool,
    /// A new line begins after it.
    ends: bool,
    said: Said,
}

/// Puts a text in where it differs.
fn put_text(place: Option<&Element>, text: &str) {
    if let Some(place) = place
        && place.text_content().as_deref() != Some(text)
    {
        place.set_text_content(Some(text));
    }
}

impl Reading {
    fn clear(&self) {
        for place in [&self.region, &self.waiting, &self.said, &self.display].into_iter().flatten() {
            place.set_text_content(None);
        }
    }

    /// Gives whether the text is still to be shown, in a quiet moment.
    fn show(&mut self, written: &Written) -> bool {
        if self.how.display {
            let line = written
                .line()
                .map(|line| cells_line::as_text(&line.cells, self.how.numbers))
                .unwrap_or_default();
            put_text(self.display.as_ref(), &line);
        }
        if !self.how.shown {
            return false;
        }
        // A few keys more or less may wait; what came or went whole is there at once.
        let later = self.how.follows
            && self.chunks.len() == written.chunks.len()
            && self.last.as_ref().is_some_and(|last| last.version == written.version);
        if !later {
            self.show_chunks(&written.chunks);
        }
        let waiting = written.waiting.as_ref().map(|(prefix, waiting)| waiting_words(prefix, waiting));
        put_text(self.waiting.as_ref(), &waiting.unwrap_or_default());
        // A caret that only moves has nothing to tell of the reading.
        if let Some(last) = self.last.replace(written.clone())
            && last.version == written.version
            && !last.same_text(written)
        {
            self.announce(&last, written);
        }
        later
    }

    fn show_chunks(&mut self, chunks: &[Rc<Chunk>]) {
        let Some(region) = &self.region else { return };
        for gone in self.chunks.drain(chunks.len().min(self.chunks.len())..) {
            gone.element.remove();
        }
        let long = chunks.len() > 1;
        for (place, chunk) in chunks.iter().enumerate() {
            let next = chunks.get(place + 1).and_then(|next| next.lines.first());
            let ends = next.is_some_and(|line| !line.goes_on);
            match self.chunks.get_mut(place) {
                None => {
                    // Inline while it is short, so that the region's text is the reading and nothing else.
                    let element =
                        nodes::within(region, nodes::element("span", if long { "chunk" } else { "" }));
                    let said = Said::new(&element, reading_of(chunk, ends, self.how.numbers));
                    self.chunks.push(ReadChunk { element, chunk: chunk.clone(), long, ends, said });
                }
                Some(drawn) => {
                    if drawn.long != long {
                        drawn.long = long;
                        drawn.element.set_class_name(if long { "chunk" } else { "" });
                    }
                    if !Rc::ptr_eq(&drawn.chunk, chunk) || drawn.ends != ends {
                        drawn.chunk = chunk.clone();
                        drawn.ends = ends;
                        drawn.said.say(reading_of(chunk, ends, self.how.numbers));
                    }
                }
            }
        }
    }

    /// Tells finished words, or the line after a pause, to a screen reader; silent unless the learner asks for it.
    fn announce(&mut self, last: &Written, written: &Written) {
        self.pause = None;
        let How { numbers, aloud, .. } = self.how;
        let tell = move |said: Option<&Element>, text: &str| {
            let text = if numbers { cells_line::without_glyphs(text) } else { text.to_owned() };
            if aloud {
                speech::say(&text);
            }
            // The same word once more would be no change, and not be told.
            let again = said.is_some_and(|said| said.text_content().as_deref() == Some(&text));
            put_text(said, &if again { text + "\u{a0}" } else { text });
        };
        match self.how.announce {
            Announce::Never => {}
            Announce::Words => {
                if let Some(word) = word_ended(last, written) {
                    tell(self.said.as_ref(), &word);
                }
            }
            Announce::Pause => {
                let line = written.line().cloned().unwrap_or_else(|| Rc::new(Line::default()));
                let said = self.said.clone();
                self.pause = Some(Timeout::new(1200, move || tell(said.as_ref(), &line.print)));
            }
        }
    }
}

/// What the word says that has just been ended, by a blank or by a new line.
fn word_ended(last: &Written, written: &Written) -> Option<String> {
    let (was, now) = (last.caret, written.caret);
    if now.line == was.line && now.cell == was.cell + 1 {
        let line = written.line()?;
        line.cells.get(was.cell).filter(|cell| cell.is_blank())?;
        return line.words.iter().find(|word| word.to == now.cell).map(|word| word.says.clone());
    }
    if now.line == was.line + 1 && now.cell == 0 {
        let line = written.chunks.get(was.line / CHUNK)?.lines.get(was.line % CHUNK)?;
        // A line that ends with a blank has told its last word already.
        line.cells.last().filter(|cell| !cell.is_blank())?;
        return line.words.last().map(|word| word.says.clone());
    }
    None
}

/// What the lines of a chunk say.
fn reading_of(chunk: &Chunk, ends: bool, numbers: bool) -> String {
    let mut text = String::new();
    for (place, line) in chunk.lines.iter().enumerate() {
        if place > 0 && !line.goes_on {
            text.push('\n');
        }
        text.push_str(&line.print);
    }
    if ends {
        text.push('\n');
    }
    if numbers { cells_line::without_glyphs(&text) } else { text }
}

/// How many signs a waiting prefix names.
const NAMED: usize = 12;

/// A prefix that waits for its root, what it does by itself, and what it could become, a few in print, contractions first.
fn waiting_words(prefix: &[Cell], waiting: &Waiting) -> String {
    // An accent alone has no print that could be read.
    let mut could: Vec<&register::Sign> = waiting
        .could
        .iter()
        .map(|sign| register::get(*sign))
        .filter(|sign| {
            !sign.print.is_empty()
                && sign.class != Class::Modifier
                && cells_line::without_glyphs(sign.print) == sign.print
        })
        .collect();
    crate::order::sort_by_key(&mut could, |sign| !sign.class.is_contraction());
    let more = could.len().saturating_sub(NAMED);
    let signs = could.iter().take(NAMED).map(|sign| sign.print);
    let named: Vec<&str> = waiting.does.iter().copied().chain(signs).collect();
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
