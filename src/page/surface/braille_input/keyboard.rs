//! What is seen of the keyboard while it is written on: holes in chords, spoken of once, with the check and another way of
//! entry beside it.

use std::cell::RefCell;
use yew::prelude::*;

use super::{Msg, Surface};
use crate::cell::Cell;
use crate::keys::{Entry, Hole, Holes, Meant, Stroke};
use crate::page::browser::halves::take_piece;
use crate::page::browser::store;
use crate::page::learner::settings::use_settings;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::keyboard_check::Outcome;
use crate::page::widgets::later::use_later;
use crate::page::widgets::six_keys::FINGER;

thread_local! {
    /// What this page has seen of the keyboard, on whatever surface.
    static HOLES: RefCell<Holes> = RefCell::default();
}

/// Where it is kept of which keys the learner was told already.
const TOLD: &str = "told-of-keys";

/// What is seen of the keyboard on this surface.
#[derive(Default)]
pub(super) struct Keyboard {
    /// What it seems to swallow, until it is put away.
    pub hole: Option<Hole>,
    /// The check stands beside the word of it.
    checks: bool,
    /// What is to be written here, once it was asked for.
    meant: Option<Meant>,
}

/// What the learner chose of what is offered.
pub(super) enum Chosen {
    Check,
    OneKey,
    PutAway,
}

impl Keyboard {
    /// As it was left by the first download, where the check was asked for there.
    pub fn begin() -> Keyboard {
        Keyboard { checks: take_piece(Piece::KeyboardCheck), ..Keyboard::default() }
    }

    /// The keys are others: nothing is known of them.
    pub fn anew(&mut self) {
        HOLES.take();
        *self = Keyboard::default();
    }

    /// Something else is to be written.
    pub fn means_other(&mut self) {
        self.meant = None;
    }
}

impl Surface {
    /// Looks at a chord that was written just now.
    pub(super) fn watch_keyboard(&mut self, ctx: &Context<Self>, stroke: &Stroke) {
        let by_fingers = stroke.keys.iter().any(|key| key.code.starts_with(FINGER));
        if ctx.props().settings.entry != Entry::Chords || by_fingers || stroke.keys.is_empty() {
            return;
        }
        let drill = ctx.props().props.drill;
        let hole = HOLES.with_borrow_mut(|holes| holes.chord(stroke.cell, !drill));
        self.suspect(ctx, hole);
        if drill || stroke.cell.is_blank() {
            self.watch_word(ctx);
        }
    }

    /// Looks at the word before the caret, which is whole now; of a drill, at all that was written.
    pub(super) fn watch_word(&mut self, ctx: &Context<Self>) {
        let Some(meant) = &ctx.props().props.meant else { return };
        if ctx.props().settings.entry != Entry::Chords {
            return;
        }
        let caret = self.editor.caret();
        let before = &self.editor.lines()[caret.line].cells[..caret.cell];
        let before = before.strip_suffix(&[Cell::BLANK]).unwrap_or(before);
        let from = before.iter().rposition(|cell| cell.is_blank()).map_or(0, |at| at + 1);
        let asked = self.keyboard.meant.get_or_insert_with(|| Meant::of(&meant.emit(())));
        let hole = asked
            .word(&before[from..])
            .and_then(|asked| HOLES.with_borrow_mut(|holes| holes.meant(asked, &before[from..])));
        self.suspect(ctx, hole);
    }

    /// What the keyboard seems to swallow is told once for the keys that the learner has, and not where a check has shown that
    /// all of them arrive.
    fn suspect(&mut self, ctx: &Context<Self>, hole: Option<Hole>) {
        let Some(hole) = hole else { return };
        let keys = ctx.props().settings.key_codes();
        if Outcome::kept(&keys).is_some_and(|outcome| outcome.all)
            || store::load::<String>(TOLD, 1).is_some_and(|told| told == keys)
        {
            return;
        }
        // A browser that keeps nothing tells it once a visit.
        let _ = store::save(TOLD, 1, &keys);
        self.keyboard.hole = Some(hole);
    }

    /// Does what was chosen.
    pub(super) fn keyboard_offer(&mut self, _: &Context<Self>, chosen: Chosen) {
        match chosen {
            Chosen::Check => self.keyboard.checks = true,
            // The way of entry was changed with it.
            Chosen::OneKey | Chosen::PutAway => {
                self.keyboard.hole = None;
                self.keyboard.checks = false;
                self.take_focus();
            }
        }
    }

    /// The word of it. The region stands there before anything is put into it.
    pub(super) fn keyboard_words(&self, ctx: &Context<Self>) -> Html {
        let on_chosen = ctx.link().callback(Msg::Keyboard);
        html! {
            <>
                <div role="alert" class={classes!(self.keyboard.hole.map(|_| "alert"))}>
                    if let Some(hole) = self.keyboard.hole { <p>{ hole_words(hole) }</p> }
                </div>
                if self.keyboard.hole.is_some() || self.keyboard.checks {
                    <Offers checks={self.keyboard.checks} {on_chosen} />
                }
            </>
        }
    }
}

#[derive(Properties, PartialEq)]
struct OffersProps {
    checks: bool,
    on_chosen: Callback<Chosen>,
}

/// What can be done about it.
#[component]
fn Offers(props: &OffersProps) -> Html {
    let (settings, later) = (use_settings(), use_later());
    let choose = |chosen: fn() -> Chosen| props.on_chosen.reform(move |_: MouseEvent| chosen());
    let one_key = {
        let (settings, on_chosen) = (settings.clone(), props.on_chosen.clone());
        Callback::from(move |_: MouseEvent| {
            settings.change(|settings| settings.entry = Entry::OneKey);
            on_chosen.emit(Chosen::OneKey);
        })
    };
    html! {
        <>
            <div class="controls">
                <button type="button" aria-expanded={if props.checks { "true" } else { "false" }} onclick={choose(|| Chosen::Check)}>{ "Check the keyboard" }</button>
                <button type="button" onclick={one_key}>{ "Write one key at a time" }</button>
                <button type="button" class="quiet" onclick={choose(|| Chosen::PutAway)}>{ "Put this away" }</button>
            </div>
            if props.checks {
                { later.show(Piece::KeyboardCheck, ()) }
            }
        </>
    }
}

/// What is said once when a keyboard seems to swallow keys.
fn hole_words(hole: Hole) -> String {
    let what = match hole {
        Hole::Most(1) => "No two dots have arrived together so far".to_owned(),
        Hole::Most(most) => format!("Never more than {most} dots have arrived together so far"),
        Hole::Pair(one, two) => format!("Dots {one} and {two} have never arrived together so far"),
    };
    format!(
        "{what}: this keyboard may swallow chords. Check what arrives and find keys that do, or write one key at a time."
    )
}
