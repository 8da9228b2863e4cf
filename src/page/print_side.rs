//! Print beside its braille, line for line; covered words are uncovered one by one.

use yew::prelude::*;

use crate::order::Set;
use crate::practice::reading::Word;

/// A word: its page, line and place in the line, from 0.
pub type WordAt = (usize, usize, usize);

/// The print of a page.
pub struct PrintSide<'a> {
    /// Its words, line by line.
    pub words: &'a [Vec<Word>],
    /// Which page it is.
    pub page: usize,
    /// The line that is being read.
    pub line: usize,
    /// Whether that line alone is shown.
    pub alone: bool,
    /// The words that are uncovered; `None` where none is covered.
    pub open: Option<&'a Set<WordAt>>,
}

/// The print of words.
pub fn print_of(words: &[Word]) -> String {
    words.iter().map(|word| word.print.as_str()).collect::<Vec<_>>().join(" ")
}

/// The words of the line that are uncovered; a dash for the rest; nothing while all are covered.
pub fn uncovered(words: &[Word], open: impl Fn(usize) -> bool) -> String {
    if !(0..words.len()).any(&open) {
        return String::new();
    }
    words
        .iter()
        .enumerate()
        .map(|(n, word)| if open(n) { word.print.as_str() } else { "–" })
        .collect::<Vec<_>>()
        .join(" ")
}

/// As wide as a covered word, roughly.
fn blank_for(word: &Word) -> String {
    "\u{a0}".repeat(word.print.chars().count().clamp(1, 14))
}

/// The print.
pub fn print_side(props: &PrintSide) -> Html {
    let shown = props.words.iter().enumerate().filter(|(n, _)| !props.alone || *n == props.line);
    html! {
        <div class="print-side" aria-label="Print">
            { for shown.map(|(n, words)| html! {
                <p class={classes!((n == props.line).then_some("now"))}>
                    if let Some(open) = props.open {
                        { for words.iter().enumerate().map(|(w, word)| {
                            if open.contains(&(props.page, n, w)) { html! { <span>{ format!("{} ", word.print) }</span> } }
                            else { html! { <span class="covered" role="img" aria-label="covered">{ blank_for(word) }</span> } }
                        }) }
                    } else {
                        { print_of(words) }
                    }
                </p>
            }) }
        </div>
    }
}
