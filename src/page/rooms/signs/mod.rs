//! The room "Signs": the chart by the seven lines of braille order, ticked as learned; printable.

pub mod print_sheets;

use std::iter::successors;
use std::rc::Rc;

use wasm_bindgen::JsCast as _;
use web_sys::{DomRect, Element, HtmlElement};
use yew::prelude::*;

use crate::cell::Cell;
use crate::keys::slate_order;
use crate::page::browser::held::{Held, use_held};
use crate::page::learner::journal::{LearnerHandle, use_learner};
use crate::page::rooms::signs::print_sheets::{LINES, PrintSheets, TICKED};
use crate::page::surface::braille_input::BrailleInput;
use crate::page::surface::written::Written;
use crate::page::widgets::cells_line::{self, CellsLine};
use crate::page::widgets::fields::text_of;
use crate::practice::due::Known;
use crate::practice::record::{Direction, Event};
use crate::practice::{chart, clues, drill, lookalike, units};
use crate::ueb::register::{self, Sign};

type Changed = yew::prelude::Event;

/// The arrow keys in the chart: to the sign before or after, or to the nearest of the row above or below; Home and End.
fn move_in_chart(event: KeyboardEvent) {
    if event.ctrl_key() || event.alt_key() || event.meta_key() || event.shift_key() {
        return;
    }
    let Some(from) = event.target_dyn_into::<Element>() else { return };
    let Some(charts) = from.closest(".charts").ok().flatten() else { return };
    let within = |of: Element| successors(of.first_element_child(), Element::next_element_sibling);
    // Its sections, their lists, the tiles in them, the signs.
    let all: Vec<Element> = within(charts)
        .flat_map(within)
        .flat_map(within)
        .flat_map(within)
        .filter(|one| one.tag_name() == "BUTTON")
        .collect();
    let Some(at) = all.iter().position(|one| *one == from) else { return };
    let boxes = || all.iter().map(Element::get_bounding_client_rect);
    let here = from.get_bounding_client_rect();
    // Of the signs above or below, those of the nearest row; of these the one straight above or below, or nearest to it.
    let beyond = |down: bool| {
        let away = |there: &DomRect| if down { there.top() - here.top() } else { here.top() - there.top() };
        let row = boxes().map(|there| away(&there)).filter(|away| *away > 1.0).min_by(f64::total_cmp)?;
        let in_row = boxes().enumerate().filter(|(_, there)| (away(there) - row).abs() < 1.0);
        let nearest = in_row.map(|(n, there)| (n, (there.left() - here.left()).abs()));
        nearest.min_by(|one, other| one.1.total_cmp(&other.1)).map(|(n, _)| n)
    };
    let to = match event.key().as_str() {
        "ArrowLeft" => at.checked_sub(1),
        "ArrowRight" => Some(at + 1),
        "ArrowUp" => beyond(false),
        "ArrowDown" => beyond(true),
        "Home" => Some(0),
        "End" => Some(all.len() - 1),
        _ => return,
    };
    event.prevent_default();
    if let Some(to) = to.and_then(|to| all.get(to)?.dyn_ref::<HtmlElement>()) {
        let _ = to.focus();
    }
}

