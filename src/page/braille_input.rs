//! The writing surface: a text box named "Braille", written with six keys, and what it says under its own cells.

use std::rc::Rc;

use wasm_bindgen::JsCast;
use web_sys::{ClipboardEvent, HtmlElement, KeyboardEvent, PointerEvent};
use yew::prelude::*;

use super::cells_line::{self, CELL_WIDTH};
use super::editor::{self, CHUNK, Chunk, Editor, Line, Place, Word};
use super::hands::Hands;
use super::keys_panel::key_name;
use super::settings::{Settings, use_settings};
use super::six_keys::{KeyTouch, SixKeys};
use super::speech;
use crate::cell::{self, Cell};
use crate::keys::{Key, KeyMap, Stroke};
use crate::ueb::{self, ReadOptions, register};

/// The text as it stands, cheap to pass around.
#[derive(Clone, Debug)]
pub struct Written {
    /// The lines, chunk by chunk; a chunk that did not change is the same `Rc` as before.
    pub chunks: Vec<Rc<Chunk>>,
    /// Where the next cell is written.
    pub caret: Place,
}

impl Default for Written {
    fn default() -> Self {
        Written {
            chunks: Editor::new(&[], ReadOptions::default()).chunks().to_vec(),
            caret: Place::default(),
        }
    }
}

impl PartialEq for Written {
    fn eq(&self, other: &Written) -> bool {
        self.caret == other.caret
            && self.chunks.len() == other.chunks.len()
            && self.chunks.iter().zip(&other.chunks).all(|(one, two)| Rc::ptr_eq(one, two))
    }
}

impl Written {
    /// The lines with their readings.
    pub fn lines(&self) -> impl Iterator<Item = &Rc<Line>> {
        self.chunks.iter().flat_map(|chunk| &chunk.lines)
    }

    /// The cells, line by line.
    pub fn cells(&self) -> Vec<Vec<Cell>> {
        editor::whole_lines(self.lines())
    }

    /// Whether not one cell is written.
    pub fn is_empty(&self) -> bool {
        self.lines().all(|line| line.cells.is_empty())
    }

    /// The line with the caret.
    pub fn line(&self) -> Option<&Rc<Line>> {
        self.chunks.get(self.caret.line / CHUNK)?.lines.get(self.caret.line % CHUNK)
    }
}

/// What the surface begins with; a higher `version` replaces what is written.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Given {
    /// Changes when the text is to be replaced.
    pub version: u32,
    /// The lines.
    pub lines: Rc<Vec<Vec<Cell>>>,
}

/// Cells of a line that a finding is about.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LineMark {
    /// The line, from 0.
    pub line: usize,
    /// The cells and the finding's number.
    pub mark: cells_line::CellMark,
}

/// The writing surface.
#[derive(Properties, PartialEq, Clone)]
pub struct BrailleInputProps {
    /// Its accessible name.
    #[prop_or(AttrValue::Static("Braille"))]
    pub label: AttrValue,
    /// What it begins with.
    #[prop_or_default]
    pub given: Given,
    /// Whether the reading stands under the cells.
    #[prop_or(true)]
    pub reads: bool,
    /// Contracted or not; by default as the learner has set it.
    #[prop_or_default]
    pub contracted: Option<bool>,
    /// Findings to mark.
    #[prop_or_default]
    pub marks: Rc<Vec<LineMark>>,
    /// Called for every cell written with keys, with the times of its keys.
    #[prop_or_default]
    pub on_stroke: Callback<Stroke>,
    /// Called after every change and every move of the caret.
    #[prop_or_default]
    pub on_change: Callback<Written>,
    /// Takes the focus when it appears.
    #[prop_or_default]
    pub autofocus: bool,
    /// A ground that differs: nothing may be written.
    #[prop_or_default]
    pub read_only: bool,
}

/// The writing surface with its six keys: `<BrailleInput on_change={..} />`.
#[component]
pub fn BrailleInput(props: &BrailleInputProps) -> Html {
    let settings = use_settings();
    html! { <Surface settings={(*settings).clone()} props={props.clone()} /> }
}

