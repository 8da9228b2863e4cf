//! How the item before came out, while the next one is asked already.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::page::widgets::cells_line::CellsLine;
use crate::practice::drill;

/// What became of the item before.
#[derive(Clone, PartialEq, Default)]
pub struct Before {
    /// How it came out, in words.
    pub says: String,
    /// The cells that were asked for.
    pub cells: Vec<Cell>,
    /// Whether it was right.
    pub right: bool,
}

/// The item before.
#[derive(Properties, PartialEq)]
pub struct ItemBeforeProps {
    /// What became of it.
    pub before: Before,
}

/// The word of it. The live region stands there before anything is put into it.
#[component]
pub fn ItemBefore(props: &ItemBeforeProps) -> Html {
    let Before { says, cells, right } = &props.before;
    html! {
        <p role="status" class={classes!("before", (!says.is_empty()).then_some(if *right { "right" } else { "wrong" }))}>
            if !says.is_empty() { <span class="note">{ "The one before: " }</span> }
            if !cells.is_empty() {
                // Heard by its dots: cells alone say little to the ear.
                <span aria-hidden="true"><CellsLine cells={Rc::from(cells.as_slice())} dot={Some(7.0)} /></span>
                <span class="sr">{ drill::dots(cells) }{ ". " }</span>
            }
            <span>{ says.clone() }</span>
        </p>
    }
}
