//! Two signs that look alike, or that this learner takes for each other: which is it? Keys 1 and 2 answer.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::{now, seed};
use crate::page::browser::held::use_held;
use crate::page::drills::props::DrillProps;
use crate::page::widgets::cells_line::CellsLine;
use crate::page::widgets::fields::use_focus;
use crate::practice::record::{Answer, Direction};
use crate::practice::{choose, drill, lookalike};
use crate::ueb::register;

/// Two signs: the one that is shown, the other, and which of the two stands first among the answers.
type Pair = (&'static str, &'static str, bool);

fn draw(props: &DrillProps, last: Option<&str>, chance: &mut fastrand::Rng) -> Option<Pair> {
    let (sign, other) = choose::alike(&props.ground(), last, chance)?;
    Some((sign, other, chance.bool()))
}

/// The drill.
#[component]
pub fn PickDrill(props: &DrillProps) -> Html {
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let pair = use_held(|| draw(props, None, &mut chance.borrow_mut()));
    let turn = use_held(u32::default);
    let since = use_mut_ref(now);
    let said = use_held(String::new);
    let node = use_focus(0);
    {
        let since = since.clone();
        use_effect_with(*turn, move |_| *since.borrow_mut() = now());
    }
    let found = pair.and_then(|(a, b, first)| Some((register::by_key(a)?, register::by_key(b)?, first)));
    let Some((sign, other, first)) = found else {
        return html! { <p>{ "No two of the signs open to you look alike yet. Choose a later unit." }</p> };
    };
    let answers = if first { [sign, other] } else { [other, sign] };
    let choose = {
        let (pair, turn, since, said, chance, props) =
            (pair.clone(), turn.clone(), since.clone(), said.clone(), chance.clone(), props.clone());
        move |n: usize| {
            let right = answers[n].key == sign.key;
            props.learner.answer(Answer {
                at: now(),
                sign: sign.key.to_owned(),
                direction: Direction::Read,
                right,
                ms: now().saturating_sub(*since.borrow()),
                clues: 0,
                instead: if right { String::new() } else { other.key.to_owned() },
                cause: if right { String::new() } else { "eye".to_owned() },
            });
            props.on_answer.emit(right);
            let how = lookalike::of(sign).into_iter().find(|(like, _)| like.key == other.key);
            said.set(if right {
                "Right.".to_owned()
            } else {
                format!(
                    "It was {}, {}. {} is {}{}.",
                    drill::asked_as(sign),
                    drill::dots(&sign.cells),
                    drill::asked_as(other),
                    drill::dots(&other.cells),
                    how.map(|(_, how)| format!(", {}", how.name())).unwrap_or_default()
                )
            });
            pair.set(draw(&props, Some(sign.key), &mut chance.borrow_mut()));
            turn.set(*turn + 1);
        }
    };
    let onkeydown = {
        let choose = choose.clone();
        Callback::from(move |event: KeyboardEvent| {
            if let Ok(n @ 1..=2) = event.key().parse::<usize>() {
                event.prevent_default();
                choose(n - 1);
            }
        })
    };
    html! {
        <div class="drill" ref={node} tabindex="-1" role="group" aria-label="Which is it? Press 1 or 2." {onkeydown}>
            <p class="asks">{ "Which is it? Press 1 or 2." }</p>
            <div class="asked" aria-live="polite"><CellsLine key={*turn} cells={Rc::from(sign.cells.as_slice())} dot={Some(18.0)} /></div>
            <div class="controls">
                { for answers.iter().enumerate().map(|(n, sign)| {
                    let onclick = { let choose = choose.clone(); Callback::from(move |_: MouseEvent| choose(n)) };
                    html! { <button type="button" {onclick}>{ format!("{} {}", n + 1, drill::asked_as(sign)) }</button> }
                }) }
            </div>
            <p role="status" class="before">{ (*said).clone() }</p>
        </div>
    }
}
