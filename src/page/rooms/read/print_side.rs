//! Print beside its braille, line for line; covered words are uncovered one by one.

use yew::prelude::*;

use crate::practice::reader::{State, print_of};
use crate::practice::reading::{Page, Word};

/// The words of the line that are uncovered; a dash for the rest; nothing while all are covered.
pub fn uncovered(page: &Page, state: &State, line: usize) -> String {
    let words: Vec<(bool, &str)> = state
        .words_of(page, line)
        .map(|(at, word)| (state.open.contains(&at), word.print.as_str()))
        .collect();
    if words.iter().all(|(open, _)| !open) {
        return String::new();
    }
    words.iter().map(|(open, print)| if *open { print } else { "–" }).collect::<Vec<_>>().join(" ")
}

/// As wide as a covered word, roughly.
fn blank_for(word: &Word) -> String {
    "\u{a0}".repeat(word.print.chars().count().clamp(1, 14))
}

/// The print of a page, or of the line that is read where it stands `alone`; `covered` are the words that are not yet
/// uncovered.
pub fn print_side(page: &Page, state: &State, line: usize, alone: bool, covered: bool) -> Html {
    let shown = page.words.iter().enumerate().filter(|(n, _)| !alone || *n == line);
    html! {
        <div class="print-side" aria-label="Print">
            { for shown.map(|(n, words)| html! {
                <p class={classes!((n == line).then_some("now"))}><span>
                    if covered {
                        { for state.words_of(page, n).map(|(at, word)| {
                            if state.open.contains(&at) { html! { <span>{ format!("{} ", word.print) }</span> } }
                            else { html! { <><span class="covered" role="img" aria-label="covered">{ blank_for(word) }</span>{ " " }</> } }
                        }) }
                    } else {
                        { print_of(words) }
                    }
                </span></p>
            }) }
        </div>
    }
}
