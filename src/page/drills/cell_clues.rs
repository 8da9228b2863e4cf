//! Clues for one cell of a line, a step at a time, and the way to the cells beside it.

use yew::prelude::*;

/// The clues for a cell.
#[derive(Properties, PartialEq)]
pub struct CellCluesProps {
    /// The cell, from 0.
    pub at: usize,
    /// How many cells the line has.
    pub count: usize,
    /// The clues that are given.
    pub clues: Vec<String>,
    /// Goes on by so many cells.
    pub step: Callback<isize>,
}

/// The clues.
#[component]
pub fn CellClues(props: &CellCluesProps) -> Html {
    let step = |by: isize| props.step.reform(move |_: MouseEvent| by);
    html! {
        <>
            <div class="controls">
                <span>{ format!("Clues for cell {} of {}", props.at + 1, props.count) }</span>
                <button type="button" class="quiet" onclick={step(-1)}>{ "The cell before" }</button>
                <button type="button" class="quiet" onclick={step(1)}>{ "The next cell" }</button>
            </div>
            <ol class="clues" aria-live="polite">{ for props.clues.iter().map(|clue| html! { <li>{ clue }</li> }) }</ol>
        </>
    }
}
