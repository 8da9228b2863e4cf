//! Practice sign by sign: one thing to answer, judged at once, and the next.

use std::rc::Rc;

use yew::prelude::*;

use super::braille_input::{BrailleInput, Given, Written};
use super::cells_line::CellsLine;
use super::learner::{LearnerHandle, now, seed};
use crate::cell::Cell;
use crate::practice::record::{Answer, Direction};
use crate::practice::{clues, drill};

/// What the practice needs.
#[derive(Properties, PartialEq)]
pub struct PractiseProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// The last unit open to them, from 0.
    pub unit: usize,
}

/// The practice of single signs.
#[component]
pub fn Practise(props: &PractiseProps) -> Html {
    let direction = use_state_eq(|| Direction::Read);
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let learner = props.learner.clone();
    let unit = props.unit;
    let draw = {
        let (learner, chance) = (learner.clone(), chance.clone());
        move |direction: Direction, last: Option<&str>| {
            drill::next(
                &learner.memories,
                &learner.record,
                direction,
                unit,
                now(),
                last,
                &mut chance.borrow_mut(),
            )
        }
    };
    let item = {
        let draw = draw.clone();
        use_state_eq(move || draw(Direction::Read, None))
    };
    let since = use_mut_ref(now);
    let typed = use_state_eq(String::new);
    let written = use_mut_ref(Vec::<Cell>::new);
    let given = use_state_eq(Given::default);
    let shown = use_state_eq(|| 0usize);
    let said = use_state_eq(String::new);
    let count = use_state_eq(|| (0u32, 0u32));

    let choose = {
        let (direction, item, since, said, shown) =
            (direction.clone(), item.clone(), since.clone(), said.clone(), shown.clone());
        let draw = draw.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            if let Some(to) = Direction::ALL.into_iter().find(|d| d.name() == select.value()) {
                direction.set(to);
                item.set(draw(to, None));
                *since.borrow_mut() = now();
                said.set(String::new());
                shown.set(0);
            }
        })
    };
    let Some(sign) = item.as_ref().and_then(|item| item.sign()) else {
        return html! { <p>{ "There is no sign to practise yet." }</p> };
    };
    let by_hand = matches!(*direction, Direction::Write | Direction::Slate);
    let answer = {
        let (direction, item, since, typed, written, given, shown, said, count, learner) = (
            *direction,
            item.clone(),
            since.clone(),
            typed.clone(),
            written.clone(),
            given.clone(),
            shown.clone(),
            said.clone(),
            count.clone(),
            learner.clone(),
        );
        let draw = draw.clone();
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            let judged = match direction {
                Direction::Write | Direction::Slate => drill::judge_cells(sign, direction, &written.borrow()),
                Direction::SayNumbers => drill::judge_numbers(sign, &typed),
                _ => drill::judge_meaning(sign, &typed),
            };
            learner.answer(Answer {
                at: now(),
                sign: sign.key.to_owned(),
                direction,
                right: judged.right,
                ms: now().saturating_sub(*since.borrow()),
                clues: *shown as u8,
                instead: judged.instead,
                cause: judged.cause.to_owned(),
            });
            said.set(judged.says);
            count.set((count.0 + 1, count.1 + u32::from(judged.right && *shown == 0)));
            item.set(draw(direction, Some(sign.key)));
            typed.set(String::new());
            written.borrow_mut().clear();
            given.set(Given { version: given.version + 1, lines: Rc::default() });
            shown.set(0);
            *since.borrow_mut() = now();
        })
    };
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| {
            typed.set(event.target_unchecked_into::<web_sys::HtmlInputElement>().value());
        })
    };
    let on_change = {
        let written = written.clone();
        Callback::from(move |new: Written| {
            *written.borrow_mut() =
                new.cells().into_iter().flatten().filter(|cell| !cell.is_blank()).collect();
        })
    };
    let more = {
        let shown = shown.clone();
        Callback::from(move |_: MouseEvent| shown.set(*shown + 1))
    };
    let all = clues::for_sign(sign);
    let back: Vec<Cell> = sign.cells.iter().rev().map(|cell| cell.mirror()).collect();
    html! {
        <section class="practise" aria-label="Practice">
            <div class="controls">
                <label>{ "From what to what " }
                    <select onchange={choose}>
                        { for Direction::ALL.iter().map(|d| html! {
                            <option value={d.name()} selected={*d == *direction}>{ d.name() }</option>
                        }) }
                    </select>
                </label>
                <span class="note">{ format!("{} answered, {} right at first sight", count.0, count.1) }</span>
            </div>
            <form onsubmit={answer}>
                <div class="asked">
                    { match *direction {
                        Direction::Read => html! { <CellsLine cells={Rc::from(sign.cells.as_slice())} dot={Some(18.0)} /> },
                        Direction::Back => html! { <CellsLine cells={Rc::from(back)} dot={Some(18.0)} /> },
                        Direction::Numbers => html! { <strong>{ drill::dots(&sign.cells) }</strong> },
                        _ => html! { <strong>{ drill::asked_as(sign) }</strong> },
                    } }
                    <span class="note">{ drill::taken_as(sign.class) }</span>
                </div>
                if by_hand {
                    <BrailleInput drill=true reads={false} given={(*given).clone()} {on_change} />
                } else {
                    <label>{ if *direction == Direction::SayNumbers { "Its dot numbers " } else { "It means " } }
                        <input type="text" autocomplete="off" autocapitalize="off" spellcheck="false" value={(*typed).clone()} {oninput} />
                    </label>
                }
                <div class="controls">
                    <button class="main" type="submit">{ "Answer" }</button>
                    <button class="quiet" type="button" onclick={more}>{ "A clue" }</button>
                </div>
            </form>
            <ol class="clues">{ for all.iter().take(*shown).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
            <p role="status">{ (*said).clone() }</p>
        </section>
    }
}
