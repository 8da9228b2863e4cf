//! What stands under the sheet and stays in sight: the field for the line, what is uncovered, older signs, clues.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::marking::cause::FollowUp;
use crate::page::browser::clock::now;
use crate::page::browser::halves::take_piece;
use crate::page::browser::held::use_held;
use crate::page::drills::teach::TeachProps;
use crate::page::learner::journal::LearnerHandle;
use crate::page::marked::follow_up::AskAfterProps;
use crate::page::rooms::read::print_side::uncovered;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::fields::{select_part, text_of};
use crate::page::widgets::later::use_later;
use crate::practice::clues::{self, of_section};
use crate::practice::lines;
use crate::practice::reader::{Action, Cover, State, print_of};
use crate::practice::reading::{Page, Reading, older_signs_in};
use crate::practice::record::{Direction, Event};
use crate::ueb;

/// What the panel needs.
#[derive(Properties, PartialEq)]
pub struct AnswerProps {
    /// Where the reader is.
    pub state: State,
    /// The page.
    pub page: Rc<Page>,
    /// The text.
    pub reading: Rc<Reading>,
    /// The learner.
    pub learner: LearnerHandle,
    /// The page's signs that the learner does not know, the most frequent first.
    pub unknown: Vec<&'static str>,
    /// When the page was begun.
    pub since: u64,
    /// Called with what is done.
    pub act: Callback<Action>,
}

/// Signs that are taught before a page, at most.
const TAUGHT: usize = 6;

/// The panel.
#[component]
pub fn Answer(props: &AnswerProps) -> Html {
    let AnswerProps { state, page, reading, learner, unknown, since, act } = props;
    // What may be asked after a mistake, and when that was recorded.
    let ask = use_held(Option::<(FollowUp, u64)>::default);
    let teaching = use_held(|| take_piece(Piece::Teach));
    let later = use_later();
    let field = use_node_ref();
    {
        // The first wrong word is taken up again: it stands selected in the answer, ready to be typed over.
        let (field, typed) = (field.clone(), state.typed.clone());
        use_effect_with((state.tries, state.wrong), move |(_, wrong)| {
            if let Some((from, to)) = *wrong {
                select_part(&field, &typed, from, to);
            }
        });
    }
    let (line, cell) = state.within(page);
    let line_cells: &[Cell] = page.lines.get(line).map(|line| line.cells.as_slice()).unwrap_or_default();
    let print = page.words.get(line).map(|words| print_of(words)).unwrap_or_default();
    let check = {
        let (act, learner, ask, print, since) =
            (act.clone(), learner.clone(), ask.clone(), print.clone(), *since);
        let (typed, contracted) = (state.typed.clone(), reading.contracted);
        let plain: Vec<Cell> = line_cells.iter().skip_while(|cell| cell.is_blank()).copied().collect();
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            if typed.trim().is_empty() {
                return;
            }
            let judged = lines::judge_read(&print, &plain, contracted, &typed);
            ask.set(None);
            // Booked sign by sign where the line is what its print asks for; a book's own slips are not the learner's.
            if lines::is_as_asked(&print, &plain, contracted) {
                let at = now();
                let answers = lines::answers(&judged, Direction::Read, at, at.saturating_sub(since), 0);
                ask.set(judged.slips.iter().find_map(|slip| slip.ask).map(|about| (about, at)));
                learner.add_all(&answers.into_iter().map(Event::Answer).collect::<Vec<_>>());
            }
            act.emit(Action::Said(Box::new(judged)));
        })
    };
    let oninput = act.reform(|event: InputEvent| Action::Type(text_of(&event)));
    let on = |action: Action| act.reform(move |_: MouseEvent| action.clone());
    let clue_list = || {
        let pieces = ueb::read(line_cells, &reading.options()).pieces;
        clues::for_cell(line_cells, cell, &pieces, reading.contracted)
    };
    let count = unknown.len().min(TAUGHT);
    let keys = use_memo((state.page, *teaching), |_| {
        Rc::new(unknown.iter().copied().take(TAUGHT).collect::<Vec<_>>())
    });
    let teach = {
        let teaching = teaching.clone();
        Callback::from(move |_: MouseEvent| teaching.set(!*teaching))
    };
    html! {
        <aside aria-label="Clues">
            <div>
                <form class="says-line" onsubmit={check}>
                    <label>{ format!("Line {} says ", line + 1) }
                        <input ref={field} type="text" autocomplete="off" autocapitalize="off" spellcheck="false" value={state.typed.clone()} {oninput} />
                    </label>
                    <button type="submit">{ "Check" }</button>
                </form>
                <p role="status">{ &state.said }</p>
                if let Some((about, at)) = *ask {
                    { later.here(Piece::AskAfter, AskAfterProps { about: Some(about), at }).unwrap_or_default() }
                }
                <p class="uncovered" aria-live="polite">{ uncovered(page, state, line) }</p>
                <div class="controls">
                    <button type="button" class="quiet" onclick={on(Action::Uncover(Cover::Word))}>{ "Uncover the word" }</button>
                    <button type="button" class="quiet" onclick={on(Action::Uncover(Cover::Line))}>{ "the line" }</button>
                    <button type="button" class="quiet" onclick={on(Action::Uncover(Cover::Page))}>{ "the page" }</button>
                    <button type="button" class="quiet" onclick={on(Action::Aloud)}>{ "Read the line aloud" }</button>
                </div>
            </div>
            <div>
                <h2>{ format!("Clues for line {}, cell {}", line + 1, cell + 1) }</h2>
                <p class="note">{ "Point at a cell, or use the keys on the sheet: arrows, Page Up and Page Down; Enter for a clue, Space for the word, Shift+Space for the line, Shift+Enter to hear it." }</p>
                <button type="button" onclick={on(Action::Clue)}>{ "A clue" }</button>
                <ol class="clues" aria-live="polite">
                    if state.clues > 0 { { for clue_list().iter().take(state.clues).map(|clue| html! { <li>{ &clue.text }</li> }) } }
                </ol>
                if reading.older { { older_signs(line_cells, reading.contracted) } }
                if !unknown.is_empty() {
                    <button type="button" class="quiet" onclick={teach}>{ if *teaching { "Put this away".to_owned() } else if count == 1 { "Learn 1 sign of this page first".to_owned() } else { format!("Learn {count} signs of this page first") } }</button>
                    if *teaching {
                        { later.show(Piece::Teach, TeachProps { learner: learner.clone(), keys: (*keys).clone(), shown_first: true, on_end: Callback::noop() }) }
                    }
                }
            </div>
        </aside>
    }
}

/// The older signs of the line, each with what is written today.
fn older_signs(line: &[Cell], contracted: bool) -> Html {
    let signs = older_signs_in(line, contracted);
    html! {
        <ul class="older-signs" aria-label="Older signs in this line" aria-live="polite">
            { for signs.iter().map(|sign| {
                let says = if sign.says.is_empty() { "an indicator".to_owned() } else { format!("“{}”", sign.says) };
                html! {
                    <li>
                        { format!("Cell {}: an older sign, {says} ({}). Today “{}” is written ", sign.cells.start + 1, of_section(sign.section), sign.word) }
                        <CellsLine cells={Rc::from(sign.today.as_slice())} dot={Some(5.0)} />
                    </li>
                }
            }) }
        </ul>
    }
}
