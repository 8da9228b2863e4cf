//! A text from outside: its title in braille and in print, what it is about and what it needs, how far it was read.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::learner::settings::use_settings;
use crate::page::rooms::read::progress::Far;
use crate::page::widgets::cells_line::{CellsLine, shown};
use crate::practice::reading::rows;
use crate::ueb::{self, Options};

/// What stands on a cover.
#[derive(Clone, PartialEq)]
pub struct Face {
    /// The title.
    pub title: String,
    /// Contracted or uncontracted.
    pub contracted: bool,
    /// What it is about, in a line; empty for nothing.
    pub about: String,
    /// The unit after which it can be read in full, from 0, and how many of its signs the learner does not know; `None` for
    /// a text of the learner's own.
    pub needs: Option<(usize, usize)>,
    /// How many words it has; 0 where they are not counted.
    pub words: usize,
}

/// What the cover needs.
#[derive(Properties, PartialEq)]
pub struct CoverProps {
    /// What stands on it.
    pub face: Face,
    /// How far it was read.
    pub far: Option<Far>,
    /// Whether it is the text that is open.
    pub open: bool,
    /// Called when it is chosen.
    pub on_open: Callback<MouseEvent>,
}

/// Cells in a line of a cover.
const WIDTH: usize = 14;

/// The cover.
#[component]
pub fn Cover(props: &CoverProps) -> Html {
    let settings = use_settings();
    let Face { title, contracted, about, needs, words } = &props.face;
    let cells = use_memo((title.clone(), *contracted), |(title, contracted)| {
        // The words of the title, a line each, as a cover has them.
        rows(
            &ueb::transcribe(title, &Options { contracted: *contracted, marks: false, ..Options::default() }),
            WIDTH,
        )
    });
    let needs = needs.map_or_else(String::new, |(after, unknown)| {
        let unknown = match unknown {
            0 => "you know all its signs".to_owned(),
            1 => "1 sign you don’t know".to_owned(),
            n => format!("{n} signs you don’t know"),
        };
        format!("After unit {}: {unknown}", after + 1)
    });
    let pages = |n: usize| if n == 1 { "page" } else { "pages" };
    let state = match props.far {
        Some(far) if far.through() => format!("✓ read, {} words a minute", far.speed),
        Some(far) => {
            format!("{} of {} {} read, {} words a minute", far.read, far.pages, pages(far.pages), far.speed)
        }
        None if props.open => "open".to_owned(),
        None if *words > 0 => format!("{words} words"),
        None => String::new(),
    };
    html! {
        <button type="button" class={classes!("cover", props.open.then_some("open"))} aria-current={props.open.then_some("true")} onclick={props.on_open.clone()}>
            if !settings.dot_numbers_only {
                <span class="cover-braille" aria-hidden="true">
                    { for cells.iter().map(|row| html! { <CellsLine cells={Rc::from(row.as_slice())} dot={4.0} frames={Some(false)} /> }) }
                </span>
            }
            <span class="cover-title">{ shown(title, &settings) }</span>
            if !about.is_empty() { <span class="cover-about">{ about }</span> }
            if !needs.is_empty() { <span class="note">{ needs }</span> }
            if !state.is_empty() { <span class="note">{ state }</span> }
        </button>
    }
}
