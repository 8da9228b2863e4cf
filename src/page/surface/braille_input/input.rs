//! What comes in: keys of any kind, what is pasted or typed into the text box, and what becomes of the text by it.

use crate::cell::Cell;
use crate::keys::{Key, Stroke};
use crate::page::learner::settings::SayWritten;
use crate::page::surface::text_box::Did;
use crate::page::surface::typing;
use crate::page::widgets::number_entry::Entered;
use crate::page::widgets::six_keys::KeyTouch;
use crate::writing::{self, Place};
use web_sys::KeyboardEvent;
use yew::prelude::*;

use super::{Msg, Surface};

/// How long a telephone trembles for a cell, in milliseconds.
const TREMBLES: u32 = 10;
/// What became of what came in.
pub(super) enum Taken {
    /// Nothing at all.
    Nothing,
    /// Something around the text is another, and nothing else.
    Around,
    /// The keys that are down, at most.
    Keys,
    /// The text or the caret may be others.
    Text {
        /// The caret was moved, and nothing written.
        moves: bool,
    },
}

/// Keys that wrote have changed the text.
fn by_keys(wrote: bool) -> Taken {
    if wrote { Taken::Text { moves: false } } else { Taken::Keys }
}

/// A command that did something has moved the caret, if it has not changed the text.
fn by_command(did: bool) -> Taken {
    if did { Taken::Text { moves: true } } else { Taken::Keys }
}

const CHANGED: Taken = Taken::Text { moves: false };

impl Surface {
    /// Keeps up with the page: whether it is drawn anew; `None` for what comes in.
    pub(super) fn upkeep(&mut self, ctx: &Context<Self>, msg: &Msg) -> Option<bool> {
        match msg {
            Msg::More => {
                self.more(ctx);
                return Some(true);
            }
            Msg::Watch => self.watch(ctx),
            Msg::Resized => {
                if !self.drawn.are_drawn() {
                    self.draw_lines(ctx);
                }
                self.measure();
                // Where the learner has scrolled away from the caret, it stays away.
                if !self.scrolled {
                    self.bring_into_view();
                }
            }
            Msg::Further => {
                self.beyond += 1;
                self.draw_lines(ctx);
                self.look_where();
                self.draw_further(ctx);
            }
            Msg::Settled => self.settle(),
            _ => return None,
        }
        Some(false)
    }

    /// Takes what came in.
    pub(super) fn take(&mut self, ctx: &Context<Self>, msg: Msg) -> Taken {
        match msg {
            Msg::More | Msg::Watch | Msg::Resized | Msg::Further | Msg::Settled => Taken::Nothing,
            Msg::Box(did) => self.take_of_box(ctx, did),
            Msg::Scroll => {
                self.scroll(ctx);
                Taken::Nothing
            }
            Msg::Touch(touch) => by_keys(self.touched_keys(ctx, touch)),
            Msg::Entered(entered) => {
                match entered {
                    Entered::Cells(cells) => cells.into_iter().for_each(|cell| self.write_alone(ctx, cell)),
                    Entered::NewLine => drop(self.new_line(ctx)),
                    Entered::Erase => self.erase(ctx, false),
                }
                CHANGED
            }
            Msg::BringBack => {
                let brought = self.bring_back(ctx);
                self.take_focus();
                by_keys(brought)
            }
            Msg::Keyboard(what) => {
                self.keyboard_offer(ctx, what);
                Taken::Around
            }
        }
    }

    /// What was done in the text box.
    fn take_of_box(&mut self, ctx: &Context<Self>, did: Did) -> Taken {
        match did {
            Did::Down(event) => return self.key_down(ctx, &event),
            Did::Up(event) => {
                let stroke = self.hands.lift(&event.code(), event.time_stamp());
                return by_keys(self.write(ctx, stroke));
            }
            Did::Blur => {
                self.hands.forget();
                self.focused = false;
                return Taken::Around;
            }
            Did::Focus => {
                self.focused = true;
                return Taken::Around;
            }
            Did::Paste(text) => {
                let (lines, lost) = writing::lines_of(&text);
                self.lost = lost;
                self.editor.insert(&lines);
            }
            Did::Cut => {
                if self.editor.selection().is_some() {
                    self.editor.erase(false);
                }
            }
            Did::Click(place, select) => self.editor.go(place, select),
            Did::Typed(cells) => {
                for cell in &cells {
                    self.write_alone(ctx, *cell);
                }
            }
            Did::Routed(unit) => {
                let was = self.editor.caret();
                let (_, starts) = self.line_text(&ctx.props().settings);
                let cell = starts.partition_point(|start| *start < unit).min(starts.len() - 1);
                if cell == was.cell || self.editor.selection().is_some() {
                    return Taken::Nothing;
                }
                self.editor.go(Place { cell, ..was }, false);
                return by_command(true);
            }
            Did::Touch(touch) => return by_keys(self.touched_keys(ctx, touch)),
        }
        CHANGED
    }

