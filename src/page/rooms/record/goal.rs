//! Towards a goal that the learner chooses: how far, how quick, and when it is reached at this pace.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::clock::{local_day, now};
use crate::page::browser::data;
use crate::page::browser::held::use_held;
use crate::page::browser::store;
use crate::page::learner::journal::LearnerHandle;
use crate::page::learner::place::place_of;
use crate::practice::figures;
use crate::practice::progress::{self, Forecast, Goal, Progress, Towards};
use crate::practice::shelf::{self, Listed};
use crate::practice::units;

/// Under which name the goal is kept.
const KEY: &str = "goal";

/// The speeds to choose from, in words a minute.
const SPEEDS: [u32; 6] = [10, 20, 40, 60, 80, 120];

/// Whose way it is.
#[derive(Properties, PartialEq)]
pub struct GoalProps {
    /// The learner.
    pub learner: LearnerHandle,
}

/// The goal, how far it is reached, and the way so far.
#[component]
pub fn GoalView(props: &GoalProps) -> Html {
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
    let goal = use_held(|| store::load_any::<String>(KEY, 1).and_then(|kept| Goal::from_text(&kept)));
    let learner = &props.learner;
    let today = local_day()(now());
    let way = use_memo((learner.record.len(), today), |_| progress::of(&learner.record, today, local_day()));
    let choose = {
        let goal = goal.clone();
        Callback::from(move |event: Event| {
            let chosen = event.target_unchecked_into::<web_sys::HtmlSelectElement>().value();
            // Kept if the browser keeps anything; it holds for this visit in any case.
            let _ = store::save_any(KEY, 1, &chosen);
            goal.set(Goal::from_text(&chosen));
        })
    };
    let option = |one: Goal, name: String| {
        let selected = goal.as_ref() == Some(&one);
        html! { <option value={one.to_text()} {selected}>{ name }</option> }
    };
    let towards = goal.as_ref().map(|goal| {
        let signs = |title: &str| {
            let book = shelf.iter().find(|book| book.head.title == title);
            book.map(|book| book.signs.iter().copied().filter(|key| *key != "space").collect())
                .unwrap_or_default()
        };
        progress::towards(goal, &way, &place_of(learner), &learner.memories, signs, today)
    });
    html! {
        <section class="goal">
            <h2>{ "My goal" }</h2>
            <div class="controls"><label>{ "What I want to reach " }
                <select onchange={choose}>
                    <option value="" selected={goal.is_none()}>{ "No goal chosen" }</option>
                    <optgroup label="A unit: all signs up to it kept">
                        { for units::units().iter().enumerate().filter(|(_, unit)| !unit.signs.is_empty()).map(|(n, unit)| option(Goal::Unit(n), format!("Unit {}: {}", n + 1, unit.title))) }
                    </optgroup>
                    <optgroup label="A book: all its signs kept">
                        { for shelf.iter().map(|book| option(Goal::Book(book.head.title.clone()), book.head.title.clone())) }
                    </optgroup>
                    <optgroup label="A speed, reading">
                        { for SPEEDS.into_iter().map(|words| option(Goal::Speed(words), format!("{words} words a minute"))) }
                    </optgroup>
                </select>
            </label></div>
            if let (Some(goal), Some(towards)) = (&*goal, towards) { { reached(goal, towards) } }
            <p>{ format!("{} of {} signs kept.", way.kept.0, way.kept.1) }</p>
            { so_far(&way) }
        </section>
    }
}

/// How far the goal is reached, and when it will be.
fn reached(goal: &Goal, towards: Towards) -> Html {
    let Towards { done, of, when } = towards;
    let far = match goal {
        Goal::Speed(_) => format!("{done} of {of} words a minute in the last readings."),
        _ if of == 0 => "The list of the shelf is not here yet.".to_owned(),
        _ => format!("{done} of {of} signs kept."),
    };
    let when = match when {
        Forecast::Reached => "The goal is reached: choose the next.".to_owned(),
        Forecast::On(day) => {
            format!("At the pace of the last four weeks you reach it about {}.", figures::date(day))
        }
        Forecast::Open => {
            "Too little is recorded yet to say when: a few days of practice will tell.".to_owned()
        }
    };
    html! {
        <>
            <p class="large">{ far }</p>
            <progress value={done.to_string()} max={of.max(1).to_string()} aria-label="Towards the goal"></progress>
            <p>{ when }</p>
        </>
    }
}

/// Speed, signs kept and minutes, over time.
fn so_far(way: &Progress) -> Html {
    if way.days.is_empty() {
        return html! {};
    }
    let number = |of: Option<u32>| of.map_or_else(|| "–".to_owned(), |number| number.to_string());
    let read: Vec<(u64, u32)> = way.days.iter().filter_map(|day| Some((day.day, day.words?))).collect();
    html! {
        <>
            if read.len() > 1 { { plot(&read) } }
            <details>
                <summary>{ "Speed and signs kept, day by day" }</summary>
                <table>
                    <thead><tr><th scope="col">{ "Day" }</th><th scope="col">{ "Cells a minute" }</th><th scope="col">{ "Words a minute" }</th><th scope="col">{ "Signs kept" }</th></tr></thead>
                    <tbody>{ for way.days.iter().rev().map(|day| html! {
                        <tr><td>{ figures::date(day.day) }</td><td>{ number(day.cells) }</td><td>{ number(day.words) }</td><td>{ day.kept }</td></tr>
                    }) }</tbody>
                </table>
            </details>
            <details>
                <summary>{ "Minutes a week" }</summary>
                <table>
                    <thead><tr><th scope="col">{ "Week from" }</th><th scope="col">{ "Minutes" }</th></tr></thead>
                    <tbody>{ for way.weeks.iter().rev().map(|(day, minutes)| html! { <tr><td>{ figures::date(*day) }</td><td>{ *minutes }</td></tr> }) }</tbody>
                </table>
            </details>
        </>
    }
}

/// Words a minute, day by day.
fn plot(read: &[(u64, u32)]) -> Html {
    let (Some(first), Some(last)) = (read.first(), read.last()) else { return html! {} };
    let top = read.iter().map(|(_, words)| *words).max().unwrap_or(1).max(10);
    let span = (last.0 - first.0).max(1) as f64;
    let at = |(day, words): &(u64, u32)| {
        (50.0 + (day - first.0) as f64 * 530.0 / span, 150.0 - f64::from(*words) * 140.0 / f64::from(top))
    };
    let points: Vec<(f64, f64)> = read.iter().map(at).collect();
    let line = points.iter().map(|(x, y)| format!("{x:.1},{y:.1}")).collect::<Vec<_>>().join(" ");
    let says = format!("Words a minute on {} days, last {}; the same as a table below", read.len(), last.1);
    html! {
        <figure>
            <svg class="plot" viewBox="0 0 600 180" role="img" aria-label={says}>
                <path d="M50 10H580M50 80H580M50 150H580" class="grid" />
                <text x="44" y="14" text-anchor="end">{ top }</text><text x="44" y="154" text-anchor="end">{ "0" }</text>
                <text x="50" y="174">{ figures::date(first.0) }</text><text x="580" y="174" text-anchor="end">{ figures::date(last.0) }</text>
                <polyline points={line} />
                { for points.iter().map(|(x, y)| html! { <circle cx={format!("{x:.1}")} cy={format!("{y:.1}")} r="4" /> }) }
            </svg>
            <figcaption class="note">{ "Words a minute, reading" }</figcaption>
        </figure>
    }
}
