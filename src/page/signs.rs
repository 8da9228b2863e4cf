//! The room "Signs": the chart by the seven lines of braille order, marked off as learned; printable.

use std::rc::Rc;

use yew::prelude::*;

use super::cells_line::CellsLine;
use super::learner::use_learner;
use crate::cell::Cell;
use crate::practice::due::Known;
use crate::practice::record::Event;
use crate::practice::{clues, drill, lookalike, units};
use crate::ueb::register::{self, Sign};

type Changed = yew::prelude::Event;

const LINES: [&str; 7] = [
    "First line: top two rows only",
    "Second line: with dot 3",
    "Third line: with dots 3 and 6",
    "Fourth line: with dot 6",
    "Fifth line: let down a row",
    "Sixth line",
    "Seventh line: right-hand dots, prefixes and indicators",
];

fn found(sign: &Sign, search: &str) -> bool {
    let search = search.trim().to_lowercase();
    if search.is_empty() {
        return true;
    }
    let by_dots: Option<Vec<Cell>> =
        search.split([' ', ',']).filter(|part| !part.is_empty()).map(Cell::from_dot_numbers).collect();
    by_dots.is_some_and(|cells| sign.cells == cells)
        || sign.print.to_lowercase() == search
        || (search.chars().count() > 1 && sign.name.to_lowercase().contains(&search))
}

/// The room.
#[component]
pub fn Room() -> Html {
    let learner = use_learner();
    let search = use_state_eq(String::new);
    let unlearned = use_state_eq(|| false);
    let by_unit = use_state_eq(|| false);
    let chosen = use_state_eq(|| None::<&'static str>);
    let marks = learner.record.marks();
    let notes = learner.record.notes();
    let oninput = {
        let search = search.clone();
        Callback::from(move |event: InputEvent| {
            search.set(event.target_unchecked_into::<web_sys::HtmlInputElement>().value());
        })
    };
    let toggle = |what: &UseStateHandle<bool>| {
        let what = what.clone();
        Callback::from(move |_: Changed| what.set(!*what))
    };
    let print = Callback::from(|_: MouseEvent| {
        let _ = gloo::utils::window().print();
    });
    let shown: Vec<&'static Sign> = register::signs()
        .iter()
        .filter(|sign| units::unit_of(sign.key).is_some() && found(sign, &search))
        .filter(|sign| {
            !*unlearned || (learner.memories.known(sign.key) < Known::Known && !marks.contains(sign.key))
        })
        .collect();
    let groups: Vec<(String, Vec<&'static Sign>)> = if *by_unit {
        units::units()
            .iter()
            .enumerate()
            .map(|(n, unit)| {
                let signs =
                    shown.iter().copied().filter(|sign| units::unit_of(sign.key) == Some(n)).collect();
                (format!("{}. {}", n + 1, unit.title), signs)
            })
            .collect()
    } else {
        LINES
            .iter()
            .enumerate()
            .map(|(n, name)| {
                let line = |sign: &Sign| {
                    sign.cells.first().and_then(|cell| cell.order()).map(|(line, _)| usize::from(line))
                };
                ((*name).to_owned(), shown.iter().copied().filter(|sign| line(sign) == Some(n + 1)).collect())
            })
            .collect()
    };
    let detail = |sign: &'static Sign| {
        let marked = marks.contains(sign.key);
        let mark = {
            let learner = learner.clone();
            Callback::from(move |_: Changed| {
                learner.add(Event::Mark { sign: sign.key.to_owned(), on: !marked })
            })
        };
        let note = {
            let learner = learner.clone();
            Callback::from(move |event: Changed| {
                let text = event.target_unchecked_into::<web_sys::HtmlInputElement>().value();
                learner.add(Event::Note { sign: sign.key.to_owned(), text });
            })
        };
        let mirror: Vec<Cell> = sign.cells.iter().rev().map(|cell| cell.mirror()).collect();
        html! {
            <section class="sign-detail" aria-label={sign.name} key={sign.key}>
                <h2>{ drill::asked_as(sign) }</h2>
                <p><CellsLine cells={Rc::from(sign.cells.as_slice())} dot={Some(18.0)} /></p>
                <p>{ format!("{}; {}. {}", drill::dots(&sign.cells), drill::taken_as(sign.class), clues::meaning(sign)) }</p>
                <p>{ "On a slate, from the back: " }<CellsLine cells={Rc::from(mirror.as_slice())} dot={Some(8.0)} />{ format!(" {}", drill::dots(&mirror)) }</p>
                <p>{ format!("How well it is known: {}.", learner.memories.known(sign.key).name()) }</p>
                { for lookalike::of(sign).into_iter().take(4).map(|(other, how)| html! {
                    <p class="note">{ format!("Looks like {} ({}): {}.", drill::asked_as(other), drill::dots(&other.cells), how.name()) }</p>
                }) }
                if let Some(unit) = units::unit_of(sign.key).and_then(|n| units::units().get(n)) {
                    <p class="note">{ format!("Unit: {}. For example: {}", unit.title, unit.examples.join("; ")) }</p>
                }
                <label class="check"><input type="checkbox" checked={marked} onchange={mark} />{ "Learned elsewhere" }</label>
                <p><label>{ "Note " }<input type="text" value={notes.get(sign.key).cloned().unwrap_or_default()} onchange={note} /></label></p>
            </section>
        }
    };
    html! {
        <>
            <h1>{ "Signs" }</h1>
            <div class="controls">
                <label>{ "Find by print, name or dot numbers " }<input type="search" value={(*search).clone()} {oninput} /></label>
                <label class="check"><input type="checkbox" checked={*unlearned} onchange={toggle(&unlearned)} />{ "Only signs not known yet" }</label>
                <label class="check"><input type="checkbox" checked={*by_unit} onchange={toggle(&by_unit)} />{ "In the order of the units" }</label>
                <button type="button" onclick={print}>{ "Print this chart" }</button>
            </div>
            <p class="note" role="status">{ format!("{} signs", shown.len()) }</p>
            { for chosen.and_then(register::by_key).map(detail) }
            { for groups.iter().filter(|(_, signs)| !signs.is_empty()).map(|(name, signs)| html! {
                <section class="chart" key={name.clone()}>
                    <h2>{ name }</h2>
                    <ul>{ for signs.iter().map(|&sign| {
                        let pick = {
                            let chosen = chosen.clone();
                            Callback::from(move |_: MouseEvent| chosen.set(if *chosen == Some(sign.key) { None } else { Some(sign.key) }))
                        };
                        let known = learner.memories.known(sign.key);
                        let bar = match known { Known::New => "new", Known::Fresh => "fresh", _ => "known-well" };
                        html! {
                            <li><button type="button" class={classes!(marks.contains(sign.key).then_some("marked"))} onclick={pick} aria-pressed={(*chosen == Some(sign.key)).to_string()}>
                                <CellsLine cells={Rc::from(sign.cells.as_slice())} dot={Some(8.0)} />
                                <span class="means">{ if sign.print.is_empty() { sign.name } else { sign.print } }</span>
                                <span class={classes!("known", bar)}>{ if marks.contains(sign.key) { "marked" } else { known.name() } }</span>
                            </button></li>
                        }
                    }) }</ul>
                </section>
            }) }
        </>
    }
}
