//! An example, cell by cell, as a teacher would go through it at a table.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::page::widgets::cells_line::{CellMark, CellsLine};
use crate::page::widgets::fields::use_focus;
use crate::practice::course::Action;
use crate::practice::lesson;

/// Which example, and how far.
#[derive(Properties, PartialEq)]
pub struct WalkProps {
    /// The print.
    pub print: &'static str,
    /// The unit, by its place from 0.
    pub unit: usize,
    /// How many of its cells were looked at before.
    pub step: usize,
    /// What is done.
    pub act: Callback<Action>,
}

/// The line with the cell that is looked at marked, that cell large, and what there is to see.
#[component]
pub fn WalkView(props: &WalkProps) -> Html {
    let walk =
        use_memo((props.print, props.unit), |(print, unit)| lesson::walk(print, &lesson::options(*unit)));
    let node = use_focus(0);
    let Some(look) = walk.looks.get(props.step) else { return html! {} };
    let last = walk.looks.len() - 1;
    let step = |by: isize| {
        let act = props.act.clone();
        Callback::from(move |_: MouseEvent| act.emit(Action::Step(by)))
    };
    let onkeydown = {
        let act = props.act.clone();
        Callback::from(move |event: KeyboardEvent| {
            let by = match event.key().as_str() {
                "ArrowRight" => 1,
                "ArrowLeft" => -1,
                _ => return,
            };
            event.prevent_default();
            act.emit(Action::Step(by));
        })
    };
    let mark = CellMark { from: look.cell, to: look.cell + 1, number: props.step + 1 };
    html! {
        <div class="walk" role="group" aria-label="Cell by cell" tabindex="-1" ref={node} {onkeydown}>
            <p class="scroll"><CellsLine cells={Rc::<[Cell]>::from(walk.cells.as_slice())} dot={Some(8.0)} marks={vec![mark]} /></p>
            <div class="walk-cell">
                <CellsLine cells={Rc::<[Cell]>::from(&walk.cells[look.cell..=look.cell])} dot={Some(26.0)} frames={Some(true)} />
                <div aria-live="polite">
                    <p class="note">{ format!("Cell {} of {}", props.step + 1, last + 1) }</p>
                    <dl>{ for look.says.iter().map(|(heading, says)| html! { <div><dt>{ *heading }</dt><dd>{ says }</dd></div> }) }</dl>
                </div>
            </div>
            <div class="controls">
                <button type="button" onclick={step(-1)} disabled={props.step == 0}>{ "The cell before" }</button>
                <button type="button" class="main" onclick={step(1)} disabled={props.step == last}>{ "The next cell" }</button>
            </div>
        </div>
    }
}