#[derive(Properties, PartialEq)]
struct SurfaceProps {
    settings: Settings,
    props: BrailleInputProps,
}

enum Msg {
    Down(KeyboardEvent),
    Up(KeyboardEvent),
    Blur,
    Focus,
    Paste(String),
    Cut,
    Click(Place, bool),
    Scroll,
    Touch(KeyTouch),
}

struct Surface {
    editor: Editor,
    hands: Hands,
    node: NodeRef,
    focused: bool,
    /// The first chunk in view, from the scroll position.
    seen: usize,
    /// The caret moved: bring it into view after painting.
    moved: bool,
    /// What was left out of the last paste.
    lost: usize,
    /// What is said of the cell that the caret moved to.
    said: String,
    /// The learner's keys.
    keys: Rc<KeyMap>,
}

fn read_options(props: &SurfaceProps) -> ReadOptions {
    ReadOptions {
        contracted: props.props.contracted.unwrap_or(props.settings.contracted),
        ..ReadOptions::default()
    }
}

/// The keys as the learner has set them.
fn key_map(settings: &Settings) -> KeyMap {
    if settings.swap { settings.keys.swapped() } else { settings.keys.clone() }
}

fn is_command(event: &KeyboardEvent) -> bool {
    event.ctrl_key() || event.alt_key() || event.meta_key()
}

/// A braille character that a braille keyboard typed.
fn typed_cell(event: &KeyboardEvent) -> Option<Cell> {
    let key = event.key();
    let mut characters = key.chars();
    let cell = Cell::from_unicode(characters.next()?)?;
    characters.next().is_none().then_some(cell)
}

const MOVES: [&str; 11] = [
    "Enter",
    "NumpadEnter",
    "Backspace",
    "Delete",
    "ArrowLeft",
    "ArrowRight",
    "ArrowUp",
    "ArrowDown",
    "Home",
    "End",
    "Escape",
];

/// Whether the surface uses this key itself; all others, Tab above all, keep their meaning.
fn takes(event: &KeyboardEvent, keys: &KeyMap) -> bool {
    let code = event.code();
    if is_command(event) {
        let command = (event.ctrl_key() || event.meta_key()) && !event.alt_key();
        return command
            && matches!(
                code.as_str(),
                "KeyZ" | "KeyY" | "KeyA" | "ArrowLeft" | "ArrowRight" | "Home" | "End"
            );
    }
    code != "Escape"
        && (keys.get(&code).is_some() || MOVES.contains(&code.as_str()) || typed_cell(event).is_some())
}

impl Surface {
    fn tell(&self, ctx: &Context<Self>) {
        ctx.props()
            .props
            .on_change
            .emit(Written { chunks: self.editor.chunks().to_vec(), caret: self.editor.caret() });
    }

    fn write(&mut self, ctx: &Context<Self>, strokes: impl IntoIterator<Item = Stroke>) -> bool {
        let mut wrote = false;
        for stroke in strokes {
            self.editor.write(stroke.cell);
            ctx.props().props.on_stroke.emit(stroke);
            wrote = true;
        }
        wrote
    }

    fn help(&self) -> String {
        let name = |key| self.keys.code_of(key).map_or_else(|| "no key".to_owned(), key_name);
        let dots: Vec<String> = (1..=6).map(|dot| name(Key::Dot(dot))).collect();
        format!(
            "Dots 1 to 6 are the keys {}. {} writes a blank cell, {} begins a new line, {} erases. Tab moves on.",
            dots.join(" "),
            name(Key::Blank),
            name(Key::NewLine),
            name(Key::Erase)
        )
    }

