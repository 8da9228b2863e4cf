//! Clues for one cell of a line, a step at a time, and the way to the cells beside it.

use std::cell::{LazyCell, RefCell};
use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::order::Set;
use crate::page::browser::held::{Held, use_held};
use crate::practice::clues;
use crate::ueb::{self, ReadOptions, Reading, register};

/// A reading that is made when it is asked for.
type Later = LazyCell<Reading, Box<dyn FnOnce() -> Reading>>;

/// The clues that are given for the cells of a line.
#[derive(Clone)]
pub struct Clues {
    cells: Rc<[Cell]>,
    contracted: bool,
    read: Rc<Later>,
    /// The cell that they are for, from 0.
    pub at: Held<usize>,
    /// How many are given.
    pub shown: Held<usize>,
    /// The signs that clues were asked for.
    pub helped: Rc<RefCell<Set<&'static str>>>,
}

/// The clues for the cells of a line.
#[hook]
pub fn use_clues(cells: &Rc<[Cell]>, contracted: bool) -> Clues {
    // Read when the first clue is asked for: the first frame need not wait for it.
    let read = use_memo((cells.clone(), contracted), |(cells, contracted)| {
        let (cells, options) =
            (cells.clone(), ReadOptions { contracted: *contracted, ..ReadOptions::default() });
        Later::new(Box::new(move || ueb::read(&cells, &options)))
    });
    Clues {
        cells: cells.clone(),
        contracted,
        read,
        at: use_held(usize::default),
        shown: use_held(usize::default),
        helped: use_mut_ref(Set::default),
    }
}

impl Clues {
    /// The sign of a cell is not known without help.
    pub fn help(&self, at: usize) {
        let piece = self.read.pieces.iter().find(|piece| piece.cells.contains(&at));
        if let Some(sign) = piece.and_then(|piece| piece.sign) {
            self.helped.borrow_mut().insert(register::get(sign).key);
        }
    }

    /// Gives one more.
    pub fn more(&self) -> Callback<MouseEvent> {
        let this = self.clone();
        Callback::from(move |_: MouseEvent| {
            this.help(*this.at);
            this.shown.set((*this.shown + 1).min(6));
        })
    }

    /// Goes on by so many cells.
    pub fn step(&self) -> Callback<isize> {
        let this = self.clone();
        Callback::from(move |by: isize| {
            let to = this.at.saturating_add_signed(by).min(this.cells.len().saturating_sub(1));
            this.help(to);
            this.at.set(to);
            this.shown.set((*this.shown).min(1));
        })
    }

    /// Those that are given.
    pub fn given(&self) -> Vec<String> {
        let all = clues::for_cell(&self.cells, *self.at, &self.read.pieces, self.contracted);
        all.iter().take(*self.shown).map(|clue| clue.text.to_string()).collect()
    }
}

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
