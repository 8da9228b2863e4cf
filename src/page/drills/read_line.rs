//! One line to read: large cells, what they say, clues a step at a time.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::keys::slate_order;
use crate::marking::cause::FollowUp;
use crate::order::Set;
use crate::page::browser::clock::now;
use crate::page::browser::held::use_held;
use crate::page::drills::cell_clues::{CellClues, use_clues};
use crate::page::learner::journal::LearnerHandle;
use crate::page::learner::settings::use_settings;
use crate::page::marked::follow_up::AskAfterProps;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::cells_line::{CellMark, CellsLine, line_in_words};
use crate::page::widgets::fields::{choosing, select_part, text_of};
use crate::page::widgets::later::use_later;
use crate::practice::lines;
use crate::practice::record::{Direction, Event};

/// What is to be read.
#[derive(Properties, PartialEq)]
pub struct ReadLineProps {
    /// The print.
    pub print: AttrValue,
    /// Its braille.
    pub cells: Rc<[Cell]>,
    /// Contracted or not.
    pub contracted: bool,
    /// Shown as the back of a sheet: mirrored, from right to left.
    #[prop_or_default]
    pub back: bool,
    /// Takes the focus when it appears.
    #[prop_or_default]
    pub focus: bool,
    /// The learner.
    pub learner: LearnerHandle,
    /// Called when it is read or given up: whether it was right at first sight, and what to say of it. A line that was passed
    /// over without an answer was neither right nor wrong.
    pub on_next: Callback<(Option<bool>, String)>,
}

/// The cells of a word of the line, by its place.
fn word_at(cells: &[Cell], word: usize) -> Option<(usize, usize)> {
    let begins = |at: &usize| !cells[*at].is_blank() && (*at == 0 || cells[*at - 1].is_blank());
    let from = (0..cells.len()).filter(begins).nth(word)?;
    let to = (from..cells.len()).find(|at| cells[*at].is_blank()).unwrap_or(cells.len());
    Some((from, to))
}

/// What the record keeps of the first answer; where a clue was asked for, its sign was not known.
fn first_answers(
    judged: &lines::Judged,
    direction: Direction,
    at: u64,
    ms: u64,
    helped: &Set<&'static str>,
) -> Vec<Event> {
    let answers = lines::answers(judged, direction, at, ms, 0).into_iter().map(|mut answer| {
        answer.clues = u8::from(helped.contains(answer.sign.as_str()));
        Event::Answer(answer)
    });
    answers.collect()
}

/// Puts the focus into a field when it appears, unless the learner is choosing from a list.
#[hook]
fn use_first_focus(field: &NodeRef, focus: bool) {
    let field = field.clone();
    use_effect_with((), move |()| {
        if let (true, Some(field)) = (focus && !choosing(), field.cast::<web_sys::HtmlElement>()) {
            let _ = field.focus();
        }
    });
}

