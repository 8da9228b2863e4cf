//! One line to read: large cells, what they say, clues a step at a time.

use std::rc::Rc;

use yew::prelude::*;

use super::cells_line::CellsLine;
use super::learner::{LearnerHandle, now};
use crate::practice::clues;
use crate::practice::record::Event;
use crate::ueb::{self, Options, Piece, Remark, register};

/// What is to be read.
#[derive(Properties, PartialEq)]
pub struct ReadLineProps {
    /// The print.
    pub print: AttrValue,
    /// Contracted or not.
    pub contracted: bool,
    /// The learner.
    pub learner: LearnerHandle,
    /// Called when it is read.
    pub on_next: Callback<()>,
}

fn plain(text: &str) -> String {
    let text: String = text.to_lowercase().replace(['’', '‘'], "'").replace(['“', '”'], "\"");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// One line to read; give it a `key` that changes with the line.
#[component]
pub fn ReadLine(props: &ReadLineProps) -> Html {
    let typed = use_state_eq(String::new);
    let said = use_state_eq(String::new);
    let shown = use_state_eq(|| 0usize);
    let at = use_state_eq(|| 0usize);
    let open = use_state_eq(|| 0usize);
    let done = use_state_eq(|| false);
    let since = use_mut_ref(now);
    let explained = use_memo((props.print.clone(), props.contracted), |(print, contracted)| {
        ueb::explain(print, &Options { contracted: *contracted, marks: false })
    });
    let cells = explained.cells.clone();
    let pieces: Vec<Piece> = explained
        .signs
        .iter()
        .map(|used| Piece {
            cells: used.cells.clone(),
            print: used.print.clone(),
            sign: Some(used.sign),
            section: register::get(used.sign).section,
            remark: Remark::None,
        })
        .collect();
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| {
            typed.set(event.target_unchecked_into::<web_sys::HtmlInputElement>().value());
        })
    };
    let words: Vec<String> = props.print.split_whitespace().map(str::to_owned).collect();
    let check = {
        let (typed, said, done, since, learner, on_next) = (
            typed.clone(),
            said.clone(),
            done.clone(),
            since.clone(),
            props.learner.clone(),
            props.on_next.clone(),
        );
        let (print, words, cells, missed) =
            (props.print.clone(), words.clone(), cells.len() as u32, *open as u32);
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            if *done {
                on_next.emit(());
            } else if plain(&typed) == plain(&print) {
                said.set("Right. Enter again for the next line.".to_owned());
                done.set(true);
                learner.add(Event::Text {
                    title: "One line".to_owned(),
                    words: words.len() as u32,
                    cells,
                    ms: now().saturating_sub(*since.borrow()),
                    missed,
                });
            } else {
                let answer = plain(&typed);
                let wanted = plain(&print);
                let bad = wanted
                    .split(' ')
                    .zip(answer.split(' ').chain(std::iter::repeat("")))
                    .position(|(a, b)| a != b);
                said.set(match bad {
                    Some(n) => format!("Not yet: look again at word {}.", n + 1),
                    None => "Not yet: there is more in your answer than in the line.".to_owned(),
                });
            }
        })
    };
    let more = {
        let shown = shown.clone();
        Callback::from(move |_: MouseEvent| shown.set((*shown + 1).min(6)))
    };
    let step = |by: isize| {
        let (at, shown, most) = (at.clone(), shown.clone(), cells.len());
        Callback::from(move |_: MouseEvent| {
            at.set(at.saturating_add_signed(by).min(most.saturating_sub(1)));
            shown.set((*shown).min(1));
        })
    };
    let uncover = {
        let open = open.clone();
        Callback::from(move |_: MouseEvent| open.set(*open + 1))
    };
    let clues = clues::for_cell(&cells, *at, &pieces);
    let mark = (*shown > 0).then_some(super::cells_line::CellMark { from: *at, to: *at + 1, number: 1 });
    html! {
        <section class="one-line">
            <div class="sheet"><CellsLine cells={Rc::from(cells.as_slice())} dot={Some(13.0)} marks={mark.into_iter().collect::<Vec<_>>()} /></div>
            <form onsubmit={check}>
                <label>{ "It says " }
                    <input type="text" autocomplete="off" autocapitalize="off" spellcheck="false" value={(*typed).clone()} {oninput} />
                </label>
                <button class="main" type="submit">{ if *done { "Next line" } else { "Check" } }</button>
                <button class="quiet" type="button" onclick={more}>{ "A clue" }</button>
                <button class="quiet" type="button" onclick={uncover}>{ "Uncover a word" }</button>
            </form>
            if *open > 0 { <p class="uncovered">{ words.iter().take(*open).cloned().collect::<Vec<_>>().join(" ") }</p> }
            <p role="status">{ (*said).clone() }</p>
            if *shown > 0 {
                <div class="controls">
                    <span>{ format!("Clues for cell {} of {}", *at + 1, cells.len()) }</span>
                    <button type="button" class="quiet" onclick={step(-1)}>{ "The cell before" }</button>
                    <button type="button" class="quiet" onclick={step(1)}>{ "The next cell" }</button>
                </div>
                <ol class="clues">{ for clues.iter().take(*shown).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
            }
        </section>
    }
}
