//! One sign at a time, in any direction.

use std::rc::Rc;

use yew::prelude::*;

use super::super::held::use_held;
use super::slate::Slate;
use super::{DrillProps, text_of, use_focus};
use crate::cell::Cell;
use crate::keys::slate_order;
use crate::page::braille_input::{BrailleInput, Given};
use crate::page::cells_line::CellsLine;
use crate::page::learner::{now, seed};
use crate::page::written::Written;
use crate::practice::drill::{self, Item};
use crate::practice::record::{Answer, Direction};
use crate::practice::{choose, clues};

/// What the drill needs.
#[derive(Properties, PartialEq)]
pub struct SignDrillProps {
    /// What every drill is given.
    pub drill: DrillProps,
    /// From what to what; `None` for whatever is due.
    pub direction: Option<Direction>,
}

fn draw(props: &SignDrillProps, last: Option<&str>, chance: &mut fastrand::Rng) -> Option<Item> {
    let ground = props.drill.ground();
    match props.direction {
        Some(direction) => choose::next(&ground, direction, last, chance),
        None => choose::next_due(&ground, last, chance),
    }
}

/// What became of the item before.
#[derive(Clone, PartialEq, Default)]
struct Before {
    says: String,
    cells: Vec<Cell>,
    right: bool,
}

/// The drill.
#[component]
pub fn SignDrill(props: &SignDrillProps) -> Html {
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let item = use_held(|| draw(props, None, &mut chance.borrow_mut()));
    let turn = use_held(u32::default);
    let since = use_mut_ref(now);
    let typed = use_held(String::new);
    let written = use_mut_ref(Vec::<Cell>::new);
    let shown = use_held(usize::default);
    let before = use_held(Before::default);
    let field = use_focus(*turn);
    {
        // The clock starts when the item is on the screen.
        let since = since.clone();
        use_effect_with(*turn, move |_| *since.borrow_mut() = now());
    }
    let Some((item_now, sign)) = (*item).clone().and_then(|item| Some((item.clone(), item.sign()?))) else {
        return html! { <p>{ "There is no sign to practise yet." }</p> };
    };
    let direction = item_now.direction;
    let finish = {
        let (item, turn, since, typed, written, shown, before, chance) = (
            item.clone(),
            turn.clone(),
            since.clone(),
            typed.clone(),
            written.clone(),
            shown.clone(),
            before.clone(),
            chance.clone(),
        );
        let props = SignDrillProps { drill: props.drill.clone(), direction: props.direction };
        Callback::from(move |judged: drill::Judged| {
            props.drill.learner.answer(Answer {
                at: now(),
                sign: sign.key.to_owned(),
                direction,
                right: judged.right,
                ms: now().saturating_sub(*since.borrow()),
                clues: *shown as u8,
                instead: judged.instead,
                cause: judged.cause.to_owned(),
            });
            props.drill.on_answer.emit(judged.right && *shown == 0);
            before.set(Before { says: judged.says, cells: sign.cells.clone(), right: judged.right });
            item.set(draw(&props, Some(sign.key), &mut chance.borrow_mut()));
            typed.set(String::new());
            written.borrow_mut().clear();
            shown.set(0);
            turn.set(*turn + 1);
        })
    };
    let by_hand = matches!(direction, Direction::Write | Direction::NumbersCell);
    let onsubmit = {
        let (finish, typed, written) = (finish.clone(), typed.clone(), written.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            match direction {
                Direction::Write | Direction::NumbersCell => {
                    finish.emit(drill::judge_cells(sign, direction, &written.borrow()));
                }
                Direction::SayNumbers | Direction::CellNumbers => {
                    finish.emit(drill::judge_numbers(sign, &typed));
                }
                _ => finish.emit(drill::judge_meaning(sign, &typed)),
            }
        })
    };
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| typed.set(text_of(&event)))
    };
    let on_change = {
        let (written, finish) = (written.clone(), finish.clone());
        Callback::from(move |new: Written| {
            let cells: Vec<Cell> =
                new.cells().into_iter().flatten().filter(|cell| !cell.is_blank()).collect();
            // As many cells as the sign has: that is the answer, and the next item comes at once.
            let changed = *written.borrow() != cells;
            *written.borrow_mut() = cells.clone();
            if changed && cells.len() >= sign.cells.len() {
                finish.emit(drill::judge_cells(sign, direction, &cells));
            }
        })
    };
    let on_punched = {
        let finish = finish.clone();
        Callback::from(move |cells: Vec<Cell>| {
            finish.emit(drill::judge_cells(sign, Direction::Slate, &slate_order(&cells)));
        })
    };
    let more = {
        let shown = shown.clone();
        Callback::from(move |_: MouseEvent| shown.set((*shown + 1).min(5)))
    };
    let all = clues::for_sign(sign);
    let asks = match direction {
        Direction::Read => "What does it mean?",
        Direction::Back => "The back of a sheet. What does it mean?",
        Direction::Numbers => "What do these dots mean?",
        Direction::Write => "Write it.",
        Direction::NumbersCell => "Write these dots.",
        Direction::SayNumbers => "Its dot numbers?",
        Direction::CellNumbers => "Which dots are these?",
        Direction::Slate => "Punch it from the back.",
        Direction::Rule => "",
    };
    let shows_cells = matches!(direction, Direction::Read | Direction::Back | Direction::CellNumbers);
    html! {
        <div class="drill">
            // What is asked is told when it becomes another: the focus may have stayed in the field.
            <div aria-live="polite">
            <div id="asked" class="asked" key={*turn}>
                <p class="asks">{ asks }</p>
                if shows_cells {
                    <CellsLine cells={Rc::from(if direction == Direction::Back { slate_order(&sign.cells) } else { sign.cells.clone() })} dot={Some(18.0)} />
                } else if matches!(direction, Direction::Numbers | Direction::NumbersCell) {
                    <strong class="large">{ drill::dots(&sign.cells) }</strong>
                } else {
                    <strong class="large">{ drill::asked_as(sign) }</strong>
                }
                if (shows_cells || direction == Direction::Numbers) && direction != Direction::CellNumbers {
                    <span class="note">{ drill::taken_as(sign.class) }</span>
                }
            </div>
            </div>
            if direction == Direction::Slate {
                <Slate key={*turn} count={sign.cells.len()} on_done={on_punched} />
            } else if by_hand {
                <form {onsubmit}>
                    <BrailleInput key={*turn} reads={false} drill=true autofocus=true given={Given::default()} {on_change} />
                    <div class="controls"><button class="main" type="submit">{ "Answer" }</button></div>
                </form>
            } else {
                <form {onsubmit}>
                    <label>{ if matches!(direction, Direction::SayNumbers | Direction::CellNumbers) { "Its dot numbers " } else { "It means " } }
                        <input ref={field} type="text" aria-describedby="asked" autocomplete="off" autocapitalize="off" spellcheck="false" value={(*typed).clone()} {oninput} />
                    </label>
                    <button class="main" type="submit">{ "Answer" }</button>
                </form>
            }
            <button class="quiet" type="button" onclick={more}>{ "A clue" }</button>
            <ol class="clues" aria-live="polite">{ for all.iter().take(*shown).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
            <p role="status" class={classes!("before", (!before.says.is_empty()).then_some(if before.right { "right" } else { "wrong" }))}>
                if !before.says.is_empty() { <span class="note">{ "The one before:" }</span> }
                if !before.cells.is_empty() { <CellsLine cells={Rc::from(before.cells.as_slice())} dot={Some(7.0)} /> }
                <span>{ before.says.clone() }</span>
            </p>
        </div>
    }
}
