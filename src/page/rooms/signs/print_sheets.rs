//! Reference sheets and flash cards, as they go to the printer: black on white, seen on the page before.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell::Cell;
use crate::keys::slate_order;
use crate::order::Set;
use crate::page::browser::held::{Held, use_held};
use crate::page::learner::journal::LearnerHandle;
use crate::page::widgets::cells_line::{self, CellsLine};
use crate::practice::{drill, units};
use crate::ueb::back::older_signs;
use crate::ueb::register::{self, Sign};

/// The seven lines of braille order by what they have in common (1.1.2).
pub const LINES: [&str; 7] = [
    "First line: no dot 3, no dot 6",
    "Second line: with dot 3",
    "Third line: with dots 3 and 6",
    "Fourth line: with dot 6",
    "Fifth line: let down a row",
    "Sixth line: the others with dot 3",
    "Seventh line: right-hand dots, prefixes and indicators",
];

/// What stands at a sign that was ticked, on the screen and on paper.
pub const TICKED: &str = "✓ ticked";

/// What is printed.
#[derive(Clone, Copy, PartialEq, Eq)]
enum What {
    Basics,
    Full,
    Unlearned,
    Shown,
    Own,
    Older,
    Cards,
}

const WHATS: [(What, &str); 7] = [
    (What::Basics, "The basics, on one page"),
    (What::Full, "All signs of the course"),
    (What::Unlearned, "Only signs not known yet"),
    (What::Shown, "The signs shown in the chart now"),
    (What::Own, "Signs of my own"),
    (What::Older, "Signs of older American books"),
    (What::Cards, "Flash cards of the signs shown now"),
];

/// Units whose signs make the page of basics.
const BASICS: [&str; 5] = ["a-to-j", "k-to-t", "u-to-z", "first-marks", "more-marks"];
/// Flash cards in a row and on a page.
const ROW: usize = 2;
const PAGE: usize = 8;

/// What can be printed.
#[derive(Properties, PartialEq)]
pub struct PrintSheetsProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// The keys of the signs that the chart shows.
    pub shown: Rc<Vec<&'static str>>,
}

fn line_of(sign: &Sign) -> usize {
    sign.cells.first().and_then(|cell| cell.order()).map_or(0, |(line, _)| usize::from(line))
}

/// The sheets: chosen, seen, printed.
#[component]
pub fn PrintSheets(props: &PrintSheetsProps) -> Html {
    let what = use_held(|| What::Basics);
    let ticks = use_held(|| true);
    let slate = use_held(bool::default);
    let rows = use_held(|| true);
    let marks = props.learner.record.marks();
    let known = props.learner.knows();
    let taught = || register::signs().iter().filter(|sign| units::unit_of(sign.key).is_some());
    let basics = || {
        let numbers = |sign: &&Sign| sign.key == "numeric indicator" || sign.key.starts_with("digit ");
        let unit =
            |sign: &&Sign| units::unit_of(sign.key).is_some_and(|n| BASICS.contains(&units::units()[n].id));
        taught().filter(move |sign| unit(sign) || numbers(sign))
    };
    let signs: Vec<&'static Sign> = match *what {
        What::Basics => basics().collect(),
        What::Full => taught().collect(),
        What::Unlearned => taught().filter(|sign| !known(sign.key)).collect(),
        What::Shown | What::Cards => props.shown.iter().filter_map(|key| register::by_key(key)).collect(),
        What::Own | What::Older => Vec::new(),
    };
    let choose = {
        let what = what.clone();
        Callback::from(move |event: Event| {
            let select: web_sys::HtmlSelectElement = event.target_unchecked_into();
            let at = usize::try_from(select.selected_index()).unwrap_or(0);
            what.set(WHATS.get(at).map_or(What::Basics, |(what, _)| *what));
        })
    };
    let toggle = |state: &Held<bool>| {
        let state = state.clone();
        Callback::from(move |_: Event| state.set(!*state))
    };
    let print = Callback::from(|_: MouseEvent| {
        let _ = gloo::utils::window().print();
    });
    let ticked = if *ticks { marks.clone() } else { Set::default() };
    html! {
        <section class="printing" aria-label="Print">
            <div class="controls">
                <label>{ "Sheet " }<select onchange={choose}>{ for WHATS.iter().map(|(one, name)| html! { <option selected={*one == *what}>{ *name }</option> }) }</select></label>
                <label class="check"><input type="checkbox" checked={*slate} onchange={toggle(&slate)} />{ "For the slate" }</label>
                <label class="check"><input type="checkbox" checked={*ticks} onchange={toggle(&ticks)} />{ "With my ticks" }</label>
                <label class="check"><input type="checkbox" checked={*rows} onchange={toggle(&rows)} />{ "Blank rows" }</label>
                <button type="button" class="main" onclick={print}>{ "Print it" }</button>
            </div>
            if *what == What::Cards {
                <p class="note">{ "Print on both sides, turned over on the long edge, at 100%: each meaning lies behind its sign." }</p>
            }
            <div class="on-paper">
                { match *what {
                    What::Cards => cards(&signs, *slate),
                    What::Older => older_sheet(*slate),
                    What::Own => own_sheet(&props.learner, *slate, *rows),
                    _ => sheet(&signs, *what, &ticked, *slate, *rows),
                } }
            </div>
        </section>
    }
}

