//! The cells that are asked, as large as there is room for; where they are to be told at sight, for a moment only.
//!
//! The moment is for the eye alone: assistive technology has the cells as long as it likes.

use std::rc::Rc;

use gloo::timers::callback::Timeout;
use yew::prelude::*;

use crate::cell::Cell;
use crate::page::browser::held::use_held;
use crate::page::widgets::cells_line::{CellMark, CellsLine};

/// What is shown.
#[derive(Properties, PartialEq)]
pub struct LargeProps {
    /// The cells.
    pub cells: Rc<[Cell]>,
    /// For how long, in milliseconds; as long as one likes by default.
    #[prop_or_default]
    pub moment: Option<u64>,
    /// Cells that were read as something else, by their place.
    #[prop_or_default]
    pub at: Vec<usize>,
    /// A line of words, each with its cells; else one sign.
    #[prop_or_default]
    pub line: bool,
}

/// The cells; those of a sign with faint places for its absent dots, since one dot alone has no place of its own. Give it a `key` that changes with what is asked.
#[component]
pub fn Large(props: &LargeProps) -> Html {
    let gone = use_held(bool::default);
    let again = use_held(u32::default);
    {
        let (gone, moment) = (gone.clone(), props.moment);
        use_effect_with((*again, moment), move |_| {
            gone.set(false);
            let timer = moment.map(|ms| Timeout::new(ms as u32, move || gone.set(true)));
            move || drop(timer)
        });
    }
    let see_again = {
        let again = again.clone();
        Callback::from(move |_: MouseEvent| again.set(*again + 1))
    };
    let hidden = *gone && props.moment.is_some();
    html! {
        <div class={classes!("large-cells", props.line.then_some("of-line"), hidden.then_some("gone"))}>
            if props.line { { words(&props.cells, &props.at) } } else { <CellsLine cells={props.cells.clone()} dot={Some(62.0)} frames={Some(true)} /> }
            if hidden { <button type="button" class="quiet see-again" onclick={see_again}>{ "See it again" }</button> }
        </div>
    }
}

/// The words of a line, each a run of cells, so that a narrow screen breaks the line between them.
fn words(cells: &[Cell], at: &[usize]) -> Html {
    let mut start = 0;
    let mut all: Vec<Html> = Vec::new();
    for word in cells.split(|cell| cell.is_blank()) {
        let marks: Vec<CellMark> = at
            .iter()
            .filter(|place| (start..start + word.len()).contains(place))
            .map(|place| CellMark { from: place - start, to: place - start + 1, number: 1 })
            .collect();
        all.push(html! { <CellsLine cells={Rc::from(word)} dot={Some(20.0)} {marks} /> });
        all.push(html! { { " " } });
        start += word.len() + 1;
    }
    all.into_iter().collect()
}
