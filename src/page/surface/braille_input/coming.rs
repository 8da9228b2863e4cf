//! What the surface begins with: a text that is taken in by parts where it is long, so that the page never stands still.

use std::rc::Rc;

use gloo::timers::callback::Timeout;
use yew::prelude::*;

use super::{Msg, Surface, read_options};
use crate::cell::Cell;
use crate::page::browser::halves;
use crate::writing::{Editor, Place};

/// A text longer than this, in lines, is taken in by parts, so that the page never stands still.
const LONG: usize = 300;
/// Lines of the first part, which fill the view, and of every other.
const FIRST: usize = 25;
const PART: usize = 50;
/// What is still to come of a long text.
pub(super) struct Coming {
    lines: Rc<Vec<Vec<Cell>>>,
    /// How many of the lines are here.
    here: usize,
    /// The turn in which the next come.
    _turn: Timeout,
}

/// The turn in which the next part of a long text is taken in.
fn next_part(ctx: &Context<Surface>) -> Timeout {
    let link = ctx.link().clone();
    Timeout::new(0, move || link.send_message(Msg::More))
}

impl Surface {
    /// Begins with a text; a long one comes by parts, and nothing is told or written until it is whole.
    pub(super) fn begin(&mut self, ctx: &Context<Self>) {
        let lines = ctx.props().props.given.lines.clone();
        let options = read_options(ctx.props());
        self.coming = None;
        if lines.len() <= LONG {
            let old = std::mem::replace(&mut self.editor, Editor::new(&lines, options));
            self.set_aside(ctx, old);
            self.begun(ctx);
        } else {
            let old = std::mem::replace(&mut self.editor, Editor::new(&lines[..FIRST], options));
            self.set_aside(ctx, old);
            self.editor.go(Place::default(), false);
            self.coming = Some(Coming { lines, here: FIRST, _turn: next_part(ctx) });
        }
    }

    pub(super) fn more(&mut self, ctx: &Context<Self>) {
        let Some(Coming { lines, here, .. }) = self.coming.take() else { return };
        let upto = (here + PART).min(lines.len());
        self.editor.append(&lines[here..upto]);
        if upto < lines.len() {
            self.coming = Some(Coming { lines, here: upto, _turn: next_part(ctx) });
        } else {
            self.begun(ctx);
        }
    }

    /// The text is whole. Where the first download was written in, what could be undone there can be undone here.
    pub(super) fn begun(&mut self, ctx: &Context<Self>) {
        if let Some(history) = halves::take_history() {
            self.editor.go_on(&history);
        }
        self.tell(ctx);
    }
}