fn drawn(cells: &[Cell], slate: bool) -> Html {
    let cells = if slate { slate_order(cells) } else { cells.to_vec() };
    html! { <CellsLine cells={Rc::from(cells)} dot={Some(5.0)} /> }
}

fn short(sign: &Sign) -> String {
    if sign.print.is_empty() || sign.key.starts_with("numeric indicator before") {
        sign.name.to_owned()
    } else {
        sign.print.to_owned()
    }
}

fn entry(sign: &Sign, ticked: bool, slate: bool) -> Html {
    html! {
        <li>
            { drawn(&sign.cells, slate) }
            <span><strong>{ short(sign) }</strong>
            { for sign.cells.iter().map(|cell| html! { <>{ " " }<span class="together">{ cell.dot_numbers() }</span></> }) }
            if sign.class.is_contraction() { <small>{ format!(" {}", sign.class.name()) }</small> }
            if ticked { <small>{ " " }{ TICKED }</small> }</span>
        </li>
    }
}

fn blank_rows(count: usize) -> Html {
    html! {
        <section class="blank-rows">
            <h3>{ "Met elsewhere" }</h3>
            <ul>{ for (0..count).map(|_| html! { <li><span class="empty-cell"></span><span class="empty-line"></span></li> }) }</ul>
        </section>
    }
}

fn sheet(signs: &[&'static Sign], what: What, ticked: &Set<String>, slate: bool, rows: bool) -> Html {
    let one_page = what == What::Basics;
    let title = match what {
        What::Basics => "The basics",
        What::Unlearned => "Signs still to learn",
        What::Shown => "Signs",
        _ => "All signs of the course",
    };
    html! {
        <article class={classes!("reference", one_page.then_some("one-page"))}>
            <h2>{ format!("{title}{}", if slate { ", as punched on a slate: from the back, right to left" } else { "" }) }</h2>
            { for (1..=7).filter_map(|line| {
                let here: Vec<&&Sign> = signs.iter().filter(|sign| line_of(sign) == line).collect();
                (!here.is_empty()).then(|| html! {
                    <section>
                        <h3>{ LINES[line - 1] }</h3>
                        <ul>{ for here.into_iter().map(|sign| entry(sign, ticked.contains(sign.key), slate)) }</ul>
                    </section>
                })
            }) }
            if rows { { blank_rows(if one_page { 4 } else { 12 }) } }
        </article>
    }
}

/// The signs that UEB dropped, on a sheet of their own.
fn older_sheet(slate: bool) -> Html {
    html! {
        <article class="reference">
            <h2>{ "Signs of older American books (section 1.3): to read, never to write" }</h2>
            <ul>{ for older_signs().map(|(cells, print, place, section)| html! {
                <li>{ drawn(cells, slate) }<span><strong>{ print }</strong>{ format!(" {}; {place} ({section})", cells_line::numbers(cells)) }</span></li>
            }) }</ul>
        </article>
    }
}

fn own_sheet(learner: &LearnerHandle, slate: bool, rows: bool) -> Html {
    let own = learner.record.own_signs();
    html! {
        <article class="reference">
            <h2>{ "Signs of my own: not of the standard" }</h2>
            if own.is_empty() { <p>{ "There are none yet. Add them in the Signs room." }</p> }
            <ul>{ for own.iter().map(|(numbers, meaning)| {
                let cells: Vec<Cell> = numbers.split(' ').filter_map(Cell::from_dot_numbers).collect();
                html! { <li>{ drawn(&cells, slate) }<span><strong>{ meaning }</strong>{ format!(" {numbers}") }</span></li> }
            }) }</ul>
            if rows { { blank_rows(12) } }
        </article>
    }
}

/// Pages of signs and pages of meanings in turn; in each row the meanings run the other way, so that they lie behind
/// their signs when the sheet is turned over on its long edge.
fn cards(signs: &[&'static Sign], slate: bool) -> Html {
    html! {
        { for signs.chunks(PAGE).map(|page| {
            let backs = page.chunks(ROW).flat_map(|row| {
                let empty = std::iter::repeat_n(None, ROW - row.len());
                empty.chain(row.iter().rev().map(|sign| Some(*sign))).collect::<Vec<_>>()
            });
            html! {
                <>
                    <div class="cards">{ for page.iter().map(|sign| html! {
                        <div class="card-face"><CellsLine cells={Rc::from(if slate { slate_order(&sign.cells) } else { sign.cells.clone() })} dot={Some(14.0)} /></div>
                    }) }</div>
                    <div class="cards">{ for backs.map(|sign| html! {
                        <div class="card-face">
                            if let Some(sign) = sign {
                                <strong>{ short(sign) }</strong>
                                <span>{ format!("{} ({}), section {}", drill::taken_as(sign.class), cells_line::numbers(&sign.cells), sign.section) }</span>
                            }
                        </div>
                    }) }</div>
                </>
            }
        }) }
    }
}
