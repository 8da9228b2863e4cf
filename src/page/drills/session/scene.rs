//! What stands on the screen of a session, thing by thing.

use std::rc::Rc;

use yew::prelude::*;

use crate::keys::slate_order;
use crate::page::drills::session::Way;
use crate::page::drills::session::chord::Chord;
use crate::page::drills::session::keys::TryKeys;
use crate::page::drills::session::large::Large;
use crate::page::drills::session::punch::Punch;
use crate::page::drills::session::read::read;
use crate::page::drills::session::rule::Rule;
use crate::page::drills::session::show::Show;
use crate::page::drills::session::told::ToldWrong;
use crate::page::drills::session::typed::Typed;
use crate::page::drills::session::write::Write;
use crate::page::widgets::cells_line::CellsLine;
use crate::practice::record::Direction;
use crate::practice::session::Item;
use crate::practice::sitting::{Action, Scene, Sitting, words};
use crate::practice::supply::Supply;
use crate::practice::{clues, drill};
use crate::ueb::register::Sign;

/// How far one is: a bar, how many answers, minutes left, and the way out.
pub fn bar(sitting: &Sitting, way: &Way) -> Html {
    let session = sitting.session();
    let done = (session.done().clamp(0.0, 1.0) * 100.0) as u32;
    let left = match session.left().div_ceil(60_000) {
        0 => "time is up: this is the last".to_owned(),
        1 => "about 1 minute left".to_owned(),
        many => format!("about {many} minutes left"),
    };
    html! {
        <div class="session-bar">
            <div class="done-so-far" role="progressbar" aria-label="Session" aria-valuemin="0" aria-valuemax="100" aria-valuenow={done.to_string()}
                aria-valuetext={left.clone()}><span style={format!("width:{done}%")} /></div>
            <span class="answered">{ format!("{} answered", session.answered()) }</span>
            <span>{ left }</span>
            <button type="button" class="quiet" onclick={way.on_click(Action::Leave)}>{ "Leave" }</button>
        </div>
    }
}

/// What stands in the middle. `moments`: kept signs are shown for a moment only.
pub fn scene(sitting: &Sitting, way: &Way, moments: bool, supply: Option<&Supply>) -> Html {
    let moment = sitting.moment().filter(|_| moments);
    let item = match sitting.scene() {
        Scene::Keys => return html! { <TryKeys way={way.clone()} /> },
        Scene::Over => return Html::default(),
        Scene::Item(item) => item,
    };
    match item {
        Item::Show(key) => {
            let word = sitting.sign().and_then(|sign| words::a_word(sign, supply));
            html! { <Show key={way.turn} sign={*key} alike={sitting.session().looks_like(key)} {word} way={way.clone()} /> }
        }
        Item::Ask(asked) => match asked.sign() {
            Some(sign) => ask(sitting, sign, asked.direction, way, moment),
            None => Html::default(),
        },
        Item::Read(line) => html! {
            <>
                { read(line, sitting.told(), moment, way) }
                if let Some(told) = sitting.told() { <ToldWrong told={told.clone()} again=true way={way.clone()} /> }
            </>
        },
        Item::Write(line) => match sitting.told() {
            None => html! { <Write key={way.turn} line={line.clone()} way={way.clone()} /> },
            Some(told) => html! {
                <>
                    <p class="asks">{ "Not yet." }</p>
                    <p class="large copy">{ &line.print }</p>
                    <ToldWrong told={told.clone()} way={way.clone()} />
                </>
            },
        },
        Item::Rule(_, item) => match sitting.told() {
            None => {
                let reasons = sitting.reasons().map(<[_]>::to_vec);
                html! { <Rule key={way.turn} item={item.clone()} {reasons} way={way.clone()} /> }
            }
            Some(told) => html! {
                <>
                    <p class="asks">{ "A word and its rules" }</p>
                    <p class="large copy">{ &item.word }</p>
                    <ToldWrong told={told.clone()} way={way.clone()} />
                </>
            },
        },
    }
}

/// A sign that is asked, or what it was.
fn ask(sitting: &Sitting, sign: &'static Sign, direction: Direction, way: &Way, moment: Option<u64>) -> Html {
    let told = sitting.told();
    let reads = matches!(direction, Direction::Read | Direction::Back | Direction::CellNumbers);
    // What was wrong is looked at beside the sign itself.
    let cells = if direction == Direction::Back { slate_order(&sign.cells) } else { sign.cells.clone() };
    let as_what = if reads || direction == Direction::Numbers { drill::taken_as(sign.class) } else { "" };
    html! {
        <>
            <p class="asks" id="asked" aria-live="polite">{ words::asks(direction) }<span class="note">{ as_what }</span></p>
            if reads || told.is_some() {
                <Large key={format!("{}{}", way.step, told.is_some())} cells={Rc::from(cells)} {moment} />
            } else {
                <div class="large-cells"><strong class="largest" aria-live="polite">{ match direction {
                    Direction::Numbers | Direction::NumbersCell => drill::dots(&sign.cells),
                    _ => drill::asked_as(sign),
                } }</strong></div>
            }
            if let Some(told) = told {
                <ToldWrong key={way.turn} told={told.clone()} seen=true way={way.clone()} />
            } else {
                { match direction {
                    Direction::Write | Direction::NumbersCell => html! { <Chord key={way.turn} count={sign.cells.len()} way={way.clone()} /> },
                    Direction::Slate => html! { <Punch key={way.turn} count={sign.cells.len()} way={way.clone()} /> },
                    Direction::SayNumbers | Direction::CellNumbers => html! { <Typed key={way.turn} label="Its dot numbers" numbers=true way={way.clone()} /> },
                    _ => html! { <Typed key={way.turn} label="It means" way={way.clone()} /> },
                } }
            }
        </>
    }
}

/// What stands under it: what was wrong with the form of an answer, what the one before was, a clue.
pub fn under(sitting: &Sitting, way: &Way) -> Html {
    let asks = sitting.told().is_none() && matches!(sitting.scene(), Scene::Item(Item::Ask(_)));
    let before = sitting.before().filter(|_| sitting.told().is_none());
    let all = sitting.sign().filter(|_| asks).map(clues::for_sign).unwrap_or_default();
    html! {
        <>
            <p class="verdict" role="status">
                if let Some(hint) = sitting.hint() {
                    { hint }
                } else if let Some(before) = before {
                    if !before.cells.is_empty() { <CellsLine cells={Rc::from(before.cells.as_slice())} dot={Some(7.0)} /> }
                    <span class="right">{ &before.says }</span>
                    if before.at_sight { <span class="note">{ "At sight." }</span> }
                }
            </p>
            if asks {
                <ol class="clues" aria-live="polite">{ for all.iter().take(sitting.clues()).map(|clue| html! { <li>{ &clue.text }</li> }) }</ol>
                if sitting.clues() < all.len() { <button type="button" class="quiet" onclick={way.on_click(Action::Clue)}>{ "A clue" }</button> }
            }
        </>
    }
}
