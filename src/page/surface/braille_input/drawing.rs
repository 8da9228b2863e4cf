//! How the writing surface is put on the page: its lines, the text box over them, the lit keys, the caret in view.

use std::rc::Rc;

use gloo::timers::callback::Timeout;
use web_sys::{Element, HtmlElement};
use yew::prelude::*;

use super::{ALL, Msg, Surface, SurfaceProps};
use crate::cell::Cell;
use crate::page::browser::resized::Resized;
use crate::page::learner::settings::Settings;
use crate::page::surface::drawn_lines::Picture;
use crate::page::surface::looks::Looks;
use crate::writing::{self, Chunk, Copied};

/// What a copy holds.
#[derive(Default)]
pub(super) struct ToCopy {
    all: Vec<Rc<Chunk>>,
    chosen: Option<Vec<Vec<Cell>>>,
    form: Copied,
}

impl ToCopy {
    pub(super) fn text(&self) -> String {
        let whole = || writing::whole_lines(self.all.iter().flat_map(|chunk| &chunk.lines));
        writing::text_of(&self.chosen.clone().unwrap_or_else(whole), self.form)
    }
}

impl Surface {
    /// The caret's line as the text box holds it, and where each of its cells begins in it, in UTF-16 units.
    pub(super) fn line_text(&self, settings: &Settings) -> (String, Vec<u32>) {
        let cells = &self.editor.lines()[self.editor.caret().line].cells;
        let mut starts = Vec::with_capacity(cells.len() + 1);
        if !settings.dot_numbers_only {
            starts.extend(0..=cells.len() as u32);
            return (crate::cell::to_unicode(cells), starts);
        }
        let mut text = String::new();
        for cell in cells {
            starts.push(text.len() as u32);
            text.push_str(&cell.dot_numbers());
            text.push(' ');
        }
        starts.push(text.len() as u32);
        (text, starts)
    }

    pub(super) fn surface_style(&self) -> String {
        format!("--written:{}px", self.height)
    }

    /// The selection within the caret's line, in UTF-16 units of its text.
    fn selected_units(&self, starts: &[u32]) -> (u32, u32) {
        let caret = self.editor.caret();
        let last = starts.len() - 1;
        let unit = |cell: usize| starts[cell.min(last)];
        match self.editor.selection() {
            Some((from, to)) => (
                if from.line == caret.line { unit(from.cell) } else { 0 },
                if to.line == caret.line { unit(to.cell) } else { unit(last) },
            ),
            None => (unit(caret.cell), unit(caret.cell)),
        }
    }

    /// Puts what is written on the page: the lines, the text box, and what a copy would hold.
    pub(super) fn draw(&mut self, ctx: &Context<Self>) {
        self.draw_lines(ctx);
        let SurfaceProps { settings, .. } = ctx.props();
        let (text, starts) = self.line_text(settings);
        let selected = self.selected_units(&starts);
        self.shown.hold(text, selected);
        *self.to_copy.borrow_mut() = ToCopy {
            form: match (settings.dot_numbers_only, settings.copy_ascii) {
                (true, _) => Copied::DotNumbers,
                (false, true) => Copied::Ascii,
                (false, false) => Copied::Unicode,
            },
            all: self.editor.chunks().to_vec(),
            chosen: self.editor.selection().map(|_| self.editor.selected()),
        };
    }

    pub(super) fn light(&mut self) {
        let lit = self.hands.lit();
        self.lights.show(std::mem::replace(&mut self.lit, lit), lit);
    }

    /// Brings the text box, and the text beside the caret's line, to what is written. After a cell that waits for a quiet
    /// moment: what lets assistive technology read along costs a browser as much as the drawing, and a fast writer's next key
    /// is not to wait for it. After all else it is done at once.
    pub(super) fn settle(&mut self) {
        self.unsettled.done();
        self.light();
        self.shown.show();
        self.drawn.settle();
        self.told.tell();
    }

    /// Draws what is still to come beyond the view in a turn of its own.
    pub(super) fn draw_further(&mut self, ctx: &Context<Self>) {
        let link = ctx.link().clone();
        self.further = (self.beyond < ALL).then(|| Timeout::new(0, move || link.send_message(Msg::Further)));
    }

    pub(super) fn draw_lines(&mut self, ctx: &Context<Self>) {
        let props = &ctx.props().props;
        self.drawn.show(&Picture {
            chunks: self.editor.chunks(),
            caret: self.editor.caret(),
            selection: self.editor.selection(),
            seen: self.seen,
            beyond: self.beyond,
            marks: &props.marks,
            notes: &props.notes,
            copy: props.copy.is_some(),
            looks: looks(ctx.props()),
        });
    }

    /// The surface was scrolled, by the learner or by itself.
    pub(super) fn scroll(&mut self, ctx: &Context<Self>) {
        let Some(surface) = self.surface.cast::<HtmlElement>() else { return };
        let at = surface.scroll_top();
        // What has grown shorter is moved up to its end by the browser itself.
        let by_itself = at >= surface.scroll_height() - surface.client_height()
            && self.brought_to.get().is_some_and(|brought_to| at < brought_to);
        // The learner's next key looks whether the caret's line is in view.
        self.scrolled |= !by_itself && !self.drawn.was_held_at(at) && self.brought_to.get() != Some(at);
        let was = self.seen;
        self.look_where();
        if self.seen != was {
            let far = self.seen.0.abs_diff(was.0) > 1;
            self.beyond = if far { 0 } else { self.beyond };
            self.draw_lines(ctx);
            self.draw_further(ctx);
        }
    }

