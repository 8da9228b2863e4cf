//! The first screen: what this is, one thing to do, the road, what was left open, and two ways in for those who know some.

use yew::prelude::*;

use crate::page::browser::clock::now;
use crate::page::drills::session::left_open;
use crate::page::learner::journal::{told, use_learner};
use crate::page::learner::left::left_in_rooms;
use crate::page::learner::place::wishes;
use crate::page::learner::settings::{SettingsHandle, use_settings};
use crate::page::route;
use crate::page::states::hand_over::Piece;
use crate::page::widgets::later::use_later;
use crate::page::widgets::open_work;
use crate::page::widgets::road::Road;
use crate::page::widgets::switch::{change, switch};
use crate::practice::session::plan::LENGTHS;
use crate::practice::sitting::Sitting;
use crate::practice::sitting::greeting::{self, Greeting};
use crate::practice::{readable, units};

/// The caution, in full.
pub const CAUTION: &str = "Cellwright is a practice tool. It is no substitute for a certified transcriber or proofreader. Braille that \
    someone’s safety hangs on (medicine, signs, exits, lifts) is to be checked by a qualified person under the local code and the \
    national braille authority’s rules. It trains reading by eye; it does not teach reading by touch.";

/// The room.
#[component]
pub fn Room() -> Html {
    let learner = use_learner();
    let settings = use_settings();
    let later = use_later();
    let wishes = wishes(&settings, later.rules);
    let left = use_memo(learner.record.len(), |_| {
        Sitting::from_text(&left_open()?, &learner.record, &learner.memories, wishes.rules, None, now())
    });
    let greeting = greeting::of(&learner.record, &learner.memories, &wishes, now());
    let minutes_left = left.as_ref().as_ref().map(|sitting| sitting.session().left().div_ceil(60_000).max(1));
    let unit = &units::units()[greeting.unit];
    let newcomer = greeting.newcomer && minutes_left.is_none();
    html! {
        <div class="first">
            <h1>{ if newcomer { "Read and write braille by eye, and get it right" } else { "Today" } }</h1>
            if newcomer { <p class="what">{ WHAT }</p> }
            if let Some(trouble) = learner.trouble { { told(trouble) } }
            { action(&greeting, minutes_left, &settings) }
            { for greeting.says.iter().map(|say| html! { <p class="today">{ say }</p> }) }
            <section class="the-road">
                <h2>{ format!("The road: unit {} of {}", greeting.unit + 1, units::units().len()) }</h2>
                <Road learner={learner.clone()} />
                <p>{ unit.title }{ ". " }<a href={route::COURSE}>{ "The course" }</a></p>
                if let Some(says) = can_read(greeting.unit) { <p>{ says }{ " " }<a href="#/read">{ "The shelf" }</a></p> }
            </section>
            { left_in_the_rooms() }
            { later.fold(Piece::OpenWork, open_work::LINE, "", ()) }
        </div>
    }
}

/// What this is, and for whom.
const WHAT: &str = "Cellwright is for sighted people who learn to transcribe Unified English Braille: short sessions show you each \
    sign, ask it until you know it at sight, and put it to use in words and lines.";

/// How much can be read by who keeps the units before this one; nothing where that is nothing yet.
fn can_read(unit: usize) -> Option<String> {
    match readable::texts_after(unit) {
        0 => None,
        count => Some(format!("You can read {count} texts and books in full now.")),
    }
}

/// The one thing to do, and quietly beside it the others.
fn action(greeting: &Greeting, minutes_left: Option<u64>, settings: &SettingsHandle) -> Html {
    let (name, holds) = match minutes_left {
        Some(1) => ("Go on", "where you left: about 1 minute is left".to_owned()),
        Some(minutes) => ("Go on", format!("where you left: about {minutes} minutes are left")),
        None => ("Begin", greeting.plan.words()),
    };
    let length = |minutes: u32| {
        let settings = settings.clone();
        let chosen = settings.minutes == minutes;
        let choose =
            Callback::from(move |_: MouseEvent| settings.change(|settings| settings.minutes = minutes));
        html! { <button type="button" class="tab" aria-pressed={chosen.to_string()} onclick={choose}>{ format!("{minutes} minutes") }</button> }
    };
    html! {
        <div class="begin-row">
            <a class="begin" href={route::session(None)}><strong>{ name }</strong>{ " " }<span>{ holds }</span></a>
            if minutes_left.is_none() {
                <div class="lengths" role="group" aria-label="Length of the session">{ for LENGTHS.into_iter().map(length) }</div>
            }
            <p class="ways">
                <a href={route::FIND_MY_PLACE}>{ "Find my place" }</a>
                <a href="#/write">{ "Just let me write" }</a>
                <a href="#/practise">{ "Practise one thing" }</a>
            </p>
            if !greeting.newcomer {
                <details class="how-asked">
                    <summary>{ "How a session asks" }</summary>
                    { switch("Show a sign that you know for a moment only", settings.moments, change(settings, |settings, on| settings.moments = on)) }
                    { switch("Ask for the slate too: punch from the back, read the back", settings.slate, change(settings, |settings, on| settings.slate = on)) }
                </details>
            }
        </div>
    }
}

/// What was left open in the rooms.
fn left_in_the_rooms() -> Html {
    let all = left_in_rooms();
    if all.is_empty() {
        return Html::default();
    }
    html! {
        <section class="left-open">
            <h2>{ "Left open" }</h2>
            <ul>{ for all.iter().map(|one| html! { <li><a href={one.address.clone()}>{ &one.title }</a>{ ", " }{ &one.place }</li> }) }</ul>
        </section>
    }
}