    /// What the cell under the caret is called, for who moves over it without seeing it.
    fn under_caret(&self) -> String {
        let Place { line, cell } = self.editor.caret();
        match self.editor.lines()[line].cells.get(cell) {
            None => "end of line".to_owned(),
            Some(cell) if cell.is_blank() => "blank".to_owned(),
            Some(cell) if cell.dots().count() == 1 => format!("dot {}", cell.dot_numbers()),
            Some(cell) => format!("dots {}", cell.dot_numbers().replace('-', " ")),
        }
    }

    /// A key that moves or edits; whether anything changed.
    fn command(&mut self, event: &KeyboardEvent) -> bool {
        let shift = event.shift_key();
        let control = event.ctrl_key() || event.meta_key();
        let caret = self.editor.caret();
        let width = |line: usize| self.editor.lines()[line].cells.len();
        let last = self.editor.lines().len() - 1;
        let to = match event.code().as_str() {
            "KeyZ" if control && shift => return self.editor.redo(),
            "KeyZ" if control => return self.editor.undo(),
            "KeyY" if control => return self.editor.redo(),
            "KeyA" if control => {
                self.editor.select_all();
                return true;
            }
            "Enter" | "NumpadEnter" => {
                self.editor.new_line();
                return true;
            }
            "Backspace" => {
                self.editor.erase(false);
                return true;
            }
            "Delete" => {
                self.editor.erase(true);
                return true;
            }
            "ArrowLeft" if control => self.editor.word_from(caret, false),
            "ArrowRight" if control => self.editor.word_from(caret, true),
            "ArrowLeft" => self.editor.before(caret),
            "ArrowRight" => self.editor.after(caret),
            "ArrowUp" if caret.line > 0 => Place { line: caret.line - 1, cell: caret.cell },
            "ArrowDown" if caret.line < last => Place { line: caret.line + 1, cell: caret.cell },
            "ArrowUp" => Place { line: 0, cell: 0 },
            "ArrowDown" => Place { line: last, cell: width(last) },
            "Home" if control => Place::default(),
            "End" if control => self.editor.end(),
            "Home" => Place { cell: 0, ..caret },
            "End" => Place { cell: width(caret.line), ..caret },
            _ => return false,
        };
        self.editor.go(to, shift);
        true
    }
}

/// Lines as the clipboard gets them.
fn copied<'a>(lines: impl Iterator<Item = &'a [Cell]>, settings: &Settings) -> String {
    let text = |cells: &[Cell]| {
        if settings.dot_numbers_only {
            cells_line::numbers(cells)
        } else if settings.copy_ascii {
            cell::to_ascii(cells)
        } else {
            cell::to_unicode(cells)
        }
    };
    lines.map(text).collect::<Vec<_>>().join("\n")
}

impl Component for Surface {
    type Message = Msg;
    type Properties = SurfaceProps;

    fn create(ctx: &Context<Self>) -> Self {
        let surface = Surface {
            editor: Editor::new(&ctx.props().props.given.lines, read_options(ctx.props())),
            hands: Hands::default(),
            node: NodeRef::default(),
            focused: false,
            seen: 0,
            moved: true,
            lost: 0,
            said: String::new(),
            keys: Rc::new(key_map(&ctx.props().settings)),
        };
        surface.tell(ctx);
        surface
    }

    fn changed(&mut self, ctx: &Context<Self>, old: &SurfaceProps) -> bool {
        let (new, options) = (ctx.props(), read_options(ctx.props()));
        if (new.settings.swap, &new.settings.keys) != (old.settings.swap, &old.settings.keys) {
            self.keys = Rc::new(key_map(&new.settings));
        }
        if new.props.given != old.props.given {
            self.editor = Editor::new(&new.props.given.lines, options);
            self.moved = true;
            self.lost = 0;
            self.tell(ctx);
        } else if options != read_options(old) {
            self.editor.read_as(options);
            self.tell(ctx);
        }
        true
    }

