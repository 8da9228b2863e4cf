//! One sign at a time, in any direction.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::keys::slate_order;
use crate::page::browser::clock::{now, seed};
use crate::page::browser::held::use_held;
use crate::page::drills::asked_sign::{AskedSign, judge};
use crate::page::drills::item_before::{Before, ItemBefore};
use crate::page::drills::props::{DrillProps, NOTHING};
use crate::page::drills::sign_in_box::SignInBox;
use crate::page::drills::slate::Slate;
use crate::page::learner::settings::use_settings;
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::written::{Given, Go, Written};
use crate::page::widgets::fields::{text_of, use_focus};
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

/// The drill.
#[component]
pub fn SignDrill(props: &SignDrillProps) -> Html {
    let settings = use_settings();
    let one_box = settings.one_box;
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let item = use_held(|| draw(props, None, &mut chance.borrow_mut()));
    let turn = use_held(u32::default);
    let since = use_mut_ref(now);
    let typed = use_held(String::new);
    let written = use_mut_ref(Vec::<Cell>::new);
    let shown = use_held(usize::default);
    let before = use_held(Before::default);
    let nothing = use_held(bool::default);
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
        let nothing = nothing.clone();
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
            nothing.set(false);
            written.borrow_mut().clear();
            shown.set(0);
            turn.set(*turn + 1);
        })
    };
    let unknown = {
        let finish = finish.clone();
        Callback::from(move |_: MouseEvent| finish.emit(judge(sign, direction, "")))
    };
    let by_hand = matches!(direction, Direction::Write | Direction::NumbersCell);
    let onsubmit = {
        let (finish, typed, written) = (finish.clone(), typed.clone(), written.clone());
        let nothing = nothing.clone();
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            // Enter on an empty box is no answer.
            let empty = if by_hand { written.borrow().is_empty() } else { typed.trim().is_empty() };
            if empty {
                nothing.set(true);
                return;
            }
            finish.emit(if by_hand {
                drill::judge_cells(sign, direction, &written.borrow())
            } else {
                judge(sign, direction, &typed)
            });
        })
    };
    let oninput = {
        let typed = typed.clone();
        let nothing = nothing.clone();
        Callback::from(move |event: InputEvent| {
            nothing.set(false);
            typed.set(text_of(&event));
        })
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
    let meant = {
        let cells: Rc<[Cell]> = sign.cells.as_slice().into();
        Callback::from(move |()| cells.clone())
    };
    if one_box {
        let on_clue = {
            let shown = shown.clone();
            Callback::from(move |()| shown.set((*shown + 1).min(5)))
        };
        return html! { <SignInBox sign={sign.key} {direction} shown={*shown} {on_clue} on_judged={finish} /> };
    }
    html! {
        <div class="drill">
            <AskedSign sign={sign.key} {direction} turn={*turn} />
            if direction == Direction::Slate {
                <Slate key={*turn} count={sign.cells.len()} on_done={on_punched} />
            } else if by_hand {
                <form {onsubmit}>
                    <BrailleInput reads={false} drill=true autofocus=true asks="asked" {meant} given={Given { version: *turn, ..Given::default() }}
                        go={Go { version: *turn, focus: *turn > 0, ..Go::default() }} {on_change} />
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
            <p role="status" aria-label="Answer">{ if *nothing { NOTHING } else { "" } }</p>
            <p><button class="quiet" type="button" onclick={more}>{ "A clue" }</button>
                <button class="quiet" type="button" onclick={unknown}>{ "I do not know" }</button></p>
            <ol class="clues" aria-live="polite">{ for all.iter().take(*shown).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
            <ItemBefore before={(*before).clone()} />
        </div>
    }
}
