//! Lone dots and low shapes within a line, in every look, without guides.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::{now, seed};
use crate::page::browser::held::use_held;
use crate::page::drills::props::{DrillProps, EMPTY};
use crate::page::learner::settings::use_settings;
use crate::page::widgets::cells_line::{CellsLine, Look};
use crate::page::widgets::fields::{text_of, use_focus};
use crate::practice::record::{Answer, Direction};
use crate::practice::{low, units};
use crate::ueb::register;

const LOOKS: [&str; 3] = ["ink", "raised", "interpoint"];

/// The drill.
#[component]
pub fn LowDrill(props: &DrillProps) -> Html {
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let item = use_held(|| low::next(None, &mut chance.borrow_mut()));
    // The other side of the sheet, for the interpoint look.
    let other = use_held(|| low::next(None, &mut chance.borrow_mut()));
    let turn = use_held(u32::default);
    let typed = use_held(String::new);
    let said = use_held(String::new);
    let since = use_mut_ref(now);
    let field = use_focus(*turn);
    {
        let since = since.clone();
        use_effect_with(*turn, move |_| *since.borrow_mut() = now());
    }
    let look = *turn as usize % LOOKS.len();
    let numbers_only = use_settings().dot_numbers_only;
    let onsubmit = {
        let (item, other, turn, typed, said, since, chance, props) = (
            item.clone(),
            other.clone(),
            turn.clone(),
            typed.clone(),
            said.clone(),
            since.clone(),
            chance.clone(),
            props.clone(),
        );
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            if typed.trim().is_empty() {
                said.set(EMPTY.to_owned());
                return;
            }
            let (right, says) = low::judge(&item, &typed);
            // Booked to a sign of the course that has this shape, if there is one.
            let cell = item.cell();
            let sign = register::by_cells(&[cell]).find(|sign| units::unit_of(sign.key).is_some());
            if let Some(sign) = sign {
                props.learner.answer(Answer {
                    at: now(),
                    sign: sign.key.to_owned(),
                    direction: Direction::CellNumbers,
                    right,
                    ms: now().saturating_sub(*since.borrow()),
                    clues: 0,
                    instead: if right { String::new() } else { typed.trim().to_owned() },
                    cause: if right { String::new() } else { "eye".to_owned() },
                });
            }
            props.on_answer.emit(right);
            said.set(says);
            other.set((*item).clone());
            item.set(low::next(Some(cell), &mut chance.borrow_mut()));
            typed.set(String::new());
            turn.set(*turn + 1);
        })
    };
    let oninput = {
        let typed = typed.clone();
        Callback::from(move |event: InputEvent| typed.set(text_of(&event)))
    };
    let behind = (look == 2).then(|| {
        let mut back = crate::keys::slate_order(&other.cells);
        back.resize(item.cells.len(), crate::cell::Cell::BLANK);
        Rc::from(back)
    });
    if numbers_only {
        return html! { <p>{ "This drill is about drawn dots. Switch \u{201c}Dot numbers only\u{201d} off to do it, or choose another." }</p> };
    }
    html! {
        <div class="drill">
            <p id="asked" class="asks" aria-live="polite">{ format!("Which dots are over the arrow? It is cell {} of {}. ({})", item.at + 1, item.cells.len(), LOOKS[look]) }</p>
            <div class="low-line" style={format!("--at:{}", item.at)}>
                <CellsLine cells={Rc::from(item.cells.as_slice())} dot={Some(12.0)} frames={Some(false)} numbers={Some(false)}
                    look={if look == 0 { Look::Ink } else { Look::Raised }} {behind} />
                <span class="arrow" aria-hidden="true">{ "↑" }</span>
            </div>
            <form {onsubmit}>
                <label>{ "Its dot numbers " }<input ref={field} type="text" aria-describedby="asked" inputmode="numeric" autocomplete="off" value={(*typed).clone()} {oninput} /></label>
                <button class="main" type="submit">{ "Answer" }</button>
            </form>
            <p role="status" class="before">{ (*said).clone() }</p>
        </div>
    }
}