    fn update(&mut self, ctx: &Context<Self>, msg: Msg) -> bool {
        let before = self.hands.lit();
        let settings = &ctx.props().settings;
        self.hands.set(settings.entry, settings.first_lift);
        let keys = &self.keys;
        let was = self.editor.caret();
        let mut moves = false;
        let changed = match msg {
            Msg::Down(event) if is_command(&event) => {
                self.hands.forget();
                moves = true;
                takes(&event, keys) && self.command(&event)
            }
            Msg::Down(event) => match (keys.get(&event.code()), typed_cell(&event)) {
                (_, Some(cell)) => self.write(ctx, [Stroke { cell, keys: Vec::new() }]),
                (Some(key), _) => {
                    if event.repeat() && key != Key::Erase {
                        return false;
                    }
                    let (strokes, own) = self.hands.press(&event.code(), key, event.time_stamp());
                    let wrote = self.write(ctx, strokes);
                    match key {
                        Key::NewLine if own => self.editor.new_line(),
                        Key::Erase if own => self.editor.erase(false),
                        _ => {}
                    }
                    wrote || own
                }
                _ => {
                    moves = true;
                    self.command(&event)
                }
            },
            Msg::Up(event) => {
                let stroke = self.hands.lift(&event.code(), event.time_stamp());
                self.write(ctx, stroke)
            }
            Msg::Blur => {
                self.hands.forget();
                self.focused = false;
                return true;
            }
            Msg::Focus => {
                self.focused = true;
                return true;
            }
            Msg::Paste(text) => {
                let (lines, lost) = editor::lines_of(&text);
                self.lost = lost;
                self.editor.insert(&lines);
                true
            }
            Msg::Cut => {
                if self.editor.selection().is_some() {
                    self.editor.erase(false);
                }
                true
            }
            Msg::Click(place, select) => {
                self.editor.go(place, select);
                true
            }
            Msg::Scroll => {
                let Some(node) = self.node.cast::<HtmlElement>() else { return false };
                let seen = node.scroll_top().max(0) as usize / row_height(ctx.props()).max(1) / CHUNK;
                return std::mem::replace(&mut self.seen, seen) != seen;
            }
            Msg::Touch(touch) => match touch {
                KeyTouch::Down(id, dot, time) => {
                    let (strokes, _) = self.hands.press(&id, Key::Dot(dot), time);
                    self.write(ctx, strokes)
                }
                KeyTouch::Up(id, time) => {
                    let stroke = self.hands.lift(&id, time);
                    self.write(ctx, stroke)
                }
                KeyTouch::Cell(cell) => self.write(ctx, [Stroke { cell, keys: Vec::new() }]),
                KeyTouch::NewLine => {
                    self.editor.new_line();
                    true
                }
                KeyTouch::Erase => {
                    self.editor.erase(false);
                    true
                }
            },
        };
        if changed {
            self.moved = true;
            if moves && self.editor.caret() != was {
                let now = self.under_caret();
                if settings.speech {
                    speech::say(&now);
                }
                self.said = if settings.say_dots { now } else { String::new() };
            } else {
                self.said.clear();
            }
            self.tell(ctx);
        }
        changed || before != self.hands.lit()
    }

