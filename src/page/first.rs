//! The first screen: one line to read, at the learner's level, a cell to write, and what is due.

use std::rc::Rc;

use yew::prelude::*;

use super::course::Course;
use super::data::{Stock, use_supply_after};
use super::from_file::{self, OpenWork};
use super::halves::{AFTER_THE_FIRST_FRAME, Elsewhere, Later, WHOLE, take_then};
use super::held::use_held;
use super::learner::{self, LearnerHandle, now, seed, use_learner};
use super::practise::{Asked, Practise};
use super::read_line::ReadLine;
use super::route;
use super::store;
use super::try_cell::TryCell;
use crate::cell::{self, Cell};
use crate::practice::{choose, units};

/// What is to be read, and its braille.
#[derive(Clone, PartialEq)]
struct Line {
    print: String,
    cells: Rc<[Cell]>,
    contracted: bool,
}

/// The unit from which on texts are contracted.
fn contracted_from() -> usize {
    units::units().iter().position(|unit| unit.id == "strong-five").unwrap_or(0)
}

fn line_for(unit: usize, learner: &LearnerHandle, stock: &Stock, chance: &mut fastrand::Rng) -> Line {
    let contracted = unit >= contracted_from();
    let due: Vec<&str> = learner.memories.due(now()).into_iter().map(|(key, _)| key.as_str()).collect();
    let supply = stock.here().filter(|_| unit >= 3);
    // Words of the list while there is no sentence yet, now and then an example of the unit's own.
    let found = supply.and_then(|supply| supply.sentence(unit, contracted, &due, chance)).or_else(|| {
        let supply = stock.here().filter(|_| chance.bool())?;
        supply.word(unit, contracted, &due, chance).map(str::to_owned)
    });
    let (print, cells) = found
        .and_then(|print| {
            let cells = stock.here()?.cells(&print, contracted)?;
            Some((print, cells))
        })
        .or_else(|| {
            let unit = units::units().get(unit)?;
            let (print, braille) = unit.example(chance.usize(..unit.examples.len().max(1)))?;
            Some((print.to_owned(), cell::from_ascii(braille)?))
        })
        .unwrap_or_else(|| ("a cab".to_owned(), cell::from_ascii("a cab").unwrap_or_default()));
    Line { print, cells: cells.into(), contracted }
}

/// Where the learner has chosen to be in the course, as this browser keeps it.
const START: &str = "unit";

fn start(learner: &LearnerHandle) -> usize {
    let reached = choose::current_unit(&learner.memories, &learner.record);
    store::load::<usize>(START, 1).map_or(reached, |chosen| chosen.max(reached)).min(units::units().len() - 1)
}

/// The room.
#[component]
pub fn Room() -> Html {
    let learner = use_learner();
    // The first line comes with the page, the others follow.
    let stock = use_supply_after(AFTER_THE_FIRST_FRAME);
    let level = {
        let learner = learner.clone();
        use_held(move || start(&learner))
    };
    let chance = use_mut_ref(|| fastrand::Rng::with_seed(seed()));
    let line = {
        let (learner, stock, chance, level) = (learner.clone(), stock.clone(), chance.clone(), *level);
        use_held(move || line_for(level, &learner, &stock, &mut chance.borrow_mut()))
    };
    let asked = use_held(Asked::now);
    let practising = use_held(|| take_then("practise") || asked.is_some());
    let course = use_held(|| take_then("course"));
    let toggle_course = {
        let course = course.clone();
        Callback::from(move |_: MouseEvent| course.set(!*course))
    };
    let said = use_held(String::new);
    let turn = use_held(u32::default);
    let to = {
        let (learner, stock, chance, level, line, turn) =
            (learner.clone(), stock.clone(), chance.clone(), level.clone(), line.clone(), turn.clone());
        move |unit: usize| {
            let unit = unit.min(units::units().len() - 1);
            level.set(unit);
            line.set(line_for(unit, &learner, &stock, &mut chance.borrow_mut()));
            turn.set(*turn + 1);
        }
    };
    let on_next = {
        let (to, level, said) = (to.clone(), *level, said.clone());
        Callback::from(move |(_, says): (bool, String)| {
            said.set(says);
            to(level);
        })
    };
    let choose = {
        let (to, said) = (to.clone(), said.clone());
        Callback::from(move |unit: usize| {
            // Kept if the browser keeps anything; it holds for this visit in any case.
            let _ = store::save(START, 1, &unit);
            said.set(String::new());
            to(unit);
        })
    };
    let shift = |by: isize| {
        let (choose, level) = (choose.clone(), *level);
        Callback::from(move |_: MouseEvent| choose.emit(level.saturating_add_signed(by)))
    };
    let due = learner.memories.due(now()).len();
    let unit = &units::units()[*level];
    let practise = {
        let (practising, asked) = (practising.clone(), asked.clone());
        Callback::from(move |_: MouseEvent| {
            if asked.is_some() {
                asked.set(None);
                route::go("#/");
            }
            practising.set(!*practising);
        })
    };
    let trouble = html! { if let Some(trouble) = learner.trouble { { learner::told(trouble) } } };
    if *practising {
        return html! {
            <>
                <h1>{ "Practise" }</h1>
                { trouble }
                if !WHOLE { <Elsewhere then="practise" /> } else { <Practise key={*level} learner={learner.clone()} unit={*level} asked={(*asked).clone()} /> }
                <p><button type="button" class="quiet" onclick={practise}>{ "Back to the line" }</button></p>
            </>
        };
    }
    html! {
        <>
            <h1>{ "One line to read" }</h1>
            { trouble }
            <ReadLine key={*turn} print={line.print.clone()} cells={line.cells.clone()} contracted={line.contracted} focus={*turn > 0} learner={learner.clone()} {on_next} />
            <div class="controls level">
                <span>{ format!("Unit {}: {}", *level + 1, unit.title) }</span>
                <button type="button" onclick={shift(-1)} disabled={*level == 0}>{ "Easier" }</button>
                <button type="button" onclick={shift(1)} disabled={*level + 1 == units::units().len()}>{ "Harder" }</button>
                <p role="status" class="before">{ (*said).clone() }</p>
            </div>
            <div class="next">
            <TryCell contracted={line.contracted} />
            <section class="due">
                <h2>{ "Due now" }</h2>
                <p>{ match due {
                    0 => "Nothing is due: practise to meet new signs.".to_owned(),
                    1 => "1 sign, less than a minute.".to_owned(),
                    n => format!("{n} signs, about {} min.", (n * 6).div_ceil(60)),
                } }</p>
                <button type="button" class="main" onclick={practise}>{ "Practise" }</button>
            </section>
            </div>
            <section class="units">
                <button type="button" class="quiet" aria-expanded={(*course).to_string()} onclick={toggle_course}>{ "The course: all units" }</button>
                if *course && !WHOLE { <Elsewhere then="course" /> }
                if *course && WHOLE { <Course learner={learner.clone()} unit={*level} on_start={choose} /> }
            </section>
            if WHOLE { <OpenWork /> } else { <Later summary={from_file::LINE} then="open" /> }
        </>
    }
}
