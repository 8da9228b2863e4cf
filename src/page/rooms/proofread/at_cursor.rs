//! What stands beside a sheet that is proofread: the cell at the cursor, the kind of mistake, the mark, and the score.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::marking::Kind;
use crate::marking::plant::KINDS;
use crate::page::states::proof_sheet::{Action, ProofSheet};
use crate::page::widgets::sheet::{Steps, said};
use crate::page::widgets::sheet_text::focus_sheet;

/// The sheet, and what can be done at the cursor.
#[derive(Properties, PartialEq)]
pub struct AtCursorProps {
    /// Its lines.
    pub lines: Rc<Vec<Rc<[Cell]>>>,
    /// How it stands.
    pub sheet: ProofSheet,
    /// How it came out, in words; empty while it is not done.
    pub score: AttrValue,
    /// Proofreads it again, where that may be done.
    pub again: Option<Callback<()>>,
    /// What is done with it.
    pub act: Callback<Action>,
}

/// What a call of this kind says: a fault of layout is one of spacing.
fn call_words(kind: Kind) -> &'static str {
    if kind == Kind::Spacing { "spacing or layout" } else { kind.words() }
}

/// The cell at the cursor.
#[component]
pub fn AtCursor(props: &AtCursorProps) -> Html {
    let AtCursorProps { lines, sheet, score, again, act } = props;
    let done = sheet.score.is_some();
    let press = act.reform(|_: MouseEvent| {
        // To the next cell: the button itself would take the mark off again.
        focus_sheet();
        Action::Call
    });
    let said_kind = act.reform(|event: Event| {
        let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
        Action::Kind(Kind::named(&select.value()))
    });
    let marked_here = sheet.call_here();
    let kind = marked_here.map_or(sheet.kind, |call| call.kind);
    html! {
        <aside aria-label="At the cursor" class={classes!("beside", done.then_some("done"))}>
            <p class="place">{ said(lines, sheet.at) }</p>
            <Steps lines={lines.clone()} at={sheet.at} on_move={act.reform(Action::Move)} />
            if !done {
                <label>{ "Kind of mistake" }<br />
                    <select onchange={said_kind}>
                        <option value="" selected={kind.is_none()}>{ "not said" }</option>
                        { for KINDS.iter().map(|one| html! {
                            <option value={one.name()} selected={kind == Some(*one)}>{ call_words(*one) }</option>
                        }) }
                    </select>
                </label>
                <div class="controls">
                    <button type="button" class="main" onclick={press}>{ if marked_here.is_some() { "Take the mark off" } else { "Mark this cell" } }</button>
                </div>
                <p role="status" aria-label="Marked">{ match sheet.calls.len() { 0 => "Nothing marked yet.".to_owned(), 1 => "1 cell marked.".to_owned(), n => format!("{n} cells marked.") } }</p>
            }
            <p role="status" aria-label="Score">{ score }</p>
            if let Some(again) = again {
                <button type="button" class="quiet" data-undoes="" onclick={again.reform(|_: MouseEvent| ())}>{ "Proofread it again" }</button>
            }
        </aside>
    }
}
