//! One thing to practise, chosen freely: which drill, and how it goes; and the links that begin one,
//! `#/?practise=signs&signs=letter%20e`.

use std::rc::Rc;

use yew::prelude::*;

use crate::page::browser::data::{OnTheWay, use_supply};
use crate::page::browser::held::use_held;
use crate::page::drills::line::LineDrill;
use crate::page::drills::low::LowDrill;
use crate::page::drills::pick::PickDrill;
use crate::page::drills::props::DrillProps;
use crate::page::drills::rule::RuleDrill;
use crate::page::drills::run::RunDrill;
use crate::page::drills::sign::SignDrill;
use crate::page::learner::journal::{LearnerHandle, told, use_learner};
use crate::page::learner::place::place_of;
use crate::page::route::{self, ROOMS};
use crate::practice::drill::asked_as;
use crate::practice::record::Direction;
use crate::practice::{choose, units};
use crate::ueb::register;

/// What a link asks to be practised.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// "signs", "rules" or "writing", as marking names it.
    drill: String,
    /// The keys of the signs.
    signs: Rc<Vec<&'static str>>,
    uncontracted: bool,
    /// The room the link stands in.
    from: String,
}

impl Asked {
    /// What the address asks for now; `None` when it asks for nothing.
    pub fn now() -> Option<Asked> {
        let drill = route::asked("practise")?;
        let signs = route::asked("signs").unwrap_or_default();
        Some(Asked {
            drill,
            signs: Rc::new(signs.split('|').filter_map(register::by_key).map(|sign| sign.key).collect()),
            uncontracted: route::asked("braille").as_deref() == Some("uncontracted"),
            from: route::asked("from").unwrap_or_default(),
        })
    }
}

/// What the practice needs.
#[derive(Properties, PartialEq)]
pub struct PractiseProps {
    /// The learner.
    pub learner: LearnerHandle,
    /// The last unit open to them, from 0.
    pub unit: usize,
    /// What a link asks for.
    #[prop_or_default]
    pub asked: Option<Asked>,
}

/// A drill.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kind {
    Due,
    Sign(Direction),
    Line { words: bool, write: bool, back: bool },
    Run,
    Pick,
    Low,
    Rule,
}

const fn line(words: bool, write: bool) -> Kind {
    Kind::Line { words, write, back: false }
}

/// Every drill with its name, in groups.
const KINDS: [(&str, &[(Kind, &str)]); 5] = [
    (
        "Signs",
        &[
            (Kind::Due, "What is due"),
            (Kind::Sign(Direction::Read), "A cell: what does it mean?"),
            (Kind::Sign(Direction::Write), "A meaning: write the cell"),
            (Kind::Sign(Direction::Numbers), "Dot numbers: what do they mean?"),
            (Kind::Sign(Direction::SayNumbers), "A meaning: which dot numbers?"),
            (Kind::Sign(Direction::NumbersCell), "Dot numbers: write the cell"),
            (Kind::Sign(Direction::CellNumbers), "A cell: which dot numbers?"),
        ],
    ),
    (
        "Words and sentences",
        &[
            (line(true, false), "Read a word"),
            (line(true, true), "Write a word"),
            (line(false, false), "Read a sentence"),
            (line(false, true), "Write a sentence"),
        ],
    ),
    (
        "Slate",
        &[
            (Kind::Sign(Direction::Slate), "Punch a sign from the back"),
            (Kind::Sign(Direction::Back), "The back of a sheet: one sign"),
            (Kind::Line { words: true, write: false, back: true }, "The back of a sheet: a word"),
        ],
    ),
    (
        "Eye and hand",
        &[
            (Kind::Pick, "Signs that look alike"),
            (Kind::Low, "Lone dots and low shapes"),
            (Kind::Run, "Six-key runs"),
        ],
    ),
    ("Rules", &[(Kind::Rule, "Which letters are contracted, and why")]),
];

/// The room.
#[component]
pub fn Room() -> Html {
    let learner = use_learner();
    let asked = use_held(Asked::now);
    let unit = use_held(|| place_of(&learner).open);
    html! {
        <>
            <h1>{ "Practise one thing" }</h1>
            if let Some(trouble) = learner.trouble { { told(trouble) } }
            <Practise learner={learner.clone()} unit={*unit} asked={(*asked).clone()} />
            <p><a href="#/">{ "To the first screen" }</a></p>
        </>
    }
}