    fn view(&self, ctx: &Context<Self>) -> Html {
        let SurfaceProps { settings, props } = ctx.props();
        let link = ctx.link();
        let read_only = props.read_only;
        let keys = self.keys.clone();
        let onkeydown = link.batch_callback(move |event: KeyboardEvent| {
            if event.is_composing() || !takes(&event, &keys) {
                return None;
            }
            event.prevent_default();
            (!read_only || MOVES[4..].contains(&event.code().as_str())).then_some(Msg::Down(event))
        });
        let onkeyup = link.callback(Msg::Up);
        let onpaste = link.batch_callback(move |event: Event| {
            let event: ClipboardEvent = event.dyn_into().ok()?;
            event.prevent_default();
            (!read_only).then(|| {
                Msg::Paste(
                    event.clipboard_data().and_then(|data| data.get_data("text").ok()).unwrap_or_default(),
                )
            })
        });
        let copy = {
            let (settings, all) = (settings.clone(), self.editor.chunks().to_vec());
            let selected = self.editor.selection().map(|_| self.editor.selected());
            move |event: &Event| {
                let Some(event) = event.dyn_ref::<ClipboardEvent>() else { return };
                event.prevent_default();
                let whole = selected
                    .clone()
                    .unwrap_or_else(|| editor::whole_lines(all.iter().flat_map(|chunk| &chunk.lines)));
                let text = copied(whole.iter().map(Vec::as_slice), &settings);
                if let Some(data) = event.clipboard_data() {
                    let _ = data.set_data("text/plain", &text);
                }
            }
        };
        let oncopy = {
            let copy = copy.clone();
            Callback::from(move |event: Event| copy(&event))
        };
        let oncut = link.batch_callback(move |event: Event| {
            copy(&event);
            (!read_only).then_some(Msg::Cut)
        });
        let onpointerdown = link.batch_callback(|event: PointerEvent| {
            place_of(&event).map(|place| Msg::Click(place, event.shift_key()))
        });
        let caret = self.editor.caret();
        let (caret_chunk, seen) = (caret.line / CHUNK, self.seen);
        let row = row_height(ctx.props());
        let selection = self.editor.selection();
        let chunks = self.editor.chunks().iter().enumerate().map(|(number, chunk)| {
            let near = number.abs_diff(caret_chunk) <= 1 || number.abs_diff(seen) <= 1;
            let here = number == caret_chunk;
            let lines = number * CHUNK..(number + 1) * CHUNK;
            let part = selection.filter(|(from, to)| from.line < lines.end && to.line >= lines.start);
            html! {
                <ChunkView key={number} chunk={ByPtr(chunk.clone())} shown={near} {row}
                    caret={here.then_some(caret)} selection={part}
                    numbers={settings.dot_numbers_only} frames={settings.frames} reads={props.reads}
                    marks={props.marks.iter().filter(|mark| lines.contains(&mark.line)).cloned().collect::<Vec<_>>()} />
            }
        });
        html! {
            <div class={classes!("writing", self.focused.then_some("focused"))} style={format!("--dot:{}px", settings.dot)}>
                <div ref={self.node.clone()} class="surface" role="textbox" aria-label={props.label.clone()} aria-multiline="true"
                    aria-readonly={read_only.then_some("true")} tabindex="0" aria-describedby="surface-help"
                    autofocus={props.autofocus}
                    {onkeydown} {onkeyup} {onpaste} {oncopy} {oncut} {onpointerdown}
                    onblur={link.callback(|_| Msg::Blur)} onfocus={link.callback(|_| Msg::Focus)}
                    onscroll={link.callback(|_| Msg::Scroll)}>
                    { for chunks }
                </div>
                <p id="surface-help" class="sr">
                    { self.help() }
                </p>
                <p class="sr" aria-live="polite">{ &self.said }</p>
                if self.lost > 0 {
                    <p class="note" role="alert">
                        { format!("{} characters of what you pasted are neither Unicode braille nor braille ASCII and were left out.", self.lost) }
                    </p>
                }
                if settings.six_keys && !read_only {
                    <SixKeys lit={self.hands.lit()} on_touch={link.callback(Msg::Touch)} />
                }
            </div>
        }
    }

    fn rendered(&mut self, ctx: &Context<Self>, first: bool) {
        let Some(node) = self.node.cast::<HtmlElement>() else { return };
        if first && ctx.props().props.autofocus {
            let _ = node.focus();
        }
        if !std::mem::take(&mut self.moved) || node.scroll_height() <= node.client_height() {
            return;
        }
        if let Ok(Some(caret)) = node.query_selector(".line.here") {
            let (caret, frame) = (caret.get_bounding_client_rect(), node.get_bounding_client_rect());
            if caret.bottom() > frame.bottom() {
                node.set_scroll_top(node.scroll_top() + (caret.bottom() - frame.bottom()).ceil() as i32 + 4);
            } else if caret.top() < frame.top() {
                node.set_scroll_top(node.scroll_top() - (frame.top() - caret.top()).ceil() as i32 - 4);
            }
        }
    }
}

