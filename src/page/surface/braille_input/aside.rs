//! What was written before something else was put in its place: set aside, and brought back by Ctrl+Z or by a button.

use gloo::events::EventListener;
use yew::prelude::*;

use super::{Msg, Surface, read_options};
use crate::page::browser::undo_key;
use crate::writing::Editor;

/// What was set aside, the last on top.
#[derive(Default)]
pub(super) struct Aside {
    texts: Vec<Editor>,
    /// Nothing was written since: the button stands there, and Ctrl+Z brings it back from wherever the focus is.
    offer: Option<EventListener>,
}

/// So many texts are set aside at most.
const MOST: usize = 12;

impl Aside {
    /// Whether the button stands there.
    pub fn is_offered(&self) -> bool {
        self.offer.is_some()
    }

    /// Something was written or moved since: Ctrl+Z on the surface still brings it back, after all that was written.
    pub fn withdraw(&mut self) {
        self.offer = None;
    }
}

impl Surface {
    /// Sets aside what was written, since something else of the same work takes its place; of other work nothing is
    /// brought back here.
    pub(super) fn set_aside(&mut self, ctx: &Context<Self>, old: Editor) {
        if !ctx.props().props.given.over {
            self.aside = Aside::default();
            return;
        }
        if old.lines().iter().all(|line| line.cells.is_empty()) {
            return;
        }
        if self.aside.texts.len() == MOST {
            self.aside.texts.remove(0);
        }
        self.aside.texts.push(old);
        let link = ctx.link().clone();
        self.aside.offer = Some(undo_key::listen(move || link.send_message(Msg::BringBack)));
    }

    /// Brings back what was set aside last; `false` when nothing was.
    pub(super) fn bring_back(&mut self, ctx: &Context<Self>) -> bool {
        let Some(editor) = self.aside.texts.pop() else { return false };
        self.aside.withdraw();
        self.hands.forget();
        self.editor = editor;
        self.editor.read_as(read_options(ctx.props()));
        ctx.props().props.on_brought_back.emit(());
        true
    }

    /// The word of it, which stands there before anything is put into it.
    pub(super) fn offer(&self, ctx: &Context<Self>) -> Html {
        let back = ctx.link().callback(|_: MouseEvent| Msg::BringBack);
        html! {
            <div class="brought" role="status" aria-label="Set aside">
                if self.aside.is_offered() {
                    <span>{ "What was written before is set aside. " }</span>
                    <button type="button" class="quiet" onclick={back}>{ "Bring it back (Ctrl+Z)" }</button>
                }
            </div>
        }
    }
}