    /// How many lines are in view, so that a page up or down goes past no line.
    pub(super) fn page(&self) -> usize {
        self.drawn.page(self.surface.cast::<Element>().map_or(0, |surface| surface.client_height()))
    }

    /// Sees which lines are in view.
    pub(super) fn look_where(&mut self) {
        if let Some(surface) = self.surface.cast::<Element>() {
            self.seen = self.drawn.seen(&surface);
        }
    }

    /// Watches the size of what stands in the surface.
    pub(super) fn watch(&mut self, ctx: &Context<Self>) {
        if let Some(written) = self.written.cast() {
            let link = ctx.link().clone();
            self.resized = Some(Resized::of(&written, move || link.send_message(Msg::Resized)));
        }
    }

    /// The surface is told the height of what stands in it, so that a browser need not lay out the page around it with every
    /// key. What it makes of that is the style sheet's, which gives the text box over it the same.
    pub(super) fn measure(&mut self) {
        let (Some(surface), Some(written)) = (self.surface.cast::<Element>(), self.written.cast::<Element>())
        else {
            return;
        };
        // Rounded up: a surface lower by part of a pixel gets a scroll bar, which breaks the lines anew, for ever.
        let height = written.get_bounding_client_rect().height().ceil() as i32;
        if height != std::mem::replace(&mut self.height, height) {
            let _ = surface.set_attribute("style", &self.surface_style());
        }
    }

    pub(super) fn show_caret(&mut self) {
        if std::mem::take(&mut self.moved) {
            self.bring_into_view();
        }
    }

    /// Scrolls so far that the caret's line is in view, with the print that stands right above it: in the surface, and
    /// where keys lie over the foot of the window, in the window.
    pub(super) fn bring_into_view(&self) {
        let Some(surface) = self.surface.cast::<HtmlElement>() else { return };
        let Ok(Some(line)) = surface.query_selector(".line.here") else { return };
        if surface.scroll_height() > surface.client_height() {
            let frame = surface.get_bounding_client_rect();
            let (top, bottom) = of_caret(&line, frame.height() - ROOM);
            if bottom > frame.bottom() {
                surface.set_scroll_top(surface.scroll_top() + (bottom - frame.bottom()).ceil() as i32 + 4);
            } else if self.editor.caret().line == 0 {
                // What stands before the first line is seen with it.
                surface.set_scroll_top(0);
            } else if top < frame.top() {
                surface.set_scroll_top(surface.scroll_top() - (frame.top() - top).ceil() as i32 - 4);
            }
            self.brought_to.set(Some(surface.scroll_top()));
        }
        if self.focused || self.touched {
            above_the_keys(&line);
        }
    }
}

/// Top and bottom of the caret's line; where it has wrapped and is higher than there is room, those of the row with the caret.
fn of_caret(line: &Element, room: f64) -> (f64, f64) {
    let whole = line.get_bounding_client_rect();
    let caret = line.query_selector(".caret").ok().flatten();
    match caret.map(|caret| caret.get_bounding_client_rect()) {
        // What the row reads as stands under it.
        Some(caret) if whole.height() > room => {
            (caret.top() - ROOM, (caret.bottom() + READING).min(whole.bottom()))
        }
        _ => (whole.top(), whole.bottom()),
    }
}

/// Scrolls the window so far that a line stands above the keys at its foot and below what is pinned to its top; not
/// at all where the keys stand on the page.
fn above_the_keys(line: &Element) {
    let document = gloo::utils::document();
    let find = |what: &str| document.query_selector(what).ok().flatten();
    let Some(keys) = find(".six") else { return };
    let fixed = |element: &Element, position: &str| {
        let style = gloo::utils::window().get_computed_style(element).ok().flatten();
        style.and_then(|style| style.get_property_value("position").ok()).as_deref() == Some(position)
    };
    if !fixed(&keys, "fixed") {
        return;
    }
    let foot = keys.get_bounding_client_rect().top() - ROOM;
    let copy = find("[data-copy]").filter(|copy| fixed(copy, "sticky"));
    let head = copy.map_or(0.0, |copy| copy.get_bounding_client_rect().height()) + ROOM;
    let (top, bottom) = of_caret(line, foot - head);
    let by = if bottom > foot {
        bottom - foot
    } else if top < head {
        (top - head).max(bottom - foot)
    } else {
        return;
    };
    gloo::utils::window().scroll_by_with_x_and_y(0.0, by);
}

/// What stays free between the line and the keys, in pixels.
const ROOM: f64 = 8.0;
/// How far what a row reads as reaches below its caret, in pixels.
const READING: f64 = 40.0;

/// How the lines are drawn, as the learner has set it.
pub(super) fn looks(props: &SurfaceProps) -> Looks {
    Looks {
        numbers: props.settings.dot_numbers_only,
        frames: props.settings.frames,
        reads: props.props.reads,
        slate: props.props.slate,
        dot: props.settings.dot,
    }
}