/// The practice.
#[component]
pub fn Practise(props: &PractiseProps) -> Html {
    let stock = use_supply();
    let asked = props.asked.clone().unwrap_or_default();
    let kind = use_held(|| match asked.drill.as_str() {
        "rules" => Kind::Rule,
        "writing" => line(false, true),
        _ => Kind::Due,
    });
    let contracted = use_held(|| !asked.uncontracted);
    // The chosen signs alone, until the learner has had enough of them.
    let chosen = use_held(|| asked.signs.clone());
    let all_again = {
        let chosen = chosen.clone();
        Callback::from(move |_: MouseEvent| chosen.set(Rc::default()))
    };
    // Signs that are asked for are open, whatever the unit the learner has reached.
    let unit = chosen.iter().filter_map(|key| units::unit_of(key)).fold(props.unit, usize::max);
    let count = use_held(|| (0u32, 0u32));
    let on_answer = {
        let count = count.clone();
        Callback::from(move |right: bool| count.set((count.0 + 1, count.1 + u32::from(right))))
    };
    let choose = {
        let kind = kind.clone();
        Callback::from(move |event: Event| {
            let name = event.target_unchecked_into::<web_sys::HtmlSelectElement>().value();
            let all = KINDS.iter().flat_map(|(_, kinds)| kinds.iter());
            if let Some((to, _)) = all.into_iter().find(|(_, is)| *is == name) {
                kind.set(*to);
            }
        })
    };
    let switch = {
        let contracted = contracted.clone();
        Callback::from(move |_: Event| contracted.set(!*contracted))
    };
    let drill = DrillProps {
        learner: props.learner.clone(),
        supply: stock.here().cloned(),
        unit,
        contracted: *contracted,
        only: (*chosen).clone(),
        on_answer,
    };
    // Only where there is a choice: a contraction is open to the learner.
    let choice = choose::open(unit, true).count() != choose::open(unit, false).count();
    let key = format!(
        "{:?}{}{unit}{}",
        KINDS.iter().flat_map(|(_, k)| k.iter()).position(|(k, _)| *k == *kind),
        *contracted,
        chosen.len()
    );
    let back = ROOMS.iter().find(|(_, _, address)| !asked.from.is_empty() && address[2..] == asked.from);
    html! {
        <section class="practise" aria-label="Practice">
            <div class="controls">
                <label>{ "Drill " }
                    <select onchange={choose}>
                        { for KINDS.iter().map(|(group, kinds)| html! {
                            <optgroup label={*group}>
                                { for kinds.iter().map(|(one, name)| html! { <option value={*name} selected={*one == *kind}>{ *name }</option> }) }
                            </optgroup>
                        }) }
                    </select>
                </label>
                if choice { <label class="check"><input type="checkbox" checked={*contracted} onchange={switch} />{ "Contracted" }</label> }
                <span class="note">{ format!("Unit {}: {}", unit + 1, units::units().get(unit).map_or("", |unit| unit.title)) }</span>
                if count.0 > 0 { <span class="tally">{ format!("{} right at first sight of {}", count.1, count.0) }</span> }
            </div>
            if !chosen.is_empty() {
                <div class="controls">
                    <span>{ format!("Only: {}.", chosen.iter().filter_map(|key| register::by_key(key)).map(asked_as).collect::<Vec<_>>().join(", ")) }</span>
                    <button type="button" class="quiet" onclick={all_again}>{ "All signs again" }</button>
                </div>
            }
            if let Some((_, name, address)) = back { <p><a href={*address}>{ format!("Back to {name}") }</a></p> }
            if matches!(*kind, Kind::Line { .. } | Kind::Run | Kind::Rule) { <OnTheWay /> }
            <div {key}>
                { match *kind {
                    Kind::Due => html! { <SignDrill {drill} direction={None::<Direction>} /> },
                    Kind::Sign(direction) => html! { <SignDrill {drill} direction={Some(direction)} /> },
                    Kind::Line { words, write, back } => html! { <LineDrill {drill} {words} {write} {back} /> },
                    Kind::Run => html! { <RunDrill ..drill /> },
                    Kind::Pick => html! { <PickDrill ..drill /> },
                    Kind::Low => html! { <LowDrill ..drill /> },
                    Kind::Rule => html! { <RuleDrill ..drill /> },
                } }
            </div>
        </section>
    }
}