/// One line to read; give it a `key` that changes with the line.
#[component]
pub fn ReadLine(props: &ReadLineProps) -> Html {
    let later = use_later();
    let use_numbers = use_settings().dot_numbers_only;
    let typed = use_held(String::new);
    let slips = use_held(Vec::<String>::default);
    let tries = use_held(u32::default);
    // The first word that was read wrong, by its place in the line.
    let wrong = use_held(Option::<usize>::default);
    // What may be asked after the mistake, and when that was recorded.
    let ask = use_held(Option::<(FollowUp, u64)>::default);
    let open = use_held(usize::default);
    let since = use_mut_ref(now);
    let field = use_node_ref();
    use_first_focus(&field, props.focus);
    let cells = props.cells.clone();
    let clues = use_clues(&cells, props.contracted);
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| typed.set(text_of(&event)))
    };
    let words: Vec<String> = props.print.split_whitespace().map(str::to_owned).collect();
    let check = {
        let (typed, slips, tries, since, helped) =
            (typed.clone(), slips.clone(), tries.clone(), since.clone(), clues.helped.clone());
        let (learner, on_next, print, contracted) =
            (props.learner.clone(), props.on_next.clone(), props.print.clone(), props.contracted);
        let (words, line, missed) = (words.len() as u32, cells.clone(), *open as u32);
        let direction = if props.back { Direction::Back } else { Direction::Read };
        let (ask, field, wrong) = (ask.clone(), field.clone(), wrong.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            if typed.trim().is_empty() {
                slips
                    .set(vec!["Type what the line says, then Enter. A clue helps with one cell.".to_owned()]);
                return;
            }
            let judged = lines::judge_read(&print, &line, contracted, &typed);
            let at = now();
            let ms = at.saturating_sub(*since.borrow());
            let mut events = Vec::new();
            if *tries == 0 {
                events = first_answers(&judged, direction, at, ms, &helped.borrow());
                ask.set(judged.slips.iter().find_map(|slip| slip.ask).map(|about| (about, at)));
            }
            if judged.right {
                let (title, cells) = ("One line".to_owned(), line.len() as u32);
                events.push(Event::Text { title, words, cells, ms, missed });
            }
            learner.add_all(&events);
            tries.set(*tries + 1);
            if judged.right {
                let first = *tries == 0 && helped.borrow().is_empty() && missed == 0;
                let notes = judged.told.notes.iter().map(|note| format!(" {note}")).collect::<String>();
                on_next.emit((Some(first), format!("Right: {print}{notes}")));
            } else {
                slips.set(judged.slips.iter().take(3).map(|slip| slip.say.clone()).collect());
                // The first wrong word stands selected in the answer, ready to be typed over.
                if let Some(word) = &judged.told.wrong {
                    wrong.set(Some(word.word));
                    select_part(&field, &typed, word.said.start, word.said.end);
                }
            }
        })
    };
    let uncover = {
        let (open, clues, count, cells) = (open.clone(), clues.clone(), words.len(), cells.clone());
        Callback::from(move |_: MouseEvent| {
            // The signs of the word that is uncovered are not yet known.
            if let Some((from, to)) = word_at(&cells, *open) {
                (from..to).for_each(|at| clues.help(at));
            }
            open.set((*open + 1).min(count));
        })
    };
    let give_up = {
        let (on_next, print) = (props.on_next.clone(), props.print.clone());
        let came = (*tries > 0).then_some(false);
        Callback::from(move |_: MouseEvent| on_next.emit((came, format!("It said: {print}"))))
    };
    let drawn = if props.back { Rc::from(slate_order(&cells)) } else { cells.clone() };
    let place = if props.back { cells.len().saturating_sub(*clues.at + 1) } else { *clues.at };
    // A voice may have no words for braille: there are some beside it.
    let says = if use_numbers { None } else { Some(AttrValue::from(line_in_words(&drawn))) };
    // What clues are for, or else the word that was read wrong.
    let mark = match *wrong {
        _ if *clues.shown > 0 => Some((place, place + 1)),
        Some(word) if !props.back => word_at(&cells, word),
        _ => None,
    };
    let marks: Vec<CellMark> = mark.map(|(from, to)| CellMark { from, to, number: 1 }).into_iter().collect();
    html! {
        <section class="one-line">
            <div id="asked" class="sheet"><CellsLine cells={drawn} says={says} dot={Some(13.0)} {marks} /></div>
            if props.back { <p class="note">{ "The back of the sheet: read from the right, every cell mirrored." }</p> }
            <form onsubmit={check}>
                <label>{ "It says " }
                    <input ref={field} type="text" aria-describedby="asked" autocomplete="off" autocapitalize="off" spellcheck="false" value={(*typed).clone()} {oninput} />
                </label>
                <button class="main" type="submit">{ "Check" }</button>
                <button class="quiet" type="button" onclick={clues.more()}>{ "A clue" }</button>
                <button class="quiet" type="button" onclick={uncover}>{ "Uncover a word" }</button>
                <button class="quiet" type="button" onclick={give_up}>{ "Another line" }</button>
            </form>
            <div aria-live="polite">
                if *open > 0 { <p class="uncovered">{ words.iter().take(*open).cloned().collect::<Vec<_>>().join(" ") }</p> }
            </div>
            <div role="status" class={classes!((!slips.is_empty()).then_some("wrong"))}>
                if !slips.is_empty() { <p>{ if *tries > 0 { "Not yet." } else { "" } }</p> }
                { for slips.iter().map(|say| html! { <p>{ say }</p> }) }
            </div>
            if let Some((about, at)) = *ask {
                { later.here(Piece::AskAfter, AskAfterProps { about: Some(about), at }).unwrap_or_default() }
            }
            if *clues.shown > 0 { <CellClues at={*clues.at} count={cells.len()} clues={clues.given()} step={clues.step()} /> }
        </section>
    }
}