/// The room.
#[component]
pub fn Room() -> Html {
    let learner = use_learner();
    let search = use_held(String::new);
    let keys = use_held(bool::default);
    let unlearned = use_held(bool::default);
    let by_unit = use_held(bool::default);
    let by_click = use_held(bool::default);
    let printing = use_held(bool::default);
    let chosen = use_held(Option::<&'static str>::default);
    let visited = use_held(Option::<&'static str>::default);
    let marks = learner.record.marks();
    let notes = learner.record.notes();
    let oninput = {
        let search = search.clone();
        Callback::from(move |event: InputEvent| search.set(text_of(&event)))
    };
    let on_keys = {
        let search = search.clone();
        Callback::from(move |written: Written| {
            let cells: Vec<Cell> = written.cells().into_iter().flatten().filter(|c| !c.is_blank()).collect();
            search.set(cells_line::numbers(&cells));
        })
    };
    let toggle = |what: &Held<bool>| {
        let what = what.clone();
        Callback::from(move |_: Changed| what.set(!*what))
    };
    let print = {
        let printing = printing.clone();
        Callback::from(move |_: MouseEvent| printing.set(!*printing))
    };
    // With something looked for, every sign of the register is found, the course's or not: the sign itself first.
    let searching = !search.trim().is_empty();
    let wanted = |sign: &&'static Sign| {
        !*unlearned || (learner.memories.known(sign.key) < Known::Known && !marks.contains(sign.key))
    };
    let shown: Vec<&'static Sign> = if searching {
        chart::find(&search).into_iter().filter(wanted).collect()
    } else {
        register::signs().iter().filter(|sign| units::unit_of(sign.key).is_some()).filter(wanted).collect()
    };
    let groups: Vec<(String, Vec<&'static Sign>)> = if searching {
        vec![("Found, the nearest first".to_owned(), shown.clone())]
    } else if *by_unit {
        let of = |n: usize| shown.iter().copied().filter(|s| units::unit_of(s.key) == Some(n)).collect();
        let units = units::units().iter().enumerate();
        units.map(|(n, unit)| (format!("{}. {}", n + 1, unit.title), of(n))).collect()
    } else {
        let line = |sign: &Sign| sign.cells.first().and_then(|c| c.order()).map_or(0, |(line, _)| line);
        let of = |n: u8| shown.iter().copied().filter(|sign| line(sign) == n).collect();
        (1u8..).zip(LINES).map(|(n, name)| (name.to_owned(), of(n))).collect()
    };
    // The chart is one stop for Tab: at the sign last visited, or its first.
    let in_order = || groups.iter().flat_map(|(_, signs)| signs.iter().copied());
    let stop =
        in_order().find(|sign| *visited == Some(sign.key)).or_else(|| in_order().next()).map(|sign| sign.key);
    html! {
        <>
            <h1>{ "Signs" }</h1>
            <div class="controls">
                <label>{ "Find by print, name or dot numbers " }<input type="search" value={(*search).clone()} {oninput} /></label>
                <label class="check"><input type="checkbox" checked={*keys} onchange={toggle(&keys)} />{ "Find with six keys" }</label>
                <label class="check"><input type="checkbox" checked={*unlearned} onchange={toggle(&unlearned)} />{ "Only signs not known yet" }</label>
                <label class="check"><input type="checkbox" checked={*by_unit} onchange={toggle(&by_unit)} />{ "In the order of the units" }</label>
                <label class="check"><input type="checkbox" checked={*by_click} onchange={toggle(&by_click)} />{ "A click ticks a sign as learned" }</label>
                <button type="button" aria-expanded={(*printing).to_string()} onclick={print}>{ if *printing { "Back to the chart" } else { "Print sheets and cards" } }</button>
            </div>
            if *keys { <BrailleInput reads={false} drill=true autofocus=true on_change={on_keys} /> }
            <p class="note"><span role="status">{ format!("{} signs, {} ticked", shown.len(), marks.len()) }</span>{ ". In the chart the arrow keys go from sign to sign." }</p>
            if *printing {
                <PrintSheets learner={learner.clone()} shown={Rc::new(shown.iter().map(|sign| sign.key).collect::<Vec<_>>())} />
            } else {
                // What is opened is told in a word.
                <p class="sr" role="status" aria-label="Sign">{ chosen.and_then(register::by_key).map(opened).unwrap_or_default() }</p>
                <div class="charts" onkeydown={Callback::from(move_in_chart)}>
                if let Some(cells) = chart::no_sign_alone(&search) {
                    <p class="no-sign-alone"><CellsLine cells={Rc::<[Cell]>::from(cells)} dot={Some(8.0)} />{ format!(" {}: no sign alone, but a part of signs.", search.trim()) }</p>
                }
                { for groups.iter().filter(|(_, signs)| !signs.is_empty()).map(|(name, signs)| html! {
                    <section class="chart" key={name.clone()}>
                        <h2>{ name }</h2>
                        <ul>{ for chart::by_cells(signs).into_iter().map(|tile| {
                            let meaning = |sign: &'static Sign| {
                                let marked = marks.contains(sign.key);
                                let pick = {
                                    let (chosen, learner, by_click) = (chosen.clone(), learner.clone(), *by_click);
                                    Callback::from(move |_: MouseEvent| {
                                        if by_click {
                                            learner.add(Event::Mark { sign: sign.key.to_owned(), on: !marked });
                                        } else {
                                            chosen.set(if *chosen == Some(sign.key) { None } else { Some(sign.key) });
                                        }
                                    })
                                };
                                let on_visit = { let visited = visited.clone(); Callback::from(move |_: FocusEvent| visited.set(Some(sign.key))) };
                                html! { <Entry key={sign.key} sign={sign.key} stop={stop == Some(sign.key)} {on_visit} {marked} known={learner.memories.known(sign.key)} chosen={*chosen == Some(sign.key)} onclick={pick} /> }
                            };
                            // What is told of a sign follows right after its tile.
                            let told = tile.iter().copied().find(|sign| *chosen == Some(sign.key));
                            html! {
                                <>
                                    <li class="tile" key={tile[0].key}>
                                        <CellsLine cells={Rc::from(tile[0].cells.as_slice())} dot={Some(8.0)} />
                                        { for tile.iter().copied().map(meaning) }
                                    </li>
                                    { for told.map(|sign| html! {
                                        <li class="detail" key={format!("{} in full", sign.key)}>
                                            <Detail key_of={sign.key} learner={learner.clone()} marked={marks.contains(sign.key)} note={notes.get(sign.key).cloned().unwrap_or_default()} />
                                        </li>
                                    }) }
                                </>
                            }
                        }) }</ul>
                    </section>
                }) }
                </div>
                <OwnSigns learner={learner.clone()} />
            }
        </>
    }
}