/// The height of a row in CSS pixels, for lines that are not drawn.
fn row_height(props: &SurfaceProps) -> usize {
    let reading = if props.props.reads { 32.0 } else { 8.0 };
    (props.settings.dot * cells_line::LINE_HEIGHT + reading) as usize
}

/// The place between cells that a pointer points at.
fn place_of(event: &PointerEvent) -> Option<Place> {
    let target: web_sys::Element = event.target()?.dyn_into().ok()?;
    let line: web_sys::Element = target.closest("[data-line]").ok()??;
    let line = line.get_attribute("data-line")?.parse().ok()?;
    if let Ok(Some(number)) = target.closest("[data-at]") {
        let at: usize = number.get_attribute("data-at")?.parse().ok()?;
        let frame = number.get_bounding_client_rect();
        if let Some(cells) = number.get_attribute("data-cells").and_then(|cells| cells.parse::<f64>().ok()) {
            let share = (f64::from(event.client_x()) - frame.left()) / frame.width().max(1.0);
            return Some(Place { line, cell: at + (share * cells).round().clamp(0.0, cells) as usize });
        }
        let late = f64::from(event.client_x()) > frame.left() + frame.width() / 2.0;
        return Some(Place { line, cell: at + usize::from(late) });
    }
    Some(Place { line, cell: usize::MAX })
}

/// Compares by identity: a chunk that did not change is the same `Rc`.
#[derive(Clone)]
pub struct ByPtr<T>(pub Rc<T>);

impl<T> PartialEq for ByPtr<T> {
    fn eq(&self, other: &Self) -> bool {
        Rc::ptr_eq(&self.0, &other.0)
    }
}

#[derive(Properties, PartialEq)]
struct ChunkProps {
    chunk: ByPtr<Chunk>,
    shown: bool,
    row: usize,
    caret: Option<Place>,
    selection: Option<(Place, Place)>,
    numbers: bool,
    frames: bool,
    reads: bool,
    marks: Vec<LineMark>,
}

