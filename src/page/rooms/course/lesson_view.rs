//! The lesson of a unit: a short page to read at a table, and to print.

use std::rc::Rc;

use yew::prelude::*;

use crate::cell;
use crate::page::browser::data::{self, use_supply};
use crate::page::browser::held::use_held;
use crate::page::learner::journal::LearnerHandle;
use crate::page::learner::place::{choose_unit, place_of};
use crate::page::rooms::course::address;
use crate::page::rooms::course::check::Check;
use crate::page::rooms::course::walk_view::WalkView;
use crate::page::route;
use crate::page::widgets::cells_line::CellsLine;
use crate::practice::course::{self, Action, State};
use crate::practice::lesson::{self, Example, Lesson};
use crate::practice::shelf::{self, Listed};
use crate::practice::{drill, units};
use crate::ueb::{self, register};

/// Which lesson.
#[derive(Properties, PartialEq)]
pub struct LessonProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// The unit, by its place from 0.
    pub unit: usize,
    /// What the room shows.
    pub state: State,
    /// What is done there.
    pub act: Callback<Action>,
}

/// Lines to write that a lesson gives.
const LINES: usize = 4;

/// The lesson.
#[component]
pub fn LessonView(props: &LessonProps) -> Html {
    let stock = use_supply();
    let shelf = use_held(|| Rc::new(Vec::<Listed>::new()));
    {
        let shelf = shelf.clone();
        use_effect_with((), move |()| {
            wasm_bindgen_futures::spawn_local(async move {
                if let Some(list) = data::file("books.txt").await {
                    shelf.set(Rc::new(shelf::parse_list(&list)));
                }
            });
        });
    }
    let lines = use_memo((props.unit, stock.clone()), |(unit, stock)| {
        stock.here().map(|supply| course::lines_to_write(supply, *unit, LINES)).unwrap_or_default()
    });
    let n = props.unit;
    let (Some(unit), Some(lesson)) = (units::units().get(n), lesson::lessons().get(n)) else {
        return html! {};
    };
    let standing = course::standing(&place_of(&props.learner), &props.learner.memories, n);
    let read = course::to_read(n, &shelf, stock.here().map(Rc::as_ref));
    let last = units::units().len() - 1;
    let check = |on: bool| {
        let act = props.act.clone();
        Callback::from(move |_: MouseEvent| act.emit(Action::Check(on)))
    };
    let start = Callback::from(move |_: MouseEvent| choose_unit(n));
    let print = Callback::from(|_: MouseEvent| {
        let _ = gloo::utils::window().print();
    });
    html! {
        <article class="lesson">
            <nav class="controls" aria-label="Units">
                <a href="#/course">{ "All units" }</a>
                if n > 0 { <a href={address(n - 1)} rel="prev">{ format!("Unit {n}") }</a> }
                if n < last { <a href={address(n + 1)} rel="next">{ format!("Unit {}", n + 2) }</a> }
            </nav>
            <h1>{ format!("Unit {}: {}", n + 1, unit.title) }</h1>
            <p class="note">{ if standing.here { format!("You are here: {}.", standing.words()) } else { format!("{}.", sentence(&standing.words())) } }</p>
            <div class="controls">
                <a class="button main" href={route::session(Some(n))} onclick={start}>{ "Start here" }</a>
                if !unit.signs.is_empty() && !props.state.checks {
                    <button type="button" onclick={check(true)}>{ "I know this: a short check" }</button>
                }
                <button type="button" class="quiet" onclick={print}>{ "Print this lesson" }</button>
            </div>
            if props.state.checks {
                <Check learner={props.learner.clone()} unit={n} on_done={props.act.reform(|()| Action::Check(false))} />
            }
            <p class="about">{ unit.about }</p>
            { signs(unit) }
            <h2>{ "The rules" }</h2>
            <ul class="rules">{ for lesson.rules.iter().map(|(section, says)| html! {
                <li>{ *says }{ " " }<span class="note">{ format!("Section {section}") }</span></li>
            }) }</ul>
            { examples(props, lesson) }
            if !read.is_empty() {
                <h2>{ "To read" }</h2>
                <ul>{ for read.iter().map(|(title, what)| html! {
                    <li><a href={format!("#/read?text={}", escaped(title))}>{ title }</a>{ format!(", {what}") }</li>
                }) }</ul>
            }
            if !lines.is_empty() {
                <h2>{ "To write" }</h2>
                <ul>{ for lines.iter().map(|line| html! {
                    <li><a class="serif" href={format!("#/write?copy={}&braille={}", escaped(line), if lesson::options(n).contracted { "contracted" } else { "uncontracted" })}>{ line }</a></li>
                }) }</ul>
            }
        </article>
    }
}

/// With a capital at its beginning.
fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map(|first| first.to_ascii_uppercase()).into_iter().chain(chars).collect()
}

fn escaped(text: &str) -> String {
    String::from(web_sys::js_sys::encode_uri_component(text))
}

/// The signs of the unit, drawn large.
fn signs(unit: &units::Unit) -> Html {
    if unit.signs.is_empty() {
        return html! {};
    }
    html! {
        <ul class="lesson-signs" aria-label="Signs of this unit">
            { for unit.signs.iter().filter_map(|key| register::by_key(key)).map(|sign| html! {
                <li>
                    <CellsLine cells={Rc::from(sign.cells.as_slice())} dot={Some(14.0)} />
                    <span class="means">{ if sign.print.is_empty() { sign.name } else { sign.print } }</span>
                    if !sign.print.is_empty() { <span class="kind">{ if sign.class.is_contraction() { sign.class.name() } else { sign.name } }</span> }
                    <span class="dots-of">{ drill::dots(&sign.cells) }</span>
                </li>
            }) }
        </ul>
    }
}

/// The examples, and what looks like one and is none.
fn examples(props: &LessonProps, lesson: &Lesson) -> Html {
    let options = lesson::options(props.unit);
    let example = |at: usize, example: &Example| {
        let cells = ueb::transcribe(example.print, &options);
        let walks = props.state.walk.filter(|(which, _)| *which == at);
        let act = props.act.clone();
        let onclick = Callback::from(move |_: MouseEvent| act.emit(Action::Walk(at)));
        let does = if walks.is_some() { "Put the walk away" } else { "Walk through it" };
        html! {
            <li>
                <p class="print">{ ueb_print(example.print) }</p>
                if let Some((_, step)) = walks {
                    <WalkView print={example.print} unit={props.unit} {step} act={props.act.clone()} />
                } else {
                    <p class="scroll"><CellsLine cells={Rc::<[cell::Cell]>::from(cells)} dot={Some(8.0)} /></p>
                }
                <p>{ example.note }</p>
                <button type="button" class="quiet no-print" aria-expanded={walks.is_some().to_string()}
                    aria-label={format!("{does}: {}", example.print)} {onclick}>{ does }</button>
            </li>
        }
    };
    html! {
        <>
            <h2>{ "Examples" }</h2>
            <ol class="examples">{ for lesson.shows.iter().enumerate().map(|(at, one)| example(at, one)) }</ol>
            if !lesson.not.is_empty() {
                <h2>{ "Looks like it, and is not" }</h2>
                <ol class="examples">{ for lesson.not.iter().enumerate().map(|(at, one)| example(at + lesson.shows.len(), one)) }</ol>
            }
        </>
    }
}

/// Print without the marks that stand for a change of type.
fn ueb_print(print: &str) -> String {
    if print.starts_with('*') { print.replace('*', "") } else { print.to_owned() }
}