#[derive(Properties, PartialEq)]
struct EntryProps {
    sign: &'static str,
    /// Tab stops here.
    stop: bool,
    on_visit: Callback<FocusEvent>,
    marked: bool,
    known: Known,
    chosen: bool,
    onclick: Callback<MouseEvent>,
}

/// One sign in the chart.
#[component]
fn Entry(props: &EntryProps) -> Html {
    let Some(sign) = register::by_key(props.sign) else { return html! {} };
    let bar = match props.known {
        Known::New => "new",
        Known::Fresh => "fresh",
        _ => "known-well",
    };
    html! {
        <button type="button" tabindex={if props.stop { "0" } else { "-1" }} onfocus={props.on_visit.clone()} onclick={props.onclick.clone()} aria-pressed={props.chosen.to_string()}>
            <span class="sr">{ drill::dots(&sign.cells) }{ ": " }</span>
            <span class="means">{ if sign.print.is_empty() { sign.name } else { sign.print } }</span>
            <span class={classes!("known", bar)}>{ if props.marked { TICKED } else { props.known.name() } }</span>
        </button>
    }
}

#[derive(Properties, PartialEq)]
struct DetailProps {
    key_of: &'static str,
    learner: LearnerHandle,
    marked: bool,
    note: String,
}

/// What is told when a sign is opened.
fn opened(sign: &Sign) -> String {
    let alike: Vec<String> =
        lookalike::of(sign).into_iter().take(4).map(|(other, _)| drill::asked_as(other)).collect();
    let like = if alike.is_empty() { String::new() } else { format!(" Looks like {}.", alike.join(", ")) };
    format!(
        "{}: {}, {}. {}{like} The rest stands before the chart.",
        sentence(&cells_line::without_glyphs(&drill::asked_as(sign))),
        drill::dots(&sign.cells),
        drill::taken_as(sign.class),
        sentence(&clues::meaning(sign))
    )
}

/// With a capital at its beginning.
fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map(|first| first.to_ascii_uppercase()).into_iter().chain(chars).collect()
}

