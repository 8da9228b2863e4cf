//! The first screen: one line to read, at the learner's level, and what is due.

use yew::prelude::*;

use super::data::{Stock, use_supply};
use super::from_file::OpenWork;
use super::learner::{LearnerHandle, now, seed, use_learner};
use super::practise::Practise;
use super::read_line::ReadLine;
use crate::practice::{drill, units};

/// The unit from which on texts are contracted.
fn contracted_from() -> usize {
    units::units().iter().position(|unit| unit.id == "strong-five").unwrap_or(0)
}

fn line_for(
    unit: usize,
    learner: &LearnerHandle,
    stock: &Stock,
    chance: &mut fastrand::Rng,
) -> (String, bool) {
    let contracted = unit >= contracted_from();
    let due: Vec<&str> = learner.memories.due(now()).into_iter().map(|(key, _)| key.as_str()).collect();
    let supply = stock.here().filter(|_| unit >= 3);
    let sentence = supply.and_then(|supply| supply.sentence(unit, contracted, &due, chance));
    if let Some(text) = sentence {
        return (text, contracted);
    }
    let examples = units::units().get(unit).map(|unit| unit.examples.as_slice()).unwrap_or_default();
    let pick = if examples.is_empty() { None } else { examples.get(chance.usize(..examples.len())) };
    (pick.map_or_else(|| "a cab".to_owned(), |text| (*text).to_owned()), contracted)
}

/// The room.
#[component]
pub fn Room() -> Html {
    let learner = use_learner();
    let stock = use_supply();
    let level = {
        let learner = learner.clone();
        use_state_eq(move || drill::current_unit(&learner.memories, &learner.record))
    };
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let line = {
        let (learner, stock, chance, level) = (learner.clone(), stock.clone(), chance.clone(), *level);
        use_state_eq(move || line_for(level, &learner, &stock, &mut chance.borrow_mut()))
    };
    let practising = use_state_eq(|| false);
    let turn = use_state_eq(|| 0u32);
    let go = |by: isize| {
        let (learner, stock, chance, level, line, turn) =
            (learner.clone(), stock.clone(), chance.clone(), level.clone(), line.clone(), turn.clone());
        move || {
            let to = level.saturating_add_signed(by).min(units::units().len() - 1);
            level.set(to);
            line.set(line_for(to, &learner, &stock, &mut chance.borrow_mut()));
            turn.set(*turn + 1);
        }
    };
    let on_next = {
        let go = go(0);
        Callback::from(move |()| go())
    };
    let shift = |by: isize| {
        let go = go(by);
        Callback::from(move |_: MouseEvent| go())
    };
    let due = learner.memories.due(now()).len();
    let unit = &units::units()[*level];
    let practise = {
        let practising = practising.clone();
        Callback::from(move |_: MouseEvent| practising.set(!*practising))
    };
    html! {
        <>
            <h1>{ "One line to read" }</h1>
            if let Some(trouble) = learner.trouble { <p class="alert" role="alert">{ trouble }</p> }
            <ReadLine key={*turn} print={line.0.clone()} contracted={line.1} learner={learner.clone()} {on_next} />
            <div class="controls level">
                <span>{ format!("Unit {}: {}", *level + 1, unit.title) }</span>
                <button type="button" onclick={shift(-1)} disabled={*level == 0}>{ "Easier" }</button>
                <button type="button" onclick={shift(1)} disabled={*level + 1 == units::units().len()}>{ "Harder" }</button>
            </div>
            <details>
                <summary>{ "About this unit" }</summary>
                <p>{ unit.about }</p>
                <p class="note">{ format!("Sections {}.", unit.sections.join(", ")) }</p>
            </details>
            <section class="due">
                <h2>{ "Due now" }</h2>
                <p>{ match due {
                    0 => "Nothing is due. New signs may come in.".to_owned(),
                    1 => "1 sign, less than a minute.".to_owned(),
                    n => format!("{n} signs, about {} min.", (n * 6).div_ceil(60)),
                } }</p>
                <button type="button" class="main" onclick={practise}>{ if *practising { "Put practice away" } else { "Practise" } }</button>
                if *practising { <Practise key={*level} learner={learner.clone()} unit={*level} /> }
            </section>
            <OpenWork />
        </>
    }
}
