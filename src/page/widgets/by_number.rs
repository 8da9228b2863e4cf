//! Cells that are entered dot by dot, for dot numbers only: each stands as its numbers, and a row of six numbers turns
//! the dots of the one in hand. No window with holes, whose punched ones would be a drawn cell.

use yew::prelude::*;

/// The cells of `words` (their dot numbers, or "blank"), the one `at` in hand; `choose` takes another in hand, `turn`
/// turns one of its dots. Stands in a group that takes the keys.
pub fn by_number(words: &[String], at: usize, choose: &Callback<usize>, turn: &Callback<u8>) -> Html {
    html! {
        <>
            <div class="by-number">
                { for words.iter().enumerate().map(|(place, words)| html! {
                    <button type="button" tabindex="-1" class={classes!("window", (place == at).then_some("now"))} aria-pressed={(place == at).to_string()}
                        aria-label={format!("Cell {}: {words}", place + 1)} onclick={choose.reform(move |_: MouseEvent| place)}>{ words }</button>
                }) }
            </div>
            <div class="controls" role="group" aria-label={format!("Dots of cell {}", at + 1)}>
                { for (1..=6u8).map(|dot| html! {
                    <button type="button" tabindex="-1" aria-label={format!("Cell {}, dot {dot}", at + 1)} onclick={turn.reform(move |_: MouseEvent| dot)}>{ dot }</button>
                }) }
            </div>
        </>
    }
}
