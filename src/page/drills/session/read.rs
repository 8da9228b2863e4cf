//! A word or a line to read. What was read as something else is marked at its cell, and the line is asked again.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::drills::session::Way;
use crate::page::drills::session::large::Large;
use crate::page::drills::session::typed::Typed;
use crate::practice::line::Line;
use crate::practice::sitting::Told;

/// The line, under it the field; both stay while it is asked again.
pub fn read(line: &Line, told: Option<&Told>, moment: Option<u64>, way: &Way) -> Html {
    let asks = if line.print.contains(' ') { "Read the line." } else { "Read the word." };
    html! {
        <>
            <p class="asks" id="asked">{ asks }</p>
            <Large key={way.step} cells={Rc::from(line.cells.as_slice())} {moment} line=true at={told.map(|told| told.at.clone()).unwrap_or_default()} />
            <Typed key={way.step} label="It says" way={way.clone()} />
        </>
    }
}