    /// A key of the keyboard goes down: a command, a braille character, one of the learner's keys, or a key that text boxes
    /// know.
    fn key_down(&mut self, ctx: &Context<Self>, event: &KeyboardEvent) -> Taken {
        if typing::is_command(event) {
            self.hands.forget();
            return by_command(self.command(event) || (typing::undoes(event) && self.bring_back(ctx)));
        }
        if let Some(cell) = typing::typed_cell(event) {
            self.write_alone(ctx, cell);
            return CHANGED;
        }
        if let Some(key) = self.keys.get(&event.code()) {
            if event.repeat() && key != Key::Erase {
                return Taken::Nothing;
            }
            return by_keys(self.press(ctx, &event.code(), key, event.time_stamp()));
        }
        match event.code().as_str() {
            "Enter" | "NumpadEnter" => by_keys(self.new_line(ctx)),
            code @ ("Backspace" | "Delete") => {
                self.erase(ctx, code == "Delete");
                CHANGED
            }
            _ => by_command(self.command(event)),
        }
    }

    fn command(&mut self, event: &KeyboardEvent) -> bool {
        let page = self.page();
        typing::command(&mut self.editor, event, page)
    }

    pub(super) fn write(&mut self, ctx: &Context<Self>, strokes: impl IntoIterator<Item = Stroke>) -> bool {
        let mut wrote = false;
        for stroke in strokes {
            self.editor.write(stroke.cell);
            self.tell_written(ctx, stroke.cell);
            self.watch_keyboard(ctx, &stroke);
            ctx.props().props.on_stroke.emit(stroke);
            wrote = true;
        }
        wrote
    }

    pub(super) fn write_alone(&mut self, ctx: &Context<Self>, cell: Cell) {
        self.editor.write(cell);
        self.tell_written(ctx, cell);
        ctx.props().props.on_stroke.emit(Stroke { cell, keys: Vec::new() });
    }

    /// A new line; on the empty surface only where a sheet may begin with one. Gives whether it was written.
    pub(super) fn new_line(&mut self, ctx: &Context<Self>) -> bool {
        let writes = ctx.props().props.sheet || !self.is_empty();
        if writes {
            self.watch_word(ctx);
            self.editor.new_line();
            if ctx.props().settings.say_written != SayWritten::Nothing {
                self.told.add("new line".to_owned());
            }
        }
        writes
    }

    /// Erases what is selected, or the cell before (or after) the caret, and tells what it was.
    pub(super) fn erase(&mut self, ctx: &Context<Self>, forward: bool) {
        self.told.add(self.words_of_erasing(forward, &ctx.props().settings));
        self.editor.erase(forward);
    }

    /// The screen's keys: a telephone trembles for each cell that is written, where that is wished.
    fn touched_keys(&mut self, ctx: &Context<Self>, touch: KeyTouch) -> bool {
        let wrote = self.touch(ctx, touch);
        if wrote && ctx.props().settings.trembles {
            gloo::utils::window().navigator().vibrate_with_duration(TREMBLES);
        }
        wrote
    }

    fn touch(&mut self, ctx: &Context<Self>, touch: KeyTouch) -> bool {
        // The first touch brings the line above the keys; every other one only where the line has changed.
        self.moved |= !std::mem::replace(&mut self.touched, true);
        match touch {
            KeyTouch::Down(id, dot, time) => {
                let (strokes, _) = self.hands.press(&id, Key::Dot(dot), time);
                self.write(ctx, strokes)
            }
            KeyTouch::Up(id, time) => {
                let stroke = self.hands.lift(&id, time);
                self.write(ctx, stroke)
            }
            KeyTouch::Cell(cell) => {
                self.write_alone(ctx, cell);
                true
            }
            KeyTouch::Key(key, time) => {
                let pressed = self.press(ctx, "screen", key, time);
                let stroke = self.hands.lift("screen", time);
                self.write(ctx, stroke) || pressed
            }
        }
    }

    /// A key goes down; whether anything changed.
    fn press(&mut self, ctx: &Context<Self>, code: &str, key: Key, time: f64) -> bool {
        let (strokes, own) = self.hands.press(code, key, time);
        let wrote = self.write(ctx, strokes);
        match key {
            Key::NewLine if own => self.new_line(ctx) || wrote,
            Key::Erase if own => {
                self.erase(ctx, false);
                true
            }
            _ => wrote || own,
        }
    }
}