/// All there is to know about a sign.
#[component]
fn Detail(props: &DetailProps) -> Html {
    let Some(sign) = register::by_key(props.key_of) else { return html! {} };
    let (learner, marked) = (&props.learner, props.marked);
    let mark = {
        let learner = learner.clone();
        Callback::from(move |_: Changed| learner.add(Event::Mark { sign: sign.key.to_owned(), on: !marked }))
    };
    let note = {
        let learner = learner.clone();
        Callback::from(move |event: Changed| {
            let text = event.target_unchecked_into::<web_sys::HtmlInputElement>().value();
            learner.add(Event::Note { sign: sign.key.to_owned(), text });
        })
    };
    let mirror = slate_order(&sign.cells);
    let asked: Vec<(Direction, &crate::practice::due::Memory)> =
        Direction::SIGNS.into_iter().filter_map(|d| Some((d, learner.memories.get(sign.key, d)?))).collect();
    html! {
        <section class="sign-detail" aria-label={sign.name}>
            <h2>{ drill::asked_as(sign) }</h2>
            <p class="pair"><span><CellsLine cells={Rc::from(sign.cells.as_slice())} dot={Some(18.0)} /></span>
                <span>{ "Mirrored, as on a slate: " }<CellsLine cells={Rc::from(mirror.as_slice())} dot={Some(8.0)} />{ format!(" {}", drill::dots(&mirror)) }</span></p>
            <p>{ format!("{}, {}. {}", sentence(&drill::dots(&sign.cells)), drill::taken_as(sign.class), sentence(&clues::meaning(sign))) }</p>
            { for lookalike::of(sign).into_iter().take(4).map(|(other, how)| html! {
                <p class="note">{ format!("Looks like {} ({}): {}.", drill::asked_as(other), drill::dots(&other.cells), how.name()) }</p>
            }) }
            if let Some(unit) = units::unit_of(sign.key).and_then(|n| units::units().get(n)) {
                <p class="note">{ format!("Unit: {}. For example: {}", unit.title, unit.examples.join("; ")) }</p>
            }
            if asked.is_empty() {
                <p>{ "Not asked yet." }</p>
            } else {
                <table><thead><tr><th scope="col">{ "Direction" }</th><th scope="col">{ "How well" }</th><th scope="col">{ "Right" }</th></tr></thead>
                    <tbody>{ for asked.iter().map(|(direction, memory)| html! {
                        <tr><td>{ direction.name() }</td><td>{ memory.known().name() }</td><td>{ format!("{} of {}", memory.right, memory.answers) }</td></tr>
                    }) }</tbody></table>
            }
            <label class="check"><input type="checkbox" checked={marked} onchange={mark} />{ "Ticked as learned elsewhere" }</label>
            <p><label>{ "Note " }<input type="text" value={props.note.clone()} onchange={note} /></label></p>
        </section>
    }
}

#[derive(Properties, PartialEq)]
struct OwnProps {
    learner: LearnerHandle,
}

/// Signs that a book defines, kept apart from the standard's.
#[component]
fn OwnSigns(props: &OwnProps) -> Html {
    let cells = use_held(String::new);
    let meaning = use_held(String::new);
    let said = use_held(String::new);
    let own = props.learner.record.own_signs();
    let onsubmit = {
        let (cells, meaning, said, learner) =
            (cells.clone(), meaning.clone(), said.clone(), props.learner.clone());
        Callback::from(move |event: SubmitEvent| {
            event.prevent_default();
            let parts = cells.split([' ', ',']).filter(|part| !part.is_empty());
            let read: Option<Vec<Cell>> = parts.map(Cell::from_dot_numbers).collect();
            match read {
                Some(read) if !read.is_empty() && !meaning.trim().is_empty() => {
                    let numbers = cells_line::numbers(&read);
                    let taken = register::by_cells(&read).next();
                    said.set(match taken {
                        Some(sign) => format!("Added. In the standard these cells are {}.", sign.name),
                        None => "Added.".to_owned(),
                    });
                    learner.add(Event::Own { cells: numbers, meaning: meaning.trim().to_owned() });
                    cells.set(String::new());
                    meaning.set(String::new());
                }
                Some(_) => said.set("Dot numbers and a meaning are both needed.".to_owned()),
                None => {
                    said.set("Dot numbers rise from 1 to 6, a space between cells: 4-5-6 1-2.".to_owned())
                }
            }
        })
    };
    let input = |state: &Held<String>| {
        let state = state.clone();
        Callback::from(move |event: InputEvent| state.set(text_of(&event)))
    };
    html! {
        <section class="chart own-signs">
            <h2>{ "Signs of your own: what a book defines for itself" }</h2>
            <ul>{ for own.iter().map(|(numbers, meaning)| {
                let cells: Vec<Cell> = numbers.split(' ').filter_map(Cell::from_dot_numbers).collect();
                let remove = {
                    let (learner, cells) = (props.learner.clone(), numbers.clone());
                    Callback::from(move |_: MouseEvent| learner.add(Event::Own { cells: cells.clone(), meaning: String::new() }))
                };
                html! { <li><CellsLine cells={Rc::from(cells)} dot={Some(8.0)} /><span class="means">{ meaning }</span><button type="button" class="quiet" aria-label={format!("Remove {meaning}")} onclick={remove}>{ "Remove" }</button></li> }
            }) }</ul>
            <form class="controls" {onsubmit}>
                <label>{ "Dot numbers " }<input type="text" value={(*cells).clone()} oninput={input(&cells)} /></label>
                <label>{ "Meaning " }<input type="text" value={(*meaning).clone()} oninput={input(&meaning)} /></label>
                <button type="submit">{ "Add" }</button>
            </form>
            <p role="status">{ (*said).clone() }</p>
        </section>
    }
}