#[component]
fn ChunkView(props: &ChunkProps) -> Html {
    let Chunk { first, lines } = &*props.chunk.0;
    if !props.shown {
        return html! { <div style={format!("height:{}px", lines.len() * props.row)}></div> };
    }
    html! {
        <div>
            { for lines.iter().enumerate().map(|(place, line)| {
                let number = first + place;
                let caret = props.caret.filter(|caret| caret.line == number).map(|caret| caret.cell);
                let selection = props.selection.filter(|(from, to)| (from.line..=to.line).contains(&number)).map(|(from, to)| {
                    let start = if from.line == number { from.cell } else { 0 };
                    let stop = if to.line == number { to.cell } else { line.cells.len() };
                    (start, stop)
                });
                html! {
                    <LineView key={number} line={ByPtr(line.clone())} {number} {caret} {selection}
                        numbers={props.numbers} frames={props.frames} reads={props.reads}
                        marks={props.marks.iter().filter(|mark| mark.line == number).map(|mark| mark.mark.clone()).collect::<Vec<_>>()} />
                }
            }) }
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct LineProps {
    line: ByPtr<Line>,
    number: usize,
    caret: Option<usize>,
    selection: Option<(usize, usize)>,
    numbers: bool,
    frames: bool,
    reads: bool,
    marks: Vec<cells_line::CellMark>,
}

#[component]
fn LineView(props: &LineProps) -> Html {
    let line = &props.line.0;
    let empty = Word { from: 0, to: 0, says: String::new(), waiting: None, unknown: false };
    let words = if line.words.is_empty() { std::slice::from_ref(&empty) } else { &line.words[..] };
    let last = words.len() - 1;
    html! {
        <div class={classes!("line", props.caret.map(|_| "here"))} data-line={props.number.to_string()}>
            <span class="sr">{ cells_line::as_text(&line.cells, props.numbers) }</span>
            <span class="words" aria-hidden="true">
                { for words.iter().enumerate().map(|(place, word)| {
                    let caret = props.caret.filter(|at| (word.from..word.to).contains(at) || (place == last && *at >= word.to));
                    let selection = props.selection
                        .map(|(from, to)| (from.max(word.from), to.min(word.to)))
                        .filter(|(from, to)| from < to)
                        .map(|(from, to)| (from - word.from, to - word.from));
                    let marks: Vec<_> = props.marks.iter()
                        .filter(|mark| mark.from >= word.from && mark.from < word.to.max(word.from + 1))
                        .map(|mark| cells_line::CellMark { from: mark.from - word.from, to: mark.to.min(word.to).max(mark.from) - word.from, number: mark.number })
                        .collect();
                    html! {
                        <WordView key={place} word={word.clone()} cells={Rc::<[Cell]>::from(&line.cells[word.from..word.to])}
                            caret={caret.map(|at| at - word.from)} {selection} {marks}
                            numbers={props.numbers} frames={props.frames} reads={props.reads} />
                    }
                }) }
            </span>
        </div>
    }
}

#[derive(Properties, PartialEq)]
struct WordProps {
    word: Word,
    cells: Rc<[Cell]>,
    caret: Option<usize>,
    selection: Option<(usize, usize)>,
    marks: Vec<cells_line::CellMark>,
    numbers: bool,
    frames: bool,
    reads: bool,
}

#[component]
fn WordView(props: &WordProps) -> Html {
    let WordProps { word, cells, caret, selection, marks, numbers, frames, reads } = props;
    let drawn = if *numbers {
        html! {
            <span class="numbers">
                { for cells.iter().enumerate().map(|(place, cell)| {
                    let chosen = selection.is_some_and(|(from, to)| (from..to).contains(&place));
                    let mark = marks.iter().find(|mark| (mark.from..mark.to.max(mark.from + 1)).contains(&place));
                    html! {
                        <>
                            if *caret == Some(place) { <span class="caret"></span> }
                            if let Some(mark) = mark.filter(|mark| mark.from == place) { <sup class="mark-number">{ mark.number }</sup> }
                            <span class={classes!("number", chosen.then_some("chosen"), mark.map(|_| "marked"))}
                                data-at={(word.from + place).to_string()}>{ cell.dot_numbers() }</span>
                        </>
                    }
                }) }
                if caret.is_some_and(|at| at >= cells.len()) { <span class="caret"></span> }
            </span>
        }
    } else {
        html! {
            <span class="drawn" data-at={word.from.to_string()} data-cells={cells.len().to_string()}>
                if let Some((from, to)) = selection {
                    <span class="chosen" style={format!("left:calc(var(--dot)*{:.2});width:calc(var(--dot)*{:.2})",
                        *from as f64 * CELL_WIDTH, (to - from) as f64 * CELL_WIDTH)}></span>
                }
                { cells_line::draw_dots(cells, None, cells_line::Look::Ink, *frames, marks) }
                if let Some(at) = caret {
                    <span class="caret" style={format!("left:calc(var(--dot)*{:.2})", *at as f64 * CELL_WIDTH)}></span>
                }
            </span>
        }
    };
    html! {
        <span class="word">
            { drawn }
            if *reads {
                <span class={classes!("says", word.unknown.then_some("unknown"))}>
                    if *numbers { { cells_line::without_glyphs(&word.says) } } else { { &word.says } }
                    if word.waiting.is_some() { { "…" } }
                    { "\u{a0}" }
                </span>
            }
        </span>
    }
}

/// What a waiting prefix could become, a few in print.
pub fn could_become(prefix: &[Cell]) -> Vec<&'static str> {
    let signs = ueb::back::could_become(prefix).into_iter().map(register::get);
    signs
        .filter(|sign| !sign.print.is_empty() && sign.class.is_contraction())
        .map(|sign| sign.print)
        .take(12)
        .collect()
}
